// The messages of a page, read. What is right is told by wire.h; JSON by RFC
// 8259.

#include "responder/page/wire.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>
#include <stdio.h>
#include <string.h>

static const WireRow rows[] = {
  {.ask    = "choose",
   .fields = {{"name", WIRE_TEXT, 0, 8, false},
              {"value", WIRE_ANY, 0, 0, false}}},
  {.ask    = "hear",
   .fields = {{"turn", WIRE_WHOLE, 1, 99, true},
              {"loud", WIRE_FLAG, 0, 0, true}}},
  {.ask = "clock", .fields = {{"sent", WIRE_NUMBER, -10, 10, false}}},
};

enum { N_ROWS = sizeof(rows) / sizeof(*rows) };

static WireMessage message;
static const char* field;
static Fault       fault;

static Status
take(const char* const text)
{
  wire_free(&message);
  return wire_read(rows, N_ROWS, text, strlen(text), &message, &field, &fault);
}

typedef struct {
  char   text[120];
  Status status;
  char   field[12];
} MessageRow;

ParameterizedTestParameters(wire, messages)
{
  static MessageRow table[] = {
    {"{\"n\":1,\"ask\":\"hear\"}", STATUS_OK, ""},
    {"{\"n\":1,\"ask\":\"hear\",\"turn\":null}", STATUS_OK, ""},
    {"{\"n\":1,\"ask\":\"hear\",\"turn\":1,\"loud\":true}", STATUS_OK, ""},
    {"{\"n\":1,\"ask\":\"hear\",\"turn\":99}", STATUS_OK, ""},
    {"{\"n\":1,\"ask\":\"hear\",\"turn\":0}", STATUS_RANGE, "turn"},
    {"{\"n\":1,\"ask\":\"hear\",\"turn\":100}", STATUS_RANGE, "turn"},
    {"{\"n\":1,\"ask\":\"hear\",\"turn\":1.5}", STATUS_RANGE, "turn"},
    {"{\"n\":1,\"ask\":\"hear\",\"loud\":1}", STATUS_RANGE, "loud"},
    {"{\"n\":1,\"ask\":\"hear\",\"speed\":1}", STATUS_RANGE, ""},
    {"{\"n\":1,\"ask\":\"sing\"}", STATUS_RANGE, ""},
    {"{\"n\":1,\"ask\":\"clock\"}", STATUS_RANGE, "sent"},
    {"{\"n\":1,\"ask\":\"clock\",\"sent\":-10}", STATUS_OK, ""},
    {"{\"n\":1,\"ask\":\"clock\",\"sent\":10.01}", STATUS_RANGE, "sent"},
    {"{\"n\":1,\"ask\":\"choose\",\"name\":\"12345678\",\"value\":1}",
     STATUS_OK,
     ""},
    {"{\"n\":1,\"ask\":\"choose\",\"name\":\"123456789\",\"value\":1}",
     STATUS_RANGE,
     "name"},
    {"{\"n\":1,\"ask\":\"choose\",\"name\":\"a\",\"value\":[]}",
     STATUS_RANGE,
     "value"},
    {"{\"n\":-1,\"ask\":\"hear\"}", STATUS_SYNTAX, ""},
    {"{\"n\":1.0,\"ask\":\"hear\"}", STATUS_SYNTAX, ""},
    {"{\"ask\":\"hear\"}", STATUS_SYNTAX, ""},
    {"{\"n\":1,\"n\":2,\"ask\":\"hear\"}", STATUS_SYNTAX, ""},
    {"{\"n\":1,\"ask\":\"hear\"} {}", STATUS_SYNTAX, ""},
    {"{\"play\":\"none\"}", STATUS_OK, ""},
    {"{\"play\":\"on\",\"pitch\":127,\"velocity\":127,\"at\":1}",
     STATUS_OK,
     ""},
    {"{\"play\":\"on\",\"pitch\":0,\"velocity\":1,\"at\":0.5}", STATUS_OK, ""},
    {"{\"play\":\"off\",\"pitch\":0,\"at\":0}", STATUS_OK, ""},
    {"{\"play\":\"off\",\"pitch\":-1,\"at\":0}", STATUS_SYNTAX, ""},
    {"{\"play\":\"on\",\"pitch\":128,\"velocity\":1,\"at\":0}",
     STATUS_SYNTAX,
     ""},
    {"{\"play\":\"on\",\"pitch\":1,\"velocity\":128,\"at\":0}",
     STATUS_SYNTAX,
     ""},
    {"{\"play\":\"on\",\"pitch\":1,\"velocity\":0,\"at\":0}",
     STATUS_SYNTAX,
     ""},
    {"{\"play\":\"up\",\"pitch\":1,\"velocity\":1,\"at\":0}",
     STATUS_SYNTAX,
     ""},
  };
  return cr_make_param_array(MessageRow, table, sizeof(table) / sizeof(*table));
}

