// The listener on real playing: each figure beside a plain rule that needs no
// listener, computed on the same notes. Turns are of four bars.
//
// The plain rules are the best of their kind over 431 annotated solos: a note
// later than .90 of a beat belongs to the next; a note is on the beat below .20
// or from .92 of one; a phrase begins after a rest of .35 s; the melody is the
// highest of the notes within 50 ms.

#include "takes.h"

#include "responder/hear/hear.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { BARS_PER_TURN = 4 };

static Take       take;
static TakesHands hands;
static HearWork   work;
static Phrase     phrase;
static Ladder     ladder;
static Note       played[TAKES_NOTE_CAPACITY];

static void
need_takes(void)
{
  if (!takes_folder()) {
    cr_skip_test("BARTER_TAKES is not set: it names the folder of takes");
  }
}

/// Right ones of both, in counts.
typedef struct {
  unsigned n;
  unsigned ours;
  unsigned plain;
} Score;

/// Shares of files, to take means of.
typedef struct {
  double ours;
  double plain;
  double n;
} Means;

static void
means_add(Means* const means, const double ours, const double plain)
{
  means->ours += ours;
  means->plain += plain;
  means->n += 1;
}

static void
means_add_score(Means* const means, const Score* const score)
{
  means_add(
    means, (double)score->ours / score->n, (double)score->plain / score->n);
}

/// What is reached is a thousandth more, so that whatever moves a number of the
/// ear away from its best is seen.
static const struct {
  const char* what;
  double      least;
} reached[] = {
  {"two hands: melody, F1", 0.837},
  {"solos: phrase boundary, F1", 0.9027},
  {"solos, strangers: right beat", 0.9848},
  {"solos, strangers: on or off the beat", 0.9513},
  {"solos, known: right beat", 0.9853},
  {"solos, known: on or off the beat", 0.9527},
  {"solos: swing ratio, minus the error of its logarithm", -0.074},
  {"solos: target at the end of a phrase", 0.749},
  {"calls of four bars: right beat, all notes", 0.9853},
  {"calls of four bars: on or off the beat", 0.9601},
};

/// Print, and fail if ours is not the better one, or less than was reached.
static void
means_check(const Means* const means, const char* const what)
{
  const double ours  = means->ours / means->n;
  const double plain = means->plain / means->n;
  // Not by Criterion's log: a warning there fails the program
  fprintf(stderr,
          "%s: %.4f, plain rule %.4f (%.0f files)\n",
          what,
          ours,
          plain,
          means->n);
  cr_assert_gt(ours, plain, "%s: %.4f, not above %.4f", what, ours, plain);
  for (unsigned i = 0; i < sizeof(reached) / sizeof(*reached); ++i) {
    if (strcmp(what, reached[i].what) == 0) {
      cr_assert_gt(ours, reached[i].least, "%s: %.4f", what, ours);
    }
  }
}

/// What is known of the player; NULL for a stranger.
static Acquaintance* known;

/// Hear a turn of a take: the notes from index `first` to before `end`.
static void
hear_turn(const unsigned first, const unsigned end, const Tick start)
{
  for (unsigned i = first; i < end; ++i) {
    played[i - first] = take.notes[i].note;
  }
  Ear ear          = ear_usual(&take.chart, &ladder, take.tempo_bpm);
  ear.acquaintance = known;
  hear_phrase(&phrase,
              &work,
              &ear,
              played,
              end - first,
              start,
              start + BARS_PER_TURN * 3840);
  if (known) {
    hear_learn(known, &ear, &phrase);
  }
}

/// Return the heard note that was played as one of the take's; NULL if it is
/// not in the melody.
static const HeardNote*
heard_of(const TakesNote* const note)
{
  for (unsigned i = 0; i < phrase.n_notes; ++i) {
    if (phrase.notes[i].note.tick == note->note.tick &&
        phrase.notes[i].note.pitch == note->note.pitch) {
      return &phrase.notes[i];
    }
  }
  return NULL;
}

static Tick
line_before(const Tick tick)
{
  return tick - ((tick % 960) + 960) % 960;
}

static void
score_places(const unsigned first,
             const unsigned end,
             Score* const   beats,
             Score* const   on)
{
  for (unsigned i = first; i < end; ++i) {
    const TakesNote* const note  = &take.notes[i];
    const HeardNote* const heard = heard_of(note);
    const Tick             line  = line_before(note->note.tick);
    const double           share = (double)(note->note.tick - line) / 960;
    ++beats->n;
    ++on->n;
    beats->plain += (share >= 0.90 ? line + 960 : line) == note->beat_tick;
    on->plain += (share < 0.20 || share >= 0.92) == note->is_on_beat;
    if (heard) {
      const Tick place = line_before(heard->grid_tick);
      beats->ours += place == note->beat_tick;
      on->ours += (place == heard->grid_tick) == note->is_on_beat;
    }
  }
}

