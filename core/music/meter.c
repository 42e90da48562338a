#include "core/music/meter.h"

#include "core/music/text.h"

#include <string.h>

enum { TICKS_PER_SIXTEENTH = 240, TICKS_PER_TRIPLET_EIGHTH = 320 };

/// A meter and the weights of its beats, Longuet-Higgins & Lee 1984.
typedef struct {
  char   text[METER_TEXT_CAPACITY];
  Meter  meter;
  int8_t beats[METER_BEATS_PER_BAR_MAX];
  int8_t beat_level; ///< The level of the weakest beat
} MeterRow;

static const MeterRow rows[] = {
  {"2/4", {2, 4}, {0, -1}, -1},
  {"3/4", {3, 4}, {0, -1, -1}, -1},
  {"4/4", {4, 4}, {0, -2, -1, -2}, -2},
  {"5/4", {5, 4}, {0, -2, -2, -1, -2}, -2},
  {"6/8", {6, 8}, {0, -1}, -1},
  {"12/8", {12, 8}, {0, -2, -1, -2}, -2},
};

enum { N_ROWS = sizeof(rows) / sizeof(*rows) };

static const MeterRow*
row_of(const Meter meter)
{
  unsigned i = 0;
  while (i < N_ROWS - 1 && (rows[i].meter.numerator != meter.numerator ||
                            rows[i].meter.denominator != meter.denominator)) {
    ++i;
  }
  return &rows[i];
}

Status
meter_parse(Meter* const meter, const char* const text)
{
  for (unsigned i = 0; i < N_ROWS; ++i) {
    if (strcmp(rows[i].text, text) == 0) {
      *meter = rows[i].meter;
      return STATUS_OK;
    }
  }
  return STATUS_SYNTAX;
}

const char*
meter_text(const Meter meter, char buffer[METER_TEXT_CAPACITY])
{
  Text text = text_begin(buffer, METER_TEXT_CAPACITY);
  text_add_number(&text, meter.numerator);
  text_add(&text, "/");
  text_add_number(&text, meter.denominator);
  return buffer;
}

bool
meter_is_compound(const Meter meter)
{
  return meter.denominator == 8;
}

Tick
meter_beat_ticks(const Meter meter)
{
  return meter_is_compound(meter) ? 3 * TICKS_PER_EIGHTH : TICKS_PER_QUARTER;
}

unsigned
meter_beats_per_bar(const Meter meter)
{
  return meter_is_compound(meter) ? meter.numerator / 3U : meter.numerator;
}

Tick
meter_bar_ticks(const Meter meter)
{
  return meter_beat_ticks(meter) * (Tick)meter_beats_per_bar(meter);
}

double
meter_bar_seconds(const Meter meter, const double tempo_bpm)
{
  const double quarters = (double)meter_bar_ticks(meter) / TICKS_PER_QUARTER;
  return quarters * 60.0 / tempo_bpm;
}

int
meter_weight(const Meter meter, const Tick tick)
{
  const MeterRow* const row = row_of(meter);
  const Tick            bar = meter_bar_ticks(meter);
  const Tick            at  = tick - tick_floor(tick, bar);
  const Tick            off = at % meter_beat_ticks(meter);
  if (off == 0) {
    return row->beats[at / meter_beat_ticks(meter)];
  }
  const bool is_triplet =
    !meter_is_compound(meter) && off % TICKS_PER_TRIPLET_EIGHTH == 0;
  if (off % TICKS_PER_EIGHTH == 0 || is_triplet) {
    return row->beat_level - 1;
  }
  return off % TICKS_PER_SIXTEENTH == 0 ? row->beat_level - 2
                                        : METER_LOWEST_WEIGHT;
}
