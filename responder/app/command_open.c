#include "responder/app/command.h"
#include "responder/app/show.h"
#include "responder/page/page.h"

#include <fcntl.h>
#include <pthread.h>
#include <signal.h>
#include <spawn.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

extern char** environ;

// What its opener makes of it is known when that ends: xdg-open(1) says by 3
// and 4 that there is no browser, or none that would open
static void*
watch_opener(void* const context)
{
  const pid_t opener = (pid_t)(intptr_t)context;
  int         status = 0;
  if (waitpid(opener, &status, 0) == opener && WIFEXITED(status) &&
      (WEXITSTATUS(status) == 3 || WEXITSTATUS(status) == 4)) {
    command_say("no browser could be opened; open the address above in one");
  }
  return NULL;
}

static void
watch(const pid_t opener)
{
  pthread_t watcher;
  if (!pthread_create(
        &watcher, NULL, watch_opener, (void*)(intptr_t)opener)) { // NOLINT
    (void)pthread_detach(watcher);
  }
}

// The desktop's own opener; it takes no signal, file or word of ours with it
static bool
browse(const char* const address)
{
  char                       opener[] = "xdg-open";
  char                       where[PAGE_ADDRESS_CAPACITY];
  char* const                words[] = {opener, where, NULL};
  posix_spawn_file_actions_t files;
  posix_spawnattr_t          attributes;
  sigset_t                   none;
  pid_t                      child = 0;
  (void)snprintf(where, sizeof(where), "%s", address);
  (void)sigemptyset(&none);
  (void)posix_spawn_file_actions_init(&files);
  (void)posix_spawnattr_init(&attributes);
  (void)posix_spawnattr_setsigmask(&attributes, &none);
  (void)posix_spawnattr_setpgroup(&attributes, 0);
  (void)posix_spawnattr_setflags(
    &attributes, POSIX_SPAWN_SETSIGMASK | POSIX_SPAWN_SETPGROUP);
  for (int file = STDIN_FILENO; file <= STDERR_FILENO; ++file) {
    (void)posix_spawn_file_actions_addopen(
      &files, file, "/dev/null", O_RDWR, 0);
  }
  const bool is_open =
    !posix_spawnp(&child, opener, &files, &attributes, words, environ);
  (void)posix_spawnattr_destroy(&attributes);
  (void)posix_spawn_file_actions_destroy(&files);
  if (is_open) {
    watch(child);
  }
  return is_open;
}

static int
show_address(const char* const address, const Options* const options)
{
  (void)printf("%s\n", address);
  if (fflush(stdout) != 0) {
    return EXIT_SYSTEM;
  }
  if (!options_have(options, OPTION_NO_BROWSER) && !browse(address)) {
    command_say("no browser could be opened (install the package xdg-utils); "
                "open the address above in one");
  }
  return EXIT_DONE;
}

static PageWish
wish_of(const Options* const options)
{
  return (PageWish){
    .playing =
      {
        .equipment = options_equipment(options),
        .record = options_have(options, OPTION_RECORD) ? options->record : NULL,
        .thru   = true, // Nothing else sounds the keys of a page
        .click  = options_have(options, OPTION_CLICK),
        .sync   = options_have(options, OPTION_SYNC),
      },
    .said    = options->asked,
    .learner = options_learner(options),
    .port    = options_have(options, OPTION_PORT) ? options->port : 0,
  };
}

static int
run(const Options* const options)
{
  const PageWish wish    = wish_of(options);
  Notices        notices = {.n = 0};
  Faults         faults  = {.n_faults = 0};
  Page*          page    = NULL;
  char           address[PAGE_ADDRESS_CAPACITY];
  if (options->n_operands) {
    return command_misuse("open takes no file; drop one on the page");
  }
  if (page_find_open(address)) {
    const int code = show_address(address, options);
    command_say("it is open already, as it was begun; this is its page");
    return code;
  }
  const Status status = page_open(&page, &wish, &notices, &faults);
  command_notice(&notices);
  if (status) {
    return command_fail_all(&faults);
  }
  const int code = show_address(page_address(page), options);
  if (!code) {
    if (isatty(STDERR_FILENO)) {
      command_say("it stays open until Ctrl-C here, or until the page ends it");
    }
    page_serve(page);
  }
  page_close(page);
  return code;
}

const Command command_open = {
  .name     = "open",
  .operands = "",
  .summary  = "open the page: play, look back, practise, in a browser",
  .words =
    "Shows Barter in a browser on this machine, and prints its address. Play\n"
    "by a MIDI keyboard, the computer's keys, mouse or finger. It stays until\n"
    "Ctrl-C, or until the page is asked to close it. Choices given here hold\n"
    "for the page, too. Nothing leaves the machine; without the key in the\n"
    "address nobody else on it gets in.",
  .options = (OPTIONS_OF_SESSION & ~OPTION_BIT(OPTION_MAKE_ROOM)) |
             (SHOW_OPTIONS & ~OPTION_BIT(OPTION_THRU)) |
             OPTION_BIT(OPTION_LEARNER) | OPTION_BIT(OPTION_PORT) |
             OPTION_BIT(OPTION_NO_BROWSER),
  .run = run,
};
