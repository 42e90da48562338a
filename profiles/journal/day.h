/// @file profiles/journal/day.h Days of the calendar as numbers.
///
/// Day 0 is 1970-01-01, in the Gregorian calendar, before and after. What day
/// it is, only the program knows: rooms are told.

#ifndef PROFILES_JOURNAL_DAY_H
#define PROFILES_JOURNAL_DAY_H

#include <stdbool.h>
#include <stdint.h>

enum { DAY_TEXT_CAPACITY = 16, DAYS_PER_WEEK = 7 };

typedef struct {
  int      year;  ///< 1..9999
  unsigned month; ///< 1..12
  unsigned day;   ///< 1..31
} Date;

/// Return the day of a date.
int32_t
day_of(Date date);

/// Return the date of a day.
Date
day_date(int32_t day);

/// Return the Monday on or before a day.
int32_t
day_monday(int32_t day);

/// Write `2025-11-25` (ISO 8601); return `text`.
const char*
day_text(int32_t day, char text[DAY_TEXT_CAPACITY]);

/// Read what day_text() writes, and nothing else; false if it is no day.
bool
day_read(int32_t* day, const char* text);

#endif // PROFILES_JOURNAL_DAY_H
