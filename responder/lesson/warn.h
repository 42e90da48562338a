/// @file responder/lesson/warn.h What is said of a take that is not quite as it
/// should be, one line each.

#ifndef RESPONDER_LESSON_WARN_H
#define RESPONDER_LESSON_WARN_H

#include "core/music/meter.h"
#include "core/tick.h"
#include "profiles/choices/choices.h"
#include "responder/lesson/notices.h"
#include "responder/record/take.h"

/// Say what the reader found wrong with the file.
void
warn_of_damage(Notices* notices, const char* path, const Take* take);

/// Say what the reader found wrong with the file, and whether it holds no note.
void
warn_of_take(Notices* notices, const char* path, const Take* take);

/// Say that the take's tempo is out of reach, and which one is used.
void
warn_of_tempo(Notices*    notices,
              const char* path,
              const Take* take,
              double      used_bpm);

/// Say how many notes begin at or after a tick, the end of what is heard.
void
warn_of_rest(Notices*    notices,
             const char* path,
             const Take* take,
             Tick        end,
             Meter       meter);

/// Say which files have changed between the choices of a recording and those
/// that are loaded.
void
warn_of_changes(Notices* notices, const Choices* then, const Choices* now);

#endif // RESPONDER_LESSON_WARN_H
