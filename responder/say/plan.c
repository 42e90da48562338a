#include "responder/say/plan.h"

#include "responder/say/manner.h"
#include "responder/say/pulse.h"
#include "responder/say/weights.h"

#include <math.h>

enum { PLAN_TRIES = 40 };

static bool
happens(Rng* const rng, const float chance)
{
  return rng_unit(rng) < (double)chance;
}

/// Return the number of beats, in halves, drawn from a row of weights.
static Tick
draw_halves(const Frame* const frame,
            Rng* const         rng,
            const float* const weights,
            const unsigned     n)
{
  const Tick halves = rng_pick(rng, weights, n);
  const bool off    = halves % 2 != 0 && frame->rhythm->off_beats;
  return halves / 2 * frame->beat + (off ? frame->off : 0);
}

static double
bars_of(const Frame* const frame)
{
  return (double)(frame->until - frame->from) / (double)frame->bar;
}

static double
note_count(const Frame* const  frame,
           const Prompt* const call,
           const Manner        manner,
           Rng* const          rng)
{
  const PlanWeights* const w        = &say_weights.plan;
  const double             quarters = (double)frame->bar / TICKS_PER_QUARTER;
  const double rung  = (double)frame->rhythm->onsets_per_bar * quarters / 4.0;
  const double other = (double)w->contrast * quarters / 4.0 - call->per_bar;
  const double free =
    (double)(frame_is_plain(frame) ? w->follows_plain : w->follows);
  const double like = (double)w->denser * call->per_bar;
  const double fuller =
    (double)frame->rhythm->onsets_per_bar / (double)w->usual_onsets;
  const bool   simple = frame_is_plain(frame) || !frame->rhythm->triplets;
  const double dense =
    simple ? fuller * fuller * (double)w->plain_fuller : pow(fuller, w->fuller);
  const double aim   = dense * ((1.0 - free) * other + free * like);
  const double wide  = (double)w->notes_spread * (1.0 + frame->freedom);
  const double drawn = aim * exp(wide * pulse_deviate(rng));
  const double least = (double)w->notes_least * rung;
  const double most  = (double)w->notes_most * rung;
  const double notes = bars_of(frame) * fmin(fmax(drawn, least), most) *
                       (double)say_weights.manner.notes[manner];
  return frame->request->treatment == TREAT_ANSWER
           ? notes
           : notes * (double)say_weights.sparse_onsets;
}

/// Whether groups across the bar have room: in a line that goes on after a bar
/// line, in two bars unless a cell is to come twice there.
static bool
may_cross(const Frame* const frame,
          const Manner       manner,
          const Move         move,
          const Tick         goal)
{
  const Tick group   = frame_across_slots(frame) * (frame->beat - frame->off);
  const bool goes_on = goal >= frame->from + frame->bar + group;
  const bool filled  = move == MOVE_FRAGMENT && frame_is_brief(frame);
  return frame->rhythm->cross_rhythm && manner == MANNER_LINE && goes_on &&
         !filled;
}

