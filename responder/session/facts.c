#include "responder/session/facts.h"

#include "core/music/chord.h"
#include "core/music/pitch.h"
#include "core/music/spelling.h"
#include "responder/hear/ideas.h"

#include <math.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>

// From where on something is heard so; common practice, no source.
static const float    same_rhythm  = 0.75F; // Likeness, as of an idea again
static const unsigned rhythm_notes = 3;     // Fewer make none of their own
static const unsigned shaped_notes = 5;

static const unsigned peak_notes = 5;
static const unsigned peak_range = 7; // Semitones

/// A quarter of silence is room; common practice, no source.
static const double roomy_space = 0.25;

// Likewise
static const double steady_ms  = 25.0;
static const double centred_ms = 40.0;

HeardNote
facts_last(const Phrase* const phrase)
{
  const Landing* const landing = &phrase->landing;
  return landing->is_there ? (HeardNote){.note        = landing->note,
                                         .grid_tick   = landing->grid_tick,
                                         .grid_length = landing->note.length,
                                         .role        = landing->role}
                           : *phrase_last_written(phrase);
}

bool
facts_has_landed(const Phrase* const phrase)
{
  return !phrase->runs_on && facts_last(phrase).role <= ROLE_CHORD_TONE;
}

bool
facts_leaves_room(const double space)
{
  return space >= roomy_space;
}

bool
facts_is_steady(const double spread_ms, const double offset_ms)
{
  return spread_ms <= steady_ms && fabs(offset_ms) <= centred_ms;
}

static bool
is_outside(const HeardNote* const note)
{
  return !note->is_ornament && note->role == ROLE_OUTSIDE;
}

const HeardNote*
facts_outside(const Phrase* const phrase, const Resolution resolution)
{
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const HeardNote* const note = &phrase->notes[i];
    if (is_outside(note) && note->resolution == resolution) {
      return note;
    }
  }
  return NULL;
}

/// Whether each note outside of a name was led; the landing never is.
static bool
is_always_led(const Phrase* const phrase, const unsigned pitch)
{
  const Landing* const landing = &phrase->landing;
  bool is_led = !(landing->is_there && landing->role == ROLE_OUTSIDE &&
                  landing->note.pitch % OCTAVE == pitch % OCTAVE);
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const HeardNote* const note = &phrase->notes[i];
    is_led                      = is_led && !(is_outside(note) &&
                         note->note.pitch % OCTAVE == pitch % OCTAVE &&
                         note->resolution != RESOLUTION_LED);
  }
  return is_led;
}

static bool
is_of_key(const unsigned pitch, const Key key)
{
  return (unsigned)key_pitch_classes(key) >> pitch % OCTAVE & 1U;
}

const HeardNote*
facts_led(const Phrase* const phrase, const Key key)
{
  const HeardNote* found = NULL;
  unsigned         n_led = 0;
  unsigned         n_left =
    phrase->landing.is_there && phrase->landing.role == ROLE_OUTSIDE;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const HeardNote* const note = &phrase->notes[i];
    n_led += is_outside(note) && note->resolution == RESOLUTION_LED;
    n_left += is_outside(note) && note->resolution == RESOLUTION_LEFT;
    if (!found && is_outside(note) && !is_of_key(note->note.pitch, key) &&
        is_always_led(phrase, note->note.pitch)) {
      found = note;
    }
  }
  return n_left > n_led ? NULL : found;
}

bool
facts_takes_rhythm(const Phrase* const phrase, const Phrase* const said)
{
  const Idea mine   = idea_of(phrase, true);
  const Idea theirs = idea_of(said, false);
  return mine.n_notes >= rhythm_notes && theirs.n_notes >= rhythm_notes &&
         idea_likeness(&mine, &theirs).rhythm >= same_rhythm;
}

bool
facts_begins_from(const Phrase* const phrase, const Phrase* const said)
{
  return phrase->n_notes > 0 && said->n_notes > 0 &&
         phrase->notes[0].note.pitch % OCTAVE ==
           phrase_last_written(said)->note.pitch % OCTAVE;
}

