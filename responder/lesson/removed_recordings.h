/// @file responder/lesson/removed_recordings.h The recordings of who is
/// removed.
///
/// `ada.recordings`, in the folder of who is removed, names those of one person
/// for as long as they may be there. None goes that is of a session of
/// somebody else, or may be where a journal cannot be read.

#ifndef RESPONDER_LESSON_REMOVED_RECORDINGS_H
#define RESPONDER_LESSON_REMOVED_RECORDINGS_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/settings/places.h"
#include "core/status.h"
#include "profiles/learner/people.h"

#include <stdbool.h>

/// Where lists and exports are kept among our data.
#define REMOVED_FOLDER "removed"

/**
   Name a file in the folder of who is removed.

   @param[out] path Written on success only.
   @return STATUS_OK, or as folder_of_data().
*/
MUST_USE Status
removed_place(char path[PLACE_PATH_CAPACITY], const char* name, Fault* fault);

/// Whether a file of that folder is a list by its name, and whose it is.
bool
removed_is_list(const char* name, char id[PEOPLE_ID_CAPACITY]);

/**
   Add the recordings of a person to the list; the folder is there.

   @return STATUS_OK, or as removed_place() or file_begin().
*/
MUST_USE Status
removed_note_recordings(const Person* person, Fault* fault);

/**
   Remove the recordings of a person who is there.

   @param[in,out] n_recordings Goes up by how many went.
   @return STATUS_OK; else none went, for it cannot be told which are of others.
*/
MUST_USE Status
removed_drop_recordings(const Person* person, unsigned* n_recordings);

/**
   Remove the recordings of the list of an ID, and then the list.

   @param[in,out] n_recordings Goes up by how many went.
   @return STATUS_OK; STATUS_MISSING if there is no list; else as
   removed_drop_recordings(), and the list stays.
*/
MUST_USE Status
removed_drop_listed(const char* id, unsigned* n_recordings);

#endif // RESPONDER_LESSON_REMOVED_RECORDINGS_H
