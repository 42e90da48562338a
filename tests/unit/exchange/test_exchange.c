#include "profiles/exchange/exchange.h"

#include "core/files/file.h"
#include "core/files/folder.h"
#include "profiles/exchange/stamp.h"
#include "profiles/learner/learner_file.h"
#include "support/practice.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static char folder[PRACTICE_PATH_CAPACITY];

static void
set_up(void)
{
  practice_folder(folder);
  (void)setenv("XDG_DATA_HOME", folder, 1);
}

static void
tear_down(void)
{
  practice_remove(folder);
}

static Person
make_person(const char* const id)
{
  Person        person;
  Fault         fault;
  const Learner learner = learner_plain(id);
  cr_assert_eq(people_place(&person, id, &fault), STATUS_OK);
  cr_assert_eq(people_make(&person, &learner, &fault), STATUS_OK);
  return person;
}

/// Export a person to FOLDER/NAME.
static void
export_to(const Person* const person, const char* const name)
{
  char       path[PRACTICE_PATH_CAPACITY];
  FileSaving saving;
  Fault      fault;
  practice_path(path, folder, name);
  cr_assert_eq(file_begin(&saving, path, FILE_PRIVATE, &fault), STATUS_OK);
  cr_assert_eq(
    exchange_write(saving.stream, person, &fault), STATUS_OK, "%s", fault.text);
  cr_assert_eq(file_end(&saving, &fault), STATUS_OK);
}

/// Import FOLDER/NAME into a person: journal and settings.
static JournalGain
import_from(const Person* const person, const char* const name)
{
  char         path[PRACTICE_PATH_CAPACITY];
  ExchangeHead head;
  JournalGain  gain     = {.turns_added = 0};
  bool         is_taken = false;
  Fault        fault;
  practice_path(path, folder, name);
  cr_assert_eq(exchange_look(&head, path, &fault), STATUS_OK, "%s", fault.text);
  Journal* const journal = practice_open(person->journal);
  cr_assert_eq(exchange_merge(journal, path, NULL, &gain, &fault), STATUS_OK);
  cr_assert_eq(exchange_take_settings(person, &head, &is_taken, &fault),
               STATUS_OK);
  journal_close(journal);
  exchange_head_free(&head);
  return gain;
}

static char*
load(const char* const name)
{
  char   path[PRACTICE_PATH_CAPACITY];
  char*  bytes = NULL;
  size_t size  = 0;
  Fault  fault;
  cr_assert_eq(
    file_load(
      practice_path(path, folder, name), 64U << 20, &bytes, &size, &fault),
    STATUS_OK);
  return bytes;
}

/// Whether two exports say the same, whatever ID the person has where.
static bool
are_alike(const char* const a, const char* const b)
{
  char* const       left     = load(a);
  char* const       right    = load(b);
  static const char before[] = "\"persons\":";
  const char* const x        = strstr(left, before);
  const char* const y        = strstr(right, before);
  const bool        are      = x && y && strcmp(x, y) == 0;
  free(left);
  free(right);
  return are;
}

// Round trip

Test(exchange, brings_everything, .init = set_up, .fini = tear_down)
{
  Rng            rng     = rng_seed(1, 4);
  const Person   ada     = make_person("ada");
  const Person   bob     = make_person("bob");
  Journal* const journal = practice_open(ada.journal);
  practice_fill(journal, &rng, 30, 40);
  journal_close(journal);
  Fault fault;
  cr_assert_eq(exchange_stamp(&bob, 0, &fault), STATUS_OK);

  export_to(&ada, "ada.jsonl");
  const JournalGain gain = import_from(&bob, "ada.jsonl");
  cr_assert_eq(gain.sessions_added, 30);
  cr_assert_gt(gain.turns_added, 300);
  export_to(&bob, "bob.jsonl");
  cr_assert(are_alike("ada.jsonl", "bob.jsonl"));

  // The sums are made, too
  Journal* const there = practice_open(bob.journal);
  Journal* const here  = practice_open(ada.journal);
  JournalTotals  a;
  JournalTotals  b;
  cr_assert_eq(journal_totals(here, &a, &fault), STATUS_OK);
  cr_assert_eq(journal_totals(there, &b, &fault), STATUS_OK);
  cr_assert_eq(a.n_totals, b.n_totals);
  cr_assert_eq(memcmp(a.totals, b.totals, a.n_totals * sizeof(*a.totals)), 0);
  journal_totals_free(&a);
  journal_totals_free(&b);
  journal_close(here);
  journal_close(there);
}

