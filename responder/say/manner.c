#include "responder/say/manner.h"

#include "responder/say/weights.h"

#include <math.h>

enum {
  N_RHYTHMS  = 8,
  HEAD_NOTES = 3,
  PITCHES    = 128,
};

/// One note said some times, unevenly, in half beats.
typedef struct {
  uint8_t n;
  uint8_t halves[4];
} SaidRhythm;

// By ear: quaver and crotchet talk
static const SaidRhythm rhythms[N_RHYTHMS] = {
  {2, {0, 3}},
  {3, {0, 1, 3}},
  {3, {0, 2, 3}},
  {3, {0, 1, 4}},
  {3, {0, 3, 4}},
  {4, {0, 1, 3, 4}},
  {4, {0, 2, 3, 5}},
  {4, {0, 1, 3, 6}},
};

// Half beats from one statement of a riff to the next: no multiples of a bar
static const uint8_t periods[N_RIFF_PERIODS] = {3, 5, 6, 7, 9, 10};

static bool
is_thin(const Prompt* const call)
{
  return call->per_bar < (double)say_weights.manner.thin_call;
}

Manner
manner_draw(const Frame* const  frame,
            const Prompt* const call,
            const Move          move,
            Rng* const          rng)
{
  const MannerWeights* const w     = &say_weights.manner;
  const SayRequest* const    asked = frame->request;
  const Tick                 whole = frame->until - frame->from;
  if (!frame_is_free(frame) || !frame->rhythm->sixteenths ||
      !frame->rhythm->off_beats || whole < 2 * frame->bar ||
      asked->treatment != TREAT_ANSWER || asked->departs_from != NULL ||
      asked->ends_piece) {
    return MANNER_LINE;
  }
  const bool opens = move == MOVE_QUESTION_AND_ANSWER; // With the cell itself
  const bool twice = move == MOVE_FRAGMENT;
  float      weights[N_MANNERS];
  for (unsigned m = 0; m < N_MANNERS; ++m) {
    weights[m] = is_thin(call) ? w->after_thin[m] : w->shares[m];
    weights[m] *=
      m == MANNER_LINE && frame_is_brief(frame) ? w->brief_line : 1.0F;
  }
  weights[MANNER_TALK] *= opens ? 0.0F : call->stays ? w->stayed : 1.0F;
  weights[MANNER_RIFF] *= call->is_riff ? w->riffed : 1.0F;
  weights[MANNER_SPARE] *=
    opens || twice || frame_is_brief(frame) ? 0.0F : 1.0F;
  return (Manner)rng_pick(rng, weights, N_MANNERS);
}

static Tick
halves_after(const Frame* const frame, const Tick tick, const unsigned halves)
{
  const Tick     beat = tick_floor(tick, frame->beat);
  const unsigned at   = halves + (tick == beat ? 0U : 1U);
  return beat + at / 2 * frame->beat + (at % 2 != 0 ? frame->off : 0);
}

static Tick
draw_halves(const Frame* const frame,
            const Tick         from,
            const float* const weights,
            Rng* const         rng)
{
  return halves_after(frame, from, rng_pick(rng, weights, MANNER_HALVES));
}

static void
add_span(Plan* const plan, const Tick from, const Tick goal, const bool bare)
{
  plan->spans[plan->n_spans++] = (Span){from, goal, bare};
}

/// Draw how far apart the statements of a riff are; 0 if none will do.
static unsigned
draw_period(const Frame* const frame, const Cell* const cell, Rng* const rng)
{
  const Tick length = prompt_span(cell);
  const bool fine   = prompt_is_fine(cell, frame);
  float      weights[N_RIFF_PERIODS];
  bool       any = false;
  for (unsigned i = 0; i < N_RIFF_PERIODS; ++i) {
    const Tick period = halves_after(frame, 0, periods[i]);
    const bool clear  = period >= length + frame->off;
    const bool moves  = period % frame->bar != 0;
    weights[i]        = clear && moves && (periods[i] % 2 == 0 || !fine)
                          ? say_weights.manner.periods[i]
                          : 0.0F;
    any               = any || weights[i] > 0.0F;
  }
  return any ? periods[rng_pick(rng, weights, N_RIFF_PERIODS)] : 0;
}

/// Return what of a cell is said first, to go on the last time.
static Cell
head_of(const Cell* const cell, Rng* const rng)
{
  const unsigned more = cell->n_notes > HEAD_NOTES + 1 ? rng_below(rng, 2) : 0;
  Cell           head = *cell;
  head.n_notes        = HEAD_NOTES + more;
  head.last_length    = 0;
  return head;
}

bool
manner_lay_riff(Plan* const        plan,
                const Frame* const frame,
                const Cell* const  cell,
                const Tick         start,
                const Tick         goal,
                Rng* const         rng)
{
  const unsigned n      = frame_is_brief(frame) ? 2 : 3;
  plan->head            = head_of(cell, rng);
  const unsigned period = draw_period(frame, &plan->head, rng);
  if (period == 0) {
    return false;
  }
  for (unsigned i = 0; i < n; ++i) {
    const Tick at   = halves_after(frame, start, i * period);
    const Tick last = i + 1 < n ? prompt_span(&plan->head) : prompt_span(cell);
    add_span(plan, at, at + last, false);
  }
  plan->n_stated  = n;
  const Tick from = draw_halves(
    frame, plan->spans[n - 1].goal, say_weights.manner.release_rests, rng);
  add_span(plan, from, goal, false);
  return goal - from >= 2 * frame->beat;
}

