#include "responder/page/save.h"

#include "core/files/folder.h"
#include "responder/lesson/sessions.h"
#include "responder/page/base64.h"

#include <stdlib.h>
#include <string.h>

// What can be made of a recording
static const struct Kind {
  const char* name;
  const char* ending;
  const char* type;
} kinds[] = {
  {"midi", ".mid", "audio/midi"},
  {"musicxml", ".xml", "application/vnd.recordare.musicxml+xml"},
  {"wav", ".wav", "audio/wav"},
  {"pdf", ".pdf", "application/pdf"},
};

typedef struct {
  Job                job;
  WireCall           call;
  const struct Kind* kind;
  char               name[SESSIONS_NAME_CAPACITY];
  char               recording[PLACE_PATH_CAPACITY];
  json_t*            made;
  Faults             faults;
} Save;

// On the worker's thread

static char*
read_file(const char* const path, size_t* const size)
{
  FILE* const file   = fopen(path, "rb");
  char*       bytes  = NULL;
  long        length = -1;
  if (file && fseek(file, 0, SEEK_END) == 0 && (length = ftell(file)) >= 0 &&
      fseek(file, 0, SEEK_SET) == 0 && (bytes = malloc((size_t)length + 1))) {
    *size = fread(bytes, 1, (size_t)length, file);
  }
  if (file) {
    (void)fclose(file);
  }
  return bytes;
}

json_t*
save_answer(const char* const path,
            const char* const name,
            const char* const type)
{
  size_t      size  = 0;
  char* const bytes = read_file(path, &size);
  char* const text  = bytes ? base64_text(bytes, size) : NULL;
  json_t*     made  = NULL;
  if (text) {
    made = json_pack("{ss ss ss}", "file", name, "type", type, "base64", text);
  }
  free(bytes);
  free(text);
  return made;
}

static void
make_in(Save* const save, const char* const folder)
{
  const size_t n = strlen(save->name) - strlen(".mid");
  char         name[SESSIONS_NAME_CAPACITY + 8];
  char         path[PLACE_PATH_CAPACITY];
  (void)snprintf(
    name, sizeof(name), "%.*s%s", (int)n, save->name, save->kind->ending);
  (void)snprintf(path, sizeof(path), "%s/%s", folder, name);
  if (save->kind == &kinds[0]) {
    save->made = save_answer(save->recording, name, save->kind->type);
  } else if (!recall_save(save->recording, path, &save->faults)) {
    save->made = save_answer(path, name, save->kind->type);
  }
}

static void
work(Job* const job)
{
  Save* const save     = (Save*)job;
  char        folder[] = "/tmp/barter-page-XXXXXX";
  Fault       ignored;
  if (!mkdtemp(folder)) {
    (void)faults_add(&save->faults,
                     STATUS_SYSTEM,
                     NULL,
                     0,
                     "there is no room in /tmp for the file");
    return;
  }
  make_in(save, folder);
  (void)!folder_remove(folder, &ignored);
}

// On the server's

static void
forget(Job* const job)
{
  Save* const save = (Save*)job;
  json_decref(save->made);
  free(save);
}

static void
finish(void* const context, Job* const job)
{
  Save* const save = (Save*)job;
  json_t*     made = save->made;
  save->made       = NULL;
  if (!made) {
    (void)(save->faults.n_faults
             ? face_refuse_all(&save->call, NULL, &save->faults)
             : face_refuse(&save->call, NULL, "the file could not be made"));
  }
  face_answer(context, &save->call, made);
  forget(job);
}

static const struct Kind*
kind_named(const char* const name)
{
  for (unsigned i = 0; i < sizeof(kinds) / sizeof(*kinds); ++i) {
    if (strcmp(kinds[i].name, name) == 0) {
      return &kinds[i];
    }
  }
  return NULL;
}

json_t*
save_session(Page* const page, WireCall* const call)
{
  const char* const        name = call->values[0].text;
  const struct Kind* const kind = kind_named(call->values[1].text);
  if (!kind) {
    return face_refuse(call, "kind", "a kind is midi, musicxml, wav or pdf");
  }
  if (page->is_begun && strcmp(kind->name, "wav") == 0) {
    return face_refuse(call, NULL, "a session is being played; stop it first");
  }
  Save* const save = calloc(1, sizeof(*save));
  if (!save) {
    return face_refuse(call, NULL, "%s", status_text(STATUS_MEMORY));
  }
  if (sessions_path(
        page->playing.folder, name, save->recording, &call->fault)) {
    free(save);
    call->field = "name";
    return NULL;
  }
  call->is_later = true;
  save->job      = (Job){.work = work, .finish = finish, .forget = forget};
  save->kind     = kind;
  save->call     = *call;
  (void)snprintf(save->name, sizeof(save->name), "%s", name);
  worker_give(page->worker, &save->job);
  return NULL;
}