Test(exchange, twice_is_once, .init = set_up, .fini = tear_down)
{
  Rng            rng     = rng_seed(2, 4);
  const Person   ada     = make_person("ada");
  Journal* const journal = practice_open(ada.journal);
  practice_fill(journal, &rng, 10, 20);
  journal_close(journal);
  export_to(&ada, "before.jsonl");
  const JournalGain gain = import_from(&ada, "before.jsonl");
  cr_assert_eq(gain.sessions_added, 0);
  cr_assert_eq(gain.turns_added, 0);
  cr_assert_eq(gain.records_replaced, 0);
  export_to(&ada, "after.jsonl");
  cr_assert(are_alike("before.jsonl", "after.jsonl"));
}

// The laws of merging, over journals that share sessions and turns, and in
// part say different things of them

enum { N_POOL = 6, N_POOL_TURNS = 5, N_VARIANTS = 2, N_ROUNDS = 25 };

typedef struct {
  JournalSession sessions[N_POOL][N_VARIANTS];
  JournalTurn    turns[N_POOL][N_POOL_TURNS][N_VARIANTS];
} Pool;

static Pool
draw_pool(Rng* const rng)
{
  Pool pool;
  for (unsigned i = 0; i < N_POOL; ++i) {
    for (unsigned v = 0; v < N_VARIANTS; ++v) {
      pool.sessions[i][v]    = practice_session(rng);
      pool.sessions[i][v].id = pool.sessions[i][0].id;
      for (unsigned t = 0; t < N_POOL_TURNS; ++t) {
        pool.turns[i][t][v] = practice_turn(rng, (int32_t)t + 1);
      }
    }
  }
  return pool;
}

/// Fill a person's journal and settings with some of the pool.
static void
draw_from_pool(Rng* const          rng,
               const Pool* const   pool,
               const Person* const person)
{
  Journal* const journal = practice_open(person->journal);
  Fault          fault;
  for (unsigned i = 0; i < N_POOL; ++i) {
    const JournalSession* const session =
      &pool->sessions[i][rng_below(rng, N_VARIANTS)];
    if (rng_below(rng, 3) == 0) {
      continue;
    }
    cr_assert_eq(journal_add_session(journal, session, &fault), STATUS_OK);
    for (unsigned t = 0; t < N_POOL_TURNS; ++t) {
      const JournalTurn* const turn =
        &pool->turns[i][t][rng_below(rng, N_VARIANTS)];
      if (rng_below(rng, 3)) {
        cr_assert_eq(journal_add_turn(journal, session->id, turn, &fault),
                     STATUS_OK);
      }
    }
  }
  cr_assert_eq(journal_name_person(journal, &fault), STATUS_OK);
  journal_close(journal);

  Learner learner           = learner_plain("Ada");
  learner.choices.tempo_bpm = 60 + rng_below(rng, 3);
  choices_mark(&learner.choices, CHOICE_TEMPO, CHOICE_BY_LEARNER, 0);
  cr_assert_eq(learner_file_save(&learner, person->settings, &fault),
               STATUS_OK);
  cr_assert_eq(
    exchange_stamp(person, 1000 * (int64_t)rng_below(rng, 3), &fault),
    STATUS_OK);
}

/// Make a person anew, merge files into it in their order, and export it.
static void
merge_in_order(const char* const* const names,
               const unsigned           n_names,
               const char* const        to)
{
  const Person nobody = make_person("nobody");
  Fault        fault;
  cr_assert_eq(exchange_stamp(&nobody, 0, &fault), STATUS_OK);
  // Before any other text of the same moment
  cr_assert_eq(file_save(nobody.settings, "\n", 1, FILE_PRIVATE, &fault),
               STATUS_OK);
  cr_assert_eq(exchange_stamp(&nobody, 0, &fault), STATUS_OK);
  for (unsigned i = 0; i < n_names; ++i) {
    (void)import_from(&nobody, names[i]);
  }
  export_to(&nobody, to);
  cr_assert_eq(people_remove(&nobody, &fault), STATUS_OK);
}

