/// @file profiles/exchange/stamp.h When a file was changed.

#ifndef PROFILES_EXCHANGE_STAMP_H
#define PROFILES_EXCHANGE_STAMP_H

#include "core/attributes.h"

#include <stdbool.h>
#include <stdint.h>

/// Return when a file was changed, in microseconds of Unix time; 0 if it is not
/// there.
int64_t
stamp_of(const char* path);

/// Say when a file was changed; false if the system does not let us.
MUST_USE bool
stamp_set(const char* path, int64_t changed_us);

#endif // PROFILES_EXCHANGE_STAMP_H
