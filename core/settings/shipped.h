/// @file core/settings/shipped.h The folder of what comes with the program.

#ifndef CORE_SETTINGS_SHIPPED_H
#define CORE_SETTINGS_SHIPPED_H

#include <stddef.h>

/**
   Write the folder of the charts, feels and settings that are shipped.

   It is `$BARTER_CONFIG` if that is set; else the one beside the running
   program, where installing puts it; else `barter` in the first of
   `$XDG_DATA_DIRS` (`/usr/local/share:/usr/share` without it) that has one. If
   there is none of these, that beside the program, which is then missed.
*/
void
shipped_folder(char* folder, size_t size);

#endif // CORE_SETTINGS_SHIPPED_H
