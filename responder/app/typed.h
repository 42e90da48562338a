/// @file responder/app/typed.h Single keys of the terminal, as they are
/// pressed.

#ifndef RESPONDER_APP_TYPED_H
#define RESPONDER_APP_TYPED_H

#include <stdbool.h>
#include <termios.h>

/// What a key asks for.
typedef enum {
  TYPED_NOTHING,
  TYPED_BEGIN, ///< Space: or to pause
  TYPED_FASTER,
  TYPED_SLOWER,
  TYPED_EASIER,
  TYPED_HARDER,
  TYPED_AGAIN, ///< Of things that come one after the other: this one
  TYPED_NEXT,
  TYPED_LEAVE,
} TypedWish;

/// The keys in one line, for people.
#define TYPED_HELP                                                             \
  "Space begins and pauses, + and - the tempo, < easier and > harder, "        \
  "q or Ctrl-C leaves."

/// ... where things come one after the other.
#define TYPED_HELP_COURSE                                                      \
  "Space begins and pauses, + and - the tempo, r again, n next, q or Ctrl-C "  \
  "leaves."

/// Zeroed: it is not open.
typedef struct {
  bool           is_open;
  struct termios before;
} Typed;

/// Take keys one by one from now on, if there is a terminal that is ours.
void
typed_open(Typed* typed);

/// Give the terminal back as it was.
void
typed_close(Typed* typed);

/// Take the next wish; TYPED_NOTHING if no key that means any was pressed.
TypedWish
typed_take(const Typed* typed);

#endif // RESPONDER_APP_TYPED_H