/// Counts of an F1: found rightly, found wrongly, missed.
typedef struct {
  unsigned right;
  unsigned wrong;
  unsigned missed;
} Found;

static void
found_add(Found* const found, const bool is_found, const bool is_true)
{
  found->right += is_found && is_true;
  found->wrong += is_found && !is_true;
  found->missed += !is_found && is_true;
}

static double
found_f1(const Found* const found)
{
  const double right = 2.0 * found->right;
  return right > 0 ? right / (right + found->wrong + found->missed) : 0;
}

static void
score_phrases(const unsigned first,
              const unsigned end,
              Found* const   ours,
              Found* const   plain)
{
  for (unsigned i = first + 1; i < end; ++i) {
    const TakesNote* const before = &take.notes[i - 1];
    const TakesNote* const note   = &take.notes[i];
    const HeardNote* const heard  = heard_of(note);
    const Tick rest = note->note.tick - before->note.tick - before->note.length;
    const double rest_s = (double)rest / 960 * 60 / take.tempo_bpm;
    const bool   begins = note->phrase != before->phrase;
    found_add(ours, heard && heard->begins_phrase, begins);
    found_add(plain, rest_s >= 0.35, begins);
  }
}

/// Go through a take in turns.
#define FOR_EACH_TURN(first, end, start)                                       \
  for (unsigned first = 0, end = 0; first < take.n_notes; first = end)         \
    for (Tick start = line_before_turn(take.notes[first].note.tick), once = 1; \
         once && (end = turn_end(first, start), 1);                            \
         once = 0)

static Tick
line_before_turn(const Tick tick)
{
  const Tick turn = BARS_PER_TURN * 3840;
  return tick - ((tick % turn) + turn) % turn;
}

static unsigned
turn_end(const unsigned first, const Tick start)
{
  unsigned end = first;
  while (end < take.n_notes &&
         take.notes[end].note.tick < start + BARS_PER_TURN * 3840) {
    ++end;
  }
  return end;
}

/// Place the notes of a solo, turn by turn, by a stranger's or by one who
/// becomes known.
static void
place_solo(const bool is_known, Score* const beats, Score* const on)
{
  Acquaintance player = {.n_turns = 0};
  known               = is_known ? &player : NULL;
  FOR_EACH_TURN(first, end, start)
  {
    hear_turn(first, end, start);
    score_places(first, end, beats, on);
  }
  known = NULL;
}

/// Place all solos and check the figures, those of some besides.
static void
check_solos(const char* const what,
            const bool        is_known,
            const char* const which,
            bool (*const is_such)(unsigned solo))
{
  Means beats      = {0, 0, 0};
  Means on         = {0, 0, 0};
  Means such_beats = {0, 0, 0};
  Means such_on    = {0, 0, 0};
  for (unsigned s = 1; s <= N_SOLOS; ++s) {
    cr_assert(takes_solo(&take, s));
    Score in_beat = {0, 0, 0};
    Score on_beat = {0, 0, 0};
    place_solo(is_known, &in_beat, &on_beat);
    means_add_score(&beats, &in_beat);
    means_add_score(&on, &on_beat);
    if (is_such(s)) {
      means_add_score(&such_beats, &in_beat);
      means_add_score(&such_on, &on_beat);
    }
  }
  char text[96];
  (void)snprintf(text, sizeof(text), "solos, %s: right beat", what);
  means_check(&beats, text);
  (void)snprintf(text, sizeof(text), "solos, %s: on or off the beat", what);
  means_check(&on, text);
  (void)snprintf(text, sizeof(text), "%s: right beat", which);
  means_check(&such_beats, text);
  (void)snprintf(text, sizeof(text), "%s: on or off the beat", which);
  means_check(&such_on, text);
}

static bool
is_unseen(const unsigned solo)
{
  return solo % 2 == 0;
}

static bool
is_fast(const unsigned solo)
{
  (void)solo;
  return take.tempo_bpm > 200;
}

Test(takes, solos_of_strangers_are_placed)
{
  need_takes();
  check_solos("strangers", false, "  of them not tuned on", is_unseen);
}

