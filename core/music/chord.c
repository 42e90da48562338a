#include "core/music/chord.h"

#include "core/music/pitch.h"
#include "core/music/suffix.h"
#include "core/music/text.h"

#include <string.h>

enum { LOWEST_COLOUR = 9 }; // Ninths and above are colour

Status
chord_build(Chord* const      chord,
            const Spelling    root,
            const char* const suffix,
            const size_t      length)
{
  Chord    built = {.root = root, .bass = root};
  unsigned n     = 0;
  if (length >= sizeof(built.suffix) ||
      suffix_read(suffix, length, built.tones, &n)) {
    return STATUS_SYNTAX;
  }

  memcpy(built.suffix, suffix, length);
  built.n_tones = (uint8_t)n;
  for (unsigned i = 0; i < n; ++i) {
    const Interval tone = built.tones[i];
    const unsigned bit  = 1U << (unsigned)tone.semitones % PITCH_CLASSES;
    built.all_mask |= (uint16_t)bit;
    built.core_mask |= (uint16_t)(tone.number < LOWEST_COLOUR ? bit : 0U);
  }
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

  Spelling     root = {0, 0};
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
  return (Chord){.n_tones = 0};
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
  return (pitch + PITCH_CLASSES - spelling_pitch_class(chord->root)) %
         PITCH_CLASSES;
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
    if ((unsigned)chord->tones[i].semitones % PITCH_CLASSES == above) {
      *spelling = spelling_above(chord->root, chord->tones[i]);
      return true;
    }
  }
  return false;
}

Chord
chord_readable(const Chord* const chord)
{
  Chord readable = *chord;
  readable.root  = spelling_readable(chord->root, chord->tones, chord->n_tones);
  const bool is_new_root = !is_same_spelling(readable.root, chord->root);
  const bool is_far_bass = chord->bass.alter < -1 || chord->bass.alter > 1;
  if (is_new_root || is_far_bass) {
    readable.bass = spelling_plain(chord->bass);
    (void)chord_spell(
      &readable, spelling_pitch_class(chord->bass), &readable.bass);
  }
  return readable;
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
