#include "musicianship_tally.h"

#include <stddef.h>
#include <stdio.h>

enum { LEAST_DIFFERENT = 60 };

static double
share(const double part, const double whole)
{
  return whole > 0.0 ? part / whole : 0.0;
}

static double
last_right(const Tally* const t)
{
  return 1.0 - share(t->n_last_wrong, t->n);
}

static double
end_wrong(const Tally* const t)
{
  return t->n_end_wrong;
}

static double
hanging(const Tally* const t)
{
  return t->n_hanging;
}

static double
least_space(const Tally* const t)
{
  return t->least_space;
}

static double
full_space(const Tally* const t)
{
  return t->n_full > 0 ? t->full_space / t->n_full : 1.0;
}

static double
copies(const Tally* const t)
{
  return t->n_copies;
}

static double
unrelated(const Tally* const t)
{
  return share(t->n_unrelated, t->n);
}

static double
said_twice(const Tally* const t)
{
  return t->n_same;
}

static double
out_of_range(const Tally* const t)
{
  return t->n_out_of_range;
}

static double
stretches(const Tally* const t)
{
  return t->n_stretches;
}

static double
out_of_turn(const Tally* const t)
{
  return t->n_out_of_turn;
}

static double
on_level(const Tally* const t)
{
  return 1.0 - share(t->n_off_level, t->n);
}

static double
complexity(const Tally* const t)
{
  return share(t->complexity, t->n);
}

static double
bearing(const Tally* const t)
{
  return share(t->n_bearing, t->n_notes);
}

static double
on_above_off(const Tally* const t)
{
  return share(t->n_on_bearing, t->n_on) - share(t->n_off_bearing, t->n_off);
}

static double
steps(const Tally* const t)
{
  return share(t->n_steps, t->n_intervals);
}

static double
thirds(const Tally* const t)
{
  return share(t->n_thirds, t->n_intervals);
}

static double
repeats(const Tally* const t)
{
  return share(t->n_repeats, t->n_intervals);
}

static double
wider(const Tally* const t)
{
  return share(t->n_wider, t->n_intervals);
}

static double
turns(const Tally* const t)
{
  return share(t->n_turns, t->n_pairs);
}

static double
silence(const Tally* const t)
{
  return share(t->space, t->n);
}

static double
notes_a_bar(const Tally* const t)
{
  return share(t->n_notes, t->bars);
}

static double
ends_on_one(const Tally* const t)
{
  return share(t->ends[0], t->n);
}

static double
ends_in_last_bar(const Tally* const t)
{
  return share(t->n_last_bar, t->n);
}

static double
reuse_rhythm(const Tally* const t)
{
  return share(t->reuse_rhythm, t->n_reuse);
}

static double
reuse_pitch(const Tally* const t)
{
  return share(t->reuse_pitch, t->n_reuse);
}

static double
picked(const Tally* const t)
{
  return share(t->n_picked, t->n);
}

/// One line of a table, and what it must be. Columns are rungs: 2, 4, 6, top.
typedef struct {
  const char* what;
  const char* must;
  double (*value)(const Tally*);
  double   least;
  double   most;
  unsigned from; ///< The first column that must keep to it
} Row;

enum { ALL = 0, FROM_FOUR = 1, FROM_SIX = 2, TOP = 3, NO_MUST = 99 };

// The musts of the trade: musicianship, "measured", first table
static const Row each_answer[] = {
  {"last note root or chord tone", "1", last_right, 1, 1, ALL},
  {"... not the root at a chorus's end", "none", end_wrong, 0, 0, ALL},
  {"notes outside left hanging", "none", hanging, 0, 0, ALL},
  {"space, the least", ".15 and more", least_space, 0.15, 1, ALL},
  {"space after calls with under .15",
   ".15 and more",
   full_space,
   0.15,
   1,
   ALL},
  {"copies, but repeats and sequences", "none", copies, 0, 0, ALL},
  {"likeness under .1 in rhythm and pitch",
   "seldom, .05",
   unrelated,
   0,
   0.05,
   FROM_SIX},
  {"said before in the chorus, but by return", "none", said_twice, 0, 0, ALL},
  {"notes out of the range", "none", out_of_range, 0, 0, ALL},
  {"stretches beyond the hand at speed", "none", stretches, 0, 0, ALL},
  {"notes out of the turn or overlapping", "none", out_of_turn, 0, 0, ALL},
  {"complexity near the rung's", ".8 and more", on_level, 0.8, 1, ALL},
  {"complexity, mean", "rising", complexity, 0, 100, NO_MUST},
};

