#include "core/notation/value.h"

static const Moment SHORTEST = MOMENTS_PER_QUARTER / 16;

Moment
value_length(const Value value)
{
  const Moment plain = SHORTEST << value.type;
  return value.dots ? plain + plain / 2 : plain;
}

bool
value_find(Value* const value, const Moment length)
{
  for (unsigned type = VALUE_64TH; type <= VALUE_WHOLE; ++type) {
    for (unsigned dots = 0; dots <= 1; ++dots) {
      const Value found = {(uint8_t)type, (uint8_t)dots};
      // Half of the shortest is written nowhere, so it takes no dot
      if (value_length(found) == length && !(dots && type == VALUE_64TH)) {
        *value = found;
        return true;
      }
    }
  }
  return false;
}
