/// @file core/settings/settings.h A file of settings, read and checked.
///
/// The files are libconfig text; only settings.c knows it. Whatever is wrong
/// with a file is noted in its list of faults with the line and what would be
/// right, and reading goes on, so that one look finds all there is; whether
/// there was any, settings_status() says in the end. Values are got by value.h.
///
/// Memory: settings_open() and settings_read() take it, settings_close() gives
/// it back; a Setting and its texts live as long as their Settings.

#ifndef CORE_SETTINGS_SETTINGS_H
#define CORE_SETTINGS_SETTINGS_H

#include "core/attributes.h"
#include "core/settings/faults.h"
#include "core/status.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum {
  SETTINGS_SIZE_MAX = 64 * 1024 ///< Bytes: libconfig's time is quadratic
};

/// A file that has been read.
typedef struct Settings Settings;

typedef enum {
  SETTING_ABSENT,
  SETTING_GROUP,
  SETTING_LIST, ///< In round or square brackets
  SETTING_NUMBER,
  SETTING_TEXT,
  SETTING_BOOL,
} SettingKind;

/// One setting: a group, a list or a value; a plain value itself.
typedef struct {
  Settings* settings;
  void*     node; ///< NULL if absent
} Setting;

/**
   Read a file.

   @param[out] settings Written on success only.
   @param faults Kept by address and filled as long as the settings are open.
   @return STATUS_OK; STATUS_MISSING if there is no such file, STATUS_RANGE if
   it is a folder, STATUS_SYSTEM if it cannot be read, STATUS_FULL if it is over
   SETTINGS_SIZE_MAX, STATUS_SYNTAX, or STATUS_MEMORY, all with a fault noted.
*/
MUST_USE Status
settings_open(Settings** settings, const char* path, Faults* faults);

/**
   Read `length` bytes of text as settings_open() reads a file.

   @param name Stands for the file in faults; kept by address.
*/
MUST_USE Status
settings_read(Settings**  settings,
              const char* name,
              const char* text,
              size_t      length,
              Faults*     faults);

/// Close; NULL does nothing.
void
settings_close(Settings* settings);

/// Return the name it was opened by.
const char*
settings_file(const Settings* settings);

/// Return a sum of the bytes of the file: enough to see that it has changed.
uint64_t
settings_sum(const Settings* settings);

/// Return the group that holds all others.
Setting
settings_top(Settings* settings);

/// Return STATUS_OK, or the status of a fault noted since the file was opened.
MUST_USE Status
settings_status(const Settings* settings);

SettingKind
setting_kind(Setting setting);

/// Return its name; that of the list, if it is an element of one. Not NULL.
const char*
setting_name(Setting setting);

/// Return its line, 0 if it is absent.
unsigned
setting_line(Setting setting);

/// Return a member of a group; absent if there is none, or `group` is none.
Setting
setting_find(Setting group, const char* name);

/// Return how many members a group or elements a list has, 0 for others.
unsigned
setting_length(Setting setting);

/// Return a member of a group or an element of a list.
/// @param index Below setting_length().
Setting
setting_at(Setting setting, unsigned index);

/// Note a fault on the line of a setting that is there: what is wrong; what
/// would be right.
__attribute__((format(printf, 2, 3))) void
setting_fault(Setting setting, const char* format, ...);

/// Return a SETTING_NUMBER as it stands; may be infinite. value.h checks it.
double
setting_raw_number(Setting setting);

/// Return a SETTING_BOOL as it stands.
bool
setting_raw_bool(Setting setting);

/// Return a SETTING_TEXT as it stands; may be no UTF-8. value.h checks it.
const char*
setting_raw_text(Setting setting);

#endif // CORE_SETTINGS_SETTINGS_H
