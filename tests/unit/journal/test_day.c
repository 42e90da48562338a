#include "profiles/journal/day.h"

#include <criterion/criterion.h>

#include <time.h>

// The C library's own calendar tells day by day, from 1700 to 2300
Test(day, agrees_with_the_system)
{
  for (int32_t day = -98615; day <= 120530; ++day) {
    const time_t seconds = (time_t)day * 86400;
    struct tm    civil;
    cr_assert_not_null(gmtime_r(&seconds, &civil));
    const Date date = day_date(day);
    cr_assert_eq(date.year, civil.tm_year + 1900);
    cr_assert_eq(date.month, (unsigned)civil.tm_mon + 1);
    cr_assert_eq(date.day, (unsigned)civil.tm_mday);
    cr_assert_eq(day_of(date), day);
    // tm_wday: 0 is Sunday
    cr_assert_eq(day - day_monday(day), (civil.tm_wday + 6) % 7);
  }
}

Test(day, is_written_as_iso_8601_says)
{
  char text[DAY_TEXT_CAPACITY];
  cr_assert_str_eq(day_text(0, text), "1970-01-01");
  cr_assert_str_eq(day_text(day_of((Date){2024, 2, 29}), text), "2024-02-29");
}

// ISO 8601; the Gregorian calendar
Test(day, is_read_only_as_it_is_written)
{
  static const char* const none[] = {"",
                                     "2025-11",
                                     "2025-11-5",
                                     "2025-02-29",
                                     "2025-00-10",
                                     "2025-13-01",
                                     "2025-04-31",
                                     "0000-01-01",
                                     "2025-11-25 ",
                                     " 2025-11-25",
                                     "25-11-2025"};
  int32_t                  day    = 7;
  for (unsigned i = 0; i < sizeof(none) / sizeof(*none); ++i) {
    cr_assert_not(day_read(&day, none[i]), "'%s'", none[i]);
    cr_assert_eq(day, 7);
  }
  cr_assert(day_read(&day, "2024-02-29"));
  cr_assert_eq(day, day_of((Date){2024, 2, 29}));
}
