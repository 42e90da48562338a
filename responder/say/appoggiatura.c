#include "responder/say/appoggiatura.h"

#include "responder/say/weights.h"

enum { BLUE_FIFTH = 6 };

/// Whether the note at a strong beat may give it up to a tone that leans: the
/// next one is free to be what it was.
static bool
may_lean(const Frame* const   frame,
         const Draft* const   draft,
         const uint8_t* const anchors,
         const unsigned       i)
{
  const DraftNote* const note = &draft->notes[i];
  return note->place == PLACE_STRONG_BEAT && anchors[i] != 0 && !note->begins &&
         !note->ends && note->gap <= frame->beat &&
         note->interval_fall == NO_WISH && anchors[i + 1] == 0 &&
         note[1].interval_fall == NO_WISH &&
         note[1].chord.root == note->chord.root &&
         draft_is_home(note, anchors[i]) && draft_is_home(&note[1], anchors[i]);
}

/// Whether a pitch may lean: it is no chord tone, nor the blue fifth, which
/// only passes.
static bool
leans(const DraftNote* const note, const int key)
{
  const bool blue =
    note->chord.is_dominant && draft_degree(note, key) == BLUE_FIFTH;
  return !blue && !draft_is_home(note, key);
}

/// Return the neighbour above in the chord's own scale, 0 if it does not lean.
static int
above(const DraftNote* const note, const int key)
{
  const unsigned semitone = ((unsigned)key + 1) % N_PITCH_CLASSES;
  const int      up       = note->chord.own[semitone] ? key + 1 : key + 2;
  return note->chord.own[up % N_PITCH_CLASSES] && leans(note, up) ? up : 0;
}

/// Return the semitone below, 0 if it does not lean.
static int
below(const DraftNote* const note, const int key)
{
  return leans(note, key - 1) ? key - 1 : 0;
}

static int
choose(const Melody* const    melody,
       const DraftNote* const note,
       const int              key,
       Rng* const             rng)
{
  const PathProblem* const problem  = &melody->problem;
  const int                lowest   = (int)problem->lowest;
  const int                highest  = lowest + (int)problem->n_pitches - 1;
  const int                up       = above(note, key);
  const int                down     = below(note, key);
  const bool               may_fall = up != 0 && up <= highest;
  const bool               may_rise = down != 0 && down >= lowest;
  const bool               falls =
    rng_unit(rng) < (double)say_weights.path.appoggiatura_falls;
  return may_fall && (falls || !may_rise) ? up : may_rise ? down : 0;
}

void
appoggiatura_draw(Melody* const      melody,
                  const Frame* const frame,
                  const Draft* const draft,
                  Rng* const         rng)
{
  uint8_t* const anchors = melody->anchors;
  for (unsigned i = 0; i + 1 < draft->n_notes; ++i) {
    if (may_lean(frame, draft, anchors, i) &&
        rng_unit(rng) < (double)say_weights.path.appoggiatura) {
      const int key = choose(melody, &draft->notes[i], anchors[i], rng);
      if (key != 0) {
        anchors[i + 1]           = anchors[i];
        anchors[i]               = (uint8_t)key;
        melody->appoggiaturas[i] = true;
      }
    }
  }
}
