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
    case TASK_FEW:
      return begins_form ? SENTENCE_TURN_FEW_ONE + pattern_few(turn->chorus) - 1
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

const char*
way_words_opening(const Sentences* const sentences,
                  const Way              way,
                  const Turn* const      first,
                  const Turn* const      last,
                  const unsigned         number,
                  char                   text[REMARK_CAPACITY])
{
  text[0] = '\0';
  if (way != WAY_ANSWER) {
    const SentenceKind goal =
      last->task == TASK_AGAIN && last->index > story_lines
        ? SENTENCE_WAY_STORY_BACK
        : (SentenceKind)(SENTENCE_WAY_QUESTION +
                         (unsigned)(way - WAY_QUESTION));
    const unsigned turn = way_words_turn(first, true, GOAL_RHYTHM);
    (void)snprintf(text,
                   REMARK_CAPACITY,
                   "%s%s%s",
                   sentence(sentences, goal, number),
                   turn == NOTHING ? "" : " ",
                   turn == NOTHING
                     ? ""
                     : sentence(sentences, (SentenceKind)turn, number + 1));
  }
  return text;
}
