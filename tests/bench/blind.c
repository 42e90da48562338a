/// Draws calls and answers to be read blind; `tests/bench/blind` says how.

#include "blind_item.h"
#include "blind_learner.h"
#include "take_file.h"

#include "core/rng.h"
#include "core/tick.h"

#include <jansson.h>

#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
  N_PLAYERS    = 10,
  N_TOPS       = 10,
  N_LEARNERS   = 20,
  N_ITEMS      = N_PLAYERS + N_TOPS + N_LEARNERS,
  FOURS_MOST   = 200,
  NOTES_MOST   = 512,
  FEWEST_NOTES = 5, // Of a player, or it is no answer
  PATH_LENGTH  = 1024,
};

static const char* program;
static const char* takes;
static const char* folder;
static BlindItem   items[N_ITEMS];
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

static const json_t*
turns_of(const json_t* const report, const char* const key)
{
  const json_t* const turns = json_object_get(report, "turns");
  if (json_array_size(turns) < 2) {
    give_up("%s has no answer", key);
  }
  return turns;
}

static void
add(const json_t* const report,
    const json_t* const answer,
    const char* const   level,
    const char* const   key)
{
  BlindItem* const item = &items[n_items++];
  blind_item_write(item, report, answer, level);
  (void)snprintf(item->key, sizeof(item->key), "%s", key);
}

// Takes: a call and its answer as they were played, heard without a word of who
// played them

/// What a take is played over.
typedef struct {
  char     chart[PATH_LENGTH];
  unsigned bars; // Of a turn
  double   tempo_bpm;
  long     lead_in_ticks;
} Ground;

static void
take_path(char path[PATH_LENGTH])
{
  (void)snprintf(path, PATH_LENGTH, "%s/take.mid", folder);
}

static void
write_take(const Ground* const  ground,
           const SmfNote* const notes,
           const size_t         n_notes)
{
  char path[PATH_LENGTH];
  take_path(path);
  if (!take_write(path, notes, n_notes, ground->tempo_bpm)) {
    exit(EXIT_FAILURE);
  }
}

/// Have the program do a command with a take; the caller releases the report.
static json_t*
report_on(const Ground* const ground,
          const char* const   command,
          const char* const   path)
{
  return report_of("%s '%s' --chart '%s' --bars %u --lead-in %g",
                   command,
                   path,
                   ground->chart,
                   ground->bars,
                   (double)ground->lead_in_ticks / TICKS_PER_QUARTER);
}

static json_t*
hear_take(const Ground* const ground)
{
  char path[PATH_LENGTH];
  take_path(path);
  return report_on(ground, "hear", path);
}

static Ground
ground_of(const json_t* const four)
{
  const char* const file = json_string_value(json_object_get(four, "file"));
  Ground            ground;
  (void)snprintf(ground.chart,
                 sizeof(ground.chart),
                 "%s/fours/%.*s.cfg",
                 takes,
                 (int)strlen(file) - 4,
                 file);
  ground.bars          = 4;
  ground.tempo_bpm     = json_number_value(json_object_get(four, "bpm"));
  ground.lead_in_ticks = blind_number(four, "lead_in_ticks");
  return ground;
}

/// Add a four and what its player did next, if enough of it is whole.
static void
add_player(const json_t* const four)
{
  char         key[160];
  SmfNote      notes[NOTES_MOST];
  const Ground ground = ground_of(four);
  write_take(&ground, notes, take_four(notes, NOTES_MOST, four));
  json_t* const report = hear_take(&ground);
  (void)snprintf(key,
                 sizeof(key),
                 "player  top  %s",
                 json_string_value(json_object_get(four, "file")));
  json_t* const whole = blind_whole_phrases(turns_of(report, key));
  if (json_array_size(whole) >= FEWEST_NOTES) {
    add(report, whole, "top", key);
  }
  json_decref(whole);
  json_decref(report);
}

