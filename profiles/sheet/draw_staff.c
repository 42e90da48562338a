#include "profiles/sheet/draw.h"

#include "profiles/sheet/ink.h"
#include "profiles/sheet/letters.h"

#include <math.h>
#include <stdio.h>

// By eye, points
static const double name_base = 10.0;
static const double name_room = 15.0;

/// Draw a piece at the left of what is free of its block.
static Status
draw_piece(Paper* const               paper,
           const EngravedPiece* const piece,
           const PaperPoint           corner,
           const double               room,
           Fault* const               fault)
{
  const double height = fmin(room, ENGRAVED_POINTS * piece->height);
  return paper_picture(paper,
                       piece->svg,
                       piece->n,
                       corner,
                       height * piece->width / piece->height,
                       height,
                       fault);
}

static Status
draw_rhythm(Paper* const             paper,
            const Sheet* const       sheet,
            const SheetStaves* const staves,
            const SheetBlock* const  block,
            Fault* const             fault)
{
  const PaperPoint corner = {block->corner.x + PAGES_NUMBER_WIDTH,
                             block->corner.y};
  if (sheet->n_rhythms > 1) {
    char number[16];
    (void)snprintf(number, sizeof(number), "%u", block->index + 1);
    paper_text(paper,
               (PaperType){.size = 8.0},
               (PaperPoint){block->corner.x, block->corner.y + name_base},
               number);
  }
  return draw_piece(
    paper, &staves->pieces[block->index], corner, block->height, fault);
}

/// Whether a scale is that of no chord: of the form as a whole.
static bool
is_of_form(const Sheet* const sheet, const Scale scale)
{
  for (unsigned i = 0; i < sheet->n_chords; ++i) {
    if (scale_equals(sheet->chords[i].scale, scale)) {
      return false;
    }
  }
  return sheet->n_chords > 0;
}

static Status
draw_scale(Paper* const             paper,
           const Sheet* const       sheet,
           const SheetStaves* const staves,
           const SheetBlock* const  block,
           Fault* const             fault)
{
  const PaperPoint at     = block->corner;
  const PaperPoint corner = {at.x, at.y + name_room};
  const Scale      scale  = sheet->scales[block->index];
  char             name[LETTERS_CAPACITY];
  char             line[LETTERS_CAPACITY + 32];
  (void)snprintf(line,
                 sizeof(line),
                 "%s%s",
                 letters_scale(scale, name),
                 is_of_form(sheet, scale) ? ", over every chord" : "");
  (void)ink_text(paper,
                 (PaperType){.size = 10.0, .is_bold = true},
                 (PaperPoint){at.x, at.y + name_base},
                 block->width,
                 line);
  return draw_piece(paper,
                    &staves->pieces[sheet->n_rhythms + block->index],
                    corner,
                    block->height - name_room,
                    fault);
}

Status
draw_staff(Paper* const             paper,
           const Sheet* const       sheet,
           const SheetStaves* const staves,
           const SheetBlock* const  block,
           Fault* const             fault)
{
  return block->kind == BLOCK_RHYTHM
           ? draw_rhythm(paper, sheet, staves, block, fault)
           : draw_scale(paper, sheet, staves, block, fault);
}
