/// @file responder/session/wording.h The words of a sentence, none twice
/// running.

#ifndef RESPONDER_SESSION_WORDING_H
#define RESPONDER_SESSION_WORDING_H

#include "responder/session/facts.h"
#include "responder/session/remark.h"

/// Return the next wording of a kind.
const char*
wording_next(Remarks* remarks, const Sentences* sentences, SentenceKind kind);

/**
   Append the next wording of a kind to a line, or nothing if the whole of it
   has no room.

   @param words For its {note} and {tone}.
*/
void
wording_say(Remarks*         remarks,
            const Sentences* sentences,
            SentenceKind     kind,
            const FactWords* words,
            char             text[REMARK_CAPACITY]);

#endif // RESPONDER_SESSION_WORDING_H
