#include "core/rng.h"
#include "responder/say/gaps.h"
#include "support/stand.h"

#include <criterion/criterion.h>
#include <stdlib.h>
#include <string.h>

// How the turns of a session hang together: coming in, what is said twice, and
// what the band makes of it. Players here are drawn by a seed.

enum { BEAT = 960, BAR = 3840, KEYS = 8000 };

static Log      one;
static Log      other;
static HeardKey keys[KEYS];
static unsigned n_keys;

/// Let a session pass in steps, drawn up to `step`, or all of one length.
static void
run(Log* const                  log,
    const SessionOptions* const options,
    const Tick                  step,
    Rng* const                  rng)
{
  log->n_notes  = 0;
  log->n_turns  = 0;
  unsigned next = 0;
  session_begin(&session, options);
  while (!session_is_over(&session)) {
    const Tick by   = rng ? 1 + rng_below(rng, (uint32_t)step) : step;
    Tick       goal = tick_least(session.now + by, session_last_tick(&session));
    if (next < n_keys && keys[next].tick < goal) {
      goal = keys[next].tick;
    }
    advance(log, goal);
    while (next < n_keys && keys[next].tick <= session.now) {
      (void)session_hear(&session, keys[next++]);
    }
  }
}

static void
strike(const Tick     tick,
       const Tick     length,
       const unsigned pitch,
       const unsigned velocity)
{
  cr_assert_lt(n_keys + 2, KEYS);
  keys[n_keys++] = (HeardKey){tick, (uint8_t)pitch, (uint8_t)velocity};
  keys[n_keys++] = (HeardKey){tick + length, (uint8_t)pitch, 0};
}

/// A player who goes on by chance until `end`: some turns full, some silent.
static void
play_by_chance(Rng* const rng, const Tick from, const Tick end)
{
  for (Tick tick = from; tick < end;) {
    const Tick length = 100 + rng_below(rng, 500);
    if (rng_below(rng, 12) == 0) {
      tick += rng_below(rng, 2 * BAR);
    }
    const unsigned velocity = 40 + rng_below(rng, 80);
    strike(tick, length, 60 + rng_below(rng, 20), velocity);
    tick += length + 10 + rng_below(rng, 300);
  }
}

static bool
is_same_note(const PartNote* const a, const PartNote* const b)
{
  return a->note.tick == b->note.tick && a->note.length == b->note.length &&
         a->note.pitch == b->note.pitch &&
         a->note.velocity == b->note.velocity && a->part == b->part;
}

// Thinking ahead depends on ticks and keys alone.
Test(form, is_the_same_however_time_is_cut_up, .init = load)
{
  for (uint64_t seed = 0; seed < 6; ++seed) {
    SessionOptions options = usual();
    Rng            player  = rng_seed(seed, 3);
    Rng            steps   = rng_seed(seed, 4);
    options.seed           = seed;
    options.partner_begins = seed % 2;
    n_keys                 = 0;
    play_by_chance(&player, -1000, 24 * BAR);
    run(&one, &options, 4 * BAR, NULL);
    run(&other, &options, 40, &steps);
    cr_assert_eq(one.n_notes, other.n_notes);
    cr_assert_eq(one.n_turns, other.n_turns);
    for (unsigned i = 0; i < one.n_notes; ++i) {
      cr_assert(is_same_note(&one.notes[i], &other.notes[i]), "note %u", i);
    }
    for (unsigned i = 0; i < one.n_turns; ++i) {
      cr_assert_str_eq(one.turns[i].remark, other.turns[i].remark);
      cr_assert_str_eq(one.turns[i].why, other.turns[i].why);
    }
  }
}

// Nothing that sounds knows of a key that is yet to be struck, nor comes before
// its time.
Test(form, knows_nothing_of_what_is_yet_to_come, .init = load)
{
  for (uint64_t seed = 0; seed < 6; ++seed) {
    const SessionOptions options = usual();
    const Tick           parts   = (Tick)(8 + 3 * seed) * BAR - 700;
    for (unsigned way = 0; way < 2; ++way) {
      Rng before = rng_seed(seed, 3);
      Rng after  = rng_seed(seed, 30 + way);
      n_keys     = 0;
      play_by_chance(&before, 0, parts - 2000);
      play_by_chance(&after, parts, 24 * BAR);
      run(way ? &other : &one, &options, 200, NULL);
    }
    unsigned n = 0;
    for (;
         n < one.n_notes && n < other.n_notes && one.notes[n].note.tick < parts;
         ++n) {
      cr_assert(is_same_note(&one.notes[n], &other.notes[n]), "note %u", n);
    }
    cr_assert_gt(n, 100U);
    for (unsigned i = 1; i < one.n_notes; ++i) {
      cr_assert_geq(one.notes[i].note.tick, one.notes[i - 1].note.tick);
    }
  }
}

