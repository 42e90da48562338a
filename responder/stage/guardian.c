#include "responder/stage/guardian.h"

#include "core/ports/system.h"
#include "responder/record/conversation.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

enum {
  NOTE_OFF      = 0x80,
  CONTROL       = 0xB0,
  SUSTAIN       = 64,
  ALL_NOTES_OFF = 123,
};

static const char goodbye = '!';

/// What it was told.
typedef struct {
  char system[16];
  char port[PORT_NAME_CAPACITY];
  char sign; ///< `goodbye` in the last one
} Word;

static void
silence(Port* const port)
{
  for (Part part = PART_PLAYER; part <= PART_DRUMS; ++part) {
    const uint8_t channel    = conversation_channel(part);
    const uint8_t pedal_up[] = {(uint8_t)(CONTROL | channel), SUSTAIN, 0};
    const uint8_t all_off[]  = {(uint8_t)(CONTROL | channel), ALL_NOTES_OFF, 0};
    (void)port_send(port, pedal_up, sizeof(pedal_up));
    (void)port_send(port, all_off, sizeof(all_off));
    for (uint8_t key = 0; key < 128;
         ++key) { // Not every device knows the above
      const uint8_t off[] = {(uint8_t)(NOTE_OFF | channel), key, 0};
      (void)port_send(port, off, sizeof(off));
    }
  }
}

static void
end_notes(const Word* const word)
{
  Ports*         ports = NULL;
  Port*          port  = NULL;
  const PortWish wish  = {.side = PORT_OUT, .name = word->port};
  char           remark[SYSTEM_REMARK_CAPACITY];
  Fault          fault;
  if (system_open(&ports, word->system, remark, &fault)) {
    return;
  }
  if (!port_open(&port, ports, wish, &fault)) {
    silence(port);
    port_close(port);
  }
  ports_close(ports);
}

// The terminal's signals are for the other process; its end is what counts
static void
stand_by(const int pipe)
{
  const int nowhere = open("/dev/null", O_RDWR);
  Word      word    = {.port = ""};
  Word      next;
  (void)setsid();
  (void)signal(SIGINT, SIG_IGN);
  (void)signal(SIGTERM, SIG_IGN);
  (void)signal(SIGHUP, SIG_IGN);
  for (int fd = 0; nowhere >= 0 && fd <= 2; ++fd) {
    (void)dup2(nowhere, fd);
  }
  for (;;) {
    const ssize_t n = read(pipe, &next, sizeof(next));
    if (n == (ssize_t)sizeof(next)) {
      word = next;
    } else if (n == 0 || errno != EINTR) {
      break;
    }
  }
  if (word.sign != goodbye && word.port[0]) {
    end_notes(&word);
  }
}

Status
guardian_begin(Guardian* const guardian)
{
  int ends[2];
  if (pipe(ends)) {
    return STATUS_SYSTEM;
  }
  const pid_t pid = fork();
  if (pid == 0) {
    (void)close(ends[1]);
    stand_by(ends[0]);
    _exit(0);
  }
  (void)close(ends[0]);
  if (pid < 0) {
    (void)close(ends[1]);
    return STATUS_SYSTEM;
  }
  (void)fcntl(ends[1], F_SETFD, FD_CLOEXEC);
  *guardian = (Guardian){pid, ends[1]};
  return STATUS_OK;
}

void
guardian_tell(const Guardian* const guardian,
              const char* const     system,
              const char* const     port)
{
  Word word = {.sign = 0};
  (void)snprintf(word.system, sizeof(word.system), "%s", system);
  (void)snprintf(word.port, sizeof(word.port), "%s", port);
  if (guardian->pid && write(guardian->pipe, &word, sizeof(word)) < 0) {
    return; // It is gone, and nobody can be told
  }
}

void
guardian_end(Guardian* const guardian)
{
  const Word word = {.sign = goodbye};
  if (!guardian->pid) {
    return;
  }
  const ssize_t told = write(guardian->pipe, &word, sizeof(word));
  (void)close(guardian->pipe);
  if (told == (ssize_t)sizeof(word)) {
    (void)waitpid(guardian->pid, NULL, 0);
  }
  guardian->pid = 0;
}
