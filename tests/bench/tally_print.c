#include "table.h"
#include "tally.h"

#include <math.h>
#include <stdio.h>

#define ROW(what, value, least, most, musts, must)                             \
  do {                                                                         \
    double values[N_RUNGS];                                                    \
    for (unsigned c = 0; c < N_RUNGS; ++c) {                                   \
      const Sums* const s = &sums[c];                                          \
      values[c]           = (value);                                           \
    }                                                                          \
    meets = table_row(what, values, least, most, musts, must) && meets;        \
  } while (0)

#define SHARE(value) table_share(value, s->n)
#define OF(some, all) table_share(s->counts.some, s->counts.all)
#define MANY HUGE_VAL

static double
tones(const Sums* const s)
{
  return table_share(s->counts.n_on_tones + s->counts.n_off_tones,
                     s->counts.n_on + s->counts.n_off);
}

static double
notes_a_bar(const Sums* const s)
{
  return table_share(s->notes, s->bars);
}

/// What every answer must be.
static bool
print_each(const Sums* const sums)
{
  bool meets = true;
  ROW("last note a chord tone", SHARE(s->last_tone), 1, 1, ALL, "1");
  ROW("outside notes left hanging", s->hanging, 0, 0, ALL, "none");
  ROW("space, the least", s->least_space, 0.15, 1, ALL, ".15 and more");
  ROW("copies, but repeats and returns", s->copies, 0, 0, ALL, "none");
  ROW("notes out of the range", s->out_of_range, 0, 0, ALL, "none");
  ROW("stretches beyond the hand at speed", s->stretches, 0, 0, ALL, "none");
  ROW(
    "notes out of the turn, or overlapping", s->out_of_turn, 0, 0, ALL, "none");
  ROW("chord tones, or tones of the call",
      SHARE(s->at_home),
      1,
      1,
      LOW,
      "1 to rung 4");
  ROW("b5 over dominants, as it is taught",
      OF(n_flat_fives_taught, n_flat_fives),
      1,
      1,
      ALL - RUNG_8,
      "1 to rung 6 (solos .24)");
  ROW("... one side at least, off 1 and 3",
      OF(n_flat_fives_led, n_flat_fives),
      1,
      1,
      RUNG_8,
      "1 (solos .59)");
  ROW("answers without a grace note",
      SHARE(s->without_grace),
      0.4,
      1,
      ALL,
      "2 of 5 and more");
  ROW("... with more than one",
      SHARE(s->graces_over_one),
      0,
      0,
      RUNG_2,
      "none below ornament rung 4");
  ROW("... with more than two", SHARE(s->graces_over_two), 0, 0, ALL, "none");
  return meets;
}

// Figures of solos: corpus of 419 jazz solos in 4/4, mean (5-95 %)
static bool
print_line(const Sums* const sums)
{
  bool meets = true;
  ROW("chord tones", tones(s), 0.5, 0.65, RUNG_8, ".50-.65 at the top (.51)");
  ROW("... on the beat less off it",
      OF(n_on_tones, n_on) - OF(n_off_tones, n_off),
      0,
      1,
      FROM_5,
      "above 0 (.53 - .49)");
  ROW("steps", OF(n_steps, n_intervals), 0.39, 0.71, FROM_5, ".39-.71 (.56)");
  ROW("thirds", OF(n_thirds, n_intervals), 0.16, 0.37, FROM_5, ".16-.37 (.27)");
  ROW("repeats", OF(n_repeats, n_intervals), 0, 0.144, FROM_5, "to .14 (.05)");
  ROW("over a third",
      OF(n_wider, n_intervals),
      0.04,
      0.22,
      FROM_5,
      ".04-.22 (.12)");
  ROW("pairs of intervals that turn round",
      OF(n_turns, n_pairs),
      0.31,
      0.5,
      FROM_5,
      ".31-.50 (.40)");
  ROW("silence", SHARE(s->silence), 0.21, 0.47, ALL, ".21-.47 (.33)");
  ROW("notes a bar", notes_a_bar(s), 3.9, 12.5, FROM_5, "3.9-12.5 (6.8)");
  ROW("range, semitones", SHARE(s->range), 0, 127, NO_MUST, "(17)");
  ROW("complexity", SHARE(s->complexity), 0, 100, NO_MUST, "rising");
  return meets;
}

/// What each rung adds shows in two answers of five.
static bool
print_rungs(const Sums* const sums)
{
  bool meets = true;
  ROW("runs of five and more", SHARE(s->runs), 0.4, 1, FROM_6, "2 of 5");
  ROW("outside notes", SHARE(s->outside), 0.4, 1, RUNG_8, "2 of 5");
  ROW("15 semitones and more", SHARE(s->wide), 0.4, 1, RUNG_8, "2 of 5");
  ROW("triplets", SHARE(s->triplets), 0.4, 1, RUNG_5, "2 of 5 where new");
  ROW("sixteenths in pairs, to 200 bpm",
      table_share(s->sixteenths, s->unhurried),
      0.4,
      1,
      RUNG_6,
      "2 of 5 where new (above, solos .01)");
  ROW("threes across the bar", SHARE(s->threes), 0.4, 1, RUNG_8, "2 of 5");
  return meets;
}

