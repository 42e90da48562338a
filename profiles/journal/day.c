#include "profiles/journal/day.h"

#include <stdio.h>
#include <string.h>

// The year begins in March here, so that the leap day is its last; eras of 400
// years are all alike (146097 days)

enum {
  DAYS_PER_ERA      = 146097,
  YEARS_PER_ERA     = 400,
  MARCH_OF_YEAR_0   = 719468, ///< Days from 0000-03-01 to 1970-01-01
  THURSDAY          = 3,      ///< Of day 0, after Monday
  MARCH             = 3,
  MONTHS_FROM_MARCH = 10, ///< ... to January
  DAYS_PER_5_MONTHS = 153,
};

static int32_t
floor_div(const int32_t a, const int32_t b)
{
  return a / b - (a % b < 0);
}

int32_t
day_of(const Date date)
{
  const int32_t year       = date.year - (date.month < MARCH);
  const int32_t era        = floor_div(year, YEARS_PER_ERA);
  const int32_t of_era     = year - era * YEARS_PER_ERA;
  const int32_t from_march = (int32_t)(date.month + 9) % 12;
  const int32_t day_of_year =
    (DAYS_PER_5_MONTHS * from_march + 2) / 5 + (int32_t)date.day - 1;
  const int32_t day_of_era =
    of_era * 365 + of_era / 4 - of_era / 100 + day_of_year;
  return era * DAYS_PER_ERA + day_of_era - MARCH_OF_YEAR_0;
}

Date
day_date(const int32_t day)
{
  const int32_t shifted = day + MARCH_OF_YEAR_0;
  const int32_t era     = floor_div(shifted, DAYS_PER_ERA);
  const int32_t of_era  = shifted - era * DAYS_PER_ERA;
  const int32_t year =
    (of_era - of_era / 1460 + of_era / 36524 - of_era / 146096) / 365;
  const int32_t of_year = of_era - (365 * year + year / 4 - year / 100);
  const int32_t month   = (5 * of_year + 2) / DAYS_PER_5_MONTHS;
  const int32_t day_of_month =
    of_year - (DAYS_PER_5_MONTHS * month + 2) / 5 + 1;
  const bool is_next_year = month >= MONTHS_FROM_MARCH;
  return (Date){
    era * YEARS_PER_ERA + year + is_next_year,
    (unsigned)(is_next_year ? month - 9 : month + MARCH),
    (unsigned)day_of_month,
  };
}

int32_t
day_monday(const int32_t day)
{
  const int32_t from_monday = day + THURSDAY;
  return floor_div(from_monday, DAYS_PER_WEEK) * DAYS_PER_WEEK - THURSDAY;
}

const char*
day_text(const int32_t day, char text[DAY_TEXT_CAPACITY])
{
  const Date date = day_date(day);
  (void)snprintf(text,
                 DAY_TEXT_CAPACITY,
                 "%04d-%02u-%02u",
                 date.year,
                 date.month % 100,
                 date.day % 100);
  return text;
}

bool
day_read(int32_t* const day, const char* const text)
{
  Date date = {0, 0, 0};
  char again[DAY_TEXT_CAPACITY];
  if (sscanf(text, "%4d-%2u-%2u", &date.year, &date.month, &date.day) != 3 ||
      date.year < 1 || date.month < 1 || date.month > 12) {
    return false;
  }
  const int32_t read = day_of(date);
  if (strcmp(day_text(read, again), text) != 0) {
    return false; // No day of that month, or something behind it
  }
  *day = read;
  return true;
}
