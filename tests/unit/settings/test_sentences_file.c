#include "profiles/files/check.h"
#include "profiles/files/sentences_file.h"
#include "support/wordings.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define SHIPPED BARTER_SOURCE_DIR "/config/sentences.cfg"

static Sentences found;
static Faults    faults;

/// Read word by word, the file says what is built in; emptied before, so that
/// nothing is left from the built-in ones.
Test(sentences_file, shipped_is_built_in)
{
  Settings* settings = NULL;
  memset(&found, 0, sizeof(found));
  cr_assert_eq(settings_open(&settings, SHIPPED, &faults), STATUS_OK);
  cr_assert_eq(sentences_file_read(&found, settings), STATUS_OK);
  settings_close(settings);
  for (unsigned kind = 0; kind < N_SENTENCES; ++kind) {
    const Wordings* const a   = &found.of[kind];
    const Wordings* const b   = &sentences_plain()->of[kind];
    const SentenceRow     row = sentence_row((SentenceKind)kind);
    cr_assert_eq(a->n, b->n, "%s.%s", row.group, row.name);
    cr_assert_geq(a->n, SENTENCE_LEAST, "%s.%s", row.group, row.name);
    for (unsigned i = 0; i < a->n; ++i) {
      cr_assert_str_eq(a->words[i], b->words[i], "%s.%s", row.group, row.name);
      cr_assert(sentence_fits((SentenceKind)kind, b->words[i]));
    }
  }
  cr_assert_eq(check_file(SHIPPED, &faults), STATUS_OK);
}

typedef struct {
  char text[120];
  char says[80]; ///< Empty: nothing is wrong
} FaultRow;

