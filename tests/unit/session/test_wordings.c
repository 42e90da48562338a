// What is said holds to the sentences of the teacher, whatever they are: every
// line is made of wordings of the file and of nothing else, and none is said
// twice running.

#include "core/settings/chart_file.h"
#include "profiles/files/ladder_file.h"
#include "responder/hear/hear.h"
#include "responder/session/remark.h"
#include "responder/session/summary.h"
#include "support/wordings.h"

#include <criterion/criterion.h>

#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define CONFIG BARTER_SOURCE_DIR "/config/"

enum { BAR = 3840, FILES = 200, TURNS = 30, MOST_FILLED = 48 };

static ChartFile chart;
static Ladder    ladder;
static Phrase    phrase;
static Phrase    echoed;
static Sentences drawn;
static HearWork  work;

static void
load(void)
{
  Faults faults = {.n_faults = 0};
  cr_assert_eq(chart_file_load(&chart, CONFIG "charts/blues.cfg", &faults), 0);
  cr_assert_eq(ladder_file_load(&ladder, CONFIG "ladder.cfg", &faults), 0);
}

/// A phrase by chance, in time or not; one in six has no note.
static void
hear_by_chance(Phrase* const heard, Rng* const rng)
{
  const Ear      ear  = ear_usual(&chart.chart, &ladder, 120.0);
  const unsigned late = 1 + rng_below(rng, 200);
  Note           notes[12];
  const unsigned n = rng_below(rng, 6) ? 1 + rng_below(rng, 12) : 0;
  for (unsigned i = 0; i < n; ++i) {
    notes[i] = (Note){i * 600 + rng_below(rng, late),
                      100 + rng_below(rng, 480),
                      (uint8_t)(60 + rng_below(rng, 20)),
                      80};
  }
  hear_phrase(heard, &work, &ear, notes, n, 0, 2 * BAR);
}

/// Whether a text is a wording with its braces filled; `n` is its length.
static bool
is_filled(const char* wording, const char* text, const size_t n)
{
  if (!*wording) {
    return n == 0;
  }
  if (*wording != '{') {
    return n > 0 && *wording == *text &&
           is_filled(wording + 1, text + 1, n - 1);
  }
  bool is = false;
  for (size_t word = 1; !is && word <= n && word < MOST_FILLED; ++word) {
    is = is_filled(strchr(wording, '}') + 1, text + word, n - word);
  }
  return is;
}

/// Whether a text is a sentence of the file; the test's begin with the numbers
/// of their kind and wording.
static bool
is_of_file(const char* const text, const size_t n)
{
  char*               dot    = NULL;
  const unsigned long kind   = strtoul(text, &dot, 10);
  const unsigned long number = *dot == '.' ? strtoul(dot + 1, NULL, 10) : 99;
  return kind < N_SENTENCES && number < drawn.of[kind].n &&
         is_filled(drawn.of[kind].words[number], text, n);
}

/// Whether a line is one sentence, or a praise and an advice.
static bool
is_said_of_file(const char* const line)
{
  const size_t n  = strlen(line);
  bool         is = is_of_file(line, n);
  for (size_t at = 1; !is && at + 1 < n; ++at) {
    is = line[at] == ' ' && isdigit((unsigned char)line[at + 1]) &&
         is_of_file(line, at) && is_of_file(line + at + 1, n - at - 1);
  }
  return is;
}

static void
hold_remarks(const unsigned seed, Rng* const rng)
{
  Remarks  remarks               = {0};
  unsigned silent                = 0;
  char     last[REMARK_CAPACITY] = "";
  for (unsigned turn = 0; turn < TURNS; ++turn) {
    char text[REMARK_CAPACITY];
    hear_by_chance(&phrase, rng);
    silent = phrase.n_notes ? 0 : silent + 1;
    if (rng_below(rng, 5) == 0) {
      hear_by_chance(&echoed, rng);
      remark_echo(&remarks, &drawn, &phrase, &echoed, text);
    } else {
      const RemarkView view = {
        .chart        = &chart.chart,
        .phrase       = &phrase,
        .silent_turns = silent,
        .times_said   = 1 + rng_below(rng, 5),
      };
      remark_turn(&remarks, &drawn, &view, text);
    }
    cr_assert(is_said_of_file(text), "file %u: %s", seed, text);
    cr_assert_str_neq(text, last, "file %u", seed);
    memcpy(last, text, sizeof(last));
  }
}

