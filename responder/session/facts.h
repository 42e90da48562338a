/// @file responder/session/facts.h What can be said of a phrase: where it
/// ended, what it left, what it took up.

#ifndef RESPONDER_SESSION_FACTS_H
#define RESPONDER_SESSION_FACTS_H

#include "core/music/chart.h"
#include "responder/hear/phrase.h"

#include <stdbool.h>

enum {
  FACTS_TEXT_CAPACITY     = 48,
  FACTS_SILENT_FOR_ASKING = 4, ///< Turns; common practice, no source
};

/// Words for a note, and for what it is or becomes.
typedef struct {
  char note[FACTS_TEXT_CAPACITY];
  char tone[FACTS_TEXT_CAPACITY];
} FactWords;

/// Return what the phrase came to, be it after the line. It has a note.
HeardNote
facts_last(const Phrase* phrase);

/// Whether the phrase came to an end, and that on the root or a chord tone, be
/// it after the line. It has a note.
bool
facts_has_landed(const Phrase* phrase);

/// Whether this share of a turn with nothing sounding leaves room.
bool
facts_leaves_room(double space);

/// Whether a phrase is even, and in time: whoever keeps an even distance from
/// the band is not.
bool
facts_is_steady(double spread_ms, double offset_ms);

/// Return the first note outside that was resolved so; NULL if none was.
const HeardNote*
facts_outside(const Phrase* phrase, Resolution resolution);

/// Return the first note outside that was led home, and whose name was each
/// time; NULL if there is none, or more notes outside hang than were led. The
/// key's own notes come from nowhere outside, whatever the scale of the chord.
const HeardNote*
facts_led(const Phrase* phrase, Key key);

/// Return the first note that was left hanging, sooner one that is no colour of
/// its chord, and then one whose name was never led home; NULL if none was.
const HeardNote*
facts_left(const Phrase* phrase, const Chart* chart);

/// Whether the rhythm of another phrase came again.
bool
facts_takes_rhythm(const Phrase* phrase, const Phrase* said);

/// Whether a phrase begins on the note that another ended on, in any octave.
bool
facts_begins_from(const Phrase* phrase, const Phrase* said);

/// Return how far apart the softest and the loudest note are, in velocities; 0
/// where there are too few to tell.
unsigned
facts_dynamics(const Phrase* phrase);

/// Return how much louder the note aimed at is than the phrase on the average,
/// in velocities; negative if it is softer.
double
facts_lean(const Phrase* phrase);

/// Return the highest note, if it is struck once only, on the way and not left
/// hanging, in a phrase wide enough to have one; NULL if there is none.
const HeardNote*
facts_peak(const Phrase* phrase);

/// Whether a tone of one chord moved to the key beside it, a tone of the next
/// chord, as the chord moved: from one note to the next, and not back again.
bool
facts_moved(const Phrase* phrase, const Chart* chart, FactWords* words);

/// Whether a note that was left, or the last, is a tone of the chord just
/// before, and its neighbour one of the chord there.
bool
facts_should_move(const Phrase* phrase, const Chart* chart, FactWords* words);

/// Name a note of a phrase as it is written there, and what it is to its chord:
/// `the third of C7`.
void
facts_name(const Chart*     chart,
           const Phrase*    phrase,
           const HeardNote* note,
           FactWords*       words);

/// Name the two surest landings at a note's place: `C or E`.
void
facts_name_landings(const Chart*     chart,
                    const HeardNote* note,
                    FactWords*       words);

#endif // RESPONDER_SESSION_FACTS_H
