/// Draws calls and answers to be read blind; `tests/bench/blind` says how.

#include "blind_learner.h"
#include "take_file.h"

#include "core/rng.h"
#include "core/tick.h"

#include <jansson.h>

#include <math.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
  N_PLAYERS   = 10,
  N_TOPS      = 10,
  N_LEARNERS  = 20,
  N_ITEMS     = N_PLAYERS + N_TOPS + N_LEARNERS,
  FOURS_MOST  = 200,
  PATH_LENGTH = 1024,
  WORDS       = 8192,
  BAR         = 4 * TICKS_PER_QUARTER,
};

typedef struct {
  char text[WORDS]; // What is read
  char key[160];    // Who it was
} Item;

static const char* program;
static const char* takes;
static const char* folder;
static Item        items[N_ITEMS];
static unsigned    n_items;

__attribute__((noreturn, format(printf, 1, 2))) static void
give_up(const char* const format, ...)
{
  va_list args;
  va_start(args, format);
  (void)fputs("blind: ", stderr);
  (void)vfprintf(stderr, format, args);
  (void)fputc('\n', stderr);
  va_end(args);
  exit(EXIT_FAILURE);
}

__attribute__((format(printf, 2, 3))) static void
put(Item* const item, const char* const format, ...)
{
  const size_t n = strlen(item->text);
  va_list      args;
  va_start(args, format);
  (void)vsnprintf(item->text + n, WORDS - n, format, args);
  va_end(args);
}

// Reports

/// Run the program and read its report; the caller releases it.
__attribute__((format(printf, 1, 2))) static json_t*
report_of(const char* const format, ...)
{
  char    words[4 * PATH_LENGTH];
  char    command[6 * PATH_LENGTH];
  va_list args;
  va_start(args, format);
  (void)vsnprintf(words, sizeof(words), format, args);
  va_end(args);
  (void)snprintf(
    command, sizeof(command), "'%s' %s --report - 2>/dev/null", program, words);
  FILE* const   pipe   = popen(command, "r");
  json_t* const report = pipe ? json_loadf(pipe, 0, NULL) : NULL;
  if (!pipe || pclose(pipe) != 0 || !report) {
    give_up("no report from: %s", command);
  }
  return report;
}

static long
number(const json_t* const object, const char* const name)
{
  return (long)json_integer_value(json_object_get(object, name));
}

// How a turn is written: as it stands on the grid, every length to the next
// note or to a half beat, so that nothing tells the hand that played it

static void
put_place(Item* const item, const long tick)
{
  static const char* const parts[] = {
    "", "", "", "s", "t", "", "&", "", "T", "S", "", ""};
  const long beat = tick % BAR / TICKS_PER_QUARTER + 1;
  const long part = (tick % TICKS_PER_QUARTER * 12 + TICKS_PER_QUARTER / 2) /
                    TICKS_PER_QUARTER % 12;
  put(item, "%ld%s", beat, parts[part]);
}

static void
put_pitch(Item* const item, const long pitch)
{
  static const char* const names[] = {
    "C", "Db", "D", "Eb", "E", "F", "Gb", "G", "Ab", "A", "Bb", "B"};
  put(item, " %s%ld", names[pitch % 12], pitch / 12 - 1);
}

static double
beats_of(const long length, const long to_next)
{
  const double half = TICKS_PER_QUARTER / 2.0;
  if (to_next > 0 && to_next - length < TICKS_PER_QUARTER / 2) {
    return (double)to_next / TICKS_PER_QUARTER;
  }
  const double halves = fmax(1.0, round((double)length / half));
  return halves / 2.0;
}

static void
put_turn(Item* const item, const char* const who, const json_t* const turn)
{
  const json_t* const notes = json_object_get(turn, "notes");
  const size_t        n     = json_array_size(notes);
  long                bar   = -1;
  put(item, "%s\n", who);
  for (size_t i = 0; i < n; ++i) {
    const json_t* const note = json_array_get(notes, i);
    const long          tick = number(note, "grid_tick");
    const bool is_grace      = json_is_true(json_object_get(note, "ornament"));
    size_t     next          = i + 1;
    while (next < n && json_is_true(json_object_get(json_array_get(notes, next),
                                                    "ornament"))) {
      ++next;
    }
    const long to_next =
      next < n ? number(json_array_get(notes, next), "grid_tick") - tick : 0;
    if ((tick + BAR) / BAR - 1 != bar) {
      bar = (tick + BAR) / BAR - 1;
      put(item, "%s  bar %2ld:", i ? "\n" : "", bar + 1);
    }
    put(item, " ");
    if (is_grace) {
      put(item, "(grace");
      put_pitch(item, number(note, "pitch"));
      put(item, ")");
    } else {
      put_place(item, (tick + BAR) % BAR);
      put_pitch(item, number(note, "pitch"));
      put(item, " %g,", beats_of(number(note, "length"), to_next));
    }
  }
  put(item, "%s\n", n ? "" : "  (nothing)");
}

