#include "responder/page/page.h"

#include "core/time/monotonic.h"
#include "core/time/realtime.h"
#include "profiles/choices/choices_file.h"
#include "responder/page/beacon.h"
#include "responder/page/choosing.h"
#include "responder/page/devices.h"
#include "responder/page/drop.h"
#include "responder/page/face.h"
#include "responder/page/hear.h"
#include "responder/page/keys.h"
#include "responder/page/look_back.h"
#include "responder/page/play.h"
#include "responder/page/requests.h"
#include "responder/page/warm_up.h"
#include "responder/page/welcome.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/random.h>

enum {
  LOOK_MS   = 4,   ///< While a session is played
  LOOK_IDLE = 100, ///< ... and between
  LEAVE_MS  = 500,
  KEY_BYTES = 16,
  KNOCK_NS  = 5,  ///< Seconds to show the key
  GRACE_NS  = 10, ///< ... that the last page may be away
};

// Guests

static void
came(void* const context, const unsigned client)
{
  Page* const page = context;
  page->guests[client] =
    (Guest){.is_there = true, .came_ns = monotonic_ns(), .n = -1};
}

static void
give_place_to_another(Page* const page)
{
  keys_release(page);
  page->player = FACE_NOBODY;
  for (unsigned i = 0; i < SERVER_CLIENTS; ++i) {
    if (page->guests[i].is_open && page->player == FACE_NOBODY) {
      page->player = i;
    }
  }
  page->empty_ns = page->player == FACE_NOBODY ? monotonic_ns() : 0;
}

static void
left(void* const context, const unsigned client)
{
  Page* const page     = context;
  const bool  was_open = page->guests[client].is_open;
  page->guests[client] = (Guest){.is_there = false};
  if (client == page->player) {
    give_place_to_another(page);
  }
  if (was_open && !page->ends) {
    face_tell_state(page, STATE_ME);
  }
}

static void
drop(Page* const page, const unsigned client, const char* const why)
{
  json_t* const message = json_pack("{ss ss}", "tell", "close", "why", why);
  char* const   text    = message ? json_dumps(message, JSON_COMPACT) : NULL;
  if (text) {
    server_send(page->server, client, text, strlen(text));
  }
  free(text);
  json_decref(message);
  server_drop(page->server, client, why);
}

// Messages

// Why a request is not even looked at; NULL if it is
static const char*
objection(const Page* const    page,
          const unsigned       client,
          const WireRow* const row)
{
  return client == page->player || row->is_read_only || row->is_first
           ? NULL
           : "another page plays; take over first";
}

static void
answer(Page* const              page,
       const unsigned           client,
       const WireRow* const     row,
       const WireMessage* const message)
{
  WireCall          call = {.client = client,
                            .n      = message->n,
                            .visit  = page->guests[client].came_ns,
                            .values = message->values,
                            .fault  = {.status = STATUS_SYSTEM}};
  const char* const no   = objection(page, client, row);
  json_t* const     made =
    no ? face_refuse(&call, NULL, "%s", no) : row->answer(page, &call);
  if (row->is_first && !made && !page->guests[client].is_open) {
    drop(page, client, call.fault.text);
  } else if (!call.is_later) {
    face_answer(page, &call, made);
  }
}

static void
hear_request(Page* const              page,
             const unsigned           client,
             const WireMessage* const message)
{
  unsigned             n_rows = 0;
  const WireRow* const row    = &requests_table(&n_rows)[message->row];
  Guest* const         guest  = &page->guests[client];
  if (message->n <= guest->n) {
    drop(page, client, "requests are numbered upwards");
  } else if (!guest->is_open && !row->is_first) {
    drop(page, client, "a page begins by showing its key");
  } else {
    guest->n = message->n;
    answer(page, client, row, message);
  }
}

static void
hear_message(Page* const              page,
             const unsigned           client,
             const WireMessage* const message)
{
  if (message->what == WIRE_REQUEST) {
    hear_request(page, client, message);
  } else if (client == page->player) { // Who watches plays to nobody
    keys_play(page, message);
  }
}

