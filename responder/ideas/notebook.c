#include "responder/ideas/notebook.h"

#include "core/music/pitch.h"
#include "core/music/swing.h"
#include "core/music/text.h"
#include "core/rng.h"

#include <string.h>

enum {
  PITCH_MOST       = 127,
  TICK_MOST        = 1 << 20, ///< 270 bars of 4/4
  PLAIN_VELOCITY   = 76,
  STREAM_KEPT      = 7,
  SESSIONS_BETWEEN = 3,
};

const char*
notebook_text(const Idea* const idea, char text[NOTEBOOK_TEXT_CAPACITY])
{
  Text line = text_begin(text, NOTEBOOK_TEXT_CAPACITY);
  for (unsigned i = 0; i < idea->n_notes; ++i) {
    text_add(&line, i ? " " : "");
    text_add_number(&line, (int)idea->ticks[i]);
    text_add(&line, ":");
    text_add_number(&line, (int)idea->lengths[i]);
    text_add(&line, ":");
    text_add_number(&line, idea->pitches[i]);
  }
  return text;
}

/// Take a number up to `most` off a text and the character after it; -1 if
/// there is none.
static int
take_number(const char** const text, const int most, const char after)
{
  int number = 0;
  if (**text < '0' || **text > '9') {
    return -1;
  }
  for (; **text >= '0' && **text <= '9'; ++*text) {
    number = number * 10 + (**text - '0');
    if (number > most) {
      return -1;
    }
  }
  if (after && *(*text)++ != after) {
    return -1;
  }
  return number;
}

static bool
take_note(Idea* const idea, const char** const text)
{
  const unsigned n      = idea->n_notes;
  const int      tick   = take_number(text, TICK_MOST, ':');
  const int      length = tick < 0 ? -1 : take_number(text, TICK_MOST, ':');
  const int      pitch  = length < 1 ? -1 : take_number(text, PITCH_MOST, '\0');
  if (pitch < 0 || n == IDEA_NOTE_CAPACITY ||
      (n > 0 && tick < idea->ticks[n - 1] + idea->lengths[n - 1])) {
    return false;
  }
  idea->ticks[n]   = tick;
  idea->lengths[n] = length;
  idea->pitches[n] = (uint8_t)pitch;
  ++idea->n_notes;
  return true;
}

bool
notebook_parse(Idea* const idea, const char* text)
{
  Idea read = {.by_player = true};
  char again[NOTEBOOK_TEXT_CAPACITY];
  for (const char* rest = text; take_note(&read, &rest);) {
    if (!*rest) {
      *idea = read;
      return strcmp(notebook_text(&read, again), text) == 0;
    }
    if (*rest++ != ' ') {
      return false;
    }
  }
  return false;
}

void
notebook_tidy(Idea* const idea)
{
  Idea tidy = {.by_player = idea->by_player};
  for (unsigned i = 0; i < idea->n_notes; ++i) {
    const Tick tick = idea->ticks[i] < 0 ? 0 : idea->ticks[i];
    unsigned   n    = tidy.n_notes;
    while (n && tidy.ticks[n - 1] >= tick) {
      --n;
    }
    if (n && tidy.ticks[n - 1] + tidy.lengths[n - 1] > tick) {
      tidy.lengths[n - 1] = tick - tidy.ticks[n - 1];
    }
    tidy.ticks[n]   = tick;
    tidy.lengths[n] = idea->lengths[i] < 1 ? 1 : idea->lengths[i];
    tidy.pitches[n] = idea->pitches[i];
    tidy.n_notes    = n + 1;
  }
  *idea = tidy;
}

static void
move_by(Idea* const idea, const int semitones)
{
  for (unsigned i = 0; i < idea->n_notes; ++i) {
    idea->pitches[i] = (uint8_t)(idea->pitches[i] + semitones);
  }
}

void
notebook_transpose(Idea* const    idea,
                   const unsigned from,
                   const unsigned to,
                   const unsigned lowest,
                   const unsigned highest)
{
  int low  = PITCH_MOST;
  int high = 0;
  for (unsigned i = 0; i < idea->n_notes; ++i) {
    low  = idea->pitches[i] < low ? idea->pitches[i] : low;
    high = idea->pitches[i] > high ? idea->pitches[i] : high;
  }
  const int up = (int)((to + OCTAVE - from) % OCTAVE);
  int       by = up > OCTAVE / 2 ? up - OCTAVE : up;
  while (low + by < (int)lowest && high + by + OCTAVE <= (int)highest) {
    by += OCTAVE;
  }
  while (high + by > (int)highest && low + by - OCTAVE >= (int)lowest) {
    by -= OCTAVE;
  }
  by += low + by < 0 ? OCTAVE : high + by > PITCH_MOST ? -OCTAVE : 0;
  move_by(idea, by);
}

Tick
notebook_end(const Idea* const idea)
{
  const unsigned last = idea->n_notes - 1;
  return idea->n_notes ? idea->ticks[last] + idea->lengths[last] : 0;
}

void
notebook_phrase(Phrase* const     phrase,
                const Idea* const idea,
                const Ear* const  ear,
                const double      swing_ratio,
                const Tick        start,
                const Tick        end)
{
  static const bool none[IDEA_NOTE_CAPACITY] = {false};
  Note              notes[IDEA_NOTE_CAPACITY];
  Tick              grid_ticks[IDEA_NOTE_CAPACITY];
  unsigned          n = 0;
  for (; n < idea->n_notes && start + idea->ticks[n] < end; ++n) {
    const Meter meter = ear->chart->meter;
    const Tick  tick  = idea->ticks[n];
    const Tick  from =
      swing_place_in(meter, tick, swing_ratio, idea->ticks, idea->n_notes);
    const Tick to = swing_place_in(
      meter, tick + idea->lengths[n], swing_ratio, idea->ticks, idea->n_notes);
    grid_ticks[n] = start + tick;
    notes[n] =
      (Note){start + from, to - from, idea->pitches[n], PLAIN_VELOCITY};
  }
  hear_written(phrase, ear, notes, grid_ticks, none, n, start, end);
}

unsigned
notebook_pick(const uint64_t seed, const unsigned n)
{
  Rng rng = rng_seed(seed, STREAM_KEPT);
  if (n == 0 || rng_below(&rng, SESSIONS_BETWEEN) != 0) {
    return n;
  }
  return rng_below(&rng, n);
}
