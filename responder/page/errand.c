#include "responder/page/errand.h"

#include "core/files/folder.h"
#include "responder/page/base64.h"

#include <stdlib.h>
#include <string.h>

// On the worker's thread

char*
errand_read(const char* const path, size_t* const size)
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
errand_file(const char* const path,
            const char* const name,
            const char* const type)
{
  size_t      size  = 0;
  char* const bytes = errand_read(path, &size);
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
errand_fail(Errand* const errand, const Fault* const fault)
{
  (void)faults_note(&errand->faults, fault);
  return NULL;
}

static void
work(Job* const job)
{
  Errand* const errand   = (Errand*)job;
  char          folder[] = "/tmp/barter-page-XXXXXX";
  Fault         ignored;
  if (!mkdtemp(folder)) {
    (void)faults_add(&errand->faults,
                     STATUS_SYSTEM,
                     NULL,
                     0,
                     "there is no room in /tmp for a file");
    return;
  }
  errand->made = errand->make(errand, folder);
  (void)!folder_remove(folder, &ignored);
}

// On the server's

static void
forget(Job* const job)
{
  Errand* const errand = (Errand*)job;
  json_decref(errand->made);
  free(errand->desk);
  free(errand);
}

static void
finish(void* const context, Job* const job)
{
  Page* const   page   = context;
  Errand* const errand = (Errand*)job;
  json_t* const made   = errand->made;
  errand->made         = NULL;
  if (!made) {
    (void)(errand->faults.n_faults
             ? face_refuse_all(
                 &errand->call, errand->call.field, &errand->faults)
             : face_refuse(&errand->call, NULL, "it could not be made"));
  } else if (errand->done) {
    errand->done(page, errand);
  }
  face_answer(page, &errand->call, made);
  forget(job);
}

Errand*
errand_begin(const Page* const page,
             WireCall* const   call,
             json_t* (*const make)(Errand* errand, const char* folder))
{
  Errand* const errand = calloc(1, sizeof(*errand));
  if (!errand) {
    (void)face_refuse(call, NULL, "%s", status_text(STATUS_MEMORY));
    return NULL;
  }
  errand->job     = (Job){.work = work, .finish = finish, .forget = forget};
  errand->make    = make;
  errand->who     = page->trading.who;
  errand->choices = page->next.choices;
  errand->said    = page->said;
  return errand;
}

json_t*
errand_give(Page* const page, Errand* const errand, WireCall* const call)
{
  call->is_later = true;
  errand->call   = *call;
  worker_give(page->worker, &errand->job);
  return NULL;
}

void
errand_drop(Errand* const errand)
{
  forget(&errand->job);
}
