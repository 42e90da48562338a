#include "core/rng.h"
#include "responder/session/coming.h"
#include "support/stand.h"

#include <criterion/criterion.h>
#include <stdlib.h>
#include <string.h>

enum { BAR = 3840 };

static SessionOut out;
static Log        log_a;
static Log        log_b;

// Advance in steps drawn by chance, none longer than `step`
static void
advance_in_steps(Log* const log,
                 const Tick until,
                 Rng* const rng,
                 const Tick step)
{
  while (session.now < until) {
    const Tick next = session.now + 1 + rng_below(rng, (uint32_t)step);
    advance(log, next < until ? next : until);
  }
}

// A plain four-note phrase on the beats of every player's turn
static unsigned
play_phrases(HeardKey* const keys, const unsigned n_turns)
{
  static const uint8_t pitches[] = {67, 64, 67, 60};
  unsigned             n         = 0;
  for (unsigned turn = 0; turn < n_turns; turn += 2) {
    for (unsigned i = 0; i < 4; ++i) {
      const Tick tick = turn * 2 * BAR + i * 960 + 20;
      keys[n++]       = (HeardKey){tick, pitches[i], 80};
      keys[n++]       = (HeardKey){tick + 700, pitches[i], 0};
    }
  }
  return n;
}

static void
run(Log* const            log,
    const SessionOptions* options,
    const HeardKey* const keys,
    const unsigned        n_keys,
    Rng* const            rng,
    const Tick            step)
{
  log->n_notes = 0;
  log->n_turns = 0;
  session_begin(&session, options);
  for (unsigned i = 0; i < n_keys; ++i) {
    advance_in_steps(log, keys[i].tick, rng, step);
    cr_assert_eq(session_hear(&session, keys[i]), keys[i].tick);
  }
  advance_in_steps(log, session_last_tick(&session), rng, step);
  cr_assert(session_is_over(&session));
}

// Each key comes up to so many ticks after its own, in the same order
static void
run_late(Log* const            log,
         const SessionOptions* options,
         const HeardKey* const keys,
         const unsigned        n_keys,
         Rng* const            rng,
         const unsigned        most)
{
  Tick comes   = 0;
  log->n_notes = 0;
  log->n_turns = 0;
  session_begin(&session, options);
  for (unsigned i = 0; i < n_keys; ++i) {
    const Tick own = keys[i].tick + rng_below(rng, most + 1);
    comes          = own > comes ? own : comes;
    advance_in_steps(log, comes, rng, 500);
    (void)session_hear(&session, keys[i]);
  }
  advance_in_steps(log, session_last_tick(&session), rng, 500);
}

static bool
same_notes(const Log* const a, const Log* const b)
{
  if (a->n_notes != b->n_notes || a->n_turns != b->n_turns) {
    return false;
  }
  for (unsigned i = 0; i < a->n_notes; ++i) {
    const PartNote* const x = &a->notes[i];
    const PartNote* const y = &b->notes[i];
    if (x->note.tick != y->note.tick || x->note.length != y->note.length ||
        x->note.pitch != y->note.pitch ||
        x->note.velocity != y->note.velocity || x->part != y->part) {
      return false;
    }
  }
  return true;
}

// Return the tick that a change is from; -1 if there is none until a tick
static Tick
advance_to_change(const Tick until)
{
  Tick from = -1;
  while (session.now < until) {
    (void)session_advance(&session, until, &out);
    from = change_is_any(&out.change) ? out.change.from : from;
  }
  return from;
}

static HeardKey keys[4000];

Test(session, plays_the_same_however_time_is_cut_up, .init = load)
{
  const SessionOptions options = usual();
  const unsigned       n_keys  = play_phrases(keys, 12);
  Rng                  coarse  = rng_seed(1, 1);
  run(&log_a, &options, keys, n_keys, &coarse, 4 * BAR);
  for (uint64_t seed = 2; seed < 6; ++seed) {
    Rng fine = rng_seed(seed, 1);
    run(&log_b, &options, keys, n_keys, &fine, 500);
    cr_assert(same_notes(&log_a, &log_b));
  }
}