/// The notes of the first two turns as they sounded.
static size_t
notes_played(SmfNote* const      notes,
             const json_t* const turns,
             const Ground* const ground)
{
  size_t n = 0;
  for (size_t t = 0; t < 2; ++t) {
    const json_t* const played =
      json_object_get(json_array_get(turns, t), "notes");
    for (size_t i = 0; i < json_array_size(played) && n < NOTES_MOST; ++i) {
      const json_t* const note = json_array_get(played, i);
      notes[n++] =
        (SmfNote){.tick   = blind_number(note, "tick") + ground->lead_in_ticks,
                  .length = (uint32_t)blind_number(note, "length"),
                  .pitch  = (unsigned)blind_number(note, "pitch") & 0x7FU,
                  .velocity = (unsigned)blind_number(note, "velocity") & 0x7FU};
    }
  }
  return n;
}

/// Add the program's answer to the take at a path.
static void
add_program(const Ground* const ground,
            const char* const   command,
            const char* const   path,
            const char* const   level,
            const char* const   who)
{
  char                key[160];
  SmfNote             notes[NOTES_MOST];
  json_t* const       answered = report_on(ground, command, path);
  const json_t* const turns    = turns_of(answered, who);
  (void)snprintf(
    key,
    sizeof(key),
    "%s: %s",
    who,
    json_string_value(json_object_get(json_array_get(turns, 1), "move")));
  write_take(ground, notes, notes_played(notes, turns, ground));
  json_t* const       heard  = hear_take(ground);
  const json_t* const answer = json_array_get(turns_of(heard, who), 1);
  add(heard, json_object_get(answer, "notes"), level, key);
  json_decref(heard);
  json_decref(answered);
}

/// In the midst of a piece, as the players were: not its last turn, which would
/// close on the tonic.
static void
add_top(const json_t* const four, const unsigned seed)
{
  char              command[80];
  char              who[80];
  char              path[PATH_LENGTH];
  const char* const file   = json_string_value(json_object_get(four, "file"));
  const Ground      ground = ground_of(four);
  (void)snprintf(path, sizeof(path), "%s/fours/%s", takes, file);
  (void)snprintf(
    command, sizeof(command), "answer --rung 8 --choruses 2 --seed %u", seed);
  (void)snprintf(who, sizeof(who), "program top  %s", file);
  add_program(&ground, command, path, "top", who);
}

static void
add_learner(const unsigned i, const unsigned seed)
{
  static const unsigned rungs[] = {2, 3, 4, 6};
  const unsigned        rung    = rungs[i % 4];
  char                  command[80];
  char                  who[80];
  char                  level[16];
  char                  path[PATH_LENGTH];
  Rng                   rng  = rng_seed(seed, 100 + i);
  const LearnerCall     call = learner_call(rung, &rng);
  Ground ground              = {.bars = call.bars, .tempo_bpm = call.tempo_bpm};
  (void)snprintf(ground.chart, sizeof(ground.chart), "%s", call.chart);
  write_take(&ground, call.notes, call.n_notes);
  (void)snprintf(
    command, sizeof(command), "answer --rung %u --seed %u", rung, seed + i);
  (void)snprintf(level, sizeof(level), "%u of 8", rung);
  (void)snprintf(who, sizeof(who), "program rung %u, %s", rung, call.kind);
  take_path(path);
  add_program(&ground, command, path, level, who);
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
  unsigned at = 0;
  while (n_items < N_PLAYERS && at < n) {
    add_player(json_array_get(fours, order[at++]));
  }
  while (n_items < N_PLAYERS + N_TOPS && at < n) {
    add_top(json_array_get(fours, order[at++]), seed);
  }
  for (unsigned i = 0; i < N_LEARNERS; ++i) {
    add_learner(i, seed);
  }
  json_decref(fours);
  take_path(path);
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
    "A note is: its place, its pitch, and its length in beats where it does "
    "not last\nuntil the next. 2 the beat, 2& its half, 2t 2T its thirds, 2s "
    "2S its first and\nlast quarter. Swung eighths stand at &.\n",
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
