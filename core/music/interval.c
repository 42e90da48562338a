#include "core/music/interval.h"

int
interval_major(const unsigned number)
{
  static const int major_scale[] = {0, 2, 4, 5, 7, 9, 11};
  return major_scale[(number - 1) % 7] + 12 * (int)((number - 1) / 7);
}
