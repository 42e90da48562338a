#include "profiles/sheet/draw.h"

#include "profiles/sheet/ink.h"
#include "profiles/sheet/letters.h"

#include <stdio.h>

// By eye, points
static const double names_base  = 11.0;
static const double scale_base  = 22.0;
static const double keys_top    = 36.0;
static const double keys_height = 34.0;
static const double left_base   = 91.0;
static const double black_depth = 0.6;  // Of the height
static const double black_width = 0.62; // Of a white key's
static const double name_size   = 7.0;
static const double mark_radius = 2.9;

/// A keyboard on paper.
typedef struct {
  Paper*     paper;
  PaperPoint corner;
  double     key_width; ///< Of a white key
  unsigned   lowest;    ///< A white key
} Keys;

/// Return how many white keys lie below a pitch, from `lowest` on.
static unsigned
whites_below(const unsigned lowest, const unsigned pitch)
{
  unsigned n = 0;
  for (unsigned key = lowest; key < pitch; ++key) {
    n += !fingering_is_black(key);
  }
  return n;
}

/// Return where the middle of a key lies.
static double
middle_of(const Keys* const keys, const unsigned pitch)
{
  const double below = whites_below(keys->lowest, pitch);
  return keys->corner.x +
         keys->key_width * (below + (fingering_is_black(pitch) ? 0.0 : 0.5));
}

static void
draw_white_keys(const Keys* const keys)
{
  const double right = keys->corner.x + keys->key_width * SHEET_WHITE_KEYS;
  const double foot  = keys->corner.y + keys_height;
  for (unsigned i = 0; i <= SHEET_WHITE_KEYS; ++i) {
    const double x = keys->corner.x + keys->key_width * i;
    ink_rule(
      keys->paper, (PaperPoint){x, keys->corner.y}, (PaperPoint){x, foot}, 0.6);
  }
  ink_rule(keys->paper, keys->corner, (PaperPoint){right, keys->corner.y}, 0.6);
  ink_rule(keys->paper,
           (PaperPoint){keys->corner.x, foot},
           (PaperPoint){right, foot},
           0.6);
}

static void
draw_black_keys(const Keys* const keys)
{
  unsigned pitch = keys->lowest + 1;
  for (; whites_below(keys->lowest, pitch) < SHEET_WHITE_KEYS; ++pitch) {
    if (fingering_is_black(pitch)) {
      const double width = black_width * keys->key_width;
      paper_box(
        keys->paper,
        INK_BLACK,
        (PaperPoint){middle_of(keys, pitch) - width / 2.0, keys->corner.y},
        width,
        black_depth * keys_height);
    }
  }
}

/// The root is a square, a chord tone a disc, a scale tone a ring.
static void
draw_role(Paper* const     paper,
          const SheetRole  role,
          const PaperInk   ink,
          const PaperPoint centre)
{
  switch (role) {
    case SHEET_ROOT:
      paper_box(paper,
                ink,
                (PaperPoint){centre.x - mark_radius, centre.y - mark_radius},
                2.0 * mark_radius,
                2.0 * mark_radius);
      break;
    case SHEET_CHORD_TONE:
      paper_disc(paper, ink, centre, mark_radius);
      break;
    case SHEET_SCALE_TONE:
      ink_ring(
        paper, (PaperPen){.ink = ink, .width = 0.8}, centre, mark_radius - 0.5);
      break;
  }
}

/// Names of white keys stand below, of black ones above.
static void
draw_key(const Keys* const keys, const SheetKey* const key)
{
  const bool   is_black = fingering_is_black(key->pitch);
  const double x        = middle_of(keys, key->pitch);
  const double depth    = is_black ? black_depth * keys_height : keys_height;
  char         name[LETTERS_CAPACITY];
  draw_role(keys->paper,
            key->role,
            is_black ? INK_WHITE : INK_BLACK,
            (PaperPoint){x, keys->corner.y + depth - 5.5});
  (void)ink_text(
    keys->paper,
    (PaperType){.size = name_size, .align = PAPER_CENTRE},
    (PaperPoint){x, keys->corner.y + (is_black ? -3.5 : keys_height + 8.5)},
    keys->key_width - 1.5,
    letters_note(key->spelling, name));
}

static void
draw_left_hand(Paper* const            paper,
               const Chord* const      chord,
               const SheetChord* const own,
               const SheetBlock* const block)
{
  char shape[LETTERS_CAPACITY];
  char text[LETTERS_CAPACITY];
  (void)snprintf(
    text, sizeof(text), "L  %s", letters_shape(chord, &own->left, shape));
  (void)ink_text(paper,
                 (PaperType){.size = 8.0},
                 (PaperPoint){block->corner.x, block->corner.y + left_base},
                 block->width,
                 text);
}

void
draw_chord(Paper* const            paper,
           const Sheet* const      sheet,
           const SheetBlock* const block)
{
  const SheetChord* const own = &sheet->chords[block->index];
  const Chord* const  chord = &sheet->request.chart->changes[own->change].chord;
  const SheetKeyboard keyboard = sheet_keyboard(sheet, block->index);
  const PaperPoint    at       = block->corner;
  const Keys          keys     = {
                 paper,
                 {at.x, at.y + keys_top},
                 block->width / SHEET_WHITE_KEYS,
                 keyboard.lowest,
  };
  char         text[LETTERS_CAPACITY];
  const double used = ink_text(paper,
                               (PaperType){.size = 12.0, .is_bold = true},
                               (PaperPoint){at.x, at.y + names_base},
                               0.5 * block->width,
                               letters_chord(chord, text));
  (void)ink_text(paper,
                 (PaperType){.size = 9.0, .align = PAPER_RIGHT},
                 (PaperPoint){at.x + block->width, at.y + names_base},
                 block->width - used - 8.0,
                 letters_tones(chord, text));
  (void)ink_text(paper,
                 (PaperType){.size = 8.0},
                 (PaperPoint){at.x, at.y + scale_base},
                 block->width,
                 letters_scale(own->scale, text));
  draw_white_keys(&keys);
  draw_black_keys(&keys);
  for (unsigned i = 0; i < keyboard.n_keys; ++i) {
    draw_key(&keys, &keyboard.keys[i]);
  }
  draw_left_hand(paper, chord, own, block);
}

void
draw_chord_legend(Paper* const paper, const PaperPoint right)
{
  static const char* const names[] = {"scale tone", "chord tone", "root"};
  static const SheetRole   roles[] = {
      SHEET_SCALE_TONE, SHEET_CHORD_TONE, SHEET_ROOT};
  const PaperType type = {.size = 8.0, .align = PAPER_RIGHT};
  double          x    = right.x;
  for (unsigned i = 0; i < sizeof(roles) / sizeof(*roles); ++i) {
    paper_text(paper, type, (PaperPoint){x, right.y}, names[i]);
    x -= paper_text_width(paper, type, names[i]) + 7.0;
    draw_role(paper, roles[i], INK_BLACK, (PaperPoint){x, right.y - 2.9});
    x -= 12.0;
  }
}