// Against 419 solos: 5-95 % over solos (corpus of 419 jazz solos in 4/4)
static const Row batch[] = {
  {"chord tones, all notes", "1, 1, -, .50-.65", bearing, 0.5, 0.65, TOP},
  {"chord tones, on the beat less off it",
   "above 0 from rung 5",
   on_above_off,
   1e-9,
   1,
   FROM_SIX},
  {"steps", ".39-.71", steps, 0.39, 0.71, FROM_SIX},
  {"thirds", ".16-.37", thirds, 0.16, 0.37, FROM_SIX},
  {"repeats", ".00-.14", repeats, 0.0, 0.144, FROM_SIX},
  {"over a fourth", ".04-.22", wider, 0.04, 0.22, FROM_SIX},
  {"pairs of intervals that turn round", ".31-.50", turns, 0.31, 0.5, FROM_SIX},
  {"silence", ".21-.47", silence, 0.21, 0.47, ALL},
  {"notes a bar", "3.9-12.5", notes_a_bar, 3.9, 12.5, FROM_SIX},
  {"ends in the first eighth of a bar",
   "not always, .5",
   ends_on_one,
   0,
   0.5,
   ALL},
  {"ends in the turn's last bar",
   "not always, .9",
   ends_in_last_bar,
   0,
   0.9,
   ALL},
  {"rhythm likeness of moves that keep it",
   ".5-1",
   reuse_rhythm,
   0.5,
   1,
   FROM_FOUR},
  {"... and their pitch likeness", "up to .9", reuse_pitch, 0, 0.9, FROM_FOUR},
  {"own call picked out among 20", "over .5", picked, 0.5, 1, FROM_FOUR},
};

static bool
print_row(const Row* const row, const Tally* const tallies, const unsigned n)
{
  bool meets = true;
  printf("%-42s", row->what);
  for (unsigned i = 0; i < n; ++i) {
    const double value = row->value(&tallies[i]);
    const bool   fails =
      i >= row->from && (value < row->least || value > row->most);
    printf(" %8.3f%c", value, fails ? '!' : ' ');
    meets = meets && !fails;
  }
  printf("  %s\n", row->must);
  return meets;
}

static void
print_head(const char* const        title,
           const char* const* const names,
           const unsigned           columns)
{
  printf("\n%-42s", title);
  for (unsigned i = 0; i < columns; ++i) {
    printf(" %8s ", names[i]);
  }
  printf("  must\n");
}

/// Up to the fourth rung all notes bear weight; above, ever fewer do.
static bool
print_falling(const Tally* const tallies, const unsigned columns)
{
  bool meets = bearing(&tallies[0]) >= 1.0 && bearing(&tallies[1]) >= 1.0;
  for (unsigned i = 2; i < columns; ++i) {
    meets = meets && bearing(&tallies[i]) < bearing(&tallies[i - 1]);
  }
  printf("%-42s %s\n",
         "chord tones 1 up to rung 4, then falling",
         meets ? "yes" : "no!");
  return meets;
}

static bool
print_picked(const Tally* const tallies, const unsigned columns)
{
  double n_picked = 0;
  double n        = 0;
  for (unsigned i = 0; i < columns; ++i) {
    n_picked += tallies[i].n_picked;
    n += tallies[i].n;
  }
  const bool meets = n_picked > 0.5 * n;
  printf("%-42s %8.3f%c  over .5 (players themselves .12)\n",
         "own call picked out, all rungs",
         n_picked / n,
         meets ? ' ' : '!');
  return meets;
}

bool
tally_print(const Tally* const       tallies,
            const char* const* const names,
            const unsigned           columns,
            const unsigned           least_different)
{
  bool meets = true;
  print_head("each answer", names, columns);
  for (size_t i = 0; i < sizeof(each_answer) / sizeof(*each_answer); ++i) {
    meets = print_row(&each_answer[i], tallies, columns) && meets;
  }
  printf("%-42s %8u%c  60 and more\n",
         "different answers over 100 seeds, least",
         least_different,
         least_different < LEAST_DIFFERENT ? '!' : ' ');
  meets = least_different >= LEAST_DIFFERENT && meets;
  print_head("the batch", names, columns);
  for (size_t i = 0; i < sizeof(batch) / sizeof(*batch); ++i) {
    meets = print_row(&batch[i], tallies, columns) && meets;
  }
  meets = print_falling(tallies, columns) && meets;
  return print_picked(tallies, columns) && meets;
}
