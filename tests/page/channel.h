// A client of the page's channel by plain sockets, after RFC 6455: it can say
// what no browser would.

#ifndef TESTS_PAGE_CHANNEL_H
#define TESTS_PAGE_CHANNEL_H

#include <jansson.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

typedef struct {
  int            file; // -1: closed
  unsigned       n;    // Of the last request
  unsigned char* bytes;
  size_t         n_bytes;
  unsigned       closed_as; // The code that it was closed with; 0: none
  char           head[2048];
} Channel;

// How to knock; what is NULL is right, what is empty is left out
typedef struct {
  const char* host;
  const char* origin;
  const char* protocol;
  const char* path;
} Knock;

// Connect to 127.0.0.1; -1 on failure
int
channel_connect(unsigned port);

// Send bytes as they are, and return what comes until the other end closes or
// the head of an answer is whole
void
channel_ask_plainly(unsigned port, const char* request, char answer[2048]);

// Whether the channel was opened
bool
channel_open(Channel* channel, unsigned port, const Knock* knock);

void
channel_close(Channel* channel);

// Send one frame, masked; false if the other end is gone
bool
channel_send(Channel* channel, unsigned opcode, const void* bytes, size_t size);

bool
channel_say(Channel* channel, const char* text);

// The next message, owned by the caller; NULL if none comes within so long, or
// the channel was closed
json_t*
channel_hear(Channel* channel, unsigned ms);

// Ask, and pass over what else is told until the answer comes; the whole
// answer, owned by the caller. `fields` is taken over, and may be NULL
json_t*
channel_ask(Channel* channel, const char* what, json_t* fields);

// Pass over everything until an event of this name; owned by the caller
json_t*
channel_wait_for(Channel* channel, const char* tell, unsigned ms);

#endif // TESTS_PAGE_CHANNEL_H
