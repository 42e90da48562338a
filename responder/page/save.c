#include "responder/page/save.h"

#include "profiles/choices/choices_file.h"
#include "responder/lesson/choosing.h"
#include "responder/lesson/printing.h"
#include "responder/lesson/progress_view.h"
#include "responder/lesson/sessions.h"
#include "responder/lesson/today.h"
#include "responder/page/errand.h"
#include "responder/tell/progress_tell.h"

#include <stdlib.h>
#include <string.h>

enum { PAGES_MOST = 99 };

// A recorded session

static const struct {
  const char* name;
  const char* ending;
  const char* type;
} kinds[] = {
  {"midi", ".mid", "audio/midi"},
  {"musicxml", ".xml", "application/vnd.recordare.musicxml+xml"},
  {"wav", ".wav", "audio/wav"},
  {"pdf", ".pdf", "application/pdf"},
};

enum { KIND_MIDI, KIND_XML, KIND_WAV, N_KINDS = 4 };

static json_t*
make_session(Errand* const errand, const char* const folder)
{
  const unsigned kind = errand->number;
  const size_t   n    = strlen(errand->text) - strlen(".mid");
  char           name[SESSIONS_NAME_CAPACITY + 8];
  char           path[PLACE_PATH_CAPACITY];
  (void)snprintf(
    name, sizeof(name), "%.*s%s", (int)n, errand->text, kinds[kind].ending);
  (void)snprintf(path, sizeof(path), "%s/%s", folder, name);
  if (kind == KIND_MIDI) {
    return errand_file(errand->path, name, kinds[kind].type);
  }
  return recall_save(errand->path, path, &errand->faults)
           ? NULL
           : errand_file(path, name, kinds[kind].type);
}

json_t*
save_session(Page* const page, WireCall* const call)
{
  const char* const name = call->values[0].text;
  unsigned          kind = 0;
  while (kind < N_KINDS && strcmp(kinds[kind].name, call->values[1].text)) {
    ++kind;
  }
  if (kind == N_KINDS) {
    return face_refuse(call, "kind", "a kind is midi, musicxml, wav or pdf");
  }
  if (page->is_begun && kind == KIND_WAV) {
    return face_refuse(call, NULL, "a session is being played; stop it first");
  }
  Errand* const errand = errand_begin(page, call, make_session);
  if (!errand) {
    return NULL;
  }
  if (sessions_path(page->playing.folder, name, errand->path, &call->fault)) {
    errand_drop(errand);
    call->field = "name";
    return NULL;
  }
  errand->number = kind;
  (void)snprintf(errand->text, sizeof(errand->text), "%s", name);
  return errand_give(page, errand, call);
}

// A sheet

// One page is `sheet.svg`, several are `sheet-1.svg` and so on
static json_t*
pages_in(const char* const folder)
{
  json_t* const pages = json_array();
  char          path[PLACE_PATH_CAPACITY];
  size_t        size = 0;
  (void)snprintf(path, sizeof(path), "%s/sheet.svg", folder);
  char* svg = errand_read(path, &size);
  for (unsigned i = 1; svg || i <= PAGES_MOST; ++i) {
    if (svg) {
      (void)json_array_append_new(pages, json_stringn(svg, size));
      free(svg);
    } else if (i > 2) {
      break;
    }
    (void)snprintf(path, sizeof(path), "%s/sheet-%u.svg", folder, i);
    svg = errand_read(path, &size);
  }
  return json_pack("{so}", "pages", pages);
}

