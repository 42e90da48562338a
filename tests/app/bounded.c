// Runs a program within bounds: bounded SECONDS MIB PROGRAM WORDS...
//
// Ends as the program does; with 124 if its time was up, with 125 if it held
// more memory than that at once, with 128 and the signal if one ended it.

#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <sys/types.h>
#include <sys/wait.h>
#include <unistd.h>

enum { TIME_IS_UP = 124, TOO_LARGE = 125, NOT_RUN = 127, SIGNALLED = 128 };

static int
end_of(const int status, const long most_kib)
{
  struct rusage usage;
  if (WIFSIGNALED(status)) {
    return WTERMSIG(status) == SIGALRM ? TIME_IS_UP
                                       : SIGNALLED + WTERMSIG(status);
  }
  if (!getrusage(RUSAGE_CHILDREN, &usage) && usage.ru_maxrss > most_kib) {
    (void)fprintf(stderr, "bounded: it held %ld KiB\n", usage.ru_maxrss);
    return TOO_LARGE;
  }
  return WEXITSTATUS(status);
}

int
main(const int argc, char** const argv)
{
  if (argc < 4) {
    (void)fputs("bounded SECONDS MIB PROGRAM WORDS...\n", stderr);
    return NOT_RUN;
  }
  const pid_t child = fork();
  if (child == 0) {
    // An alarm outlives exec(), and ends who does not wait for it
    (void)alarm((unsigned)strtoul(argv[1], NULL, 10));
    (void)execv(argv[3], argv + 3);
    _exit(NOT_RUN);
  }
  int status = 0;
  if (child < 0 || waitpid(child, &status, 0) != child) {
    return NOT_RUN;
  }
  return end_of(status, 1024 * strtol(argv[2], NULL, 10));
}