unsigned
facts_dynamics(const Phrase* const phrase)
{
  unsigned least = 127;
  unsigned most  = 0;
  unsigned n     = 0;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const unsigned velocity = phrase->notes[i].note.velocity;
    if (!phrase->notes[i].is_ornament) {
      least = velocity < least ? velocity : least;
      most  = velocity > most ? velocity : most;
      ++n;
    }
  }
  return n >= shaped_notes ? most - least : 0;
}

double
facts_lean(const Phrase* const phrase)
{
  double   sum = 0.0;
  unsigned n   = 0;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    if (!phrase->notes[i].is_ornament) {
      sum += phrase->notes[i].note.velocity;
      ++n;
    }
  }
  return phrase->target < phrase->n_notes && n
           ? phrase->notes[phrase->target].note.velocity - sum / n
           : 0.0;
}

const HeardNote*
facts_peak(const Phrase* const phrase)
{
  const HeardNote* top    = NULL;
  const HeardNote* first  = NULL;
  unsigned         lowest = 127;
  unsigned         n_top  = 0;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const HeardNote* const note = &phrase->notes[i];
    if (!note->is_ornament) {
      const unsigned pitch = note->note.pitch;
      const int      above = top ? (int)pitch - (int)top->note.pitch : 1;
      n_top                = above > 0 ? 1 : n_top + (above == 0);
      top                  = above > 0 ? note : top;
      first                = first ? first : note;
      lowest               = pitch < lowest ? pitch : lowest;
    }
  }
  const bool is_one = n_top == 1 && top != first &&
                      top != phrase_last_written(phrase) &&
                      top->resolution != RESOLUTION_LEFT &&
                      !(phrase->landing.is_there &&
                        phrase->landing.note.pitch >= top->note.pitch);
  return is_one &&
             phrase->n_notes - phrase->measures.n_ornaments >= peak_notes &&
             top->note.pitch - lowest >= peak_range
           ? top
           : NULL;
}

// The chord that moves

static const Chord*
chord_of(const HeardNote* const note, const Chart* const chart)
{
  return chart_chord_at(chart, heard_note_chord_tick(note, chart));
}

static bool
is_tone(const Chord* const chord, const unsigned pitch)
{
  return !chord_is_silence(chord) && chord_has_core_tone(chord, pitch);
}

/// Write the name of a note as it is written: as it leads to the next one.
static void
name_note(const Chart* const     chart,
          const Phrase* const    phrase,
          const HeardNote* const note,
          char                   name[SPELLING_TEXT_CAPACITY])
{
  unsigned i = 0;
  while (i < phrase->n_notes &&
         (phrase->notes[i].note.tick != note->note.tick ||
          phrase->notes[i].note.pitch != note->note.pitch)) {
    ++i;
  }
  const unsigned next =
    i + 1 < phrase->n_notes ? phrase->notes[i + 1].note.pitch : CHART_NOTHING;
  (void)spelling_text(
    chart_spell_leading(
      chart, heard_note_chord_tick(note, chart), note->note.pitch, next),
    name);
}

/// Write a note as it was, and as it is over a chord: `Eb over F7`.
static void
name_move(const Chart* const     chart,
          const Phrase* const    phrase,
          const HeardNote* const from,
          const Tick             tick,
          const unsigned         to,
          FactWords* const       words)
{
  const Chord* const chord = chart_chord_at(chart, tick);
  char               symbol[CHORD_TEXT_CAPACITY];
  char               name[SPELLING_TEXT_CAPACITY];
  Spelling           spelling = chart_spell(chart, tick, to);
  (void)chord_spell(chord, to, &spelling);
  name_note(chart, phrase, from, words->note);
  (void)snprintf(words->tone,
                 sizeof(words->tone),
                 "%s over %s",
                 spelling_text(spelling, name),
                 chord_text(chord, symbol));
}

