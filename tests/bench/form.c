#include "form.h"

#include "blind_learner.h"
#include "said_sums.h"
#include "take_file.h"

#include <stdio.h>
#include <stdlib.h>

enum {
  MOST_CHANGED = 3,
  TURN         = FORM_BARS * SAID_BAR,
  STEP_MOST    = 2,
  N_LEVELS     = 4,
};

static const double LIKE = 0.75; // A rhythm that is the same idea

/// Invent two bars.
static LearnerCall
two_bars(const unsigned number, Rng* const rng)
{
  LearnerCall call;
  do {
    call = learner_call_on(number % 2, 2 + number / 2 % N_LEVELS, rng);
  } while (call.bars != FORM_BARS);
  return call;
}

bool
form_write(Take* const       take,
           const char* const path,
           const unsigned    number,
           const unsigned    velocity)
{
  // Turns of a chorus that are the player's, and which phrase stands there
  static const unsigned phrase_of[FORM_CHORUS] = {0, 9, 0, 9, 1, 9};
  SmfNote               notes[FORM_TURNS * LEARNER_NOTES];
  size_t                n   = 0;
  Rng                   rng = rng_seed(number, 23);
  double                bpm = 0.0;
  for (unsigned chorus = 0; chorus < FORM_CHORUSES; ++chorus) {
    const LearnerCall phrases[2] = {two_bars(number, &rng),
                                    two_bars(number, &rng)};
    bpm                          = bpm > 0.0 ? bpm : phrases[0].tempo_bpm;
    for (unsigned turn = 0; turn < FORM_CHORUS; turn += 2) {
      const LearnerCall* const phrase = &phrases[phrase_of[turn]];
      for (size_t i = 0; i < phrase->n_notes; ++i) {
        notes[n] = phrase->notes[i];
        notes[n].tick += (Tick)(chorus * FORM_CHORUS + turn) * TURN;
        notes[n++].velocity = velocity & 0x7FU;
      }
    }
  }
  *take = (Take){.bars = FORM_BARS};
  (void)snprintf(take->take, SAID_PATH, "%s", path);
  (void)snprintf(take->chart, SAID_PATH, "blues");
  return take_write(path, notes, n, bpm);
}

unsigned
form_changed(const Said* const a, const Said* const b)
{
  const Line one                  = line_of(a);
  const Line two                  = line_of(b);
  unsigned common[SAID_NOTES + 1] = {0}; // Of the notes so far, to the first j
  for (unsigned i = 0; i < one.n; ++i) {
    unsigned diagonal = 0;
    for (unsigned j = 0; j < two.n; ++j) {
      const bool same = one.notes[i]->grid == two.notes[j]->grid &&
                        one.notes[i]->pitch == two.notes[j]->pitch;
      const unsigned above = common[j + 1];
      const unsigned left  = common[j];
      common[j + 1]        = same ? diagonal + 1 : above > left ? above : left;
      diagonal             = above;
    }
  }
  return (one.n > two.n ? one.n : two.n) - common[two.n];
}

bool
form_is_open(const Said* const said)
{
  const Line line = line_of(said);
  if (line.n == 0) {
    return false;
  }
  const SaidNote* const  last  = line.notes[line.n - 1];
  const SaidChord* const chord = said_chord_at(said, last->grid);
  const unsigned degree = chord ? said_chord_degree(chord, last->pitch) : 0;
  return last->tick + last->length + SAID_QUARTER / 2 > said->turn ||
         degree == 3 || degree == 4 || degree == 7 || degree == 10 ||
         degree == 11;
}

static void
add_close(Form* const form, const Said* const said)
{
  const Line line = line_of(said);
  if (line.n > 0) {
    const SaidNote* const last = line.notes[line.n - 1];
    form->tonic += (unsigned)last->pitch % 12 == said->tonic;
    form->downbeat += last->grid == said->turn;
    form->by_step += line.n > 1 && line_direction(&line, line.n - 2) != 0 &&
                     abs(line_interval(&line, line.n - 2)) <= STEP_MOST;
  }
}

bool
form_add(Form* const form, const json_t* const report)
{
  static Said answers[FORM_TURNS / 2];
  for (unsigned i = 0; i < FORM_TURNS / 2; ++i) {
    if (!said_read(&answers[i], report, 2 * i + 1)) {
      return false;
    }
  }
  const unsigned changed = form_changed(&answers[0], &answers[1]);
  ++form->n;
  form->again += changed > 0 && changed <= MOST_CHANGED;
  form->departs += sums_rhythm_likeness(&answers[0], &answers[2]) < LIKE;
  form->twice += sums_is_copy(&answers[0], &answers[1]) +
                 sums_is_copy(&answers[0], &answers[2]) +
                 sums_is_copy(&answers[1], &answers[2]);
  form->open += form_is_open(&answers[FORM_CHORUS / 2 - 1]);
  add_close(form, &answers[FORM_TURNS / 2 - 1]);
  return true;
}