Test(takes, solos_of_known_players_are_placed)
{
  need_takes();
  check_solos("known", true, "  of them above 200 bpm", is_fast);
}

Test(takes, calls_are_placed)
{
  need_takes();
  Score beats = {0, 0, 0};
  Score on    = {0, 0, 0};
  for (unsigned c = 0; c < takes_calls(); ++c) {
    cr_assert(takes_call(&take, c));
    hear_turn(0, take.n_notes, 0);
    score_places(0, take.n_notes, &beats, &on);
  }
  Means beat_means = {0, 0, 0};
  Means on_means   = {0, 0, 0};
  means_add_score(&beat_means, &beats);
  means_add_score(&on_means, &on);
  means_check(&beat_means, "calls of four bars: right beat, all notes");
  means_check(&on_means, "calls of four bars: on or off the beat");
}

Test(takes, phrases_are_found)
{
  need_takes();
  Means means  = {0, 0, 0};
  Means unseen = {0, 0, 0}; // Weights were tuned on the odd ones
  for (unsigned s = 1; s <= N_SOLOS; ++s) {
    cr_assert(takes_solo(&take, s));
    Found ours  = {0, 0, 0};
    Found plain = {0, 0, 0};
    FOR_EACH_TURN(first, end, start)
    {
      hear_turn(first, end, start);
      score_phrases(first, end, &ours, &plain);
    }
    means_add(&means, found_f1(&ours), found_f1(&plain));
    if (is_unseen(s)) {
      means_add(&unseen, found_f1(&ours), found_f1(&plain));
    }
  }
  means_check(&means, "solos: phrase boundary, F1");
  means_check(&unseen, "  of them not tuned on");
}

/// What the phrases were aimed at, as annotated, is their last note. Of a turn
/// with several phrases one target is found; the plain rule is its longest
/// note.
Test(takes, targets_end_phrases)
{
  need_takes();
  Score score = {0, 0, 0};
  for (unsigned s = 1; s <= N_SOLOS; ++s) {
    cr_assert(takes_solo(&take, s));
    FOR_EACH_TURN(first, end, start)
    {
      hear_turn(first, end, start);
      unsigned longest = first;
      for (unsigned i = first; i < end; ++i) {
        const bool is_longer =
          take.notes[i].note.length > take.notes[longest].note.length;
        longest = is_longer ? i : longest;
      }
      const Tick target = phrase.target == PHRASE_NO_TARGET
                            ? INT64_MIN
                            : phrase.notes[phrase.target].note.tick;
      ++score.n;
      for (unsigned t = 0; t < take.n_targets; ++t) {
        score.ours += take.targets[t] == target;
        score.plain += take.targets[t] == take.notes[longest].note.tick;
      }
    }
  }
  Means means = {0, 0, 0};
  means_add_score(&means, &score);
  means_check(&means, "solos: target at the end of a phrase");
}

static int
compare(const void* const a, const void* const b)
{
  const double x = *(const double*)a;
  const double y = *(const double*)b;
  return (x > y) - (x < y);
}

/// The median of the turns' swing ratios beside that of the annotated solo; the
/// plain rule is the ratio that all solos have in the middle.
Test(takes, swing_is_measured)
{
  need_takes();
  Means means = {0, 0, 0};
  for (unsigned s = 1; s <= N_SOLOS; ++s) {
    cr_assert(takes_solo(&take, s));
    double   ratios[TAKES_NOTE_CAPACITY];
    unsigned n = 0;
    FOR_EACH_TURN(first, end, start)
    {
      hear_turn(first, end, start);
      if (phrase.measures.swing_ratio > 0) {
        ratios[n++] = (double)phrase.measures.swing_ratio;
      }
    }
    qsort(ratios, n, sizeof(*ratios), compare);
    if (n > 3 && take.swing_ratio > 0) {
      const double truth = log(take.swing_ratio);
      means_add(
        &means, -fabs(log(ratios[n / 2]) - truth), -fabs(log(1.3) - truth));
    }
  }
  means_check(&means, "solos: swing ratio, minus the error of its logarithm");
}

/// The melody as the highest of every group of notes within 50 ms.
static void
score_plain_melody(Found* const found)
{
  unsigned first = 0;
  while (first < hands.n_notes) {
    unsigned end = first;
    unsigned top = first;
    while (end < hands.n_notes &&
           (double)(hands.notes[end].tick - hands.notes[first].tick) *
               hands.ms_per_tick <=
             50) {
      top = hands.notes[end].pitch > hands.notes[top].pitch ? end : top;
      ++end;
    }
    found->right += hands.is_melody[top];
    found->wrong += !hands.is_melody[top];
    first = end;
  }
  found->missed = hands.n_melody - found->right;
}