static void
put_chords(Item* const item, const json_t* const turns, const size_t n)
{
  for (size_t t = 0; t < n; ++t) {
    const json_t* const turn   = json_array_get(turns, t);
    const json_t* const chords = json_object_get(turn, "chords");
    for (long bar = number(turn, "start_tick"); bar < number(turn, "end_tick");
         bar += BAR) {
      bool is_named = false;
      put(item, " |");
      for (size_t i = 0; i < json_array_size(chords); ++i) {
        const json_t* const chord = json_array_get(chords, i);
        const long          tick  = number(chord, "tick");
        if (tick >= bar && tick < bar + BAR) {
          is_named = true;
          put(item, " %s", json_string_value(json_object_get(chord, "symbol")));
          if (tick % BAR) {
            put(item, "(%ld)", tick % BAR / TICKS_PER_QUARTER + 1);
          }
        }
      }
      put(item, is_named ? "" : " %%"); // As the bar before
    }
    put(item, " |");
  }
  put(item, "\n");
}

static void
add(const json_t* const report, const char* const level, const char* const key)
{
  Item* const         item  = &items[n_items++];
  const json_t* const turns = json_object_get(report, "turns");
  if (json_array_size(turns) < 2) {
    give_up("%s has no answer", key);
  }
  put(item,
      "%s, key %s, %s at %.0f, level: %s\nChords:",
      json_string_value(json_object_get(report, "meter")),
      json_string_value(json_object_get(report, "key")),
      json_string_value(json_object_get(report, "feel")),
      json_number_value(json_object_get(report, "tempo_bpm")),
      level);
  put_chords(item, turns, 2);
  put_turn(item, "Call:", json_array_get(turns, 0));
  put_turn(item, "Answer:", json_array_get(turns, 1));
  const char* const move =
    json_string_value(json_object_get(json_array_get(turns, 1), "move"));
  (void)snprintf(item->key,
                 sizeof(item->key),
                 "%s%s%s",
                 key,
                 move ? ": " : "",
                 move ? move : "");
}

// Takes

static void
write_take(const char* const    path,
           const SmfNote* const notes,
           const size_t         n_notes,
           const double         tempo_bpm)
{
  if (!take_write(path, notes, n_notes, tempo_bpm)) {
    exit(EXIT_FAILURE);
  }
}

// A four and what its player did next, as one take
static void
add_player(const json_t* const four)
{
  enum { TIMES_MOST = 512 };
  char         path[PATH_LENGTH];
  char         chart[PATH_LENGTH];
  char         key[160];
  SmfNote      notes[TIMES_MOST];
  const char*  file = json_string_value(json_object_get(four, "file"));
  const long   lead = number(four, "lead_in_ticks");
  const size_t n    = take_four(notes, TIMES_MOST, four);
  (void)snprintf(path, sizeof(path), "%s/take.mid", folder);
  (void)snprintf(chart,
                 sizeof(chart),
                 "%s/fours/%.*s.cfg",
                 takes,
                 (int)strlen(file) - 4,
                 file);
  write_take(path, notes, n, json_number_value(json_object_get(four, "bpm")));
  json_t* const report =
    report_of("hear '%s' --chart '%s' --bars 4 --lead-in %g",
              path,
              chart,
              (double)lead / TICKS_PER_QUARTER);
  (void)snprintf(key, sizeof(key), "player  top  %s", file);
  add(report, "top", key);
  json_decref(report);
}

// In the midst of a piece, as the players were: not its last turn, which would
// close on the tonic
static void
add_top(const json_t* const four, const unsigned seed)
{
  char          key[160];
  const char*   file = json_string_value(json_object_get(four, "file"));
  json_t* const report =
    report_of("answer '%s/fours/%s' --chart '%s/fours/%.*s.cfg' --bars 4 "
              "--rung 8 --seed %u --lead-in %g --choruses 2",
              takes,
              file,
              takes,
              (int)strlen(file) - 4,
              file,
              seed,
              (double)number(four, "lead_in_ticks") / TICKS_PER_QUARTER);
  (void)snprintf(key, sizeof(key), "program top  %s", file);
  add(report, "top", key);
  json_decref(report);
}

