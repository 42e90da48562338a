/// @file responder/page/worker.h Work that takes long, one job after the other,
/// on a thread of its own.

#ifndef RESPONDER_PAGE_WORKER_H
#define RESPONDER_PAGE_WORKER_H

#include "core/attributes.h"
#include "core/status.h"

#include <stdbool.h>

/// Opaque.
typedef struct Worker Worker;

/// A job; what it needs follows it in memory that is its own.
typedef struct Job Job;
struct Job {
  void (*work)(Job* job);                  ///< On the worker's thread
  void (*finish)(void* context, Job* job); ///< On the giver's; frees it
  void (*forget)(Job* job); ///< Frees a job that is not finished any more
  Job* next;                ///< The worker's
};

/**
   Begin.

   @param wake Called on the worker's thread when a job is done.
   @return STATUS_OK; STATUS_MEMORY, STATUS_SYSTEM.
*/
MUST_USE Status
worker_open(Worker** worker, void (*wake)(void* context), void* context);

/// Wait for the job under way, and forget the others. NULL does nothing.
void
worker_close(Worker* worker);

/// Give it a job, which is its own from now on. Thread: the giver's.
void
worker_give(Worker* worker, Job* job);

/// Wait until every job that was given is done. Thread: the giver's.
void
worker_wait(Worker* worker);

/// Finish the jobs that are done. Thread: the giver's.
void
worker_finish(Worker* worker, void* context);

#endif // RESPONDER_PAGE_WORKER_H
