/// @file responder/app/warn.h What is said of a take that is not quite as it
/// should be, on standard error, one line each.

#ifndef RESPONDER_APP_WARN_H
#define RESPONDER_APP_WARN_H

#include "core/music/meter.h"
#include "core/tick.h"
#include "responder/record/take.h"

/// Say what the reader found wrong with the file.
void
warn_of_damage(const char* path, const Take* take);

/// Say what the reader found wrong with the file, and whether it holds no note.
void
warn_of_take(const char* path, const Take* take);

/// Say that the take's tempo is out of reach, and which one is used.
void
warn_of_tempo(const char* path, const Take* take, double used_bpm);

/// Say how many notes begin at or after a tick, the end of what is heard.
void
warn_of_rest(const char* path, const Take* take, Tick end, Meter meter);

#endif // RESPONDER_APP_WARN_H
