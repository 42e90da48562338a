#include "responder/say/candidates.h"

#include "responder/say/beats.h"
#include "responder/say/compass.h"
#include "responder/say/finish.h"
#include "responder/say/gaps.h"
#include "responder/say/judge.h"
#include "responder/say/manner.h"
#include "responder/say/move_choice.h"
#include "responder/say/moves.h"
#include "responder/say/perform.h"
#include "responder/say/plain.h"
#include "responder/say/rhythm.h"
#include "responder/say/treat.h"
#include "responder/say/weights.h"
#include "responder/say/worth.h"

#include <assert.h>
#include <stddef.h>

static_assert(IDEA_NOTE_CAPACITY <= (int)GAPS_NOTES, "an idea's rhythm fits");

static const float SAME_RHYTHM = 0.75F;

enum { FEW_TONES = 2 }; // Of a chord: with so few a rung has no shapes

static void
hear_candidate(Thinking* const t)
{
  Answer* const     answer  = &t->candidate;
  const SayRequest* request = &t->request;
  hear_written(&answer->heard,
               &request->ear,
               answer->notes,
               answer->grid_ticks,
               answer->is_ornament,
               answer->n_notes,
               request->start,
               request->end);
  const bool  returns = t->sketch.facts.move == MOVE_RETURN;
  const Idea* to      = returns ? t->left : &t->source_idea;
  const Idea  own     = idea_of(&answer->heard, false);
  answer->likeness    = to != NULL ? idea_likeness(&own, to) : (Likeness){0};
  answer->move        = t->sketch.facts.move;
  answer->digest      = judge_digest(&answer->heard);
}

/// Whether the rhythm at hand is, or begins as, what was to be left.
static bool
keeps_old_rhythm(const Thinking* const t)
{
  if (t->request.departs_from == NULL) {
    return false;
  }
  const Idea own   = idea_of(&t->candidate.heard, false);
  Idea       begin = own;
  begin.n_notes = own.n_notes < t->old.n_notes ? own.n_notes : t->old.n_notes;
  // What is even is like much else by chance, and yet heard as the same
  return idea_likeness(&own, &t->old).rhythm >= SAME_RHYTHM ||
         idea_likeness(&begin, &t->old).rhythm >= SAME_RHYTHM ||
         gaps_likeness(own.ticks, own.n_notes, t->old.ticks, t->old.n_notes) >=
           (double)SAME_RHYTHM;
}

/// Return what is taken from a line for its rhythm and its faults.
static double
blame(const bool departs, const double faults)
{
  return say_weights.fault_worth * faults +
         (departs ? 0.0 : say_weights.undeparted);
}

/// Play the line at hand, hear it, and keep it if it has what it must.
static void
try_line(Thinking* const t, const double worth)
{
  finish_lengths(&t->sketch, &t->frame, &t->draft, &t->rng);
  perform(&t->candidate, &t->frame, &t->sketch, t->line, &t->rng);
  hear_candidate(t);
  const double faults  = t->draft.is_whole
                           ? judge_faults(&t->candidate, &t->frame, &t->sketch)
                           : 0.0;
  const bool   departs = !keeps_old_rhythm(t);
  const double judged  = worth - blame(departs, faults);
  if ((!t->any || judged > t->worth) &&
      judge_musts(&t->candidate, &t->frame, &t->sketch)) {
    t->best        = t->candidate;
    t->best.faults = (float)faults;
    t->facts       = t->sketch.facts;
    t->worth       = judged;
    t->any         = true;
    t->departs     = departs;
  }
}

// The moves that are a whole phrase by its shape, not by its rhythm alone
static MoveSet
shape_moves(void)
{
  return (MoveSet)(move_choice_copying() | move_choice_only(MOVE_RETURN) |
                   move_choice_only(MOVE_SHIFT) |
                   move_choice_only(MOVE_THIN_OUT) |
                   move_choice_only(MOVE_SEQUENCE) |
                   move_choice_only(MOVE_TURN_OVER) |
                   move_choice_only(MOVE_NEW_RHYTHM));
}

/// Return what is said again as a whole.
static const Source*
source_of_whole(const Thinking* const t)
{
  return t->sketch.facts.move == MOVE_RETURN ? &t->first : &t->source;
}

