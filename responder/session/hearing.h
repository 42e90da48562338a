/// @file responder/session/hearing.h The keys heard, gathered into notes.

#ifndef RESPONDER_SESSION_HEARING_H
#define RESPONDER_SESSION_HEARING_H

#include "core/music/note.h"
#include "core/tick.h"

#include <stdbool.h>
#include <stdint.h>

enum { HEARING_CAPACITY = 1024 };

/// A key going down, or up when its velocity is 0.
typedef struct {
  Tick    tick;
  uint8_t pitch;    ///< 0..127
  uint8_t velocity; ///< 0..127
} HeardKey;

/// The notes of late; zeroed, there are none.
typedef struct {
  unsigned n_notes;
  unsigned n_missed; ///< Notes beyond the capacity, since the beginning
  unsigned n_struck; ///< Keys, since the beginning
  Note     notes[HEARING_CAPACITY]; ///< Rising by tick; length 0 while sounding
  uint16_t sounding[128];           ///< By pitch: index into `notes` + 1, or 0
} Hearing;

/// Take in a key. A key struck again while it is down ends and begins anew; one
/// that comes up without having gone down is of no matter.
void
hearing_key(Hearing* hearing, HeardKey key);

/**
   Copy the notes that begin in a span; those that still sound last to `now`.

   @param[out] notes Room for HEARING_CAPACITY.
   @return How many.
*/
unsigned
hearing_span(const Hearing* hearing, Tick from, Tick to, Tick now, Note* notes);

/// Forget the notes that begin before a tick, the sounding ones too.
void
hearing_forget(Hearing* hearing, Tick before);

/// Whether a note begins in a span.
bool
hearing_has_onset(const Hearing* hearing, Tick from, Tick to);

/// Return where the last note begins; `none` if there is none.
Tick
hearing_last_onset(const Hearing* hearing, Tick none);

/// Return where the last sound ends: `now` while there is any; `none` if there
/// was none.
Tick
hearing_last_sound(const Hearing* hearing, Tick now, Tick none);

/// Return the share, 0..1, of a span in which anything sounds.
double
hearing_share(const Hearing* hearing, Tick from, Tick to, Tick now);

#endif // RESPONDER_SESSION_HEARING_H
