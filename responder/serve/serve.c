#include "responder/serve/serve.h"

#include "core/time/monotonic.h"
#include "responder/serve/files.h"

#include <arpa/inet.h>
#include <libwebsockets.h>
#include <netinet/in.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/socket.h>
#include <unistd.h>

enum {
  PIECE      = 4096, ///< Bytes that are read at once
  SOCKETS    = 96,   ///< Files and channels at once
  PATIENCE_S = 5,    ///< For a request to be whole
  FIRST_MS   = 20,
};

static const char wire_path[]     = "/wire";
static const char wire_protocol[] = "barter-page-1";

// A message that waits to be sent
typedef struct Parcel Parcel;
struct Parcel {
  Parcel*       next;
  size_t        size;
  unsigned char bytes[]; ///< LWS_PRE, then the text
};

typedef struct {
  struct lws* wsi; ///< NULL: nobody is there
  char*       text;
  size_t      size;
  size_t      capacity;
  Parcel*     first;
  Parcel*     last;
  unsigned    n_waiting;
  int64_t     stuck_ns;  ///< Since when the first one waits
  int64_t     second_ns; ///< When the present second began
  unsigned    n_said;    ///< In it
  bool        ends;      ///< When all is sent
  char        why[SERVER_WHY_CAPACITY];
} Line;

struct Serving {
  struct lws_context*    context;
  struct lws_protocols   protocols[3];
  const Asset*           assets;
  ServerListener         listener;
  lws_sorted_usec_list_t look;
  unsigned               port;
  Line                   lines[SERVER_CLIENTS];
};

// What lws keeps of a connection for us
typedef struct {
  const Asset* asset;
  Line*        line;
} Visit;

static Serving*
serving_of(struct lws* const wsi)
{
  return lws_context_user(lws_get_context(wsi));
}

static void
look(lws_sorted_usec_list_t* list);

static void
look_after(Serving* const serving, const unsigned us)
{
  lws_sul_schedule(serving->context, 0, &serving->look, look, (lws_usec_t)us);
}

static int
begin_file(struct lws* const wsi, Visit* const visit, const char* const path)
{
  const Serving* const serving = serving_of(wsi);
  visit->asset = files_answer(wsi, serving->port, serving->assets, path);
  return visit->asset ? 0 : -1;
}

static int
send_file(struct lws* const wsi, Visit* const visit)
{
  const Asset* const asset = visit->asset;
  visit->asset             = NULL;
  return asset && files_send(wsi, asset) ? 0 : -1;
}

static int
serve_files(struct lws* const               wsi,
            const enum lws_callback_reasons reason,
            void* const                     user,
            void* const                     in,
            const size_t                    size)
{
  (void)size;
  switch (reason) {
    case LWS_CALLBACK_FILTER_PROTOCOL_CONNECTION:
      return 1; // A channel without our protocol
    case LWS_CALLBACK_HTTP:
      return begin_file(wsi, user, in);
    case LWS_CALLBACK_HTTP_WRITEABLE:
      return send_file(wsi, user);
    case LWS_CALLBACK_EVENT_WAIT_CANCELLED: // serve_wake()
      look_after(serving_of(wsi), 1);
      return 0;
    default:
      return 0;
  }
}

// The channel

static unsigned
number_of(const Serving* const serving, const Line* const line)
{
  return (unsigned)(line - serving->lines);
}

static int
open_line(struct lws* const wsi, Visit* const visit)
{
  Serving* const serving = serving_of(wsi);
  for (unsigned i = 0; i < SERVER_CLIENTS; ++i) {
    Line* const line = &serving->lines[i];
    if (!line->wsi) {
      *line       = (Line){.wsi = wsi, .second_ns = monotonic_ns()};
      visit->line = line;
      serving->listener.came(serving->listener.context, i);
      return 0;
    }
  }
  return -1;
}

static void
close_line(struct lws* const wsi, Visit* const visit)
{
  Serving* const serving = serving_of(wsi);
  Line* const    line    = visit->line;
  if (!line) {
    return;
  }
  visit->line = NULL;
  while (line->first) {
    Parcel* const parcel = line->first;
    line->first          = parcel->next;
    free(parcel);
  }
  free(line->text);
  *line = (Line){.wsi = NULL};
  serving->listener.left(serving->listener.context, number_of(serving, line));
}

static int
refuse(struct lws* const           wsi,
       const enum lws_close_status status,
       const char* const           why)
{
  unsigned char text[SERVER_WHY_CAPACITY];
  const int     n = snprintf((char*)text, sizeof(text), "%s", why);
  lws_close_reason(wsi,
                   status,
                   text,
                   (size_t)(n < (int)sizeof(text) ? n : (int)sizeof(text) - 1));
  return -1;
}

