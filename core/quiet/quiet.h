/// @file core/quiet/quiet.h What the libraries of the machine's devices do
/// unasked: print, and start servers.

#ifndef CORE_QUIET_QUIET_H
#define CORE_QUIET_QUIET_H

/// Keep JACK and ALSA from printing, and JACK's clients from starting a server;
/// for the whole process, once or often. Before the first call into them, or
/// into a library that calls them.
void
quiet_devices(void);

/// Keep all of the process from standard error: for words of RtMidi, whose C
/// interface has no function to give them to. Only around calls that try what
/// may fail; give what it returns to quiet_end().
int
quiet_begin(void);

/// Let standard error be heard again.
void
quiet_end(int kept);

#endif // CORE_QUIET_QUIET_H
