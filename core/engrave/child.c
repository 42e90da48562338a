#define _GNU_SOURCE // Closing what is open from a number on, in a spawned child

#include "core/engrave/child.h"

#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <spawn.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdlib.h>
#include <sys/mman.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

extern char** environ;

enum { FIRST_FREE = 3, CHUNK = 64 * 1024 };

// A child under way
typedef struct {
  pid_t  pid;
  int    from; // Where it prints
  char*  bytes;
  size_t n;
  size_t capacity;
} Child;

static int64_t
now_ms(void)
{
  struct timespec time;
  (void)clock_gettime(CLOCK_MONOTONIC, &time);
  return (int64_t)time.tv_sec * 1000 + time.tv_nsec / 1000000;
}

static bool
write_all(const int file, const char* bytes, size_t n)
{
  while (n > 0) {
    const ssize_t n_written = write(file, bytes, n);
    if (n_written < 0 && errno != EINTR) {
      return false;
    }
    bytes += n_written > 0 ? n_written : 0;
    n -= n_written > 0 ? (size_t)n_written : 0;
  }
  return true;
}

// A file of the input, in memory: it asks for no folder, and cannot block as a
// pipe might
static int
file_of(const char* const input, const size_t n_input)
{
  const int file = memfd_create("input", MFD_CLOEXEC);
  if (file >= 0 &&
      !(write_all(file, input, n_input) && lseek(file, 0, SEEK_SET) == 0)) {
    (void)close(file);
    return -1;
  }
  return file;
}

static int
spawn(Child* const             child,
      const char* const* const words,
      const int                input,
      const int                output)
{
  posix_spawn_file_actions_t actions;
  posix_spawnattr_t          attributes;
  sigset_t                   none;
  int                        error = posix_spawn_file_actions_init(&actions);
  if (error) {
    return error;
  }
  error = posix_spawnattr_init(&attributes);
  if (error) {
    (void)posix_spawn_file_actions_destroy(&actions);
    return error;
  }
  (void)sigemptyset(&none); // Our threads block what theirs should not
  error = posix_spawnattr_setsigmask(&attributes, &none);
  error = error ? error
                : posix_spawnattr_setflags(&attributes, POSIX_SPAWN_SETSIGMASK);
  error = error ? error : posix_spawn_file_actions_adddup2(&actions, input, 0);
  error = error ? error : posix_spawn_file_actions_adddup2(&actions, output, 1);
  error =
    error
      ? error
      : posix_spawn_file_actions_addopen(&actions, 2, "/dev/null", O_WRONLY, 0);
  error = error
            ? error
            : posix_spawn_file_actions_addclosefrom_np(&actions, FIRST_FREE);
  // The type asks for words that could be changed; they are not
  error = error ? error
                : posix_spawnp(&child->pid,
                               words[0],
                               &actions,
                               &attributes,
                               (char* const*)(uintptr_t)words,
                               environ);
  (void)posix_spawnattr_destroy(&attributes);
  (void)posix_spawn_file_actions_destroy(&actions);
  return error;
}

static bool
make_room(Child* const child)
{
  if (child->n + CHUNK + 1 <= child->capacity) {
    return true;
  }
  const size_t capacity = 2 * child->capacity + CHUNK + 1;
  char* const  bytes    = realloc(child->bytes, capacity);
  if (bytes) {
    child->bytes    = bytes;
    child->capacity = capacity;
  }
  return bytes;
}

// Reads until the child ends its output
static Status
read_all(Child* const child, const unsigned seconds)
{
  const int64_t deadline = now_ms() + (int64_t)seconds * 1000;
  for (;;) {
    struct pollfd wait = {.fd = child->from, .events = POLLIN};
    const int64_t left = deadline - now_ms();
    const int     n    = left > 0 ? poll(&wait, 1, (int)left) : 0;
    if (n < 0 && errno == EINTR) {
      continue;
    }
    if (n <= 0 || child->n > CHILD_OUTPUT) {
      return n < 0 ? STATUS_SYSTEM : STATUS_FULL;
    }
    if (!make_room(child)) {
      return STATUS_MEMORY;
    }
    const ssize_t read_now = read(child->from, child->bytes + child->n, CHUNK);
    if (read_now == 0) {
      child->bytes[child->n] = '\0';
      return STATUS_OK;
    }
    if (read_now < 0 && errno != EINTR) {
      return STATUS_SYSTEM;
    }
    child->n += read_now > 0 ? (size_t)read_now : 0;
  }
}

// Waits for the child, which is ended first if it was not to be waited for
static Status
end(const Child* const child, const Status status)
{
  int how = 0;
  if (status) {
    (void)kill(child->pid, SIGKILL);
  }
  while (waitpid(child->pid, &how, 0) < 0 && errno == EINTR) {
  }
  if (status) {
    return status;
  }
  return WIFEXITED(how) && WEXITSTATUS(how) == 0 ? STATUS_OK : STATUS_SYNTAX;
}

static Status
run(Child* const             child,
    const char* const* const words,
    const unsigned           seconds,
    const int                input,
    const int                ends[2])
{
  const int error = spawn(child, words, input, ends[1]);
  (void)close(ends[1]); // Else the output never ends
  child->from = ends[0];
  if (error) {
    return error == ENOENT ? STATUS_MISSING : STATUS_SYSTEM;
  }
  return end(child, read_all(child, seconds));
}

Status
child_run(const char* const* const words,
          const unsigned           seconds,
          const char* const        input,
          const size_t             n_input,
          char** const             output,
          size_t* const            size)
{
  Child     child = {.pid = 0};
  int       ends[2];
  const int file = file_of(input, n_input);
  if (file < 0) {
    return STATUS_SYSTEM;
  }
  if (pipe2(ends, O_CLOEXEC) != 0) {
    (void)close(file);
    return STATUS_SYSTEM;
  }
  const Status status = run(&child, words, seconds, file, ends);
  (void)close(ends[0]);
  (void)close(file);
  if (status) {
    free(child.bytes);
    return status;
  }
  *output = child.bytes;
  *size   = child.n;
  return STATUS_OK;
}
