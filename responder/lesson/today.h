/// @file responder/lesson/today.h What time and day it is, here.

#ifndef RESPONDER_LESSON_TODAY_H
#define RESPONDER_LESSON_TODAY_H

#include <stdint.h>

/// Return the day of a moment of Unix time where the player is, days since
/// 1970-01-01.
int32_t
day_at(int64_t ms);

/// Return the day where the player is.
int32_t
today(void);

/// Return the time, milliseconds of Unix time.
int64_t
now_ms(void);

#endif // RESPONDER_LESSON_TODAY_H
