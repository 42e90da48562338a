#include "responder/record/report.h"

#include "core/settings/utf8.h"
#include "responder/record/note_name.h"
#include "responder/say/why.h"

#include <jansson.h>
#include <math.h>
#include <stdlib.h>

struct Report {
  const Chart* chart;
  json_t*      root;
  json_t*      turns;
};

// Enough digits for any measure, few enough to read
static json_t*
number(const double value)
{
  return json_real(round(value * 10000.0) / 10000.0);
}

static json_t*
flag(const bool value)
{
  return json_boolean(value);
}

Report*
report_open(const ReportHead* const head)
{
  Report* const report = malloc(sizeof(*report));
  if (!report) {
    return NULL;
  }
  char key[KEY_TEXT_CAPACITY];
  char meter[METER_TEXT_CAPACITY];
  report->chart = head->chart;
  report->turns = json_array();
  report->root  = json_pack("{ss si ss ss ss ss so si sI si sO}",
                           "format",
                           "barter-report",
                           "version",
                           1,
                           "chart",
                           head->chart->title,
                           "key",
                           key_text(head->chart->key, key),
                           "meter",
                           meter_text(head->chart->meter, meter),
                           "feel",
                           utf8_is_line(head->feel) ? head->feel : "?",
                           "tempo_bpm",
                           number(head->tempo_bpm),
                           "ppq",
                           TICKS_PER_QUARTER,
                           "seed",
                           (json_int_t)head->seed,
                           "bars_per_turn",
                           (int)head->bars_per_turn,
                           "turns",
                           report->turns);
  return report;
}

void
report_close(Report* const report)
{
  if (report) {
    json_decref(report->turns);
    json_decref(report->root);
    free(report);
  }
}

static json_t*
chords_of(const Chart* const chart, const Turn* const turn)
{
  json_t* const chords = json_array();
  for (Tick tick = turn->start; tick < turn->end;
       tick      = chart_next_change(chart, tick)) {
    char symbol[CHORD_TEXT_CAPACITY];
    json_array_append_new(
      chords,
      json_pack("{sI ss}",
                "tick",
                (json_int_t)tick,
                "symbol",
                chord_text(chart_chord_at(chart, tick), symbol)));
  }
  return chords;
}

static json_t*
note_of(const Chart* const chart, const Phrase* const phrase, const unsigned i)
{
  const HeardNote* const note = &phrase->notes[i];
  char                   name[PITCH_TEXT_CAPACITY];
  json_t* const          resolved = note->resolution == RESOLUTION_NONE
                                      ? json_null()
                                      : flag(note->resolution != RESOLUTION_LEFT);
  return json_pack("{sI sI si ss si sI so ss so so ss?}",
                   "tick",
                   (json_int_t)note->note.tick,
                   "length",
                   (json_int_t)note->note.length,
                   "pitch",
                   (int)note->note.pitch,
                   "name",
                   note_name(chart, phrase, i, name),
                   "velocity",
                   (int)note->note.velocity,
                   "grid_tick",
                   (json_int_t)note->grid_tick,
                   "begins_phrase",
                   flag(note->begins_phrase),
                   "role",
                   role_name(note->role),
                   "ornament",
                   flag(note->is_ornament),
                   "resolved",
                   resolved,
                   "resolution",
                   resolution_name(note->resolution));
}

static json_t*
notes_of(const Chart* const chart, const Phrase* const phrase)
{
  json_t* const notes = json_array();
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    json_array_append_new(notes, note_of(chart, phrase, i));
  }
  return notes;
}

static json_t*
rhythm_of(const Measures* const measures)
{
  return json_pack("{ss so so so so so}",
                   "grid",
                   grid_name(measures->grid),
                   "swing_ratio",
                   measures->swing_ratio > 0.0F
                     ? number((double)measures->swing_ratio)
                     : json_null(),
                   "offset_ms",
                   number((double)measures->offset_ms),
                   "spread_ms",
                   number((double)measures->spread_ms),
                   "syncopation",
                   number((double)measures->syncopation),
                   "onsets_per_bar",
                   number((double)measures->onsets_per_bar));
}

static json_t*
target_of(const Phrase* const phrase)
{
  if (phrase->target == PHRASE_NO_TARGET) {
    return json_null();
  }
  const HeardNote* const note = &phrase->notes[phrase->target];
  return json_pack("{sI si ss}",
                   "tick",
                   (json_int_t)note->note.tick,
                   "pitch",
                   (int)note->note.pitch,
                   "role",
                   role_name(note->role));
}

// What it came to half a beat after the line
static json_t*
landing_of(const Chart* const chart, const Phrase* const phrase)
{
  const Landing* const landing = &phrase->landing;
  char                 name[PITCH_TEXT_CAPACITY];
  const Spelling       spelling = chart_spell_leading(
    chart, landing->grid_tick, landing->note.pitch, CHART_NOTHING);
  return landing->is_there
           ? json_pack("{sI sI si ss ss}",
                       "tick",
                       (json_int_t)landing->note.tick,
                       "grid_tick",
                       (json_int_t)landing->grid_tick,
                       "pitch",
                       (int)landing->note.pitch,
                       "name",
                       pitch_text(landing->note.pitch, spelling, name),
                       "role",
                       role_name(landing->role))
           : json_null();
}

