#include "responder/session/fit.h"

#include "core/music/chord.h"
#include "core/music/pitch.h"
#include "core/music/spelling.h"
#include "core/music/swing.h"
#include "responder/session/pattern.h"

#include <stddef.h>

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

/// Return what a note of another turn may become in this one: over a chord that
/// it is a stranger to it moves, and the last note lands.
static uint16_t
goes_again(const HeardNote* const note,
           const Tick             later,
           const bool             is_last,
           const FitTurn* const   turn)
{
  const Chart* const chart = turn->ear.chart;
  // What it is held into there may be another chord
  const Tick tick =
    is_last ? hear_chord_tick(
                chart, note->grid_tick + later, note->grid_length, INT64_MAX)
            : heard_note_chord_tick(note, chart) + later;
  const Role as  = is_last ? ROLE_CHORD_TONE : (Role)note->role;
  const Role may = as == ROLE_ROOT ? ROLE_CHORD_TONE : as;
  return turn->later ? tones_for_both(tick, is_last, turn)
                     : tones_up_to(chart, tick, may);
}

/// A phrase of another turn as it becomes one of this.
typedef struct {
  const Phrase*    phrase;
  const FitTurn*   turn;
  Tick             later;
  int              up;     ///< Octaves, in semitones, into the range there
  const HeardNote* before; ///< The written note before; NULL: none
  uint8_t          key;    ///< ... and what became of it
} Again;

/// Return by how many octaves a phrase moves as one into the range, 0 if it
/// does not fit as one; in semitones.
static int
octaves_up(const Phrase* const phrase, const FitTurn* const turn)
{
  int low  = CHART_NOTHING;
  int high = 0;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const int pitch = phrase->notes[i].note.pitch;
    low             = pitch < low ? pitch : low;
    high            = pitch > high ? pitch : high;
  }
  int up = 0;
  while (low + up < (int)turn->lowest) {
    up += OCTAVE;
  }
  while (high + up > (int)turn->highest) {
    up -= OCTAVE;
  }
  return low + up < (int)turn->lowest ? 0 : up;
}

static uint8_t
key_within(const Again* const again, const unsigned pitch)
{
  return tones_within((unsigned)((int)pitch + again->up), again->turn);
}

/// Return what a written note becomes: what rises or falls goes on doing so,
/// where there is a key for it.
static uint8_t
key_again(const Again* const again, const HeardNote* const note)
{
  const bool     is_last = note == phrase_last_written(again->phrase);
  const uint16_t goes    = goes_again(note, again->later, is_last, again->turn);
  const uint8_t  pitch   = note->note.pitch;
  const uint8_t  key =
    tones_nearest(key_within(again, pitch), goes, again->turn);
  const int was = again->before ? again->before->note.pitch : pitch;
  const int way = (pitch > was) - (pitch < was);
  if ((key - again->key) * way > 0 || way == 0) {
    return key;
  }
  const uint8_t on = tones_onward(again->key, way, goes, again->turn);
  return on == again->key ? key : on;
}

/// Return what a note becomes; an ornament goes with the note that it
/// decorates.
static uint8_t
any_key_again(const Again* const again, const unsigned index)
{
  const HeardNote* const notes = again->phrase->notes;
  unsigned               main  = index;
  while (notes[main].is_ornament && main + 1 < again->phrase->n_notes) {
    ++main;
  }
  const int off = notes[index].note.pitch - notes[main].note.pitch;
  const int key = key_again(again, &notes[main]) + off;
  return tones_within((unsigned)(key < 0 ? key + OCTAVE : key), again->turn);
}

/// Let a cell that would stay on one key begin on another: something is to be
/// listened for.
static void
move_first(Answer* const answer, const FitTurn* const turn)
{
  bool stays = turn->later && answer->n_notes > 1;
  for (unsigned i = 1; stays && i < answer->n_notes; ++i) {
    stays = answer->notes[i].pitch == answer->notes[0].pitch;
  }
  if (stays) {
    const Tick     tick    = chord_tick(answer, 0, turn);
    const uint16_t goes    = tones_for_both(tick, true, turn);
    const uint8_t  key     = answer->notes[0].pitch;
    const uint8_t  up      = tones_onward(key, 1, goes, turn);
    answer->notes[0].pitch = up == key ? tones_onward(key, -1, goes, turn) : up;
  }
}

