#include "profiles/sheet/draw.h"

#include "core/paper/signs.h"
#include "profiles/sheet/ink.h"
#include "profiles/sheet/letters.h"

#include <stdio.h>
#include <stdlib.h>

// By eye, points
static const double space       = 5.0;
static const double name_base   = 10.0;
static const double staff_top   = 40.0;
static const double hand_above  = 18.0; // Base line of fingers, from the staff
static const double hand_below  = 22.0;
static const double hand_width  = 13.0; // Where it says which hand
static const double clef_width  = 3.1;  // Spaces
static const double sign_width  = 0.95; // ... of one sign of the key
static const double after_signs = 3.0;  // ... before the first note

enum {
  STEPS_IN_OCTAVE = 7,
  TOP_STEP        = 38, ///< F5, counted from C0
  FOOT_STEP       = 30, ///< E4
  LINES           = 5,
};

/// A staff on paper, and the accidentals that hold in it.
typedef struct {
  Paper*     paper;
  PaperPoint corner; ///< The left end of its top line
  double     width;
  int        alters[10 * STEPS_IN_OCTAVE]; ///< By step from C0
} Staff;

static double
height_of(const Staff* const staff, const int step)
{
  return staff->corner.y + (TOP_STEP - step) * space / 2.0;
}

/// Return the step of a written pitch, counted from C0.
static int
step_of(const unsigned pitch, const Spelling spelling)
{
  const int octave = ((int)pitch - spelling.alter) / 12 - 1;
  return octave * STEPS_IN_OCTAVE + spelling.letter;
}

static void
draw_lines(const Staff* const staff)
{
  for (unsigned i = 0; i < LINES; ++i) {
    const double y = staff->corner.y + space * i;
    sign_thin_line(staff->paper,
                   (PaperPoint){staff->corner.x, y},
                   (PaperPoint){staff->corner.x + staff->width, y},
                   space);
  }
}

/// Write the key's signature, and let it hold; return where it ends.
static double
draw_signature(Staff* const staff, const Key key, double x)
{
  // In the treble clef; the letters go by fifths
  static const int sharp_steps[] = {38, 35, 39, 36, 33, 37, 34};
  static const int flat_steps[]  = {34, 37, 33, 36, 32, 35, 31};

  const int signature = key_signature(key);
  for (int i = 0; i < abs(signature); ++i) {
    const int step  = signature > 0 ? sharp_steps[i] : flat_steps[i];
    const int alter = signature > 0 ? 1 : -1;
    x += sign_width * space;
    sign_accidental(
      staff->paper, (PaperPoint){x, height_of(staff, step)}, space, alter);
    for (int other = step % STEPS_IN_OCTAVE; other < 10 * STEPS_IN_OCTAVE;
         other += STEPS_IN_OCTAVE) {
      staff->alters[other] = alter;
    }
  }
  return x;
}

static void
draw_ledger(const Staff* const staff, const double x, const int step)
{
  const double y = height_of(staff, step);
  sign_thin_line(staff->paper,
                 (PaperPoint){x - 1.1 * space, y},
                 (PaperPoint){x + 1.1 * space, y},
                 space);
}

static void
draw_note(Staff* const   staff,
          const double   x,
          const unsigned pitch,
          const Spelling spelling)
{
  const int    step = step_of(pitch, spelling);
  const double y    = height_of(staff, step);
  for (int ledger = TOP_STEP + 2; ledger <= step; ledger += 2) {
    draw_ledger(staff, x, ledger);
  }
  for (int ledger = FOOT_STEP - 2; ledger >= step; ledger -= 2) {
    draw_ledger(staff, x, ledger);
  }
  if (staff->alters[step] != spelling.alter) {
    sign_accidental(
      staff->paper, (PaperPoint){x - 0.85 * space, y}, space, spelling.alter);
    staff->alters[step] = spelling.alter;
  }
  sign_head(staff->paper, (PaperPoint){x, y}, space, false);
}

static void
draw_finger(const Staff* const staff,
            const double       x,
            const double       y,
            const unsigned     finger)
{
  char number[4];
  (void)snprintf(number, sizeof(number), "%u", finger % 10U);
  paper_text(staff->paper,
             (PaperType){.size = 8.0, .align = PAPER_CENTRE},
             (PaperPoint){x, y},
             number);
}

void
draw_scale(Paper* const            paper,
           const Sheet* const      sheet,
           const SheetBlock* const block)
{
  const SheetRun   run   = sheet_run(sheet->scales[block->index]);
  const PaperPoint at    = block->corner;
  Staff            staff = {
               .paper  = paper,
               .corner = {at.x + hand_width, at.y + staff_top},
               .width  = block->width - hand_width,
  };
  const double above = staff.corner.y - hand_above;
  const double below = staff.corner.y + (LINES - 1) * space + hand_below;
  char         name[LETTERS_CAPACITY];
  (void)ink_text(paper,
                 (PaperType){.size = 10.0, .is_bold = true},
                 (PaperPoint){at.x, at.y + name_base},
                 block->width,
                 letters_scale(sheet->scales[block->index], name));
  const PaperType hand = {.size = 8.0, .is_bold = true};
  paper_text(paper, hand, (PaperPoint){at.x, above}, "R");
  paper_text(paper, hand, (PaperPoint){at.x, below}, "L");
  draw_lines(&staff);
  sign_treble_clef(
    paper,
    (PaperPoint){staff.corner.x + 0.3 * space, staff.corner.y + 3.0 * space},
    space);
  const double signs = draw_signature(
    &staff, sheet->request.chart->key, staff.corner.x + clef_width * space);
  const double first = signs + after_signs * space;
  const double step =
    (staff.corner.x + staff.width - 1.5 * space - first) / (run.n - 1);
  for (unsigned i = 0; i < run.n; ++i) {
    const double x = first + step * i;
    draw_note(&staff, x, run.pitches[i], run.spellings[i]);
    draw_finger(&staff, x, above, run.right[i]);
    draw_finger(&staff, x, below, run.left[i]);
  }
}
