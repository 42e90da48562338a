#include "responder/session/coming.h"

#include "responder/session/asked.h"
#include "responder/session/facts.h"
#include "responder/session/way_words.h"
#include "responder/session/wording.h"

#include <assert.h>
#include <stdio.h>
#include <string.h>

static_assert(
  SENTENCE_AIM_TWICE - SENTENCE_AIM_LAND == N_AIMS - 1 &&
    SENTENCE_AIM_MET_TWICE - SENTENCE_AIM_MET_LAND == N_AIMS - 1 &&
    SENTENCE_AIM_MOST_TAKE_UP - SENTENCE_AIM_MOST_LAND == AIM_TWICE - 1 &&
    SENTENCE_AIM_SOME_TAKE_UP - SENTENCE_AIM_SOME_LAND == AIM_TWICE - 1 &&
    SENTENCE_AIM_MISSED_TWICE - SENTENCE_AIM_MISSED_LAND == N_AIMS - 1,
  "each aim has its sentences, in their order");

static bool
has_aim(const SessionOptions* const options)
{
  return options->way == WAY_ANSWER && !options->script;
}

const char*
session_opening(const SessionOptions* const options, char text[REMARK_CAPACITY])
{
  const unsigned number = (unsigned)options->seed;
  if (!has_aim(options)) {
    return way_words_opening(session_sentences(options),
                             session_turn_plan(options),
                             options->choruses * chart_ticks(options->chart),
                             number,
                             text);
  }
  const AimStand aim = session_first_aim(options);
  (void)snprintf(text,
                 REMARK_CAPACITY,
                 "%s",
                 sentence(session_sentences(options),
                          (SentenceKind)(SENTENCE_AIM_LAND + aim.aim),
                          number + 1));
  return text;
}

void
coming_count(Session* const session, const TurnRecord* const record)
{
  const Phrase* const phrase = &record->phrase;
  const Phrase* const said =
    session->answer.n_notes ? &session->answer.heard : NULL;
  const bool    plays = record->outcome.is_judged;
  const AimTurn turn  = {
     .has_notes = plays,
     .could     = {[AIM_LAND]    = plays,
                   [AIM_ROOM]    = true,
                   [AIM_TAKE_UP] = plays && said,
                   [AIM_TWICE]   = plays},
     .reached   = {[AIM_LAND] = record->outcome.landed,
                   [AIM_ROOM] =
                     !plays || facts_leaves_room(phrase->measures.space),
                   [AIM_TAKE_UP] = record->outcome.connected,
                   [AIM_TWICE]   = session->standing.comes_again},
  };
  aim_add(&session->aim, &turn);
  if (plays) {
    best_keep(&session->best, phrase, &record->outcome, said);
  }
}

// The next wording of a kind, after what stands there
static void
add_words(Session* const     session,
          TurnRecord* const  record,
          const SentenceKind kind)
{
  const size_t n = strlen(record->asks);
  (void)snprintf(record->asks + n,
                 sizeof(record->asks) - n,
                 "%s%s",
                 n ? " " : "",
                 wording_next(&session->remarks,
                              session_sentences(&session->options),
                              kind));
}

// The chorus is over: whether it reached its goal, and the next one's
static void
say_of_chorus(Session* const session, TurnRecord* const record)
{
  const AimStand was = session->aim;
  session->aim       = aim_next(&was);
  if (aim_is_heard(&was)) {
    static const unsigned firsts[] = {
      [AIM_NOT]     = SENTENCE_AIM_MISSED_LAND,
      [AIM_IN_PART] = SENTENCE_AIM_SOME_LAND,
      [AIM_MOSTLY]  = SENTENCE_AIM_MOST_LAND,
      [AIM_WHOLLY]  = SENTENCE_AIM_MET_LAND,
    };
    const unsigned first = firsts[aim_grade(&was)];
    add_words(session, record, (SentenceKind)(first + was.aim));
  }
  if (record->turn.end < session->end) {
    add_words(
      session, record, (SentenceKind)(SENTENCE_AIM_LAND + session->aim.aim));
  }
}

// A line that nobody said is not said again
static unsigned
kind_of_next(const Session* const session, const TurnRecord* const record)
{
  const Turn next =
    turn_at(session_turn_plan(&session->options), record->turn.index + 1);
  const unsigned kind = next.start < session->end
                          ? way_words_turn(&next,
                                           record->turn.ends_chorus,
                                           session->standing.echo.asks)
                          : N_SENTENCES;
  return kind == SENTENCE_TURN_AGAIN_MINE && !record->phrase.n_notes
           ? SENTENCE_TURN_LINE_MINE
           : kind;
}

// What tells that what comes is a step simpler than the player knows of, while
// there is time left to go along; N_SENTENCES: nothing
static unsigned
kind_of_simpler(Session* const session, const TurnRecord* const record)
{
  const unsigned eased = session->standing.eased;
  const Turn     next =
    turn_at(session_turn_plan(&session->options), record->turn.index + 1);
  const bool recalls    = asked_is_recalled(&next) && next.start < session->end;
  const bool simplifies = !next.by_player && next.end < session->end &&
                          next.task != TASK_AGAIN &&
                          asked_is_simpler(&next, &session->standing);
  const bool too_soon = record->outcome.miss == MISS_SING; // Told instead
  const bool tells =
    eased > session->eased_told && !too_soon && (recalls || simplifies);
  if (tells || eased < session->eased_told) {
    session->eased_told = eased;
  }
  return !tells    ? N_SENTENCES
         : recalls ? SENTENCE_TURN_STRONG
                   : SENTENCE_TURN_SIMPLER;
}

void
coming_say(Session* const session, TurnRecord* const record)
{
  const unsigned kind = kind_of_next(session, record);
  record->asks[0]     = '\0';
  const unsigned simpler =
    record->turn.by_player ? kind_of_simpler(session, record) : N_SENTENCES;
  if (simpler != N_SENTENCES) {
    add_words(session, record, (SentenceKind)simpler);
  }
  if (has_aim(&session->options)) {
    if (record->turn.ends_chorus) {
      say_of_chorus(session, record);
    }
  } else if (kind != N_SENTENCES) {
    add_words(session, record, (SentenceKind)kind);
  }
}