/// Whether a phrase goes from one key to another.
static bool
moves(const Phrase* const phrase)
{
  bool does = false;
  for (unsigned i = 1; i < phrase->n_notes; ++i) {
    does = does || phrase->notes[i].note.pitch != phrase->notes[0].note.pitch;
  }
  return does;
}

/// Begin a note that was played early when the partner may begin.
static Note
begin_by(Note note, const Tick earliest)
{
  const Tick early = earliest - note.tick;
  if (early > 0) {
    note.tick = earliest;
    note.length -= early < note.length ? early : note.length - 1;
  }
  return note;
}

void
fit_again(Answer* const        answer,
          const Phrase* const  phrase,
          const FitTurn* const turn)
{
  Again  again = {.phrase = phrase,
                  .turn   = turn,
                  .later  = turn->start - phrase->start_tick,
                  .up     = octaves_up(phrase, turn)};
  Answer said  = {.move = MOVE_REPEAT};
  for (unsigned i = 0; i < phrase->n_notes && i < ANSWER_CAPACITY; ++i) {
    const HeardNote* const heard = &phrase->notes[i];
    Note                   note  = heard->note;
    note.pitch                   = any_key_again(&again, i);
    note.tick += again.later;
    if (!heard->is_ornament) {
      again.before = heard;
      again.key    = note.pitch;
    }
    const Tick grid = heard->grid_tick + again.later;
    if (grid >= turn->earliest && note.tick < turn->end) {
      note                           = begin_by(note, turn->earliest);
      said.grid_ticks[said.n_notes]  = grid;
      said.is_ornament[said.n_notes] = heard->is_ornament;
      said.notes[said.n_notes++]     = note;
    }
  }
  const Idea of = idea_of(phrase, false);
  hear(&said, turn);
  if (moves(phrase)) {
    move_first(&said, turn);
    hear(&said, turn);
  }
  const Idea as = idea_of(&said.heard, false);
  said.likeness = idea_likeness(&of, &as);
  *answer       = said;
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
    const Tick grid = idea->ticks[i];
    const Tick tick =
      turn->start +
      swing_place_in(meter, grid, swing_ratio, idea->ticks, idea->n_notes);
    const Tick end = turn->start + swing_place_in(meter,
                                                  grid + idea->lengths[i],
                                                  swing_ratio,
                                                  idea->ticks,
                                                  idea->n_notes);
    if (end <= turn->end) {
      said.grid_ticks[said.n_notes] = turn->start + grid;
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
  const uint16_t tones   = tones_up_to(chart, grid, ROLE_CHORD_TONE);
  const uint16_t others  = (uint16_t)(tones & ~tones_bit(last.pitch));
  const uint16_t may     = others ? others : tones;
  answer->grid_ticks[n]  = grid;
  answer->is_ornament[n] = false;
  answer->notes[n]       = (Note){last.tick + beat,
                                  (Tick)(held_share * (double)beat),
                                  tones_nearest(last.pitch, may, turn),
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
      turn->later ? tones_for_both(tick, i + 1 == n, turn)
      : tones_is_home(tick, turn)
        ? tones_closing(tick, turn)
        : tones_up_to(turn->ear.chart, tick, ROLE_CHORD_TONE);
    answer->notes[i].pitch = tones_nearest(answer->notes[i].pitch, goes, turn);
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
      // What is given back is so long and no longer: its end is settled
      is_home = n >= n_notes &&
                (turn->later || answer->heard.notes[i].role <= ROLE_CHORD_TONE);
    }
  }
  answer->n_notes = n;
  while (answer->n_notes > 0 && answer->n_notes < n_notes &&
         lengthen(answer, turn)) {
  }
  hold_last(answer, turn);
  hear(answer, turn);
  settle(answer, turn);
  move_first(answer, turn);
  hear(answer, turn);
  settle(answer, turn); // What it became may be heard over another chord
  hear(answer, turn);
}

/// Whether two notes of the answer have the same chord.
static bool
share_chord(const Answer* const  answer,
            const unsigned       i,
            const unsigned       j,
            const FitTurn* const turn)
{
  const Chart* const chart = turn->ear.chart;
  return chord_equals(chart_chord_at(chart, chord_tick(answer, i, turn)),
                      chart_chord_at(chart, chord_tick(answer, j, turn)));
}

