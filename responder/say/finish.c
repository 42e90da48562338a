#include "responder/say/finish.h"

#include "responder/say/weights.h"

/// Return how long the last note of a phrase is to last.
static Tick
end_length(const Frame* const     frame,
           const DraftNote* const note,
           const bool             is_last,
           const Tick             before,
           Rng* const             rng)
{
  const FinishWeights* const w     = &say_weights.finish;
  const bool                 plain = frame_is_plain(frame);
  const float* const         row   = !is_last && note->is_bare ? w->bare_ends
                                     : !is_last && plain ? w->plain_inner_ends
                                     : !is_last          ? w->inner_ends
                                     : plain             ? w->plain_ends
                                                         : w->free_ends;
  const Tick halves                = 1 + (Tick)rng_pick(rng, row, N_END_HALVES);
  const Tick drawn                 = halves * frame->beat / 2;
  const Tick breath                = frame->beat - frame->off;
  // Nothing is clipped where more follows at once, nor a plain line where its
  // next phrase comes a beat later
  const bool on        = note->gap <= (plain ? frame->beat : breath);
  const Tick kept_free = on ? 0 : breath;
  const Tick room   = is_last ? frame->end - note->tick : note->gap - kept_free;
  const Tick rests  = before + before / 4; // Longer, though less of it sounds
  const Tick wished = drawn > rests ? drawn : rests;
  const Tick held =
    !draft_is_on_beat(note) && wished < frame->beat ? frame->beat : wished;
  const Tick least  = frame->beat / 4;
  const Tick length = tick_least(held, room);
  return length > least ? length : least;
}

void
finish_lengths(Sketch* const      sketch,
               const Frame* const frame,
               const Draft* const draft,
               Rng* const         rng)
{
  sketch->n_notes = 0;
  for (unsigned i = 0; i < draft->n_notes; ++i) {
    const DraftNote* const note    = &draft->notes[i];
    const bool             is_last = i + 1 == draft->n_notes;
    const Tick before = i > 0 ? sketch->notes[i - 1].length : frame->beat / 2;
    const bool whole  = note->gap <= frame->beat || note->is_bare ||
                       rng_unit(rng) < say_weights.finish.held;
    const Tick length =
      note->ends ? end_length(frame, note, is_last, before, rng)
      : whole    ? note->gap
                 : tick_least(note->gap, frame->beat + frame->off);
    (void)sketch_add(sketch,
                     (SketchNote){.tick = note->tick, .length = length});
  }
}
