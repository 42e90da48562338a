/// @file core/files/hush.h Keeping back what libraries print on standard error.
///
/// For the time of a call into a library that talks to itself. The whole
/// process is silent meanwhile: keep it short.

#ifndef CORE_FILES_HUSH_H
#define CORE_FILES_HUSH_H

/// Begin; give what it returns to hush_end().
int
hush_begin(void);

/// Let standard error be heard again.
void
hush_end(int kept);

#endif // CORE_FILES_HUSH_H
