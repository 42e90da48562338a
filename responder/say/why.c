#include "responder/say/why.h"

#include "core/music/chord.h"
#include "core/music/interval.h"
#include "core/music/text.h"
#include "responder/hear/hear.h"
#include "responder/say/why_end.h"

#include <assert.h>
#include <stdlib.h>

enum {
  N_SIZES   = 13,
  N_NUMBERS = 6,
  OCTAVE    = 12,
};

static const char* const sizes[N_SIZES] = {
  "",
  "a semitone",
  "a step",
  "a third",
  "a third",
  "a fourth",
  "a fifth",
  "a fifth",
  "a sixth",
  "a sixth",
  "a seventh",
  "a seventh",
  "an octave",
};

static const char* const numbers[N_NUMBERS] = {
  "",
  "once",
  "twice",
  "three times",
  "four times",
  "five times",
};

static bool
has_ornaments(const Answer* const answer)
{
  bool has = false;
  for (unsigned i = 0; i < answer->n_notes; ++i) {
    has = has || answer->is_ornament[i];
  }
  return has;
}

static void
add_sequence(Text* const text, const int semitones)
{
  const int size = abs(semitones);
  text_add(text, "The shape of your phrase, ");
  text_add(text, size <= OCTAVE ? sizes[size] : "more than an octave");
  text_add(text, semitones > 0 ? " higher" : " lower");
}

/// How a piece is said again.
typedef struct {
  bool keeps_shape; ///< It rises and falls as it did at first
  bool moves;       ///< On other keys
  bool with_chords; ///< ... over other chords
} Again;

static unsigned
written_notes(const Answer* const answer, unsigned written[ANSWER_CAPACITY])
{
  unsigned n = 0;
  for (unsigned i = 0; i < answer->n_notes; ++i) {
    if (!answer->is_ornament[i]) {
      written[n++] = i;
    }
  }
  return n;
}

/// Return 1 up, -1 down, 0 where it stays.
static int
way_to(const Answer* const answer, const unsigned from, const unsigned to)
{
  return interval_way(answer->notes[to].pitch - answer->notes[from].pitch);
}

/// Compare what is said again of `period` notes with how it was at first.
static Again
compare_statements(const Answer* const answer,
                   const Chart* const  chart,
                   const unsigned      period)
{
  unsigned       written[ANSWER_CAPACITY];
  const unsigned n  = written_notes(answer, written);
  Again          as = {.keeps_shape = true};
  for (unsigned i = period; period > 0 && i < n; ++i) {
    const unsigned here  = written[i];
    const unsigned first = written[i % period];
    const bool moves = answer->notes[here].pitch != answer->notes[first].pitch;
    if (i % period > 0) {
      as.keeps_shape =
        as.keeps_shape && way_to(answer, written[i - 1], here) ==
                            way_to(answer, written[i % period - 1], first);
    }
    as.moves = as.moves || moves;
    as.with_chords =
      as.with_chords ||
      (moves &&
       !chord_equals(chart_chord_at(chart, answer->grid_ticks[here]),
                     chart_chord_at(chart, answer->grid_ticks[first])));
  }
  return as;
}

static void
add_fragment(Text* const            text,
             const MoveFacts* const facts,
             const Answer* const    answer,
             const Chart* const     chart)
{
  const Again    as    = compare_statements(answer, chart, facts->n_notes);
  const unsigned times = facts->n_times < N_NUMBERS ? facts->n_times : 0;
  text_add(text, as.keeps_shape ? "A piece" : "The rhythm of a piece");
  text_add(text, facts->of_idea ? " of the idea, " : " of your phrase, ");
  text_add(text, numbers[times]);
  text_add(text,
           times < 2 || !as.keeps_shape || !as.moves ? ""
           : as.with_chords ? ", moving with the chords"
                            : ", moving on");
}

/// Return what came again of the call: with few notes its rhythm alone.
static const char*
what_of(const MoveFacts* const facts)
{
  return facts->of_rhythm ? "Your rhythm" : "Your phrase";
}