/// Whether a note of one chord is followed by one of the chord after it, a key
/// away, and neither is at home in both.
static bool
goes_with_chord(const HeardNote* const a,
                const HeardNote* const b,
                const Chart* const     chart)
{
  const Chord* const here = chord_of(a, chart);
  const Chord* const then = chord_of(b, chart);
  const Tick next = chart_next_change(chart, heard_note_chord_tick(a, chart));
  return abs(a->note.pitch - b->note.pitch) == 1 && !chord_equals(here, then) &&
         chord_equals(chart_chord_at(chart, next), then) &&
         is_tone(here, a->note.pitch) && !is_tone(here, b->note.pitch) &&
         is_tone(then, b->note.pitch) && !is_tone(then, a->note.pitch);
}

/// Whether a pitch comes back while the chord of a note lasts.
static bool
comes_back(const Phrase* const phrase,
           const unsigned      note,
           const unsigned      pitch,
           const Chart* const  chart)
{
  const Chord* const chord = chord_of(&phrase->notes[note], chart);
  unsigned           i     = note;
  while (
    i < phrase->n_notes &&
    chord_equals(chord_of(&phrase->notes[i], chart), chord) &&
    (phrase->notes[i].is_ornament || phrase->notes[i].note.pitch != pitch)) {
    ++i;
  }
  return i < phrase->n_notes &&
         chord_equals(chord_of(&phrase->notes[i], chart), chord);
}

bool
facts_moved(const Phrase* const phrase,
            const Chart* const  chart,
            FactWords* const    words)
{
  const HeardNote* before = NULL;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const HeardNote* const note = &phrase->notes[i];
    if (before && !note->is_ornament && goes_with_chord(before, note, chart) &&
        !comes_back(phrase, i, before->note.pitch, chart)) {
      name_move(chart,
                phrase,
                before,
                heard_note_chord_tick(note, chart),
                note->note.pitch,
                words);
      return true;
    }
    before = note->is_ornament ? before : note;
  }
  return false;
}

/// Return the chord just before the one at a tick, if a pitch is a tone of it;
/// else NULL.
static const Chord*
chord_before(const Chart* const chart, const Tick tick, const unsigned pitch)
{
  const Chord* const here  = chart_chord_at(chart, tick);
  const Tick         form  = chart_ticks(chart);
  const Tick         place = (tick % form + form) % form;
  const Chord*       last  = NULL; // Of the form, for the choruses after it
  const Chord*       found = NULL;
  for (unsigned i = 0; i < chart->n_changes; ++i) {
    const ChordChange* const change = &chart->changes[i];
    if (!chord_equals(&change->chord, here)) {
      last  = &change->chord;
      found = change->tick <= place ? last : found;
    }
  }
  found = found || tick < form ? found : last;
  return found && is_tone(found, pitch) ? found : NULL;
}

/// Whether a pitch is the second or the sixth, which are at home anywhere.
static bool
is_colour(const Chord* const chord, const unsigned pitch)
{
  const unsigned root = spelling_pitch_class(chord->root);
  const unsigned over = (pitch + OCTAVE - root) % OCTAVE;
  return over == 2 || over == 9;
}

static bool
is_ever_led(const Phrase* const phrase, const unsigned pitch)
{
  bool is = false;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const HeardNote* const note = &phrase->notes[i];
    is = is || (!note->is_ornament && note->resolution == RESOLUTION_LED &&
                note->note.pitch % OCTAVE == pitch % OCTAVE);
  }
  return is;
}

/// Return how much a note that hangs asks for a word.
static unsigned
asks_for_word(const Phrase* const    phrase,
              const HeardNote* const note,
              const Chart* const     chart)
{
  const Chord* const chord = chord_of(note, chart);
  const bool         is_mild =
    chord_is_silence(chord) || is_colour(chord, note->note.pitch);
  const bool is_led = is_ever_led(phrase, note->note.pitch);
  return 1U + (is_mild ? 0U : 2U) + (is_led ? 0U : 1U);
}

const HeardNote*
facts_left(const Phrase* const phrase, const Chart* const chart)
{
  const HeardNote* found = NULL;
  unsigned         most  = 0;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const HeardNote* const note = &phrase->notes[i];
    if (!note->is_ornament && note->resolution == RESOLUTION_LEFT) {
      const unsigned asks = asks_for_word(phrase, note, chart);
      found               = asks > most ? note : found;
      most                = asks > most ? asks : most;
    }
  }
  return found;
}

