#include "profiles/exchange/inside.h"

#include "core/settings/settings.h"
#include "profiles/learner/learner_file.h"

#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

enum { PERSONS_MAX = 1000, VERSION = 1 };

static const int64_t changed_most = INT64_C(253402300799999999); // Year 9999

Status
reading_wrong(const Reading* const reading, const char* const format, ...)
{
  char    text[sizeof(reading->fault->text)];
  va_list args;
  va_start(args, format);
  (void)vsnprintf(text, sizeof(text), format, args);
  va_end(args);
  return fault_set(
    reading->fault, STATUS_SYNTAX, reading->name, reading->line, "%s", text);
}

Status
reading_id(const Reading* const reading,
           JournalId* const     id,
           const json_t* const  value)
{
  const char* const text = json_string_value(value);
  return text && journal_id_parse(id, text)
           ? STATUS_OK
           : reading_wrong(reading,
                           "an ID is to be 32 hexadecimal digits in quotes");
}

void
exchange_head_free(ExchangeHead* const head)
{
  free(head->persons);
  free(head->settings);
  *head = (ExchangeHead){.n_persons = 0};
}

static bool
are_columns(const JournalFields fields,
            const json_t* const list,
            const char* const   first)
{
  const unsigned n_first = first ? 1 : 0;
  bool           are     = json_array_size(list) == fields.n_fields + n_first;
  for (unsigned i = 0; are && i < fields.n_fields + n_first; ++i) {
    const char* const own =
      i < n_first ? first : fields.fields[i - n_first].name;
    const char* const text = json_string_value(json_array_get(list, i));
    are                    = text && strcmp(text, own) == 0;
  }
  return are;
}

static Status
check_head(const Reading* const reading, const json_t* const value)
{
  const char* const format =
    json_string_value(json_object_get(value, "format"));
  const json_t* const version = json_object_get(value, "version");
  if (!format || strcmp(format, "barter-learner") != 0) {
    return reading_wrong(
      reading, "is no learner's export; barter learner export writes one");
  }
  if (!json_is_integer(version) || json_integer_value(version) != VERSION) {
    return reading_wrong(
      reading,
      "is an export of another version; this program reads version %d",
      VERSION);
  }
  if (!are_columns(journal_session_fields(),
                   json_object_get(value, "session_columns"),
                   "id") ||
      !are_columns(
        journal_turn_fields(), json_object_get(value, "turn_columns"), NULL) ||
      !are_columns(
        journal_idea_fields(), json_object_get(value, "idea_columns"), "id")) {
    return reading_wrong(
      reading, "the columns are not those of version %d", VERSION);
  }
  return STATUS_OK;
}

static Status
take_persons(const Reading* const reading,
             ExchangeHead* const  head,
             const json_t* const  list)
{
  const size_t n = json_array_size(list);
  if (n < 1 || n > PERSONS_MAX) {
    return reading_wrong(
      reading, "persons is to be a list of 1 to %d IDs", PERSONS_MAX);
  }
  head->persons = calloc(n, sizeof(*head->persons));
  if (!head->persons) {
    return fault_memory(reading->fault, NULL);
  }
  Status status = STATUS_OK;
  for (size_t i = 0; !status && i < n; ++i) {
    status = reading_id(reading, &head->persons[i], json_array_get(list, i));
  }
  head->n_persons = n;
  return status;
}

/// Check settings that came from elsewhere as one's own are.
static Status
check_settings(const Reading* const reading, const char* const text)
{
  Faults* const faults   = calloc(1, sizeof(*faults));
  Settings*     settings = NULL;
  if (!faults) {
    return fault_memory(reading->fault, NULL);
  }
  Learner learner = learner_plain("");
  Status  status =
    settings_read(&settings, "learner.cfg", text, strlen(text), faults);
  if (!status) {
    status = learner_file_read(&learner, settings);
    settings_close(settings);
  }
  if (status) {
    char own[FAULT_TEXT_CAPACITY];
    status = reading_wrong(reading,
                           "its settings are at fault: %s",
                           fault_text(&faults->faults[0], own, sizeof(own)));
  }
  free(faults);
  return status;
}

static Status
take_settings(const Reading* const reading,
              ExchangeHead* const  head,
              json_t* const        value)
{
  const char* text    = NULL;
  size_t      length  = 0;
  json_int_t  changed = -1;
  if (json_is_null(value)) {
    return STATUS_OK;
  }
  if (json_unpack(
        value, "{sI ss% !}", "changed_us", &changed, "text", &text, &length) ||
      changed < 0 || changed > changed_most || strlen(text) != length) {
    return reading_wrong(reading,
                         "settings is to be null or have changed_us and text");
  }
  const Status status = check_settings(reading, text);
  if (status) {
    return status;
  }
  head->changed_us = changed;
  head->settings   = malloc(length + 1);
  if (!head->settings) {
    return fault_memory(reading->fault, NULL);
  }
  memcpy(head->settings, text, length + 1);
  return STATUS_OK;
}

Status
reading_head(const Reading* const reading,
             ExchangeHead* const  head,
             const json_t* const  value)
{
  const char* const learner =
    json_string_value(json_object_get(value, "learner"));
  Status status = check_head(reading, value);
  if (!status && (!learner || !people_is_id(learner))) {
    status = reading_wrong(reading, "learner is to be a learner's ID");
  }
  if (status) {
    return status;
  }
  memcpy(head->learner, learner, strlen(learner) + 1);
  status = take_persons(reading, head, json_object_get(value, "persons"));
  return status
           ? status
           : take_settings(reading, head, json_object_get(value, "settings"));
}
