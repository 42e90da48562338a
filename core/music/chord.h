/// @file core/music/chord.h A chord: root, bass, the tones above the root.
///
/// Chord is a plain value: copy it, compare it, keep it in arrays.

#ifndef CORE_MUSIC_CHORD_H
#define CORE_MUSIC_CHORD_H

#include "core/attributes.h"
#include "core/music/interval.h"
#include "core/music/spelling.h"
#include "core/status.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum {
  CHORD_TONE_CAPACITY   = 8,
  CHORD_SUFFIX_CAPACITY = 24, ///< With its NUL; a longer one is not read
  CHORD_TEXT_CAPACITY   = 40, ///< Holds any symbol, with its NUL
};

/// A chord, made by chord_parse(), chord_build() or chord_silence().
typedef struct {
  Spelling root;
  Spelling bass;                       ///< The root, but for slash chords
  Interval tones[CHORD_TONE_CAPACITY]; ///< From the root up, {1, 0} first
  uint8_t  n_tones;                    ///< 0: no chord (`N.C.`)
  /// Bit n: n semitones above root, for every tone.
  uint16_t all_mask;
  /// The tones that bear weight, as all_mask: root, third (or the fourth or
  /// second that stands for it), fifth, sixth or seventh. Ninths and above are
  /// colour.
  uint16_t core_mask;
  /// What stands after the root and before the bass, as read.
  char suffix[CHORD_SUFFIX_CAPACITY];
} Chord;

/**
   Read a chord symbol: `C`, `Bbmaj7`, `F#m7b5`, `Abdim7`, `G7b9b13`, `Dm9`,
   `E7#9`, `A13`, `G7sus4`, `C7alt`, `C6/9` or `C69`, `Faug`, `DmMaj7`, `C/E`,
   `Bb9#11`, `D7(b9)`, `N.C.`; extensions and alterations in any number that
   makes sense (`G7sus4913`).

   symbol   = "N.C." | note suffix [ "/" note ] ;
   note     = letter A-G, then up to three "b" or up to three "#" ;
   suffix   = [ triad ] [ stack ] { word | "(" word { [ "," ] word } ")" } ;
   triad    = "m" | "min" | "dim" | "aug" ;              major if there is none
   stack    = [ major ] ( "7" | "9" | "11" | "13" ) | "6" [ [ "/" ] "9" ]
            | major ;                        alone: a major triad, spelled out
   major    = "maj" | "Maj" ;                            of the seventh
   word     = ( "b" | "#" ) ( "5" | "9" | "11" | "13" )
            | [ "add" ] ( "9" | "11" | "13" )
            | "sus4" | "sus2" | "sus" | "alt" | major "7" ;

   Where two readings are possible, the longest word counts. A 9, 11 or 13 in
   the stack brings the seventh; an 11 brings the ninth, a 13 too, but not the
   eleventh. An altered tone takes the place of the unaltered one; two
   alterations of one tone (`7b9#9`) stand side by side. `alt` is b9 #9 #11 b13
   without the fifth. A tone said twice, or a ninth tone, is refused.

   @param[out] chord Written on success only.
   @param text Ends with NUL, a blank or `length`.
   @return STATUS_OK; STATUS_SYNTAX with nothing written.
*/
MUST_USE Status
chord_parse(Chord* chord, const char* text, size_t length);

/**
   Build a chord from its root and a suffix by the grammar above (`m7b5`).

   @return STATUS_OK; STATUS_SYNTAX with nothing written.
*/
MUST_USE Status
chord_build(Chord* chord, Spelling root, const char* suffix, size_t length);

/// Return the absence of a chord, `N.C.`.
Chord
chord_silence(void);

bool
chord_is_silence(const Chord* chord);

/// Write the symbol; return `buffer`.
const char*
chord_text(const Chord* chord, char buffer[CHORD_TEXT_CAPACITY]);

/// Whether a pitch is the root.
bool
chord_has_root(const Chord* chord, unsigned pitch);

/// Whether a pitch is one of the tones that bear weight (core_mask).
bool
chord_has_core_tone(const Chord* chord, unsigned pitch);

/**
   Spell a pitch as the tone of the chord that it is.

   @param[out] spelling Written on success only.
   @return Whether the pitch is one of all the chord's tones.
*/
bool
chord_spell(const Chord* chord, unsigned pitch, Spelling* spelling);

/// Return the chord on a root that can be read, see spelling_readable(), and
/// with a bass that is a chord tone or has one accidental at most.
Chord
chord_readable(const Chord* chord);

/// Whether two chords sound the same (enharmonic spellings are the same).
bool
chord_equals(const Chord* a, const Chord* b);

#endif // CORE_MUSIC_CHORD_H
