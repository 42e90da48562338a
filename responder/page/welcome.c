#include "responder/page/welcome.h"

#include "responder/page/state.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

// What is kept, each piece by itself; the table of choices is not, for a chart
// may be put into its folder at any time
static const unsigned pieces[FACE_PIECES] = {
  STATE_FORM,
  STATE_TURNS,
};

static const char head[] = "{\"tell\":\"state\",\"set\":{";
static const char tail[] = "}}";

static char*
text_of(const Page* const page, const unsigned client, const unsigned parts)
{
  json_t* const state = state_of(page, client, parts);
  char* const   text  = json_dumps(state, FACE_JSON);
  json_decref(state);
  return text;
}

// An object's members, without its braces
static char*
add(char* const to, const char* const object)
{
  const size_t n = strlen(object) - 2;
  memcpy(to, object + 1, n);
  return to + n;
}

static void
send_joined(Page* const page, const unsigned client, const char* const first)
{
  size_t size = sizeof(head) + sizeof(tail) + strlen(first);
  for (unsigned i = 0; i < FACE_PIECES; ++i) {
    size += strlen(page->pieces[i]) + 1;
  }
  char* const text = malloc(size);
  if (text) {
    char* at = text + sizeof(head) - 1;
    memcpy(text, head, sizeof(head));
    at = add(at, first);
    for (unsigned i = 0; i < FACE_PIECES; ++i) {
      *at++ = ',';
      at    = add(at, page->pieces[i]);
    }
    memcpy(at, tail, sizeof(tail));
    server_send(page->server, client, text, strlen(text));
  }
  free(text);
}

void
welcome_send(Page* const page, const unsigned client)
{
  unsigned others   = STATE_ALL;
  bool     is_whole = true;
  for (unsigned i = 0; i < FACE_PIECES; ++i) {
    others &= ~pieces[i];
    if (!page->pieces[i]) {
      page->pieces[i] = text_of(page, client, pieces[i]);
    }
    is_whole = is_whole && page->pieces[i];
  }
  char* const first = text_of(page, client, others);
  if (first && is_whole) {
    send_joined(page, client, first);
  }
  free(first);
}

void
welcome_forget(Page* const page, const unsigned parts)
{
  for (unsigned i = 0; i < FACE_PIECES; ++i) {
    if (parts & pieces[i]) {
      free(page->pieces[i]);
      page->pieces[i] = NULL;
    }
  }
}