/// Return the classes that are kept over the chord of a note: the root, and
/// what the answer takes first there.
static uint16_t
few_over(const Answer* const  answer,
         const unsigned       n_notes,
         const unsigned       note,
         const FitTurn* const turn)
{
  const Chart* const chart   = turn->ear.chart;
  const Tick         tick    = chord_tick(answer, note, turn);
  const unsigned     most    = tones_is_home(tick, turn) ? 1 : n_notes;
  uint16_t           classes = tones_closing(tick, turn);
  unsigned           n       = 1;
  for (unsigned i = 0; i < answer->n_notes && n < most; ++i) {
    const uint8_t  key = answer->notes[i].pitch;
    const uint16_t own = tones_bit(key);
    if (share_chord(answer, note, i, turn) && !(classes & own) &&
        hear_role(chart, chord_tick(answer, i, turn), key) <= ROLE_CHORD_TONE) {
      classes |= own;
      ++n;
    }
  }
  return classes;
}

/// Let each note be one of the few over its chord.
static void
keep_few(Answer* const        answer,
         const unsigned       n_notes,
         const FitTurn* const turn)
{
  uint8_t keys[ANSWER_CAPACITY];
  for (unsigned i = 0; i < answer->n_notes; ++i) {
    keys[i] = tones_nearest(
      answer->notes[i].pitch, few_over(answer, n_notes, i, turn), turn);
  }
  for (unsigned i = 0; i < answer->n_notes; ++i) {
    answer->notes[i].pitch = keys[i];
  }
  hear(answer, turn);
}

/// Let the last note over a chord be its root where no other is.
static void
keep_roots(Answer* const answer, const FitTurn* const turn)
{
  for (unsigned i = 0; i < answer->n_notes; ++i) {
    const uint16_t root    = tones_closing(chord_tick(answer, i, turn), turn);
    unsigned       last    = i;
    bool           is_root = false;
    for (unsigned j = 0; j < answer->n_notes; ++j) {
      if (share_chord(answer, i, j, turn)) {
        is_root = is_root || root & tones_bit(answer->notes[j].pitch);
        last    = j;
      }
    }
    if (!is_root) {
      uint8_t* const pitch = &answer->notes[last].pitch;
      *pitch               = tones_nearest(*pitch, root, turn);
    }
  }
  hear(answer, turn);
}

void
fit_few(Answer* const answer, const unsigned n_notes, const FitTurn* const turn)
{
  keep_few(answer, n_notes, turn);
  keep_few(answer, n_notes, turn);  // It may be heard over another chord by now
  if (n_notes < PATTERN_FEW_MOST) { // A third note may stand for the root
    keep_roots(answer, turn);
  }
}

void
fit_end(Answer* const answer, const bool is_open, const FitTurn* const turn)
{
  unsigned last = answer->n_notes;
  while (last > 0 && answer->is_ornament[last - 1]) {
    --last;
  }
  if (last == 0) {
    return;
  }
  const Tick     tick = chord_tick(answer, last - 1, turn);
  Note* const    note = &answer->notes[last - 1];
  const uint16_t classes =
    is_open ? tones_open(tick, turn) : tones_closing(tick, turn);
  note->pitch = tones_nearest(note->pitch, classes, turn);
  hear(answer, turn);
}

static const Chord*
chord_of(const HeardNote* const note, const Chart* const chart)
{
  return chart_chord_at(chart, heard_note_chord_tick(note, chart));
}

/// Return the classes that were used over the chord of a note.
static uint16_t
used_over(const Phrase* const phrase, const unsigned note, const Chart* chart)
{
  const Chord* const chord = chord_of(&phrase->notes[note], chart);
  uint16_t           used  = 0;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const HeardNote* const other = &phrase->notes[i];
    if (!other->is_ornament && chord_equals(chord_of(other, chart), chord)) {
      used |= tones_bit(other->note.pitch);
    }
  }
  return used;
}

unsigned
fit_most_notes(const Phrase* const phrase, const Chart* const chart)
{
  unsigned most = 0;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const uint16_t used = used_over(phrase, i, chart);
    unsigned       n    = 0;
    for (unsigned pc = 0; pc < OCTAVE; ++pc) {
      n += (unsigned)used >> pc & 1U;
    }
    most = n > most ? n : most;
  }
  return most;
}

bool
fit_has_roots(const Phrase* const phrase, const Chart* const chart)
{
  bool has = true;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const Chord* const chord = chord_of(&phrase->notes[i], chart);
    if (!phrase->notes[i].is_ornament && !chord_is_silence(chord)) {
      const uint16_t root = tones_bit(spelling_pitch_class(chord->root));
      has                 = has && used_over(phrase, i, chart) & root;
    }
  }
  return has;
}
