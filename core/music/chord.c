#include "core/music/chord.h"

#include "core/music/text.h"

#include <string.h>

enum
{
  HIGHEST_NUMBER = 13, // A thirteenth
  LOWEST_COLOUR  = 9,  // Ninths and above are colour
  FLATTEST       = -2, // A diminished seventh is bb7
  SHARPEST       = 2,
};

/// What a suffix has said so far: for each number, the alterations against the
/// major scale that sound; bit 0 is FLATTEST.
typedef struct
{
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
typedef struct
{
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
  static const struct
  {
    char     word[4];
    unsigned number;
  } numbers[]      = { { "13", 13 }, { "11", 11 }, { "9", 9 }, { "5", 5 } };
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
typedef struct
{
  char   word[4];
  int8_t third;
  int8_t fifth;
  int8_t seventh;
} TriadRow;

static TriadRow
read_triad(Reader* const reader)
{
  static const TriadRow triads[] = { { "min", -1, 0, -1 },
                                     { "m", -1, 0, -1 },
                                     { "dim", -1, -1, -2 },
                                     { "aug", 0, 1, -1 } };
  static const TriadRow major    = { "", 0, 0, -1 };

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
  Stack plain = { { 0 } };
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

static bool
read_additions(Reader* const reader, Stack* const stack)
{
  while (reader->at < reader->end) {
    const bool is_open = read_word(reader, "(");
    do {
      if (!read_addition(reader, stack)) {
        return false;
      }
      if (is_open) {
        (void)read_word(reader, ",");
      }
    } while (is_open && !read_word(reader, ")"));
  }
  return true;
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
write_tones(const Stack* const stack, Chord* const chord)
{
  for (unsigned number = 1; number <= HIGHEST_NUMBER; ++number) {
    for (int alter = FLATTEST; alter <= SHARPEST; ++alter) {
      if (!has(stack, number, alter)) {
        continue;
      }
      if (chord->n_tones == CHORD_TONE_CAPACITY) {
        return false;
      }
      const int      semitones = interval_major(number) + alter;
      const uint16_t bit       = (uint16_t)(1U << (unsigned)semitones % 12U);
      chord->tones[chord->n_tones++] =
        (Interval){ (uint8_t)number, (int8_t)semitones };
      chord->all_mask |= bit;
      chord->core_mask |= number < LOWEST_COLOUR ? bit : 0;
    }
  }
  return true;
}

Status
chord_build(Chord* const      chord,
            const Spelling    root,
            const char* const suffix,
            const size_t      length)
{
  Reader reader = { suffix, suffix + length };
  Stack  stack  = { { 0 } };
  Chord  built  = { .root = root, .bass = root };
  if (length >= CHORD_SUFFIX_CAPACITY || !read_suffix(&reader, &stack) ||
      !write_tones(&stack, &built)) {
    return STATUS_SYNTAX;
  }

  memcpy(built.suffix, suffix, length);
  *chord = built;
  return STATUS_OK;
}

/// Return the length of a word that ends with NUL, a blank or `length`.
static size_t
word_length(const char* const text, const size_t length)
{
  size_t n = 0;
  while (n < length && text[n] && text[n] != ' ' && text[n] != '\t') {
    ++n;
  }
  return n;
}

/// Return the length of a symbol without its bass: up to a slash and a letter.
static size_t
length_above_bass(const char* const symbol, const size_t length)
{
  size_t n = 0;
  while (n < length && !(symbol[n] == '/' && n + 1 < length &&
                         symbol[n + 1] >= 'A' && symbol[n + 1] <= 'G')) {
    ++n;
  }
  return n;
}

Status
chord_parse(Chord* const chord, const char* const text, const size_t length)
{
  char         symbol[CHORD_TEXT_CAPACITY] = "";
  const size_t n                           = word_length(text, length);
  if (n >= sizeof(symbol)) {
    return STATUS_SYNTAX;
  }
  memcpy(symbol, text, n);
  if (strcmp(symbol, "N.C.") == 0) {
    *chord = chord_silence();
    return STATUS_OK;
  }

  Spelling     root = { 0, 0 };
  Chord        read = chord_silence();
  const size_t from = spelling_parse(&root, symbol);
  const size_t to   = length_above_bass(symbol, n);
  if (from == 0 || chord_build(&read, root, symbol + from, to - from)) {
    return STATUS_SYNTAX;
  }
  if (to < n && to + 1 + spelling_parse(&read.bass, symbol + to + 1) != n) {
    return STATUS_SYNTAX;
  }
  *chord = read;
  return STATUS_OK;
}

Chord
chord_silence(void)
{
  return (Chord){ .n_tones = 0 };
}

bool
chord_is_silence(const Chord* const chord)
{
  return chord->n_tones == 0;
}

static bool
is_same_spelling(const Spelling a, const Spelling b)
{
  return a.letter == b.letter && a.alter == b.alter;
}

const char*
chord_text(const Chord* const chord, char buffer[CHORD_TEXT_CAPACITY])
{
  char name[SPELLING_TEXT_CAPACITY];
  Text text = text_begin(buffer, CHORD_TEXT_CAPACITY);
  if (chord_is_silence(chord)) {
    text_add(&text, "N.C.");
    return buffer;
  }

  text_add(&text, spelling_text(chord->root, name));
  text_add(&text, chord->suffix);
  if (!is_same_spelling(chord->root, chord->bass)) {
    text_add(&text, "/");
    text_add(&text, spelling_text(chord->bass, name));
  }
  return buffer;
}

static unsigned
semitones_above_root(const Chord* const chord, const unsigned pitch)
{
  return (pitch + 12U - spelling_pitch_class(chord->root)) % 12U;
}

bool
chord_has_root(const Chord* const chord, const unsigned pitch)
{
  return !chord_is_silence(chord) && semitones_above_root(chord, pitch) == 0;
}

bool
chord_has_core_tone(const Chord* const chord, const unsigned pitch)
{
  return chord->core_mask >> semitones_above_root(chord, pitch) & 1U;
}

bool
chord_spell(const Chord* const chord,
            const unsigned     pitch,
            Spelling* const    spelling)
{
  const unsigned above = semitones_above_root(chord, pitch);
  for (unsigned i = 0; i < chord->n_tones; ++i) {
    if ((unsigned)chord->tones[i].semitones % 12U == above) {
      *spelling = spelling_above(chord->root, chord->tones[i]);
      return true;
    }
  }
  return false;
}

static bool
is_hard_to_read(const Chord* const chord)
{
  bool is_hard = chord->root.alter < -1 || chord->root.alter > 1;
  for (unsigned i = 0; i < chord->n_tones; ++i) {
    const int alter = spelling_above(chord->root, chord->tones[i]).alter;
    is_hard         = is_hard || alter < -2 || alter > 2;
  }
  return is_hard;
}

Chord
chord_readable(const Chord* const chord)
{
  Chord readable = *chord;
  if (is_hard_to_read(chord)) {
    readable.root = spelling_plain(chord->root);
    readable.bass = spelling_plain(chord->bass);
    (void)chord_spell(
      &readable, spelling_pitch_class(chord->bass), &readable.bass);
  }
  if (readable.bass.alter < -1 || readable.bass.alter > 1) {
    readable.bass = spelling_plain(readable.bass);
  }
  return readable;
}

Chord
chord_transposed(const Chord* const chord, const Interval interval)
{
  Chord moved = *chord;
  if (!chord_is_silence(chord)) {
    moved.root = spelling_above(chord->root, interval);
    moved.bass = spelling_above(chord->bass, interval);
  }
  return chord_readable(&moved);
}

bool
chord_equals(const Chord* const a, const Chord* const b)
{
  if (chord_is_silence(a) || chord_is_silence(b)) {
    return chord_is_silence(a) && chord_is_silence(b);
  }
  return a->all_mask == b->all_mask &&
         spelling_pitch_class(a->root) == spelling_pitch_class(b->root) &&
         spelling_pitch_class(a->bass) == spelling_pitch_class(b->bass);
}
