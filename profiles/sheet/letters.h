/// @file profiles/sheet/letters.h Names of chords and notes as they are
/// printed: with sharps and flats.

#ifndef PROFILES_SHEET_LETTERS_H
#define PROFILES_SHEET_LETTERS_H

#include "core/music/chord.h"
#include "core/music/key.h"
#include "core/music/scale.h"
#include "profiles/plan/left_hand.h"

enum { LETTERS_CAPACITY = 128 };

/// Write a note's name: `E♭`; a double sharp is `Fx`, as the trade writes it by
/// hand. Return `text`.
const char*
letters_note(Spelling spelling, char text[LETTERS_CAPACITY]);

/// Write a chord's symbol: `F♯m7♭5`.
const char*
letters_chord(const Chord* chord, char text[LETTERS_CAPACITY]);

/// Write a scale's name: `E♭ minor blues`.
const char*
letters_scale(Scale scale, char text[LETTERS_CAPACITY]);

/// Write a key's name: `E♭ major`.
const char*
letters_key(Key key, char text[LETTERS_CAPACITY]);

/// Write a chord's tones from the root up: `C E G B♭`.
const char*
letters_tones(const Chord* chord, char text[LETTERS_CAPACITY]);

/// Write the keys of a chord's shape and their fingers: `C E G B♭   5 3 2 1`.
const char*
letters_shape(const Chord*     chord,
              const HandShape* shape,
              char             text[LETTERS_CAPACITY]);

#endif // PROFILES_SHEET_LETTERS_H
