#include "core/rng.h"
#include "core/settings/chart_file.h"
#include "profiles/files/ladder_file.h"
#include "responder/hear/hear.h"
#include "responder/session/remark.h"
#include "responder/session/summary.h"

#include <criterion/criterion.h>

#include <stdio.h>
#include <string.h>

#define CONFIG BARTER_SOURCE_DIR "/config/"

enum { BAR = 3840 };

static ChartFile chart;
static Ladder    ladder;
static Phrase    phrase;
static Sentences worded;
static HearWork  work;

static void
load(void)
{
  Faults faults = {.n_faults = 0};
  cr_assert_eq(chart_file_load(&chart, CONFIG "charts/blues.cfg", &faults), 0);
  cr_assert_eq(ladder_file_load(&ladder, CONFIG "ladder.cfg", &faults), 0);
}

/// A phrase by chance; one in six has no note.
static void
hear_by_chance(Rng* const rng)
{
  const Ear      ear = ear_usual(&chart.chart, &ladder, 120.0);
  Note           notes[12];
  const unsigned n = rng_below(rng, 6) ? 1 + rng_below(rng, 12) : 0;
  for (unsigned i = 0; i < n; ++i) {
    notes[i] = (Note){i * 600 + rng_below(rng, 120),
                      100 + rng_below(rng, 480),
                      (uint8_t)(60 + rng_below(rng, 20)),
                      80};
  }
  hear_phrase(&phrase, &work, &ear, notes, n, 0, 2 * BAR);
}

/// Nothing is said twice running, however seldom the wordings: two each, the
/// least that a file may have.
Test(remark, nothing_is_said_twice_running, .init = load)
{
  for (unsigned kind = 0; kind < N_SENTENCES; ++kind) {
    Wordings* const wordings = &worded.of[kind];
    wordings->n              = 2;
    (void)snprintf(wordings->words[0], SENTENCE_CAPACITY, "One %u.", kind);
    (void)snprintf(wordings->words[1], SENTENCE_CAPACITY, "Two %u.", kind);
  }
  for (unsigned seed = 0; seed < 20; ++seed) {
    Rng      rng                   = rng_seed(seed, 5);
    Remarks  remarks               = {0};
    unsigned silent                = 0;
    char     last[REMARK_CAPACITY] = "";
    for (unsigned turn = 0; turn < 100; ++turn) {
      char text[REMARK_CAPACITY];
      hear_by_chance(&rng);
      silent = phrase.n_notes ? 0 : silent + 1;
      remark_turn(&remarks, &worded, &chart.chart, &phrase, silent, 1, text);
      cr_assert_str_neq(text, "");
      cr_assert_str_neq(text, last, "turn %u", turn);
      (void)snprintf(last, sizeof(last), "%s", text);
    }
  }
}

/// Words of a teacher's go round the note; long ones keep the line whole.
Test(remark, fills_what_is_in_braces, .init = load)
{
  const Ear  ear  = ear_usual(&chart.chart, &ladder, 120.0);
  const Note note = {0, 960, 64, 80};
  char       text[REMARK_CAPACITY];
  worded = *sentences_plain();
  (void)snprintf(worded.of[SENTENCE_PRAISE_TONE].words[0],
                 SENTENCE_CAPACITY,
                 "Ah: {note}, {tone}, {note}!");
  hear_phrase(&phrase, &work, &ear, &note, 1, 0, 2 * BAR);
  remark_turn(&(Remarks){0}, &worded, &chart.chart, &phrase, 0, 1, text);
  cr_assert_str_eq(text, "Ah: E, the third of C7, E!");

  // No room for the whole of it
  char* const words = worded.of[SENTENCE_PRAISE_TONE].words[0];
  memset(words, 'a', SENTENCE_CAPACITY - 1);
  for (unsigned i = 0; i < 72; i += 6) {
    memcpy(words + i, "{tone}", 6);
  }
  words[SENTENCE_CAPACITY - 1] = '\0';
  remark_turn(&(Remarks){0}, &worded, &chart.chart, &phrase, 0, 1, text);
  cr_assert_lt(strlen(text), REMARK_CAPACITY);
}

Test(remark, summary_is_worded_as_the_teacher_has_it, .init = load)
{
  Summary summary = {.sentences = &worded};
  worded          = *sentences_plain();
  (void)snprintf(worded.of[SENTENCE_NEXT_ONE_NOTE].words[0],
                 SENTENCE_CAPACITY,
                 "One note, Ada.");
  cr_assert_str_eq(summary_words(&summary).next_time, "One note, Ada.");
  summary.sentences = NULL;
  cr_assert_str_eq(summary_words(&summary).next_time,
                   "Begin with one note, the root, anywhere in the bar.");
}

/// A pick-up to the next phrase is not where this one went.
Test(remark, names_the_note_aimed_at, .init = load)
{
  const Ear  ear     = ear_usual(&chart.chart, &ladder, 120.0);
  const Note notes[] = {{0, 460, 67, 80},
                        {480, 460, 62, 80},
                        {960, 1800, 60, 90},
                        {6240, 200, 67, 60}};
  char       text[REMARK_CAPACITY];
  worded = *sentences_plain();
  (void)snprintf(
    worded.of[SENTENCE_PRAISE_ROOT].words[0], SENTENCE_CAPACITY, "To {note}.");
  hear_phrase(&phrase, &work, &ear, notes, 4, 0, 2 * BAR);
  cr_assert_eq(phrase.notes[phrase.target].note.pitch, 60);
  remark_turn(&(Remarks){0}, &worded, &chart.chart, &phrase, 0, 1, text);
  cr_assert_eq(strncmp(text, "To C.", 5), 0, "%s", text);
}
