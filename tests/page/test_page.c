// The built program's page, asked by plain sockets: what it lets in, what it
// sends away, and that the band goes on whatever a page does. What is right is
// told by RFC 9110 (421, 405), RFC 6455 (close codes) and the page's own
// header.

#include "channel.h"

#include <fcntl.h>
#include <glob.h>
#include <signal.h>
#include <spawn.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

extern char** environ;

enum { LINE = 512, PATIENT_MS = 10000, MUTATED = 10000 };

static unsigned n_failed;

static bool
must(const bool holds, const char* const what)
{
  if (!holds) {
    (void)fprintf(stderr, "FAILED: %s\n", what);
    ++n_failed;
  }
  return holds;
}

// The program

typedef struct {
  pid_t    process;
  FILE*    out;
  char     address[LINE];
  char     key[LINE];
  unsigned port;
} Program;

// Its standard error goes where its output does, after the address
static void
begin_by(Program* const    program,
         const char* const quietly,
         const char* const more,
         const char* const value)
{
  const char* const built  = getenv("BARTER");
  char              out[]  = "--out";
  char              in[]   = "--in";
  char              none[] = "none";
  char              open[] = "open";
  char              quiet[LINE];
  char              a[LINE];
  char              b[LINE];
  int               ends[2];
  (void)snprintf(a, sizeof(a), "%s", more ? more : "--port");
  (void)snprintf(b, sizeof(b), "%s", value ? value : "0");
  (void)snprintf(quiet, sizeof(quiet), "%s", quietly);
  char* const words[] = {open, open, quiet, in, none, out, none, a, b, NULL};
  posix_spawn_file_actions_t files;
  (void)posix_spawn_file_actions_init(&files);
  *program = (Program){.process = 0};
  if (pipe(ends) != 0) {
    exit(1);
  }
  (void)fcntl(ends[0], F_SETFD, FD_CLOEXEC);
  (void)posix_spawn_file_actions_adddup2(&files, ends[1], 1);
  (void)posix_spawn_file_actions_adddup2(&files, ends[1], 2);
  if (!built ||
      posix_spawn(&program->process, built, &files, NULL, words, environ) !=
        0) {
    (void)fprintf(stderr, "BARTER names no program that runs\n");
    exit(1);
  }
  (void)posix_spawn_file_actions_destroy(&files);
  (void)close(ends[1]);
  program->out = fdopen(ends[0], "r");
  if (fgets(program->address, LINE, program->out)) {
    program->address[strcspn(program->address, "\n")] = '\0';
  }
  if (sscanf(program->address,
             "http://127.0.0.1:%u/#%511s",
             &program->port,
             program->key) != 2) {
    program->port = 0;
  }
}

static void
begin(Program* const program, const char* const more, const char* const value)
{
  begin_by(program, "--no-browser", more, value);
}

