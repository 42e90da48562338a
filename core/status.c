#include "core/status.h"

const char*
status_text(const Status status)
{
  switch (status) {
    case STATUS_OK:
      return "done";
    case STATUS_RANGE:
      return "out of range";
    case STATUS_SYNTAX:
      return "not well formed";
    case STATUS_FULL:
      return "no room left";
    case STATUS_MISSING:
      return "not found";
    case STATUS_MEMORY:
      return "out of memory";
    case STATUS_SYSTEM:
      return "the system refused";
    case STATUS_STOPPED:
      return "stopped";
  }
  return "unknown status";
}
