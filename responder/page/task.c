#include "responder/page/task.h"

#include "responder/page/base64.h"
#include "responder/page/warm_up.h"

#include <stdlib.h>
#include <string.h>

// On the worker's thread

json_t*
task_kept(const size_t number, const bool is_new)
{
  return json_pack(
    "{sI sb}", "number", (json_int_t)number, "is_new", (int)is_new);
}

void
task_look_again(Page* const page, Task* const task)
{
  (void)task;
  who_look(&page->trading.who);
}

char*
task_read_file(const char* const path, size_t* const size)
{
  FILE* const file   = fopen(path, "rb");
  char*       bytes  = NULL;
  long        length = -1;
  if (file && fseek(file, 0, SEEK_END) == 0 && (length = ftell(file)) >= 0 &&
      fseek(file, 0, SEEK_SET) == 0 && (bytes = malloc((size_t)length + 1))) {
    *size        = fread(bytes, 1, (size_t)length, file);
    bytes[*size] = '\0';
  }
  if (file) {
    (void)fclose(file);
  }
  return bytes;
}

json_t*
task_answer_file(const char* const path,
                 const char* const name,
                 const char* const type)
{
  size_t      size  = 0;
  char* const bytes = task_read_file(path, &size);
  char* const text  = bytes ? base64_text(bytes, size) : NULL;
  json_t*     made  = NULL;
  if (text) {
    made = json_pack("{ss ss ss}", "file", name, "type", type, "base64", text);
  }
  free(bytes);
  free(text);
  return made;
}

json_t*
task_fail(Task* const task, const Fault* const fault)
{
  (void)faults_note(&task->faults, fault);
  return NULL;
}

static void
work(Job* const job)
{
  Task* const task = (Task*)job;
  char        folder[SCRATCH_PATH];
  if (!scratch_folder(task->scratch, folder)) {
    (void)faults_add(&task->faults,
                     STATUS_SYSTEM,
                     NULL,
                     0,
                     "there is no room in /tmp for a file");
    return;
  }
  task->made = task->make(task, folder);
  scratch_close(folder);
}

// On the server's

static void
forget(Job* const job)
{
  Task* const task = (Task*)job;
  json_decref(task->made);
  free(task->desk);
  warm_up_free(task->warm_up);
  recall_free(task->recall);
  free(task);
}

static void
finish(void* const context, Job* const job)
{
  Page* const   page = context;
  Task* const   task = (Task*)job;
  json_t* const made = task->made;
  if (!made) {
    (void)(task->faults.n_faults
             ? face_refuse_all(&task->call, task->call.field, &task->faults)
             : face_refuse(&task->call, NULL, "it could not be made"));
  } else if (task->done) {
    task->done(page, task);
  }
  task->made = NULL;
  face_answer(page, &task->call, made);
  forget(job);
}

Task*
task_begin(const Page* const page,
           WireCall* const   call,
           json_t* (*const make)(Task* task, const char* folder))
{
  Task* const task = calloc(1, sizeof(*task));
  if (!task) {
    (void)face_refuse(call, NULL, "%s", status_text(STATUS_MEMORY));
    return NULL;
  }
  task->job     = (Job){.work = work, .finish = finish, .forget = forget};
  task->make    = make;
  task->who     = page->trading.who;
  task->choices = page->next.choices;
  task->said    = page->said;
  (void)snprintf(task->scratch, sizeof(task->scratch), "%s", page->scratch);
  return task;
}

json_t*
task_give(Page* const page, Task* const task, WireCall* const call)
{
  call->is_later = true;
  task->call     = *call;
  worker_give(page->worker, &task->job);
  return NULL;
}

void
task_drop(Task* const task)
{
  forget(&task->job);
}