// Whether it does not say too much in a second
static bool
is_bearable(Line* const line)
{
  const int64_t now = monotonic_ns();
  if (now - line->second_ns > NS_PER_S) {
    line->second_ns = now;
    line->n_said    = 0;
  }
  return ++line->n_said <= SERVER_A_SECOND;
}

static bool
append(Line* const line, const char* const bytes, const size_t size)
{
  if (line->size + size + 1 > line->capacity) {
    const size_t capacity = 2 * (line->size + size + 1);
    char* const  larger   = realloc(line->text, capacity);
    if (!larger) {
      return false;
    }
    line->text     = larger;
    line->capacity = capacity;
  }
  memcpy(line->text + line->size, bytes, size);
  line->size += size;
  line->text[line->size] = '\0';
  return true;
}

static int
receive(struct lws* const wsi,
        Visit* const      visit,
        const char* const bytes,
        const size_t      size)
{
  Serving* const serving = serving_of(wsi);
  Line* const    line    = visit->line;
  if (line->ends) {
    return 0;
  }
  if (lws_frame_is_binary(wsi)) {
    return refuse(
      wsi, LWS_CLOSE_STATUS_UNACCEPTABLE_OPCODE, "only text is understood");
  }
  if (line->size + size > SERVER_MESSAGE) {
    return refuse(
      wsi, LWS_CLOSE_STATUS_MESSAGE_TOO_LARGE, "a message has 64 KiB at most");
  }
  if (!append(line, bytes, size)) {
    return -1;
  }
  if (!lws_is_final_fragment(wsi) || lws_remaining_packet_payload(wsi)) {
    return 0;
  }
  if (!is_bearable(line)) {
    return refuse(
      wsi, LWS_CLOSE_STATUS_POLICY_VIOLATION, "too many messages a second");
  }
  const size_t whole = line->size;
  line->size         = 0;
  serving->listener.said(
    serving->listener.context, number_of(serving, line), line->text, whole);
  return 0;
}

static int
send_next(struct lws* const wsi, Visit* const visit)
{
  Line* const   line   = visit->line;
  Parcel* const parcel = line->first;
  if (!parcel) {
    return line->ends
             ? refuse(wsi, LWS_CLOSE_STATUS_POLICY_VIOLATION, line->why)
             : 0;
  }
  line->first = parcel->next;
  line->last  = line->first ? line->last : NULL;
  --line->n_waiting;
  line->stuck_ns = monotonic_ns();
  const int n =
    lws_write(wsi, parcel->bytes + LWS_PRE, parcel->size, LWS_WRITE_TEXT);
  free(parcel);
  if (n < 0) {
    return -1;
  }
  if (line->first || line->ends) {
    (void)lws_callback_on_writable(wsi);
  }
  return 0;
}

static int
serve_channel(struct lws* const               wsi,
              const enum lws_callback_reasons reason,
              void* const                     user,
              void* const                     in,
              const size_t                    size)
{
  switch (reason) {
    case LWS_CALLBACK_FILTER_PROTOCOL_CONNECTION:
      return !files_may_open(wsi, serving_of(wsi)->port, wire_path);
    case LWS_CALLBACK_ESTABLISHED:
      return open_line(wsi, user);
    case LWS_CALLBACK_RECEIVE:
      return receive(wsi, user, in, size);
    case LWS_CALLBACK_SERVER_WRITEABLE:
      return send_next(wsi, user);
    case LWS_CALLBACK_CLOSED:
      close_line(wsi, user);
      return 0;
    default:
      return 0;
  }
}

static void
kill_line(Line* const line)
{
  lws_set_timeout(
    line->wsi, PENDING_TIMEOUT_KILLED_BY_PARENT, LWS_TO_KILL_ASYNC);
}

void
serve_send(Serving* const    serving,
           const unsigned    client,
           const char* const text,
           const size_t      size)
{
  Line* const line = &serving->lines[client];
  if (!line->wsi || line->ends) {
    return;
  }
  Parcel* const parcel = malloc(sizeof(*parcel) + LWS_PRE + size);
  if (!parcel || line->n_waiting == SERVER_WAITING) {
    free(parcel);
    kill_line(line);
    return;
  }
  parcel->next = NULL;
  parcel->size = size;
  memcpy(parcel->bytes + LWS_PRE, text, size);
  if (line->last) {
    line->last->next = parcel;
  } else {
    line->first    = parcel;
    line->stuck_ns = monotonic_ns();
  }
  line->last = parcel;
  ++line->n_waiting;
  (void)lws_callback_on_writable(line->wsi);
}

