/// @file core/files/folder.h Folders that only their owner may look into.

#ifndef CORE_FILES_FOLDER_H
#define CORE_FILES_FOLDER_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/files/file.h"
#include "core/status.h"

#include <stdbool.h>

/// Whether there is a folder of this path.
bool
folder_is_there(const char* path);

/**
   Make a folder, and those above it that are missing, all for their owner
   alone (0700). One that is there is left as it is.

   @return STATUS_OK, or STATUS_SYSTEM with the fault written.
*/
MUST_USE Status
folder_make(const char* path, Fault* fault);

/**
   Make a folder that must not be there yet; the one above it must.

   @return STATUS_OK; STATUS_RANGE if it is there, STATUS_SYSTEM if it cannot be
   made, with the fault written.
*/
MUST_USE Status
folder_claim(const char* path, Fault* fault);

/**
   Remove a folder with all that is in it. Links in it are removed, not what
   they point to; a path that is itself a link is refused.

   @return STATUS_OK; STATUS_MISSING if there is none, STATUS_RANGE if it is a
   link, STATUS_SYSTEM if something would not go, with the fault written.
*/
MUST_USE Status
folder_remove(const char* path, Fault* fault);

/**
   Return the path of one of our folders of data, whether it is there or not
   (XDG Base Directory Specification 0.8: a relative path is to be ignored).

   @param name The last part of it.
   @param[out] path Written on success only.
   @return STATUS_OK; STATUS_MISSING if the environment names no place,
   STATUS_RANGE if the path is too long, with the fault written.
*/
MUST_USE Status
folder_of_data(const char* name, char path[FILE_PATH_CAPACITY], Fault* fault);

#endif // CORE_FILES_FOLDER_H
