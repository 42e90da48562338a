/// @file responder/say/say_work.h Room for the partner to work in.

#ifndef RESPONDER_SAY_SAY_WORK_H
#define RESPONDER_SAY_SAY_WORK_H

#include "responder/say/thinking.h"

/// Its content means nothing between calls; the caller keeps one, in place.
typedef Thinking SayWork;

#endif // RESPONDER_SAY_SAY_WORK_H