static void
add_shift(Text* const text, const MoveFacts* const facts)
{
  const Tick shift = facts->shift;
  const bool by_beat =
    shift % TICKS_PER_QUARTER == 0 || shift % (3 * TICKS_PER_EIGHTH) == 0;
  text_add(text, what_of(facts));
  text_add(text, by_beat ? ", a beat " : ", half a beat ");
  text_add(text, shift > 0 ? "later" : "earlier");
}

static void
add_own(Text* const text, const MoveFacts* const facts)
{
  text_add(text, "A cell of my own");
  text_add(text, facts->of_idea ? "" : " beside your phrase");
}

/// Say what became of a cell of the call.
static void
add_cell(Text* const text, const MoveFacts* const facts)
{
  const char* const what = facts->of_idea    ? "the idea"
                           : facts->at_start ? "your opening"
                           : facts->at_end   ? "your ending"
                                             : "a piece of your phrase";
  if (facts->of_rhythm) {
    text_add(text, "The rhythm of ");
    text_add(text, what);
    text_add(text,
             facts->move == MOVE_FRAGMENT ? ", twice" : ", with new notes");
    return;
  }
  switch (facts->move) {
    case MOVE_QUESTION_AND_ANSWER:
      text_add(text, "I asked with ");
      text_add(text, what);
      text_add(text, " and answered with an end of my own");
      return;
    default:
      text_add(text, "I took ");
      text_add(text, what);
      text_add(text,
               facts->move == MOVE_SEQUENCE    ? " to another step"
               : facts->move == MOVE_TURN_OVER ? " and turned it over"
               : facts->move == MOVE_SHIFT     ? " to another place in the bar"
                                               : " and said it twice");
  }
}

/// Say of what is hardly there that it came after something, and no more.
static void
add_plainer(Text* const text, const MoveFacts* const facts)
{
  text_add(text, "Something plainer after ");
  text_add(text, facts->of_idea ? "the idea" : "your phrase");
}

static void
add_repeat(Text* const text, const MoveFacts* const facts)
{
  if (facts->is_little) {
    add_plainer(text, facts);
    return;
  }
  text_add(text,
           !facts->of_idea    ? what_of(facts)
           : facts->of_rhythm ? "The rhythm of the idea"
                              : "The idea");
  text_add(text, " again");
  if (facts->is_simplified && !facts->of_idea) {
    text_add(text, facts->of_rhythm ? ", made plainer" : ", in plainer rhythm");
  }
}

static void
add_return(Text* const text, const MoveFacts* const facts)
{
  text_add(text, "Back to ");
  text_add(text, facts->of_rhythm ? "the rhythm of " : "");
  text_add(text,
           facts->of_kept ? "an idea of your notebook" : "an idea from before");
}

static void
add_thinned(Text* const            text,
            const MoveFacts* const facts,
            const Answer* const    answer)
{
  unsigned    written[ANSWER_CAPACITY];
  const char* what = facts->of_idea ? "The idea" : what_of(facts);
  if (written_notes(answer, written) == 1) { // No rhythm is left of it
    text_add(text, facts->of_idea ? what : "Your phrase");
    text_add(text, ", in one note");
    return;
  }
  if (facts->is_simplified) { // It may stand in other places
    add_plainer(text, facts);
    return;
  }
  text_add(text, what);
  text_add(text, " thinned out");
}

