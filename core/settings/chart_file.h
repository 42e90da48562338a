/// @file core/settings/chart_file.h Charts as files.
///
/// A chart file says `title`, `meter`, `key`, `scale` and `bars`; `tempo` and
/// `feel` are what it suggests, and may be left out. `scale` is one for all
/// bars or a list of one per bar, in the words of chart_set_scale().

#ifndef CORE_SETTINGS_CHART_FILE_H
#define CORE_SETTINGS_CHART_FILE_H

#include "core/attributes.h"
#include "core/band/feel.h"
#include "core/music/chart.h"
#include "core/settings/faults.h"
#include "core/settings/settings.h"
#include "core/status.h"

/// Tempos that may be asked for, quarters a minute.
enum {
  TEMPO_LEAST_BPM = 30,
  TEMPO_MOST_BPM  = 320,
};

/// A chart and what it suggests; as large as a Chart.
typedef struct {
  Chart  chart;
  double tempo_bpm;                ///< Quarters a minute; 0 if it suggests none
  char   feel[FEEL_NAME_CAPACITY]; ///< A name; empty if it suggests none
} ChartFile;

/**
   Read a chart from settings that are open.

   @param[out] chart Of use on success only.
   @return STATUS_OK, or STATUS_SYNTAX with the faults noted.
*/
MUST_USE Status
chart_file_read(ChartFile* chart, Settings* settings);

/**
   Load a chart from a file.

   @param[out] chart Of use on success only.
   @return STATUS_OK, or what settings_open() or chart_file_read() returned.
*/
MUST_USE Status
chart_file_load(ChartFile* chart, const char* path, Faults* faults);

#endif // CORE_SETTINGS_CHART_FILE_H