// What was struck first in the silence before the turn, and how many notes were
static json_t*
early_of(const Chart* const chart, const TurnRecord* const record)
{
  const Note* const early = &record->early;
  char              name[PITCH_TEXT_CAPACITY];
  const Spelling    spelling = chart_spell(chart, early->tick, early->pitch);
  return record->n_early ? json_pack("{sI si ss si}",
                                     "tick",
                                     (json_int_t)early->tick,
                                     "pitch",
                                     (int)early->pitch,
                                     "name",
                                     pitch_text(early->pitch, spelling, name),
                                     "notes",
                                     (int)record->n_early)
                         : json_null();
}

static json_t*
idea_json(const TurnRecord* const record)
{
  return record->idea ? json_pack("{si so}",
                                  "id",
                                  (int)record->idea,
                                  "likeness",
                                  number((double)record->likeness))
                      : json_null();
}

static json_t*
rung_of(const Rung* const rung)
{
  json_t* const object = json_object();
  for (unsigned i = 0; i < N_DIMENSIONS; ++i) {
    json_object_set_new(
      object, dimension_name(i), json_integer(rung->level[i]));
  }
  return object;
}

// What the ladder did after a turn, and why; null if it stayed
static json_t*
moved_of(const ClimbMove* const move)
{
  char text[CLIMB_TEXT_CAPACITY];
  return move->reason == CLIMB_STAYS
           ? json_null()
           : json_pack("{ss ss si ss}",
                       "reason",
                       climb_reason_name(move->reason),
                       "dimension",
                       dimension_name(move->dimension),
                       "to",
                       (int)move->rung.level[move->dimension],
                       "why",
                       climb_text(move, text));
}

static void
add_outcome(json_t* const turn, const TurnRecord* const record)
{
  const Outcome* const outcome = &record->outcome;
  char                 text[OUTCOME_TEXT_CAPACITY];
  json_object_set_new(turn,
                      "stands_on",
                      record->rung.level[0] ? rung_of(&record->rung)
                                            : json_null());
  json_object_set_new(
    turn,
    "success",
    outcome->is_judged ? json_boolean(outcome_succeeds(outcome)) : json_null());
  json_object_set_new(
    turn, "outcome", json_string(outcome_text(outcome, text)));
  json_object_set_new(turn, "moved", moved_of(&record->climb));
}

json_t*
report_turn(const Chart* const chart, const TurnRecord* const record)
{
  const Phrase* const phrase = &record->phrase;
  json_t* const turn = json_pack("{si ss sI sI si so so so so so ss so so so}",
                                 "index",
                                 (int)record->turn.index,
                                 "by",
                                 record->turn.by_player ? "player" : "partner",
                                 "start_tick",
                                 (json_int_t)record->turn.start,
                                 "end_tick",
                                 (json_int_t)record->turn.end,
                                 "first_bar",
                                 (int)record->turn.first_bar,
                                 "chords",
                                 chords_of(chart, &record->turn),
                                 "notes",
                                 notes_of(chart, phrase),
                                 "rhythm",
                                 rhythm_of(&phrase->measures),
                                 "space",
                                 number((double)phrase->measures.space),
                                 "target",
                                 target_of(phrase),
                                 "contour",
                                 phrase->contour,
                                 "idea",
                                 idea_json(record),
                                 "complexity",
                                 number((double)phrase->measures.complexity),
                                 "rung",
                                 rung_of(&phrase->rung));
  if (record->turn.by_player) {
    json_object_set_new(turn, "says", json_string(record->remark));
    json_object_set_new(turn, "landing", landing_of(chart, phrase));
    json_object_set_new(turn, "early", early_of(chart, record));
    add_outcome(turn, record);
  } else {
    json_object_set_new(
      turn, "move", json_string(why_name(record->is, record->move)));
    json_object_set_new(turn, "why", json_string(record->why));
  }
  if (record->turn.task != TASK_FREE) {
    json_object_set_new(
      turn, "task", json_string(task_name(record->turn.task)));
  }
  if (record->asks[0]) {
    json_object_set_new(turn, "asks", json_string(record->asks));
  }
  return turn;
}

void
report_add_turn(Report* const report, const TurnRecord* const record)
{
  json_array_append_new(report->turns, report_turn(report->chart, record));
}

void
report_add_idea(Report* const           report,
                const TurnRecord* const record,
                const Likeness          likeness,
                const char* const       practise)
{
  json_t* const turn = report_turn(report->chart, record);
  json_object_set_new(turn,
                      "likeness",
                      json_pack("{so so so}",
                                "rhythm",
                                number((double)likeness.rhythm),
                                "pitch",
                                number((double)likeness.pitch),
                                "whole",
                                number((double)likeness.whole)));
  json_object_set_new(turn, "practise", json_string(practise));
  json_array_append_new(report->turns, turn);
}

void
report_add_summary(Report* const report, const Summary* const summary)
{
  const SummaryWords words = summary_words(summary);
  json_object_set_new(report->root,
                      "summary",
                      json_pack("{si si si si si si s[ss] ss ss}",
                                "player_turns",
                                (int)summary->n_turns,
                                "silent_turns",
                                (int)summary->n_silent,
                                "landed_turns",
                                (int)summary->n_landed,
                                "notes",
                                (int)summary->n_notes,
                                "notes_outside",
                                (int)summary->n_outside,
                                "notes_left_hanging",
                                (int)summary->n_left,
                                "worked",
                                words.worked[0],
                                words.worked[1],
                                "work_on",
                                words.work_on,
                                "next_time",
                                words.next_time));
}

char*
report_text(const Report* const report)
{
  return json_dumps(report->root, JSON_INDENT(1) | JSON_REAL_PRECISION(9));
}
