#include "responder/page/welcome.h"

#include <stdlib.h>
#include <string.h>

// What is kept, each piece by itself, and first what was played, over a form of
// its own; the table of choices is not, for a chart may be put into its folder
// at any time
static const unsigned pieces[FACE_PIECES] = {
  STATE_TURNS,
  STATE_FORM,
};

static void
send_piece(Page* const page, const unsigned client, const unsigned i)
{
  char** const text = &page->pieces[i];
  if (!*text) {
    json_t* const message = face_state(page, client, pieces[i]);
    *text                 = json_dumps(message, FACE_JSON);
    json_decref(message);
  }
  if (*text) {
    server_send(page->server, client, *text, strlen(*text));
  }
}

void
welcome_send(Page* const page, const unsigned client)
{
  unsigned others = STATE_ALL;
  for (unsigned i = 0; i < FACE_PIECES; ++i) {
    send_piece(page, client, i);
    others &= ~pieces[i];
  }
  face_send(page, client, face_state(page, client, others));
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

void
welcome_clear_turns(Page* const page)
{
  ++page->n_cleared; // A staff that is still being drawn is of no use
  (void)json_array_clear(page->turns);
  (void)json_object_clear(page->staves);
  json_decref(page->over);
  page->over = NULL;
  welcome_forget(page, STATE_TURNS);
}
