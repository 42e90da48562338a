#include "musicianship_tally.h"

#include "core/music/chord.h"
#include "responder/say/judge.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum {
  FAST_MS         = 300,
  STEP_MOST       = 2,
  THIRD_MOST      = 4,
  N_EIGHTHS       = 8,
  LEAST_DIFFERENT = 60,
};

/// Points of complexity that an answer may lie beyond its rung's band.
static const float LEVEL_SLACK = 10.0F;

static const HeardNote*
last_of(const Phrase* const phrase)
{
  const HeardNote* last = NULL;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    last = phrase->notes[i].is_ornament ? last : &phrase->notes[i];
  }
  return last;
}

static void
add_ending(Tally* const            tally,
           const Phrase* const     phrase,
           const SayRequest* const request)
{
  const HeardNote* const last = last_of(phrase);
  const Tick             bar  = meter_bar_ticks(request->ear.chart->meter);
  if (!last) {
    ++tally->n_last_wrong;
    return;
  }
  tally->n_last_wrong += last->role > ROLE_CHORD_TONE;
  tally->n_end_wrong += request->ends_chorus && last->role != ROLE_ROOT;
  ++tally->ends[last->grid_tick % bar * N_EIGHTHS / bar];
  tally->n_last_bar += last->grid_tick >= request->end - bar;
}

static void
add_space(Tally* const        tally,
          const Phrase* const phrase,
          const Phrase* const call)
{
  const double space = (double)phrase->measures.space;
  tally->least_space =
    tally->n == 0 || space < tally->least_space ? space : tally->least_space;
  tally->space += space;
  if (call->measures.space < 0.15F) {
    ++tally->n_full;
    tally->full_space += space;
  }
}

static bool
keeps_rhythm(const Move move)
{
  return move == MOVE_NEW_NOTES || move == MOVE_SEQUENCE ||
         move == MOVE_TURN_OVER;
}

static void
add_likeness(Tally* const tally, const Answer* const answer)
{
  const Likeness is = answer->likeness;
  const bool     may_copy =
    answer->move == MOVE_REPEAT || answer->move == MOVE_RETURN ||
    answer->move == MOVE_ORNAMENT || answer->move == MOVE_SEQUENCE;
  tally->n_copies += !may_copy && is.rhythm > 0.999F && is.pitch > 0.999F;
  tally->n_unrelated += is.whole < 0.1F;
  if (keeps_rhythm(answer->move)) {
    ++tally->n_reuse;
    tally->reuse_rhythm += (double)is.rhythm;
    tally->reuse_pitch += (double)is.pitch;
  }
}

static void
add_sound(Tally* const            tally,
          const Answer* const     answer,
          const SayRequest* const request)
{
  const double ms    = 60000.0 / (request->ear.tempo_bpm * TICKS_PER_QUARTER);
  Tick         until = request->start;
  for (unsigned i = 0; i < answer->n_notes; ++i) {
    const Note note = answer->notes[i];
    tally->n_out_of_range +=
      note.pitch < request->lowest || note.pitch > request->highest;
    tally->n_out_of_turn +=
      note.tick < until || note.tick + note.length > request->end;
    if (i > 0) {
      const Note before = answer->notes[i - 1];
      tally->n_stretches +=
        ms * (double)(note.tick - before.tick) < FAST_MS &&
        abs(note.pitch - before.pitch) > (int)request->hand_span;
    }
    until = note.tick + note.length;
  }
}

static void
add_interval(Tally* const tally, const int interval, const int before)
{
  const int size = abs(interval);
  ++tally->n_intervals;
  tally->n_repeats += size == 0;
  tally->n_steps += size > 0 && size <= STEP_MOST;
  tally->n_thirds += size > STEP_MOST && size <= THIRD_MOST;
  tally->n_wider += size > THIRD_MOST;
  tally->n_turns += interval * before < 0;
}

static void
add_line(Tally* const tally, const Phrase* const phrase, const Tick beat)
{
  const HeardNote* last   = NULL;
  int              before = 0;
  unsigned         n      = 0;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const HeardNote* const note = &phrase->notes[i];
    if (note->is_ornament) {
      continue;
    }
    const bool bears = note->role <= ROLE_CHORD_TONE;
    const bool is_on = note->grid_tick % beat == 0;
    tally->n_bearing += bears;
    tally->n_on += is_on;
    tally->n_on_bearing += is_on && bears;
    tally->n_off += !is_on;
    tally->n_off_bearing += !is_on && bears;
    tally->n_hanging +=
      note->role == ROLE_OUTSIDE && note->resolution == RESOLUTION_LEFT;
    if (last) {
      const int interval = note->note.pitch - last->note.pitch;
      add_interval(tally, interval, before);
      before = interval;
    }
    last = note;
    ++n;
  }
  tally->n_notes += n;
  tally->n_pairs += n > 2 ? n - 2 : 0;
}

void
tally_add(Tally* const            tally,
          const Answer* const     answer,
          const SayRequest* const request,
          const SayHistory* const history)
{
  const Chart* const  chart  = request->ear.chart;
  const Phrase* const phrase = &answer->heard;
  const Band          level  = judge_complexity(request->rung);
  const float         is     = phrase->measures.complexity;
  add_ending(tally, phrase, request);
  add_space(tally, phrase, request->call);
  add_likeness(tally, answer);
  add_sound(tally, answer, request);
  add_line(tally, phrase, meter_beat_ticks(chart->meter));
  for (unsigned i = 0; i < history->n_digests; ++i) {
    tally->n_same +=
      history->digests[i] == answer->digest && answer->move != MOVE_RETURN;
  }
  tally->n_off_level +=
    is < level.least - LEVEL_SLACK || is > level.most + LEVEL_SLACK;
  tally->complexity += (double)is;
  tally->bars += (double)(request->end - request->start) /
                 (double)meter_bar_ticks(chart->meter);
  ++tally->n;
}

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

enum { ALL = 0, FROM_SIX = 2, TOP = 3, NO_MUST = 99 };

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
   FROM_SIX},
  {"... and their pitch likeness", "up to .9", reuse_pitch, 0, 0.9, FROM_SIX},
  {"own call picked out among 20", "over .5", picked, 0.5, 1, FROM_SIX},
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
