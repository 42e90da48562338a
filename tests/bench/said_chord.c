#include "said_chord.h"

#include <stddef.h>
#include <string.h>

#define ON(n) (1U << (n))

enum { N_CLASSES = 12, OCTAVE_BITS = 0xFFF };

/// What a piece of a symbol does to semitones over the root.
typedef struct {
  const char* text;
  unsigned    leaves;
  unsigned    adds;
  bool        has_seventh; ///< Adds one, by quality
} Piece;

// Longer ones first
static const Piece pieces[] = {
  {"add9", 0, ON(2), false},
  {"sus4", ON(3) | ON(4), ON(5), false},
  {"sus2", ON(3) | ON(4), ON(2), false},
  {"6/9", 0, ON(9) | ON(2), false},
  {"aug", ON(7), ON(8), false},
  {"dim", ON(4) | ON(7), ON(3) | ON(6), false},
  {"sus", ON(3) | ON(4), ON(5), false},
  {"alt", ON(7), ON(10) | ON(1) | ON(3) | ON(6) | ON(8), false},
  {"#11", 0, ON(6), false},
  {"b13", 0, ON(8), false},
  {"b5", ON(7), ON(6), false},
  {"#5", ON(7), ON(8), false},
  {"b9", ON(2), ON(1), false},
  {"#9", ON(2), ON(3), false},
  {"69", 0, ON(9) | ON(2), false},
  {"13", 0, ON(9) | ON(2), true},
  {"11", 0, ON(2) | ON(5), true},
  {"9", 0, ON(2), true},
  {"7", 0, 0, true},
  {"6", 0, ON(9), false},
  {"m", ON(4), ON(3), false},
};

static bool
takes(const char** const text, const char* const piece)
{
  const size_t n  = strlen(piece);
  const bool   is = strncmp(*text, piece, n) == 0;
  *text += is ? n : 0;
  return is;
}

/// Read the quality; 0 if a piece of it is unknown.
static unsigned
tones_of(const char* text)
{
  const bool is_diminished = strncmp(text, "dim", 3) == 0;
  bool       is_major      = false;
  unsigned   tones         = ON(0) | ON(4) | ON(7);
  while (*text != '\0' && (*text != '/' || text[1] == '9')) {
    if (takes(&text, "maj") || takes(&text, "Maj")) {
      is_major = true;
      continue;
    }
    size_t i = 0;
    while (i < sizeof(pieces) / sizeof(*pieces) &&
           !takes(&text, pieces[i].text)) {
      ++i;
    }
    if (i == sizeof(pieces) / sizeof(*pieces)) {
      return 0;
    }
    const unsigned seventh = is_major ? 11 : is_diminished ? 9 : 10;
    tones                  = (tones & ~pieces[i].leaves) | pieces[i].adds |
            (pieces[i].has_seventh ? ON(seventh) : 0);
  }
  return tones;
}

SaidChord
said_chord(const char* symbol)
{
  static const unsigned letters[] = {9, 11, 0, 2, 4, 5, 7}; // From A
  if (*symbol < 'A' || *symbol > 'G') {
    return (SaidChord){.tick = 0};
  }
  unsigned root = letters[*symbol++ - 'A'];
  for (; *symbol == 'b' || *symbol == '#'; ++symbol) {
    root += *symbol == '#' ? 1 : N_CLASSES - 1;
  }
  root %= N_CLASSES;
  const unsigned tones = tones_of(symbol) << root;
  return (SaidChord){.root  = root,
                     .tones = (tones | tones >> N_CLASSES) & OCTAVE_BITS};
}

unsigned
said_chord_degree(const SaidChord* const chord, const int pitch)
{
  return ((unsigned)pitch + N_CLASSES - chord->root) % N_CLASSES;
}

bool
said_chord_has(const SaidChord* const chord, const int pitch)
{
  return chord->tones >> (unsigned)(pitch % N_CLASSES) & 1U;
}

bool
said_chord_is_dominant(const SaidChord* const chord)
{
  const int root = (int)chord->root;
  return said_chord_has(chord, root + 4) && said_chord_has(chord, root + 10) &&
         !said_chord_has(chord, root + 6);
}