/// What rises or falls from rung to rung.
static bool
print_rising(const Sums* const sums)
{
  const Sums* const fifth = &sums[2];
  const Sums* const sixth = &sums[3];
  const Sums* const top   = &sums[N_RUNGS - 1];
  bool              rises = true;
  bool              meets = true;
  for (unsigned i = 1; i < N_RUNGS; ++i) {
    rises = rises && sums[i].complexity / sums[i].n >
                       sums[i - 1].complexity / sums[i - 1].n;
  }
  meets = table_value("complexity rises at each", rises, 1, 1, "1");
  meets = table_value("notes a bar, rung 8 to 5",
                      notes_a_bar(top) / notes_a_bar(fifth),
                      4.0 / 3,
                      MANY,
                      "a third more") &&
          meets;
  meets = table_value("range, rung 8 less 5",
                      top->range / top->n - fifth->range / fifth->n,
                      4,
                      MANY,
                      "4 semitones") &&
          meets;
  const bool falls = tones(sixth) < tones(fifth) && tones(top) < tones(sixth);
  return table_value("chord tones fall from 5 to 6 to 8", falls, 1, 1, "1") &&
         meets;
}

static bool
print_cells(const Sums* const sums)
{
  bool meets = true;
  ROW("a cell of the call again, changed",
      SHARE(s->cell),
      0.8,
      1,
      ALL,
      "4 of 5 (3 notes and more)");
  ROW("... of another call, by chance",
      SHARE(s->cell_by_chance),
      0,
      1,
      NO_MUST,
      "");
  ROW("... margin over chance",
      SHARE(s->cell - s->cell_by_chance),
      -1,
      1,
      NO_MUST,
      "");
  ROW("own call picked out among 20 by its cell",
      SHARE(s->picked),
      0.4,
      1,
      ALL,
      "over .4 (players .12-.20 by rhythm)");
  ROW("whole rhythm copied", SHARE(s->whole), 0, 0.25, ALL, "1 of 4 at most");
  ROW("rhythm likeness",
      SHARE(s->rhythm),
      0.3,
      0.45,
      FROM_5,
      ".30-.45 (going on alone .29)");
  ROW("... to another call, by chance",
      SHARE(s->rhythm_by_chance),
      0,
      1,
      NO_MUST,
      "(.24)");
  ROW("... margin over chance",
      SHARE(s->rhythm - s->rhythm_by_chance),
      0.05,
      0.21,
      FROM_5,
      ".05-.21 (.30-.45 less .24)");
  ROW("one move for one seed, most",
      s->most_moved,
      0,
      0.5,
      ALL,
      "half of the calls");
  return meets;
}

static bool
print_places(const Sums* const sums)
{
  bool meets = true;
  ROW("starts where the call did",
      SHARE(s->starts),
      0,
      1.0 / 3,
      ALL,
      "1 of 3 at most (.16)");
  ROW("begins with a pick-up",
      SHARE(s->pickups),
      0.1,
      1,
      sums->is_solos ? FROM_4 : NO_MUST, // Others leave no room for it
      ".1 from rung 4 (.21)");
  ROW("... at the top",
      SHARE(s->pickups),
      0.2,
      1,
      sums->is_solos ? RUNG_8 : NO_MUST,
      ".2");
  ROW("ends on 1 or 3, or anticipates one",
      SHARE(s->arrives),
      0.7,
      1,
      ALL,
      "7 of 10");
  ROW("... in the first eighth of a bar",
      SHARE(s->ends[0]),
      0,
      0.5,
      ALL,
      "half at most");
  ROW("... in the turn's last bar",
      SHARE(s->last_bar),
      0,
      0.95,
      ALL,
      "not always, .95");
  ROW("last note no shorter than the one before",
      SHARE(s->rests),
      0.7,
      1,
      ALL,
      "7 of 10");
  ROW("an eighth of rest follows", SHARE(s->gap), 0.7, 1, ALL, "7 of 10");
  return meets;
}

/// Whether what was said is true.
static bool
print_words(const Sums* const sums)
{
  bool meets = true;
  for (unsigned w = 0; w < N_WORDS; ++w) {
    ROW(words_name(w),
        table_share(s->words_true[w], s->words[w]),
        1,
        1,
        ALL,
        "true");
  }
  ROW("said in other words, not judged",
      SHARE(s->words[N_WORDS]),
      0,
      1,
      NO_MUST,
      "");
  return meets;
}

bool
tally_print(const Sums* const sums, const char* const title)
{
  static bool (*const parts[])(const Sums*) = {print_each,
                                               print_line,
                                               print_rungs,
                                               print_rising,
                                               print_cells,
                                               print_places,
                                               print_words};
  static const char* const names[]          = {"each answer",
                                               "the line (solos in brackets)",
                                               "answers with what a rung adds",
                                               "from rung to rung",
                                               "what it takes up",
                                               "where it stands",
                                               "words that are true"};
  bool                     meets            = true;
  printf("\n%s\n", title);
  for (unsigned i = 0; i < sizeof(parts) / sizeof(*parts); ++i) {
    table_head(names[i]);
    meets = parts[i](sums) && meets;
  }
  return meets;
}
