/// @file responder/ideas/excerpt.h Where the first phrase of what was played
/// ends.

#ifndef RESPONDER_IDEAS_EXCERPT_H
#define RESPONDER_IDEAS_EXCERPT_H

#include "core/tick.h"
#include "responder/hear/phrase.h"

/**
   Return the index of the note after the first phrase: it ends with the first
   breath after a bar and a half.

   @param phrase With a note; as the listener heard several bars at once.
   @param bar Ticks of a bar.
*/
unsigned
excerpt_end(const Phrase* phrase, Tick bar);

/**
   Return the bars of an excerpt that ends with a note: those that it touches,
   and two at the least.

   @param from Where it begins.
   @param last Where its last note is written, `from` or later.
*/
Tick
excerpt_bars(Tick from, Tick last, Tick bar);

#endif // RESPONDER_IDEAS_EXCERPT_H
