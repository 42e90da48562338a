// What every answer must have, over charts, calls, rungs and seeds. The rows
// are those of the trade's own rules: land on a chord tone, leave nothing
// outside hanging, rest, keep to the turn, the range and the hand (common
// practice, no source).

#include "fixture.h"

#include "core/music/chord.h"
#include "core/music/scale.h"
#include "core/music/spelling.h"

#include <criterion/criterion.h>

#include <stdlib.h>
#include <string.h>

enum {
  SEEDS       = 3, // One for each length of turn
  SLICES      = 6,
  MANY_SLICES = 200, // All there is to think
  N_LEVELS    = 8,
  FAST_MS     = 250,
  SPACE_MUST  = 15, // Percent
};

static Fixture fixture;

static Rung
rung_of(const unsigned level)
{
  return (Rung){{(uint8_t)level,
                 (uint8_t)(level < 7 ? level : 7),
                 (uint8_t)(level < 6 ? level : 6),
                 (uint8_t)(level < 4 ? level : 4)}};
}

typedef void (*Check)(const Answer*, const SayRequest*);

/// Answer once for every chart, call, level, length of turn and seed.
static void
for_all(const Check check)
{
  for (unsigned chart = 0; chart < N_FIXTURE_FORMS; ++chart) {
    for (unsigned style = 0; style < N_FIXTURE_CALLS; ++style) {
      for (unsigned level = 1; level <= N_LEVELS; ++level) {
        for (unsigned seed = 0; seed < SEEDS; ++seed) {
          const unsigned bars = 1U << seed % 3; // 1, 2, 4
          fixture_open(&fixture, chart, style, bars, rung_of(level), seed);
          fixture.request.turn_in_chorus = (seed + level) % 4;
          fixture.request.ends_piece     = level % 4 == 3;
          fixture_answer(&fixture, SLICES, rng_seed(seed * 97 + level, style));
          check(&fixture.answer, &fixture.request);
        }
      }
    }
  }
}

static unsigned
last_written(const Answer* const answer)
{
  unsigned last = answer->n_notes - 1;
  while (answer->is_ornament[last]) {
    --last;
  }
  return last;
}

/// Whether a pitch bears weight at a tick; without a chord the scale's tonic
/// does.
static bool
bears(const Chart* const chart, const Tick tick, const unsigned pitch)
{
  const Chord* const chord = chart_chord_at(chart, tick);
  const Scale        scale = chart_scale_at(chart, tick);
  return chord_is_silence(chord)
           ? pitch % 12 == spelling_pitch_class(scale.tonic)
           : chord_has_core_tone(chord, pitch);
}

static void
check_last_note(const Answer* const answer, const SayRequest* const request)
{
  const unsigned     last  = last_written(answer);
  const Chart* const chart = request->ear.chart;
  const Tick         here  = answer->grid_ticks[last];
  const Tick         soon  = here + meter_beat_ticks(chart->meter) / 2;
  const unsigned     pitch = answer->notes[last].pitch;
  cr_assert(request->ends_piece || bears(chart, here, pitch) ||
              bears(chart, soon, pitch),
            "%s ends on %u",
            answer->why,
            pitch);
  cr_assert(!request->ends_piece ||
            (pitch % 12 == spelling_pitch_class(chart->key.tonic) &&
             here == request->end - meter_bar_ticks(chart->meter)));
}

Test(say_musts, last_note_is_root_or_chord_tone)
{
  for_all(check_last_note);
}

static void
check_hanging(const Answer* const answer, const SayRequest* const request)
{
  (void)request;
  for (unsigned i = 0; i < answer->heard.n_notes; ++i) {
    const HeardNote* const note = &answer->heard.notes[i];
    cr_assert(note->is_ornament || note->role != ROLE_OUTSIDE ||
              note->resolution == RESOLUTION_LED);
  }
}

Test(say_musts, nothing_outside_is_left_hanging)
{
  for_all(check_hanging);
}

/// Measured here by itself: what sounds, breaths under an eighth closed.
static void
check_space(const Answer* const answer, const SayRequest* const request)
{
  Tick sounding = 0;
  for (unsigned i = 0; i < answer->n_notes; ++i) {
    const Note note = answer->notes[i];
    const Tick next =
      i + 1 < answer->n_notes ? answer->notes[i + 1].tick : request->end;
    const Tick rest = next - note.tick - note.length;
    sounding += note.length + (rest < TICKS_PER_EIGHTH ? rest : 0);
  }
  const Tick turn = request->end - request->start;
  cr_assert_geq((turn - sounding) * 100, SPACE_MUST * turn, "%s", answer->why);
}

