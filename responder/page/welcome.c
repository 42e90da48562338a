#include "responder/page/welcome.h"

#include <stdlib.h>
#include <string.h>

// What is kept, each piece by itself; the table of choices is not, for a chart
// may be put into its folder at any time
static const unsigned pieces[FACE_PIECES] = {
  STATE_FORM,
  STATE_TURNS,
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
