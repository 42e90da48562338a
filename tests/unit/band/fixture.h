/// @file fixture.h Charts and feels for the tests of the band.

#ifndef TESTS_UNIT_BAND_FIXTURE_H
#define TESTS_UNIT_BAND_FIXTURE_H

#include "core/band/band.h"
#include "core/settings/chart_file.h"
#include "core/settings/feel_file.h"

#include <criterion/criterion.h>

#include <stdio.h>

enum { FIXTURE_PATH_MAX = 512 };

static inline Meter
meter_named(const char* const text)
{
  Meter meter = {0, 0};
  cr_assert_eq(meter_parse(&meter, text), STATUS_OK, "%s", text);
  return meter;
}

static inline Key
key_named(const char* const text)
{
  Key key = {{0, 0}, false};
  cr_assert_eq(key_parse(&key, text), STATUS_OK, "%s", text);
  return key;
}

static inline Chord
chord_named(const char* const text)
{
  Chord chord = chord_silence();
  cr_assert_eq(chord_parse(&chord, text, strlen(text)), STATUS_OK, "%s", text);
  return chord;
}

/// Make a chart of bars parted by `|`, as a musician would write it.
static inline void
chart_write(Chart* const      chart,
            const char* const meter,
            const char* const key,
            const char* const bars)
{
  chart_begin(chart, "test", meter_named(meter), key_named(key));
  for (const char* at = bars; *at;) {
    const size_t length = strcspn(at, "|");
    char         bar[64];
    char         fault[CHART_FAULT_CAPACITY];
    cr_assert_lt(length, sizeof(bar));
    memcpy(bar, at, length);
    bar[length] = '\0';
    cr_assert_eq(chart_add_bar(chart, bar, fault), STATUS_OK, "%s", bar);
    at += at[length] ? length + 1 : length;
  }
}

/// Load a chart that is shipped.
static inline void
chart_load(Chart* const chart, const char* const name)
{
  static ChartFile file;
  static Faults    faults;
  char             path[FIXTURE_PATH_MAX];
  (void)snprintf(
    path, sizeof(path), BARTER_SOURCE_DIR "/config/charts/%s.cfg", name);
  cr_assert_eq(chart_file_load(&file, path, &faults), STATUS_OK, "%s", name);
  *chart = file.chart;
}

/// Load a feel that is shipped.
static inline void
feel_load(Feel* const feel, const char* const name)
{
  static Faults faults;
  char          path[FIXTURE_PATH_MAX];
  (void)snprintf(
    path, sizeof(path), BARTER_SOURCE_DIR "/config/feels/%s.cfg", name);
  cr_assert_eq(feel_file_load(feel, path, &faults), STATUS_OK, "%s", name);
}

#endif // TESTS_UNIT_BAND_FIXTURE_H
