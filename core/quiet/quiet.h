/// @file core/quiet/quiet.h What the libraries of the machine's devices do
/// unasked: print, and start servers.

#ifndef CORE_QUIET_QUIET_H
#define CORE_QUIET_QUIET_H

/// Keep JACK and ALSA from printing, and JACK's clients from starting a server;
/// for the whole process, once or often. Before the first call into them, or
/// into a library that calls them.
void
quiet_devices(void);

#endif // CORE_QUIET_QUIET_H
