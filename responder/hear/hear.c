#include "responder/hear/hear.h"

#include "responder/hear/breath.h"
#include "responder/hear/grid.h"
#include "responder/hear/hands.h"
#include "responder/hear/level.h"
#include "responder/hear/measures.h"
#include "responder/hear/ornament.h"
#include "responder/hear/roles.h"
#include "responder/hear/target.h"

#include "core/music/pitch.h"
#include "core/music/swing.h"

#include <assert.h>
#include <math.h>
#include <stddef.h>
#include <stdlib.h>

enum {
  MIDDLE_C        = 60,
  LENGTH_DIVISION = TICKS_PER_EIGHTH / 2 ///< Written lengths are told so finely
};

/// What a line may go on after as one, of a beat: a quaver, and as much more as
/// a hand may be late. Common practice, no source.
enum { RUNS_ON_SIXTEENTHS = 9, SIXTEENTHS = 16 };

/// The usual timing of a stranger, ms: soloists play 21 ms late on the beat
/// (computed from 30 annotated solos; sd between solos 16 ms).
static const struct {
  double spread_ms;
  double lag_ms;
} STRANGER = {20, 20};

/// Feels of a smaller ratio are straight.
static const double LEAST_SWING = 1.2;

static double
ms_per_tick(const Ear* const ear)
{
  return 60000.0 / (ear->tempo_bpm * TICKS_PER_QUARTER);
}

static double
beat_ms(const Ear* const ear)
{
  return ms_per_tick(ear) * (double)meter_beat_ticks(ear->chart->meter);
}

/// What swinging costs a stranger less over a band that swings, in nats: most
/// of what it costs where nothing is known (search.c). By ear.
static const float OVER_A_SWING = 2.5F;

/// The ratio that off-beats are expected to have where they swing.
static double
swing_of_feel(const Ear* const ear)
{
  return ear->swing_ratio >= LEAST_SWING ? ear->swing_ratio
                                         : swing_ratio_by_tempo(ear->tempo_bpm);
}

static Expectation
expect(const Ear* const ear)
{
  const Timekeeping usual = {ear->lag_ms, ear->spread_ms, swing_of_feel(ear)};
  Expectation       expectation =
    acquaintance_expect(ear->acquaintance, ear->chart->meter, usual);
  expectation.may_swing =
    ear->swing_ratio == 0 || ear->swing_ratio >= LEAST_SWING;
  const bool is_stranger =
    !ear->acquaintance || ear->acquaintance->n_turns == 0;
  if (is_stranger && ear->swing_ratio >= LEAST_SWING) {
    expectation.swung_price -= OVER_A_SWING;
  }
  return expectation;
}

static void
begin_phrase(Phrase* const phrase, const Tick start, const Tick end)
{
  assert(end > start);
  phrase->start_tick = start;
  phrase->end_tick   = end;
  phrase->n_notes    = 0;
  phrase->n_comping  = 0;
  phrase->n_dropped  = 0;
  phrase->landing    = (Landing){.is_there = false};
  phrase->runs_on    = false;
  phrase->evidence   = (Evidence){.swung = 0};
}

/// Cut a note that is held over the turn's end.
static void
cut_length(Note* const note, const Tick end)
{
  if (note->tick + note->length > end) {
    note->length = end > note->tick ? end - note->tick : 1;
  }
}

/// A length as it is written: to the next note unless there is a breath.
static Tick
written_length(const HeardNote* const heard, const HeardNote* const next)
{
  const Tick sounding = heard->note.length;
  Tick       written  = (sounding + LENGTH_DIVISION / 2) / LENGTH_DIVISION;
  written = written > 0 ? written * LENGTH_DIVISION : LENGTH_DIVISION;
  if (!next) {
    return written;
  }
  const Tick room = next->grid_tick - heard->grid_tick;
  const Tick rest = next->note.tick - heard->note.tick - sounding;
  return rest < TICKS_PER_EIGHTH || written > room ? room : written;
}

static void
write_lengths(Phrase* const phrase)
{
  const HeardNote* next = NULL;
  for (unsigned i = phrase->n_notes; i-- > 0;) {
    HeardNote* const heard = &phrase->notes[i];
    heard->grid_length =
      heard->is_ornament ? heard->note.length : written_length(heard, next);
    next = heard->is_ornament ? next : heard;
  }
}

/// What follows for each note from the written places.
static void
judge_notes(Phrase* const phrase, const Ear* const ear)
{
  write_lengths(phrase);
  breath_mark(phrase, ms_per_tick(ear));
  roles_judge(phrase, ear->chart);
}

/// What follows for the whole.
static void
judge(Phrase* const phrase, const Ear* const ear)
{
  phrase->target = target_find(phrase, ear->chart->meter);
  measures_take(phrase, ear->chart->meter, ms_per_tick(ear));
  phrase->measures.complexity = level_complexity(phrase, ear->chart);
  phrase->rung                = level_rung(phrase, ear->chart, ear->ladder);
}

Ear
ear_usual(const Chart* const  chart,
          const Ladder* const ladder,
          const double        tempo_bpm)
{
  return (Ear){.chart       = chart,
               .ladder      = ladder,
               .tempo_bpm   = tempo_bpm,
               .split_pitch = MIDDLE_C,
               .spread_ms   = STRANGER.spread_ms,
               .lag_ms      = STRANGER.lag_ms};
}

