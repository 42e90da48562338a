#include "responder/session/partner_turn.h"

#include "core/music/pitch.h"
#include "responder/session/asked.h"
#include "responder/session/facts.h"
#include "responder/session/fit.h"
#include "responder/session/same.h"

#include <stdio.h>

// Of a line; common practice, no source
static const unsigned line_least = 3; ///< Notes, and one more for each bar

enum { STREAM_FIRST_TURN = 16, LINES = 3 };

/// Whether a line of a chorus that is shown is the one before: A A B.
static bool
is_line_again(const Turn* const turn)
{
  return turn->turn_in_chorus % LINES == 1;
}

/// Whether a line that is left over comes back to the first: A A B A.
static bool
is_first_line_again(const Turn* const turn)
{
  return turn->turn_in_chorus > 0 &&
         turn->turn_in_chorus + 1 == turn->turns_in_chorus &&
         turn->turns_in_chorus % LINES == 1;
}

static bool
follows_script(const Session* const session, const Standing* const standing)
{
  const Script* const script = session->options.script;
  return script && !(script->answers && standing->call.n_notes);
}

// What is said again in the reply; NULL if it is new
static const Phrase*
again(const Session* const session, const Standing* const standing)
{
  const Turn* const turn = &session->reply.turn;
  if (turn->task == TASK_CELL && standing->echo.is_again) {
    return &session->cell;
  }
  if (turn->task == TASK_SHOW && is_first_line_again(turn)) {
    return &session->cell;
  }
  if (turn->task == TASK_SHOW && is_line_again(turn)) {
    return session->answer.n_notes ? &session->answer.heard : NULL;
  }
  return turn->task == TASK_AGAIN && standing->call.n_notes ? &standing->call
                                                            : NULL;
}

// In other words where the same comes again and again
static const char*
same_name(const Turn* const turn)
{
  return turn->task == TASK_SHOW && is_first_line_again(turn)
           ? "The first line again"
         : turn->index / 2 % 2 ? "Once more the same"
                               : "The same again";
}

// Whether the reply is the first thing that is said, and that is set
static bool
opens_with_best(const Session* const session, const Standing* const standing)
{
  return session->options.opens && !session->has_opened &&
         !standing->call.n_notes && session->reply.turn.task == TASK_FREE;
}

static void
say_best(Session* const session)
{
  const SessionOptions* const options = &session->options;
  const FitTurn               room    = asked_fit(session);
  fit_idea(&session->answer,
           options->opens,
           feel_swing_ratio(options->feel, options->tempo_bpm),
           &room);
  session->answer.is = ANSWER_BEST;
  (void)snprintf(session->answer.why,
                 sizeof(session->answer.why),
                 "What you said best the last time, to begin with.");
}

bool
partner_has_words(const Session* const session, const Standing* const standing)
{
  return opens_with_best(session, standing) ||
         follows_script(session, standing) || again(session, standing);
}

void
partner_turn_think(Session* const session, const Standing* const standing)
{
  const SayRequest request = asked_request(session, standing);
  const unsigned   index   = session->reply.turn.index;
  think_begin(&session->thinking,
              &request,
              rng_seed(session->options.seed, STREAM_FIRST_TURN + index));
}

/// Hear an answer that began after the line in the whole of its turn.
static void
hear_whole(const Session* const session, Answer* const answer)
{
  const Ear         ear  = session_ear(&session->options);
  const Turn* const turn = &session->reply.turn;
  hear_written(&answer->heard,
               &ear,
               answer->notes,
               answer->grid_ticks,
               answer->is_ornament,
               answer->n_notes,
               turn->start,
               asked_end(session, turn));
}

static void
say_why(Answer* const answer, const char* const words)
{
  (void)snprintf(answer->why, sizeof(answer->why), "%s", words);
}

// What was said, and the note it ends on
static void
say_end(Session* const session, const char* const words)
{
  Answer* const answer = &session->answer;
  FactWords     last;
  if (!answer->heard.n_notes) {
    say_why(answer, words);
    return;
  }
  const Chart* const chart = session->options.chart;
  const HeardNote    end   = facts_last(&answer->heard);
  facts_name(chart, &answer->heard, &end, &last);
  if (heard_note_chord_tick(&end, chart) >= session->end &&
      end.note.pitch % OCTAVE == spelling_pitch_class(chart->key.tonic)) {
    char key[KEY_TEXT_CAPACITY];
    (void)snprintf(last.tone,
                   sizeof(last.tone),
                   "the tonic of %s",
                   key_text(chart->key, key));
  }
  (void)snprintf(answer->why,
                 sizeof(answer->why),
                 "%s on %s, %s.",
                 words,
                 last.note,
                 last.tone);
}