static void
said(void* const       context,
     const unsigned    client,
     const char* const text,
     const size_t      size)
{
  Page* const          page   = context;
  unsigned             n_rows = 0;
  const WireRow* const rows   = requests_table(&n_rows);
  const char*          field  = NULL;
  WireMessage          message;
  Fault                fault;
  switch (wire_read(rows, n_rows, text, size, &message, &field, &fault)) {
    case STATUS_OK:
      hear_message(page, client, &message);
      break;
    case STATUS_RANGE:
      if (page->guests[client].is_open && message.n > page->guests[client].n) {
        page->guests[client].n = message.n;
        face_answer(page,
                    &(WireCall){.client = client,
                                .n      = message.n,
                                .visit  = page->guests[client].came_ns,
                                .field  = field,
                                .fault  = fault},
                    NULL);
        break;
      }
      drop(page, client, fault.text);
      break;
    default:
      drop(page, client, fault.text);
  }
  wire_free(&message);
}

// Time

static void
look_for_strangers(Page* const page)
{
  const int64_t now = monotonic_ns();
  for (unsigned i = 0; i < SERVER_CLIENTS; ++i) {
    const Guest* const guest = &page->guests[i];
    if (guest->is_there && !guest->is_open &&
        now - guest->came_ns > KNOCK_NS * NS_PER_S) {
      drop(page, i, "a page begins by showing its key");
    }
  }
}

static unsigned
looks(void* const context)
{
  Page* const page = context;
  worker_finish(page->worker, page);
  worker_finish(page->keeper, page);
  devices_look(page);
  play_look(page);
  hear_look(page);
  look_for_strangers(page);
  if (page->is_begun && page->empty_ns &&
      monotonic_ns() - page->empty_ns > GRACE_NS * NS_PER_S) {
    play_end(page);
  }
  page->ends = page->ends || stage_is_asked_to_stop(page->playing.stage);
  return page->is_begun || page->hears.is_on ? LOOK_MS : LOOK_IDLE;
}

static void
wake(void* const context)
{
  const Page* const page = context;
  server_wake(page->server);
}

// Opening

static Status
find_who(Page* const page, Faults* const faults)
{
  Choices choices;
  Status  status = choices_load(&choices, faults);
  if (!status) {
    status = who_find(&page->trading.who, page->wish.learner, &choices, faults);
  }
  page->trading.is_practice = page->trading.who.has_place;
  return status;
}

// Without a sound there is still something to see
static Status
open_stage(Page* const page, Notices* const notices, Faults* const faults)
{
  const unsigned n_said       = notices->n;
  PlayingWish    wish         = page->wish.playing;
  Fault          fault        = {.status = STATUS_OK};
  wish.equipment.loads_behind = true; // The page waits for no font
  Status status =
    playing_open(&page->playing, &wish, &page->next.choices, notices, &fault);
  page->has_sound = !status;
  if (status && !wish.equipment.out) {
    devices_no_sound(page, &fault);
    wish.equipment.out = "none";
    notices->n         = n_said;
    status =
      playing_open(&page->playing, &wish, &page->next.choices, notices, &fault);
  }
  return status ? faults_note(faults, &fault) : STATUS_OK;
}

static Status
make_key(Page* const page, Faults* const faults)
{
  unsigned char bytes[KEY_BYTES];
  if (getrandom(bytes, sizeof(bytes), 0) != (ssize_t)sizeof(bytes)) {
    return faults_add(
      faults, STATUS_SYSTEM, NULL, 0, "the system gave no random numbers");
  }
  for (unsigned i = 0; i < KEY_BYTES; ++i) {
    (void)snprintf(page->key + 2 * i, 3, "%02x", bytes[i]);
  }
  return STATUS_OK;
}