ParameterizedTestParameters(sentences_file, faults)
{
  static FaultRow rows[] = {
    {"praise = { root = [ \"Ah, {note}.\", \"{tone}!\" ]; };", ""},
    {"next = { liked = [ \"Go on.\", \"Play.\" ]; };", ""},
    {"", ""},
    {"praise = { root = [ \"Only one.\" ]; };", "root"},
    {"praise = { root = [ ]; };", "root"},
    {"praise = { root = \"Ah.\"; };", "root"},
    {"praise = { room = [ \"{note}\", \"b\" ]; };", "nothing is"},
    {"advice = { last = [ \"{note}\", \"b\" ]; };", "{tone} is"},
    {"praise = { root = [ \"{name}\", \"b\" ]; };", "{note} and {tone}"},
    {"praise = { root = [ \"a}\", \"b\" ]; };", "{note} and {tone}"},
    {"praise = { root = [ \" \", \"b\" ]; };", "empty"},
    {"praise = { root = [ \"a\", \"b\", \"a\" ]; };", "\"a\" stands twice"},
    {"praise = { root = [ \"a\", \"b\" ]; }; advice = { last = [ \"c\", \"b\" "
     "]; };",
     "\"b\" stands twice"},
    {"praise = { root = [ \"a\", \"{tone} {tone}\" ]; };", ""},
    {"praise = { root = [ \"a\", \"{tone}{tone}{tone}\" ]; };",
     "more than twice"},
    {"praise = { rot = [ \"a\", \"b\" ]; };", "root"},
    {"prase = { root = [ \"a\", \"b\" ]; };", "praise"},
    {"praise = { root = [ 1, 2 ]; };", "root"},
    {"praise = { root = [ \"a\", \"b\" ;", ""},
  };
  return cr_make_param_array(FaultRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(FaultRow* row, sentences_file, faults)
{
  Settings*  settings = NULL;
  const bool is_cut   = strchr(row->text, ']') == NULL && row->text[0];
  Status     status =
    settings_read(&settings, "f.cfg", row->text, strlen(row->text), &faults);
  found = *sentences_plain();
  if (!status) {
    status = sentences_file_read(&found, settings);
    settings_close(settings);
  }
  const bool is_wrong = row->says[0] || is_cut;
  cr_assert_eq(status != STATUS_OK, is_wrong, "%s", row->text);
  cr_assert_eq(faults.n_faults > 0, is_wrong);
  if (row->says[0]) {
    cr_assert_neq(strstr(faults.faults[0].text, row->says),
                  NULL,
                  "%s: %s",
                  row->text,
                  faults.faults[0].text);
    cr_assert_eq(faults.faults[0].line, 1);
  }
}

/// A file at fault says nothing, not even what is right in it.
Test(sentences_file, broken_or_missing_falls_back)
{
  memset(&found, 0, sizeof(found));
  cr_assert_neq(sentences_file_load(&found, "/nowhere/s.cfg", &faults), 0);
  cr_assert_eq(memcmp(&found, sentences_plain(), sizeof(found)), 0);

  char              path[] = "/tmp/sentences-XXXXXX";
  const int         file   = mkstemp(path);
  static const char text[] =
    "praise = { root = [ \"Ah.\", \"Oh.\" ]; };\nadvice = { last = 3; };\n";
  cr_assert_eq(write(file, text, strlen(text)), (ssize_t)strlen(text));
  cr_assert_eq(close(file), 0);
  cr_assert_neq(sentences_file_load(&found, path, &faults), 0);
  cr_assert_eq(memcmp(&found, sentences_plain(), sizeof(found)), 0);
  cr_assert_eq(unlink(path), 0);
}

Test(sentences_file, wordings_go_round)
{
  for (unsigned kind = 0; kind < N_SENTENCES; ++kind) {
    for (unsigned turn = 0; turn < 12; ++turn) {
      cr_assert_str_neq(
        sentence(sentences_plain(), (SentenceKind)kind, turn),
        sentence(sentences_plain(), (SentenceKind)kind, turn + 1));
    }
  }
}

static char drawn_text[65536];

static Status
read_drawn(void)
{
  Settings* settings = NULL;
  Status    status =
    settings_read(&settings, "s.cfg", drawn_text, strlen(drawn_text), &faults);
  found = *sentences_plain();
  if (!status) {
    status = sentences_file_read(&found, settings);
    settings_close(settings);
  }
  return status;
}

// Any sentences that keep to the rules are read, word by word
Test(sentences_file, reads_any_that_is_right)
{
  static Sentences drawn;
  for (unsigned seed = 0; seed < 200; ++seed) {
    Rng rng = rng_seed(seed, 31);
    wordings_draw(&drawn, &rng);
    (void)wordings_text(&drawn, drawn_text, sizeof(drawn_text));
    faults.n_faults = 0;
    cr_assert_eq(read_drawn(), STATUS_OK, "%s", faults.faults[0].text);
    for (unsigned kind = 0; kind < N_SENTENCES; ++kind) {
      cr_assert_eq(found.of[kind].n, drawn.of[kind].n);
      for (unsigned i = 0; i < drawn.of[kind].n; ++i) {
        cr_assert_str_eq(found.of[kind].words[i], drawn.of[kind].words[i]);
      }
    }
  }
}

/// The longest sentence that there is room for is read, one byte more is not;
/// six wordings are, seven are not.
Test(sentences_file, refuses_what_has_no_room)
{
  for (unsigned more = 0; more < 2; ++more) {
    const int bytes = SENTENCE_CAPACITY - 1 + (int)more;
    faults.n_faults = 0;
    (void)snprintf(drawn_text,
                   sizeof(drawn_text),
                   "praise = { root = [ \"b\", \"%0*d\" ]; };",
                   bytes,
                   0);
    cr_assert_eq(read_drawn(), more ? STATUS_SYNTAX : STATUS_OK);
    (void)snprintf(drawn_text,
                   sizeof(drawn_text),
                   "praise = { root = [ \"1\", \"2\", \"3\", \"4\", \"5\", "
                   "\"6\"%s ]; };",
                   more ? ", \"7\"" : "");
    cr_assert_eq(read_drawn(), more ? STATUS_SYNTAX : STATUS_OK);
  }
}
