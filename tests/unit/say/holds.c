#include "holds.h"

#include "core/music/chord.h"
#include "core/music/spelling.h"

#include <criterion/criterion.h>

enum {
  BEAT       = TICKS_PER_QUARTER,
  NARROWEST  = 11, // Semitones: a compass that holds every pitch class
  TURN_NOTES = 2,  // An ornament of two notes is a turn
};

static unsigned
rung_of(const Fixture* const fixture, const Dimension dimension)
{
  return fixture->request.rung.level[dimension] - 1U;
}

static bool
was_called(const Fixture* const fixture, const unsigned pitch)
{
  for (unsigned i = 0; i < fixture->call.n_notes; ++i) {
    if (fixture->call.notes[i].note.pitch % 12 == pitch % 12) {
      return true;
    }
  }
  return false;
}

static bool
begins_at(const Answer* const answer, const Tick tick)
{
  for (unsigned i = 0; i < answer->n_notes; ++i) {
    if (answer->grid_ticks[i] == tick) {
      return true;
    }
  }
  return false;
}

static bool
has_division(const RhythmRung* const allows, const Tick in_beat)
{
  return in_beat == 0 || (allows->eighths && in_beat == BEAT / 2) ||
         (allows->triplets && in_beat % (BEAT / 3) == 0) ||
         (allows->sixteenths && in_beat % (BEAT / 4) == 0);
}

/// Divisions, off-beats and how many onsets a turn of so many bars may have. At
/// one note or two the rhythm has one rung more.
static void
check_rhythm(const Fixture* const fixture,
             const Answer* const  answer,
             const unsigned       bars)
{
  const bool few =
    fixture->ladder.notes[rung_of(fixture, DIMENSION_NOTES)].chord_tones <= 2;
  const unsigned          asked  = rung_of(fixture, DIMENSION_RHYTHM);
  const unsigned          more   = few && asked + 1 < N_RHYTHM_RUNGS ? 1 : 0;
  const RhythmRung* const allows = &fixture->ladder.rhythm[asked + more];
  unsigned                n      = 0;
  for (unsigned i = 0; i < answer->n_notes; ++i) {
    const Tick tick = answer->grid_ticks[i];
    const Tick beat = tick - tick % BEAT;
    n += !answer->is_ornament[i];
    cr_assert(has_division(allows, tick - beat), "%s", answer->why);
    cr_assert(allows->off_beats || tick == beat ||
                fixture_call_leans(fixture) ||
                (begins_at(answer, beat) && begins_at(answer, beat + BEAT)),
              "%s: %lld",
              answer->why,
              (long long)tick);
  }
  const float most = allows->onsets_per_bar * (float)bars;
  cr_assert(n == 1 || (float)n <= most + 0.001F,
            "%s: %u of %.2f",
            answer->why,
            n,
            (double)most);
}

/// Which member of the chord a tone is: its third, fifth or seventh (or what
/// stands there).
static unsigned
member_of(const Fixture* const fixture, const HeardNote* const note)
{
  const Tick         tick  = note->is_anticipation
                               ? chart_next_change(&fixture->chart, note->grid_tick)
                               : note->grid_tick;
  const Chord* const chord = chart_chord_at(&fixture->chart, tick);
  const unsigned     root  = spelling_pitch_class(chord->root);
  const unsigned     above = (note->note.pitch + 12U - root) % 12U;
  return above >= 9 ? 4U : above >= 6 ? 2U : 1U;
}

/// Notes: those that the rung has, besides what the player used.
static void
check_notes(const Fixture* const fixture, const Answer* const answer)
{
  const NotesRung* const allows =
    &fixture->ladder.notes[rung_of(fixture, DIMENSION_NOTES)];
  const unsigned range = allows->range > NARROWEST ? allows->range : NARROWEST;
  unsigned       members = 0;
  unsigned       n       = 0;
  for (unsigned i = 0; i < answer->heard.n_notes; ++i) {
    const HeardNote* const note = &answer->heard.notes[i];
    if (note->is_ornament || was_called(fixture, note->note.pitch)) {
      continue;
    }
    cr_assert(allows->scale_share > 0.0F || note->role != ROLE_SCALE_TONE,
              "%s",
              answer->why);
    cr_assert(allows->outside_share > 0.0F || note->role != ROLE_OUTSIDE,
              "%s",
              answer->why);
    members |= note->role == ROLE_CHORD_TONE ? member_of(fixture, note) : 0;
  }
  for (; members; members &= members - 1) {
    ++n;
  }
  // Where scale tones pass, so do the chord's others
  cr_assert(
    allows->scale_share > 0.0F || n < allows->chord_tones, "%s", answer->why);
  cr_assert_leq(answer->heard.measures.range, range, "%s", answer->why);
}

static void
check_ornaments(const Fixture* const fixture, const Answer* const answer)
{
  const OrnamentRung* const allows =
    &fixture->ladder.ornament[rung_of(fixture, DIMENSION_ORNAMENT)];
  unsigned run = 0;
  for (unsigned i = 0; i < answer->n_notes; ++i) {
    run = answer->is_ornament[i] ? run + 1 : 0;
    cr_assert(run == 0 || allows->crushed_share > 0.0F, "%s", answer->why);
    cr_assert(run < 2 || allows->turns, "%s", answer->why);
    cr_assert_leq(run, TURN_NOTES);
  }
}

void
holds_to_ladder(const Fixture* const fixture,
                const Answer* const  answer,
                const unsigned       bars)
{
  check_rhythm(fixture, answer, bars);
  check_notes(fixture, answer);
  check_ornaments(fixture, answer);
}

Rung
holds_draw_rung(Rng* const rng)
{
  Rung rung = {{1, 1, 1, 1}};
  for (unsigned d = 0; d < N_DIMENSIONS; ++d) {
    rung.level[d] =
      (uint8_t)(1 + rng_below(rng, dimension_rungs((Dimension)d)));
  }
  return rung;
}