/// The newest division that the rung has comes in most answers; what is too
/// quick at the tempo comes less, and sixteenths are answered by such.
static Texture
draw_texture(const Frame* const  frame,
             const Prompt* const call,
             const bool          crosses,
             Rng* const          rng)
{
  const PlanWeights* const w               = &say_weights.plan;
  const RhythmRung* const  r               = frame->rhythm;
  const double             sixteenth_ms    = frame_ms(frame, frame->beat / 4);
  const double             triplet_ms      = frame_ms(frame, frame->beat / 3);
  const bool               may[N_TEXTURES] = {
                  true,
                  r->triplets && triplet_ms >= (double)w->triplet_ms,
                  r->sixteenths && sixteenth_ms >= (double)w->sixteenth_ms,
                  crosses};
  const bool  brief      = frame_is_brief(frame) && !frame_goes_outside(frame);
  const float sixteenths = w->newest_sixteenths[brief ? 1 : 0];
  float       weights[N_TEXTURES];
  float       older = 1.0F;
  for (unsigned t = N_TEXTURES; t-- > 0;) {
    const float newest = t == TEXTURE_SIXTEENTHS ? sixteenths
                         : t == TEXTURE_ACROSS   ? w->newest_across
                                                 : w->newest;
    const float share  = older == 1.0F ? newest : w->older;
    weights[t]         = may[t] ? older * share : 0.0F;
    older              = may[t] ? older - weights[t] : older;
  }
  weights[TEXTURE_PLAIN] = older;
  weights[TEXTURE_TRIPLETS] *=
    triplet_ms < (double)w->quickest_ms ? w->quick_triplets : 1.0F;
  weights[TEXTURE_SIXTEENTHS] *= sixteenth_ms < (double)w->quickest_ms
                                   ? w->quick_sixteenths
                                 : call->is_fine ? w->fine
                                                 : 1.0F;
  return (Texture)rng_pick(rng, weights, N_TEXTURES);
}

/// Whether an answer is a line at a rung that has all notes and rhythms: where
/// others leave room it runs on.
static bool
line_runs_on(const Frame* const frame, const Manner manner)
{
  return manner == MANNER_LINE && frame->freedom >= 1.0 &&
         frame->rhythm->cross_rhythm;
}

static Form
draw_form(const Frame* const frame, const Manner manner, Rng* const rng)
{
  const PlanWeights* const w = &say_weights.plan;
  if (frame_is_piece(frame)) {
    return FORM_LINE;
  }
  const unsigned row = bars_of(frame) < 1.5 ? 0 : frame_is_brief(frame) ? 1 : 2;
  const float* const forms = frame_is_plain(frame) ? w->plain_forms[row]
                             : row == 2 && line_runs_on(frame, manner)
                               ? w->run_forms
                               : w->forms[row];
  // What is come back to is left first
  const bool parts = manner == MANNER_TALK && row == 2;
  return (Form)(parts ? 1 + rng_pick(rng, forms + 1, N_FORMS - 1)
                      : rng_pick(rng, forms, N_FORMS));
}

/// Lay the compass of the rung about the call, a little off it: a high call is
/// answered low.
static void
lay_compass(Intent* const       intent,
            const Frame* const  frame,
            const Prompt* const call,
            Rng* const          rng)
{
  static const int aside[] = {-3, -2, 0, 2, 3};
  const int        lowest  = (int)frame->request->lowest;
  const int        highest = (int)frame->request->highest;
  const int        usual   = (int)say_weights.plan.usual_compass;
  const int        rung   = frame->notes->range < 11 ? 11 : frame->notes->range;
  const int        wide   = intent->shows_range || rung < usual ? rung : usual;
  int              middle = call->mean_pitch + aside[rng_below(rng, 5)];
  middle += call->mean_pitch < lowest + 5 ? 3 : 0;
  middle -= call->mean_pitch > highest - 7 ? 4 : 0;
  int low         = middle - wide / 2;
  low             = low + wide > highest ? highest - wide : low;
  low             = low < lowest ? lowest : low;
  intent->lowest  = low;
  intent->highest = low + wide < highest ? low + wide : highest;
}

/// Whether the answer ends over a dominant on the fifth of the key.
static bool
ends_over_five(const Frame* const frame)
{
  const Chord* const chord =
    chart_chord_at(frame->chart, frame->until - frame->beat);
  return !chord_is_silence(chord) &&
         spelling_pitch_class(chord->root) == (frame->tonic + 7) % 12;
}

/// Whether what anticipates the last bar would be heard as the end of another
/// chord, where the chorus is to end open over its last one.
static bool
turns_open(const Frame* const frame, const Tick last)
{
  const Tick before = last - frame->beat;
  return frame->must_end_open && before >= 0 &&
         chart_next_change(frame->chart, before) <= last;
}

