#include "responder/app/typed.h"

#include <unistd.h>

// Another program may have the terminal: ours is then in the background. What is
// shown may go elsewhere
static bool
is_ours(void)
{
  return isatty(STDIN_FILENO) && tcgetpgrp(STDIN_FILENO) == getpgrp();
}

void
typed_open(Typed* const typed)
{
  typed->is_open = false;
  if (!is_ours() || tcgetattr(STDIN_FILENO, &typed->before)) {
    return;
  }
  struct termios now = typed->before;
  now.c_lflag &= ~(tcflag_t)(ICANON | ECHO); // Ctrl-C stays what it is
  now.c_cc[VMIN]  = 0;
  now.c_cc[VTIME] = 0;
  typed->is_open  = !tcsetattr(STDIN_FILENO, TCSANOW, &now);
}

void
typed_close(Typed* const typed)
{
  if (typed->is_open) {
    (void)tcsetattr(STDIN_FILENO, TCSAFLUSH, &typed->before);
    typed->is_open = false;
  }
}

static TypedWish
wish_of(const char key)
{
  switch (key) {
    case ' ':
      return TYPED_BEGIN;
    case '+':
    case '=': // Where + needs Shift
      return TYPED_FASTER;
    case '-':
      return TYPED_SLOWER;
    case '<':
    case ',':
      return TYPED_EASIER;
    case '>':
    case '.':
      return TYPED_HARDER;
    case 'r':
    case 'R':
      return TYPED_AGAIN;
    case 'n':
    case 'N':
      return TYPED_NEXT;
    case 'q':
    case 'Q':
    case '\4': // Ctrl-D
      return TYPED_LEAVE;
    default:
      return TYPED_NOTHING;
  }
}

TypedWish
typed_take(const Typed* const typed)
{
  TypedWish wish = TYPED_NOTHING;
  char      key  = '\0';
  while (typed->is_open && !wish && read(STDIN_FILENO, &key, 1) == 1) {
    wish = wish_of(key);
  }
  return wish;
}
