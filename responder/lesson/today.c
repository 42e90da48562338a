#include "responder/lesson/today.h"

#include "profiles/journal/day.h"

#include <time.h>

int32_t
day_at(const int64_t ms)
{
  const time_t then = (time_t)(ms / 1000);
  struct tm    here;
  if (!localtime_r(&then, &here)) {
    return (int32_t)(then / 86400);
  }
  return day_of((Date){
    here.tm_year + 1900, (unsigned)here.tm_mon + 1, (unsigned)here.tm_mday});
}

int64_t
now_ms(void)
{
  struct timespec now = {0, 0};
  (void)clock_gettime(CLOCK_REALTIME, &now);
  return (int64_t)now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

int32_t
today(void)
{
  return day_at(now_ms());
}