// Few enough notes to be sung, or played along
static unsigned
line_notes(const Session* const session, const Turn* const turn)
{
  const Tick     bar   = meter_bar_ticks(session->options.chart->meter);
  const unsigned more  = (unsigned)((turn->end - turn->start) / bar);
  const unsigned eased = session->standing.eased;
  return line_least + (more > eased ? more - eased : 0);
}

// What the way of playing asks of an answer beyond what was thought
static void
fit_notes(Session* const session)
{
  const Turn* const turn   = &session->reply.turn;
  Answer* const     answer = &session->answer;
  const FitTurn     room   = asked_fit(session);
  switch (turn->task) {
    case TASK_ASK:
    case TASK_CLOSE:
      fit_end(answer, turn->task == TASK_ASK, &room);
      break;
    case TASK_CELL:
      fit_cell(answer, session->standing.echo.n_notes, &room);
      break;
    case TASK_LINE:
    case TASK_AGAIN: // Of a line that nobody said
    case TASK_SHOW:
      fit_cell(answer, line_notes(session, turn), &room);
      break;
    case TASK_FEW:
      fit_few(answer, pattern_few(turn->chorus), &room);
      break;
    default:
      break;
  }
}

static const char*
few_words(const unsigned few, const bool other)
{
  static const char* const words[2][PATTERN_FEW_MOST] = {
    {"One note over each chord, at most.",
     "Two notes over each chord, at most.",
     "Three notes over each chord, at most."},
    {"No note but the root of its chord.",
     "At most one note beside the root of each chord.",
     "At most two notes beside the root of each chord."},
  };
  return words[other][few - 1];
}

static const char*
cell_words(const Session* const session, const bool other)
{
  return session->answer.n_notes < session->cell.n_notes
           ? "Something shorter to give back."
         : other ? "A short one to give back."
                 : "Something short to give back.";
}

// Where the way of playing asked for something, that is what is true of it
static void
say_fitted(Session* const session)
{
  const Turn* const turn   = &session->reply.turn;
  Answer* const     answer = &session->answer;
  const bool        other  = turn->index / 2 % 2; // Not the same words running
  switch (turn->task) {
    case TASK_ASK:
      say_end(session,
              answer->n_notes == 1 ? "One note, and it stays open,"
              : other              ? "I leave it open,"
                                   : "A question: it stays open,");
      break;
    case TASK_CLOSE:
      say_end(session, other ? "Closed," : "It closes");
      break;
    case TASK_CELL:
      say_why(answer, cell_words(session, other));
      break;
    case TASK_LINE:
    case TASK_AGAIN:
      say_end(session, "A first line, ending");
      break;
    case TASK_SHOW:
      say_end(session,
              turn->turn_in_chorus % LINES == 0 ? "A line, ending"
                                                : "The next line, ending");
      break;
    case TASK_FEW:
      say_why(answer, few_words(pattern_few(turn->chorus), other));
      break;
    default:
      break;
  }
}

static void
answer_call(Session* const session)
{
  const SayRequest request = asked_request(session, &session->standing);
  think_end(&session->thinking, &session->next_answer);
  session->answer     = session->next_answer;
  session->answers_as = request.before         ? ANSWERS_AGAIN
                        : request.departs_from ? ANSWERS_DEPARTING
                                               : ANSWERS_FRESH;
  if (request.start > session->reply.turn.start) {
    hear_whole(session, &session->answer);
  }
  fit_notes(session);
  say_fitted(session);
  if (session->reply.turn.task == TASK_CELL) {
    session->cell = session->answer.heard;
  }
  say_remember(
    &session->history, &session->answer, session->reply.turn.begins_chorus);
}

static Tick
chorus_ticks(const Session* const session)
{
  return chart_ticks(session->options.chart);
}

// Keeps what is to be played again; what does not fit is not
static void
show(Session* const session)
{
  const Answer* const answer = &session->answer;
  const Turn* const   turn   = &session->reply.turn;
  if (turn->task != TASK_SHOW) {
    return;
  }
  if (turn->begins_chorus) {
    session->n_shown = 0;
    session->cell    = answer->heard;
  }
  for (unsigned i = 0; i < answer->n_notes && session->n_shown < SHOWN_CAPACITY;
       ++i) {
    session->shown[session->n_shown++] = (ShownNote){
      answer->notes[i], answer->grid_ticks[i], answer->is_ornament[i]};
  }
}