Test(exchange,
     merges_in_any_order_to_the_same,
     .init = set_up,
     .fini = tear_down)
{
  Rng rng = rng_seed(3, 4);
  for (unsigned round = 0; round < N_ROUNDS; ++round) {
    const Pool               pool    = draw_pool(&rng);
    static const char* const ids[]   = {"a", "b", "c"};
    static const char* const files[] = {"a.jsonl", "b.jsonl", "c.jsonl"};
    for (unsigned i = 0; i < 3; ++i) {
      const Person person = make_person(ids[i]);
      Fault        fault;
      draw_from_pool(&rng, &pool, &person);
      export_to(&person, files[i]);
      cr_assert_eq(people_remove(&person, &fault), STATUS_OK);
    }
    const char* const abc[] = {"a.jsonl", "b.jsonl", "c.jsonl"};
    const char* const cba[] = {"c.jsonl", "b.jsonl", "a.jsonl", "c.jsonl"};
    const char* const bc[]  = {"b.jsonl", "c.jsonl"};
    merge_in_order(abc, 3, "abc.jsonl");
    merge_in_order(cba, 4, "cba.jsonl"); // Any order, and one twice
    merge_in_order(bc, 2, "bc.jsonl");
    const char* const a_bc[] = {"a.jsonl", "bc.jsonl"};
    merge_in_order(a_bc, 2, "a_bc.jsonl"); // What was merged before
    cr_assert(are_alike("abc.jsonl", "cba.jsonl"), "round %u", round);
    cr_assert(are_alike("abc.jsonl", "a_bc.jsonl"), "round %u", round);
    // Nothing is lost: what is merged takes in each part without a change
    const char* const again[] = {"abc.jsonl", "b.jsonl"};
    merge_in_order(again, 2, "again.jsonl");
    cr_assert(are_alike("abc.jsonl", "again.jsonl"), "round %u", round);
  }
}

// Of two that differ the one that comes later in the order of all stays
Test(exchange, later_records_stay, .init = set_up, .fini = tear_down)
{
  Rng rng = rng_seed(8, 4);
  for (unsigned round = 0; round < 10; ++round) {
    const Person   ada   = make_person("ada");
    const Person   bob   = make_person("bob");
    JournalSession a     = practice_session(&rng);
    JournalSession b     = practice_session(&rng);
    const int      order = journal_compare(journal_session_fields(), &a, &b);
    Fault          fault;
    b.id                 = a.id;
    Journal* const here  = practice_open(ada.journal);
    Journal* const there = practice_open(bob.journal);
    cr_assert_eq(journal_add_session(here, &a, &fault), STATUS_OK);
    cr_assert_eq(journal_add_session(there, &b, &fault), STATUS_OK);
    journal_close(here);
    journal_close(there);
    export_to(&ada, "ada.jsonl");
    export_to(&bob, "bob.jsonl");
    cr_assert_eq(import_from(&ada, "bob.jsonl").records_replaced, order < 0);
    cr_assert_eq(import_from(&bob, "ada.jsonl").records_replaced, order > 0);
    cr_assert_eq(people_remove(&ada, &fault), STATUS_OK);
    cr_assert_eq(people_remove(&bob, &fault), STATUS_OK);
  }
}

Test(exchange, newer_settings_win, .init = set_up, .fini = tear_down)
{
  const Person ada     = make_person("ada");
  const Person bob     = make_person("bob");
  Learner      learner = learner_plain("Older");
  Fault        fault;
  cr_assert_eq(learner_file_save(&learner, ada.settings, &fault), STATUS_OK);
  cr_assert_eq(exchange_stamp(&ada, 1000000, &fault), STATUS_OK);
  learner = learner_plain("Newer");
  cr_assert_eq(learner_file_save(&learner, bob.settings, &fault), STATUS_OK);
  cr_assert_eq(exchange_stamp(&bob, 2000000, &fault), STATUS_OK);
  export_to(&ada, "ada.jsonl");
  export_to(&bob, "bob.jsonl");

  Faults faults = {.n_faults = 0};
  (void)import_from(&bob, "ada.jsonl");
  cr_assert_eq(learner_file_load(&learner, bob.settings, &faults), STATUS_OK);
  cr_assert_str_eq(learner.name, "Newer");
  (void)import_from(&ada, "bob.jsonl");
  cr_assert_eq(learner_file_load(&learner, ada.settings, &faults), STATUS_OK);
  cr_assert_str_eq(learner.name, "Newer");
  cr_assert_eq(stamp_of(ada.settings), 2000000);
}

