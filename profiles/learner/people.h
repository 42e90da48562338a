/// @file profiles/learner/people.h Where people are kept.
///
/// One folder a person, named by the person's ID, in
/// `$XDG_DATA_HOME/barter/learners` (`~/.local/share/barter/learners` without
/// it). Folders are for their owner alone (0700), and so are the files (0600).

#ifndef PROFILES_LEARNER_PEOPLE_H
#define PROFILES_LEARNER_PEOPLE_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/status.h"
#include "profiles/learner/learner.h"

#include <stdbool.h>
#include <stddef.h>

enum {
  PEOPLE_ID_CAPACITY   = 33,
  PEOPLE_PATH_CAPACITY = 1024,
};

/// Who is meant when nobody is named.
#define PEOPLE_USUAL_ID "me"

/// Where a person's things are, or would be.
typedef struct {
  char id[PEOPLE_ID_CAPACITY];
  char folder[PEOPLE_PATH_CAPACITY];
  char settings[PEOPLE_PATH_CAPACITY]; ///< `learner.cfg`
  char journal[PEOPLE_PATH_CAPACITY];  ///< `journal.db`
} Person;

typedef struct {
  size_t n_ids;
  char (*ids)[PEOPLE_ID_CAPACITY]; ///< Rising
} PeopleList;

/// Whether a text can be an ID: 1 to 32 small letters a to z, digits, `-`, `_`
/// or `.`, beginning with a letter or digit. Such a one is a safe name for a
/// folder everywhere.
bool
people_is_id(const char* id);

/**
   Name the places of a person, who need not be there.

   @param[out] person Written on success only.
   @return STATUS_OK; STATUS_RANGE if the ID is none, STATUS_MISSING if no data
   folder is known, with the fault written.
*/
MUST_USE Status
people_place(Person* person, const char* id, Fault* fault);

/// Whether a person's folder is there.
bool
people_is_there(const Person* person);

/**
   Find a person who must be there.

   @param[out] person Written on success only.
   @return As people_place(); STATUS_MISSING, too, if there is no such person,
   with the nearest that there is.
*/
MUST_USE Status
people_find(Person* person, const char* id, Fault* fault);

/**
   List the people there are; none if there is no folder of them yet.

   @param[out] list Written on success; give it to people_list_free().
   @return STATUS_OK, or STATUS_MEMORY, STATUS_MISSING or STATUS_SYSTEM with the
   fault written.
*/
MUST_USE Status
people_list(PeopleList* list, Fault* fault);

void
people_list_free(PeopleList* list);

/**
   Make a person's folder with the settings in it.

   @return STATUS_OK; STATUS_RANGE if the person is there already, STATUS_SYSTEM
   if it cannot be made, and then nothing is there.
*/
MUST_USE Status
people_make(const Person* person, const Learner* learner, Fault* fault);

/**
   Remove all that is kept of a person.

   @return STATUS_OK, or as folder_remove().
*/
MUST_USE Status
people_remove(const Person* person, Fault* fault);

#endif // PROFILES_LEARNER_PEOPLE_H