static bool
is_little(const Thinking* const t)
{
  const unsigned had = source_of_whole(t)->n_notes;
  return 2 * t->draft.n_notes < had || (t->draft.n_notes == 1 && had > 1);
}

/// Tell from the line whether it brings back the rhythm alone, as a rung of few
/// notes does; return whether what the move says of the whole phrase is true of
/// it then.
static bool
hold_whole(Thinking* const t)
{
  MoveFacts* const facts = &t->sketch.facts;
  const bool       only  = facts->move == MOVE_SEQUENCE ||
                    facts->move == MOVE_TURN_OVER ||
                    facts->move == MOVE_NEW_RHYTHM;
  if (facts->is_opening ||
      !((unsigned)shape_moves() >> (unsigned)facts->move & 1U)) {
    return true;
  }
  facts->of_rhythm = !treat_keeps_shape(
    &t->draft, &t->frame, source_of_whole(t), facts, t->line);
  return !facts->of_rhythm ||
         (!only && t->frame.notes->chord_tones <= FEW_TONES);
}

/// Return how many of the notes at hand are not what is wished.
static unsigned
count_changed(const Thinking* const t)
{
  unsigned n = 0;
  for (unsigned i = 0; i < t->draft.n_notes; ++i) {
    n += t->draft.notes[i].pitch != t->line[i] ? 1 : 0;
  }
  return n;
}

/// Return what a line loses that is to be a whole phrase again.
static double
unlike(const Thinking* const t)
{
  return t->sketch.facts.is_bound
           ? (double)say_weights.unlike * count_changed(t) / t->draft.n_notes
           : 0.0;
}

/// Whether a pitch comes three times running, where neither the call does that
/// nor the rung has but one, nor is it the point.
static bool
stays_on(const Thinking* const t)
{
  bool stays = false;
  for (unsigned i = 2; i < t->draft.n_notes; ++i) {
    stays =
      stays || (t->line[i] == t->line[i - 1] && t->line[i] == t->line[i - 2] &&
                !draft_is_said(&t->draft.notes[i]) &&
                !draft_is_said(&t->draft.notes[i - 1]));
  }
  return stays && !t->call.stays && t->frame.notes->chord_tones > 1;
}

/// Return what is judged of the rhythm at hand, whose lines differ in pitch
/// alone.
static Candidate
candidate_at_hand(const Thinking* const t)
{
  return (Candidate){&t->frame,
                     &t->call,
                     &t->intent,
                     &t->draft,
                     t->line,
                     worth_alike(&t->draft, &t->call)};
}

static void
draw_lines(Thinking* const t, const Cell* const cell)
{
  const Candidate candidate = candidate_at_hand(t);
  for (unsigned i = 0; i < THINK_LINES; ++i) {
    path_draw(&t->melody.solver, &t->melody.problem, &t->rng, t->line);
    const bool holds =
      cell == NULL
        ? hold_whole(t)
        : !stays_on(t) && manner_holds(&t->draft, t->line) &&
            (cell->is_own ||
             treat_holds(&t->draft, &t->frame, cell, t->move, t->line));
    const double worth =
      !holds ? 0.0 : worth_of(&candidate) - (cell == NULL ? unlike(t) : 0.0);
    if (holds && (!t->any || worth > t->worth)) {
      try_line(t, worth);
    }
  }
}

void
candidates_of_cell(Thinking* const t)
{
  const Cell* const cell  = &t->call.cells[t->cell];
  const Planting planting = treat_planting(cell, t->move, &t->frame, &t->rng);
  if (!plan_draw(&t->plan, &t->frame, &t->call, &t->intent, cell, &t->rng) ||
      !beats_draw(&t->draft,
                  &t->frame,
                  &t->beats,
                  &t->plan,
                  &t->intent,
                  &planting,
                  &t->rng)) {
    return;
  }
  treat_wish(&t->draft, &t->frame, cell, t->move);
  manner_wish(&t->draft, &t->intent, &t->call, cell, t->move, &t->rng);
  t->sketch.facts = (MoveFacts){
    .move       = t->move,
    .is_opening = t->source.n_notes == 0,
    .is_own     = cell->is_own,
    .of_idea    = t->source.is_idea,
    .of_cell    = true,
    .at_start   = prompt_opens_with(&t->call, cell),
    .at_end     = prompt_closes_with(&t->call, cell) && t->plan.n_stated == 0,
    .from_pitch = cell->first_pitch,
    .of_rhythm  = treat_is_rhythm(&t->frame, t->move),
    .n_times    = draft_times_planted(&t->draft),
    .n_notes    = t->plan.n_stated > 0 ? t->plan.head.n_notes : cell->n_notes};
  if (melody_solve(&t->melody,
                   &t->frame,
                   &t->draft,
                   &t->call,
                   &t->intent,
                   t->plan.contour,
                   &t->rng)) {
    draw_lines(t, cell);
  }
}