// The player stops a bar before the line: answered a beat and a half before
// it, whatever is still played. That belongs to the turn all the same, which is
// judged when it is over.
Test(form, answers_early_who_has_stopped, .init = load)
{
  static const struct {
    Tick     at; // Before the line; 0: nothing
    unsigned pitch;
    Tick     decided; // After the line
    bool     lands;
  } rows[] = {
    {0, 0, 0, false},
    {BEAT, 72, 0, true},
    {BEAT, 71, 0, false},
    {BEAT / 2, 72, BEAT / 2, true}, // It might have led over the line
    {-BEAT / 4, 72, 0, false},      // No key before it led there
  };
  const SessionOptions options = usual();
  for (unsigned row = 0; row < sizeof(rows) / sizeof(*rows); ++row) {
    n_keys = 0;
    for (unsigned i = 0; i < 4; ++i) {
      strike(i * BEAT, 700, 60 + 2 * i, 80); // To F#, over C7
    }
    if (rows[row].at) {
      strike(2 * BAR - rows[row].at, 300, rows[row].pitch, 80);
    }
    Log* const log = row ? &other : &one;
    run(log, &options, 8, NULL);
    const Tick decided = 2 * BAR + rows[row].decided - SESSION_LEAD;
    cr_assert(log->decided[0] >= decided && log->decided[0] <= decided + 8);
    cr_assert_eq(log->turns[0].phrase.n_notes, 4U + (rows[row].at > 0));
    cr_assert_eq(log->turns[0].outcome.landed, rows[row].lands, "row %u", row);
    cr_assert_eq(log->turns[1].turn.index, 2);
    const unsigned n = one.turns[1].phrase.n_notes;
    cr_assert_gt(n, 0U);
    cr_assert_eq(log->turns[1].phrase.n_notes, n);
    for (unsigned i = 0; i < n; ++i) {
      const Note a = one.turns[1].phrase.notes[i].note;
      const Note b = log->turns[1].phrase.notes[i].note;
      cr_assert(a.tick == b.tick && a.pitch == b.pitch);
    }
  }
}

// The pick-up of an answer sounds while its call may go on
Test(form, sounds_before_its_call_is_judged, .init = load)
{
  unsigned n_early = 0;
  for (uint64_t seed = 0; seed < 20; ++seed) {
    SessionOptions options = usual();
    options.rung           = (Rung){{8, 7, 6, 1}};
    options.seed           = seed;
    n_keys                 = 0;
    for (unsigned i = 0; i < 4; ++i) {
      strike(i * BEAT, 700, 60 + 2 * i, 80);
    }
    run(&one, &options, 8, NULL);
    n_early += one.turns[1].phrase.notes[0].note.tick < 2 * BAR - BEAT / 8;
    cr_assert_eq(one.turns[0].turn.index, 1);
    cr_assert_eq(one.turns[1].turn.index, 2);
  }
  cr_assert_gt(n_early, 0U);
}

Test(form, remembers_what_was_played_after_the_answer_was_decided, .init = load)
{
  const SessionOptions options = usual();
  for (unsigned i = 0; i < 4; ++i) {
    strike(i * BEAT, 700, 60 + 2 * i, 80);
  }
  strike(2 * BAR - BEAT, 300, 72, 80);
  session_begin(&session, &options);
  for (unsigned i = 0; i < n_keys; ++i) {
    advance(&one, keys[i].tick);
    (void)session_hear(&session, keys[i]);
  }
  advance(&one, 2 * BAR - BEAT / 2);
  cr_assert_eq(session.standing.said.n_notes, 4);
  advance(&one, 2 * BAR);
  cr_assert_eq(session.standing.said.n_notes, 5);
}

// The player runs over the line and lands on its first beat
Test(form, waits_for_who_runs_over_the_line, .init = load)
{
  for (uint64_t seed = 0; seed < 20; ++seed) {
    SessionOptions options = usual();
    options.seed           = seed;
    n_keys                 = 0;
    for (Tick tick = BAR; tick < 2 * BAR; tick += 480) {
      strike(tick, 400, (unsigned)(60 + tick / 480 % 7), 80);
    }
    strike(2 * BAR, 900, 60, 80);
    run(&one, &options, 8, NULL);
    cr_assert_gt(one.decided[0], 2 * BAR);
    cr_assert_leq(one.decided[0], 2 * BAR + BEAT / 2);
    for (unsigned i = 0; i < one.n_notes; ++i) {
      const PartNote* const note = &one.notes[i];
      cr_assert(note->part != PART_PARTNER ||
                note->note.tick >= 2 * BAR + BEAT / 2);
    }
    cr_assert_eq(one.turns[0].phrase.n_notes, 8, "the landing is beyond it");
    cr_assert_eq(one.turns[1].phrase.start_tick, 2 * BAR);
    cr_assert_eq(one.turns[1].phrase.end_tick, 4 * BAR);
  }
}