ParameterizedTest(MessageRow* row, wire, messages)
{
  cr_assert_eq(take(row->text), row->status, "%s", row->text);
  cr_assert_str_eq(field ? field : "", row->field, "%s", row->text);
  wire_free(&message);
}

Test(wire, values)
{
  cr_assert_eq(
    take("{\"n\":7,\"ask\":\"choose\",\"name\":\"tempo\",\"value\":132}"),
    STATUS_OK);
  cr_assert_eq(message.what, WIRE_REQUEST);
  cr_assert_eq(message.n, 7);
  cr_assert_eq(message.row, 0);
  cr_assert_str_eq(message.values[0].text, "tempo");
  cr_assert_str_eq(message.values[1].text, "132");
  cr_assert_eq(
    take("{\"n\":8,\"ask\":\"choose\",\"name\":\"x\",\"value\":true}"),
    STATUS_OK);
  cr_assert(message.values[1].flag);
  cr_assert_eq(
    take("{\"play\":\"on\",\"pitch\":60,\"velocity\":9,\"at\":12.25}"),
    STATUS_OK);
  cr_assert_eq(message.what, WIRE_ON);
  cr_assert_eq(message.pitch, 60);
  cr_assert_eq(message.velocity, 9);
  cr_assert_float_eq(message.at_ms, 12.25, 1e-12);
  wire_free(&message);
}

// Whatever is read is in its range
static void
check_message(void)
{
  if (message.what == WIRE_REQUEST) {
    cr_assert_lt(message.row, N_ROWS);
    cr_assert_geq(message.n, 0);
    cr_assert(
      message.row != 1 || !message.values[0].is_there ||
      (message.values[0].number >= 1 && message.values[0].number <= 99));
  } else if (message.what != WIRE_NONE) {
    cr_assert_leq(message.pitch, 127);
    cr_assert(message.velocity >= 1 && message.velocity <= 127);
  }
}

Test(wire, mutated)
{
  static const char* const messages[] = {
    "{\"n\":1,\"ask\":\"hear\",\"turn\":12,\"loud\":true}",
    "{\"n\":1,\"ask\":\"choose\",\"name\":\"tempo\",\"value\":\"swing\"}",
    "{\"play\":\"on\",\"pitch\":60,\"velocity\":9,\"at\":12.25}",
  };
  unsigned state  = 1;
  unsigned n_read = 0;
  for (unsigned i = 0; i < 10000; ++i) {
    char text[96];
    (void)snprintf(text, sizeof(text), "%s", messages[i % 3]);
    state = state * 1664525U + 1013904223U; // Knuth, TAOCP 2, 3.3.4
    text[(state >> 8) % strlen(text)] = (char)(state >> 24);
    if (take(text) == STATUS_OK) {
      check_message();
      ++n_read;
    } else {
      cr_assert_neq(fault.text[0], '\0');
    }
  }
  cr_assert_gt(n_read, 100); // Some are still messages
  wire_free(&message);
}