// Whether a note is left of a line that is made simpler by steps: on a beat,
// then on every other one
static bool
is_strong(const Tick grid_tick, const Meter meter, const unsigned steps)
{
  const Tick bar  = meter_bar_ticks(meter);
  const Tick beat = meter_beat_ticks(meter);
  const Tick at   = grid_tick - tick_floor(grid_tick, bar);
  return at % beat == 0 && at / beat % steps == 0;
}

// Leaves the strong notes of what is played again; the first, if none is
static void
thin_out(Answer* const answer, const Meter meter, const unsigned steps)
{
  unsigned n = 0;
  for (unsigned i = 0; i < answer->n_notes; ++i) {
    if (!answer->is_ornament[i] &&
        is_strong(answer->grid_ticks[i], meter, steps)) {
      answer->notes[n]       = answer->notes[i];
      answer->grid_ticks[n]  = answer->grid_ticks[i];
      answer->is_ornament[n] = false;
      ++n;
    }
  }
  answer->n_notes = n > 0 ? n : answer->n_notes > 0;
}

static void
hear_recalled(Answer* const said, const FitTurn* const room)
{
  hear_written(&said->heard,
               &room->ear,
               said->notes,
               said->grid_ticks,
               said->is_ornament,
               said->n_notes,
               room->start,
               room->end);
}

void
partner_turn_recall(Session* const session)
{
  const Turn* const turn = &session->reply.turn;
  Answer            said = {.move = MOVE_REPEAT};
  for (unsigned i = 0; i < session->n_shown && said.n_notes < ANSWER_CAPACITY;
       ++i) {
    const ShownNote* const shown = &session->shown[i];
    const Tick later = tick_floor(turn->start, chorus_ticks(session)) -
                       tick_floor(shown->grid_tick, chorus_ticks(session));
    const Tick at = shown->grid_tick + later;
    if (at >= turn->start && at < turn->end) {
      said.notes[said.n_notes] = shown->note;
      said.notes[said.n_notes].tick += later;
      said.grid_ticks[said.n_notes]  = at;
      said.is_ornament[said.n_notes] = shown->is_ornament;
      ++said.n_notes;
    }
  }
  FitTurn room = asked_fit(session);
  room.end     = turn->end;
  hear_recalled(&said, &room);
  session->cell = said.heard;
  if (session->standing.eased > 0) {
    thin_out(&said, session->options.chart->meter, session->standing.eased);
    hear_recalled(&said, &room);
  }
  session->answer = said;
}

void
partner_turn_remember(Session* const session, TurnRecord* const record)
{
  Standing* const standing = &session->standing;
  const Idea      idea     = idea_of(&record->phrase, false);
  if (record->turn.task == TASK_LINE) {
    standing->line = idea;
  }
  record->idea = ideas_meet(&standing->ideas, &idea, &record->likeness);
}

void
partner_turn_say(Session* const session, TurnRecord* const record)
{
  Standing* const     standing = &session->standing;
  const Answer* const answer   = &session->answer;
  const Turn          turn     = session->reply.turn;
  *record = (TurnRecord){.turn = turn, .rung = standing->climb.rung};
  const Phrase* const same = again(session, standing);
  if (follows_script(session, standing)) {
    const Ear ear = session_ear(&session->options);
    script_answer(session->options.script, &ear, &turn, &session->answer);
  } else if (opens_with_best(session, standing)) {
    say_best(session);
  } else if (same) {
    const FitTurn room = asked_fit(session);
    fit_again(&session->next_answer, same, &room);
    // A cell comes again and again, over other chords
    const bool was_said = turn.task == TASK_CELL && session->answer.n_notes;
    same_say(&session->next_answer,
             same_name(&turn),
             same,
             was_said ? &session->answer.heard : NULL);
    session->answer = session->next_answer;
  } else {
    answer_call(session);
  }
  session->has_opened = true;
  show(session);
  if (turn.task == TASK_AGAIN && !same) {
    record->turn.task = TASK_LINE; // Of a line that nobody said
  }
  record->phrase    = answer->heard;
  record->move      = answer->move;
  record->is        = answer->is;
  record->treatment = asked_treatment(session, standing);
  record->answers   = answer->likeness;
  (void)snprintf(record->why, sizeof(record->why), "%s", answer->why);
  partner_turn_remember(session, record);
}
