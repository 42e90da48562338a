#include "responder/say/steps.h"

#include "core/music/interval.h"
#include "responder/say/weights.h"

#include <math.h>
#include <stdlib.h>

static double
begin_worth(const PathWeights* const w, const int size, const double bold)
{
  return exp(-size / band_at(w->new_width, bold)) *
         (size > 9 ? w->new_far : 1.0);
}

static double
width_worth(const PathWeights* const w, const int size, const double bold)
{
  return size > 9   ? band_at(w->ninth, bold)
         : size > 7 ? band_at(w->sixth, bold)
         : size > 5 ? band_at(w->fifth, bold)
                    : 1.0;
}

/// Return the worth of an interval where one is wished; what is wider is the
/// answer's own, and weighed as such unless the rung is wholly bold.
static double
wished_worth(const PathWeights* const w,
             const DraftNote* const   note,
             const int                d,
             const double             bold)
{
  const int  size = abs(d);
  const int  wish = abs(note->interval);
  const bool own  = size > wish && bold < 1.0;
  return interval_way(d) != interval_way(note->interval)
           ? (double)w->other_way
           : (double)w->wished * (own ? width_worth(w, size, bold) : 1.0) *
               pow((double)note->interval_fall, abs(size - wish));
}

double
steps_worth(const Frame* const frame,
            const Draft* const draft,
            const unsigned     place,
            const int          d)
{
  const PathWeights* const w    = &say_weights.path;
  const DraftNote* const   note = &draft->notes[place];
  const int                size = abs(d);
  const double             ms   = frame_ms(frame, note[-1].gap);
  // A whole phrase's leaps are the player's own
  const double bold = draft->is_whole ? 1.0 : frame_boldness(frame);
  if (size > (int)frame->request->hand_span && ms < say_weights.fast_ms) {
    return 0.0;
  }
  if (place + 1 == draft->n_notes && frame_steps_home(frame) &&
      (size == 0 || size > 2)) {
    return (double)w->no_step_home;
  }
  if (note->begins) {
    return size == 0 && !draft->is_whole ? w->new_same
                                         : begin_worth(w, size, bold);
  }
  if (note->interval_fall < NO_WISH) {
    return wished_worth(w, note, d, bold);
  }
  const double quick = size > 7 && ms < say_weights.very_fast_ms
                         ? (double)say_weights.unhandy
                         : 1.0;
  return quick * (size == 0   ? band_at(w->repeat, bold)
                  : size == 6 ? (double)w->tritone
                  : size == 1 && frame_is_plain(frame) && !draft->is_whole
                    ? (double)w->plain_semitone
                    : width_worth(w, size, bold));
}