/// Find the note of the hands that was heard; they are sorted by time.
static bool
was_melody(const Note* const note)
{
  for (unsigned i = 0; i < hands.n_notes; ++i) {
    if (hands.notes[i].tick == note->tick &&
        hands.notes[i].pitch == note->pitch) {
      return hands.is_melody[i];
    }
  }
  return false;
}

/// A chart without chords, for takes whose chords do not matter.
static void
begin_plain_chart(void)
{
  chart_begin(&take.chart, "no chords", (Meter){4, 4}, (Key){{0, 0}, false});
  char         fault[CHART_FAULT_CAPACITY];
  const Status status = chart_add_bar(&take.chart, "N.C.", fault);
  cr_assert_eq(status, STATUS_OK);
}

static void
score_our_melody(Found* const found)
{
  enum { NOTES_PER_TURN = 200 };
  const double bpm = 60000 / (hands.ms_per_tick * 960);
  begin_plain_chart();
  const Ear ear = ear_usual(&take.chart, &ladder, bpm);
  for (unsigned i = 0; i < hands.n_notes; i += NOTES_PER_TURN) {
    const unsigned left = hands.n_notes - i;
    const unsigned n    = left < NOTES_PER_TURN ? left : NOTES_PER_TURN;
    const Tick     start =
      line_before(hands.notes[i].tick); // Turns of so many notes, not bars
    const Tick end = hands.notes[i + n - 1].tick + 38400;
    hear_phrase(&phrase, &work, &ear, &hands.notes[i], n, start, end);
    for (unsigned h = 0; h < phrase.n_notes; ++h) {
      const bool is_right = was_melody(&phrase.notes[h].note);
      found->right += is_right;
      found->wrong += !is_right;
    }
  }
  found->missed = hands.n_melody - found->right;
}

Test(takes, melody_is_told_from_chords)
{
  need_takes();
  Means means = {0, 0, 0};
  for (unsigned h = 1; h <= N_HANDS; ++h) {
    cr_assert(takes_hands(&hands, h));
    Found ours  = {0, 0, 0};
    Found plain = {0, 0, 0};
    score_our_melody(&ours);
    score_plain_melody(&plain);
    means_add(&means, found_f1(&ours), found_f1(&plain));
  }
  means_check(&means, "two hands: melody, F1");
}

/// Every note of a turn is counted once, and no two of the melody share a
/// place.
static void
check_turn(const unsigned first, const unsigned end, const Tick start)
{
  const double bpm = 60000 / (hands.ms_per_tick * 960);
  const Ear    ear = ear_usual(&take.chart, &ladder, bpm);
  hear_phrase(&phrase,
              &work,
              &ear,
              &hands.notes[first],
              end - first,
              start,
              start + BARS_PER_TURN * 3840);
  cr_assert_eq(phrase.n_notes + phrase.n_comping + phrase.n_dropped,
               end - first);
  cr_assert_eq(phrase.n_dropped, 0);
  for (unsigned i = 1; i < phrase.n_notes; ++i) {
    const HeardNote* const note = &phrase.notes[i];
    cr_assert(note[-1].is_ornament || note->grid_tick > note[-1].grid_tick);
  }
  const Measures* const m = &phrase.measures;
  cr_assert(m->space >= 0 && m->space <= 1);
  cr_assert(m->complexity >= 0 && m->complexity <= 100);
  cr_assert(isfinite(m->offset_ms) && isfinite(m->spread_ms));
}

static void
check_all(const char* const folder, const char letter, const unsigned n_files)
{
  begin_plain_chart();
  for (unsigned f = 1; f <= n_files; ++f) {
    char name[32];
    snprintf(name, sizeof(name), "%s/%c%02u.mid", folder, letter, f);
    cr_assert(takes_notes(&hands, name), "%s", name);
    unsigned first = 0;
    while (first < hands.n_notes) {
      const Tick start = line_before_turn(hands.notes[first].tick);
      unsigned   end   = first;
      while (end < hands.n_notes &&
             hands.notes[end].tick < start + BARS_PER_TURN * 3840) {
        ++end;
      }
      check_turn(first, end, start);
      first = end;
    }
  }
}

Test(takes, dense_rolls_are_heard_whole)
{
  need_takes();
  check_all("rolls", 'r', 14);
}

Test(takes, songs_are_heard_whole)
{
  need_takes();
  check_all("pop", 'p', 12);
}
