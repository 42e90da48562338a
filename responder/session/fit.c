#include "responder/session/fit.h"

#include "core/music/chord.h"
#include "core/music/pitch.h"
#include "core/music/spelling.h"
#include "core/music/swing.h"

#include <stddef.h>
#include <stdio.h>

// Common practice, no source
static const uint8_t idea_velocity = 80;
static const double  held_share    = 0.8; // Of its beat, a note that is added

static void
hear(Answer* const answer, const FitTurn* const turn)
{
  hear_written(&answer->heard,
               &turn->ear,
               answer->notes,
               answer->grid_ticks,
               answer->is_ornament,
               answer->n_notes,
               turn->start,
               turn->end);
}

/// Return the chord tick of the answer's note, as the listener heard it.
static Tick
chord_tick(const Answer* const answer, const unsigned i, const FitTurn* turn)
{
  return i < answer->heard.n_notes
           ? heard_note_chord_tick(&answer->heard.notes[i], turn->ear.chart)
           : answer->grid_ticks[i];
}

/// What a note may become: pitch classes over a chord.
typedef struct {
  const Chart* chart;
  Tick         tick;
  uint16_t     classes; ///< Bits
} Allowed;

static uint16_t
bit_of(const unsigned key)
{
  return (uint16_t)(1U << key % OCTAVE);
}

static uint16_t
classes_up_to(const Chart* const chart, const Tick tick, const Role role)
{
  uint16_t classes = 0;
  for (unsigned pc = 0; pc < OCTAVE; ++pc) {
    if (hear_role(chart, tick, pc) <= role) {
      classes |= bit_of(pc);
    }
  }
  return classes;
}

static uint16_t
root_at(const Chart* const chart, const Tick tick)
{
  return classes_up_to(chart, tick, ROLE_ROOT);
}

/// Return the nearest key of some classes within the range; of two the lower;
/// the key itself if there is none.
static uint8_t
nearest(const uint8_t key, const uint16_t classes, const FitTurn* const turn)
{
  for (unsigned step = 0; step <= OCTAVE; ++step) {
    if (key >= turn->lowest + step && classes & bit_of(key - step)) {
      return (uint8_t)(key - step);
    }
    if (key + step <= turn->highest && classes & bit_of(key + step)) {
      return (uint8_t)(key + step);
    }
  }
  return key;
}

static uint8_t
within_range(unsigned key, const FitTurn* const turn)
{
  while (key > turn->highest) {
    key -= OCTAVE;
  }
  while (key < turn->lowest) {
    key += OCTAVE;
  }
  return (uint8_t)key;
}

/// Return chord and scale tones but for those a semitone above a chord tone,
/// which want to move (common practice, no source).
static uint16_t
mild_at(const Chart* const chart, const Tick tick)
{
  const uint16_t tones = classes_up_to(chart, tick, ROLE_CHORD_TONE);
  const uint16_t above = (uint16_t)(tones << 1U | tones >> (OCTAVE - 1));
  const uint16_t scale = classes_up_to(chart, tick, ROLE_SCALE_TONE);
  return (uint16_t)((scale & ~above) | tones);
}

/// Return what goes both now and where it is given back; a last note lands now,
/// at least.
static uint16_t
classes_for_both(const Tick tick, const bool is_last, const FitTurn* const turn)
{
  const Chart* const chart = turn->ear.chart;
  const uint16_t     now = is_last ? classes_up_to(chart, tick, ROLE_CHORD_TONE)
                                   : mild_at(chart, tick);
  const uint16_t     both = now & mild_at(chart, tick + turn->later);
  return both ? both : now;
}

/// Return where the note of another turn stands in this one: over a chord that
/// it is a stranger to it moves, and the last note lands.
static uint8_t
key_again(const HeardNote* const note,
          const Tick             later,
          const bool             is_last,
          const FitTurn* const   turn)
{
  const Chart* const chart = turn->ear.chart;
  const Tick         tick  = heard_note_chord_tick(note, chart) + later;
  const uint8_t      key   = within_range(note->note.pitch, turn);
  const Role         as    = is_last ? ROLE_CHORD_TONE : (Role)note->role;
  const Role         may   = as == ROLE_ROOT ? ROLE_CHORD_TONE : as;
  const uint16_t     goes  = turn->later ? classes_for_both(tick, is_last, turn)
                                         : classes_up_to(chart, tick, may);
  return nearest(key, goes, turn);
}