/// The last note is led home where it goes on by step to a chord tone after the
/// line.
static void
lead_into_landing(Phrase* const phrase)
{
  const Landing* const landing = &phrase->landing;
  for (unsigned i = phrase->n_notes; i > 0; --i) {
    HeardNote* const note = &phrase->notes[i - 1];
    if (!note->is_ornament) {
      const int step = (int)landing->note.pitch - (int)note->note.pitch;
      if (note->resolution == RESOLUTION_LEFT && step != 0 && step >= -2 &&
          step <= 2 && landing->role <= ROLE_CHORD_TONE) {
        note->resolution = RESOLUTION_LED;
      }
      return;
    }
  }
}

/// Return the next note that can be of the line, no more than an octave from
/// where it stands; NULL if there is none.
static const Note*
next_of_line(const Note* const notes,
             const unsigned    n_notes,
             const Note* const line)
{
  for (unsigned i = 0; i < n_notes; ++i) {
    if (abs((int)notes[i].pitch - (int)line->pitch) <= OCTAVE) {
      return &notes[i];
    }
  }
  return NULL;
}

void
hear_landing(Phrase* const     phrase,
             const Ear* const  ear,
             const Note* const after,
             const unsigned    n_after)
{
  phrase->landing = (Landing){.is_there = false};
  phrase->runs_on = false;
  if (phrase->n_notes == 0) {
    return;
  }
  const HeardNote* const last = phrase_last_written(phrase);
  const Note* const      note = next_of_line(after, n_after, &last->note);
  const Tick             end  = phrase->end_tick;
  if (!note || last->grid_tick >= end) { // A shade early: it has landed
    return;
  }
  const Note* const then =
    next_of_line(note + 1, n_after - (unsigned)(note - after) - 1, note);
  const Tick beat = meter_beat_ticks(ear->chart->meter);
  const Tick lag =
    (Tick)lround((double)phrase->measures.offset_ms / ms_per_tick(ear));
  const Tick place = note->tick - lag < end + beat / 4 ? end : end + beat / 2;
  const Tick since = note->tick - last->note.tick;
  const bool is_pick_up = note->tick < end;
  const bool goes_on    = then && then->tick - note->tick < beat / 2;
  if (note->tick - lag <= end + beat / 2 && since <= beat && !is_pick_up &&
      !goes_on) {
    phrase->landing = (Landing){
      .is_there  = true,
      .note      = *note,
      .grid_tick = place,
      .role      = (uint8_t)hear_role(ear->chart, place, note->pitch),
    };
    lead_into_landing(phrase);
  }
  phrase->runs_on = !phrase->landing.is_there &&
                    since <= beat * RUNS_ON_SIXTEENTHS / SIXTEENTHS;
}

void
hear_learn(Acquaintance* const acquaintance,
           const Ear* const    ear,
           const Phrase* const phrase)
{
  acquaintance_learn(
    acquaintance, phrase, ear->chart->meter, beat_ms(ear), swing_of_feel(ear));
}

void
hear_phrase(Phrase* const     phrase,
            HearWork* const   work,
            const Ear* const  ear,
            const Note* const notes,
            const unsigned    n_notes,
            const Tick        start,
            const Tick        end)
{
  begin_phrase(phrase, start, end);
  const double ms = ms_per_tick(ear);
  hands_part(phrase, work, (Hands){ms, ear->split_pitch}, notes, n_notes);
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    cut_length(&phrase->notes[i].note, end);
  }
  ornament_mark(phrase, ms);

  const Meter       meter       = ear->chart->meter;
  const double      beat        = beat_ms(ear);
  const Expectation expectation = expect(ear);
  grid_find(phrase, work, meter, beat, &expectation);
  ornament_place(phrase);
  grid_name_beats(phrase, meter);
  judge_notes(phrase, ear);
  roles_forgive(phrase, meter);
  judge(phrase, ear);
}

void
hear_written(Phrase* const     phrase,
             const Ear* const  ear,
             const Note* const notes,
             const Tick* const grid_ticks,
             const bool* const is_ornament,
             const unsigned    n_notes,
             const Tick        start,
             const Tick        end)
{
  begin_phrase(phrase, start, end);
  phrase->n_notes   = n_notes < PHRASE_CAPACITY ? n_notes : PHRASE_CAPACITY;
  phrase->n_dropped = n_notes - phrase->n_notes;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    phrase->notes[i] = (HeardNote){.note        = notes[i],
                                   .grid_tick   = grid_ticks[i],
                                   .is_ornament = is_ornament[i]};
    cut_length(&phrase->notes[i].note, end);
  }
  ornament_place(phrase);
  grid_guess_swing(phrase, ear->chart->meter);
  grid_name_beats(phrase, ear->chart->meter);
  judge_notes(phrase, ear);
  judge(phrase, ear);
}

Tick
hear_chord_tick(const Chart* const chart,
                const Tick         grid_tick,
                const Tick         length,
                const Tick         next_tick)
{
  return roles_chord_tick(chart, grid_tick, length, next_tick);
}

Role
hear_role(const Chart* const chart, const Tick chord_tick, const unsigned pitch)
{
  return roles_of(chart, chord_tick, pitch);
}
