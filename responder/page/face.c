#include "responder/page/face.h"

#include "responder/page/state.h"
#include "responder/page/welcome.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static char*
text_of(json_t* const message, size_t* const size)
{
  char* const text = message ? json_dumps(message, FACE_JSON) : NULL;
  json_decref(message);
  *size = text ? strlen(text) : 0;
  return text;
}

void
face_send(Page* const page, const unsigned client, json_t* const message)
{
  size_t      size = 0;
  char* const text = text_of(message, &size);
  if (text && page->guests[client].is_open) {
    server_send(page->server, client, text, size);
  }
  free(text);
}

void
face_tell(Page* const page, json_t* const message)
{
  size_t      size = 0;
  char* const text = text_of(message, &size);
  for (unsigned i = 0; text && i < SERVER_CLIENTS; ++i) {
    if (page->guests[i].is_open) {
      server_send(page->server, i, text, size);
    }
  }
  free(text);
}

void
face_say(Page* const page, const char* const kind, const char* const text)
{
  if (text[0]) {
    face_tell(
      page,
      json_pack("{ss ss ss}", "tell", "says", "kind", kind, "text", text));
  }
}

json_t*
face_state(const Page* const page, const unsigned client, const unsigned parts)
{
  return json_pack(
    "{ss so}", "tell", "state", "set", state_of(page, client, parts));
}

void
face_tell_state(Page* const page, const unsigned parts)
{
  welcome_forget(page, parts);
  for (unsigned i = 0; i < SERVER_CLIENTS; ++i) {
    if (page->guests[i].is_open) {
      face_send(page, i, face_state(page, i, parts));
    }
  }
}

static json_t*
fault_json(const WireCall* const call)
{
  char text[FAULT_TEXT_CAPACITY];
  return json_pack("{ss ss?}",
                   "text",
                   fault_text(&call->fault, text, sizeof(text)),
                   "field",
                   call->field);
}

void
face_answer(Page* const page, const WireCall* const call, json_t* const answer)
{
  if (page->guests[call->client].came_ns != call->visit) {
    json_decref(answer); // Who asked has gone
    return;
  }
  face_send(page,
            call->client,
            json_pack("{sI so}",
                      "n",
                      (json_int_t)call->n,
                      answer ? "answer" : "fault",
                      answer ? answer : fault_json(call)));
}

json_t*
face_refuse(WireCall* const   call,
            const char* const field,
            const char* const format,
            ...)
{
  char    words[sizeof(call->fault.text)];
  va_list args;
  va_start(args, format);
  (void)vsnprintf(words, sizeof(words), format, args);
  va_end(args);
  call->field = field;
  (void)fault_say(&call->fault, STATUS_RANGE, "%s", words);
  return NULL;
}

json_t*
face_refuse_all(WireCall* const     call,
                const char* const   field,
                const Faults* const faults)
{
  call->field = field;
  call->fault = faults->faults[0];
  return NULL;
}

SessionOptions
face_session(const Page* const page)
{
  return page->is_begun ? *page->live.session : setup_session(&page->next);
}

bool
face_is_name(const Choice choice, const char* const text, Fault* const fault)
{
  static const char ending[]  = ".cfg";
  const size_t      n         = strlen(text);
  const bool        is_a_file = choice == CHOICE_CHART || choice == CHOICE_FEEL;
  const bool        is_path =
    strchr(text, '/') ||
    (n >= strlen(ending) && strcmp(text + n - strlen(ending), ending) == 0);
  if (is_a_file && is_path) {
    (void)fault_say(fault,
                    STATUS_RANGE,
                    "%.60s is no name; choose among those that there are",
                    text);
    return false;
  }
  return true;
}
