#include "responder/session/coming.h"

#include "responder/session/facts.h"
#include "responder/session/way_words.h"

#include <assert.h>
#include <stdio.h>

static_assert(SENTENCE_AIM_TWICE - SENTENCE_AIM_LAND == N_AIMS - 1 &&
                SENTENCE_AIM_MET_TWICE - SENTENCE_AIM_MET_LAND == N_AIMS - 1 &&
                SENTENCE_AIM_MISSED_TWICE - SENTENCE_AIM_MISSED_LAND ==
                  N_AIMS - 1,
              "each aim has its sentences, in their order");

static bool
has_aim(const SessionOptions* const options)
{
  return options->way == WAY_ANSWER && !options->script;
}

static const char*
say_aim(const SessionOptions* const options,
        const SentenceKind          first,
        const Aim                   aim,
        const unsigned              number)
{
  return sentence(
    session_sentences(options), (SentenceKind)(first + (unsigned)aim), number);
}

const char*
session_opening(const SessionOptions* const options, char text[REMARK_CAPACITY])
{
  const Turn     first  = turn_at(session_turn_plan(options), 1);
  const unsigned number = (unsigned)options->seed;
  if (!has_aim(options)) {
    return way_words_opening(
      session_sentences(options), options->way, &first, number, text);
  }
  const AimStand aim = session_first_aim(options);
  (void)snprintf(text,
                 REMARK_CAPACITY,
                 "%s",
                 say_aim(options, SENTENCE_AIM_LAND, aim.aim, number));
  return text;
}

void
coming_count(Session* const session, const TurnRecord* const record)
{
  const Phrase* const phrase = &record->phrase;
  const Phrase* const said =
    session->answer.n_notes ? &session->answer.heard : NULL;
  if (!record->outcome.is_judged) {
    return;
  }
  const bool reached[N_AIMS] = {
    [AIM_LAND]    = record->outcome.landed,
    [AIM_ROOM]    = facts_leaves_room(phrase->measures.space),
    [AIM_TAKE_UP] = said && (facts_takes_rhythm(phrase, said) ||
                             facts_begins_from(phrase, said)),
    [AIM_TWICE]   = session->standing.times_said > 1,
  };
  aim_add(&session->aim, reached);
  best_keep(&session->best, phrase, &record->outcome, said);
}

// The chorus is over: whether it reached its goal, and the next one's
static void
say_of_chorus(Session* const session, TurnRecord* const record)
{
  const SessionOptions* const options = &session->options;
  const AimStand              was     = session->aim;
  const bool                  goes_on = record->turn.end < session->end;
  const char*                 met     = "";
  session->aim                        = aim_next(&was);
  if (was.n_turns > 0) {
    met = say_aim(options,
                  aim_is_met(&was) ? SENTENCE_AIM_MET_LAND
                                   : SENTENCE_AIM_MISSED_LAND,
                  was.aim,
                  record->turn.index);
  }
  (void)snprintf(record->asks,
                 sizeof(record->asks),
                 "%s%s%s",
                 met,
                 met[0] && goes_on ? " " : "",
                 goes_on ? say_aim(options,
                                   SENTENCE_AIM_LAND,
                                   session->aim.aim,
                                   record->turn.index)
                         : "");
}

void
coming_say(Session* const session, TurnRecord* const record)
{
  const SessionOptions* const options = &session->options;
  const Turn next = turn_at(session_turn_plan(options), record->turn.index + 1);
  if (has_aim(options) && record->turn.ends_chorus) {
    say_of_chorus(session, record);
  } else if (next.start < session->end) {
    (void)way_words_turn(session_sentences(options),
                         &next,
                         record->turn.ends_chorus,
                         session->standing.echo.asks,
                         record->turn.index,
                         record->asks);
  }
}
