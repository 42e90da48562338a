// Any bytes as a message of a page: what is read is in its range.

#include "responder/page/requests.h"
#include "target.h"

#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

static void
must(const bool holds)
{
  if (!holds) {
    abort();
  }
}

static void
check_value(const WireField* const field, const WireValue* const value)
{
  if (!value->is_there) {
    must(field->may_lack);
  } else if (field->kind == WIRE_TEXT) {
    must(value->text && strlen(value->text) <= (size_t)field->most);
  } else if (field->kind == WIRE_WHOLE || field->kind == WIRE_NUMBER) {
    must(value->number >= field->least && value->number <= field->most);
  } else if (field->kind == WIRE_ANY) {
    must(value->text && strlen(value->text) < WIRE_VALUE_CAPACITY);
  }
}

static void
check_request(const WireRow* const row, const WireMessage* const message)
{
  must(message->n >= 0);
  for (unsigned i = 0; row->fields[i].name; ++i) {
    check_value(&row->fields[i], &message->values[i]);
  }
}

int
LLVMFuzzerTestOneInput(const uint8_t* const data, const size_t size)
{
  unsigned             n_rows = 0;
  const WireRow* const rows   = requests_table(&n_rows);
  const char*          field  = NULL;
  WireMessage          message;
  Fault                fault;
  const Status         status =
    wire_read(rows, n_rows, (const char*)data, size, &message, &field, &fault);
  must(status == STATUS_OK || fault.text[0]);
  if (!status && message.what == WIRE_REQUEST) {
    must(message.row < n_rows);
    check_request(&rows[message.row], &message);
  } else if (!status && message.what != WIRE_NONE) {
    must(message.pitch <= 127 && message.velocity >= 1 &&
         message.velocity <= 127);
  }
  wire_free(&message);
  return 0;
}
