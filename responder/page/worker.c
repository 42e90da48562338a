#include "responder/page/worker.h"

#include "core/time/realtime.h"

#include <pthread.h>
#include <stdlib.h>

typedef struct {
  Job* first;
  Job* last;
} Jobs;

struct Worker {
  pthread_mutex_t lock;
  pthread_cond_t  more;
  Jobs            given;
  Jobs            done;
  pthread_cond_t  fewer;
  unsigned        n_given; ///< ... and not done
  bool            ends;
  void (*wake)(void* context);
  void*     context;
  pthread_t thread;
};

static void
push(Jobs* const jobs, Job* const job)
{
  job->next = NULL;
  if (jobs->last) {
    jobs->last->next = job;
  } else {
    jobs->first = job;
  }
  jobs->last = job;
}

static Job*
pop(Jobs* const jobs)
{
  Job* const job = jobs->first;
  if (job) {
    jobs->first = job->next;
    jobs->last  = jobs->first ? jobs->last : NULL;
  }
  return job;
}

static Job*
wait_for_job(Worker* const worker)
{
  (void)pthread_mutex_lock(&worker->lock);
  while (!worker->ends && !worker->given.first) {
    (void)pthread_cond_wait(&worker->more, &worker->lock);
  }
  Job* const job = worker->ends ? NULL : pop(&worker->given);
  (void)pthread_mutex_unlock(&worker->lock);
  return job;
}

static void*
run(void* const context)
{
  Worker* const worker = context;
  for (Job* job = NULL; (job = wait_for_job(worker));) {
    job->work(job);
    (void)pthread_mutex_lock(&worker->lock);
    push(&worker->done, job);
    --worker->n_given;
    (void)pthread_cond_signal(&worker->fewer);
    (void)pthread_mutex_unlock(&worker->lock);
    worker->wake(worker->context);
  }
  return NULL;
}

Status
worker_open(Worker** const worker,
            void (*const wake)(void* context),
            void* const context)
{
  Worker* const opened = calloc(1, sizeof(*opened));
  if (!opened) {
    return STATUS_MEMORY;
  }
  opened->wake    = wake;
  opened->context = context;
  (void)pthread_mutex_init(&opened->lock, NULL);
  (void)pthread_cond_init(&opened->more, NULL);
  (void)pthread_cond_init(&opened->fewer, NULL);
  const Status status = thread_begin(&opened->thread, run, opened);
  if (status) {
    free(opened);
    return status;
  }
  *worker = opened;
  return STATUS_OK;
}

static void
forget(Jobs* const jobs)
{
  for (Job* job = NULL; (job = pop(jobs));) {
    job->forget(job);
  }
}

void
worker_close(Worker* const worker)
{
  if (worker) {
    (void)pthread_mutex_lock(&worker->lock);
    worker->ends = true;
    (void)pthread_cond_signal(&worker->more);
    (void)pthread_mutex_unlock(&worker->lock);
    (void)pthread_join(worker->thread, NULL);
    forget(&worker->given);
    forget(&worker->done);
    (void)pthread_cond_destroy(&worker->more);
    (void)pthread_cond_destroy(&worker->fewer);
    (void)pthread_mutex_destroy(&worker->lock);
    free(worker);
  }
}

void
worker_give(Worker* const worker, Job* const job)
{
  (void)pthread_mutex_lock(&worker->lock);
  push(&worker->given, job);
  ++worker->n_given;
  (void)pthread_cond_signal(&worker->more);
  (void)pthread_mutex_unlock(&worker->lock);
}

void
worker_wait(Worker* const worker)
{
  (void)pthread_mutex_lock(&worker->lock);
  while (worker->n_given) {
    (void)pthread_cond_wait(&worker->fewer, &worker->lock);
  }
  (void)pthread_mutex_unlock(&worker->lock);
}

static Job*
take_done(Worker* const worker)
{
  (void)pthread_mutex_lock(&worker->lock);
  Job* const job = pop(&worker->done);
  (void)pthread_mutex_unlock(&worker->lock);
  return job;
}

void
worker_finish(Worker* const worker, void* const context)
{
  for (Job* job = NULL; (job = take_done(worker));) {
    job->finish(context, job);
  }
}
