#include "responder/lesson/opening.h"

#include "core/band/feel.h"
#include "responder/ideas/excerpt.h"
#include "responder/ideas/notebook.h"
#include "responder/record/drive.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
  TURN_BARS    = 2, ///< Of what came before, heard so much at a time
  STREAM_FIRST = 5,
};

static Tick
bar_of(const Setup* const setup)
{
  return meter_bar_ticks(setup->chart.chart.meter);
}

static Tick
pick_up_of(const Setup* const setup)
{
  return meter_beat_ticks(setup->chart.chart.meter) / 2;
}

/// Some notes of a take and the turn that they are heard in.
typedef struct {
  size_t first;
  size_t end;
  Tick   from;
  Tick   to;
} Stretch;

static void
hear_stretch(Phrase* const      phrase,
             HearWork* const    work,
             const Setup* const setup,
             const Take* const  take,
             const Stretch      stretch)
{
  const SessionOptions session = setup_session(setup);
  const Ear            ear     = session_ear(&session);
  hear_phrase(phrase,
              work,
              &ear,
              take->notes + stretch.first,
              (unsigned)(stretch.end - stretch.first),
              stretch.from,
              stretch.to);
}

/// Find the notes that belong to some bars.
static Stretch
notes_in(const Setup* const setup,
         const Take* const  take,
         const Tick         from,
         const Tick         to)
{
  const Tick pick_up = pick_up_of(setup);
  Stretch    stretch = {.from = from, .to = to};
  while (stretch.first < take->n_notes &&
         take->notes[stretch.first].tick < from - pick_up) {
    ++stretch.first;
  }
  stretch.end = stretch.first;
  while (stretch.end < take->n_notes &&
         take->notes[stretch.end].tick < to - pick_up) {
    ++stretch.end;
  }
  return stretch;
}

/// Cut what was heard down to its first phrase and the bars that it touches.
static Stretch
first_phrase(const Setup* const  setup,
             const Phrase* const phrase,
             const Take* const   take,
             Stretch             stretch)
{
  const Tick     bar = bar_of(setup);
  const unsigned end = excerpt_end(phrase, bar);
  if (end < phrase->n_notes) {
    while (stretch.end > stretch.first &&
           take->notes[stretch.end - 1].tick >= phrase->notes[end].note.tick) {
      --stretch.end;
    }
  }
  const Tick last = phrase->notes[end - 1].grid_tick;
  stretch.to      = stretch.from + excerpt_bars(stretch.from, last, bar) * bar;
  return stretch;
}

/// Remember what the bars before held, so that it can be returned to.
static void
remember_before(Opening* const     opening,
                HearWork* const    work,
                const Setup* const setup,
                const Take* const  take,
                const Tick         before)
{
  const Tick turn = TURN_BARS * bar_of(setup);
  for (Tick from = 0; from + turn <= before; from += turn) {
    hear_stretch(&opening->phrase,
                 work,
                 setup,
                 take,
                 notes_in(setup, take, from, from + turn));
    const Idea idea = idea_of(&opening->phrase, true);
    float      likeness;
    (void)ideas_meet(&opening->ideas, &idea, &likeness);
  }
}

static Stretch
choose_stretch(Opening* const     opening,
               HearWork* const    work,
               const Setup* const setup,
               const Take* const  take,
               const OpeningSpan  span)
{
  const Tick bar = bar_of(setup);
  if (span.first) {
    return notes_in(
      setup, take, (Tick)(span.first - 1) * bar, (Tick)span.last * bar);
  }
  const Stretch all  = notes_in(setup, take, 0, INT64_MAX / 2);
  const Tick    tick = all.first < all.end ? take->notes[all.first].tick : 0;
  const Tick    from = (tick + pick_up_of(setup)) / bar * bar;
  const Stretch some =
    notes_in(setup, take, from, from + OPENING_BARS_MOST * bar);
  hear_stretch(&opening->phrase, work, setup, take, some);
  return opening->phrase.n_notes
           ? first_phrase(setup, &opening->phrase, take, some)
           : some;
}

Status
opening_of_take(Opening* const     opening,
                const Setup* const setup,
                const Take* const  take,
                const OpeningSpan  span,
                Fault* const       fault)
{
  HearWork* const work = calloc(1, sizeof(*work));
  if (!work) {
    return fault_memory(fault, NULL);
  }
  const Stretch stretch = choose_stretch(opening, work, setup, take, span);
  remember_before(opening, work, setup, take, stretch.from);
  hear_stretch(&opening->phrase, work, setup, take, stretch);
  free(work);
  (void)snprintf(opening->words, sizeof(opening->words), "Your phrase");
  if (opening->phrase.n_notes) {
    return STATUS_OK;
  }
  return span.first
           ? fault_say(fault,
                       STATUS_MISSING,
                       "there is no note of a melody in bars %u-%u of the take",
                       span.first,
                       span.last)
           : fault_say(fault,
                       STATUS_MISSING,
                       "there is no phrase in the take to go on from");
}