static void
add_learner(const unsigned i, const unsigned seed)
{
  static const unsigned rungs[] = {2, 3, 4, 6};
  const unsigned        rung    = rungs[i % 4];
  char                  path[PATH_LENGTH];
  char                  key[160];
  char                  level[16];
  Rng                   rng  = rng_seed(seed, 100 + i);
  const LearnerCall     call = learner_call(rung, &rng);
  (void)snprintf(path, sizeof(path), "%s/take.mid", folder);
  write_take(path, call.notes, call.n_notes, call.tempo_bpm);
  json_t* const report =
    report_of("answer '%s' --chart %s --bars %u --rung %u --seed %u",
              path,
              call.chart,
              call.bars,
              rung,
              seed + i);
  (void)snprintf(level, sizeof(level), "%u of 8", rung);
  (void)snprintf(key, sizeof(key), "program rung %u, %s", rung, call.kind);
  add(report, level, key);
  json_decref(report);
}

// The draw

static void
shuffle(unsigned* const order, const unsigned n, Rng* const rng)
{
  for (unsigned i = 0; i < n; ++i) {
    order[i] = i;
  }
  for (unsigned i = n; i > 1; --i) {
    const unsigned k    = rng_below(rng, i);
    const unsigned kept = order[i - 1];
    order[i - 1]        = order[k];
    order[k]            = kept;
  }
}

static void
draw(const unsigned seed)
{
  char     path[PATH_LENGTH];
  unsigned order[FOURS_MOST];
  Rng      rng = rng_seed(seed, 1);
  (void)snprintf(path, sizeof(path), "%s/fours/fours.json", takes);
  json_t* const  fours = json_load_file(path, 0, NULL);
  const unsigned n     = (unsigned)json_array_size(fours);
  if (n < N_PLAYERS + N_TOPS || n > FOURS_MOST) {
    give_up("%s holds %u fours", path, n);
  }
  shuffle(order, n, &rng);
  for (unsigned i = 0; i < N_PLAYERS; ++i) {
    add_player(json_array_get(fours, order[i]));
  }
  for (unsigned i = N_PLAYERS; i < N_PLAYERS + N_TOPS; ++i) {
    add_top(json_array_get(fours, order[i]), seed);
  }
  for (unsigned i = 0; i < N_LEARNERS; ++i) {
    add_learner(i, seed);
  }
  json_decref(fours);
  (void)snprintf(path, sizeof(path), "%s/take.mid", folder);
  (void)remove(path);
}

static FILE*
open_result(const char* const name)
{
  char path[PATH_LENGTH];
  (void)snprintf(path, sizeof(path), "%s/%s", folder, name);
  FILE* const file = fopen(path, "w");
  if (!file) {
    give_up("%s cannot be written", path);
  }
  return file;
}

static void
write_items(const unsigned seed)
{
  unsigned order[N_ITEMS];
  Rng      rng = rng_seed(seed, 2);
  shuffle(order, n_items, &rng);
  FILE* const text = open_result("items.txt");
  FILE* const key  = open_result("key.txt");
  (void)fputs(
    "A note is: its place, pitch, length in beats. 2 the beat, 2& its "
    "half, 2t 2T its\nthirds, 2s 2S its first and last quarter. Swung "
    "eighths stand at &.\n",
    text);
  for (unsigned i = 0; i < n_items; ++i) {
    (void)fprintf(text, "\nItem %u\n%s", i + 1, items[order[i]].text);
    (void)fprintf(key, "%2u  %s\n", i + 1, items[order[i]].key);
  }
  if (fclose(text) != 0 || fclose(key) != 0) {
    give_up("the items cannot be written");
  }
}

int
main(int argc, char** argv)
{
  if (argc != 5) {
    give_up("use: blind PROGRAM TAKES SEED FOLDER");
  }
  program             = argv[1];
  takes               = argv[2];
  folder              = argv[4];
  const unsigned seed = (unsigned)strtoul(argv[3], NULL, 10);
  draw(seed);
  write_items(seed);
  printf("%u items in %s/items.txt; who they are in %s/key.txt\n",
         n_items,
         folder,
         folder);
  return EXIT_SUCCESS;
}