Test(say_musts, there_is_space)
{
  for_all(check_space);
}

static void
check_place(const Answer* const answer, const SayRequest* const request)
{
  Tick until = request->start;
  cr_assert_gt(answer->n_notes, 0);
  for (unsigned i = 0; i < answer->n_notes; ++i) {
    const Note note = answer->notes[i];
    cr_assert_geq(note.tick, until, "one note at a time, none before the turn");
    cr_assert_geq(note.length, 1);
    until = note.tick + note.length;
  }
  cr_assert_leq(until, request->end);
}

Test(say_musts, sounds_within_its_turn_one_note_at_a_time)
{
  for_all(check_place);
}

static void
check_hand(const Answer* const answer, const SayRequest* const request)
{
  const double ms = 60000.0 / (request->ear.tempo_bpm * TICKS_PER_QUARTER);
  for (unsigned i = 0; i < answer->n_notes; ++i) {
    const Note note = answer->notes[i];
    cr_assert_geq(note.pitch, request->lowest);
    cr_assert_leq(note.pitch, request->highest);
    cr_assert_geq(note.velocity, 1);
    cr_assert_leq(note.velocity, 127);
    if (i > 0) {
      const Note   before = answer->notes[i - 1];
      const double gap    = ms * (double)(note.tick - before.tick);
      const int    step   = abs(note.pitch - before.pitch);
      cr_assert(gap > FAST_MS || step <= (int)request->hand_span);
    }
  }
}

Test(say_musts, keeps_to_the_range_and_the_hand)
{
  for_all(check_hand);
}

Test(say_musts, a_small_hand_and_a_small_range_are_kept)
{
  for (unsigned seed = 0; seed < 200; ++seed) {
    fixture_open(
      &fixture, seed % 4, seed % N_FIXTURE_CALLS, 2, rung_of(8), seed);
    fixture.request.hand_span = 5;
    fixture.request.lowest    = 60;
    fixture.request.highest   = 72;
    fixture_answer(&fixture, SLICES, rng_seed(seed, 3));
    check_hand(&fixture.answer, &fixture.request);
    check_last_note(&fixture.answer, &fixture.request);
  }
}

static void
check_words(const Answer* const answer, const SayRequest* const request)
{
  (void)request;
  const size_t length = strlen(answer->why);
  cr_assert(length > 10 && length < ANSWER_WHY_CAPACITY - 1);
  cr_assert(answer->why[0] >= 'A' && answer->why[0] <= 'Z');
  cr_assert_eq(answer->why[length - 1], '.', "%s", answer->why);
}

Test(say_musts, says_why_in_one_sentence)
{
  for_all(check_words);
}

/// The largest ornament that the listener takes for one is 80 ms, a third of
/// what follows and, or it is a sixteenth, .55 of what comes before.
static void
check_ornaments(const Answer* const answer, const SayRequest* const request)
{
  const double ms = 60000.0 / (request->ear.tempo_bpm * TICKS_PER_QUARTER);
  for (unsigned i = 0; i + 1 < answer->n_notes; ++i) {
    if (!answer->is_ornament[i]) {
      continue;
    }
    unsigned main = i + 1;
    while (answer->is_ornament[main]) {
      ++main;
    }
    cr_assert_eq(answer->grid_ticks[i], answer->grid_ticks[main]);
    const Tick gap = answer->notes[i + 1].tick - answer->notes[i].tick;
    cr_assert_leq(ms * (double)gap, 80.0);
    const Tick ends = main + 1 < answer->n_notes
                        ? answer->notes[main + 1].tick
                        : answer->notes[main].tick + answer->notes[main].length;
    cr_assert_leq(3 * gap, ends - answer->notes[main].tick);
    cr_assert_leq(abs(answer->notes[i].pitch - answer->notes[main].pitch), 2);
    if (i > 0 && !answer->is_ornament[i - 1] &&
        !fixture.ladder.rhythm[request->rung.level[DIMENSION_RHYTHM] - 1]
           .sixteenths) {
      const Tick before = answer->notes[i].tick - answer->notes[i - 1].tick;
      cr_assert_leq((double)gap, 0.55 * (double)before);
    }
  }
}

Test(say_musts, ornaments_are_short_and_near)
{
  for_all(check_ornaments);
}

/// Stepping aside: silence, fullness, nothing at all to go on.
static void
check_all(const Answer* const answer, const SayRequest* const request)
{
  check_last_note(answer, request);
  check_hanging(answer, request);
  check_space(answer, request);
  check_place(answer, request);
  check_hand(answer, request);
  check_words(answer, request);
}

