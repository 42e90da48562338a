#include "core/music/interval.h"

#include "core/music/text.h"

const char*
interval_text(const Interval interval, char buffer[INTERVAL_TEXT_CAPACITY])
{
  Text text = text_begin(buffer, INTERVAL_TEXT_CAPACITY);
  text_add_accidental(&text,
                      interval.semitones - interval_major(interval.number));
  text_add_number(&text, interval.number);
  return buffer;
}

int
interval_major(const unsigned number)
{
  static const int major_scale[] = {0, 2, 4, 5, 7, 9, 11};
  return major_scale[(number - 1) % 7] + 12 * (int)((number - 1) / 7);
}
