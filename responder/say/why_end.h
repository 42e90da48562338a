/// @file responder/say/why_end.h Where an answer ends, in words.

#ifndef RESPONDER_SAY_WHY_END_H
#define RESPONDER_SAY_WHY_END_H

#include "core/music/chart.h"
#include "core/music/text.h"
#include "responder/say/answer.h"

/// Return the index of the last note that is no ornament, -1 if there is none.
int
why_end_last(const Answer* answer);

/// Return the first pitch that is no ornament; there must be one.
int
why_end_first_pitch(const Answer* answer);

/// Add `, leading down to E, the third of C7`; nothing, if there is no note.
/// @param home From here on the band is at home.
void
why_end_add(Text* text, const Answer* answer, const Chart* chart, Tick home);

#endif // RESPONDER_SAY_WHY_END_H
