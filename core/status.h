/// @file core/status.h How a call ended: one enumeration for every room.

#ifndef CORE_STATUS_H
#define CORE_STATUS_H

typedef enum {
  STATUS_OK = 0,
  STATUS_RANGE,   ///< A value lies outside what is allowed
  STATUS_SYNTAX,  ///< A text or file does not follow its grammar
  STATUS_FULL,    ///< A fixed capacity is used up
  STATUS_MISSING, ///< The thing asked for does not exist
  STATUS_MEMORY,  ///< The system gave no memory
  STATUS_SYSTEM,  ///< A file or device failed
  STATUS_STOPPED, ///< Whoever looked on stopped it
} Status;

/// Return a status in plain English; never NULL.
const char*
status_text(Status status);

#endif // CORE_STATUS_H
