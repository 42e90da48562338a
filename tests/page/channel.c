#include "channel.h"

#include <arpa/inet.h>
#include <errno.h>
#include <netinet/in.h>
#include <poll.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/socket.h>
#include <time.h>
#include <unistd.h>

enum {
  PIECE      = 65536,
  PATIENT_MS = 5000,
  OP_TEXT    = 1,
  OP_CLOSE   = 8,
  FINAL      = 0x80,
};

static const unsigned char mask[4] = {0x12, 0x34, 0x56, 0x78};

static int64_t
now_ms(void)
{
  struct timespec now;
  (void)clock_gettime(CLOCK_MONOTONIC, &now);
  return (int64_t)now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

int
channel_connect(const unsigned port)
{
  const struct sockaddr_in to   = {.sin_family = AF_INET,
                                   .sin_port   = htons((uint16_t)port),
                                   .sin_addr   = {htonl(INADDR_LOOPBACK)}};
  const int                file = socket(AF_INET, SOCK_STREAM, 0);
  if (file >= 0 &&
      connect(file, (const struct sockaddr*)&to, sizeof(to)) != 0) {
    (void)close(file);
    return -1;
  }
  return file;
}

static bool
send_all(const int file, const void* const bytes, const size_t size)
{
  const char* at   = bytes;
  size_t      left = size;
  while (left) {
    const ssize_t n = send(file, at, left, MSG_NOSIGNAL);
    if (n <= 0) {
      return false;
    }
    at += n;
    left -= (size_t)n;
  }
  return true;
}

static bool
can_read(const int file, const int64_t until)
{
  const int64_t left = until - now_ms();
  struct pollfd wait = {.fd = file, .events = POLLIN};
  return poll(&wait, 1, left < 0 ? 0 : (int)left) > 0;
}

// Reads on until a blank line, so that what follows stays
static void
read_head(const int file, char head[2048])
{
  const int64_t until = now_ms() + PATIENT_MS;
  size_t        n     = 0;
  head[0]             = '\0';
  while (n < 2047 && !strstr(head, "\r\n\r\n") && can_read(file, until) &&
         recv(file, head + n, 1, 0) == 1) {
    head[++n] = '\0';
  }
}

void
channel_ask_plainly(const unsigned    port,
                    const char* const request,
                    char              answer[2048])
{
  const int file = channel_connect(port);
  answer[0]      = '\0';
  if (file >= 0 && send_all(file, request, strlen(request))) {
    read_head(file, answer);
  }
  (void)close(file);
}

static void
add_header(char* const       request,
           const char* const name,
           const char* const given,
           const char* const right)
{
  const size_t n = strlen(request);
  if (!given || given[0]) {
    (void)snprintf(
      request + n, 2048 - n, "%s: %s\r\n", name, given ? given : right);
  }
}

bool
channel_open(Channel* const     channel,
             const unsigned     port,
             const Knock* const knock)
{
  char request[2048];
  char host[64];
  char origin[64];
  *channel = (Channel){.file = channel_connect(port)};
  (void)snprintf(host, sizeof(host), "127.0.0.1:%u", port);
  (void)snprintf(origin, sizeof(origin), "http://127.0.0.1:%u", port);
  (void)snprintf(request,
                 sizeof(request),
                 "GET %s HTTP/1.1\r\nUpgrade: websocket\r\n"
                 "Connection: Upgrade\r\nSec-WebSocket-Version: 13\r\n"
                 "Sec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==\r\n",
                 knock->path ? knock->path : "/wire");
  add_header(request, "Host", knock->host, host);
  add_header(request, "Origin", knock->origin, origin);
  add_header(
    request, "Sec-WebSocket-Protocol", knock->protocol, "barter-page-1");
  (void)strcat(request, "\r\n");
  if (channel->file >= 0 && send_all(channel->file, request, strlen(request))) {
    read_head(channel->file, channel->head);
  }
  // The answer to this nonce is the example of RFC 6455, section 1.3
  const bool is_open = strncmp(channel->head, "HTTP/1.1 101 ", 13) == 0 &&
                       strstr(channel->head, "s3pPLMBiTxaQ9kYGzzhZRbK+xOo=");
  if (!is_open) {
    channel_close(channel);
  }
  return is_open;
}

void
channel_close(Channel* const channel)
{
  if (channel->file >= 0) {
    (void)close(channel->file);
  }
  free(channel->bytes);
  channel->bytes   = NULL;
  channel->n_bytes = 0;
  channel->file    = -1;
}

bool
channel_send(Channel* const    channel,
             const unsigned    opcode,
             const void* const bytes,
             const size_t      size)
{
  unsigned char* const frame = malloc(size + 14);
  size_t               n     = 0;
  frame[n++]                 = (unsigned char)(FINAL | opcode);
  if (size < 126) {
    frame[n++] = (unsigned char)(FINAL | size);
  } else {
    const bool     is_long = size > 65535;
    const unsigned n_size  = is_long ? 8 : 2;
    frame[n++]             = (unsigned char)(FINAL | (is_long ? 127 : 126));
    for (unsigned i = 0; i < n_size; ++i) {
      frame[n++] = (unsigned char)(size >> (8 * (n_size - 1 - i)) & 0xFF);
    }
  }
  memcpy(frame + n, mask, sizeof(mask));
  n += sizeof(mask);
  for (size_t i = 0; i < size; ++i) {
    frame[n++] = ((const unsigned char*)bytes)[i] ^ mask[i % 4];
  }
  const bool is_sent = channel->file >= 0 && send_all(channel->file, frame, n);
  free(frame);
  return is_sent;
}

bool
channel_say(Channel* const channel, const char* const text)
{
  return channel_send(channel, OP_TEXT, text, strlen(text));
}

static bool
read_more(Channel* const channel, const int64_t until)
{
  if (channel->file < 0 || !can_read(channel->file, until)) {
    return false;
  }
  channel->bytes = realloc(channel->bytes, channel->n_bytes + PIECE);
  const ssize_t n =
    recv(channel->file, channel->bytes + channel->n_bytes, PIECE, 0);
  if (n <= 0) {
    channel_close(channel);
    return false;
  }
  channel->n_bytes += (size_t)n;
  return true;
}

static bool
need(Channel* const channel, const size_t size, const int64_t until)
{
  while (channel->n_bytes < size) {
    if (!read_more(channel, until)) {
      return false;
    }
  }
  return true;
}

// A frame of the server's: never masked; ours are never in pieces
static bool
read_frame(Channel* const  channel,
           unsigned* const opcode,
           size_t* const   begin,
           size_t* const   size,
           const int64_t   until)
{
  if (!need(channel, 2, until)) {
    return false;
  }
  const unsigned small  = channel->bytes[1];
  const unsigned n_size = small == 127 ? 8 : small == 126 ? 2 : 0;
  if (!need(channel, 2 + n_size, until)) {
    return false;
  }
  *opcode = channel->bytes[0] & 0x0F;
  *size   = n_size ? 0 : small;
  *begin  = 2 + n_size;
  for (unsigned i = 0; i < n_size; ++i) {
    *size = *size << 8 | channel->bytes[2 + i];
  }
  return need(channel, *begin + *size, until);
}

json_t*
channel_hear(Channel* const channel, const unsigned ms)
{
  const int64_t until  = now_ms() + ms;
  unsigned      opcode = 0;
  size_t        begin  = 0;
  size_t        size   = 0;
  while (read_frame(channel, &opcode, &begin, &size, until)) {
    json_t* message = NULL;
    if (opcode == OP_TEXT) {
      message = json_loadb((const char*)channel->bytes + begin, size, 0, NULL);
    } else if (opcode == OP_CLOSE && size >= 2) {
      channel->closed_as =
        (unsigned)channel->bytes[begin] << 8 | channel->bytes[begin + 1];
    }
    channel->n_bytes -= begin + size;
    memmove(channel->bytes, channel->bytes + begin + size, channel->n_bytes);
    if (opcode == OP_CLOSE) {
      channel_close(channel);
      return NULL;
    }
    if (message) {
      return message;
    }
  }
  return NULL;
}

json_t*
channel_ask(Channel* const    channel,
            const char* const what,
            json_t* const     fields)
{
  json_t* const request = fields ? fields : json_object();
  const int64_t until   = now_ms() + PATIENT_MS;
  (void)json_object_set_new(request, "n", json_integer(++channel->n));
  (void)json_object_set_new(request, "ask", json_string(what));
  char* const text = json_dumps(request, JSON_COMPACT);
  (void)channel_say(channel, text);
  free(text);
  json_decref(request);
  for (json_t* message = NULL; now_ms() < until;) {
    message = channel_hear(channel, (unsigned)(until - now_ms()));
    if (!message ||
        json_integer_value(json_object_get(message, "n")) == channel->n) {
      return message;
    }
    json_decref(message);
  }
  return NULL;
}

json_t*
channel_wait_for(Channel* const    channel,
                 const char* const tell,
                 const unsigned    ms)
{
  const int64_t until = now_ms() + ms;
  while (now_ms() < until) {
    json_t* const message = channel_hear(channel, (unsigned)(until - now_ms()));
    const char* const name =
      json_string_value(json_object_get(message, "tell"));
    if (!message || (name && strcmp(name, tell) == 0)) {
      return message;
    }
    json_decref(message);
  }
  return NULL;
}
