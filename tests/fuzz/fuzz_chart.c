// Any text as the bars of a chart: the first byte chooses meter and key, each
// line is a bar, and its words are tried as chords, numerals and the rest.

#include "core/music/chart.h"
#include "core/music/numeral.h"
#include "target.h"

#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

enum { TEXT_MAX = 4096 };

static Chart chart;
static Chart moved;

static void
must(const bool holds)
{
  if (!holds) {
    abort();
  }
}

static void
check_chord(const Chord* const chord)
{
  must(chord->n_tones <= CHORD_TONE_CAPACITY);
  must((chord->core_mask & chord->all_mask) == chord->core_mask);
  must(chord_is_silence(chord) == (chord->n_tones == 0));
  if (!chord_is_silence(chord)) {
    must(chord_has_root(chord, spelling_pitch_class(chord->root)));
    must(chord->all_mask & 1U);
  }

  // What is written is read as the same chord
  char  text[CHORD_TEXT_CAPACITY];
  Chord again;
  (void)chord_text(chord, text);
  must(chord_parse(&again, text, strlen(text)) == STATUS_OK);
  must(chord_equals(chord, &again));
}

static void
try_word(const Key key, const char* const word, const size_t length)
{
  Chord chord;
  if (chord_parse(&chord, word, length) == STATUS_OK) {
    check_chord(&chord);
  }
  if (numeral_parse(&chord, key, word, length) == STATUS_OK) {
    must(!chord_is_silence(&chord));
    must((chord.core_mask & chord.all_mask) == chord.core_mask);
  }
}

static void
try_line(const char* const line)
{
  Key   key;
  Meter meter;
  if (key_parse(&key, line) == STATUS_OK) {
    char text[KEY_TEXT_CAPACITY];
    Key  again;
    must(key_parse(&again, key_text(key, text)) == STATUS_OK);
    must(key_signature(again) == key_signature(key));
  }
  if (meter_parse(&meter, line) == STATUS_OK) {
    must(meter_bar_ticks(meter) ==
         meter_beat_ticks(meter) * (Tick)meter_beats_per_bar(meter));
  }
  for (const char* word = line; *word;) {
    const size_t length = strcspn(word, " ");
    try_word(chart.key, word, length);
    word += length + (word[length] == ' ');
  }
}

static void
add_bar(const char* const line)
{
  char           fault[CHART_FAULT_CAPACITY] = "";
  const unsigned n_bars                      = chart.n_bars;
  const unsigned n_changes                   = chart.n_changes;
  if (chart_add_bar(&chart, line, fault) == STATUS_OK) {
    must(chart.n_bars == n_bars + 1 && chart.n_changes > n_changes);
  } else {
    must(chart.n_bars == n_bars && chart.n_changes == n_changes && fault[0]);
  }
  if (chart.n_bars > 0) {
    (void)!chart_set_scale(&chart, chart.n_bars - 1, line);
  }
}

/// Check the whole chart, and that it comes home from every other key.
static void
check_chart(void)
{
  for (unsigned i = 1; i < chart.n_changes; ++i) {
    must(chart.changes[i - 1].tick < chart.changes[i].tick);
  }
  must(chart.changes[0].tick == 0);
  must(chart.changes[chart.n_changes - 1].tick < chart_ticks(&chart));

  moved = chart;
  for (int8_t letter = 0; letter < 7; ++letter) {
    chart_transpose(&moved, (Spelling){letter, 0});
  }
  chart_transpose(&moved, chart.key.tonic);
  for (unsigned i = 0; i < chart.n_changes; ++i) {
    must(chord_equals(&chart.changes[i].chord, &moved.changes[i].chord));
  }
  for (unsigned i = 0; i < chart.n_bars; ++i) {
    const Tick tick = (Tick)i * meter_bar_ticks(chart.meter);
    must(scale_pitch_classes(chart_scale_at(&chart, tick)) ==
         scale_pitch_classes(chart_scale_at(&moved, tick)));
    must(chart_next_change(&chart, tick) > tick);
    must(spelling_pitch_class(chart_spell(&chart, tick, 60)) == 0);
  }
}

int
LLVMFuzzerTestOneInput(const uint8_t* const data, const size_t size)
{
  static const char* const meters[] = {
    "2/4", "3/4", "4/4", "5/4", "6/8", "12/8"};
  static const char* const keys[] = {
    "C major", "Eb minor", "F# major", "Db major", "A minor"};
  if (size < 1 || size > TEXT_MAX) {
    return 0;
  }

  char text[TEXT_MAX];
  memcpy(text, data + 1, size - 1);
  text[size - 1] = '\0';
  Meter meter    = {4, 4};
  Key   key      = {0};
  must(meter_parse(&meter, meters[data[0] % 6]) == STATUS_OK);
  must(key_parse(&key, keys[data[0] / 6 % 5]) == STATUS_OK);

  chart_begin(&chart, text, meter, key);
  for (char* line = text; line;) {
    char* const end = strchr(line, '\n');
    if (end) {
      *end = '\0';
    }
    try_line(line);
    add_bar(line);
    line = end ? end + 1 : NULL;
  }
  if (chart.n_bars > 0) {
    check_chart();
  }
  return 0;
}
