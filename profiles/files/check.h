/// @file profiles/files/check.h Any settings file, looked over.

#ifndef PROFILES_FILES_CHECK_H
#define PROFILES_FILES_CHECK_H

#include "core/attributes.h"
#include "core/settings/faults.h"
#include "core/status.h"

/**
   Look a file over: a chart, a feel, a ladder, a learner, sentences or
   defaults, told by what it holds.

   Beyond what loading it would find, the names in it are looked up: a chart's
   or the defaults' feel is to be there and to fit the meter, their chart to be
   there, a rung to be one.

   @param faults What is wrong is added.
   @return STATUS_OK, or the status of the first fault.
*/
MUST_USE Status
check_file(const char* path, Faults* faults);

#endif // PROFILES_FILES_CHECK_H