static int
wait_for_end(Program* const program)
{
  int status = -1;
  (void)waitpid(program->process, &status, 0);
  (void)fclose(program->out);
  return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

static int
end(Program* const program)
{
  (void)kill(program->process, SIGINT);
  return wait_for_end(program);
}

// Small things

static bool
has_status(const char* const answer, const int status)
{
  char begins[32];
  (void)snprintf(begins, sizeof(begins), "HTTP/1.1 %d ", status);
  return strncmp(answer, begins, strlen(begins)) == 0;
}

static void
get(const Program* const program,
    const char* const    method,
    const char* const    path,
    const char* const    host,
    char                 answer[2048])
{
  char request[1024];
  char own[64];
  (void)snprintf(own, sizeof(own), "127.0.0.1:%u", program->port);
  (void)snprintf(request,
                 sizeof(request),
                 "%s %s HTTP/1.1\r\nHost: %s\r\nContent-Length: 0\r\n\r\n",
                 method,
                 path,
                 host ? host : own);
  channel_ask_plainly(program->port, request, answer);
}

static json_t*
key_of(const char* const key)
{
  return json_pack("{ss si}", "key", key, "version", 1);
}

// The state that is told, piece by piece, until a request is answered; as one
static json_t*
whole_state(Channel* const channel)
{
  json_t* whole   = NULL;
  json_t* message = NULL;
  bool    is_all  = false;
  while (!is_all && (message = channel_hear(channel, PATIENT_MS))) {
    is_all = json_integer_value(json_object_get(message, "n")) == channel->n;
    json_t* const set = json_object_get(message, "set");
    if (set && whole) {
      (void)json_object_update(json_object_get(whole, "set"), set);
    } else if (set) {
      whole = json_incref(message);
    }
    json_decref(message);
  }
  return whole;
}

static bool
show_key(Channel* const channel, const Program* const program)
{
  const Knock right = {.host = NULL};
  if (!must(channel_open(channel, program->port, &right),
            "a page of ours opens the channel")) {
    return false;
  }
  json_t* const fields = key_of(program->key);
  (void)json_object_set_new(fields, "n", json_integer(++channel->n));
  (void)json_object_set_new(fields, "ask", json_string("open"));
  char* const text = json_dumps(fields, 0);
  (void)channel_say(channel, text);
  free(text);
  json_decref(fields);
  return true;
}

// A page that has shown the key; the state it was sent is handed back
static json_t*
open_page(Channel* const channel, const Program* const program)
{
  return show_key(channel, program) ? whole_state(channel) : NULL;
}

static bool
is_done(json_t* const answer)
{
  const bool is = json_object_get(answer, "answer") != NULL;
  json_decref(answer);
  return is;
}

static bool
is_fault_of(json_t* const answer, const char* const field)
{
  json_t* const     fault = json_object_get(answer, "fault");
  const char* const text  = json_string_value(json_object_get(fault, "text"));
  const char* const which = json_string_value(json_object_get(fault, "field"));
  const bool        is =
    text && text[0] && (field ? which && !strcmp(which, field) : !which);
  json_decref(answer);
  return is;
}

static json_t*
choice(const char* const name, json_t* const value)
{
  return json_pack("{ss so}", "name", name, "value", value);
}

// Passes over what is told until the channel is closed; how it was
static unsigned
closed_as(Channel* const channel)
{
  for (json_t* message = NULL; (message = channel_hear(channel, PATIENT_MS));) {
    json_decref(message);
  }
  return channel->file < 0 ? channel->closed_as : 0;
}

// Who is let in

// A row of the kernel's list of sockets that listen (proc(5)) on the port
static unsigned
n_listening(const char* const list, const unsigned port, bool* const is_ours)
{
  FILE* const file = fopen(list, "r");
  char        line[LINE];
  unsigned    n = 0;
  while (file && fgets(line, sizeof(line), file)) {
    char     address[64];
    unsigned at    = 0;
    unsigned state = 0;
    if (sscanf(line,
               " %*d: %63[0-9A-F]:%x %*[0-9A-F]:%*x %x",
               address,
               &at,
               &state) == 3 &&
        at == port && state == 0x0A) {
      ++n;
      *is_ours = strcmp(address, "0100007F") == 0;
    }
  }
  if (file) {
    (void)fclose(file);
  }
  return n;
}

static void
check_address(const Program* const program)
{
  bool is_loopback = false;
  bool ignored     = false;
  must(n_listening("/proc/net/tcp", program->port, &is_loopback) == 1 &&
         is_loopback,
       "it listens on 127.0.0.1 alone");
  must(n_listening("/proc/net/tcp6", program->port, &ignored) == 0,
       "it listens on no address of IPv6");
  must(strlen(program->key) == 32, "the key has 128 bits");
}

static void
check_files(const Program* const program)
{
  static const char* const tricks[] = {
    "/../../etc/passwd",
    "/..%2f..%2fetc%2fpasswd",
    "/%2e%2e/server.c",
    "//etc/passwd",
    "/files/index.html",
    "/index.html/../../x",
    "/wire",
    "/nothing.js",
  };
  char answer[2048];
  get(program, "GET", "/", NULL, answer);
  must(has_status(answer, 200), "the page is served");
  must(strstr(answer, "default-src 'none'") != NULL &&
         strstr(answer, "nosniff") != NULL && !strstr(answer, "unsafe-"),
       "the page is told a strict policy");
  get(program, "GET", "/", "evil.example", answer);
  must(has_status(answer, 421), "a foreign Host is sent away (RFC 9110)");
  get(program, "GET", "/", "127.0.0.1", answer);
  must(has_status(answer, 421), "a Host without our port is sent away");
  get(program, "POST", "/", NULL, answer);
  must(!has_status(answer, 200), "nothing can be posted");
  for (unsigned i = 0; i < sizeof(tricks) / sizeof(*tricks); ++i) {
    get(program, "GET", tricks[i], NULL, answer);
    must(!has_status(answer, 200), tricks[i]);
  }
}

static void
check_knocking(const Program* const program)
{
  static const struct {
    const char* what;
    Knock       knock;
  } wrong[] = {
    {"a foreign Origin", {.origin = "http://evil.example"}},
    {"a foreign port's Origin", {.origin = "http://127.0.0.1:1"}},
    {"a secure Origin", {.origin = "https://127.0.0.1"}},
    {"no Origin", {.origin = ""}},
    {"the Origin null", {.origin = "null"}},
    {"a foreign Host", {.host = "evil.example"}},
    {"no protocol", {.protocol = ""}},
    {"another protocol", {.protocol = "barter-page-2"}},
    {"another path", {.path = "/"}},
  };
  Channel channel;
  for (unsigned i = 0; i < sizeof(wrong) / sizeof(*wrong); ++i) {
    must(!channel_open(&channel, program->port, &wrong[i].knock),
         wrong[i].what);
    channel_close(&channel);
  }
}

static void
check_key(const Program* const program)
{
  const Knock right       = {.host = NULL};
  char        wrong[LINE] = "";
  Channel     channel;
  (void)snprintf(wrong, sizeof(wrong), "%s", program->key);
  wrong[0]                 = wrong[0] == '0' ? '1' : '0';
  const char* const keys[] = {"", wrong, "x"};
  for (unsigned i = 0; i < 3; ++i) {
    (void)channel_open(&channel, program->port, &right);
    json_t* const told = channel_ask(&channel, "open", key_of(keys[i]));
    must(!json_object_get(told, "answer"), "a wrong key opens nothing");
    json_decref(told);
    must(closed_as(&channel) == 1008, "... and the channel is closed");
    channel_close(&channel);
  }
  (void)channel_open(&channel, program->port, &right);
  (void)channel_say(&channel, "{\"n\": 1, \"ask\": \"begin\"}");
  must(closed_as(&channel) == 1008, "nothing is done before the key is shown");
  channel_close(&channel);
}

// What is said

static void
check_messages(const Program* const program)
{
  static const struct {
    const char* text;
    unsigned    code;
  } ends[] = {
    {"", 1008},
    {"[]", 1008},
    {"{\"n\": 9", 1008},
    {"{\"n\": \"9\", \"ask\": \"begin\"}", 1008},
    {"{\"n\": 9}", 1008},
    {"{\"n\": 9, \"n\": 10, \"ask\": \"stop\"}", 1008},
    {"{\"n\": 1, \"ask\": \"stop\"}", 1008}, // Not upwards
    {"{\"play\": \"on\", \"pitch\": 128, \"velocity\": 1, \"at\": 0}", 1008},
    {"{\"play\": \"on\", \"pitch\": 60, \"velocity\": 0, \"at\": 0}", 1008},
    {"{\"play\": \"on\", \"pitch\": 60, \"velocity\": 1}", 1008},
  };
  Channel channel;
  for (unsigned i = 0; i < sizeof(ends) / sizeof(*ends); ++i) {
    json_decref(open_page(&channel, program));
    (void)channel_say(&channel, ends[i].text);
    if (!must(closed_as(&channel) == ends[i].code, ends[i].text)) {
      (void)fprintf(stderr, "  closed as %u\n", channel.closed_as);
    }
    channel_close(&channel);
  }
  char* const large = malloc(70000);
  memset(large, ' ', 70000);
  json_decref(open_page(&channel, program));
  (void)channel_send(&channel, 1, large, 70000);
  must(closed_as(&channel) == 1009, "a message over 64 KiB (RFC 6455: 1009)");
  channel_close(&channel);
  free(large);
  json_decref(open_page(&channel, program));
  (void)channel_send(&channel, 2, "{}", 2);
  must(closed_as(&channel) != 0, "a message that is no text");
  channel_close(&channel);
  json_decref(open_page(&channel, program));
  for (unsigned i = 0; i < 2000; ++i) {
    if (!channel_say(&channel, "{\"play\": \"none\"}")) {
      break;
    }
  }
  (void)closed_as(&channel);
  must(channel.file < 0, "too many messages a second");
  channel_close(&channel);
}

static void
check_faults(Channel* const channel)
{
  must(is_fault_of(channel_ask(channel, "fly", NULL), NULL),
       "what nobody knows");
  must(is_fault_of(channel_ask(channel, "clock", NULL), "sent"),
       "a field that is missing");
  must(
    is_fault_of(channel_ask(channel, "begin", json_pack("{sb}", "x", 1)), NULL),
    "a field too many");
  must(is_fault_of(
         channel_ask(channel, "choose", choice("tempo", json_integer(9999))),
         "tempo"),
       "a tempo out of range");
  must(is_fault_of(
         channel_ask(channel, "choose", choice("chart", json_string("../x"))),
         "chart"),
       "a chart that is not there");
  must(is_fault_of(channel_ask(channel, "choose", choice("wings", json_true())),
                   "name"),
       "a choice that nobody knows");
  must(is_fault_of(channel_ask(channel, "stop", NULL), NULL),
       "stopping what is not played");
}

static void
check_state(const json_t* const told)
{
  static const char* const members[] = {"me",
                                        "people",
                                        "table",
                                        "choices",
                                        "form",
                                        "tones",
                                        "session",
                                        "sound",
                                        "keyboard",
                                        "care"};
  const json_t* const      set       = json_object_get(told, "set");
  for (unsigned i = 0; i < sizeof(members) / sizeof(*members); ++i) {
    must(json_object_get(set, members[i]) != NULL, members[i]);
  }
  const json_t* const sound = json_object_get(set, "sound");
  must(json_is_false(json_object_get(sound, "works")) &&
         json_string_length(json_object_get(sound, "text")) > 0,
       "that there is no sound is said");
}

// Playing

static void
choose_short(Channel* const channel)
{
  must(
    is_done(channel_ask(channel, "choose", choice("tempo", json_integer(300)))),
    "a tempo is chosen");
  must(is_done(channel_ask(channel, "choose", choice("bars", json_integer(1)))),
       "turns of one bar are chosen");
  must(is_done(
         channel_ask(channel, "choose", choice("layer.drums", json_false()))),
       "the drums are silent");
}

static void
strike(Channel* const channel, const int pitch, const double at)
{
  char text[128];
  (void)snprintf(text,
                 sizeof(text),
                 "{\"play\": \"on\", \"pitch\": %d, \"velocity\": 80, "
                 "\"at\": %f}",
                 pitch,
                 at);
  (void)channel_say(channel, text);
  (void)snprintf(text,
                 sizeof(text),
                 "{\"play\": \"off\", \"pitch\": %d, \"at\": %f}",
                 pitch,
                 at + 1.0);
  (void)channel_say(channel, text);
}

static double
here(Channel* const channel)
{
  json_t* const answer =
    channel_ask(channel, "clock", json_pack("{si}", "sent", 1));
  const double at = json_number_value(
    json_object_get(json_object_get(answer, "answer"), "here"));
  json_decref(answer);
  return at;
}

// Plays on until a turn of the player's holds what was struck
static bool
hear_own_turn(Channel* const channel)
{
  for (unsigned i = 0; i < 400; ++i) {
    strike(channel, 60 + (int)(i % 3) * 2, here(channel));
    json_t* const     told  = channel_wait_for(channel, "turn", 100);
    const json_t*     turn  = json_object_get(told, "turn");
    const json_t*     notes = json_object_get(turn, "notes");
    const char* const by    = json_string_value(json_object_get(turn, "by"));
    const bool       is = by && !strcmp(by, "player") && json_array_size(notes);
    const json_int_t pitch =
      json_integer_value(json_object_get(json_array_get(notes, 0), "pitch"));
    json_decref(told);
    if (is) {
      return pitch == 60 || pitch == 62 || pitch == 64;
    }
  }
  return false;
}

// Pass over everything until the session stands so; what was said of it then is
// handed back, owned by the caller
static json_t*
wait_until_it(Channel* const channel, const char* const stands)
{
  for (unsigned i = 0; i < 40; ++i) {
    json_t* const     told    = channel_wait_for(channel, "state", PATIENT_MS);
    json_t* const     set     = json_object_get(told, "set");
    json_t* const     session = json_object_get(set, "session");
    const char* const is =
      json_string_value(json_object_get(session, "stands"));
    if (is && strcmp(is, stands) == 0) {
      json_incref(session);
      json_decref(told);
      return session;
    }
    json_decref(told);
  }
  (void)must(false, stands);
  return NULL;
}

static bool
wait_for_tempo(Channel* const channel, const double tempo)
{
  for (unsigned i = 0; i < 40; ++i) {
    json_t* const told = channel_wait_for(channel, "place", PATIENT_MS);
    const double  is   = json_number_value(json_object_get(told, "tempo"));
    json_decref(told);
    if (is == tempo) {
      return true;
    }
  }
  return false;
}

static double
tick_told(Channel* const channel)
{
  json_t* const told = channel_wait_for(channel, "place", PATIENT_MS);
  const double  tick = json_number_value(json_object_get(told, "tick"));
  json_decref(told);
  return tick;
}

// The tempo is 300, turns last a bar; about six parts of a hundred are 318
static void
check_changes(Channel* const player)
{
  must(is_done(channel_ask(player, "faster", NULL)), "faster");
  must(wait_for_tempo(player, 318.0),
       "... from a turn on, without a new start");
  must(is_done(channel_ask(player, "easier", NULL)), "easier");
  must(hear_own_turn(player), "... and it goes on");
  must(is_done(channel_ask(player, "pause", NULL)), "a pause");
  json_decref(wait_until_it(player, "paused"));
  const double stood = tick_told(player);
  strike(player, 72, here(player));
  must(is_done(channel_ask(player, "go on", NULL)), "... and on");
  json_decref(wait_until_it(player, "plays"));
  // After a bar of clicks: four beats of 960 ticks
  const double from = tick_told(player);
  must(from <= stood - 3800.0 && from >= stood - 6000.0,
       "... after a bar of clicks");
  must(hear_own_turn(player), "... and the band goes on");
}

static void
check_again(const char* const name)
{
  char line[1024];
  (void)snprintf(line,
                 sizeof(line),
                 "\"$BARTER\" answer --replay "
                 "\"$HOME/.local/share/barter/sessions/%s\" --out again.mid "
                 ">again.txt 2>&1 && cmp again.mid "
                 "\"$HOME/.local/share/barter/sessions/%s\"",
                 name,
                 name);
  must(system(line) == 0, "a replay gives the recording, byte for byte");
}

// A session to its end, in which keys come late and tempo and rung change: what
// is recorded makes all of it again
static void
check_whole_session(Channel* const channel)
{
  must(is_done(
         channel_ask(channel, "choose", choice("choruses", json_integer(1)))),
       "one chorus is chosen");
  must(is_done(channel_ask(channel, "begin", NULL)), "it begins");
  must(hear_own_turn(channel), "... and is played");
  must(is_done(channel_ask(channel, "slower", NULL)), "... slower");
  must(is_done(channel_ask(channel, "harder", NULL)), "... harder");
  for (unsigned i = 0; i < 20; ++i) {
    strike(channel, 60 + (int)(i % 5), here(channel) - 3.0 * (i % 14));
    json_decref(channel_wait_for(channel, "turn", 150));
  }
  json_t* const     over = wait_until_it(channel, "over");
  const char* const name = json_string_value(json_object_get(over, "name"));
  if (must(name != NULL, "... to the end, and is recorded")) {
    check_again(name);
  }
  json_decref(over);
}

static void
check_watching(Channel* const player, const Program* const program)
{
  Channel       watcher;
  json_t* const told = open_page(&watcher, program);
  must(json_is_false(json_object_get(
         json_object_get(json_object_get(told, "set"), "me"), "plays")),
       "a second page watches");
  json_decref(told);
  must(is_fault_of(channel_ask(&watcher, "stop", NULL), NULL),
       "... and changes nothing");
  must(here(&watcher) > 0.0, "... but is told the time");
  must(is_done(channel_ask(&watcher, "take over", NULL)),
       "... until it takes over");
  must(is_fault_of(channel_ask(player, "stop", NULL), NULL),
       "... and the first one watches");
  must(is_done(channel_ask(player, "take over", NULL)), "... and back");
  channel_close(&watcher);
}

// Seeded, so that a failure comes again
static unsigned
next_random(unsigned* const state)
{
  *state = *state * 1664525U + 1013904223U; // Knuth, TAOCP 2, 3.3.4
  return *state >> 8;
}

static void
mutate(char* const text, size_t* const size, unsigned* const state)
{
  const unsigned times = 1 + next_random(state) % 4;
  for (unsigned i = 0; i < times && *size; ++i) {
    const size_t at = next_random(state) % *size;
    switch (next_random(state) % 4) {
      case 0:
        text[at] = (char)next_random(state);
        break;
      case 1:
        text[at] ^= (char)(1U << next_random(state) % 7);
        break;
      case 2:
        *size = at;
        break;
      default:
        memmove(text + at, text + at + 1, *size - at - 1);
        --*size;
    }
  }
}

static void
send_mutated(const Program* const program)
{
  static const char* const messages[] = {
    "{\"n\": 3, \"ask\": \"choose\", \"name\": \"tempo\", \"value\": 120}",
    "{\"n\": 4, \"ask\": \"choose\", \"name\": \"chart\", \"value\": "
    "\"blues\"}",
    "{\"n\": 5, \"ask\": \"clock\", \"sent\": 12345.678}",
    "{\"n\": 6, \"ask\": \"people choose\", \"id\": \"me\"}",
    "{\"n\": 7, \"ask\": \"open\", \"key\": \"0123456789abcdef\", "
    "\"version\": 1}",
    "{\"play\": \"on\", \"pitch\": 60, \"velocity\": 64, \"at\": 123.4}",
    "{\"play\": \"off\", \"pitch\": 60, \"at\": 123.5}",
  };
  unsigned state = 1;
  Channel  channel;
  bool     is_open = false;
  for (unsigned i = 0; i < MUTATED; ++i) {
    char   text[256];
    size_t size = (size_t)snprintf(
      text,
      sizeof(text),
      "%s",
      messages[next_random(&state) % (sizeof(messages) / sizeof(*messages))]);
    mutate(text, &size, &state);
    if (!is_open) {
      const Knock right = {.host = NULL};
      is_open           = channel_open(&channel, program->port, &right);
      char key[LINE + 64];
      (void)snprintf(key,
                     sizeof(key),
                     "{\"n\": 1, \"ask\": \"open\", \"key\": \"%s\", "
                     "\"version\": 1}",
                     program->key);
      is_open = is_open && channel_say(&channel, key);
    }
    const bool is_sent = is_open && channel_send(&channel, 1, text, size);
    if (is_open && (!is_sent || i % 3 == 0)) {
      channel_close(&channel);
      is_open = false;
    }
  }
  if (is_open) {
    channel_close(&channel);
  }
}

static void
check_band_goes_on(Channel* const player, const Program* const program)
{
  Channel deaf[4];
  for (unsigned i = 0; i < 4; ++i) { // They never read
    const Knock right = {.host = NULL};
    (void)channel_open(&deaf[i], program->port, &right);
    json_decref(channel_ask(&deaf[i], "open", key_of(program->key)));
  }
  send_mutated(program);
  must(hear_own_turn(player), "the session went on through all that");
  for (unsigned i = 0; i < 4; ++i) {
    channel_close(&deaf[i]);
  }
}

// The other places, by one question each: what is asked, and the member that
// the answer must have, or the field at fault

static void
check_question(Channel* const    channel,
               const char* const ask,
               const char* const fields,
               const char* const member,
               const bool        is_fault)
{
  json_t* const answer = channel_ask(channel, ask, json_loads(fields, 0, NULL));
  json_t* const fault  = json_object_get(answer, "fault");
  const char* const field = json_string_value(json_object_get(fault, "field"));
  const bool        is =
    is_fault
             ? fault && (!member || (field && !strcmp(field, member)))
             : json_object_get(json_object_get(answer, "answer"), member) != NULL;
  if (!must(is, ask)) {
    char* const text = json_dumps(answer, 0);
    (void)fprintf(stderr, "  %s: %.300s\n", fields, text ? text : "nothing");
    free(text);
  }
  json_decref(answer);
}

static void
ask_name(Channel* const    channel,
         const char* const ask,
         const char* const name,
         const char* const more,
         const char* const member)
{
  char fields[256];
  (void)snprintf(fields, sizeof(fields), "{\"name\": \"%s\"%s}", name, more);
  check_question(channel, ask, fields, member, false);
}

static void
check_look_back(Channel* const channel)
{
  char          name[128] = "";
  json_t* const answer    = channel_ask(channel, "sessions", NULL);
  json_t* const list =
    json_object_get(json_object_get(answer, "answer"), "list");
  const char* const found =
    json_string_value(json_object_get(json_array_get(list, 0), "name"));
  (void)snprintf(name, sizeof(name), "%s", found ? found : "");
  json_decref(answer);
  must(name[0] != '\0', "what was played is recorded");
  ask_name(channel, "session", name, "", "turns");
  ask_name(channel, "staff", name, ", \"turn\": 2", "svg");
  ask_name(channel, "keep", name, ", \"turn\": 2", "number");
  ask_name(channel, "save", name, ", \"kind\": \"midi\"", "base64");
  ask_name(channel, "save", name, ", \"kind\": \"musicxml\"", "base64");
  must(is_done(channel_ask(
         channel, "hear", json_pack("{ss si}", "name", name, "turn", 2))),
       "a turn is heard again");
  must(is_done(channel_ask(channel, "hush", NULL)), "... and hushed");
}

// A fault stands at its bar, and at its line
static void
check_chart_fault(Channel* const channel)
{
  json_t* const answer = channel_ask(
    channel,
    "chart check",
    json_pack("{ss}",
              "text",
              "title = \"x\";\nmeter = \"4/4\";\nscale = \"by chord\";\n"
              "key = \"C major\";\n"
              "bars = [ \"C7\",\n \"H7\" ];\n"));
  const json_t* const fault = json_array_get(
    json_object_get(json_object_get(answer, "answer"), "faults"), 0);
  must(json_integer_value(json_object_get(fault, "bar")) == 2 &&
         json_integer_value(json_object_get(fault, "line")) == 6,
       "a fault stands at its bar");
  json_decref(answer);
}

// How many ideas there are, and what the latest is called: owned by the caller
static size_t
read_notebook(Channel* const channel, json_t** const name)
{
  json_t* const answer = channel_ask(channel, "notebook", NULL);
  json_t* const ideas =
    json_object_get(json_object_get(answer, "answer"), "ideas");
  const size_t n = json_array_size(ideas);
  *name = json_incref(json_object_get(json_array_get(ideas, 0), "name"));
  json_decref(answer);
  return n;
}

static void
check_notebook(Channel* const channel)
{
  json_t*   name = NULL;
  const int n    = (int)read_notebook(channel, &name);
  json_decref(name);
  must(n > 0, "ideas are kept");
  must(
    is_done(channel_ask(channel,
                        "idea rename",
                        json_pack("{si ss}", "number", n, "name", "Bridge"))),
    "one is named");
  must((int)read_notebook(channel, &name) == n && json_is_string(name) &&
         !strcmp(json_string_value(name), "Bridge"),
       "... and is called so");
  json_decref(name);
  must(is_done(
         channel_ask(channel, "idea remove", json_pack("{si}", "number", n))),
       "... and is taken out");
  must((int)read_notebook(channel, &name) == n - 1, "... for good");
  json_decref(name);
}

// The tempo that is set for somebody, as a page shows it
static void
must_have_tempo(Channel* const channel, const char* const text)
{
  json_t* const answer =
    channel_ask(channel, "people edit", json_pack("{ss}", "id", "ada"));
  const char* const is = json_string_value(json_object_get(
    json_object_get(json_object_get(answer, "answer"), "values"), "tempo"));
  must(is && strcmp(is, text) == 0, "their tempo is shown");
  json_decref(answer);
}

static void
check_left_out(Channel* const channel)
{
  static const char* const tempos[] = {"88", ""};
  must_have_tempo(channel, "");
  for (unsigned i = 0; i < 2; ++i) {
    must(is_done(channel_ask(
           channel,
           "people set",
           json_pack(
             "{ss ss ss}", "id", "ada", "key", "tempo", "value", tempos[i]))),
         "a tempo is set, and left out again");
    must_have_tempo(channel, tempos[i]);
  }
}

// Return a value of Ada's, as it is shown after a change
static bool
becomes(Channel* const    channel,
        const char* const key,
        const char* const value,
        const char* const shown)
{
  const bool    is_set = is_done(channel_ask(
    channel,
    "people set",
    json_pack("{ss ss ss}", "id", "ada", "key", key, "value", value)));
  json_t* const answer =
    channel_ask(channel, "people edit", json_pack("{ss}", "id", "ada"));
  const char* const is         = json_string_value(json_object_get(
    json_object_get(json_object_get(answer, "answer"), "values"), key));
  const bool        becomes_so = is_set && is && strcmp(is, shown) == 0;
  json_decref(answer);
  return becomes_so;
}

// What is wrong is said without the path of a file
static void
check_fault_of_set(Channel* const channel)
{
  json_t* const answer = channel_ask(
    channel,
    "people set",
    json_pack("{ss ss ss}", "id", "ada", "key", "lowest", "value", "C6"));
  const char* const text = json_string_value(
    json_object_get(json_object_get(answer, "fault"), "text"));
  must(text && strstr(text, "octave") && !strchr(text, '/'),
       "a fault is told without a path");
  json_decref(answer);
}

static void
check_set(Channel* const channel)
{
  must(becomes(channel, "rung", "notes=2,rhythm=1", "notes=2,rhythm=1"),
       "a rung is set in part");
  must(becomes(channel, "rung", "shape=2", "shape=2"), "... and another");
  must(becomes(channel, "rung", "", ""), "... and left out");
  must(becomes(channel, "target", "75", "75 %"), "a target in a hundred");
  must(becomes(channel, "target", "80 %", "80 %"), "... with its sign");
  must(becomes(channel, "target", "0.9", "90 %"), "... and as a share");
  check_fault_of_set(channel);
}

// Whether what was asked for was done for somebody of an ID; the answer goes
static bool
is_of(json_t* const answer, const char* const id)
{
  const char* const is =
    json_string_value(json_object_get(json_object_get(answer, "answer"), "id"));
  const bool is_so = is && strcmp(is, id) == 0;
  json_decref(answer);
  return is_so;
}

// Send an export, and look at it: whether it is somebody else's
static bool
send_other(Channel* const channel, const json_t* const export)
{
  const json_t* const text =
    json_object_get(json_object_get(export, "answer"), "base64");
  must(is_done(channel_ask(channel, "file begin", NULL)), "a file begins");
  must(
    is_done(channel_ask(channel,
                        "file part",
                        json_pack("{ss}", "base64", json_string_value(text)))),
    "... and is sent");
  json_t* const looked   = channel_ask(channel, "people import look", NULL);
  const bool    is_other = json_is_true(
    json_object_get(json_object_get(looked, "answer"), "is_other"));
  json_decref(looked);
  return is_other;
}

// Nobody is called Ada yet, and nobody is in the end
static void
check_somebody_else(Channel* const channel)
{
  static const char* const ids[] = {"ada", "ada2", "ada3"};
  json_t* const            name  = json_pack("{ss}", "name", "Ada");
  must(is_of(channel_ask(channel, "people add", json_incref(name)), "ada"),
       "Ada is added");
  json_t* const export =
    channel_ask(channel, "people export", json_pack("{ss}", "id", "ada"));
  must(is_done(
         channel_ask(channel, "people remove", json_pack("{ss}", "id", "ada"))),
       "... is removed");
  must(is_of(channel_ask(channel, "people add", name), "ada"),
       "... and another one comes");
  must(send_other(channel, export), "the first one is somebody else");
  check_question(channel, "people import", "{}", NULL, true);
  must(
    is_of(channel_ask(channel, "people import", json_pack("{sb}", "apart", 1)),
          "ada2"),
    "... who is brought in apart");
  must(!send_other(channel, export), "... and is known from then on");
  must(is_of(channel_ask(channel, "people undo", NULL), "ada2"),
       "a removal is undone with no two made one");
  must(
    is_of(channel_ask(channel, "people add", json_pack("{ss}", "name", "Ada")),
          "ada3"),
    "a third one comes");
  json_decref(export);
  for (unsigned i = 0; i < 3; ++i) {
    must(
      is_done(channel_ask(channel,
                          "people remove",
                          json_pack("{ss sb}", "id", ids[i], "for_good", 1))),
      "they go again");
  }
}

static void
check_places(Channel* const channel)
{
  static const struct {
    const char* ask;
    const char* fields;
    const char* member;
    bool        is_fault;
  } questions[] = {
    {"session", "{\"name\": \"../x.mid\"}", "name", true},
    {"session", "{\"name\": \"trade-/../../../x.mid\"}", "name", true},
    {"ideas", "{\"from\": \"last\"}", "ideas", false},
    {"ideas", "{\"from\": \"kept\", \"number\": 1}", "ideas", false},
    {"ideas", "{\"from\": \"kept\", \"number\": 999}", NULL, true},
    {"ideas", "{\"from\": \"afar\"}", "from", true},
    {"ideas", "{\"from\": \"new\"}", "ideas", false},
    {"idea keep", "{\"number\": 1}", "number", false},
    {"idea keep", "{\"number\": 999}", "number", true},
    {"notebook", "{}", "ideas", false},
    {"idea rename", "{\"number\": 999, \"name\": \"x\"}", NULL, true},
    {"idea remove", "{\"number\": 999}", NULL, true},
    {"ideas",
     "{\"from\": \"new\", \"rung\": \"2\", \"count\": 4}",
     "ideas",
     false},
    {"ideas", "{\"from\": \"new\", \"rung\": \"99\"}", "rung", true},
    {"warmup", "{\"minutes\": 10}", "items", false},
    {"warmup", "{\"minutes\": 2}", "minutes", true},
    {"progress", "{\"days\": 30}", "words", false},
    {"progress", "{\"days\": 30}", "table", false},
    {"sheet", "{\"kind\": \"svg\", \"key\": \"D\"}", "pages", false},
    {"sheet", "{\"kind\": \"pdf\"}", "base64", false},
    {"sheet", "{\"kind\": \"svg\", \"rung\": \"2\"}", "pages", false},
    {"sheet", "{\"kind\": \"svg\", \"rung\": \"99\"}", "rung", true},
    {"sheet",
     "{\"kind\": \"svg\", \"rhythms\": 10, \"seed\": 2}",
     "pages",
     false},
    {"sheet", "{\"kind\": \"svg\", \"rhythms\": 25}", "rhythms", true},
    {"sheet", "{\"kind\": \"pdf\", \"chart\": \"/etc/x\"}", "chart", true},
    {"charts", "{}", "charts", false},
    {"chart read", "{\"name\": \"blues\"}", "text", false},
    {"chart read", "{\"name\": \"../barter.cfg\"}", "name", true},
    {"chart read", "{\"name\": \"/etc/passwd\"}", "name", true},
    {"chart check", "{\"text\": \"}{\"}", "faults", false},
    {"chart save", "{\"name\": \"../x\", \"text\": \"\"}", NULL, true},
    {"people add", "{\"name\": \"Ada\"}", "id", false},
    {"people edit", "{\"id\": \"ada\"}", "rows", false},
    {"people edit", "{\"id\": \"../x\"}", "id", true},
    {"people set",
     "{\"id\": \"ada\", \"key\": \"tempo\", \"value\": 9000}",
     "tempo",
     true},
    {"people class", "{\"sort\": \"look\"}", "list", false},
    {"people class", "{\"sort\": \"age\"}", "sort", true},
    {"sheet", "{\"kind\": \"all\"}", "base64", false},
    {"sheet", "{\"kind\": \"jpg\"}", "kind", true},
    {"people export", "{\"id\": \"ada\"}", "base64", false},
    {"people import", "{}", NULL, true},
    {"file part", "{\"base64\": \"aGk=\"}", NULL, true},
    {"file end", "{}", NULL, true},
  };
  check_look_back(channel);
  check_chart_fault(channel);
  for (unsigned i = 0; i < sizeof(questions) / sizeof(*questions); ++i) {
    check_question(channel,
                   questions[i].ask,
                   questions[i].fields,
                   questions[i].member,
                   questions[i].is_fault);
  }
  check_notebook(channel);
  must(
    is_done(channel_ask(
      channel,
      "people set",
      json_pack("{ss ss ss}", "id", "ada", "key", "goals", "value", "a; b"))),
    "something is set");
  must(
    is_done(channel_ask(
      channel,
      "people set",
      json_pack("{ss ss ss}", "id", "ada", "key", "caps.notes", "value", "5"))),
    "a cap is set");
  must(
    is_done(channel_ask(
      channel,
      "people set",
      json_pack("{ss ss ss}", "id", "ada", "key", "caps.notes", "value", ""))),
    "... and taken away");
  check_left_out(channel);
  check_set(channel);
  must(is_done(
         channel_ask(channel, "people remove", json_pack("{ss}", "id", "ada"))),
       "someone is removed");
  check_question(channel, "people edit", "{\"id\": \"ada\"}", "id", true);
  must(is_done(channel_ask(channel, "people undo", NULL)), "... and is back");
  check_question(channel, "people edit", "{\"id\": \"ada\"}", "rows", false);
  must(is_done(channel_ask(channel,
                           "people remove",
                           json_pack("{ss sb}", "id", "ada", "for_good", 1))),
       "someone is removed for good");
  check_question(channel, "people undo", "{}", NULL, true);
  check_question(channel, "people edit", "{\"id\": \"ada\"}", "id", true);
  check_somebody_else(channel);
}

// Whether one of the next turns is the partner's, with notes
static bool
hear_partner(Channel* const channel)
{
  bool has = false;
  for (unsigned i = 0; i < 4 && !has; ++i) {
    json_t* const     told = channel_wait_for(channel, "turn", PATIENT_MS);
    const json_t*     turn = json_object_get(told, "turn");
    const char* const by   = json_string_value(json_object_get(turn, "by"));
    has                    = by && !strcmp(by, "partner") &&
          json_array_size(json_object_get(turn, "notes"));
    json_decref(told);
  }
  return has;
}

static void
check_exercise(json_t* const session, const char* const kind, const int number)
{
  const json_t* const exercise = json_object_get(session, "exercise");
  const char* const   is = json_string_value(json_object_get(session, "kind"));
  must(is && !strcmp(is, kind), kind);
  must(json_integer_value(json_object_get(exercise, "number")) == number,
       "... the exercise that was asked for");
  must(json_object_get(exercise, "staff") != NULL, "... as music, too");
  json_decref(session);
}

// An exercise is played, and left for the next; an idea is tried
static void
check_exercises(Channel* const channel)
{
  check_question(channel, "warmup begin", "{\"number\": 99}", "number", true);
  must(is_done(channel_ask(channel, "warmup begin", NULL)), "a warm-up begins");
  check_exercise(wait_until_it(channel, "plays"), "warm-up", 1);
  must(hear_partner(channel), "... its first exercise is played to one");
  check_question(channel, "easier", "{}", NULL, true);
  check_question(channel, "warmup", "{\"minutes\": 5}", NULL, true);
  must(is_done(channel_ask(channel, "warmup shorter", NULL)), "... shorter");
  must(is_done(channel_ask(channel, "again", NULL)), "... again");
  check_exercise(wait_until_it(channel, "count-in"), "warm-up", 1);
  must(is_done(channel_ask(channel, "skip", NULL)), "... skipped");
  check_exercise(wait_until_it(channel, "count-in"), "warm-up", 2);
  must(is_done(channel_ask(channel, "stop", NULL)), "... stopped");
  json_decref(wait_until_it(channel, "over"));
  check_question(channel, "warmup shorter", "{}", NULL, true);

  check_question(channel, "ideas", "{\"from\": \"new\"}", "ideas", false);
  check_question(channel, "idea try", "{\"number\": 99}", "number", true);
  must(
    is_done(channel_ask(channel, "idea try", json_pack("{si}", "number", 1))),
    "an idea is tried");
  check_exercise(wait_until_it(channel, "plays"), "idea", 1);
  must(hear_own_turn(channel), "... and heard");
  must(is_done(channel_ask(channel, "stop", NULL)), "... and left");
  json_decref(wait_until_it(channel, "over"));
}

// Most of what a page is told when it comes is kept between two of them
static void
check_newcomer(const Program* const program,
               const json_int_t     choruses,
               const bool           has_turns)
{
  Channel             newcomer;
  json_t* const       told = open_page(&newcomer, program);
  const json_t* const set  = json_object_get(told, "set");
  const json_t* const form = json_object_get(set, "form");
  must(json_integer_value(json_object_get(form, "choruses")) == choruses,
       "who comes is told of the form as it is now");
  must((json_array_size(json_object_get(set, "turns")) > 0) == has_turns,
       "... and of the turns");
  must((json_object_size(json_object_get(set, "staves")) > 0) == has_turns,
       "... and their staves");
  must(json_object_get(json_object_get(set, "me"), "plays") == json_false(),
       "... and that another one plays");
  json_decref(told);
  channel_close(&newcomer);
}

static const char*
title_of(const json_t* const told)
{
  const json_t* const form =
    json_object_get(json_object_get(told, "set"), "form");
  const char* const title = json_string_value(json_object_get(form, "title"));
  return title ? title : "";
}

// What was played is told over the form it was played over, before the next
static void
check_other_form(Channel* const player, const Program* const program)
{
  Channel newcomer;
  must(is_done(
         channel_ask(player, "choose", choice("chart", json_string("waltz")))),
       "another chart is chosen");
  (void)show_key(&newcomer, program);
  json_t* const       first = channel_wait_for(&newcomer, "state", PATIENT_MS);
  json_t* const       rest  = whole_state(&newcomer);
  const json_t* const set   = json_object_get(first, "set");
  must(json_array_size(json_object_get(set, "turns")) > 0,
       "who comes is told of the turns first");
  must(strcmp(title_of(first), title_of(rest)) != 0 && *title_of(first),
       "... with the form that they were played over");
  json_decref(first);
  json_decref(rest);
  channel_close(&newcomer);
}

// Nobody who comes is told what somebody else played
static void
check_other_person(Channel* const player, const Program* const program)
{
  Channel newcomer;
  must(is_of(channel_ask(player, "people add", json_pack("{ss}", "name", "Bo")),
             "bo"),
       "Bo is added");
  must(is_done(
         channel_ask(player, "people choose", json_pack("{ss}", "id", "bo"))),
       "... and plays");
  json_t* const       told = open_page(&newcomer, program);
  const json_t* const set  = json_object_get(told, "set");
  must(json_array_size(json_object_get(set, "turns")) == 0 &&
         json_object_size(json_object_get(set, "staves")) == 0,
       "... and what was played before is told to nobody");
  json_decref(told);
  channel_close(&newcomer);
}

static void
check_playing(const Program* const program)
{
  Channel       player;
  json_t* const told = open_page(&player, program);
  check_state(told);
  json_decref(told);
  check_faults(&player);
  choose_short(&player);
  must(is_done(
         channel_ask(&player, "choose", choice("choruses", json_integer(7)))),
       "a few choruses are chosen");
  check_newcomer(program, 7, false);
  must(is_done(
         channel_ask(&player, "choose", choice("choruses", json_integer(99)))),
       "many choruses are chosen");
  must(is_done(channel_ask(&player, "begin", NULL)), "a session begins");
  must(is_fault_of(channel_ask(&player, "begin", NULL), NULL), "... but once");
  must(hear_own_turn(&player), "what the page plays is heard");
  json_t* const staff = channel_wait_for(&player, "staff", PATIENT_MS);
  must(json_object_get(staff, "svg") || json_object_get(staff, "missing"),
       "a turn is engraved, or it is said what is missing");
  json_decref(staff);
  check_newcomer(program, 99, true);
  check_watching(&player, program);
  check_band_goes_on(&player, program);
  check_changes(&player);
  must(is_done(channel_ask(&player, "stop", NULL)), "it stops");
  json_decref(wait_until_it(&player, "over"));
  check_whole_session(&player);
  check_places(&player);
  check_exercises(&player);
  check_other_form(&player, program);
  check_other_person(&player, program);
  channel_close(&player);
}

static bool
says_next(Program* const program, const char* const words)
{
  char line[LINE] = "";
  return fgets(line, LINE, program->out) && strstr(line, words) != NULL;
}

static void
check_second_start(const Program* const first)
{
  Program second;
  begin(&second, NULL, NULL);
  must(!strcmp(first->address, second.address),
       "a second start finds the first");
  must(says_next(&second, "open already"), "... and says so");
  must(wait_for_end(&second) == 0, "... and is done");
}

// Told to end, it is found no more, though it still has leave to take
static void
check_next_start(Program* const first)
{
  Program next;
  Channel channel;
  json_decref(open_page(&channel, first));
  must(is_done(channel_ask(&channel, "take over", NULL)) &&
         is_done(channel_ask(&channel, "close", NULL)),
       "it is told to end");
  begin(&next, NULL, NULL);
  must(next.port && strcmp(next.key, first->key) != 0,
       "a start right after is a page of its own");
  must(waitpid(next.process, NULL, WNOHANG) == 0, "... and stays");
  channel_close(&channel);
  (void)wait_for_end(first);
  *first = next;
}

// What is killed leaves nothing that a start would believe
static void
check_start_after_kill(Program* const first)
{
  Program next;
  (void)kill(first->process, SIGKILL);
  (void)wait_for_end(first);
  begin(&next, NULL, NULL);
  must(next.port && strcmp(next.key, first->key) != 0,
       "a start after a kill is a page of its own");
  *first = next;
}

static void
check_taken_port(const Program* const first)
{
  char    port[16];
  Program second;
  (void)snprintf(port, sizeof(port), "%u", first->port);
  char folder[64];
  (void)snprintf(folder, sizeof(folder), "%s/elsewhere", getenv("HOME"));
  (void)setenv("XDG_DATA_HOME", folder, 1);
  begin(&second, "--port", port);
  must(strstr(second.address, "barter: port ") && strstr(second.address, port),
       "that a port is taken is said in one line");
  must(wait_for_end(&second) == 3, "... and it ends as the system's fault");
  (void)unsetenv("XDG_DATA_HOME");
}

static void
check_missing_engraver(void)
{
  Program program;
  Channel player;
  (void)setenv("PATH", "/nonexistent", 1);
  begin(&program, NULL, NULL);
  json_decref(open_page(&player, &program));
  choose_short(&player);
  (void)is_done(channel_ask(&player, "begin", NULL));
  must(hear_own_turn(&player), "without the engraver a session goes on");
  json_t* const     staff = channel_wait_for(&player, "staff", PATIENT_MS);
  const char* const missing =
    json_string_value(json_object_get(staff, "missing"));
  must(missing && strstr(missing, "abcm2ps"), "... and says what is missing");
  json_decref(staff);
  must(is_done(channel_ask(&player, "close", NULL)), "a page closes it all");
  must(wait_for_end(&program) == 0, "... and the program ends well");
  channel_close(&player);
}

// An opener of desktops as xdg-open(1) tells of it: 3 where there is no browser
static void
check_missing_browser(void)
{
  Program           program;
  const char* const script = "#!/bin/sh\nexit 3\n";
  const int         file   = open("xdg-open", O_WRONLY | O_CREAT, 0700);
  must(file >= 0 &&
         write(file, script, strlen(script)) == (ssize_t)strlen(script) &&
         close(file) == 0,
       "there is an opener");
  (void)setenv("PATH", getenv("HOME"), 1);
  begin_by(&program, "--click", NULL, NULL);
  must(program.port != 0, "without a browser the page is there");
  must(says_next(&program, "no browser could be opened"),
       "... and it is said that there is none");
  must(end(&program) == 0, "... to its end");
}

// What a program made in passing
static bool
has_scratch(const pid_t process)
{
  char   pattern[64];
  glob_t found;
  (void)snprintf(
    pattern, sizeof(pattern), "/tmp/barter-page-%d-*", (int)process);
  const bool has = glob(pattern, 0, NULL, &found) == 0;
  globfree(&found);
  return has;
}

static void
check_scratch(void)
{
  Program killed;
  Program next;
  begin(&killed, NULL, NULL);
  must(has_scratch(killed.process), "there is a folder for what is in passing");
  (void)kill(killed.process, SIGKILL);
  (void)wait_for_end(&killed);
  must(has_scratch(killed.process), "... that a kill leaves behind");
  begin(&next, NULL, NULL);
  must(!has_scratch(killed.process), "... and the next start takes away");
  (void)end(&next);
  must(!has_scratch(next.process), "... as an end does");
}

int
main(void)
{
  char    home[] = "/tmp/test_page_XXXXXX";
  Program program;
  if (!mkdtemp(home) || chdir(home) != 0) {
    return 1;
  }
  (void)signal(SIGPIPE, SIG_IGN);
  (void)setenv("HOME", home, 1);
  (void)unsetenv("XDG_DATA_HOME");
  (void)unsetenv("XDG_CONFIG_HOME");
  begin(&program, NULL, NULL);
  if (must(program.port != 0, "the address is the first line")) {
    check_address(&program);
    check_files(&program);
    check_knocking(&program);
    check_key(&program);
    check_messages(&program);
    check_playing(&program);
    check_second_start(&program);
    check_taken_port(&program);
    check_next_start(&program);
    check_start_after_kill(&program);
    must(end(&program) == 0, "it ends well by a signal");
    check_scratch();
    check_missing_browser();
    check_missing_engraver();
  }
  char remove[64];
  (void)snprintf(remove, sizeof(remove), "/bin/rm -rf %s", home);
  return n_failed || system(remove) != 0;
}