static json_t*
lay_sheet(Errand* const   errand,
          Setup* const    setup,
          Printing* const printing,
          const char*     folder)
{
  const bool is_pdf  = errand->number == 1;
  Choices    choices = choose(&errand->who, &errand->said);
  char       path[PLACE_PATH_CAPACITY];
  Fault      fault;
  choose_climb(&choices, &errand->who);
  if (setup_load(setup, &choices, &errand->faults)) {
    return NULL;
  }
  (void)snprintf(
    path, sizeof(path), "%s/sheet.%s", folder, is_pdf ? "pdf" : "svg");
  printing_lay(
    printing, setup, &(PrintingWish){SHEET_A4, &errand->who, today(), 0});
  if (printing_save(printing, path, &fault)) {
    return errand_fail(errand, &fault);
  }
  return is_pdf ? errand_file(path, "sheet.pdf", "application/pdf")
                : pages_in(folder);
}

static json_t*
make_sheet(Errand* const errand, const char* const folder)
{
  Setup* const    setup    = calloc(1, sizeof(*setup));
  Printing* const printing = calloc(1, sizeof(*printing));
  json_t*         made     = NULL;
  if (setup && printing) {
    made = lay_sheet(errand, setup, printing, folder);
  }
  free(printing);
  free(setup);
  return made;
}

static Status
find_who(Errand* const errand, const char* const id)
{
  Choices      choices;
  const Status status = choices_load(&choices, &errand->faults);
  return status ? status
                : who_find(&errand->who, id, &choices, &errand->faults);
}

json_t*
save_sheet(Page* const page, WireCall* const call)
{
  static const Choice asked[] = {CHOICE_CHART, CHOICE_KEY};
  const WireValue*    values  = call->values;
  Errand* const       errand  = errand_begin(page, call, make_sheet);
  Status              status  = errand ? STATUS_OK : STATUS_MEMORY;
  if (!errand) {
    return NULL;
  }
  errand->number = strcmp(values[0].text, "pdf") == 0;
  for (unsigned i = 0; i < 2 && !status; ++i) {
    if (values[i + 1].is_there) {
      call->field = choice_row(asked[i])->row.name;
      status      = face_is_name(asked[i], values[i + 1].text, &call->fault)
                      ? said_add(&errand->said,
                            asked[i],
                            call->field,
                            values[i + 1].text,
                            &call->fault)
                      : STATUS_RANGE;
    }
  }
  if (!status && values[3].is_there &&
      (status = find_who(errand, values[3].text))) {
    (void)face_refuse_all(call, "who", &errand->faults);
  }
  if (status) {
    errand_drop(errand);
    return NULL;
  }
  return errand_give(page, errand, call);
}

// The way come

static json_t*
lines_of(char* const text)
{
  json_t* const list = json_array();
  char*         rest = NULL;
  for (char* line = strtok_r(text, "\n", &rest); line;
       line       = strtok_r(NULL, "\n", &rest)) {
    (void)json_array_append_new(list, json_string(line));
  }
  return list;
}

static json_t*
words_of(const ProgressView* const view)
{
  char*       text   = NULL;
  size_t      size   = 0;
  FILE* const stream = open_memstream(&text, &size);
  if (!stream) {
    return json_array();
  }
  progress_tell(stream, view);
  (void)fclose(stream);
  json_t* const words = lines_of(text);
  free(text);
  return words;
}

static json_t*
make_progress(Errand* const errand, const char* const folder)
{
  ProgressView view;
  Fault        fault;
  char         path[PLACE_PATH_CAPACITY];
  size_t       size = 0;
  if (progress_view_read(&view, &errand->who, today(), &fault)) {
    return errand_fail(errand, &fault);
  }
  (void)snprintf(path, sizeof(path), "%s/progress.svg", folder);
  char* const svg = view.totals.n_totals && !progress_draw(&view, path, &fault)
                      ? errand_read(path, &size)
                      : NULL;
  json_t* const made =
    json_pack("{so ss?}", "words", words_of(&view), "svg", svg);
  free(svg);
  progress_view_free(&view);
  return made;
}

json_t*
save_progress(Page* const page, WireCall* const call)
{
  Errand* const errand = errand_begin(page, call, make_progress);
  return errand ? errand_give(page, errand, call) : NULL;
}