/// Draw the written tick of the last note, in the last bar or about it.
static Tick
draw_goal(const Frame* const frame, Rng* const rng)
{
  const PlanWeights* const w    = &say_weights.plan;
  const Tick               last = frame->until - frame->bar;
  if (frame->request->ends_piece) {
    return last;
  }
  const Tick         lead  = frame->beat - frame->off;
  const bool         off   = frame->rhythm->off_beats;
  const bool         two   = frame->half < frame->bar;
  const float* const row   = w->goals[frame_is_brief(frame) ? 0 : 1];
  const bool         inner = frame->until - frame->from > frame->bar;
  // Where room is asked for, none of it goes to the last bar
  const bool  late      = !inner || frame->request->treatment == TREAT_ANSWER;
  const float weights[] = {
    inner ? row[0] : 0.0F,
    inner && off && !turns_open(frame, last) ? row[1] : 0.0F,
    !late ? 0.0F
    : two ? row[2]
          : w->uneven_goal * row[2],
    late && off ? row[3] : 0.0F,
    inner ? row[4] : 0.0F,
    late ? row[5] : 0.0F,
    inner ? row[6] : 0.0F,
  };
  const Tick half    = two ? frame->half : frame->bar - frame->beat;
  const Tick ticks[] = {last,
                        last - lead,
                        last + half,
                        last + half - lead,
                        last - frame->half,
                        last + frame->beat,
                        last - frame->beat};
  return ticks[rng_pick(rng, weights, N_GOALS)];
}

static float
chance_to_close(const Frame* const frame, const Prompt* const call)
{
  const PlanWeights* const w = &say_weights.plan;
  return call->is_open           ? w->close_open
         : frame_is_plain(frame) ? w->close_plain
                                 : w->close_closed;
}

/// Return what is left of the notes where the answer closes a bar early.
static double
share_to(const Frame* const frame, const Tick goal)
{
  const Tick last = frame->until - frame->bar;
  return goal < last - frame->beat
           ? (double)(goal - frame->from) / (double)(last - frame->from)
           : 1.0;
}

Intent
plan_intent(const Frame* const  frame,
            const Prompt* const call,
            const Manner        manner,
            const Move          move,
            Rng* const          rng)
{
  const PlanWeights* const w      = &say_weights.plan;
  const SayRequest* const  asked  = frame->request;
  Intent                   intent = {.manner  = manner,
                                     .runs_on = line_runs_on(frame, manner),
                                     .closes = happens(rng, chance_to_close(frame, call))};
  intent.goal                     = draw_goal(frame, rng);
  const bool goes                 = may_cross(frame, manner, move, intent.goal);
  intent.texture                  = draw_texture(frame, call, goes, rng);
  // The one bar line of two bars is crossed by the whole of them
  const bool whole = intent.texture == TEXTURE_ACROSS && frame_is_brief(frame);
  intent.form      = whole ? FORM_LINE : draw_form(frame, manner, rng);
  intent.notes     = note_count(frame, call, manner, rng);
  intent.notes += (double)w->more_notes[intent.texture];
  intent.notes *= share_to(frame, intent.goal);
  const bool turns = ends_over_five(frame) || frame->must_end_open;
  intent.closes    = asked->ends_piece ||
                  (!frame->must_end_open &&
                   (asked->departs_from != NULL || (intent.closes && !turns)));
  intent.shows_run     = frame_is_free(frame) && happens(rng, w->shows);
  intent.shows_outside = frame_goes_outside(frame) && happens(rng, w->shows);
  intent.appoggiaturas = frame_goes_outside(frame) &&
                         frame->notes->scale_share > 0.0F &&
                         happens(rng, w->appoggiaturas);
  intent.shows_range = frame->notes->range > 19 && happens(rng, w->shows_wide);
  intent.is_fine     = intent.texture == TEXTURE_SIXTEENTHS && call->is_fine;
  lay_compass(&intent, frame, call, rng);
  return intent;
}