static Status
open_server(Page* const page, Faults* const faults)
{
  const ServerListener listener = {
    .context = page, .came = came, .said = said, .left = left, .looks = looks};
  Fault  fault;
  Status status = make_key(page, faults);
  if (status) {
    return status;
  }
  if (!scratch_open(page->scratch)) {
    return faults_add(faults,
                      STATUS_SYSTEM,
                      NULL,
                      0,
                      "there is no room in /tmp for what a page makes");
  }
  if (server_open(&page->server, page->wish.port, &listener, &fault)) {
    return faults_note(faults, &fault);
  }
  if (worker_open(&page->worker, wake, page) ||
      worker_open(&page->keeper, wake, page)) {
    return faults_add(
      faults, STATUS_SYSTEM, NULL, 0, "the system gave no thread to work on");
  }
  (void)snprintf(page->address,
                 sizeof(page->address),
                 "http://127.0.0.1:%u/#%s",
                 server_port(page->server),
                 page->key);
  return STATUS_OK;
}

static Status
open_all(Page* const page, Notices* const notices, Faults* const faults)
{
  Status status = find_who(page, faults);
  if (!status) {
    status = choosing_prepare(page, &page->trading.who, &page->said, faults);
  }
  if (!status) {
    status = open_stage(page, notices, faults);
  }
  if (status) {
    return status;
  }
  devices_word(page);
  if ((status = open_server(page, faults))) {
    worker_close(page->worker);
    scratch_close(page->scratch);
    server_close(page->server);
    playing_close(&page->playing);
  }
  return status;
}

static Page*
make(const PageWish* const wish)
{
  Page* const page = calloc(1, sizeof(*page));
  if (page) {
    page->wish   = *wish;
    page->said   = wish->said;
    page->beacon = BEACON_NONE;
    page->player = FACE_NOBODY;
    page->turns  = json_array();
    page->staves = json_object();
    page->switches =
      (FaceSwitches){.thru = wish->playing.thru, .click = wish->playing.click};
    for (unsigned i = 0; i < N_PARTS; ++i) {
      page->switches.layers[i] = true;
    }
  }
  return page;
}

static void
release(Page* const page)
{
  json_decref(page->turns);
  json_decref(page->staves);
  json_decref(page->over);
  welcome_forget(page, STATE_ALL);
  json_decref(page->live.exercise);
  free(page->tries);
  free(page->ideas);
  json_decref(page->told);
  warm_up_free(page->warm_up);
  free(page);
}

Status
page_open(Page** const          page,
          const PageWish* const wish,
          Notices* const        notices,
          Faults* const         faults)
{
  Page* const opened = make(wish);
  if (!opened) {
    return faults_add(
      faults, STATUS_MEMORY, NULL, 0, "%s", status_text(STATUS_MEMORY));
  }
  const Status status = open_all(opened, notices, faults);
  if (status) {
    release(opened);
    return status;
  }
  opened->beacon = beacon_light(opened->address);
  *page          = opened;
  return STATUS_OK;
}

void
page_close(Page* const page)
{
  if (page) {
    page->ends = true;
    beacon_dim(page->beacon);
    play_end(page);
    look_back_forget(page);
    drop_forget(page);
    worker_close(page->keeper);
    worker_close(page->worker);
    scratch_close(page->scratch);
    server_close(page->server);
    playing_close(&page->playing);
    beacon_put_out(page->beacon);
    release(page);
  }
}

const char*
page_address(const Page* const page)
{
  return page->address;
}

// Every page is told; one that does not listen is not waited for
static void
take_leave(Page* const page)
{
  const int64_t until = monotonic_ns() + LEAVE_MS * NS_PER_MS;
  play_end(page);
  for (unsigned i = 0; i < SERVER_CLIENTS; ++i) {
    if (page->guests[i].is_open) {
      drop(page, i, "Barter has ended.");
    }
  }
  while (!server_is_quiet(page->server) && monotonic_ns() < until &&
         server_serve(page->server)) {
  }
}

void
page_serve(Page* const page)
{
  thread_prefer(); // A key waits for no picture to be drawn
  while (!page->ends && server_serve(page->server)) {
  }
  beacon_dim(page->beacon);
  take_leave(page);
}

bool
page_find_open(char address[PAGE_ADDRESS_CAPACITY])
{
  return beacon_find(address);
}
