#include "takes.h"

#include "core/midi/smf_reader.h"

#include <jansson.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
  PATH_CAPACITY = 1024,
  BAR_CAPACITY  = 128,
};

const char*
takes_folder(void)
{
  return getenv("BARTER_TAKES");
}

__attribute__((format(printf, 2, 3))) static const char*
path_of(char path[PATH_CAPACITY], const char* const format, ...)
{
  const int n = snprintf(path, PATH_CAPACITY, "%s/", takes_folder());
  va_list   arguments;
  va_start(arguments, format);
  (void)vsnprintf(path + n, PATH_CAPACITY - (size_t)n, format, arguments);
  va_end(arguments);
  return path;
}

static long
item(const json_t* const list, const size_t index)
{
  return (long)json_integer_value(json_array_get(list, index));
}

/// The index of a column by its name.
static size_t
column(const json_t* const names, const char* const name)
{
  size_t index = 0;
  while (index < json_array_size(names) &&
         strcmp(json_string_value(json_array_get(names, index)), name) != 0) {
    ++index;
  }
  return index;
}

/// Add a bar of chords, `[[beat, as annotated, symbol, tones], ...]`, in 4/4;
/// what the reader of symbols does not know is taken for no chord.
static void
add_bar(Chart* const chart, const json_t* const chords, char last[32])
{
  char text[BAR_CAPACITY] = "";
  for (long beat = 1; beat <= 4; ++beat) {
    const char*   word  = beat == 1 ? last : "/";
    size_t        i     = 0;
    const json_t* chord = NULL;
    json_array_foreach(chords, i, chord)
    {
      if (item(chord, 0) == beat) {
        word = json_string_value(json_array_get(chord, 2));
        snprintf(last, 32, "%s", word);
      }
    }
    strncat(text, word, sizeof(text) - strlen(text) - 2);
    strcat(text, beat < 4 ? " " : "");
  }
  char fault[CHART_FAULT_CAPACITY];
  if (chart_add_bar(chart, text, fault) != STATUS_OK &&
      chart_add_bar(chart, "N.C.", fault) != STATUS_OK) {
    abort();
  }
}

static void
begin_take(Take* const take, const char* const name)
{
  *take = (Take){.tempo_bpm = 0};
  snprintf(take->name, sizeof(take->name), "%s", name);
  chart_begin(&take->chart, name, (Meter){4, 4}, (Key){{0, 0}, false});
}

static void
add_note(Take* const     take,
         const Tick      tick,
         const Tick      length,
         const long      pitch,
         const TakesNote truth)
{
  if (take->n_notes < TAKES_NOTE_CAPACITY) {
    TakesNote* const added = &take->notes[take->n_notes++];
    *added                 = truth;
    added->note            = (Note){tick, length, (uint8_t)pitch, 80};
  }
}

/// Where the annotated beats stand: by bar and beat.
static Tick
beat_at(const json_t* const beats, const long bar, const long beat)
{
  size_t        i   = 0;
  const json_t* row = NULL;
  json_array_foreach(beats, i, row)
  {
    if (item(row, 2) == bar && item(row, 3) == beat) {
      return item(row, 0);
    }
  }
  return INT64_MIN;
}

static void
add_solo_notes(Take* const take, const json_t* const root)
{
  const json_t* const names  = json_object_get(root, "notes_cols");
  const json_t* const beats  = json_object_get(root, "beats");
  const json_t* const notes  = json_object_get(root, "notes");
  const size_t        bar    = column(names, "bar");
  const size_t        beat   = column(names, "beat");
  const size_t        tatum  = column(names, "tatum");
  const size_t        phrase = column(names, "phrase");
  size_t              i      = 0;
  const json_t*       row    = NULL;
  json_array_foreach(notes, i, row)
  {
    const TakesNote truth = {
      .beat_tick  = beat_at(beats, item(row, bar), item(row, beat)),
      .is_on_beat = item(row, tatum) == 1,
      .phrase     = (unsigned)item(row, phrase),
    };
    add_note(take,
             item(row, 0),
             item(row, 1),
             item(row, column(names, "pitch")),
             truth);
  }
}

static void
add_solo_targets(Take* const take, const json_t* const root)
{
  size_t        i      = 0;
  const json_t* phrase = NULL;
  json_array_foreach(json_object_get(root, "phrases"), i, phrase)
  {
    const json_int_t last =
      json_integer_value(json_object_get(phrase, "last_note"));
    if (take->n_targets < TAKES_TARGET_CAPACITY &&
        last < (json_int_t)take->n_notes) {
      take->targets[take->n_targets++] = take->notes[last].note.tick;
    }
  }
}