// Settings that cannot be read are left out, and the journal is not lost
Test(exchange,
     broken_settings_lose_nothing_else,
     .init = set_up,
     .fini = tear_down)
{
  Rng            rng     = rng_seed(4, 4);
  const Person   ada     = make_person("ada");
  const Person   bob     = make_person("bob");
  Journal* const journal = practice_open(ada.journal);
  Fault          fault;
  practice_fill(journal, &rng, 5, 5);
  journal_close(journal);
  cr_assert_eq(
    file_save(ada.settings, "tempo = fast;", 13, FILE_PRIVATE, &fault),
    STATUS_OK);
  export_to(&ada, "ada.jsonl");
  cr_assert_eq(import_from(&bob, "ada.jsonl").sessions_added, 5);
  Learner learner = learner_plain("");
  Faults  faults  = {.n_faults = 0};
  cr_assert_eq(learner_file_load(&learner, bob.settings, &faults), STATUS_OK);
  cr_assert_str_eq(learner.name, "bob");
}

// What is wrong

static Status
look_at(const char* const bytes, const size_t size, Fault* const fault)
{
  FILE* const stream = fmemopen((void*)(uintptr_t)bytes, size, "rb");
  cr_assert_not_null(stream);
  const ExchangeReader nobody = {.head = NULL};
  const Status         status = exchange_read(stream, "f", &nobody, fault);
  cr_assert_eq(fclose(stream), 0);
  return status;
}

Test(exchange, is_whole_or_nothing, .init = set_up, .fini = tear_down)
{
  Rng            rng     = rng_seed(5, 4);
  const Person   ada     = make_person("ada");
  Journal* const journal = practice_open(ada.journal);
  practice_fill(journal, &rng, 2, 3);
  journal_close(journal);
  export_to(&ada, "ada.jsonl");
  char* const bytes = load("ada.jsonl");
  size_t      size  = strlen(bytes);
  Fault       fault;
  cr_assert_eq(look_at(bytes, size, &fault), STATUS_OK);
  --size; // The last line break may be missing
  cr_assert_eq(look_at(bytes, size, &fault), STATUS_OK);
  while (size > 1) {
    --size;
    cr_assert_eq(look_at(bytes, size, &fault), STATUS_SYNTAX, "%zu", size);
    cr_assert_gt(fault.line, 0);
    cr_assert_eq(strchr(fault.text, '\n'), NULL);
    if (bytes[size - 1] == '\n') {
      cr_assert_not_null(strstr(fault.text, "cut short"), "%s", fault.text);
    }
  }
  free(bytes);
}

/// Who looks on at a merge, and stops it at some look.
typedef struct {
  unsigned n_looks;
  unsigned stops_at; ///< 0: never
  double   done;
} Onlooker;

static bool
look_on(void* const context, const double done)
{
  Onlooker* const onlooker = context;
  cr_assert(done >= onlooker->done && done <= 1.0, "%g", done);
  onlooker->done = done;
  return ++onlooker->n_looks != onlooker->stops_at;
}

