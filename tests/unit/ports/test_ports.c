#include "core/ports/ports.h"
#include "support/loop.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <string.h>

static const PortList list = {5,
                              {"Midi Through:Midi Through Port-0 14:0",
                               "barter:in",
                               "Stage Piano:Stage Piano MIDI 1 20:0",
                               "Pad:Pad MIDI 1 24:0",
                               "Pad:Pad MIDI 2 24:1"}};

typedef struct {
  char     name[32];
  char     wanted[32]; ///< "-": nothing
  Status   status;
  unsigned index;
} Row;

ParameterizedTestParameters(ports, choose)
{
  static Row rows[] = {
    {"the obvious one", "-", STATUS_OK, 2},
    {"a number", "4", STATUS_OK, 3},
    {"a number too many", "6", STATUS_MISSING, 0},
    {"no number", "0", STATUS_MISSING, 0},
    {"a part", "stage", STATUS_OK, 2},
    {"a part of two", "pad", STATUS_RANGE, 0},
    {"a part of one of two", "MIDI 2", STATUS_OK, 4},
    {"a whole name", "barter:in", STATUS_OK, 1},
    {"a stranger", "organ", STATUS_MISSING, 0},
    {"no name", "", STATUS_MISSING, 0},
  };
  return cr_make_param_array(Row, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(const Row* row, ports, choose)
{
  unsigned          index  = 0;
  Fault             fault  = {.text = ""};
  const char* const wanted = strcmp(row->wanted, "-") ? row->wanted : NULL;
  cr_assert_eq(ports_choose(&list, PORT_IN, wanted, &index, &fault),
               row->status,
               "%s: %s",
               row->name,
               fault.text);
  cr_assert_eq(index, row->index, "%s", row->name);
  cr_assert_eq(!fault.text[0], row->status == STATUS_OK);
}

static void
count(void* const context, const MidiMessage* const message)
{
  unsigned* const n = context;
  *n += message->size == 3;
}

Test(ports, pulled_and_plugged_in)
{
  static const uint8_t key[] = {0x90, 60, 90};
  Ports*               ports = NULL;
  Port*                in    = NULL;
  unsigned             n     = 0;
  Fault                fault;
  cr_assert_eq(loop_open(&ports), STATUS_OK);
  loop_plug(ports, PORT_IN, "Piano 20:0");
  const PortWish wish = {PORT_IN, false, "Piano 20:0", count, &n};
  cr_assert_eq(port_open(&in, ports, wish, &fault), STATUS_OK);
  loop_play(ports, "Piano 20:0", key, sizeof(key));
  cr_assert_eq(n, 1);

  loop_pull(ports, PORT_IN, "Piano 20:0");
  cr_assert(!port_is_there(in));
  cr_assert_eq(port_reopen(in), STATUS_MISSING);
  loop_play(ports, "Piano 20:0", key, sizeof(key));
  cr_assert_eq(n, 1);

  loop_plug(ports, PORT_IN, "Piano 24:0"); // Another number, the same device
  cr_assert(port_is_there(in));
  cr_assert_eq(port_reopen(in), STATUS_OK);
  loop_play(ports, "Piano 24:0", key, sizeof(key));
  cr_assert_eq(n, 2);
  port_close(in);
  ports_close(ports);
}

Test(ports, sent_and_taken)
{
  static const uint8_t key[] = {0x91, 64, 80};
  Ports*               ports = NULL;
  Port*                out   = NULL;
  MidiMessage          message;
  Fault                fault;
  cr_assert_eq(loop_open(&ports), STATUS_OK);
  const PortWish stranger = {PORT_OUT, false, "nobody", NULL, NULL};
  cr_assert_eq(port_open(&out, ports, stranger, &fault), STATUS_MISSING);
  const PortWish own = {PORT_OUT, true, "out", NULL, NULL};
  cr_assert_eq(port_open(&out, ports, own, &fault), STATUS_OK);
  cr_assert_eq(port_send(out, key, sizeof(key)), STATUS_OK);
  cr_assert(loop_take(ports, &message));
  cr_assert_eq(memcmp(message.bytes, key, 3), 0);
  cr_assert(!loop_take(ports, &message));
  cr_assert(ports_are_alive(ports));
  loop_kill(ports);
  cr_assert(!ports_are_alive(ports));
  port_close(out);
  ports_close(ports);
}
