/// @file responder/lesson/charts.h The charts there are: listed, looked over,
/// kept.

#ifndef RESPONDER_LESSON_CHARTS_H
#define RESPONDER_LESSON_CHARTS_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/settings/chart_file.h"
#include "core/settings/faults.h"
#include "core/settings/places.h"
#include "core/status.h"

/**
   Load a chart by its name or path.

   @param[out] path Where it was found, PLACE_PATH_CAPACITY bytes.
   @return STATUS_OK; else faults are noted.
*/
MUST_USE Status
charts_load(ChartFile* file, const char* name, char* path, Faults* faults);

/**
   Look a chart over that is not a file yet.

   @param text As it would stand in a file.
   @param[out] file Written on success.
   @return STATUS_OK; else faults are noted, with their lines.
*/
MUST_USE Status
charts_check(ChartFile* file, const char* text, Faults* faults);

/**
   Keep a chart among the player's own, whole or not at all: one that is at
   fault is not kept. One of the same name there is replaced; shipped ones stay,
   and the player's own go before them.

   @param name Small letters, digits and `-`.
   @param[out] path Where it was kept, PLACE_PATH_CAPACITY bytes.
   @return STATUS_OK; else faults are noted.
*/
MUST_USE Status
charts_save(const char* name, const char* text, char* path, Faults* faults);

#endif // RESPONDER_LESSON_CHARTS_H