// Where nobody waits, nothing is thought before an answer is due; it is the
// same one, whenever keys were struck while there were moments to think
Test(session, thinks_the_same_all_at_once, .init = load)
{
  SessionOptions options = usual();
  for (uint64_t seed = 1; seed < 7; ++seed) {
    Rng      rng = rng_seed(seed, 1);
    unsigned n   = 0;
    for (Tick at = 0; at < 24 * BAR; at += 60 + rng_below(&rng, 1500)) {
      const uint8_t pitch = (uint8_t)(60 + rng_below(&rng, 20));
      keys[n++]           = (HeardKey){at, pitch, 80};
      keys[n++]           = (HeardKey){at + 50, pitch, 0};
    }
    options.seed            = seed;
    options.thinks_when_due = false;
    run(&log_a, &options, keys, n, &rng, BAR);
    options.thinks_when_due = true;
    run(&log_b, &options, keys, n, &rng, BAR);
    cr_assert(same_notes(&log_a, &log_b), "seed %u", (unsigned)seed);
  }
}

Test(session, thinks_when_an_answer_is_due, .init = load)
{
  SessionOptions options = usual();
  const HeardKey key     = {0, 64, 80};
  const Tick     due     = 2 * BAR - SESSION_LEAD;
  for (unsigned when_due = 0; when_due < 2; ++when_due) {
    options.thinks_when_due = when_due;
    session_begin(&session, &options);
    advance(&log_a, key.tick);
    cr_assert_eq(session_hear(&session, key), key.tick);
    advance(&log_a, due);
    cr_assert_eq(session.thinking.n_slices == 0, when_due);
    advance(&log_a, due + 1);
    cr_assert_gt(session.thinking.n_slices, 0);
  }
}

Test(session, plays_otherwise_with_another_seed, .init = load)
{
  SessionOptions options = usual();
  const unsigned n_keys  = play_phrases(keys, 12);
  Rng            rng     = rng_seed(1, 1);
  run(&log_a, &options, keys, n_keys, &rng, BAR);
  options.seed = 8;
  run(&log_b, &options, keys, n_keys, &rng, BAR);
  cr_assert_not(same_notes(&log_a, &log_b));
}

Test(session, alternates_and_stays_in_its_turns, .init = load)
{
  const SessionOptions options = usual();
  const unsigned       n_keys  = play_phrases(keys, 12);
  Rng                  rng     = rng_seed(1, 1);
  run(&log_a, &options, keys, n_keys, &rng, BAR);

  cr_assert_eq(log_a.n_turns, 12);
  for (unsigned i = 0; i < log_a.n_turns; ++i) {
    cr_assert_eq(log_a.turns[i].turn.index, i + 1);
    cr_assert_eq(log_a.turns[i].turn.by_player, i % 2 == 0);
    cr_assert_gt(log_a.turns[i].phrase.n_notes, 0);
  }
  unsigned n_partner = 0;
  for (unsigned i = 0; i < log_a.n_notes; ++i) {
    const Note note = log_a.notes[i].note;
    cr_assert_leq(note.tick + note.length, session_last_tick(&session));
    if (log_a.notes[i].part == PART_PARTNER) {
      // A pick-up comes up to a beat and a half before its turn, and the last
      // answer closes with the band
      const Tick last = 12 * 2 * BAR;
      const Tick at   = note.tick / (2 * BAR);
      const Tick turn = at % 2 ? at : (note.tick + 3 * BAR / 8) / (2 * BAR);
      const bool ends = note.tick >= last - 3 * BAR / 8;
      cr_assert(turn % 2 == 1 || ends, "note at %ld", (long)note.tick);
      cr_assert(note.tick + note.length <= (turn + 1) * 2 * BAR ||
                note.tick >= last - 2 * BAR);
      ++n_partner;
    }
  }
  cr_assert_gt(n_partner, 12);
}

Test(session, hands_notes_over_in_the_order_of_ticks, .init = load)
{
  const SessionOptions options = usual();
  Rng                  rng     = rng_seed(4, 1);
  run(&log_a, &options, keys, 0, &rng, 3000);
  for (unsigned i = 1; i < log_a.n_notes; ++i) {
    cr_assert_geq(log_a.notes[i].note.tick, log_a.notes[i - 1].note.tick);
  }
}

// Half a beat before bar 1 and before bar 5: pick-ups to those turns
Test(session, takes_a_pick_up_into_its_turn, .init = load)
{
  const SessionOptions options    = usual();
  const HeardKey       pick_ups[] = {
          {-470, 67, 80},
          {-20, 67, 0},
          {0, 64, 80},
          {900, 64, 0},
          {4 * BAR - 470, 69, 80},
          {4 * BAR - 20, 69, 0},
          {4 * BAR, 65, 80},
          {4 * BAR + 900, 65, 0},
  };
  Rng rng = rng_seed(1, 1);
  run(&log_a, &options, pick_ups, 8, &rng, BAR);
  cr_assert_eq(log_a.turns[0].phrase.n_notes, 2);
  cr_assert_eq(log_a.turns[0].phrase.notes[0].note.pitch, 67);
  cr_assert_eq(log_a.turns[2].phrase.n_notes, 2);
  cr_assert_eq(log_a.turns[2].phrase.notes[0].note.pitch, 69);
}