bool
manner_lay_spare(Plan* const        plan,
                 const Frame* const frame,
                 const Tick         start,
                 const Tick         goal,
                 Rng* const         rng)
{
  const MannerWeights* const w     = &say_weights.manner;
  const Tick                 whole = frame->until - frame->from;
  const Tick latest = frame->from + (Tick)((double)w->bare * (double)whole);
  Tick       at     = start;
  while (at < latest && plan->n_spans + 1 < PLAN_PHRASES) {
    const Tick to = draw_halves(frame, at, w->bare_lengths, rng);
    add_span(plan, at, to, true);
    at = draw_halves(frame, to, w->holes, rng);
  }
  add_span(plan, at, goal, false);
  return plan->n_spans > 1 && goal - at >= 5 * frame->beat / 2;
}

/// Lay one note said some times from a tick on.
static Cell
said_from(const Frame* const frame, const Tick from, Rng* const rng)
{
  const SaidRhythm* const rhythm = &rhythms[rng_below(rng, N_RHYTHMS)];
  Cell said = {.n_notes = rhythm->n, .at = from, .last_length = frame->off};
  for (unsigned i = 0; i < said.n_notes; ++i) {
    said.offsets[i] = halves_after(frame, from, rhythm->halves[i]) - from;
  }
  return said;
}

/// Say one note some times where a phrase begins, if it has room for more.
static void
say_at(Plan* const        plan,
       const Frame* const frame,
       const Span         span,
       Rng* const         rng)
{
  const Cell said = said_from(frame, span.from, rng);
  const Tick to   = span.from + prompt_span(&said);
  if (span.goal - to >= frame->beat) {
    plan->said[plan->n_said++] = said;
  }
}

bool
manner_say(Plan* const plan, const Frame* const frame, Rng* const rng)
{
  unsigned i   = 0;
  plan->n_said = 0;
  while (i < plan->n_spans && plan->n_said == 0) {
    say_at(plan, frame, plan->spans[i++], rng);
  }
  for (unsigned k = plan->n_spans; k > i && plan->n_said == 1; --k) {
    say_at(plan, frame, plan->spans[k - 1], rng);
  }
  return plan->n_said == PLAN_SAID ||
         (frame_is_brief(frame) && plan->n_said > 0);
}

/// Whether a note has the pitch that comes again.
static bool
comes_again(const Manner manner, const DraftNote* const note)
{
  return manner == MANNER_TALK ? draft_is_said(note)
                               : note->plant != NO_PLANT && note->nth == 0;
}

/// Return how well a pitch bears being said again at its places.
static double
bears(const Draft* const draft, const Manner manner, const int key)
{
  const MannerWeights* const w     = &say_weights.manner;
  double                     worth = 1.0;
  for (unsigned i = 0; i < draft->n_notes; ++i) {
    const DraftNote* const note = &draft->notes[i];
    if (comes_again(manner, note)) {
      const unsigned pc   = (unsigned)key % N_PITCH_CLASSES;
      const unsigned role = note->chord.roles[pc];
      worth *= role == ROLE_ROOT         ? (double)w->again_root
               : role == ROLE_CHORD_TONE ? 1.0
               : role == ROLE_SCALE_TONE && !draft_is_avoided(note, pc)
                 ? (double)w->again_scale
                 : (double)w->again_outside;
    }
  }
  return worth;
}

/// Draw the pitch that comes again, near another one.
static int
draw_pitch(const Draft* const  draft,
           const Intent* const intent,
           const int           near,
           Rng* const          rng)
{
  float weights[PITCHES] = {0.0F};
  float total            = 0.0F;
  for (int key = intent->lowest; key <= intent->highest; ++key) {
    const double away = (key - near) / (double)say_weights.manner.again_width;
    weights[key] =
      (float)(exp(-away * away) * bears(draft, intent->manner, key));
    total += weights[key];
  }
  return total > 0.0F ? (int)rng_pick(rng, weights, PITCHES) : near;
}

void
manner_wish(Draft* const        draft,
            const Intent* const intent,
            const Prompt* const call,
            const Cell* const   cell,
            const Move          move,
            Rng* const          rng)
{
  const MannerWeights* const w     = &say_weights.manner;
  const bool                 talks = intent->manner == MANNER_TALK;
  const bool riffs = intent->manner == MANNER_RIFF && move != MOVE_SEQUENCE;
  if (!talks && !riffs) {
    return;
  }
  const int pitch = draw_pitch(
    draft, intent, talks ? call->last_pitch : cell->first_pitch, rng);
  for (unsigned i = 0; i < draft->n_notes; ++i) {
    DraftNote* const note = &draft->notes[i];
    if (comes_again(intent->manner, note)) {
      note->pitch      = (int16_t)pitch;
      note->pitch_fall = w->again_fall;
    }
    if (draft_is_said(note) && note->nth > 0) {
      note->interval      = 0;
      note->interval_fall = w->again_fall;
    }
  }
}

bool
manner_holds(const Draft* const draft, const uint8_t* const line)
{
  bool holds = true;
  for (unsigned i = 1; i < draft->n_notes; ++i) {
    const DraftNote* const note = &draft->notes[i];
    holds = holds && (!draft_is_said(note) || !draft_is_planted_on(note) ||
                      line[i] == line[i - 1]);
  }
  return holds;
}
