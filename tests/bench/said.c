#include "said.h"

#include <jansson.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { ROW_LENGTH = 256, COMMAND_LENGTH = 4096, N_CLASSES = 12 };

/// Cut the next field off a row of a table.
static char*
next_field(char** const row)
{
  char* const field = *row;
  char* const comma = strchr(field, ',');
  if (comma) {
    *comma = '\0';
    *row   = comma + 1;
  }
  return field;
}

static unsigned
tones_of(const char* classes)
{
  unsigned tones = 0;
  char*    end   = NULL;
  for (long tone = strtol(classes, &end, 10); end != classes;
       tone      = strtol(classes, &end, 10)) {
    tones |= 1U << (unsigned)(tone % N_CLASSES);
    classes = end;
  }
  return tones;
}

SaidChord
said_chord(const char* const symbol, const char* const table)
{
  SaidChord   chord = {.tick = 0};
  FILE* const file  = fopen(table, "r");
  char        row[ROW_LENGTH];
  const int   named = (int)strcspn(symbol, "/"); // A bass note is no tone
  (void)snprintf(chord.symbol, sizeof(chord.symbol), "%s", symbol);
  while (file && chord.tones == 0 && fgets(row, sizeof(row), file)) {
    char        name[2 * ROW_LENGTH];
    char*       rest    = row;
    const char* root    = next_field(&rest);
    const char* quality = next_field(&rest);
    const char* pitch   = next_field(&rest);
    (void)next_field(&rest);
    const char* classes = next_field(&rest);
    (void)snprintf(name,
                   sizeof(name),
                   "%s%s",
                   root,
                   strcmp(quality, "maj") == 0 ? "" : quality);
    if (strlen(name) == (size_t)named &&
        strncmp(name, symbol, (size_t)named) == 0) {
      chord.root  = (unsigned)strtoul(pitch, NULL, 10);
      chord.tones = tones_of(classes);
    }
  }
  if (file) {
    (void)fclose(file);
  }
  return chord;
}

const SaidChord*
said_chord_at(const Said* const said, const long tick)
{
  const SaidChord* at = NULL;
  for (unsigned i = 0; i < said->n_chords; ++i) {
    at = said->chords[i].tick <= tick ? &said->chords[i] : at;
  }
  return at;
}

static long
long_at(const json_t* const object, const char* const key)
{
  return (long)json_integer_value(json_object_get(object, key));
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
read_turn(Said* const said, const json_t* const turn, const char* const table)
{
  const long        start  = long_at(turn, "start_tick");
  const json_t*     chords = json_object_get(turn, "chords");
  const char* const move   = json_string_value(json_object_get(turn, "move"));
  *said                    = (Said){.turn = long_at(turn, "end_tick") - start};
  (void)snprintf(said->move, sizeof(said->move), "%s", move ? move : "");
  read_notes(said, json_object_get(turn, "notes"), start);
  size_t  i;
  json_t* chord;
  json_array_foreach(chords, i, chord)
  {
    const char* const symbol =
      json_string_value(json_object_get(chord, "symbol"));
    if (symbol && said->n_chords < SAID_CHORDS) {
      SaidChord* const own = &said->chords[said->n_chords++];
      *own                 = said_chord(symbol, table);
      own->tick            = long_at(chord, "tick") - start;
    }
  }
}

bool
said_ask(Pair* const pair, const Asked* const asked)
{
  char command[COMMAND_LENGTH];
  (void)snprintf(command,
                 sizeof(command),
                 "'%s' answer '%s' --chart '%s' --bars 4 --rung %u --seed %u "
                 "--out '%s' --report - 2>'%s.err'",
                 asked->program,
                 asked->take,
                 asked->chart,
                 asked->rung,
                 asked->seed,
                 asked->out,
                 asked->out);
  FILE* const pipe = popen(command, "r");
  if (!pipe) {
    return false;
  }
  json_t* const report = json_loadf(pipe, 0, NULL);
  const int     code   = pclose(pipe);
  json_t* const turns  = json_object_get(report, "turns");
  const bool    is_two = code == 0 && json_array_size(turns) >= 2;
  if (is_two) {
    read_turn(&pair->call, json_array_get(turns, 0), asked->table);
    read_turn(&pair->answer, json_array_get(turns, 1), asked->table);
    pair->tempo_bpm = json_number_value(json_object_get(report, "tempo_bpm"));
  }
  json_decref(report);
  return is_two;
}
