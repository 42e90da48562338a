#include "responder/say/figures.h"

#include "responder/say/weights.h"

static void
favour_interval(PathProblem* const problem,
                const unsigned     place,
                const int          least,
                const int          most,
                const float        others)
{
  for (int d = -PATH_LEAP_MAX; d <= PATH_LEAP_MAX; ++d) {
    if (d < least || d > most) {
      problem->intervals[place][d + PATH_LEAP_MAX] *= others;
    }
  }
}

static void
favour_pitch(PathProblem* const problem, const unsigned place, const int key)
{
  for (unsigned i = 0; i < problem->n_pitches; ++i) {
    if ((int)(problem->lowest + i) != key) {
      problem->pitches[place][i].weight *= say_weights.path.off_figure;
    }
  }
}

/// Draw a figure that leads from one note of the skeleton to the next.
static void
pose_figure(PathProblem* const   problem,
            const Frame* const   frame,
            const Draft* const   draft,
            const uint8_t* const anchors,
            const unsigned       from,
            const unsigned       to,
            Rng* const           rng)
{
  const PathWeights* const w     = &say_weights.path;
  const DraftNote* const   notes = draft->notes;
  const int                key   = anchors[to];
  const unsigned           n     = to - from;
  const bool               bold  = frame->notes->outside_share > 0.0F;
  const bool quick = notes[to].tick - notes[to - 1].tick <= frame->off;
  const bool above =
    n >= 3 && notes[to].tick - notes[to - 2].tick <= frame->beat;
  switch (rng_pick(rng, w->figures, N_FIGURE_KINDS)) {
    case 1: // From both sides
      if (bold && above && draft_is_home(&notes[to], key)) {
        const unsigned up = ((unsigned)key + 1) % N_PITCH_CLASSES;
        const int      step =
          notes[to - 2].chord.roles[up] <= ROLE_SCALE_TONE ? 1 : 2;
        favour_pitch(problem, to - 2, key + step);
        favour_pitch(problem, to - 1, key - 1);
      }
      break;
    case 2: // Up through the chord
      if (n >= 3) {
        favour_interval(problem, from + 1, 3, 4, w->off_arpeggio);
        favour_interval(problem, from + 2, 3, 4, w->off_arpeggio);
      }
      break;
    case 3: // A run
      if (n >= 3) {
        const bool up = key > anchors[from];
        for (unsigned i = from + 1; i <= to; ++i) {
          favour_interval(problem, i, up ? 1 : -2, up ? 2 : -1, w->off_run);
        }
      }
      break;
    case 4: // From a semitone below
      if (bold && n >= 2 && quick) {
        favour_pitch(problem, to - 1, key - 1);
      }
      break;
    default:
      break;
  }
}

void
figures_pose(PathProblem* const   problem,
             const Frame* const   frame,
             const Draft* const   draft,
             const uint8_t* const anchors,
             Rng* const           rng)
{
  unsigned from = 0;
  bool     free = false;
  for (unsigned i = 0; i < draft->n_notes; ++i) {
    free = free && draft->notes[i].plant == NO_PLANT && !draft->notes[i].begins;
    if (anchors[i] != 0) {
      if (free && i >= from + 2) {
        pose_figure(problem, frame, draft, anchors, from, i, rng);
      }
      from = i;
      free = true;
    }
  }
}
