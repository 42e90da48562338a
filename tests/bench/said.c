#include "said.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { WORDS = 4 * SAID_PATH };

const SaidChord*
said_chord_at(const Said* const said, const long tick)
{
  const SaidChord* found = NULL;
  for (unsigned i = 0; i < said->n_chords; ++i) {
    if (!found || said->chords[i].tick <= tick) {
      found = &said->chords[i];
    }
  }
  return found && found->tones != 0 ? found : NULL;
}

static long
long_at(const json_t* const object, const char* const name)
{
  return (long)json_integer_value(json_object_get(object, name));
}

static void
copy_text(char* const         to,
          const size_t        size,
          const json_t* const from,
          const char* const   name)
{
  const char* const text = json_string_value(json_object_get(from, name));
  (void)snprintf(to, size, "%s", text ? text : "");
}

static void
read_notes(Said* const said, const json_t* const notes, const long start)
{
  size_t  i;
  json_t* note;
  json_array_foreach(notes, i, note)
  {
    if (said->n_notes < SAID_NOTES) {
      said->notes[said->n_notes++] = (SaidNote){
        .tick        = long_at(note, "tick") - start,
        .length      = long_at(note, "length"),
        .grid        = long_at(note, "grid_tick") - start,
        .pitch       = (int)long_at(note, "pitch"),
        .is_ornament = json_is_true(json_object_get(note, "ornament"))};
    }
  }
}

static void
add_chord(Said* const said, const json_t* const chord, const long tick)
{
  const char* const symbol =
    json_string_value(json_object_get(chord, "symbol"));
  if (symbol && said->n_chords < SAID_CHORDS) {
    SaidChord* const own = &said->chords[said->n_chords++];
    *own                 = said_chord(symbol);
    own->tick            = tick;
  }
}

static void
read_key(Said* const said, const json_t* const report)
{
  char key[32];
  copy_text(key, sizeof(key), report, "key");
  said->is_minor          = strstr(key, "minor") != NULL;
  key[strcspn(key, " ")]  = '\0';
  const SaidChord on_root = said_chord(key);
  said->tonic             = on_root.root;
}

bool
said_read(Said* const         said,
          const json_t* const report,
          const unsigned      turn_index)
{
  const json_t* const turns = json_object_get(report, "turns");
  const json_t* const turn  = json_array_get(turns, turn_index);
  const long          start = long_at(turn, "start_tick");
  size_t              i;
  json_t*             chord;
  if (!turn) {
    return false;
  }
  *said = (Said){.turn = long_at(turn, "end_tick") - start};
  copy_text(said->move, sizeof(said->move), turn, "move");
  copy_text(said->why, sizeof(said->why), turn, "why");
  said->complexity = json_number_value(json_object_get(turn, "complexity"));
  read_key(said, report);
  read_notes(said, json_object_get(turn, "notes"), start);
  if (turn_index > 0) { // What a pick-up sounds over
    const json_t* const before =
      json_object_get(json_array_get(turns, turn_index - 1), "chords");
    const json_t* const last =
      json_array_get(before, json_array_size(before) - 1);
    add_chord(said, last, long_at(last, "tick") - start);
  }
  json_array_foreach(json_object_get(turn, "chords"), i, chord)
  {
    add_chord(said, chord, long_at(chord, "tick") - start);
  }
  const size_t        next_turn = (turn_index + 1) % json_array_size(turns);
  const json_t* const next      = json_array_get(turns, next_turn);
  add_chord(
    said, json_array_get(json_object_get(next, "chords"), 0), said->turn);
  return true;
}

bool
said_read_pair(Pair* const pair, const json_t* const report)
{
  pair->tempo_bpm = json_number_value(json_object_get(report, "tempo_bpm"));
  return said_read(&pair->call, report, 0) &&
         said_read(&pair->answer, report, 1);
}

__attribute__((format(printf, 2, 3))) static json_t*
run(const Asked* const asked, const char* const format, ...)
{
  char    words[WORDS];
  char    command[2 * WORDS];
  va_list args;
  va_start(args, format);
  (void)vsnprintf(words, sizeof(words), format, args);
  va_end(args);
  (void)snprintf(command,
                 sizeof(command),
                 "'%s' %s --report - 2>'%s.err'",
                 asked->program,
                 words,
                 asked->out);
  FILE* const   pipe   = popen(command, "r");
  json_t* const report = pipe ? json_loadf(pipe, 0, NULL) : NULL;
  if (pipe && pclose(pipe) == 0 && report) {
    return report;
  }
  fprintf(stderr, "musicianship: no report from: %s\n", command);
  json_decref(report);
  return NULL;
}

json_t*
said_hear(const Take* const take, const Asked* const asked)
{
  return run(asked,
             "hear '%s' --chart '%s' --bars %u --lead-in %g",
             take->take,
             take->chart,
             take->bars,
             take->lead_in);
}

json_t*
said_ask(const Take* const take, const Asked* const asked)
{
  return run(asked,
             "answer '%s' --chart '%s' %s %s --bars %u --lead-in %g "
             "--choruses %u --rung %u --seed %u --out '%s'",
             take->take,
             take->chart,
             take->key[0] ? "--key" : "",
             take->key,
             take->bars,
             take->lead_in,
             asked->choruses,
             asked->rung,
             asked->seed,
             asked->out);
}
