/// @file responder/ideas/notebook.h Ideas kept for another day: as text, in
/// another key, as phrases again.

#ifndef RESPONDER_IDEAS_NOTEBOOK_H
#define RESPONDER_IDEAS_NOTEBOOK_H

#include "core/tick.h"
#include "responder/hear/hear.h"
#include "responder/hear/ideas.h"
#include "responder/hear/phrase.h"

#include <stdbool.h>
#include <stdint.h>

enum { NOTEBOOK_TEXT_CAPACITY = 1024 };

/// Write an idea as `tick:length:pitch` of each note, blanks between; return
/// `text`.
const char*
notebook_text(const Idea* idea, char text[NOTEBOOK_TEXT_CAPACITY]);

/**
   Read what notebook_text() wrote, and nothing else: ticks rising from 0, no
   note sounding into the next.

   @param[out] idea Written on success only; id 0.
   @return Whether it is one.
*/
bool
notebook_parse(Idea* idea, const char* text);

/// Bring an idea into the form that notebook_text() keeps: what is picked up
/// before the first beat stands on it, of notes at one place the last stays,
/// and none sounds into the next.
void
notebook_tidy(Idea* idea);

/**
   Move an idea to another key by the shorter way, then by octaves into a range
   if it fits there.

   @param from Tonics, pitch classes.
*/
void
notebook_transpose(Idea*    idea,
                   unsigned from,
                   unsigned to,
                   unsigned lowest,
                   unsigned highest);

/// Return where the last note of an idea ends.
Tick
notebook_end(const Idea* idea);

/// Hear an idea as a phrase in a turn that it fits into; half beats swing.
void
notebook_phrase(Phrase*     phrase,
                const Idea* idea,
                const Ear*  ear,
                double      swing_ratio,
                Tick        start,
                Tick        end);

/// Return which of `n` kept ideas comes back in a session of this seed, from 0;
/// `n` where none does: two sessions in three.
unsigned
notebook_pick(uint64_t seed, unsigned n);

#endif // RESPONDER_IDEAS_NOTEBOOK_H
