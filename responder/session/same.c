#include "responder/session/same.h"

#include "core/music/pitch.h"

#include <stdbool.h>
#include <stdio.h>

// How much of it is the same; what is not there any more is not looked at
typedef struct {
  bool is_whole;
  bool has_keys;
  bool has_names;
} Sameness;

static Sameness
compare(const Phrase* const phrase, const Answer* const answer)
{
  const unsigned n       = answer->n_notes;
  Sameness       compare = {n >= phrase->n_notes, true, true};
  for (unsigned i = 0; i < n && i < phrase->n_notes; ++i) {
    const unsigned was = phrase->notes[i].note.pitch;
    const unsigned is  = answer->notes[i].pitch;
    compare.has_keys   = compare.has_keys && is == was;
    compare.has_names  = compare.has_names && is % OCTAVE == was % OCTAVE;
  }
  return compare;
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

void
same_say(Answer* const       answer,
         const char* const   what,
         const Phrase* const phrase)
{
  const Sameness    same = compare(phrase, answer);
  const char* const how  = !same.is_whole   ? ", as far as there is room"
                           : same.has_keys  ? ", note for note"
                           : same.has_names ? ""
                           : has_strangers(&answer->heard)
                             ? ", with some notes moved"
                             : ", as the chords there have it";
  (void)snprintf(answer->why, sizeof(answer->why), "%s%s.", what, how);
}