/// Say what the move did with what.
static void
add_deed(Text* const            text,
         const MoveFacts* const facts,
         const Answer* const    answer,
         const Chart* const     chart)
{
  const int first = why_end_last(answer) >= 0 ? why_end_first_pitch(answer) : 0;
  switch (facts->move) {
    case MOVE_REPEAT:
      add_repeat(text, facts);
      break;
    case MOVE_NEW_NOTES:
      text_add(text,
               facts->of_idea ? "The same rhythm with new notes"
               : facts->is_simplified
                 ? "Your rhythm made plainer, with new notes"
                 : "Your rhythm again, with new notes");
      break;
    case MOVE_NEW_RHYTHM:
      text_add(text,
               facts->is_fitted
                 ? "Your notes, fitted to the chords, in a new rhythm"
                 : "Your notes in their order, in a new rhythm");
      break;
    case MOVE_SEQUENCE:
      add_sequence(text, first - (int)facts->from_pitch);
      break;
    case MOVE_QUESTION_AND_ANSWER:
      text_add(text,
               facts->is_whole
                 ? "Your phrase as a question, with an answer to it"
                 : "Your opening as a question, with a new ending");
      break;
    case MOVE_FRAGMENT:
      add_fragment(text, facts, answer, chart);
      break;
    case MOVE_THIN_OUT:
      add_thinned(text, facts, answer);
      break;
    case MOVE_FILL_IN:
      text_add(text, "Your phrase with steps filled in between");
      break;
    case MOVE_TURN_OVER:
      text_add(text, "Your phrase turned over: where you rose, it falls");
      break;
    case MOVE_SHIFT:
      add_shift(text, facts);
      break;
    case MOVE_RETURN:
      add_return(text, facts);
      break;
    case MOVE_ORNAMENT:
      text_add(text, what_of(facts));
      text_add(text, " again, with a crushed note or two");
      break;
  }
}

const char*
why_name(const AnswerIs is, const Move move)
{
  static const char* const names[N_ANSWER_IS] = {
    [ANSWER_BY_MOVE] = "",
    [ANSWER_FIRST]   = "first idea",
    [ANSWER_PLAIN]   = "plain root",
    [ANSWER_OWN]     = "own line",
    [ANSWER_AGAIN]   = "same answer",
    [ANSWER_BEST]    = "your best phrase",
  };
  assert((unsigned)is < N_ANSWER_IS);
  return is == ANSWER_BY_MOVE ? move_name(move) : names[is];
}

static AnswerIs
what_is(const MoveFacts* const facts)
{
  return facts->is_plain                   ? ANSWER_PLAIN
         : facts->is_opening               ? ANSWER_FIRST
         : facts->is_again                 ? ANSWER_AGAIN
         : facts->of_cell && facts->is_own ? ANSWER_OWN
                                           : ANSWER_BY_MOVE;
}

/// Return how roots alone are told, in other words where they come again.
static const char*
plain_words(const Answer* const answer, const MoveFacts* const facts)
{
  const bool is_again = facts->n_plain % 2;
  return has_ornaments(answer)
           ? is_again ? "The root once more, with a crushed note to it"
                      : "The root, and a crushed note to it"
         : is_again           ? "The root once more"
         : facts->n_plain > 0 ? "The root again, and that is all"
                              : "The root, plain and simple";
}

/// Say what the answer is, or what was done to what.
static void
add_matter(Text* const            text,
           const Answer* const    answer,
           const Chart* const     chart,
           const MoveFacts* const facts)
{
  switch (answer->is) {
    case ANSWER_PLAIN:
      text_add(text, plain_words(answer, facts));
      break;
    case ANSWER_FIRST:
      text_add(text, "A first idea to begin with");
      break;
    case ANSWER_AGAIN:
      text_add(text, "My answer again");
      text_add(text, facts->is_fitted ? ", fitted to the chords now" : "");
      break;
    case ANSWER_OWN:
      add_own(text, facts);
      break;
    case ANSWER_BEST: // The session's own words
      break;
    case ANSWER_BY_MOVE:
      if (facts->of_cell) {
        add_cell(text, facts);
      } else {
        add_deed(text, facts, answer, chart);
      }
      break;
  }
}

void
why_write(Answer* const          answer,
          const Chart* const     chart,
          const MoveFacts* const facts,
          const Treatment        treatment,
          const Tick             home)
{
  Text text  = text_begin(answer->why, sizeof(answer->why));
  answer->is = what_is(facts);
  add_matter(&text, answer, chart, facts);
  if (treatment != TREAT_ANSWER) {
    text_add(&text, ", with room for you");
  }
  why_end_add(&text, answer, chart, home);
  text_add(&text, ".");
}