// A line that is heard to land after the line has landed: on the root of the
// chord there, though its last note within the turn is none of the chord.
Test(form, credits_a_landing_after_the_line, .init = load)
{
  const SessionOptions options = usual();
  for (unsigned lands = 0; lands < 2; ++lands) {
    n_keys = 0;
    for (Tick tick = BAR; tick < 2 * BAR; tick += 480) {
      strike(tick, 400, tick / 480 % 2 ? 62 : 64, 80); // D last, over C7
    }
    if (lands) {
      strike(2 * BAR + 20, 900, 60, 80);
    }
    run(&one, &options, 8, NULL);
    const TurnRecord* const record = &one.turns[0];
    cr_assert_eq(record->phrase.landing.is_there, lands);
    cr_assert_eq(record->outcome.landed, lands);
    cr_assert_eq(strstr(record->remark, "C, the root") != NULL ||
                   strstr(record->remark, "on the root") != NULL,
                 lands,
                 "%s",
                 record->remark);
  }
}

// A A B

static void
play_riff(const unsigned turn, const unsigned up)
{
  static const Tick    places[]  = {0, 720, 1440, 2400, 3360};
  static const uint8_t pitches[] = {60, 63, 64, 67, 60};
  for (unsigned i = 0; i < 5; ++i) {
    strike((Tick)turn * 2 * BAR + places[i], 400, pitches[i] + up, 80);
  }
}

static void
play_run(const unsigned turn)
{
  for (unsigned i = 0; i < 9; ++i) {
    strike((Tick)turn * 2 * BAR + 480 * i, 400, 79 - (i * 5) % 13, 80);
  }
}

static AnswersAs
answered_as(const unsigned turn)
{
  Log* const log = &one;
  for (; log->n_turns < turn;) {
    advance(log, session.now + BEAT);
  }
  return session.answers_as;
}

static void
begin(const SessionOptions* const options)
{
  one.n_notes = 0;
  one.n_turns = 0;
  session_begin(&session, options);
}

static Idea said[6]; // In answer to each call

static void
hear_all(const unsigned turns, AnswersAs* const seen)
{
  unsigned next = 0;
  for (unsigned turn = 2; turn <= turns; turn += 2) {
    while (next < n_keys && keys[next].tick < (Tick)(turn - 1) * 2 * BAR) {
      advance(&one, keys[next].tick);
      (void)session_hear(&session, keys[next++]);
    }
    seen[turn / 2 - 1] = answered_as(turn);
    said[turn / 2 - 1] = idea_of(&session.answer.heard, false);
  }
}

Test(form, answers_twice_what_is_said_twice_and_then_departs, .init = load)
{
  const SessionOptions options = usual();
  AnswersAs            seen[6];
  for (unsigned turn = 0; turn < 12; turn += 2) {
    play_riff(turn, 0);
  }
  begin(&options);
  hear_all(12, seen);
  for (unsigned i = 0; i < 6; ++i) {
    cr_assert_eq(seen[i], (AnswersAs)(i % 3), "call %u", i + 1);
  }
}

Test(form, departs_whatever_the_third_is_and_answers_others_anew, .init = load)
{
  const SessionOptions options = usual();
  AnswersAs            seen[6];
  play_riff(0, 0);
  play_riff(2, 5); // The same on the fourth degree
  play_run(4);
  play_riff(6, 0);
  play_run(8);
  play_riff(10, 0);
  begin(&options);
  hear_all(12, seen);
  cr_assert_eq(seen[0], ANSWERS_FRESH);
  cr_assert_eq(seen[1], ANSWERS_AGAIN);
  cr_assert_eq(seen[2], ANSWERS_DEPARTING);
  cr_assert_eq(seen[3], ANSWERS_FRESH);
  cr_assert_eq(seen[4], ANSWERS_FRESH);
  cr_assert_eq(seen[5], ANSWERS_FRESH);
}

// What departs has another rhythm, also where a beginner's rung has few
Test(form, departs_in_another_rhythm, .init = load)
{
  for (unsigned seed = 1; seed <= 24; ++seed) {
    SessionOptions options = usual();
    options.seed           = seed;
    options.rung           = (Rung){{2, 2, 2, 1}};
    n_keys                 = 0;
    for (unsigned turn = 0; turn < 6; turn += 2) {
      play_riff(turn, 0);
    }
    begin(&options);
    AnswersAs seen[3];
    hear_all(6, seen);
    cr_assert_eq(seen[2], ANSWERS_DEPARTING);
    cr_assert_lt(
      idea_likeness(&said[1], &said[2]).rhythm, 0.75F, "seed %u", seed);
    const double gaps = gaps_likeness(
      said[1].ticks, said[1].n_notes, said[2].ticks, said[2].n_notes);
    cr_assert_lt(gaps, 0.75, "seed %u", seed);
  }
}

