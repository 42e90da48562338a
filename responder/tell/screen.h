/// @file responder/tell/screen.h What a player sees: a line of beats that
/// fills, the chord now and next with its notes, a line a turn.
///
/// On a terminal the line of beats is written over itself; elsewhere there is
/// one for each bar. Lines have 79 columns at most.

#ifndef RESPONDER_TELL_SCREEN_H
#define RESPONDER_TELL_SCREEN_H

#include "core/tick.h"
#include "responder/session/session.h"

#include <stdbool.h>
#include <stdio.h>

enum { SCREEN_WIDTH = 79, SCREEN_LINE = 320 };

typedef struct {
  FILE*                 stream;
  const SessionOptions* session;
  bool                  is_terminal;
  bool                  has_line; ///< A line of beats stands there unended
  Tick                  shown;    ///< The beat or bar that was shown last
} Screen;

Screen
screen_begin(FILE* stream, const SessionOptions* session);

/// Show where we are, if that has changed.
void
screen_beat(Screen* screen, Tick now);

/// Write a line of its own, cut to the screen's width.
void
screen_say(Screen* screen, const char* words);

/// Write a turn: what was heard, or what was answered.
void
screen_turn(Screen* screen, const TurnRecord* record);

/// Leave the line of beats.
void
screen_end(Screen* screen);

/// Write the line of beats for a tick, without its end; return `line`.
const char*
screen_beat_text(const SessionOptions* session,
                 Tick                  now,
                 char                  line[SCREEN_LINE]);

#endif // RESPONDER_TELL_SCREEN_H
