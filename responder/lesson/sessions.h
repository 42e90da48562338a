/// @file responder/lesson/sessions.h The recordings that live sessions leave.

#ifndef RESPONDER_LESSON_SESSIONS_H
#define RESPONDER_LESSON_SESSIONS_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/settings/places.h"
#include "core/status.h"
#include "responder/lesson/who.h"
#include "responder/setup/setup.h"

/// A recording and what it was made of.
typedef struct {
  char    path[PLACE_PATH_CAPACITY];
  Choices choices;
  Tick    bar_one; ///< As recorded_choices() has it
} SessionFound;

/// Where recordings are kept among our data, unless --record says otherwise.
#define SESSIONS_FOLDER "sessions"

enum { SESSIONS_NAME_CAPACITY = 64 };

/// Recordings by name, the latest first; owned: free(names).
typedef struct {
  size_t n;
  size_t capacity;
  char (*names)[SESSIONS_NAME_CAPACITY];
} SessionNames;

/// List the recordings of a folder; STATUS_OK or STATUS_MEMORY, with nothing
/// to free.
MUST_USE Status
sessions_list(SessionNames* names, const char* folder);

/**
   Write the path of a recording of a folder.

   @param name As sessions_list() has it; nothing else names one.
   @return STATUS_OK; STATUS_MISSING with the fault written.
*/
MUST_USE Status
sessions_path(const char* folder,
              const char* name,
              char        path[PLACE_PATH_CAPACITY],
              Fault*      fault);

/**
   Find the latest recording of trading; of a learner with a journal, the latest
   that the journal knows.

   Recordings that cannot be read are passed over.

   @param[out] found Written on success only.
   @return STATUS_OK; STATUS_MISSING, with no fault, if there is none;
   STATUS_MEMORY with the fault written.
*/
MUST_USE Status
sessions_latest(SessionFound* found, const Who* who, Fault* fault);

#endif // RESPONDER_LESSON_SESSIONS_H
