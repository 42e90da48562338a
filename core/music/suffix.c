#include "core/music/suffix.h"

#include <stdbool.h>
#include <stdint.h>
#include <string.h>

enum {
  HIGHEST_NUMBER = 13, // A thirteenth
  FLATTEST       = -2, // A diminished seventh is bb7
  SHARPEST       = 2,
};

/// What a suffix has said so far: for each number, the alterations against the
/// major scale that sound; bit 0 is FLATTEST.
typedef struct {
  uint8_t alters[HIGHEST_NUMBER + 1];
} Stack;

static bool
has(const Stack* const stack, const unsigned number, const int alter)
{
  return stack->alters[number] >> (alter - FLATTEST) & 1U;
}

/// Add a tone; false if it is there.
static bool
add(Stack* const stack, const unsigned number, const int alter)
{
  const bool is_new = !has(stack, number, alter);
  stack->alters[number] |= (uint8_t)(1U << (alter - FLATTEST));
  return is_new;
}

static void
take_away(Stack* const stack, const unsigned number)
{
  stack->alters[number] = 0;
}

/// Add an altered tone in the place of the unaltered one; false if it is there.
static bool
alter_tone(Stack* const stack, const unsigned number, const int alter)
{
  if (has(stack, number, 0)) {
    take_away(stack, number);
  }
  return add(stack, number, alter);
}

/// A suffix under the reading finger.
typedef struct {
  const char* at;
  const char* end;
} Reader;

static bool
read_word(Reader* const reader, const char* const word)
{
  const size_t n = strlen(word);
  if ((size_t)(reader->end - reader->at) < n ||
      memcmp(reader->at, word, n) != 0) {
    return false;
  }
  reader->at += n;
  return true;
}

static bool
read_major(Reader* const reader)
{
  return read_word(reader, "maj") || read_word(reader, "Maj");
}

/// Read one of some numbers; 0 if there is none. The longest stand first.
static unsigned
read_number(Reader* const reader, const bool with_fifth)
{
  static const struct {
    char     word[4];
    unsigned number;
  } numbers[]      = {{"13", 13}, {"11", 11}, {"9", 9}, {"5", 5}};
  const unsigned n = with_fifth ? 4 : 3;
  for (unsigned i = 0; i < n; ++i) {
    if (read_word(reader, numbers[i].word)) {
      return numbers[i].number;
    }
  }
  return 0;
}

/// A triad by its word: alterations of third and fifth, and the seventh that
/// goes with it.
typedef struct {
  char   word[4];
  int8_t third;
  int8_t fifth;
  int8_t seventh;
} TriadRow;

static TriadRow
read_triad(Reader* const reader)
{
  static const TriadRow triads[] = {{"min", -1, 0, -1},
                                    {"m", -1, 0, -1},
                                    {"dim", -1, -1, -2},
                                    {"aug", 0, 1, -1}};
  static const TriadRow major    = {"", 0, 0, -1};

  Reader ahead = *reader;
  if (read_major(&ahead)) { // Its m is not that of minor
    return major;
  }
  for (unsigned i = 0; i < sizeof(triads) / sizeof(*triads); ++i) {
    if (read_word(reader, triads[i].word)) {
      return triads[i];
    }
  }
  return major;
}

static void
add_sixth(Reader* const reader, Stack* const stack)
{
  (void)add(stack, 6, 0);
  if (read_word(reader, "/9") || read_word(reader, "9")) {
    (void)add(stack, 9, 0);
  }
}

/// Read what is stacked on the triad; false if it makes no sense.
static bool
read_stack(Reader* const reader, const TriadRow triad, Stack* const stack)
{
  const bool is_major = read_major(reader);
  if (read_word(reader, "6")) {
    add_sixth(reader, stack);
    return !is_major;
  }

  const unsigned top = read_word(reader, "7") ? 7 : read_number(reader, false);
  if (top == 0) {
    return !is_major || !triad.word[0]; // `maj` alone is a major triad
  }
  (void)add(stack, 7, is_major ? 0 : triad.seventh);
  if (top >= 9) {
    (void)add(stack, 9, 0);
    (void)add(stack, top, 0);
  }
  return true;
}