// What was judged to take up what was said counts for the goal of a chorus, too
Test(session, takes_up_by_one_measure, .init = load)
{
  static TurnRecord    record;
  const SessionOptions options = usual();
  for (unsigned said = 0; said < 2; ++said) {
    for (unsigned connected = 0; connected < 2; ++connected) {
      session_begin(&session, &options);
      session.answer.n_notes = said;
      record.outcome = (Outcome){.is_judged = true, .connected = connected};
      coming_count(&session, &record);
      cr_assert_eq(session.aim.n_turns, 1);
      cr_assert_eq(session.aim.n_met[AIM_TAKE_UP], said && connected);
    }
  }
}

// Whatever moment of thinking it falls together with
Test(session, hears_what_is_struck_while_it_thinks, .init = load)
{
  const SessionOptions options = usual();
  Rng                  rng     = rng_seed(1, 1);
  for (Tick last = BAR; last < 2 * BAR - 480; last += 60) {
    const HeardKey struck[] = {
      {0, 62, 80}, {last, 62, 0}, {last, 64, 80}, {2 * BAR, 64, 0}};
    run(&log_a, &options, struck, 4, &rng, BAR);
    cr_assert_eq(log_a.turns[0].phrase.n_notes, 2, "at %ld", (long)last);
  }
}

Test(session, keeps_a_late_key_at_its_own_now, .init = load)
{
  const SessionOptions options = usual();
  session_begin(&session, &options);
  advance(&log_a, 1000);
  cr_assert_eq(session_hear(&session, (HeardKey){400, 60, 80}), 1000);
  cr_assert_eq(session_hear(&session, (HeardKey){1200, 60, 0}), 1200);
}

Test(session, hears_a_late_key_where_it_was_struck, .init = load)
{
  SessionOptions options = usual();
  options.listens_behind = 96;
  session_begin(&session, &options);
  advance(&log_a, 1000);
  cr_assert_eq(session_hear(&session, (HeardKey){904, 60, 80}), 904);
  cr_assert_eq(session_hear(&session, (HeardKey){904, 60, 0}), 905);
  cr_assert_eq(session_hear(&session, (HeardKey){903, 62, 80}), 905);
  cr_assert_eq(session_hear(&session, (HeardKey){950, 64, 80}), 950);
  cr_assert_eq(session_hear(&session, (HeardKey){940, 64, 0}), 951);
}

// However late each key's message comes, up to what the session waits, all is
// played as if it had come at once
Test(session, plays_the_same_however_late_keys_come, .init = load)
{
  enum { BEHIND = 96 };
  SessionOptions options = usual();
  const unsigned n_keys  = play_phrases(keys, 12);
  Rng            rng     = rng_seed(3, 1);
  options.listens_behind = BEHIND;
  run(&log_a, &options, keys, n_keys, &rng, 4 * BAR);
  for (uint64_t seed = 4; seed < 8; ++seed) {
    Rng late = rng_seed(seed, 1);
    run_late(&log_b, &options, keys, n_keys, &late, BEHIND);
    cr_assert(same_notes(&log_a, &log_b));
  }
  Rng too_late = rng_seed(9, 1);
  run_late(&log_b, &options, keys, n_keys, &too_late, 8 * BEHIND);
  cr_assert_not(same_notes(&log_a, &log_b));
}

// Two bars a turn; the line after bar 1 is at 2 * BAR

Test(session, is_otherwise_from_the_next_turn_on, .init = load)
{
  const SessionOptions options = usual();
  const Rung           easy    = {{1, 1, 1, 1}};
  session_begin(&session, &options);
  session_change(&session, &(SessionChange){.tempo_bpm = 90.0});
  session_change(&session, &(SessionChange){.rung = easy});
  session_change(&session, &(SessionChange){.tempo_bpm = 96.0});
  (void)session_advance(&session, 1, &out);
  cr_assert_eq(out.change.tempo_bpm, 96.0);
  cr_assert_eq(out.change.rung.level[0], 1);
  cr_assert_eq(out.change.from, 0);
  (void)advance_to_change(BAR);
  session_change(&session, &(SessionChange){.tempo_bpm = 132.0});
  cr_assert_eq(session.options.tempo_bpm, 96.0);
  cr_assert_eq(advance_to_change(2 * BAR), 2 * BAR);
  cr_assert_eq(session.options.tempo_bpm, 132.0);
  cr_assert_eq(session.band.tempo_bpm, 132.0);

  // Too late for this line: for the one after
  advance(&log_a, 4 * BAR - SESSION_LEAD + 1);
  session_change(&session, &(SessionChange){.tempo_bpm = 60.0});
  cr_assert_eq(advance_to_change(6 * BAR), 6 * BAR);
}

