#include "form_print.h"

#include "ensemble.h"
#include "form.h"
#include "table.h"

#include <stdio.h>
#include <stdlib.h>

enum { TAKES = 30, SOFT = 40, LOUD = 110 };

typedef struct {
  Form     form;
  Ensemble band;
  double   on_last_chord; ///< Chord tracks that end where the form does
  double   chords_louder, drums_louder;
} Talk;

/// Hold one conversation.
static bool
talk(Form* const       form,
     Ensemble* const   band,
     const char* const path,
     const unsigned    number,
     const unsigned    velocity,
     const Asked       asked)
{
  Take take;
  if (!form_write(&take, path, number, velocity)) {
    return false;
  }
  json_t* const report = said_ask(&take, &asked);
  const bool    is = form_add(form, report) && ensemble_load(band, asked.out);
  json_decref(report);
  return is;
}

/// Play the same loud and soft.
static bool
add_loudness(Talk* const sums, const char* const path, const Asked asked)
{
  static const unsigned velocities[2] = {SOFT, LOUD};
  Form                  form          = {.n = 0};
  Ensemble              bands[2]      = {{.notes = 0}, {.notes = 0}};
  for (unsigned i = 0; i < 2; ++i) {
    if (!talk(&form, &bands[i], path, 0, velocities[i], asked)) {
      return false;
    }
  }
  sums->chords_louder =
    bands[1].chords / bands[1].n_chords - bands[0].chords / bands[0].n_chords;
  sums->drums_louder =
    bands[1].drums / bands[1].n_drums - bands[0].drums / bands[0].n_drums;
  return true;
}

static bool
hold(Talk* const sums, const char* const path, Asked asked)
{
  asked.choruses = FORM_CHORUSES;
  for (unsigned number = 0; number < TAKES; ++number) {
    asked.seed = number + 1;
    if (!talk(&sums->form, &sums->band, path, number, FORM_VELOCITY, asked)) {
      return false;
    }
    const long end = (long)FORM_TURNS * FORM_BARS * SAID_BAR;
    sums->on_last_chord += labs(sums->band.last_chord - end) < SAID_QUARTER / 2;
  }
  return add_loudness(sums, path, asked);
}

#define ROW(what, value, least, most, musts, must)                             \
  do {                                                                         \
    double values[N_RUNGS];                                                    \
    for (unsigned c = 0; c < N_RUNGS; ++c) {                                   \
      const Talk* const t = &sums[c];                                          \
      values[c]           = (value);                                           \
    }                                                                          \
    meets = table_row(what, values, least, most, musts, must) && meets;        \
  } while (0)

static bool
print_form(const Talk* const sums)
{
  bool meets = true;
  table_head("said twice, then another thing");
  ROW("second answer: 1 to 3 notes changed",
      t->form.again / t->form.n,
      0.8,
      1,
      ALL,
      "4 of 5");
  ROW("third departs (rhythm under .75 alike)",
      t->form.departs / t->form.n,
      0.8,
      1,
      ALL,
      "4 of 5");
  ROW("answers twice in a chorus", t->form.twice, 0, 0, ALL, "none");
  ROW("inner chorus ends open, or runs on",
      t->form.open / t->form.n,
      1,
      1,
      ALL,
      "1");
  ROW("the piece ends on the tonic", t->form.tonic / t->form.n, 1, 1, ALL, "1");
  ROW("... on the first beat after the form",
      t->form.downbeat / t->form.n,
      1,
      1,
      ALL,
      "1");
  ROW("... where the band's last chord is",
      t->on_last_chord / t->form.n,
      1,
      1,
      ALL,
      "1");
  ROW(
    "... by step", t->form.by_step / t->form.n, 1, 1, FROM_5, "1 from rung 5");
  return meets;
}

static bool
print_band(const Talk* const sums)
{
  bool meets = true;
  table_head("the band");
  ROW("partner under 3 semitones over the chords",
      table_share(t->band.close, t->band.notes),
      0,
      0,
      ALL,
      "none");
  ROW("... in unison with them",
      table_share(t->band.unisons, t->band.notes),
      0,
      0,
      ALL,
      "none");
  ROW("chords a beat in the partner's rests",
      table_share(t->band.rest_stabs, t->band.rest_beats),
      0,
      4,
      NO_MUST,
      "");
  ROW("... less those where it plays",
      table_share(t->band.rest_stabs, t->band.rest_beats) -
        table_share(t->band.busy_stabs, t->band.busy_beats),
      1e-9,
      4,
      ALL,
      "above 0");
  ROW("... while it plays three a beat",
      table_share(t->band.triple_stabs, t->band.triple_beats),
      0,
      0,
      ALL,
      "none");
  ROW("chords, velocity: loud player less soft",
      t->chords_louder,
      1,
      24,
      ALL,
      "follows, 12 at most each way");
  ROW("drums, velocity: loud player less soft",
      t->drums_louder,
      1,
      24,
      ALL,
      "follows, 12 at most each way");
  return meets;
}

bool
form_print(Asked asked, const char* const folder)
{
  static Talk sums[N_RUNGS];
  char        path[SAID_PATH];
  (void)snprintf(path, sizeof(path), "%s/form.mid", folder);
  for (unsigned i = 0; i < N_RUNGS; ++i) {
    asked.rung = table_rungs[i];
    if (!hold(&sums[i], path, asked)) {
      fprintf(stderr, "musicianship: a conversation failed\n");
      return false;
    }
  }
  printf("\n%u conversations over the blues\n", TAKES);
  const bool form = print_form(sums);
  return print_band(sums) && form;
}
