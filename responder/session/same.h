/// @file responder/session/same.h What is said of a phrase that the partner
/// says again: whether all of it came, and what became of its notes.

#ifndef RESPONDER_SESSION_SAME_H
#define RESPONDER_SESSION_SAME_H

#include "responder/hear/phrase.h"
#include "responder/say/answer.h"

/**
   Write `answer->why`: `The same again, note for note.`

   @param what That comes again: `The same again`.
   @param phrase As it was at first.
   @param last As it was said the last time; NULL: no other way.
*/
void
same_say(Answer*       answer,
         const char*   what,
         const Phrase* phrase,
         const Phrase* last);

#endif // RESPONDER_SESSION_SAME_H