bool
facts_should_move(const Phrase* const phrase,
                  const Chart* const  chart,
                  FactWords* const    words)
{
  const HeardNote* const left = facts_left(phrase, chart);
  const HeardNote        last = facts_last(phrase);
  const HeardNote* const note = left ? left : &last;
  const Tick             tick = heard_note_chord_tick(note, chart);
  const Chord* const     here = chart_chord_at(chart, tick);
  const unsigned         from = note->note.pitch;
  const int              to   = is_tone(here, from + OCTAVE - 1)   ? -1
                                : is_tone(here, from + OCTAVE + 1) ? 1
                                                                   : 0;
  const Chord* const     was  = chord_before(chart, tick, from);
  if (note->role <= ROLE_CHORD_TONE || to == 0 || is_colour(here, from) ||
      !was) {
    return false;
  }
  char     name[SPELLING_TEXT_CAPACITY];
  Spelling spelling = chart_spell(chart, tick, from);
  name_move(chart, phrase, note, tick, from + OCTAVE + (unsigned)to, words);
  (void)chord_spell(was, from, &spelling); // As it was before the chord moved
  (void)snprintf(
    words->note, sizeof(words->note), "%s", spelling_text(spelling, name));
  return true;
}

// Words

static const char*
ordinal(const unsigned number)
{
  static const char* const names[] = {
    "root",
    "second",
    "third",
    "fourth",
    "fifth",
    "sixth",
    "seventh",
  };
  return number >= 1 && number <= 7 ? names[number - 1] : "colour";
}

static void
name_tone(const Chart* const     chart,
          const HeardNote* const note,
          char                   tone[FACTS_TEXT_CAPACITY])
{
  const Chord* const chord =
    chart_chord_at(chart, heard_note_chord_tick(note, chart));
  char symbol[CHORD_TEXT_CAPACITY];
  if (chord_is_silence(chord)) {
    char key[KEY_TEXT_CAPACITY];
    (void)snprintf(
      tone, FACTS_TEXT_CAPACITY, "in %s", key_text(chart->key, key));
    return;
  }
  for (unsigned i = 0; i < chord->n_tones; ++i) {
    const unsigned above =
      (unsigned)chord->tones[i].semitones + spelling_pitch_class(chord->root);
    if (above % OCTAVE == note->note.pitch % OCTAVE) {
      (void)snprintf(tone,
                     FACTS_TEXT_CAPACITY,
                     "the %s of %s",
                     ordinal(chord->tones[i].number),
                     chord_text(chord, symbol));
      return;
    }
  }
  (void)snprintf(
    tone, FACTS_TEXT_CAPACITY, "a tone of %s", chord_text(chord, symbol));
}

void
facts_name(const Chart* const     chart,
           const Phrase* const    phrase,
           const HeardNote* const note,
           FactWords* const       words)
{
  name_note(chart, phrase, note, words->note);
  name_tone(chart, note, words->tone);
}

void
facts_name_landings(const Chart* const     chart,
                    const HeardNote* const note,
                    FactWords* const       words)
{
  const Chord* const chord =
    chart_chord_at(chart, heard_note_chord_tick(note, chart));
  char root[SPELLING_TEXT_CAPACITY];
  char third[SPELLING_TEXT_CAPACITY];
  if (chord_is_silence(chord)) { // The tonic alone is at rest
    const Scale scale =
      chart_scale_at(chart, heard_note_chord_tick(note, chart));
    (void)spelling_text(scale.tonic, root);
    (void)snprintf(words->tone, sizeof(words->tone), "%s", root);
    return;
  }
  if (chord->n_tones < 2) {
    (void)snprintf(words->tone, sizeof(words->tone), "a chord tone");
    return;
  }
  (void)snprintf(
    words->tone,
    sizeof(words->tone),
    "%s or %s",
    spelling_text(chord->root, root),
    spelling_text(spelling_above(chord->root, chord->tones[1]), third));
}
