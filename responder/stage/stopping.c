#include "responder/stage/stopping.h"

#include "core/time/realtime.h"

#include <stddef.h>
#include <time.h>

enum { LOOK_NS = 50000000 };

static const int stopping_signals[] = {SIGINT, SIGTERM, SIGHUP};

static sigset_t
signals_to_take(void)
{
  sigset_t set;
  (void)sigemptyset(&set);
  for (size_t i = 0; i < sizeof(stopping_signals) / sizeof(int); ++i) {
    (void)sigaddset(&set, stopping_signals[i]);
  }
  return set;
}

static void*
wait_for_signals(void* const context)
{
  Stopping* const       stopping = context;
  const sigset_t        set      = signals_to_take();
  const struct timespec most     = {0, LOOK_NS};
  while (!atomic_load(&stopping->ends)) {
    if (sigtimedwait(&set, NULL, &most) > 0) {
      atomic_store(&stopping->is_asked, true);
    }
  }
  return NULL;
}

void
stopping_hold(Stopping* const stopping)
{
  const sigset_t         set    = signals_to_take();
  const struct sigaction ignore = {.sa_handler = SIG_IGN};
  (void)sigaction(SIGPIPE, &ignore, NULL);
  (void)pthread_sigmask(SIG_BLOCK, &set, &stopping->before);
}

void
stopping_release(const Stopping* const stopping)
{
  (void)pthread_sigmask(SIG_SETMASK, &stopping->before, NULL);
}

Status
stopping_begin(Stopping* const stopping)
{
  return thread_begin(&stopping->thread, wait_for_signals, stopping);
}

void
stopping_end(Stopping* const stopping)
{
  atomic_store(&stopping->ends, true);
  (void)pthread_join(stopping->thread, NULL);
}
