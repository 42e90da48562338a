#include "responder/session/same.h"

#include "core/music/pitch.h"

#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>

// Which share of the notes is most of them, or that much and more; above which
// they are many. Common practice, no source.
static const double most_notes = 0.5;
static const double many_notes = 1.0 / 3.0;

// Semitones that an interval of a line may be off; likewise
static const int near_line = 4;

// How much of it is the same; what is not there any more is not looked at
typedef struct {
  bool     is_whole;
  bool     has_keys;
  bool     has_line; ///< What rose or fell does so, and about as far
  unsigned n_moved;  ///< Notes of another name
} Sameness;

// Whether one interval is heard in another's place
static bool
stands_for(const int was, const int is)
{
  return (was > 0) == (is > 0) && (was < 0) == (is < 0) &&
         abs(was - is) <= near_line;
}

static Sameness
compare(const Phrase* const phrase, const Answer* const answer)
{
  const unsigned n    = answer->n_notes;
  Sameness       same = {n >= phrase->n_notes, true, true, 0};
  for (unsigned i = 0; i < n && i < phrase->n_notes; ++i) {
    const int was = phrase->notes[i].note.pitch;
    const int is  = answer->notes[i].pitch;
    same.has_keys = same.has_keys && is == was;
    same.n_moved += is % OCTAVE != was % OCTAVE;
    if (i > 0) {
      same.has_line =
        same.has_line && stands_for(was - phrase->notes[i - 1].note.pitch,
                                    is - answer->notes[i - 1].pitch);
    }
  }
  return same;
}

static bool
has_strangers(const Phrase* const heard)
{
  bool has = false;
  for (unsigned i = 0; i < heard->n_notes; ++i) {
    has = has || (!heard->notes[i].is_ornament &&
                  heard->notes[i].role == ROLE_OUTSIDE);
  }
  return has;
}

static const char*
how_of(const Sameness* const same,
       const Answer* const   answer,
       const Phrase* const   last)
{
  const double n     = answer->n_notes;
  const bool   turns = last && compare(last, answer).n_moved > 0;
  if (!same->is_whole) {
    return ", as far as there is room";
  }
  if (same->has_keys) {
    return turns ? ", as it was at first" : ", note for note";
  }
  if (!same->n_moved) {
    return "";
  }
  if (same->has_line && !has_strangers(&answer->heard)) {
    return ", as the chords there have it";
  }
  if (!same->has_line && same->n_moved >= most_notes * n) {
    return " in rhythm, with other notes";
  }
  return same->n_moved > many_notes * n ? ", with many notes moved"
                                        : ", with some notes moved";
}

void
same_say(Answer* const       answer,
         const char* const   what,
         const Phrase* const phrase,
         const Phrase* const last)
{
  const Sameness same = compare(phrase, answer);
  (void)snprintf(answer->why,
                 sizeof(answer->why),
                 "%s%s.",
                 what,
                 how_of(&same, answer, last));
}