static void
silence(Fixture* const f)
{
  hear_phrase(&f->call,
              &f->hear_work,
              &f->request.ear,
              NULL,
              0,
              f->call.start_tick,
              f->call.end_tick);
}

Test(say_musts, with_nothing_to_go_on_the_root_opens)
{
  for (unsigned seed = 0; seed < 64; ++seed) {
    fixture_open(
      &fixture, seed % 4, 0, 1U << seed % 3, rung_of(1 + seed % 8), seed);
    silence(&fixture);
    fixture.ideas = (Ideas){0};
    fixture_answer(&fixture, SLICES, rng_seed(seed, 3));
    check_all(&fixture.answer, &fixture.request);
    const Chord* const chord =
      chart_chord_at(&fixture.chart, fixture.request.start);
    const unsigned first = fixture.answer.is_ornament[0] ? 1 : 0;
    cr_assert_eq(fixture.answer.grid_ticks[first], fixture.request.start);
    cr_assert(chord_has_root(chord, fixture.answer.notes[first].pitch));
  }
}

/// Silence, answered with the least and with all the time there is; `index`
/// tells one case from all others.
static void
answer_silence(const unsigned index, const Treatment treatment)
{
  const unsigned level = 1 + index % N_LEVELS;
  const unsigned chart = index / N_LEVELS % N_FIXTURE_CHARTS;
  const unsigned bars  = 2U << index / 3 % 2; // 2, 4
  fixture_open(
    &fixture, chart, index % N_FIXTURE_CALLS, bars, rung_of(level), index);
  silence(&fixture);
  fixture.request.treatment = treatment;
  fixture_answer(
    &fixture, index % 2 ? SLICES : MANY_SLICES, rng_seed(index, 3));
  check_all(&fixture.answer, &fixture.request);
}

/// Shorter, and made of the last idea: by half of the turn it has arrived.
Test(say_musts, silence_is_met_with_a_piece_of_the_last_idea)
{
  enum { CASES = 4 * N_LEVELS * N_FIXTURE_CHARTS };
  unsigned n_own  = 0;
  unsigned n_even = 0;
  for (unsigned i = 0; i < CASES; ++i) {
    answer_silence(i, i % 3 ? TREAT_SIMPLER : TREAT_FRAGMENTS);
    const Answer* const     answer  = &fixture.answer;
    const SayRequest* const request = &fixture.request;
    const Tick              half    = (request->end - request->start) / 2;
    const Tick              beat    = meter_beat_ticks(fixture.chart.meter);
    cr_assert_neq(answer->is, ANSWER_PLAIN, "%u: %s", i, answer->why);
    cr_assert_leq(answer->grid_ticks[last_written(answer)],
                  request->start + half + beat,
                  "%u: %s",
                  i,
                  answer->why);
    cr_assert(strstr(answer->why, "with room for you"), "%s", answer->why);
    const bool even = i % N_FIXTURE_CALLS < 3; // As every rung but one has it
    n_even += even;
    n_own += even && answer->is == ANSWER_OWN;
  }
  cr_assert_lt(n_own * 4, n_even, "%u of %u not of the idea", n_own, n_even);
}

/// ... and at the end of a piece the half before its last note is filled, with
/// a pick-up of no more than a beat and a half.
Test(say_musts, silence_at_the_end_is_met_before_the_last_note)
{
  unsigned n_picked_up = 0;
  for (unsigned i = 0; i < 32U * N_FIXTURE_CHARTS; ++i) {
    fixture_open(
      &fixture, i % N_FIXTURE_CHARTS, i % N_FIXTURE_CALLS, 4, rung_of(6), i);
    silence(&fixture);
    SayRequest* const request = &fixture.request;
    const Meter       meter   = fixture.chart.meter;
    const Tick        bar     = meter_bar_ticks(meter);
    const Tick        pick_up = 3 * meter_beat_ticks(meter) / 2;
    const Tick        from    = request->end - 2 * bar;
    request->treatment        = TREAT_SIMPLER;
    request->ends_piece       = true;
    request->earliest         = request->start - pick_up;
    fixture_answer(&fixture, SLICES, rng_seed(i, 3));
    check_all(&fixture.answer, request);
    const Tick first = fixture.answer.grid_ticks[0];
    cr_assert_geq(first, from - pick_up, "%u: %s", i, fixture.answer.why);
    n_picked_up += first < from;
  }
  cr_assert_gt(n_picked_up, 0);
}