Test(exchange, can_be_stopped, .init = set_up, .fini = tear_down)
{
  Rng            rng     = rng_seed(3, 4);
  const Person   ada     = make_person("ada");
  const Person   bob     = make_person("bob");
  Journal* const journal = practice_open(ada.journal);
  practice_fill(journal, &rng, 40, 40);
  journal_close(journal);
  export_to(&ada, "ada.jsonl");
  export_to(&bob, "before.jsonl");

  char           path[PRACTICE_PATH_CAPACITY];
  Onlooker       onlooker = {.stops_at = 2};
  const Watch    watch    = {look_on, &onlooker};
  JournalGain    gain     = {.turns_added = 77};
  Fault          fault;
  Journal* const into = practice_open(bob.journal);
  practice_path(path, folder, "ada.jsonl");
  cr_assert_eq(exchange_merge(into, path, &watch, &gain, &fault),
               STATUS_STOPPED);
  cr_assert_eq(onlooker.n_looks, 2);
  cr_assert_eq(gain.turns_added, 77);
  journal_close(into);
  export_to(&bob, "after.jsonl");
  cr_assert(are_alike("before.jsonl", "after.jsonl"));

  Journal* const again = practice_open(bob.journal);
  onlooker             = (Onlooker){.stops_at = 0};
  cr_assert_eq(exchange_merge(again, path, &watch, &gain, &fault), STATUS_OK);
  cr_assert_gt(gain.turns_added, 300);
  cr_assert_gt(onlooker.n_looks, 2);
  cr_assert_gt(onlooker.done, 0.3);
  journal_close(again);
}

typedef struct {
  char     what[64]; ///< Is looked for in a good file ...
  char     with[64]; ///< ... and replaced
  unsigned line;
  char     says[64];
} WrongRow;