void
fit_again(Answer* const        answer,
          const Phrase* const  phrase,
          const FitTurn* const turn)
{
  const Tick             later = turn->start - phrase->start_tick;
  const HeardNote* const last =
    phrase->n_notes ? phrase_last_written(phrase) : NULL;
  Answer again = {.move = MOVE_REPEAT};
  for (unsigned i = 0; i < phrase->n_notes && i < ANSWER_CAPACITY; ++i) {
    const HeardNote* const heard = &phrase->notes[i];
    Note                   note  = heard->note;
    note.pitch                   = key_again(heard, later, heard == last, turn);
    note.tick += later;
    if (note.tick < turn->end) {
      again.grid_ticks[again.n_notes]  = heard->grid_tick + later;
      again.is_ornament[again.n_notes] = heard->is_ornament;
      again.notes[again.n_notes++]     = note;
    }
  }
  const Idea of = idea_of(phrase, false);
  hear(&again, turn);
  const Idea as  = idea_of(&again.heard, false);
  again.likeness = idea_likeness(&of, &as);
  (void)snprintf(again.why,
                 sizeof(again.why),
                 "The same again, as the chords there have it.");
  *answer = again;
}

void
fit_idea(Answer* const        answer,
         const Idea* const    idea,
         const double         swing_ratio,
         const FitTurn* const turn)
{
  const Meter meter = turn->ear.chart->meter;
  Answer      said  = {.n_notes = 0};
  for (unsigned i = 0; i < idea->n_notes; ++i) {
    const Tick grid = turn->start + idea->ticks[i];
    const Tick tick = swing_place(meter, grid, swing_ratio);
    const Tick end  = swing_place(meter, grid + idea->lengths[i], swing_ratio);
    if (end <= turn->end) {
      said.grid_ticks[said.n_notes] = grid;
      said.notes[said.n_notes++] =
        (Note){tick, end - tick, idea->pitches[i], idea_velocity};
    }
  }
  hear(&said, turn);
  fit_again(answer, &said.heard, turn);
}

/// Go on by a beat to the next chord tone; false if there is no room.
static bool
lengthen(Answer* const answer, const FitTurn* const turn)
{
  const Chart* const chart = turn->ear.chart;
  const Tick         beat  = meter_beat_ticks(chart->meter);
  const unsigned     n     = answer->n_notes;
  const Note         last  = answer->notes[n - 1];
  const Tick         grid  = answer->grid_ticks[n - 1] + beat;
  if (grid + beat >= turn->end) {
    return false;
  }
  const uint16_t tones   = classes_up_to(chart, grid, ROLE_CHORD_TONE);
  const uint16_t others  = (uint16_t)(tones & ~bit_of(last.pitch));
  const uint16_t may     = others ? others : tones;
  answer->grid_ticks[n]  = grid;
  answer->is_ornament[n] = false;
  answer->notes[n]       = (Note){last.tick + beat,
                                  (Tick)(held_share * (double)beat),
                                  nearest(last.pitch, may, turn),
                                  last.velocity};
  if (last.tick + last.length > answer->notes[n].tick) {
    answer->notes[n - 1].length = (Tick)(held_share * (double)beat);
  }
  ++answer->n_notes;
  return true;
}

/// Let the last note be one of the chord that it is held into, and what is
/// given back one of both.
static void
settle(Answer* const answer, const FitTurn* const turn)
{
  const unsigned n = answer->n_notes;
  for (unsigned i = turn->later || n == 0 ? 0 : n - 1; i < n; ++i) {
    const Tick     tick = chord_tick(answer, i, turn);
    const uint16_t goes =
      turn->later ? classes_for_both(tick, i + 1 == n, turn)
                  : classes_up_to(turn->ear.chart, tick, ROLE_CHORD_TONE);
    answer->notes[i].pitch = nearest(answer->notes[i].pitch, goes, turn);
  }
}