static bool
suspend(Stack* const stack, const unsigned number)
{
  take_away(stack, 3);
  return add(stack, number, 0);
}

/// Make an altered dominant; false unless there is a plain one, or its triad.
static bool
make_altered(Stack* const stack)
{
  if (!stack->alters[7]) {
    (void)add(stack, 7, -1);
  }
  Stack plain = {{0}};
  (void)add(&plain, 1, 0);
  (void)add(&plain, 3, 0);
  (void)add(&plain, 5, 0);
  (void)add(&plain, 7, -1);
  if (memcmp(stack, &plain, sizeof(plain)) != 0) {
    return false;
  }

  take_away(stack, 5);
  return add(stack, 9, -1) && add(stack, 9, 1) && add(stack, 11, 1) &&
         add(stack, 13, -1);
}

/// Read one more word; false if there is none, or if it makes no sense.
static bool
read_addition(Reader* const reader, Stack* const stack)
{
  if (read_word(reader, "sus2")) {
    return suspend(stack, 2);
  }
  if (read_word(reader, "sus4") || read_word(reader, "sus")) {
    return suspend(stack, 4);
  }
  if (read_word(reader, "alt")) {
    return make_altered(stack);
  }
  if (read_major(reader)) {
    return read_word(reader, "7") && !stack->alters[7] && add(stack, 7, 0);
  }

  const int alter = read_word(reader, "b")   ? -1
                    : read_word(reader, "#") ? 1
                                             : 0;
  if (alter == 0) {
    (void)read_word(reader, "add");
  }
  const unsigned number = read_number(reader, alter != 0);
  if (number == 0) {
    return false;
  }
  return alter ? alter_tone(stack, number, alter) : add(stack, number, 0);
}

/// Read the words of a bracket up to its end; commas may stand between them.
static bool
read_bracket(Reader* const reader, Stack* const stack)
{
  bool is_read = read_addition(reader, stack);
  while (is_read && !read_word(reader, ")")) {
    (void)read_word(reader, ",");
    is_read = read_addition(reader, stack);
  }
  return is_read;
}

static bool
read_additions(Reader* const reader, Stack* const stack)
{
  bool is_read = true;
  while (is_read && reader->at < reader->end) {
    is_read = read_word(reader, "(") ? read_bracket(reader, stack)
                                     : read_addition(reader, stack);
  }
  return is_read;
}

static bool
read_suffix(Reader* const reader, Stack* const stack)
{
  (void)add(stack, 1, 0);
  const TriadRow triad = read_triad(reader);
  (void)add(stack, 3, triad.third);
  (void)add(stack, 5, triad.fifth);
  return read_stack(reader, triad, stack) && read_additions(reader, stack);
}

/// Write the tones from the root up; false if there are too many.
static bool
write_tones(const Stack* const stack,
            Interval           tones[CHORD_TONE_CAPACITY],
            unsigned* const    n_tones)
{
  unsigned n = 0;
  for (unsigned number = 1; number <= HIGHEST_NUMBER; ++number) {
    for (int alter = FLATTEST; alter <= SHARPEST; ++alter) {
      if (!has(stack, number, alter)) {
        continue;
      }
      if (n == CHORD_TONE_CAPACITY) {
        return false;
      }
      const int semitones = interval_major(number) + alter;
      tones[n++]          = (Interval){(uint8_t)number, (int8_t)semitones};
    }
  }
  *n_tones = n;
  return true;
}

Status
suffix_read(const char* const text,
            const size_t      length,
            Interval          tones[CHORD_TONE_CAPACITY],
            unsigned* const   n_tones)
{
  Reader reader = {text, text + length};
  Stack  stack  = {{0}};
  return read_suffix(&reader, &stack) && write_tones(&stack, tones, n_tones)
           ? STATUS_OK
           : STATUS_SYNTAX;
}
