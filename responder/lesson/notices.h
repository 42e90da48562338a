/// @file responder/lesson/notices.h What is worth a line to the player, though
/// nothing failed.

#ifndef RESPONDER_LESSON_NOTICES_H
#define RESPONDER_LESSON_NOTICES_H

enum { NOTICES_CAPACITY = 24, NOTICES_LINE = 512 };

/// Lines in their order; a zeroed one is empty. About 12 KiB.
typedef struct {
  unsigned n;
  char     lines[NOTICES_CAPACITY][NOTICES_LINE];
} Notices;

/// Add a line; what is too long is cut, and what is too many is left out.
__attribute__((format(printf, 2, 3))) void
notices_add(Notices* notices, const char* format, ...);

#endif // RESPONDER_LESSON_NOTICES_H
