/// @file responder/tell/screen.h What a player sees: a line of beats that
/// fills, the chord now and next with its notes, what they play as it comes, a
/// line a turn.
///
/// The line of beats is written over itself, so there is none but on a
/// terminal. All follows its width.

#ifndef RESPONDER_TELL_SCREEN_H
#define RESPONDER_TELL_SCREEN_H

#include "core/tick.h"
#include "responder/session/session.h"

#include <stdbool.h>
#include <stdio.h>

enum {
  SCREEN_LINE   = 512,
  SCREEN_STRUCK = 16, ///< Notes of a turn that are shown, the last ones
};

typedef struct {
  FILE*                 stream;
  const SessionOptions* session;
  bool                  is_terminal; ///< One that can write over a line
  bool                  has_next;    ///< Something comes after its end
  bool                  has_line;    ///< A line of beats stands there unended
  unsigned              columns;     ///< The width it was written for,
  unsigned              taken;       ///< ... and what it takes of that
  Tick                  shown;       ///< The beat that was shown last
  Tick                  first;       ///< Where the count-in begins
  unsigned              turn;        ///< Of the notes that were struck
  unsigned              n_struck;
  HeardKey              struck[SCREEN_STRUCK];
} Screen;

/// @param first Where the count-in begins.
Screen
screen_begin(FILE* stream, const SessionOptions* session, Tick first);

/// Show where we are, if that has changed.
void
screen_beat(Screen* screen, Tick now);

/// Take a key of the player's, to be shown.
void
screen_key(Screen* screen, HeardKey key);

/// Write words of their own, in lines that fit.
void
screen_say(Screen* screen, const char* words);

/// Write a turn: what was heard, or what was answered.
void
screen_turn(Screen* screen, const TurnRecord* record);

/// Leave the line of beats.
void
screen_end(Screen* screen);

/// Write the line of beats for a tick as it fits into so many columns, without
/// its end; return `line`.
const char*
screen_line(const Screen* screen,
            Tick          now,
            unsigned      columns,
            char          line[SCREEN_LINE]);

#endif // RESPONDER_TELL_SCREEN_H
