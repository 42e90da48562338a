/// @file core/settings/places.h Where charts, feels and settings are found.
///
/// What a person wrote comes before what is shipped: first
/// `$XDG_CONFIG_HOME/barter` (`~/.config/barter` without it), then the shipped
/// folder (shipped.h). Each has the folders `charts` and `feels`, and
/// `ladder.cfg` and `barter.cfg`.

#ifndef CORE_SETTINGS_PLACES_H
#define CORE_SETTINGS_PLACES_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/status.h"

#include <stdbool.h>
#include <stddef.h>

enum {
  PLACE_NAME_CAPACITY = 64,
  PLACE_PATH_CAPACITY = 1024,
};

typedef enum { PLACE_CHARTS, PLACE_FEELS } PlaceKind;

/// A file that can be asked for by its name.
typedef struct {
  char name[PLACE_NAME_CAPACITY]; ///< Without `.cfg`
  bool is_own;                    ///< The person's, not shipped
} PlaceEntry;

typedef struct {
  size_t      n_entries;
  PlaceEntry* entries; ///< Rising by name, each name once
} PlaceList;

/// Write the name of a file as it is asked for: its last part, without `.cfg`;
/// cut if it is too long. Return `name`.
const char*
place_name(const char* path, char name[PLACE_NAME_CAPACITY]);

/**
   List all charts or feels that can be asked for by name.

   Folders that are not there hold none; names that are too long are left out.

   @param[out] list Written on success; release it with place_list_free().
   @return STATUS_OK, or STATUS_MEMORY.
*/
MUST_USE Status
place_list(PlaceKind kind, PlaceList* list);

void
place_list_free(PlaceList* list);

/**
   Find a chart or feel by its name or path.

   What has a `/` in it or ends in `.cfg` is a path and is taken as it is. All
   else is a name, and a path only if it is no name and there is such a file.

   @param[out] path Written on success only.
   @param[out] fault Written on failure, with the nearest name there is.
   @return STATUS_OK, or STATUS_MISSING if there is no such name; a path is not
   looked up.
*/
MUST_USE Status
place_find(PlaceKind   kind,
           const char* name,
           char        path[PLACE_PATH_CAPACITY],
           Fault*      fault);

/**
   Find `ladder.cfg` or `barter.cfg`: the person's own, else the shipped one.

   @param[out] path Written on success only.
   @return STATUS_OK, or STATUS_MISSING with the fault written.
*/
MUST_USE Status
place_find_file(const char* name, char path[PLACE_PATH_CAPACITY], Fault* fault);

/// Write the path that a settings file of the person's own would have; empty if
/// no folder of theirs is known.
void
place_own_file(const char* name, char path[PLACE_PATH_CAPACITY]);

#endif // CORE_SETTINGS_PLACES_H