// The change after the first turn's line is what the second answer stands on
Test(session, answers_from_the_rung_it_was_changed_to, .init = load)
{
  const SessionOptions options = usual();
  const unsigned       n_keys  = play_phrases(keys, 12);
  log_a.n_notes                = 0;
  log_a.n_turns                = 0;
  session_begin(&session, &options);
  for (unsigned i = 0; i < n_keys; ++i) {
    advance(&log_a, keys[i].tick);
    (void)session_hear(&session, keys[i]);
    if (i == 10) { // In the third turn, a player's
      session_change(&session, &(SessionChange){.rung = {{2, 1, 3, 1}}});
    }
  }
  advance(&log_a, session_last_tick(&session));
  cr_assert_gt(log_a.n_turns, 5);
  for (unsigned i = 0; i < log_a.n_turns; ++i) {
    const TurnRecord* const turn     = &log_a.turns[i];
    const bool              is_later = turn->turn.index > 4;
    cr_assert_eq(turn->rung.level[0], is_later ? 2 : options.rung.level[0]);
    cr_assert_eq(turn->rung.level[2], is_later ? 3 : options.rung.level[2]);
  }
}

Test(session, cuts_a_held_note_at_the_line, .init = load)
{
  const SessionOptions options = usual();
  const HeardKey       held[]  = {{BAR, 60, 80}, {3 * BAR, 60, 0}};
  Rng                  rng     = rng_seed(1, 1);
  run(&log_a, &options, held, 2, &rng, BAR);
  const Phrase* const phrase = &log_a.turns[0].phrase;
  cr_assert_eq(phrase->n_notes, 1);
  cr_assert_eq(phrase->notes[0].note.length, BAR);
  cr_assert_eq(log_a.turns[2].phrase.n_notes, 0); // Not heard a second time
}

Test(session, treats_silence_kindly, .init = load)
{
  const SessionOptions options = usual();
  Rng                  rng     = rng_seed(1, 1);
  const unsigned       n_keys  = play_phrases(keys, 1); // Then nothing more
  run(&log_a, &options, keys, n_keys, &rng, BAR);

  cr_assert_eq(log_a.turns[1].treatment, TREAT_ANSWER);
  cr_assert_eq(log_a.turns[3].treatment, TREAT_SIMPLER);
  cr_assert_eq(log_a.turns[5].treatment, TREAT_SIMPLER);
  cr_assert_eq(log_a.turns[7].treatment, TREAT_FRAGMENTS);
  for (unsigned i = 0; i < log_a.n_turns; i += 2) {
    cr_assert_eq(log_a.turns[i].asks_to_stop, i == 8);
    cr_assert_gt(strlen(log_a.turns[i].remark), 0);
  }
  for (unsigned i = 3; i < log_a.n_turns; i += 2) {
    cr_assert_gt(log_a.turns[i].phrase.n_notes, 0);
  }
}

Test(session, answers_too_much_with_space, .init = load)
{
  const SessionOptions options = usual();
  unsigned             n       = 0;
  for (Tick tick = 0; tick < 2 * BAR; tick += 240) {
    const uint8_t pitch = (uint8_t)(60 + tick / 240 % 12);
    keys[n++]           = (HeardKey){tick, pitch, 80};
    keys[n++]           = (HeardKey){tick + 239, pitch, 0};
  }
  Rng rng = rng_seed(1, 1);
  run(&log_a, &options, keys, n, &rng, BAR);
  cr_assert_eq(log_a.turns[1].treatment, TREAT_SPACE);
  cr_assert_gt(log_a.turns[1].phrase.measures.space,
               log_a.turns[0].phrase.measures.space);
}

