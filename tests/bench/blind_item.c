#include "blind_item.h"

#include "core/tick.h"

#include <math.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

enum { BAR = 4 * TICKS_PER_QUARTER };

long
blind_number(const json_t* const object, const char* const name)
{
  return (long)json_integer_value(json_object_get(object, name));
}

__attribute__((format(printf, 2, 3))) static void
put(BlindItem* const item, const char* const format, ...)
{
  const size_t n = strlen(item->text);
  va_list      args;
  va_start(args, format);
  (void)vsnprintf(item->text + n, BLIND_WORDS - n, format, args);
  va_end(args);
}

// How a turn is written: as it is heard to stand on the grid, and long as it is
// meant, so that nothing tells the hand that played it

static void
put_place(BlindItem* const item, const long tick)
{
  static const char* const parts[] = {
    "", "", "s", "s", "t", "t", "&", "T", "T", "S", "S", "S"};
  const long beat = tick % BAR / TICKS_PER_QUARTER + 1;
  const long part = (tick % TICKS_PER_QUARTER * 12 + TICKS_PER_QUARTER / 2) /
                    TICKS_PER_QUARTER % 12;
  put(item, "%ld%s", beat, parts[part]);
}

static void
put_pitch(BlindItem* const item, const long pitch)
{
  static const char* const names[] = {
    "C", "Db", "D", "Eb", "E", "F", "Gb", "G", "Ab", "A", "Bb", "B"};
  put(item, " %s%ld", names[pitch % 12], pitch / 12 - 1);
}

/// How long a note lasts where the next one does not follow it, to half a beat.
static void
put_length(BlindItem* const item, const long length, const long to_next)
{
  const double half = TICKS_PER_QUARTER / 2.0;
  if (to_next <= 0 || to_next - length >= TICKS_PER_QUARTER / 2) {
    put(item, " (%g)", fmax(1.0, round((double)length / half)) / 2.0);
  }
}

static void
put_notes(BlindItem* const    item,
          const char* const   who,
          const json_t* const notes)
{
  const size_t n   = json_array_size(notes);
  long         bar = -1;
  put(item, "%s\n", who);
  for (size_t i = 0; i < n; ++i) {
    const json_t* const note = json_array_get(notes, i);
    const long          tick = blind_number(note, "grid_tick");
    const bool is_grace      = json_is_true(json_object_get(note, "ornament"));
    size_t     next          = i + 1;
    while (next < n && json_is_true(json_object_get(json_array_get(notes, next),
                                                    "ornament"))) {
      ++next;
    }
    const long to_next =
      next < n ? blind_number(json_array_get(notes, next), "grid_tick") - tick
               : 0;
    if ((tick + BAR) / BAR - 1 != bar) {
      bar = (tick + BAR) / BAR - 1;
      put(item, "%s  bar %2ld:", i ? "\n" : "", bar + 1);
    }
    put(item, " ");
    if (is_grace) {
      put(item, "(grace");
      put_pitch(item, blind_number(note, "pitch"));
      put(item, ")");
    } else {
      put_place(item, (tick + BAR) % BAR);
      put_pitch(item, blind_number(note, "pitch"));
      put_length(item, blind_number(note, "length"), to_next);
      put(item, ",");
    }
  }
  put(item, "%s\n", n ? "" : "  (nothing)");
}

static void
put_chords(BlindItem* const item, const json_t* const turns, const size_t n)
{
  for (size_t t = 0; t < n; ++t) {
    const json_t* const turn   = json_array_get(turns, t);
    const json_t* const chords = json_object_get(turn, "chords");
    for (long bar = blind_number(turn, "start_tick");
         bar < blind_number(turn, "end_tick");
         bar += BAR) {
      bool is_named = false;
      put(item, " |");
      for (size_t i = 0; i < json_array_size(chords); ++i) {
        const json_t* const chord = json_array_get(chords, i);
        const long          tick  = blind_number(chord, "tick");
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

void
blind_item_write(BlindItem* const    item,
                 const json_t* const report,
                 const json_t* const answer,
                 const char* const   level)
{
  const json_t* const turns = json_object_get(report, "turns");
  put(item,
      "%s, key %s, %s at %.0f, level: %s\nChords:",
      json_string_value(json_object_get(report, "meter")),
      json_string_value(json_object_get(report, "key")),
      json_string_value(json_object_get(report, "feel")),
      json_number_value(json_object_get(report, "tempo_bpm")),
      level);
  put_chords(item, turns, 2);
  put_notes(item, "Call:", json_object_get(json_array_get(turns, 0), "notes"));
  put_notes(item, "Answer:", answer);
}

// What is shown of a player: whole phrases. Their four bars are cut out of a
// solo, and what the line cuts would tell them by that alone

static long
onset(const json_t* const notes, const size_t i)
{
  return blind_number(json_array_get(notes, i), "grid_tick");
}

static bool
begins_phrase(const json_t* const notes, const size_t i)
{
  return json_is_true(
    json_object_get(json_array_get(notes, i), "begins_phrase"));
}

/// The answer's first note, or the first of its second phrase where the call's
/// last one runs on into it.
static size_t
first_whole(const json_t* const call,
            const json_t* const answer,
            const long          line)
{
  const size_t n_call = json_array_size(call);
  const size_t n      = json_array_size(answer);
  size_t       from   = 0;
  if (n_call > 0 && n > 0 &&
      onset(answer, 0) - onset(call, n_call - 1) <= TICKS_PER_QUARTER &&
      onset(answer, 0) - line < TICKS_PER_QUARTER / 2) {
    do {
      ++from;
    } while (from < n && !begins_phrase(answer, from));
  }
  return from;
}

/// Behind the answer's last note, or behind its last phrase but one where notes
/// are struck up to the line.
static size_t
end_of_whole(const json_t* const answer, const long line)
{
  size_t end = json_array_size(answer);
  if (end > 0 && line - onset(answer, end - 1) <= TICKS_PER_QUARTER) {
    do {
      --end;
    } while (end > 0 && !begins_phrase(answer, end));
  }
  return end;
}

json_t*
blind_whole_phrases(const json_t* const turns)
{
  const json_t* const call   = json_array_get(turns, 0);
  const json_t* const answer = json_array_get(turns, 1);
  const json_t* const notes  = json_object_get(answer, "notes");
  json_t* const       whole  = json_array();
  const size_t end = end_of_whole(notes, blind_number(answer, "end_tick"));
  for (size_t i = first_whole(json_object_get(call, "notes"),
                              notes,
                              blind_number(answer, "start_tick"));
       i < end;
       ++i) {
    (void)json_array_append(whole, json_array_get(notes, i));
  }
  return whole;
}