static Tick
draw_start(const Frame* const frame, const Prompt* const call, Rng* const rng)
{
  const PlanWeights* const w     = &say_weights.plan;
  const Tick               early = frame->start - frame->request->earliest;
  if (early >= frame->beat - frame->off && call->room >= early + frame->beat &&
      frame->rhythm->off_beats && happens(rng, w->pick_up)) {
    const Tick     one  = frame->beat - frame->off;
    const Tick     at[] = {-one, -frame->beat, -frame->beat - one};
    const unsigned n    = early >= frame->beat + one ? 3
                          : early >= frame->beat     ? 2
                                                     : 1;
    return frame->from + at[rng_pick(rng, w->pick_ups, n)];
  }
  const Tick own = call->source->n_notes > 0 ? call->source->ticks[0] : -1;
  float      weights[PLAN_STARTS];
  for (unsigned i = 0; i < PLAN_STARTS; ++i) {
    const Tick at  = i / 2 * frame->beat + (i % 2 != 0 ? frame->off : 0);
    const bool off = i % 2 != 0;
    weights[i]     = off && !frame->rhythm->off_beats ? 0.0F : w->starts[i];
    weights[i] *= !off && frame_is_plain(frame) ? w->plain_on_beat : 1.0F;
    weights[i] *= at != own                                ? 1.0F
                  : call->is_riff && frame_is_plain(frame) ? w->riff_start
                                                           : w->same_start;
    weights[i] *= at > frame->bar ? 0.0F : 1.0F;
    weights[i] *= at <= frame->beat + frame->off ? 1.0F
                  : frame_is_brief(frame)        ? w->late_start
                                                 : w->late_start_long;
  }
  const Tick i = rng_pick(rng, weights, PLAN_STARTS);
  return frame->from + i / 2 * frame->beat + (i % 2 != 0 ? frame->off : 0);
}

static void
add_span(Plan* const plan, const Tick from, const Tick goal)
{
  if (plan->n_spans < PLAN_PHRASES) {
    plan->spans[plan->n_spans++] = (Span){.from = from, .goal = goal};
  }
}

/// Lay phrases from a start to a goal by their form.
static void
lay_form(Plan* const        plan,
         const Frame* const frame,
         const Form         form,
         const Tick         start,
         const Tick         goal,
         Rng* const         rng)
{
  const PlanWeights* const w     = &say_weights.plan;
  const Tick               whole = frame->until - frame->from;
  const Tick short_one = draw_halves(frame, rng, w->short_ones, PLAN_HALVES);
  const Tick rest      = draw_halves(frame, rng, w->rests, PLAN_HALVES);
  const Tick later     = draw_halves(frame, rng, w->slips, PLAN_HALVES);
  const Tick ends      = start + short_one;
  switch (form) {
    case FORM_LINE:
      add_span(plan, start, goal);
      break;
    case FORM_TWO:
      add_span(plan, start, ends);
      add_span(plan, ends + rest, goal);
      break;
    case FORM_SENTENCE:
      add_span(plan, start, ends);
      add_span(plan, start + frame->bar - frame->beat + later, goal);
      break;
    case FORM_SHORT_LONG: {
      const Tick first = frame->from + frame->bar - frame->beat + later;
      add_span(plan, start, first);
      add_span(plan, first + rest, goal);
      break;
    }
    case FORM_LONG_SHORT: {
      const Tick first = frame->from + whole / 2 - frame->beat + later;
      add_span(plan, start, first);
      add_span(plan, first + rest, goal);
      break;
    }
    case FORM_THREE: {
      const Tick second = start + frame->bar - frame->beat + later;
      const Tick third  = second + short_one + rest;
      add_span(plan, start, ends);
      add_span(plan, second, second + short_one);
      add_span(plan, third, goal);
      break;
    }
  }
}