static void
hold_summary(const unsigned seed, Rng* const rng)
{
  const Summary summary = {
    .n_turns   = rng_below(rng, 8),
    .n_notes   = rng_below(rng, 40),
    .n_outside = rng_below(rng, 3),
    .n_left    = rng_below(rng, 2),
    .space     = rng_unit(rng),
    .spread_ms = 200.0 * rng_unit(rng),
    .practised = seed,
    .sentences = &drawn,
  };
  const SummaryWords words = summary_words(&summary);
  for (unsigned i = 0; i < 2; ++i) {
    const size_t n = strlen(words.worked[i]);
    cr_assert(n == 0 || is_of_file(words.worked[i], n), "file %u", seed);
  }
  cr_assert(is_of_file(words.next_time, strlen(words.next_time)));
  cr_assert(summary.n_turns == summary.n_silent ||
            is_of_file(words.work_on, strlen(words.work_on)));
}

Test(wordings, every_line_is_of_the_file, .init = load)
{
  for (unsigned seed = 0; seed < FILES; ++seed) {
    Rng rng = rng_seed(seed, 31);
    wordings_draw(&drawn, &rng);
    hold_remarks(seed, &rng);
    hold_summary(seed, &rng);
  }
}

/// What to try is not said in two turns running, in whatever words.
Test(wordings, advice_is_left_to_work, .init = load)
{
  Rng     rng     = rng_seed(1, 31);
  Remarks remarks = {0};
  char    late[16];
  wordings_draw(&drawn, &rng);
  (void)snprintf(late, sizeof(late), " %u.", SENTENCE_ADVICE_LATE);
  do {
    hear_by_chance(&phrase, &rng);
  } while (phrase.n_notes < 2);
  for (unsigned i = 0; i < phrase.n_notes; ++i) {
    phrase.notes[i].role       = ROLE_ROOT;
    phrase.notes[i].resolution = RESOLUTION_NONE;
  }
  phrase.measures.space     = 0.2F;
  phrase.measures.spread_ms = 35.0F;
  phrase.measures.offset_ms = 200.0F;
  for (unsigned turn = 0; turn < 4; ++turn) {
    char text[REMARK_CAPACITY];
    remark_turn(
      &remarks,
      &drawn,
      &(RemarkView){.chart = &chart.chart, .phrase = &phrase, .times_said = 1},
      text);
    cr_assert_eq(strstr(text, late) != NULL, turn % 2 == 0, "%s", text);
  }
}

// What is said of a turn may be said of the last, or before one that is for
// something else: it promises no turn after it, and orders nothing for that
Test(wordings, promise_nothing_of_a_turn)
{
  static const char* const promises[] = {
    "I will", "let us", "ext time", "nce more", "; now", "Again.", "next,"};
  const Sentences* const plain = sentences_plain();
  for (unsigned kind = SENTENCE_MET_ASK; kind <= SENTENCE_MISSED_FEW_YET;
       ++kind) {
    for (unsigned i = 0; i < sizeof(promises) / sizeof(*promises); ++i) {
      for (unsigned k = 0; k < plain->of[kind].n; ++k) {
        const char* const words = plain->of[kind].words[k];
        cr_assert_null(strstr(words, promises[i]), "%s", words);
      }
      for (unsigned k = 0; k < plain->of[SENTENCE_PRAISE_PLAYED].n; ++k) {
        cr_assert_null(
          strstr(plain->of[SENTENCE_PRAISE_PLAYED].words[k], promises[i]));
      }
    }
  }
}

static void
says_none_of(const SentenceKind kind, const char* const words[2])
{
  const Wordings* const of = &sentences_plain()->of[kind];
  cr_assert_gt(of->n, 1);
  for (unsigned i = 0; i < of->n; ++i) {
    cr_assert_null(strstr(of->words[i], words[0]), "%s", of->words[i]);
    cr_assert_null(strstr(of->words[i], words[1]), "%s", of->words[i]);
  }
}

// Where a part of the ends came off it may be that none was open, or none at
// home; where notes from outside were led, the phrase may have ended elsewhere
Test(wordings, look_back_on_no_more_than_there_was)
{
  says_none_of(SENTENCE_WAY_SOME_QUESTION,
               (const char* const[]){"home", "open"});
  says_none_of(SENTENCE_WORKED_LED, (const char* const[]){"ended", "landed"});
}

// What to try is no report of what was played
Test(wordings, advise_where_a_note_may_go)
{
  says_none_of(SENTENCE_ADVICE_MOVED,
               (const char* const[]){"becomes", "became"});
}