/// Of the two that came last the one that has more is taken up: a piece of a
/// piece would soon be nothing.
Test(say_musts, silence_goes_on_with_what_has_more)
{
  for (unsigned seed = 0; seed < 32; ++seed) {
    fixture_open(&fixture, seed % 3, 2, 2, rung_of(5), seed);
    const Idea played  = idea_of(&fixture.call, true);
    const bool shrinks = seed % 2; // Else one with more comes after it
    Idea       said    = {.n_notes = shrinks ? 3 : played.n_notes + 1};
    float      likeness;
    cr_assert_gt(played.n_notes, 3);
    for (unsigned i = 0; i < said.n_notes; ++i) {
      said.ticks[i]   = 480 * (Tick)i;
      said.lengths[i] = 400;
      said.pitches[i] = (uint8_t)(60 + 2 * (i % 4));
    }
    (void)ideas_meet(&fixture.ideas, &said, &likeness);
    silence(&fixture);
    fixture.request.treatment = TREAT_SIMPLER;
    think_begin(&fixture.work, &fixture.request, rng_seed(seed, 3));
    const Idea* const of = &fixture.work.source_idea;
    cr_assert_eq(of->n_notes, shrinks ? played.n_notes : said.n_notes);
  }
}

static double
silent_answers(const Treatment treatment, const bool with_call, double* onsets)
{
  double space = 0.0;
  *onsets      = 0.0;
  for (unsigned seed = 0; seed < 64; ++seed) {
    const unsigned style = with_call ? N_FIXTURE_CALLS - 1 : seed % 5;
    fixture_open(&fixture, seed % 4, style, 2, rung_of(3 + seed % 4), seed);
    if (!with_call) {
      silence(&fixture);
    }
    fixture.request.treatment = treatment;
    fixture_answer(&fixture, SLICES, rng_seed(seed, 3));
    check_all(&fixture.answer, &fixture.request);
    space += (double)fixture.answer.heard.measures.space;
    *onsets += (double)fixture.answer.heard.measures.onsets_per_bar;
  }
  *onsets /= 64;
  return space / 64;
}

Test(say_musts, silence_is_met_with_less)
{
  double       plain  = 0.0;
  double       sparse = 0.0;
  const double usual  = silent_answers(TREAT_ANSWER, true, &plain);
  const double simple = silent_answers(TREAT_SIMPLER, false, &sparse);
  cr_assert_gt(simple, usual);
  cr_assert_lt(sparse, plain);
  double       few    = 0.0;
  const double pieces = silent_answers(TREAT_FRAGMENTS, false, &few);
  cr_assert_gt(pieces, usual);
  cr_assert_lt(few, plain);
}

Test(say_musts, fullness_is_met_with_space)
{
  double       plain  = 0.0;
  double       sparse = 0.0;
  const double usual  = silent_answers(TREAT_ANSWER, true, &plain);
  const double roomy  = silent_answers(TREAT_SPACE, true, &sparse);
  cr_assert_gt(roomy, usual + 0.05, "%.3f after %.3f", roomy, usual);
  cr_assert_lt(sparse, plain);
}

/// With the band, on its last downbeat, whatever the player did.
Test(say_musts, the_piece_ends_on_time_after_silence)
{
  for (unsigned seed = 0; seed < 64; ++seed) {
    fixture_open(&fixture, seed % 4, 1 + seed % 3, 2, rung_of(2), seed);
    silence(&fixture);
    fixture.request.treatment  = seed % 2 ? TREAT_SIMPLER : TREAT_FRAGMENTS;
    fixture.request.ends_piece = true;
    fixture_answer(&fixture, SLICES, rng_seed(seed, 3));
    check_last_note(&fixture.answer, &fixture.request);
  }
}

/// Shorter and simpler: a rung down in notes, so no scale tone from the fifth.
Test(say_musts, after_silence_a_rung_down)
{
  for (unsigned seed = 0; seed < 64; ++seed) {
    fixture_open(&fixture, seed % 3, 1 + seed % 3, 2, rung_of(5), seed);
    silence(&fixture);
    fixture.request.treatment = TREAT_SIMPLER;
    fixture_answer(&fixture, SLICES, rng_seed(seed, 3));
    cr_assert_leq(fixture.answer.heard.measures.scale_share, 0.0F);
  }
}

/// Where nothing of the call has room, a line of one's own says more than the
/// root.
Test(say_musts, nobody_who_played_is_given_the_root_alone)
{
  enum { N_SEEDS = 40 };
  for (unsigned style = 0; style < N_FIXTURE_CALLS; ++style) {
    for (unsigned seed = 0; seed < N_SEEDS; ++seed) {
      fixture_open(&fixture, 0, style, 2, (Rung){{2, 2, 2, 2}}, seed);
      fixture_answer(&fixture, 80, rng_seed(seed, 7));
      cr_assert_neq(fixture.answer.is, ANSWER_PLAIN, "%u %u", style, seed);
    }
  }
}
