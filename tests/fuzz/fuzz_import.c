// Any bytes as a learner's export: it is read to its end, or there is a fault
// that says where and why not; and whatever is handed over keeps to its limits.

#include "core/settings/utf8.h"
#include "profiles/exchange/exchange.h"
#include "target.h"

#include <stdlib.h>
#include <string.h>

/// What was handed over so far.
typedef struct {
  unsigned n_heads;
  unsigned n_sessions;
  unsigned n_turns;
} Count;

static void
must(const bool holds)
{
  if (!holds) {
    abort();
  }
}

static void
must_be_right(const JournalFields fields, const void* const record)
{
  must(journal_is_right(fields, record));
  for (unsigned i = 0; i < fields.n_fields; ++i) {
    const JournalField* const field = &fields.fields[i];
    if (field->kind == JOURNAL_TEXT) {
      const char* const text = journal_field_text(field, record);
      must(utf8_is_line(text) && (int64_t)strlen(text) < field->most);
    }
  }
}

static Status
check_head(void* const               context,
           const ExchangeHead* const head,
           Fault* const              fault)
{
  Count* const count = context;
  (void)fault;
  must(count->n_heads++ == 0);
  must(people_is_id(head->learner) && head->n_persons >= 1);
  must(head->changed_us >= 0);
  return STATUS_OK;
}

static Status
check_session(void* const                 context,
              const JournalSession* const session,
              Fault* const                fault)
{
  Count* const count = context;
  (void)fault;
  must(count->n_heads == 1);
  must_be_right(journal_session_fields(), session);
  ++count->n_sessions;
  return STATUS_OK;
}

static Status
check_turn(void* const              context,
           const JournalTurn* const turn,
           Fault* const             fault)
{
  Count* const count = context;
  (void)fault;
  must(count->n_sessions > 0);
  must_be_right(journal_turn_fields(), turn);
  ++count->n_turns;
  return STATUS_OK;
}

int
LLVMFuzzerTestOneInput(const uint8_t* const data, const size_t size)
{
  // A stream in memory cannot be empty
  FILE* const stream = size ? fmemopen((void*)(uintptr_t)data, size, "rb")
                            : fopen("/dev/null", "rb");
  must(stream);

  Count                count  = {.n_turns = 0};
  Fault                fault  = {.status = STATUS_OK};
  const ExchangeReader reader = {
    check_head, check_session, check_turn, NULL, &count, false};
  const Status status = exchange_read(stream, "f", &reader, &fault);
  if (status == STATUS_OK) {
    must(count.n_heads == 1 && !fault.status);
  } else {
    must(status == STATUS_SYNTAX || status == STATUS_FULL);
    must(fault.status == status && fault.line > 0 && fault.text[0]);
  }
  (void)fclose(stream);
  return 0;
}