/// Solve the lines that follow the sketch at hand, note by note.
static bool
solve_sketch(Thinking* const t)
{
  const PathProblem* const problem = &t->melody.problem;
  compass_set(&t->melody.problem, &t->sketch, &t->frame);
  t->intent.lowest  = (int)problem->lowest;
  t->intent.highest = t->intent.lowest + (int)problem->n_pitches - 1;
  draft_of_sketch(&t->draft, &t->frame, &t->sketch);
  return melody_solve(&t->melody,
                      &t->frame,
                      &t->draft,
                      &t->call,
                      &t->intent,
                      CONTOUR_ARCH,
                      &t->rng);
}

bool
candidates_of_whole(Thinking* const t)
{
  const Workshop shop = {&t->frame, &t->source, &t->first, &t->rng};
  if (t->source.n_notes == 0) {
    move_open(&t->sketch, &shop);
  } else if (!move_sketch(&t->sketch, &shop, t->move)) {
    return false;
  }
  rhythm_fit(&t->sketch, &t->frame, &t->rng);
  if (t->sketch.n_notes > 0 && solve_sketch(t)) {
    t->sketch.facts.is_little = is_little(t);
    draw_lines(t, NULL);
  }
  return true;
}

/// Whether a note stands over another chord when it is said so much later.
static bool
meets_another_chord(const HeardNote* const note,
                    const Tick             later,
                    const Chart* const     chart)
{
  const Tick tick = heard_note_chord_tick(note, chart);
  return !chord_equals(chart_chord_at(chart, tick),
                       chart_chord_at(chart, tick + later));
}

/// Lay the answer before into this turn, each note wished for.
static void
copy_before(Thinking* const t)
{
  const Phrase* const before = &t->request.before->heard;
  const Tick          moved  = t->frame.start - before->start_tick;
  t->sketch.n_notes          = 0;
  t->sketch.facts = (MoveFacts){.move = MOVE_RETURN, .is_again = true};
  for (unsigned i = 0; i < before->n_notes; ++i) {
    const HeardNote* const note = &before->notes[i];
    const Tick             tick = note->grid_tick + moved;
    if (!note->is_ornament && tick >= t->request.earliest &&
        tick < t->frame.end) {
      (void)sketch_add(&t->sketch,
                       (SketchNote){.tick          = tick,
                                    .length        = note->grid_length,
                                    .pitch         = note->note.pitch,
                                    .pitch_fall    = say_weights.again,
                                    .interval_fall = NO_WISH});
      t->sketch.facts.is_fitted |=
        meets_another_chord(note, moved, t->frame.chart);
    }
  }
}

void
candidates_again(Thinking* const t)
{
  copy_before(t);
  if (t->sketch.n_notes < 2 || !solve_sketch(t)) {
    return;
  }
  const Candidate candidate = candidate_at_hand(t);
  for (unsigned i = 0; i < THINK_LINES; ++i) {
    path_draw(&t->melody.solver, &t->melody.problem, &t->rng, t->line);
    const unsigned changed = count_changed(t);
    if (changed >= 1 && changed <= 3) {
      try_line(t, worth_of(&candidate));
    }
  }
}

void
candidates_plain(Thinking* const t)
{
  const unsigned first = rng_next(&t->rng);
  for (unsigned i = 0; i < PLAIN_ROOTS; ++i) {
    plain_root(&t->sketch, &t->frame, first + i, t->line);
    perform(&t->candidate, &t->frame, &t->sketch, t->line, &t->rng);
    hear_candidate(t);
    if (judge_musts(&t->candidate, &t->frame, &t->sketch)) {
      break;
    }
  }
  t->best          = t->candidate;
  t->best.faults   = 0.0F;
  t->facts         = t->sketch.facts;
  t->facts.n_plain = t->request.history->n_plain;
  t->any           = true;
}
