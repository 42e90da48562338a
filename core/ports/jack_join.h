/// @file core/ports/jack_join.h How a client of JACK is made; built with JACK
/// only.

#ifndef CORE_PORTS_JACK_JOIN_H
#define CORE_PORTS_JACK_JOIN_H

#include <jack/jack.h>

/**
   Make a client of the server that runs; none is ever started.

   Two clients of one name that come at once, be it to two servers, are in each
   other's way, and either may be refused: it is tried again.

   @return What jack_client_close() takes; NULL if there is no server.
*/
jack_client_t*
jack_join(const char* name);

#endif // CORE_PORTS_JACK_JOIN_H
