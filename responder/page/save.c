#include "responder/page/save.h"

#include "profiles/choices/choices_file.h"
#include "responder/lesson/choosing.h"
#include "responder/lesson/printing.h"
#include "responder/lesson/sessions.h"
#include "responder/lesson/today.h"
#include "responder/page/task.h"

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
make_session(Task* const task, const char* const folder)
{
  const unsigned kind = task->number;
  const size_t   n    = strlen(task->text) - strlen(".mid");
  char           name[SESSIONS_NAME_CAPACITY + 8];
  char           path[PLACE_PATH_CAPACITY];
  (void)snprintf(
    name, sizeof(name), "%.*s%s", (int)n, task->text, kinds[kind].ending);
  (void)snprintf(path, sizeof(path), "%s/%s", folder, name);
  if (kind == KIND_MIDI) {
    return task_answer_file(task->path, name, kinds[kind].type);
  }
  return recall_save(task->path, path, &task->faults)
           ? NULL
           : task_answer_file(path, name, kinds[kind].type);
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
  Task* const task = task_begin(page, call, make_session);
  if (!task) {
    return NULL;
  }
  if (sessions_path(page->playing.folder, name, task->path, &call->fault)) {
    task_drop(task);
    call->field = "name";
    return NULL;
  }
  task->number = kind;
  (void)snprintf(task->text, sizeof(task->text), "%s", name);
  return task_give(page, task, call);
}

// A sheet

enum { SHEET_SVG, SHEET_PDF, SHEET_ALL, N_SHEETS }; // All: everybody's, a PDF

static const char* const sheets[] = {"svg", "pdf", "all"};

static const char pdf_type[] = "application/pdf";

// One page is `sheet.svg`, several are `sheet-1.svg` and so on
static json_t*
pages_in(const char* const folder, const Rung rung)
{
  json_t* const pages = json_array();
  char          path[PLACE_PATH_CAPACITY];
  size_t        size = 0;
  (void)snprintf(path, sizeof(path), "%s/sheet.svg", folder);
  char* svg = task_read_file(path, &size);
  for (unsigned i = 1; svg || i <= PAGES_MOST; ++i) {
    if (svg) {
      (void)json_array_append_new(pages, json_stringn(svg, size));
      free(svg);
    } else if (i > 2) {
      break;
    }
    (void)snprintf(path, sizeof(path), "%s/sheet-%u.svg", folder, i);
    svg = task_read_file(path, &size);
  }
  char text[RUNG_TEXT_CAPACITY];
  return json_pack("{so ss}", "pages", pages, "rung", rung_text(rung, text));
}

// What a sheet is made of; large
typedef struct {
  Setup     setup;
  Printing  printing;
  SheetBook book;
} Paperwork;

static Status
lay_sheet(Task* const task, Paperwork* const work)
{
  Choices choices = choose(&task->who, &task->said);
  choose_climb(&choices, &task->who);
  memset(&work->setup, 0, sizeof(work->setup));
  const Status status = setup_load(&work->setup, &choices, &task->faults);
  if (!status) {
    printing_lay(&work->printing,
                 &work->setup,
                 &(PrintingWish){SHEET_A4, &task->who, today(), task->count});
  }
  return status;
}

static json_t*
make_one(Task* const task, Paperwork* const work, const char* const folder)
{
  const bool is_pdf = task->number == SHEET_PDF;
  char       path[PLACE_PATH_CAPACITY];
  Fault      fault;
  (void)snprintf(
    path, sizeof(path), "%s/sheet.%s", folder, is_pdf ? "pdf" : "svg");
  if (lay_sheet(task, work)) {
    return NULL;
  }
  if (printing_save(&work->printing, path, &fault)) {
    return task_fail(task, &fault);
  }
  return is_pdf ? task_answer_file(path, "sheet.pdf", pdf_type)
                : pages_in(folder, work->setup.choices.rung);
}

static Status
find_who(Task* const task, const char* const id)
{
  Choices      choices;
  const Status status = choices_load(&choices, &task->faults);
  return status ? status : who_find(&task->who, id, &choices, &task->faults);
}

static Status
add_each(Task* const             task,
         Paperwork* const        work,
         const PeopleList* const people)
{
  Status status = STATUS_OK;
  for (size_t i = 0; i < people->n_ids && !status; ++i) {
    Fault fault;
    status = find_who(task, people->ids[i]);
    if (!status) {
      status = lay_sheet(task, work);
    }
    if (!status && (status = sheet_book_add(&work->book,
                                            &work->printing.sheet,
                                            &work->printing.pages,
                                            &fault))) {
      (void)faults_note(&task->faults, &fault);
    }
  }
  return status;
}

static json_t*
make_all(Task* const task, Paperwork* const work, const char* const folder)
{
  char       path[PLACE_PATH_CAPACITY];
  PeopleList people;
  Fault      fault;
  (void)snprintf(path, sizeof(path), "%s/sheets.pdf", folder);
  if (people_list(&people, &fault)) {
    return task_fail(task, &fault);
  }
  const Status status = add_each(task, work, &people);
  people_list_free(&people);
  if (status) {
    return NULL;
  }
  return sheet_book_save(&work->book, path, &fault)
           ? task_fail(task, &fault)
           : task_answer_file(path, "sheets.pdf", pdf_type);
}

static json_t*
make_sheet(Task* const task, const char* const folder)
{
  Paperwork* const work = calloc(1, sizeof(*work));
  json_t*          made = NULL;
  if (work) {
    made = task->number == SHEET_ALL ? make_all(task, work, folder)
                                     : make_one(task, work, folder);
    sheet_book_close(&work->book);
  }
  free(work);
  return made;
}

json_t*
save_sheet(Page* const page, WireCall* const call)
{
  static const struct {
    Choice   choice;
    unsigned at; // Among the fields
  } asked[] = {
    {CHOICE_CHART, 1}, {CHOICE_KEY, 2}, {CHOICE_RUNG, 3}, {CHOICE_SEED, 6}};
  const WireValue* values = call->values;
  Task* const      task   = task_begin(page, call, make_sheet);
  Status           status = task ? STATUS_OK : STATUS_MEMORY;
  if (!task) {
    return NULL;
  }
  while (task->number < N_SHEETS &&
         strcmp(sheets[task->number], values[0].text) != 0) {
    ++task->number;
  }
  if (task->number == N_SHEETS) {
    task_drop(task);
    return face_refuse(call, "kind", "a kind is svg, pdf or all");
  }
  task->count = values[5].is_there ? (unsigned)values[5].number : 0;
  for (unsigned i = 0; i < sizeof(asked) / sizeof(*asked) && !status; ++i) {
    const Choice           choice = asked[i].choice;
    const WireValue* const value  = &values[asked[i].at];
    if (value->is_there) {
      call->field = choice_row(choice)->row.name;
      status =
        face_is_name(choice, value->text, &call->fault)
          ? said_add(
              &task->said, choice, call->field, value->text, &call->fault)
          : STATUS_RANGE;
    }
  }
  if (!status && values[4].is_there &&
      (status = find_who(task, values[4].text))) {
    (void)face_refuse_all(call, "who", &task->faults);
  }
  if (status) {
    task_drop(task);
    return NULL;
  }
  return task_give(page, task, call);
}