ParameterizedTestParameters(exchange, wrong)
{
  static WrongRow rows[] = {
    {"barter-learner", "barter-report", 1, "is no learner's export"},
    {"\"version\":1,", "\"version\":3,", 1, "another version"},
    {"\"version\":1,", "\"version\":1.0,", 1, "another version"},
    {"\"learner\":\"ada\"", "\"learner\":\"../ada\"", 1, "a learner's ID"},
    {"\"learner\":\"ada\"", "\"learner\":7", 1, "a learner's ID"},
    {"\"persons\":[\"", "\"persons\":[],\"x\":[\"", 1, "1 to 1000 IDs"},
    {"\"persons\":[\"", "\"persons\":[\"x", 1, "32 hexadecimal digits"},
    {"\"changed_us\":", "\"changed_us\":-", 1, "settings is to be null"},
    {"name = ", "nam = ", 1, "learner.cfg:7: nam is not known; write name"},
    {"\"id\",\"started_ms\"", "\"started_ms\",\"id\"", 1, "columns"},
    {"\"by_player\",", "", 1, "columns"},
    {"{\"session\":[\"", "{\"session\":[\"z", 2, "32 hexadecimal digits"},
    {"{\"session\":[", "{\"sessions\":[", 2, "is neither a session"},
    {"{\"session\":[", "{\"session\":[1,", 2, "a list of 15 values"},
    {"{\"session\":[", "{\"end\":[", 2, "the end does not count"},
    {"\n[1,", "\n[0,", 3, "number is to be a whole number, 1 to"},
    {"\n[1,", "\n[null,", 3, "number is to be a whole number, 1 to"},
    {"\n[1,", "\n[1.5,", 3, "number is to be a whole number, 1 to"},
    {"\n[1,", "\n[99999999999999999999,", 3, "too big"},
    {"\n[1,", "\n[", 3, "a list of 42 values"},
    {"\n[1,", "\n\n[1,", 3, "is no line of a learner's export"},
    {"\n[1,", "\n\xff[1,", 3, "is no line of a learner's export"},
    {",\"says\",", ",\"x\",", 1, "columns"},
    {"\"answer\"", "\"an\\u001bswer\"", 2, "kind is to be a text of one"},
    {"\"answer\"", "7", 2, "kind is to be a text of one"},
    {"\"answer\"", "\"answer to no 123\"", 2, "kind is longer than 15"},
    {"\"turns\":2", "\"turns\":3", 5, "the end does not count what came"},
    {"\"ideas\":0}}\n", "\"ideas\":0}}\n\n", 6, "behind the end"},
  };
  return cr_make_param_array(WrongRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(WrongRow* row,
                  exchange,
                  wrong,
                  .init = set_up,
                  .fini = tear_down)
{
  Rng            rng     = rng_seed(6, 4);
  const Person   ada     = make_person("ada");
  Journal* const journal = practice_open(ada.journal);
  JournalSession session = practice_session(&rng);
  Fault          fault;
  (void)snprintf(session.kind, sizeof(session.kind), "answer");
  cr_assert_eq(journal_add_session(journal, &session, &fault), STATUS_OK);
  for (int32_t number = 1; number <= 2; ++number) {
    const JournalTurn turn = practice_turn(&rng, number);
    cr_assert_eq(journal_add_turn(journal, session.id, &turn, &fault),
                 STATUS_OK);
  }
  journal_close(journal);
  export_to(&ada, "good.jsonl");
  char* const good = load("good.jsonl");
  char* const at   = strstr(good, row->what);
  cr_assert_not_null(at, "%s", row->what);
  char  path[PRACTICE_PATH_CAPACITY];
  FILE* file = fopen(practice_path(path, folder, "bad.jsonl"), "wb");
  cr_assert_not_null(file);
  cr_assert_geq(fprintf(file,
                        "%.*s%s%s",
                        (int)(at - good),
                        good,
                        row->with,
                        at + strlen(row->what)),
                0);
  cr_assert_eq(fclose(file), 0);
  free(good);

  // The fault names line and reason, and the journal is as it was
  Journal* const into = practice_open(ada.journal);
  JournalGain    gain = {.turns_added = 77};
  cr_assert_neq(exchange_merge(into, path, NULL, &gain, &fault), STATUS_OK);
  Fault again; // And nothing was left open
  cr_assert_neq(exchange_merge(into, path, NULL, &gain, &again), STATUS_OK);
  cr_assert_str_eq(again.text, fault.text);
  journal_close(into);
  cr_assert_eq(gain.turns_added, 77);
  cr_assert_eq(fault.line, row->line, "line %u: %s", fault.line, fault.text);
  cr_assert_not_null(strstr(fault.text, row->says), "%s", fault.text);
  export_to(&ada, "after.jsonl");
  cr_assert(are_alike("good.jsonl", "after.jsonl"));
}

// A table for a spreadsheet: as many fields on each line, whatever is in them

/// Count the fields of an RFC 4180 line; `*text` is moved behind it.
static unsigned
count_fields(const char** const text)
{
  unsigned n         = 1;
  bool     is_quoted = false;
  for (; **text; ++*text) {
    if (**text == '"') {
      is_quoted = !is_quoted;
    } else if (**text == ',' && !is_quoted) {
      ++n;
    } else if (**text == '\n' && !is_quoted) {
      ++*text;
      break;
    }
  }
  return n;
}

static Status
skip_session(void* const context, const JournalSession* const session)
{
  (void)context;
  (void)session;
  return STATUS_OK;
}

static Status
count_turn(void* const context, const JournalTurn* const turn)
{
  (void)turn;
  ++*(unsigned*)context;
  return STATUS_OK;
}

Test(exchange, table_has_a_line_a_turn, .init = set_up, .fini = tear_down)
{
  Rng                 rng     = rng_seed(7, 4);
  const Person        ada     = make_person("ada");
  Journal* const      journal = practice_open(ada.journal);
  Fault               fault;
  unsigned            n_turns = 0;
  const JournalReader reader  = {skip_session, count_turn, &n_turns};
  practice_fill(journal, &rng, 10, 20);
  cr_assert_eq(journal_read(journal, &reader, &fault), STATUS_OK);
  char        path[PRACTICE_PATH_CAPACITY];
  FILE* const file = fopen(practice_path(path, folder, "t.csv"), "wb");
  cr_assert_not_null(file);
  cr_assert_eq(exchange_write_csv(file, "ada", journal, &fault), STATUS_OK);
  cr_assert_eq(fclose(file), 0);
  journal_close(journal);

  char* const table = load("t.csv");
  // Units stand in the heading, and no value is in thousandths
  cr_assert_not_null(strstr(table, ",tempo_bpm,"));
  cr_assert_not_null(strstr(table, ",space_percent,"));
  cr_assert_not_null(strstr(table, ",swing_ratio,"));
  cr_assert_not_null(strstr(table, ",started_utc,"));
  cr_assert_null(strstr(table, "_us,"));
  // Whose it is: tables of a class are put under each other
  cr_assert_eq(strncmp(table, "learner,session,", 16), 0);
  cr_assert_not_null(strstr(table, "\r\nada,"));
  const char*    text      = table;
  const unsigned n_columns = count_fields(&text);
  unsigned       n_lines   = 0;
  cr_assert_eq(n_columns,
               2 + journal_session_fields().n_fields +
                 journal_turn_fields().n_fields);
  while (*text) {
    cr_assert_eq(count_fields(&text), n_columns, "line %u", n_lines + 2);
    ++n_lines;
  }
  cr_assert_eq(n_lines, n_turns);
  cr_assert_gt(n_lines, 50);
  free(table);
}

// The notebook of ideas

static JournalIdea
idea_of(const unsigned n, const int64_t kept_ms)
{
  JournalIdea idea = {.kept_ms = kept_ms,
                      .chart   = "Blues",
                      .key     = "C major",
                      .meter   = "4/4",
                      .origin  = "sequence"};
  (void)snprintf(idea.notes, sizeof(idea.notes), "0:480:%u 480:480:64", n);
  return idea;
}

static void
keep(const Person* const person, const JournalIdea idea, const bool is_new)
{
  Journal* const journal = practice_open(person->journal);
  bool           was_new = false;
  Fault          fault;
  cr_assert_eq(journal_keep_idea(journal, &idea, &was_new, &fault), STATUS_OK);
  cr_assert_eq(was_new, is_new);
  journal_close(journal);
}

// Two notebooks with one idea in common, kept at other times
static void
keep_some(const Person* const one, const Person* const two)
{
  keep(one, idea_of(60, 1000), true);
  keep(one, idea_of(61, 2000), true);
  keep(one, idea_of(61, 9000), false); // It stays as it was
  keep(two, idea_of(61, 3000), true);
  keep(two, idea_of(62, 1500), true);
}

Test(exchange,
     ideas_come_together_in_any_order,
     .init = set_up,
     .fini = tear_down)
{
  const Person ada = make_person("ada");
  const Person bob = make_person("bob");
  const Person cat = make_person("cat");
  const Person dan = make_person("dan");
  keep_some(&ada, &bob);
  export_to(&ada, "ada.jsonl");
  export_to(&bob, "bob.jsonl");
  JournalGain gain = import_from(&cat, "ada.jsonl");
  cr_assert_eq(gain.ideas_added, 2);
  gain = import_from(&cat, "bob.jsonl");
  cr_assert_eq(gain.ideas_added, 1);
  cr_assert_eq(gain.records_replaced, 1); // Kept at two times
  gain = import_from(&cat, "ada.jsonl");
  cr_assert_eq(gain.ideas_added + gain.records_replaced, 0);
  (void)import_from(&dan, "bob.jsonl");
  (void)import_from(&dan, "ada.jsonl");
  (void)import_from(&dan, "bob.jsonl");

  const Person* const both[] = {&cat, &dan};
  for (unsigned i = 0; i < 2; ++i) {
    Journal* const journal = practice_open(both[i]->journal);
    JournalIdeas   ideas;
    Fault          fault;
    cr_assert_eq(journal_ideas(journal, &ideas, &fault), STATUS_OK);
    cr_assert_eq(ideas.n_ideas, 3);
    cr_assert_eq(ideas.ideas[0].kept_ms, 1000);
    cr_assert_eq(ideas.ideas[1].kept_ms, 1500);
    cr_assert_eq(ideas.ideas[2].kept_ms, 3000);
    cr_assert_str_eq(ideas.ideas[2].notes, "0:480:61 480:480:64");
    journal_ideas_free(&ideas);
    journal_close(journal);
  }
}

// What an export brings of one idea; empty if it is in no notebook
static JournalIdea
find_idea(const Person* const person, const char* const notes)
{
  Journal* const journal = practice_open(person->journal);
  JournalIdeas   ideas;
  JournalIdea    found = {.kept_ms = 0};
  Fault          fault;
  cr_assert_eq(journal_ideas(journal, &ideas, &fault), STATUS_OK);
  for (size_t i = 0; i < ideas.n_ideas; ++i) {
    if (strcmp(ideas.ideas[i].notes, notes) == 0) {
      found = ideas.ideas[i];
    }
  }
  journal_ideas_free(&ideas);
  journal_close(journal);
  return found;
}

static void
rename_to(const Person* const person,
          const JournalId     id,
          const char* const   name,
          const int64_t       now_ms)
{
  Journal* const journal = practice_open(person->journal);
  Fault          fault;
  cr_assert_eq(journal_rename_idea(journal, id, name, now_ms, &fault),
               STATUS_OK);
  journal_close(journal);
}

static Status
take_out(const Person* const person, const JournalId id, const int64_t now_ms)
{
  Journal* const journal = practice_open(person->journal);
  Fault          fault;
  const Status   status = journal_remove_idea(journal, id, now_ms, &fault);
  journal_close(journal);
  return status;
}

Test(exchange, the_last_name_wins, .init = set_up, .fini = tear_down)
{
  const Person      ada   = make_person("ada");
  const Person      bob   = make_person("bob");
  const char* const notes = "0:480:61 480:480:64";
  keep(&ada, idea_of(61, 1000), true);
  keep(&bob, idea_of(61, 1000), true);
  const JournalId id = find_idea(&ada, notes).id;
  rename_to(&ada, id, "Early", 2000);
  rename_to(&bob, id, "Late", 3000);
  export_to(&ada, "ada.jsonl");
  export_to(&bob, "bob.jsonl");
  (void)import_from(&ada, "bob.jsonl");
  (void)import_from(&bob, "ada.jsonl");
  cr_assert_str_eq(find_idea(&ada, notes).name, "Late");
  cr_assert_str_eq(find_idea(&bob, notes).name, "Late");
  // A clock that was set back does not undo what its owner does now
  rename_to(&ada, id, "", 10);
  cr_assert_str_eq(find_idea(&ada, notes).name, "");
  cr_assert_eq(find_idea(&ada, notes).changed_ms, 3001);
}

Test(exchange, what_was_taken_out_stays_out, .init = set_up, .fini = tear_down)
{
  const Person      ada   = make_person("ada");
  const Person      bob   = make_person("bob");
  const char* const notes = "0:480:61 480:480:64";
  keep(&ada, idea_of(61, 1000), true);
  keep(&ada, idea_of(62, 1100), true);
  export_to(&ada, "before.jsonl");
  const JournalId id = find_idea(&ada, notes).id;
  cr_assert_eq(take_out(&ada, id, 2000), STATUS_OK);
  cr_assert_eq(take_out(&ada, id, 2500), STATUS_MISSING);
  (void)import_from(&ada, "before.jsonl");
  cr_assert_eq(find_idea(&ada, notes).kept_ms, 0);

  // Nothing of it leaves this machine, but it goes wherever the export comes
  export_to(&ada, "after.jsonl");
  char* const bytes = load("after.jsonl");
  cr_assert_null(strstr(bytes, notes));
  free(bytes);
  (void)import_from(&bob, "before.jsonl");
  cr_assert_eq(find_idea(&bob, notes).kept_ms, 1000);
  const JournalGain gain = import_from(&bob, "after.jsonl");
  cr_assert_eq(gain.ideas_added, 0);
  cr_assert_eq(find_idea(&bob, notes).kept_ms, 0);

  // Whoever keeps it again means it
  keep(&bob, idea_of(61, 1500), true);
  (void)import_from(&bob, "after.jsonl");
  cr_assert_eq(find_idea(&bob, notes).kept_ms, 1500);
}

Test(exchange, an_export_with_ideas_is_whole, .init = set_up, .fini = tear_down)
{
  const Person ada = make_person("ada");
  const Person bob = make_person("bob");
  keep_some(&ada, &bob);
  export_to(&ada, "ada.jsonl");
  char* const bytes = load("ada.jsonl");
  size_t      size  = strlen(bytes);
  Fault       fault;
  cr_assert_not_null(strstr(bytes, "\"idea_columns\":["));
  cr_assert_eq(look_at(bytes, size, &fault), STATUS_OK);
  // The ID is that of the notes
  char* const notes = strstr(bytes, "0:480:61");
  notes[7]          = '3';
  cr_assert_eq(look_at(bytes, size, &fault), STATUS_SYNTAX);
  cr_assert_not_null(strstr(fault.text, "not that of its notes"));
  notes[7] = '1';
  for (--size; size > 1;) {
    --size;
    cr_assert_eq(look_at(bytes, size, &fault), STATUS_SYNTAX, "%zu", size);
  }
  free(bytes);
}