/// Let long phrases breathe.
static void
breathe(Plan* const        plan,
        const Frame* const frame,
        const bool         runs_on,
        Rng* const         rng)
{
  const PlanWeights* const w      = &say_weights.plan;
  const float              breath = runs_on ? w->run_breath : w->breath;
  const Plan               whole  = *plan;
  plan->n_spans                   = 0;
  for (unsigned i = 0; i < whole.n_spans; ++i) {
    const Span span   = whole.spans[i];
    const Tick halves = 2 + rng_below(rng, 5);
    const Tick first =
      tick_floor(span.from, frame->beat) + halves / 2 * frame->beat;
    const Tick on =
      first + frame->beat +
      (frame->rhythm->off_beats && rng_below(rng, 3) > 0 ? frame->off
                                                         : frame->beat);
    if (i >= whole.n_stated && span.goal - span.from >= 6 * frame->beat &&
        span.goal - on >= 2 * frame->beat && first > span.from &&
        happens(rng, breath)) {
      add_span(plan, span.from, first);
      add_span(plan, on, span.goal);
    } else {
      plan->spans[plan->n_spans++] = span;
    }
  }
}

static bool
holds(const Plan* const plan, const Frame* const frame, const Form form)
{
  const PlanWeights* const w    = &say_weights.plan;
  const Tick               most = (Tick)(w->longest_rest * (float)frame->beat);
  for (unsigned i = 0; i < plan->n_spans; ++i) {
    const Span span = plan->spans[i];
    const Tick rest = i > 0 ? span.from - plan->spans[i - 1].goal : frame->beat;
    if (span.goal - span.from < frame->beat || rest < frame->beat ||
        rest > most) {
      return false;
    }
  }
  const Span first = plan->spans[0];
  const bool brief = first.goal - first.from < 2 * frame->beat;
  return !brief || form == FORM_TWO || form == FORM_SENTENCE ||
         form == FORM_THREE || frame->until - frame->from <= frame->bar;
}

/// Lay phrases as a manner or a form has them; false if they have no room.
static bool
lay(Plan* const         plan,
    const Frame* const  frame,
    const Intent* const intent,
    const Form          form,
    const Cell* const   cell,
    const Span          whole,
    Rng* const          rng)
{
  if (intent->manner == MANNER_RIFF) {
    return manner_lay_riff(plan, frame, cell, whole.from, whole.goal, rng);
  }
  if (intent->manner == MANNER_SPARE) {
    return manner_lay_spare(plan, frame, whole.from, whole.goal, rng);
  }
  lay_form(plan, frame, form, whole.from, whole.goal, rng);
  return holds(plan, frame, form);
}

bool
plan_draw(Plan* const         plan,
          const Frame* const  frame,
          const Prompt* const call,
          const Intent* const intent,
          const Cell* const   cell,
          Rng* const          rng)
{
  for (unsigned i = 0; i < PLAN_TRIES; ++i) {
    *plan            = (Plan){.n_spans = 0};
    const bool kept  = i < PLAN_TRIES / 2;
    const Tick start = draw_start(frame, call, rng);
    const Tick goal  = kept ? intent->goal : draw_goal(frame, rng);
    const Form form  = kept ? intent->form
                       : intent->manner == MANNER_TALK
                         ? draw_form(frame, intent->manner, rng)
                         : FORM_LINE;
    const Span whole = {.from = start, .goal = goal};
    if (lay(plan, frame, intent, form, cell, whole, rng)) {
      if (!frame_is_brief(frame)) {
        breathe(plan, frame, intent->runs_on, rng);
      }
      if (intent->manner == MANNER_TALK && !manner_say(plan, frame, rng)) {
        continue;
      }
      plan->contour =
        (Contour)rng_pick(rng, say_weights.plan.contours, N_CONTOURS);
      return true;
    }
  }
  return false;
}