void
serve_drop(Serving* const serving, const unsigned client, const char* const why)
{
  Line* const line = &serving->lines[client];
  if (line->wsi && !line->ends) {
    line->ends     = true;
    line->stuck_ns = monotonic_ns();
    (void)snprintf(line->why, sizeof(line->why), "%s", why);
    (void)lws_callback_on_writable(line->wsi);
  }
}

bool
serve_is_quiet(const Serving* const serving)
{
  for (unsigned i = 0; i < SERVER_CLIENTS; ++i) {
    const Line* const line = &serving->lines[i];
    if (line->wsi && (line->first || line->ends)) {
      return false;
    }
  }
  return true;
}

// All of it

static void
look_for_slow_readers(Serving* const serving)
{
  const int64_t now = monotonic_ns();
  for (unsigned i = 0; i < SERVER_CLIENTS; ++i) {
    Line* const line = &serving->lines[i];
    if (line->wsi && (line->first || line->ends) &&
        now - line->stuck_ns > SERVER_PATIENCE_MS * NS_PER_MS) {
      kill_line(line);
    }
  }
}

static void
look(lws_sorted_usec_list_t* const list)
{
  Serving* const serving = lws_container_of(list, Serving, look);
  const unsigned ms      = serving->listener.looks(serving->listener.context);
  look_for_slow_readers(serving);
  look_after(serving, ms * LWS_US_PER_MS);
}

// Asked before lws is, which forgets some memory where a port is taken
static bool
is_free(const unsigned port)
{
  const struct sockaddr_in at    = {.sin_family = AF_INET,
                                    .sin_port   = htons((uint16_t)port),
                                    .sin_addr   = {htonl(INADDR_LOOPBACK)}};
  const int                again = 1;
  const int                file  = socket(AF_INET, SOCK_STREAM, 0);
  const bool               is =
    file >= 0 &&
    !setsockopt(file, SOL_SOCKET, SO_REUSEADDR, &again, sizeof(again)) &&
    !bind(file, (const struct sockaddr*)&at, sizeof(at));
  if (file >= 0) {
    (void)close(file);
  }
  return is;
}

static struct lws_context*
listen_on(Serving* const serving, const unsigned port)
{
  serving->protocols[0] =
    (struct lws_protocols){.name                  = "files",
                           .callback              = serve_files,
                           .per_session_data_size = sizeof(Visit)};
  serving->protocols[1] =
    (struct lws_protocols){.name                  = wire_protocol,
                           .callback              = serve_channel,
                           .per_session_data_size = sizeof(Visit),
                           .rx_buffer_size        = PIECE};
  // Without the first option it would listen on every interface
  const struct lws_context_creation_info info = {
    .port                = (int)port,
    .iface               = "127.0.0.1",
    .protocols           = serving->protocols,
    .gid                 = -1,
    .uid                 = -1,
    .options             = LWS_SERVER_OPTION_DISABLE_IPV6,
    .user                = serving,
    .fd_limit_per_thread = SOCKETS,
    .keepalive_timeout   = PATIENCE_S,
    .timeout_secs        = PATIENCE_S,
  };
  lws_set_log_level(0, NULL);
  return lws_create_context(&info);
}

Status
serve_open(Serving** const             serving,
           const unsigned              port,
           const Asset* const          assets,
           const ServerListener* const listener,
           Fault* const                fault)
{
  Serving* const opened = calloc(1, sizeof(*opened));
  if (!opened) {
    return fault_memory(fault, NULL);
  }
  opened->assets   = assets;
  opened->listener = *listener;
  opened->context  = is_free(port) ? listen_on(opened, port) : NULL;
  if (!opened->context) {
    free(opened);
    return fault_say(fault,
                     STATUS_SYSTEM,
                     port ? "port %u of this machine is taken; without --port "
                            "any free one is used"
                          : "the system gave no port to listen on",
                     port);
  }
  opened->port = (unsigned)lws_get_vhost_listen_port(
    lws_get_vhost_by_name(opened->context, "default"));
  look_after(opened, FIRST_MS * LWS_US_PER_MS);
  *serving = opened;
  return STATUS_OK;
}

void
serve_close(Serving* const serving)
{
  if (serving) {
    lws_context_destroy(serving->context);
    free(serving);
  }
}

unsigned
serve_port(const Serving* const serving)
{
  return serving->port;
}

bool
serve_serve(Serving* const serving)
{
  return lws_service(serving->context, 0) >= 0;
}

void
serve_wake(Serving* const serving)
{
  lws_cancel_service(serving->context);
}
