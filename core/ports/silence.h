/// @file core/ports/silence.h Keeping back what RtMidi prints on standard
/// error.
///
/// Its C interface has no function to give its words to. The whole process is
/// silent meanwhile: only around calls that try what may fail.

#ifndef CORE_PORTS_SILENCE_H
#define CORE_PORTS_SILENCE_H

/// Begin; give what it returns to silence_end().
int
silence_begin(void);

/// Let standard error be heard again.
void
silence_end(int kept);

#endif // CORE_PORTS_SILENCE_H
