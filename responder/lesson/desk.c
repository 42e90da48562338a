#include "responder/lesson/desk.h"

#include "responder/lesson/kept.h"
#include "responder/lesson/sessions.h"

#include <assert.h>
#include <stdio.h>
#include <string.h>

Status
desk_take(Desk* const          desk,
          const Choices* const choices,
          const Take* const    take,
          const OpeningSpan    span,
          Faults* const        faults)
{
  Fault        fault;
  const Status status = setup_load(&desk->setup, choices, faults);
  if (status) {
    return status;
  }
  return opening_of_take(&desk->opening, &desk->setup, take, span, &fault)
           ? faults_note(faults, &fault)
           : STATUS_OK;
}

// The notebook

static bool
is_in_meter(const JournalIdea* const kept, const Meter meter)
{
  char text[METER_TEXT_CAPACITY];
  return strcmp(kept->meter, meter_text(meter, text)) == 0;
}

// Where an idea stood, if this is its chart and nobody asks for other bars
static OpeningSpan
where_it_stood(const Desk* const        desk,
               const JournalIdea* const kept,
               const OpeningSpan        span)
{
  const Chart* const chart = &desk->setup.chart.chart;
  const bool         is_own =
    strncmp(kept->chart, chart->title, sizeof(kept->chart) - 1) == 0;
  const unsigned first = (unsigned)kept->first_bar;
  return is_own && !span.first && first >= 1 && first <= chart->n_bars
           ? (OpeningSpan){first, first}
           : span;
}

bool
desk_lay_kept(Desk* const              desk,
              const JournalIdea* const kept,
              const OpeningSpan        span)
{
  Idea     idea;
  unsigned tonic = 0;
  if (!kept_idea(kept, &idea, &tonic) ||
      !is_in_meter(kept, desk->setup.chart.chart.meter)) {
    return false;
  }
  opening_of_idea(&desk->opening,
                  &desk->setup,
                  idea,
                  tonic,
                  where_it_stood(desk, kept, span));
  return true;
}

static Status
no_such_meter(const Desk* const        desk,
              const JournalIdea* const kept,
              const size_t             number,
              Faults* const            faults)
{
  char text[METER_TEXT_CAPACITY];
  return faults_add(faults,
                    STATUS_RANGE,
                    NULL,
                    0,
                    "idea %zu of the notebook is in %s, the chart %s in %s; "
                    "--chart chooses another",
                    number,
                    kept->meter,
                    desk->setup.choices.chart,
                    meter_text(desk->setup.chart.chart.meter, text));
}

Status
desk_kept(Desk* const               desk,
          const Choices* const      choices,
          const JournalIdeas* const notebook,
          const size_t              number,
          const OpeningSpan         span,
          Faults* const             faults)
{
  const JournalIdea* const kept   = &notebook->ideas[number - 1];
  const Status             status = setup_load(&desk->setup, choices, faults);
  Idea                     idea;
  unsigned                 tonic = 0;
  if (status) {
    return status;
  }
  if (!kept_idea(kept, &idea, &tonic)) {
    return faults_add(faults,
                      STATUS_SYNTAX,
                      NULL,
                      0,
                      "idea %zu of the notebook is damaged",
                      number);
  }
  if (!desk_lay_kept(desk, kept, span)) {
    return no_such_meter(desk, kept, number, faults);
  }
  (void)snprintf(desk->opening.words,
                 sizeof(desk->opening.words),
                 "Idea %zu of the notebook, %s",
                 number,
                 kept->name[0] ? kept->name : kept->origin);
  return STATUS_OK;
}

// The last session, or something new

Status
desk_suggest(Desk* const          desk,
             const Choices* const choices,
             const OpeningSpan    span,
             Faults* const        faults)
{
  Fault        fault;
  const Status status = setup_load(&desk->setup, choices, faults);
  if (status) {
    return status;
  }
  return opening_suggest(&desk->opening, &desk->setup, span, &fault)
           ? faults_note(faults, &fault)
           : STATUS_OK;
}

// The learner's own rung, or where the ladder begins
static void
stand_on(Desk* const desk, const Rung rung)
{
  desk->setup.choices.rung = rung;
  for (unsigned i = 0; i < N_DIMENSIONS; ++i) {
    uint8_t* const level = &desk->setup.choices.rung.level[i];
    *level               = *level ? *level : desk->setup.ladder.start.level[i];
  }
}

Status
desk_last(Desk* const          desk,
          const Choices* const choices,
          const Who* const     who,
          const OpeningSpan    span,
          Faults* const        faults)
{
  SessionFound session;
  Fault        fault;
  Faults       passed = {.n_faults = 0};
  Status       status = sessions_latest(&session, who, &fault);
  if (!status && setup_load(&desk->setup, &session.choices, &passed)) {
    status = STATUS_MISSING; // As a recording that cannot be read
  }
  if (!status) {
    status = opening_of_recording(
      &desk->opening, &desk->setup, session.path, session.bar_one, &fault);
    desk->setup.choices.seed = choices->seed;
    memcpy(
      desk->setup.choices.control, choices->control, sizeof(choices->control));
    stand_on(desk, choices->rung);
  }
  if (!status) {
    return STATUS_OK;
  }
  return status == STATUS_MISSING ? desk_suggest(desk, choices, span, faults)
                                  : faults_note(faults, &fault);
}

void
desk_develop(Desk* const desk, const unsigned wanted)
{
  const SayRequest request =
    opening_request(&desk->opening, &desk->setup, &desk->history);
  develop(
    &desk->found, &desk->work, &request, wanted, desk->setup.choices.seed);
}

static_assert((int)SENTENCE_PRACTISE_ORNAMENT - (int)SENTENCE_PRACTISE_REPEAT ==
                (int)N_MOVES - 1,
              "each move has its sentence");

const char*
desk_practise(const Desk* const desk, const unsigned index)
{
  const Move move   = desk->found.ways[index].answer.move;
  unsigned   number = (unsigned)desk->setup.choices.seed;
  for (unsigned i = 0; i < index; ++i) {
    number += desk->found.ways[i].answer.move == move;
  }
  return sentence(&desk->setup.sentences,
                  (SentenceKind)(SENTENCE_PRACTISE_REPEAT + (unsigned)move),
                  number);
}
