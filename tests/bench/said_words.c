#include "said_words.h"

#include "said_cells.h"
#include "said_sums.h"

#include <stdlib.h>
#include <string.h>

/// A sentence, and what must hold of the main notes of call and answer.
typedef struct {
  const char* begins;
  const char* goes_on; ///< Later in the sentence; "" for anyhow
  bool (*is_true)(const Pair* pair, const Line* call, const Line* answer);
  CellUse use; ///< If it says what was done with a cell
} Words;

static bool
contour_alike(const Line* const a, const Line* const b, const int sense)
{
  const unsigned n  = a->n < b->n ? a->n : b->n;
  bool           is = n > 0;
  for (unsigned i = 0; i + 1 < n; ++i) {
    is = is && line_direction(a, i) == sense * line_direction(b, i);
  }
  return is;
}

static bool
steps_alike(const Line* const a, const Line* const b, const unsigned n)
{
  bool is = a->n >= n && b->n >= n;
  for (unsigned i = 0; is && i + 1 < n; ++i) {
    is = line_step(a, i) == line_step(b, i);
  }
  return is;
}

/// Whether all of a's onsets are in b.
static bool
is_within(const Line* const a, const Line* const b)
{
  bool is = true;
  for (unsigned i = 0; i < a->n; ++i) {
    unsigned j = 0;
    while (j < b->n && b->notes[j]->grid != a->notes[i]->grid) {
      ++j;
    }
    is = is && j < b->n;
  }
  return is;
}

/// Whether an answer has the call's contour, but for a note or two that it
/// leaves out at the end.
static bool
is_contour_kept(const Line* const call, const Line* const answer, const int way)
{
  return answer->n <= call->n && answer->n + 2 >= call->n &&
         contour_alike(call, answer, way);
}

static int
rise(const Line* const call, const Line* const answer)
{
  return answer->n > 0 && call->n > 0
           ? answer->notes[0]->pitch - call->notes[0]->pitch
           : 0;
}

static bool
is_plainer(const Pair* const pair,
           const Line* const call,
           const Line* const answer)
{
  (void)pair;
  return answer->n > 0 && answer->n <= call->n;
}

static bool
is_again(const Pair* const pair,
         const Line* const call,
         const Line* const answer)
{
  (void)pair;
  return is_contour_kept(call, answer, 1);
}

static bool
is_with_graces(const Pair* const pair,
               const Line* const call,
               const Line* const answer)
{
  return is_again(pair, call, answer) && sums_graces(&pair->answer) > 0;
}

static bool
is_same_rhythm(const Pair* const pair,
               const Line* const call,
               const Line* const answer)
{
  return answer->n <= call->n && answer->n + 2 >= call->n &&
         steps_alike(call, answer, answer->n) &&
         !sums_is_copy(&pair->call, &pair->answer);
}

static bool
is_same_order(const Pair* const pair,
              const Line* const call,
              const Line* const answer)
{
  (void)pair;
  return abs((int)call->n - (int)answer->n) <= 1 &&
         contour_alike(call, answer, 1) && !steps_alike(call, answer, call->n);
}

static bool
is_sequence(const Pair* const pair,
            const Line* const call,
            const Line* const answer)
{
  const int up = rise(call, answer);
  return is_contour_kept(call, answer, 1) &&
         (strstr(pair->answer.why, "higher") ? up > 0 : up < 0);
}

static bool
has_opening(const Pair* const pair,
            const Line* const call,
            const Line* const answer)
{
  (void)pair;
  const unsigned half = (call->n + 1) / 2;
  return steps_alike(call, answer, half < 3 ? half : 3);
}

static bool
has_piece(const Pair* const pair,
          const Line* const call,
          const Line* const answer)
{
  (void)call;
  return sums_cell(&pair->call, &pair->answer) >= 2 || answer->n == 1;
}

static bool
is_thinned(const Pair* const pair,
           const Line* const call,
           const Line* const answer)
{
  (void)pair;
  return answer->n < call->n && is_within(answer, call);
}

static bool
is_filled(const Pair* const pair,
          const Line* const call,
          const Line* const answer)
{
  (void)pair;
  return answer->n > call->n && is_within(call, answer);
}

static bool
is_turned_over(const Pair* const pair,
               const Line* const call,
               const Line* const answer)
{
  (void)pair;
  return is_contour_kept(call, answer, -1);
}

static bool
is_shifted(const Pair* const pair,
           const Line* const call,
           const Line* const answer)
{
  const bool later = strstr(pair->answer.why, "later") != NULL;
  return call->n > 0 && call->n == answer->n &&
         steps_alike(call, answer, call->n) &&
         (later ? answer->notes[0]->grid > call->notes[0]->grid
                : answer->notes[0]->grid < call->notes[0]->grid);
}

// Longer ones first: what they must mean is the definition of each move in the
// trade (common practice, no source)
static const Words all[N_WORDS] = {
  {"Your phrase again, in plainer rhythm", "", is_plainer, {0}},
  {"Your phrase again, with a crushed note", "", is_with_graces, {0}},
  {"Your phrase again", "", is_again, {0}},
  {"Your rhythm again, with new notes", "", is_same_rhythm, {0}},
  {"Your notes in their order", "", is_same_order, {0}},
  {"Your notes, fitted to the chords", "", is_same_order, {0}},
  {"The shape of your phrase", "", is_sequence, {0}},
  {"Your opening as a question", "", has_opening, {0}},
  {"A piece of your phrase", "", has_piece, {0}},
  {"Something plainer after your phrase", "", is_plainer, {0}},
  {"Your phrase thinned out", "", is_thinned, {0}},
  {"Your phrase with steps filled in", "", is_filled, {0}},
  {"Your phrase turned over", "", is_turned_over, {0}},
  {"Your phrase, ", "", is_shifted, {0}},
  {"I took", "to another step", NULL, {.moved = true, .times = 1}},
  {"I took", "turned it over", NULL, {.turned = true, .times = 1}},
  {"I took", "another place", NULL, {.displaced = true, .times = 1}},
  {"I took", "said it twice", NULL, {.times = 2}},
  {"The rhythm of", "new notes", NULL, {.any_pitch = true, .times = 1}},
  {"I asked with", "an end of my own", NULL, {.first = true, .times = 1}},
};

unsigned
words_find(const Said* const answer)
{
  unsigned words = 0;
  while (words < N_WORDS &&
         (strncmp(answer->why, all[words].begins, strlen(all[words].begins)) ||
          !strstr(answer->why, all[words].goes_on))) {
    ++words;
  }
  return words;
}

const char*
words_name(const unsigned words)
{
  return all[words].goes_on[0] ? all[words].goes_on : all[words].begins;
}

static CellPlace
place_of(const char* const why)
{
  return strstr(why, "your opening")  ? CELL_OPENING
         : strstr(why, "your ending") ? CELL_ENDING
                                      : CELL_ANYWHERE;
}

bool
words_are_true(const unsigned words, const Pair* const pair)
{
  const Words* const own    = &all[words];
  const Line         call   = line_of(&pair->call);
  const Line         answer = line_of(&pair->answer);
  return own->is_true ? own->is_true(pair, &call, &answer)
                      : cells_are_used(
                          &call, &answer, place_of(pair->answer.why), own->use);
}
