/// @file profiles/sheet/task.h The day's task, in words.

#ifndef PROFILES_SHEET_TASK_H
#define PROFILES_SHEET_TASK_H

#include "profiles/ladder/ladder.h"

#include <stddef.h>

enum { TASK_TEXT_CAPACITY = 320 };

/// Write what to do today in one dimension, on the rung there: its words, and a
/// way to practise them that the warm-up has, too; return `text`.
const char*
sheet_task(const Ladder* ladder,
           Rung          rung,
           Dimension     dimension,
           char          text[TASK_TEXT_CAPACITY]);

#endif // PROFILES_SHEET_TASK_H