bool
takes_solo(Take* const take, const unsigned number)
{
  char          path[PATH_CAPACITY];
  char          name[16];
  json_t* const root =
    json_load_file(path_of(path, "solos/s%02u.json", number), 0, NULL);
  if (!root) {
    return false;
  }
  snprintf(name, sizeof(name), "s%02u", number);
  begin_take(take, name);
  take->tempo_bpm   = json_number_value(json_object_get(root, "tempo_bpm"));
  take->swing_ratio = json_number_value(
    json_object_get(json_object_get(root, "swing"), "ratio_median"));
  char          last[32] = "N.C.";
  size_t        i        = 0;
  const json_t* bar      = NULL;
  json_array_foreach(json_object_get(root, "bars"), i, bar)
  {
    add_bar(&take->chart, json_object_get(bar, "chords"), last);
  }
  add_solo_notes(take, root);
  add_solo_targets(take, root);
  json_decref(root);
  return true;
}

static json_t*
load_calls(void)
{
  char path[PATH_CAPACITY];
  return json_load_file(path_of(path, "fours/fours.json"), 0, NULL);
}

unsigned
takes_calls(void)
{
  json_t* const  root = load_calls();
  const unsigned n    = (unsigned)json_array_size(root);
  json_decref(root);
  return n;
}

/// A call's notes; bar 1 begins after the lead-in.
static void
add_call_notes(Take* const take, const json_t* const call)
{
  const json_t* const names = json_object_get(call, "notes_cols");
  const Tick lead = json_integer_value(json_object_get(call, "lead_in_ticks"));
  const size_t  bar  = column(names, "bar0");
  const size_t  beat = column(names, "beat");
  size_t        i    = 0;
  const json_t* row  = NULL;
  json_array_foreach(json_object_get(call, "notes"), i, row)
  {
    const TakesNote truth = {
      .beat_tick  = item(row, bar) * 3840 + (item(row, beat) - 1) * 960,
      .is_on_beat = item(row, column(names, "tatum")) == 1,
      .phrase     = (unsigned)item(row, column(names, "phrase")),
    };
    add_note(take,
             item(row, 0) - lead,
             item(row, 1),
             item(row, column(names, "pitch")),
             truth);
  }
}

bool
takes_call(Take* const take, const unsigned index)
{
  json_t* const       root = load_calls();
  const json_t* const call = json_array_get(root, index);
  if (!call) {
    json_decref(root);
    return false;
  }
  begin_take(take, json_string_value(json_object_get(call, "file")));
  take->tempo_bpm   = json_number_value(json_object_get(call, "bpm"));
  take->swing_ratio = json_number_value(json_object_get(call, "swing_of_solo"));
  char          last[32] = "N.C.";
  size_t        i        = 0;
  const json_t* bar      = NULL;
  json_array_foreach(json_object_get(call, "chart"), i, bar)
  {
    add_bar(&take->chart, bar, last);
  }
  add_call_notes(take, call);
  json_decref(root);
  return true;
}

static bool
is_among(const SmfTake* const melody, const SmfNote* const note)
{
  for (size_t i = 0; i < melody->n_notes; ++i) {
    if (melody->notes[i].tick == note->tick &&
        melody->notes[i].pitch == note->pitch) {
      return true;
    }
  }
  return false;
}

bool
takes_hands(TakesHands* const hands, const unsigned number)
{
  char    path[PATH_CAPACITY];
  Fault   fault  = {.status = STATUS_OK};
  SmfTake both   = {.n_notes = 0};
  SmfTake melody = {.n_notes = 0};
  if (smf_load(&both,
               path_of(path, "hands/h%02u.both.mid", number),
               SMF_US_PER_QUARTER,
               &fault) != STATUS_OK ||
      smf_load(&melody,
               path_of(path, "hands/h%02u.melody.mid", number),
               SMF_US_PER_QUARTER,
               &fault) != STATUS_OK) {
    smf_free(&both);
    return false;
  }
  *hands             = (TakesHands){.n_melody = 0};
  hands->ms_per_tick = smf_tempo_at(&both, 0) / 1000.0 / TICKS_PER_QUARTER;
  for (size_t i = 0; i < both.n_notes && i < TAKES_NOTE_CAPACITY; ++i) {
    const SmfNote* const note = &both.notes[i];
    hands->notes[i] =
      (Note){note->tick, note->length, note->pitch, note->velocity};
    hands->is_melody[i] = is_among(&melody, note);
    hands->n_melody += hands->is_melody[i];
    ++hands->n_notes;
  }
  smf_free(&both);
  smf_free(&melody);
  return true;
}

bool
takes_notes(TakesHands* const hands, const char* const name)
{
  char    path[PATH_CAPACITY];
  Fault   fault = {.status = STATUS_OK};
  SmfTake take  = {.n_notes = 0};
  if (smf_load(&take, path_of(path, "%s", name), SMF_US_PER_QUARTER, &fault) !=
      STATUS_OK) {
    return false;
  }
  *hands             = (TakesHands){.n_melody = 0};
  hands->ms_per_tick = smf_tempo_at(&take, 0) / 1000.0 / TICKS_PER_QUARTER;
  for (size_t i = 0; i < take.n_notes; ++i) {
    const SmfNote* const note = &take.notes[i];
    if (note->channel != SMF_DRUM_CHANNEL &&
        hands->n_notes < TAKES_NOTE_CAPACITY) {
      hands->notes[hands->n_notes++] =
        (Note){note->tick, note->length, note->pitch, note->velocity};
    }
  }
  smf_free(&take);
  return true;
}
