#include "responder/session/way_words.h"

#include <assert.h>
#include <stdio.h>

enum { NOTHING = N_SENTENCES };

// A A B; common practice, no source
static const unsigned story_lines = 3;

static_assert(SENTENCE_WAY_SING_FIRST - SENTENCE_WAY_QUESTION ==
                WAY_SING_FIRST - WAY_QUESTION,
              "each way has its goal, in their order");
static_assert(SENTENCE_TURN_ECHO_WHOLE - SENTENCE_TURN_ECHO_RHYTHM ==
                GOAL_WHOLE - GOAL_RHYTHM,
              "what an echo asks for is in its order");
static_assert(SENTENCE_TURN_FEW_THREE - SENTENCE_TURN_FEW_ONE + 1 ==
                PATTERN_FEW_MOST,
              "so many notes are few");

unsigned
way_words_turn(const Turn* const turn, const bool begins_form, const Goal echo)
{
  const bool mine = turn->by_player;
  switch (turn->task) {
    case TASK_ASK:
      // Where the partner begins, the player asks only what is left over
      return mine && (turn->begins_chorus || turn->chorus % 2 == 0)
               ? SENTENCE_TURN_ASK
               : NOTHING;
    case TASK_CLOSE:
      return !mine                 ? NOTHING
             : turn->begins_chorus ? SENTENCE_TURN_CLOSE
             : turn->chorus % 2    ? SENTENCE_TURN_CLOSE_LAST
                                   : NOTHING;
    case TASK_GIVE_BACK:
      return SENTENCE_TURN_ECHO_RHYTHM + (unsigned)(echo - GOAL_RHYTHM);
    case TASK_FEW: // What was allowed before is not new
      return begins_form && turn->chorus < PATTERN_FEW_MOST
               ? SENTENCE_TURN_FEW_ONE + pattern_few(turn->chorus) - 1
               : NOTHING;
    case TASK_LINE:
      return mine ? SENTENCE_TURN_LINE_YOURS : SENTENCE_TURN_LINE_MINE;
    case TASK_AGAIN:
      return !mine ? SENTENCE_TURN_AGAIN_MINE
             : turn->turn_in_chorus > 1 && turn->ends_chorus
               ? SENTENCE_TURN_AGAIN_LAST
               : SENTENCE_TURN_AGAIN_YOURS;
    case TASK_LAST:
      return SENTENCE_TURN_LAST;
    case TASK_SHOW:
      return begins_form ? SENTENCE_TURN_SHOW : NOTHING;
    case TASK_ALONG:
      return begins_form ? SENTENCE_TURN_ALONG : NOTHING;
    case TASK_ALONE:
      return begins_form ? SENTENCE_TURN_ALONE : NOTHING;
    case TASK_FREE:
    case TASK_CELL:
    case TASK_SING:
      break;
  }
  return NOTHING;
}

// Whether the player has turns for all that a way promises at its beginning
static bool
is_kept(const TurnPlan plan, const Tick end)
{
  bool     has[N_TASKS] = {false};
  unsigned chorus       = 0;
  for (Turn turn = turn_at(plan, 1); turn.start < end;
       turn      = turn_at(plan, turn.index + 1)) {
    has[turn.task] = has[turn.task] || turn.by_player;
    chorus         = turn.by_player ? turn.chorus : chorus;
  }
  return plan.way == WAY_QUESTION       ? has[TASK_ASK] && has[TASK_CLOSE]
         : plan.way == WAY_HANDING_OVER ? has[TASK_ALONG] && has[TASK_ALONE]
         : plan.way == WAY_FEW_NOTES    ? chorus + 1 >= PATTERN_FEW_MOST
                                        : true;
}

static Turn
last_of_chorus(const TurnPlan plan)
{
  Turn last = turn_at(plan, 1);
  while (!last.ends_chorus) {
    last = turn_at(plan, last.index + 1);
  }
  return last;
}

// A story of more lines than four is told anew before it comes back
static SentenceKind
goal_of(const TurnPlan plan)
{
  const Turn last = last_of_chorus(plan);
  return last.task == TASK_AGAIN && last.index == story_lines + 1
           ? SENTENCE_WAY_STORY_BACK
           : (SentenceKind)(SENTENCE_WAY_QUESTION +
                            (unsigned)(plan.way - WAY_QUESTION));
}

const char*
way_words_opening(const Sentences* const sentences,
                  const TurnPlan         plan,
                  const Tick             end,
                  const unsigned         number,
                  char                   text[REMARK_CAPACITY])
{
  text[0] = '\0';
  if (plan.way != WAY_ANSWER) {
    const Turn     first = turn_at(plan, 1);
    const Turn     next  = turn_at(plan, 2);
    const bool     keeps = is_kept(plan, end);
    const unsigned of    = way_words_turn(&first, true, GOAL_RHYTHM);
    const unsigned turn =
      of == NOTHING && !keeps ? way_words_turn(&next, true, GOAL_RHYTHM) : of;
    (void)snprintf(text,
                   REMARK_CAPACITY,
                   "%s%s%s",
                   keeps ? sentence(sentences, goal_of(plan), number) : "",
                   keeps && turn != NOTHING ? " " : "",
                   turn == NOTHING
                     ? ""
                     : sentence(sentences, (SentenceKind)turn, number + 1));
  }
  return text;
}