// A session

static void
keep_last(void* const context, const TurnRecord* const record)
{
  Opening* const opening = context;
  if (record->turn.by_player && record->phrase.n_notes) {
    opening->phrase = record->phrase;
  }
}

Status
opening_of_recording(Opening* const     opening,
                     const Setup* const setup,
                     const char* const  path,
                     const Tick         bar_one,
                     Fault* const       fault)
{
  const SessionOptions session = setup_session(setup);
  Take                 take;
  Conversation         conversation;
  HeardKey*            keys   = NULL;
  DrivePlayer          player = {.hear_turn = keep_last, .context = opening};
  Status               status =
    take_load(&take, path, (TakeChoice){.track = "player"}, fault);
  if (status) {
    return status;
  }
  take_shift(&take, -bar_one); // A recording counts from its count-in
  opening->phrase.n_notes = 0;
  status                  = take_keys(&take, &keys, &player.n_keys);
  if (!status) {
    player.keys = keys;
    status      = drive_session(&conversation, &session, &player);
  }
  if (status) {
    (void)fault_memory(fault, NULL);
  } else {
    conversation_free(&conversation);
    status = opening->phrase.n_notes ? STATUS_OK : STATUS_MISSING;
  }
  free(keys);
  take_free(&take);
  (void)snprintf(opening->words,
                 sizeof(opening->words),
                 "The last turn that you played, of %.100s",
                 strrchr(path, '/') ? strrchr(path, '/') + 1 : path);
  return status;
}

// Ideas

static Tick
span_start(const Setup* const setup, const OpeningSpan span)
{
  return span.first ? (Tick)(span.first - 1) * bar_of(setup) : 0;
}

void
opening_of_idea(Opening* const     opening,
                const Setup* const setup,
                Idea               idea,
                const unsigned     tonic,
                const OpeningSpan  span)
{
  const SessionOptions session = setup_session(setup);
  const Ear            ear     = session_ear(&session);
  const Tick           bar     = bar_of(setup);
  const Tick           start   = span_start(setup, span);
  const Tick           n_bars  = (notebook_end(&idea) + bar - 1) / bar;
  notebook_transpose(&idea,
                     tonic,
                     spelling_pitch_class(session.chart->key.tonic),
                     session.lowest,
                     session.highest);
  notebook_phrase(
    &opening->phrase,
    &idea,
    &ear,
    feel_swing_ratio(session.feel, session.tempo_bpm),
    start,
    start + (n_bars < OPENING_BARS_MOST ? n_bars : OPENING_BARS_MOST) * bar);
}

SayRequest
opening_request(const Opening* const    opening,
                const Setup* const      setup,
                const SayHistory* const history)
{
  const SessionOptions session = setup_session(setup);
  const Phrase* const  phrase  = &opening->phrase;
  const Tick           form    = chart_ticks(session.chart);
  return (SayRequest){
    .ear             = session_ear(&session),
    .rung            = session.rung,
    .start           = phrase->start_tick,
    .earliest        = phrase->start_tick,
    .end             = phrase->end_tick,
    .call            = phrase,
    .ideas           = &opening->ideas,
    .history         = history,
    .lowest          = session.lowest,
    .highest         = session.highest,
    .hand_span       = session.hand_span,
    .swing_ratio     = feel_swing_ratio(session.feel, session.tempo_bpm),
    .treatment       = TREAT_ANSWER,
    .turn_in_chorus  = 0,
    .turns_in_chorus = 1,
    .ends_chorus     = phrase->end_tick % form == 0,
  };
}

Status
opening_suggest(Opening* const     opening,
                const Setup* const setup,
                const OpeningSpan  span,
                Fault* const       fault)
{
  static const SayHistory none   = {.n_answers = 0};
  const Tick              bar    = bar_of(setup);
  Thinking* const         work   = calloc(1, sizeof(*work));
  Answer* const           answer = calloc(1, sizeof(*answer));
  if (work && answer) {
    Phrase* const silence = &opening->phrase;
    *silence              = (Phrase){.start_tick = span_start(setup, span)};
    silence->end_tick =
      span.first ? (Tick)span.last * bar
                 : (Tick)setup->choices.bars * bar + silence->start_tick;
    const SayRequest request = opening_request(opening, setup, &none);
    Rng              rng     = rng_seed(setup->choices.seed, STREAM_FIRST);
    say_answer(answer, work, &request, &rng);
    opening->phrase = answer->heard;
    (void)snprintf(
      opening->words, sizeof(opening->words), "A phrase to begin with");
  }
  const Status status = work && answer ? STATUS_OK : fault_memory(fault, NULL);
  free(work);
  free(answer);
  return status;
}