static bool
is_worded(const char* const text, const SentenceKind kind)
{
  const Wordings* const words = &sentences_plain()->of[kind];
  bool                  is    = false;
  for (unsigned i = 0; i < words->n; ++i) {
    is = is || strstr(text, words->words[i]) != NULL;
  }
  return is;
}

// Eighteen times the same: said of it at the second, third and every other
Test(form, says_something_of_what_comes_again, .init = load)
{
  SessionOptions options = usual();
  options.choruses       = 6;
  for (unsigned turn = 0; turn < 36; turn += 2) {
    play_riff(turn, 0);
  }
  run(&one, &options, BEAT, NULL);
  for (unsigned i = 0; i < 18; ++i) {
    const char* const remark = one.turns[2 * i].remark;
    cr_assert_eq(is_worded(remark, SENTENCE_AGAIN_TWICE), i == 1, "%s", remark);
    cr_assert_eq(is_worded(remark, SENTENCE_AGAIN_THIRD), i == 2, "%s", remark);
    cr_assert_eq(is_worded(remark, SENTENCE_AGAIN_MORE),
                 i > 2 && i % 2 == 0,
                 "%u: %s",
                 i + 1,
                 remark);
    cr_assert(i == 0 || strcmp(remark, one.turns[2 * i - 2].remark) != 0);
  }
}

// The band

static double
mean_velocity(const Log* const log, const unsigned part, const Tick from)
{
  double   sum = 0.0;
  unsigned n   = 0;
  for (unsigned i = 0; i < log->n_notes; ++i) {
    if (log->notes[i].part == part && log->notes[i].note.tick >= from) {
      sum += log->notes[i].note.velocity;
      ++n;
    }
  }
  return sum / n;
}

static void
play_loudly(const unsigned velocity)
{
  n_keys = 0;
  for (unsigned turn = 0; turn < 12; turn += 2) {
    for (unsigned i = 0; i < 4; ++i) {
      strike(turn * 2 * BAR + i * BEAT, 700, 60 + 2 * i, velocity);
    }
  }
}

Test(form, the_band_is_as_loud_as_the_player, .init = load)
{
  const SessionOptions options = usual();
  play_loudly(40);
  run(&one, &options, BEAT, NULL);
  play_loudly(115);
  run(&other, &options, BEAT, NULL);
  for (unsigned part = PART_CHORDS; part <= PART_DRUMS; ++part) {
    const double soft = mean_velocity(&one, part, 2 * BAR);
    const double loud = mean_velocity(&other, part, 2 * BAR);
    cr_assert_float_eq(loud - soft, 24.0, 4.0, "%u: %g", part, loud - soft);
  }
}

static bool
is_covered(const Log* const log, const Note line)
{
  bool is = false;
  for (unsigned i = 0; i < log->n_notes; ++i) {
    const Note chord = log->notes[i].note;
    is               = is ||
         (log->notes[i].part == PART_CHORDS &&
          line.tick < chord.tick + chord.length &&
          chord.tick < line.tick + line.length && chord.pitch + 3 > line.pitch);
  }
  return is;
}

// By the notes that sounded: of the partner's notes one in a hundred at most
// has a chord's note nearer below it than three semitones, or above it. Those
// few are pick-ups into a bar whose chords were struck before anyone knew of
// them; they come in handfuls, so that it takes many conversations to count
// them.
Test(form, chords_keep_below_the_partner, .init = load)
{
  unsigned n_notes   = 0;
  unsigned n_covered = 0;
  unsigned n_chords  = 0;
  for (uint64_t seed = 0; seed < 40; ++seed) {
    SessionOptions options = usual();
    Rng            player  = rng_seed(seed, 3);
    options.seed           = seed;
    n_keys                 = 0;
    play_by_chance(&player, 0, 24 * BAR);
    run(&one, &options, BEAT, NULL);
    for (unsigned i = 0; i < one.n_notes; ++i) {
      const PartNote* const note = &one.notes[i];
      n_chords += note->part == PART_CHORDS && note->note.tick >= 0 &&
                  note->note.tick / (2 * BAR) % 2 == 1;
      if (note->part == PART_PARTNER) {
        ++n_notes;
        n_covered += is_covered(&one, note->note);
      }
    }
  }
  cr_assert_gt(n_notes, 1200U);
  cr_assert_leq(100 * n_covered, n_notes, "%u of %u", n_covered, n_notes);
  cr_assert_gt(n_chords, 1200U, "chords sound beside it: %u", n_chords);
}
