#include "core/settings/chart_file.h"

#include "core/settings/nearest.h"
#include "core/settings/value.h"

#include <stdio.h>
#include <string.h>

/// Longest text of a bar or scale that a fault shows.
enum { TEXT_MAX = 80, SCALE_KIND_MAX = 64 };

/// Read the meter; false if it is missing or wrong.
static bool
read_meter(const Setting top, Meter* const meter)
{
  const Setting     setting = value_need(top, "meter", "meter = \"4/4\";");
  const char* const text    = value_text(setting, TEXT_MAX);
  if (!text) {
    return false;
  }
  if (meter_parse(meter, text) != STATUS_OK) {
    setting_fault(setting,
                  "meter \"%s\" is not known; write 2/4, 3/4, 4/4, 5/4, 6/8 or "
                  "12/8",
                  text);
    return false;
  }
  return true;
}

static Key
read_key(const Setting top)
{
  Key               key     = {0};
  const Setting     setting = value_need(top, "key", "key = \"C major\";");
  const char* const text    = value_text(setting, TEXT_MAX);
  if (text && key_parse(&key, text) != STATUS_OK) {
    setting_fault(setting,
                  "key \"%s\" is not known; write a note and major or minor, "
                  "as Eb major",
                  text);
  }
  return key;
}

static void
read_bar(Chart* const chart, const Setting setting)
{
  char              fault[CHART_FAULT_CAPACITY];
  const char* const text   = value_text(setting, TEXT_MAX);
  Status            status = STATUS_SYNTAX;
  if (text) {
    status = chart_add_bar(chart, text, fault);
    if (status != STATUS_OK) {
      setting_fault(setting, "bar %u: %s", chart->n_bars + 1, fault);
    }
  }
  if (status != STATUS_OK) { // Go on, and keep counting
    status = chart_add_bar(chart, "N.C.", fault);
  }
}

static void
read_bars(Chart* const chart, const Setting bars)
{
  const unsigned n_bars = value_count(bars, 1, CHART_BAR_CAPACITY);
  for (unsigned i = 0; i < n_bars; ++i) {
    read_bar(chart, setting_at(bars, i));
  }
}

/// Return the kind of scale that a text means, or NULL.
static const char*
nearest_scale(const char* const text)
{
  const char* names[SCALE_KIND_MAX];
  size_t      n_names = 0;
  names[n_names++]    = "by chord";
  for (unsigned i = 0; i < scale_kinds() && n_names < SCALE_KIND_MAX; ++i) {
    names[n_names++] = scale_kind_name(i);
  }

  Spelling     tonic;
  const size_t length = spelling_parse(&tonic, text);
  const char*  kind =
    length > 0 && text[length] == ' ' ? text + length + 1 : text;
  return nearest_word(kind, names, n_names);
}

/// Set the scale of one bar, or of all (CHART_BAR_CAPACITY).
static void
read_scale(Chart* const chart, const unsigned bar, const Setting setting)
{
  const char* const text = value_text(setting, TEXT_MAX);
  if (!text || chart_set_scale(chart, bar, text) == STATUS_OK) {
    return;
  }
  const char* const meant = nearest_scale(text);
  setting_fault(
    setting,
    "scale \"%s\" is not known; write %s",
    text,
    meant ? meant
          : "minor blues, D dorian or by chord; barter charts lists all");
}

static void
read_scales(Chart* const chart, const Setting setting)
{
  if (setting_kind(setting) != SETTING_LIST) {
    read_scale(chart, CHART_BAR_CAPACITY, setting);
    return;
  }

  const unsigned n_scales = setting_length(setting);
  if (n_scales != chart->n_bars) {
    setting_fault(setting,
                  "there are %u scales for %u bars; write one per bar, or one "
                  "without brackets for all",
                  n_scales,
                  chart->n_bars);
    return;
  }
  for (unsigned i = 0; i < n_scales; ++i) {
    read_scale(chart, i, setting_at(setting, i));
  }
}

Status
chart_file_read(ChartFile* const chart, Settings* const settings)
{
  static const char* const names[] = {
    "title", "meter", "key", "scale", "bars", "tempo", "feel"};
  const Setting top = settings_top(settings);
  value_allow(top, names, sizeof(names) / sizeof(*names));

  char title[CHART_TITLE_CAPACITY] = "";
  value_copy(
    value_need(top, "title", "title = \"My chart\";"), title, sizeof(title));
  Meter         meter     = {4, 4};
  const bool    has_meter = read_meter(top, &meter);
  const Key     key       = read_key(top);
  const Setting bars = value_need(top, "bars", "bars = [ \"I7\", \"IV7\" ];");
  const Setting scale =
    value_need(top, "scale", "scale = \"minor blues\"; or \"by chord\"");

  chart_begin(&chart->chart, title, meter, key);
  if (has_meter) { // Else every bar would be too long or too short
    read_bars(&chart->chart, bars);
    read_scales(&chart->chart, scale);
  }
  chart->tempo_bpm = value_number(
    setting_find(top, "tempo"), TEMPO_LEAST_BPM, TEMPO_MOST_BPM, 0.0);
  chart->feel[0] = '\0';
  value_copy(setting_find(top, "feel"), chart->feel, sizeof(chart->feel));
  return settings_status(settings);
}

Status
chart_file_load(ChartFile* const  chart,
                const char* const path,
                Faults* const     faults)
{
  Settings* settings = NULL;
  Status    status   = settings_open(&settings, path, faults);
  if (status == STATUS_OK) {
    status = chart_file_read(chart, settings);
    settings_close(settings);
  }
  return status;
}
