#include "responder/page/keeping.h"

#include <stdlib.h>

typedef struct {
  Job         job; ///< The first member
  Journal*    journal;
  JournalId   session;
  JournalTurn turn;
  Fault       fault;
} Keeping;

// On the keeper's thread, which alone has the journal while a session goes on
static void
work(Job* const job)
{
  Keeping* const keeping = (Keeping*)job;
  (void)!journal_add_turn(
    keeping->journal, keeping->session, &keeping->turn, &keeping->fault);
}

static void
forget(Job* const job)
{
  free(job);
}

// The session is still the one of the turn: its end waits for this
static void
finish(void* const context, Job* const job)
{
  Page* const          page    = context;
  const Keeping* const keeping = (const Keeping*)job;
  if (keeping->fault.status && page->live.kept) {
    page->live.kept->kept = keeping->fault;
  }
  forget(job);
}

void
keeping_give(Page* const page)
{
  PlayingSession* const session = page->live.kept;
  if (!session || !session->has_turn || session->kept.status) {
    return;
  }
  Keeping* const keeping = calloc(1, sizeof(*keeping));
  session->has_turn      = false;
  if (!keeping) {
    (void)fault_memory(&session->kept, NULL);
    return;
  }
  keeping->job     = (Job){.work = work, .finish = finish, .forget = forget};
  keeping->journal = session->practice.journal;
  keeping->session = session->practice.session;
  keeping->turn    = session->turn;
  worker_give(page->keeper, &keeping->job);
}

void
keeping_wait(Page* const page)
{
  worker_wait(page->keeper);
  worker_finish(page->keeper, page);
}