/// Let the last note sound for a beat where there is room.
static void
hold_last(Answer* const answer, const FitTurn* const turn)
{
  if (answer->n_notes) {
    Note* const note = &answer->notes[answer->n_notes - 1];
    const Tick  beat = meter_beat_ticks(turn->ear.chart->meter) * 9 / 10;
    const Tick  room = turn->end - note->tick;
    const Tick  held = beat < room ? beat : room;
    note->length     = note->length > held ? note->length : held;
  }
}

void
fit_cell(Answer* const        answer,
         const unsigned       n_notes,
         const FitTurn* const turn)
{
  unsigned n       = 0;
  bool     is_home = false;
  for (unsigned i = 0;
       i < answer->heard.n_notes && i < answer->n_notes && !is_home;
       ++i) {
    if (!answer->is_ornament[i]) {
      answer->notes[n]       = answer->notes[i];
      answer->grid_ticks[n]  = answer->grid_ticks[i];
      answer->is_ornament[n] = false;
      ++n;
      is_home = n >= n_notes && answer->heard.notes[i].role <= ROLE_CHORD_TONE;
    }
  }
  answer->n_notes = n;
  while (answer->n_notes > 0 && answer->n_notes < n_notes &&
         lengthen(answer, turn)) {
  }
  hold_last(answer, turn);
  hear(answer, turn);
  settle(answer, turn);
  hear(answer, turn);
}

/// Return the classes that are kept over the chord of a tick: the root, and
/// what the answer takes first.
static uint16_t
few_over(const Answer* const  answer,
         const unsigned       n_notes,
         const uint16_t       root,
         const FitTurn* const turn)
{
  uint16_t classes = root;
  unsigned n       = 1;
  for (unsigned i = 0; i < answer->n_notes && n < n_notes; ++i) {
    const Tick     tick = chord_tick(answer, i, turn);
    const uint16_t own  = bit_of(answer->notes[i].pitch);
    if (root_at(turn->ear.chart, tick) == root && !(classes & own) &&
        hear_role(turn->ear.chart, tick, answer->notes[i].pitch) <=
          ROLE_CHORD_TONE) {
      classes |= own;
      ++n;
    }
  }
  return classes;
}

void
fit_few(Answer* const answer, const unsigned n_notes, const FitTurn* const turn)
{
  uint8_t keys[ANSWER_CAPACITY];
  for (unsigned i = 0; i < answer->n_notes; ++i) {
    const uint16_t root = root_at(turn->ear.chart, chord_tick(answer, i, turn));
    keys[i]             = nearest(
      answer->notes[i].pitch, few_over(answer, n_notes, root, turn), turn);
  }
  for (unsigned i = 0; i < answer->n_notes; ++i) {
    answer->notes[i].pitch = keys[i];
  }
  hear(answer, turn);
}

void
fit_end(Answer* const answer, const bool is_open, const FitTurn* const turn)
{
  const Chart* const chart = turn->ear.chart;
  unsigned           last  = answer->n_notes;
  while (last > 0 && answer->is_ornament[last - 1]) {
    --last;
  }
  if (last == 0) {
    return;
  }
  const Tick     tick  = chord_tick(answer, last - 1, turn);
  const uint16_t root  = root_at(chart, tick);
  const uint16_t tones = classes_up_to(chart, tick, ROLE_CHORD_TONE);
  const uint16_t home  = bit_of(spelling_pitch_class(chart->key.tonic)) | root;
  const uint16_t open  = (uint16_t)(tones & ~home);
  Note* const    note  = &answer->notes[last - 1];
  const uint16_t classes = is_open ? open : root;
  note->pitch            = nearest(note->pitch, classes, turn);
  hear(answer, turn);
}

unsigned
fit_most_notes(const Phrase* const phrase, const Chart* const chart)
{
  uint16_t used[OCTAVE] = {0}; // By root
  unsigned most         = 0;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const HeardNote* const note = &phrase->notes[i];
    if (!note->is_ornament) {
      const Chord* const chord =
        chart_chord_at(chart, heard_note_chord_tick(note, chart));
      const unsigned root =
        chord_is_silence(chord) ? 0 : spelling_pitch_class(chord->root);
      used[root] |= bit_of(note->note.pitch);
      unsigned n = 0;
      for (unsigned pc = 0; pc < OCTAVE; ++pc) {
        n += (unsigned)used[root] >> pc & 1U;
      }
      most = n > most ? n : most;
    }
  }
  return most;
}
