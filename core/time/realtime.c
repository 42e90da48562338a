#define _GNU_SOURCE // SCHED_RESET_ON_FORK

#include "core/time/realtime.h"

#include <sched.h>
#include <signal.h>
#include <sys/resource.h>

#ifdef __linux__
#include <sys/prctl.h>
#endif

#ifdef __linux__
static const int nice_level = -15;
#endif

Status
thread_begin(pthread_t* const thread, void* (*run)(void*), void* const context)
{
  pthread_attr_t about;
  if (pthread_attr_init(&about)) {
    return STATUS_SYSTEM;
  }
  sigset_t all;
  sigset_t before;
  (void)sigfillset(&all);
  (void)pthread_sigmask(SIG_SETMASK, &all, &before);
  const int failed = pthread_attr_setstacksize(&about, THREAD_STACK_BYTES) ||
                     pthread_create(thread, &about, run, context);
  (void)pthread_sigmask(SIG_SETMASK, &before, NULL);
  (void)pthread_attr_destroy(&about);
  return failed ? STATUS_SYSTEM : STATUS_OK;
}

// On Linux a nice level belongs to a thread; elsewhere to the whole process,
// which is left alone
static void
be_preferred(void)
{
#ifdef __linux__
  (void)prctl(PR_SET_TIMERSLACK, 1UL, 0UL, 0UL, 0UL);
  (void)setpriority(PRIO_PROCESS, 0, nice_level); // setpriority(2), NOTES
#endif
}

void
thread_hurry(const int level)
{
  const struct sched_param param = {.sched_priority = level};
  be_preferred();
  (void)pthread_setschedparam(pthread_self(), SCHED_FIFO, &param);
}

void
thread_prefer(void)
{
#ifdef SCHED_RESET_ON_FORK
  const struct sched_param plain = {.sched_priority = 0};
  if (!sched_setscheduler(0, SCHED_OTHER | SCHED_RESET_ON_FORK, &plain)) {
    (void)be_preferred();
  }
#endif
}
