/// @file responder/lesson/ideas_file.h Developments of a phrase as files to
/// practise with.

#ifndef RESPONDER_LESSON_IDEAS_FILE_H
#define RESPONDER_LESSON_IDEAS_FILE_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/status.h"
#include "core/watch.h"
#include "responder/hear/phrase.h"
#include "responder/ideas/develop.h"
#include "responder/setup/setup.h"

enum { IDEAS_PATH_CAPACITY = 1024 };

/// What is written; it points to what it is made of.
typedef struct {
  const Setup*        setup;
  const Phrase*       phrase;
  const Developments* found;
} IdeasFile;

/// Write the path of the file with all of them; return `path`.
const char*
ideas_file_path(const char* folder, char path[IDEAS_PATH_CAPACITY]);

/**
   Write Standard MIDI Files into a folder, which is made if it is not there:
   `ideas.mid` with the phrase and all its developments over the band, each
   followed by a gap of as many bars to answer in; and each by itself, as
   `idea-01-sequence.mid`.

   @return STATUS_OK; else the status of what failed, with the fault written.
*/
MUST_USE Status
ideas_file_save(const IdeasFile* file, const char* folder, Fault* fault);

/// Render the one with all of them to a WAV file; `watch` may be NULL.
MUST_USE Status
ideas_file_render(const IdeasFile* file,
                  const char*      path,
                  const char*      soundfont,
                  const Watch*     watch,
                  Fault*           fault);

#endif // RESPONDER_LESSON_IDEAS_FILE_H
