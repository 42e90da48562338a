#include "responder/say/plain.h"

enum {
  MOST_BEATS = 6, // Bits of a variant
  OCTAVE     = 12,
};

/// Return the pitch of a class nearest to the middle of the range.
static uint8_t
middle_pitch(const Frame* const frame, const unsigned pitch_class)
{
  const unsigned lowest  = frame->request->lowest;
  const unsigned highest = frame->request->highest;
  const unsigned middle  = (lowest + highest) / 2;
  const unsigned up      = (pitch_class + OCTAVE - middle % OCTAVE) % OCTAVE;
  const unsigned pitch   = middle + up <= highest || middle + up < OCTAVE
                             ? middle + up
                             : middle + up - OCTAVE;
  return (uint8_t)pitch;
}

/// End on the tonic, on the first beat of the last bar.
static void
close_piece(Sketch* const      sketch,
            const Frame* const frame,
            uint8_t            line[const PATH_NOTE_CAPACITY])
{
  const Tick close = frame->end - frame->bar;
  while (sketch->n_notes > 0 &&
         sketch->notes[sketch->n_notes - 1].tick >= close) {
    --sketch->n_notes;
  }
  line[sketch->n_notes] = middle_pitch(frame, frame->tonic);
  sketch_add(sketch, (SketchNote){.tick = close, .length = 2 * frame->beat});
}

void
plain_root(Sketch* const  sketch,
           Frame* const   frame,
           const unsigned variant,
           uint8_t        line[const PATH_NOTE_CAPACITY])
{
  const Tick     half  = (frame->end - frame->start) / 2;
  const unsigned beats = (unsigned)(half / frame->beat);
  const unsigned most = beats < 1 ? 1 : beats < MOST_BEATS ? beats : MOST_BEATS;
  const unsigned bits = variant % (1U << most);
  sketch->n_notes     = 0;
  sketch->facts       = (MoveFacts){.move = MOVE_REPEAT, .is_plain = true};
  for (unsigned i = 0; i < most && sketch->n_notes < frame->max_onsets; ++i) {
    if ((bits >> i & 1U) != 0 || (bits == 0 && i == 0)) {
      const SketchNote     note = {.tick   = frame->start + i * frame->beat,
                                   .length = frame->beat};
      const RoleRow* const row  = frame_roles(frame, note.tick);
      line[sketch->n_notes]     = middle_pitch(frame, row->root);
      sketch_add(sketch, note);
    }
  }
  if (frame->must_end_on_root) {
    close_piece(sketch, frame, line);
  }
}
