// Prints what stands in a score, or in a report, as lines `PART TICK PITCH`,
// for tests: the notes that begin, without grace notes and ties.
//
//   print_score notes FILE.musicxml    ticks from the first beat of bar 1
//   print_score graces FILE.musicxml   how many grace notes there are
//   print_score pick-up FILE.musicxml  how many ticks stand before bar 1
//   print_score report FILE.json       the melodies of the turns

#include "support/score.h"

#include <jansson.h>

#include <stdio.h>
#include <string.h>

enum { TICKS_PER_QUARTER = 960 };

static long
ticks(const ReadScore* const score, const long divisions)
{
  return divisions * TICKS_PER_QUARTER / score->divisions;
}

static long
pick_up(const ReadScore* const score)
{
  return score->measures[0].number == 0
           ? ticks(score, score->measures[0].length)
           : 0;
}

static void
print_notes(const ReadScore* const score)
{
  for (size_t i = 0; i < score->n_notes; ++i) {
    const ReadNote* const note = &score->notes[i];
    if (note->pitch >= 0 && !note->is_grace && !note->tie_stop) {
      (void)printf("%d %ld %d\n",
                   note->part,
                   ticks(score, note->from) - pick_up(score),
                   note->pitch);
    }
  }
}

static void
print_graces(const ReadScore* const score)
{
  int n = 0;
  for (size_t i = 0; i < score->n_notes; ++i) {
    n += score->notes[i].is_grace;
  }
  (void)printf("%d\n", n);
}

static int
read_file(const char* const what, const char* const path)
{
  ReadScore score;
  if (!score_read(&score, path)) {
    return 1;
  }
  if (strcmp(what, "notes") == 0) {
    print_notes(&score);
  } else if (strcmp(what, "graces") == 0) {
    print_graces(&score);
  } else {
    (void)printf("%ld\n", pick_up(&score));
  }
  score_read_free(&score);
  return 0;
}

static int
read_report(const char* const path)
{
  json_t* const report = json_load_file(path, 0, NULL);
  size_t        t      = 0;
  json_t*       turn   = NULL;
  json_array_foreach(json_object_get(report, "turns"), t, turn)
  {
    const char* const by   = json_string_value(json_object_get(turn, "by"));
    size_t            n    = 0;
    json_t*           note = NULL;
    json_array_foreach(json_object_get(turn, "notes"), n, note)
    {
      if (!json_is_true(json_object_get(note, "ornament"))) {
        (void)printf("%d %lld %lld\n",
                     strcmp(by, "partner") == 0,
                     json_integer_value(json_object_get(note, "grid_tick")),
                     json_integer_value(json_object_get(note, "pitch")));
      }
    }
  }
  json_decref(report);
  return report ? 0 : 1;
}

int
main(const int argc, char** const argv)
{
  if (argc != 3) {
    (void)fputs("print_score notes|graces|pick-up|report FILE\n", stderr);
    return 2;
  }
  return strcmp(argv[1], "report") == 0 ? read_report(argv[2])
                                        : read_file(argv[1], argv[2]);
}