// The player goes on through the partner's turns 2 and 4; in turn 5 silence
// asks for no more
Test(session, offers_longer_turns_to_who_needs_them, .init = load)
{
  const SessionOptions options = usual();
  unsigned             n       = 0;
  for (Tick tick = 0; tick <= 8 * BAR; tick += 960) {
    keys[n++] = (HeardKey){tick, 64, 80};
    keys[n++] = (HeardKey){tick + 900, 64, 0};
  }
  Rng rng = rng_seed(1, 1);
  for (unsigned silent = 0; silent < 2; ++silent) {
    run(&log_a, &options, keys, n - 2 * silent, &rng, BAR);
    for (unsigned i = 0; i < log_a.n_turns; i += 2) {
      cr_assert_eq(
        log_a.turns[i].offers_longer, i == 4 && !silent, "turn %u", i + 1);
    }
  }

  // ... but not in a chorus that is to leave room
  SessionOptions room              = usual();
  room.seed                        = AIM_ROOM;
  room.rung.level[DIMENSION_NOTES] = 8;
  cr_assert_eq(session_first_aim(&room).aim, AIM_ROOM);
  rng = rng_seed(1, 1);
  run(&log_a, &room, keys, n, &rng, BAR);
  for (unsigned i = 0; i < log_a.n_turns; ++i) {
    cr_assert_not(log_a.turns[i].offers_longer, "turn %u", i + 1);
  }
}

Test(session, never_says_the_same_line_twice_running, .init = load)
{
  SessionOptions options = usual();
  options.choruses       = 8;
  Rng            rng     = rng_seed(1, 1);
  const unsigned n_keys  = play_phrases(keys, 48);
  run(&log_a, &options, keys, n_keys, &rng, BAR);
  for (unsigned i = 2; i < log_a.n_turns; i += 2) {
    cr_assert_str_neq(log_a.turns[i].remark, log_a.turns[i - 2].remark);
  }
}

Test(session, lets_the_partner_begin, .init = load)
{
  SessionOptions options = usual();
  options.partner_begins = true;
  Rng rng                = rng_seed(1, 1);
  run(&log_a, &options, keys, 0, &rng, BAR);
  cr_assert_not(log_a.turns[0].turn.by_player);
  cr_assert_gt(log_a.turns[0].phrase.n_notes, 0);
}

static unsigned
play_late(const unsigned n, const unsigned turn, const Tick late)
{
  for (unsigned i = 0; i < 12; ++i) {
    const Tick    tick  = turn * 2 * BAR + i * 480 + late;
    const uint8_t pitch = (uint8_t)(60 + i);
    keys[n + 2 * i]     = (HeardKey){tick, pitch, 80};
    keys[n + 2 * i + 1] = (HeardKey){tick + 400, pitch, 0};
  }
  return n + 24;
}

// The player drifts behind by a twentieth of a beat a turn; beyond half a beat
// the place is lost, and found again when the player is back on the beat
Test(session, notices_a_lost_place, .init = load)
{
  SessionOptions options = usual();
  options.choruses       = 6;
  unsigned n             = 0;
  for (unsigned turn = 0; turn < 36; turn += 2) {
    n = play_late(n, turn, turn < 24 ? turn / 2 * 48 : 10);
  }
  Rng rng = rng_seed(1, 1);
  run(&log_a, &options, keys, n, &rng, BAR);
  for (unsigned i = 0; i < log_a.n_turns; i += 2) {
    const double beats_late = i / 2 * 48 / 960.0;
    const bool   is_lost    = i < 24 && beats_late > 0.5;
    cr_assert_eq(log_a.turns[i].is_lost, is_lost, "turn %u", i + 1);
  }
}

// Whoever wanders on is lost even a whole beat late, where the notes stand on
// beats again, and until back on the band's own; a step is an eightieth of a
// beat longer or shorter than a twentieth
Test(session, is_lost_a_whole_beat_late, .init = load)
{
  SessionOptions options = usual();
  options.choruses       = 10;
  unsigned n             = 0;
  for (unsigned turn = 0; turn < 60; turn += 2) {
    n = play_late(n, turn, turn < 58 ? turn / 2 * 48 + turn / 2 % 2 * 12 : 10);
  }
  Rng rng = rng_seed(1, 1);
  run(&log_a, &options, keys, n, &rng, BAR);
  cr_assert_geq(log_a.n_turns, 59);
  for (unsigned i = 0; i < 60; i += 2) {
    const bool is_lost = i > 20 && i < 58; // From more than half a beat
    cr_assert_eq(log_a.turns[i].is_lost, is_lost, "turn %u", i + 1);
  }
}

Test(session, counts_in_for_long_enough, .init = load)
{
  SessionOptions options = usual();
  session_begin(&session, &options);
  cr_assert_eq(session_first_tick(&session), -BAR); // 2 s a bar
  options.tempo_bpm = 200.0;
  session_begin(&session, &options);
  cr_assert_eq(session_first_tick(&session), -2 * BAR); // 1.2 s a bar
}
