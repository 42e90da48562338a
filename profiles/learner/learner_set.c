#include "profiles/learner/learner_set.h"

#include "core/music/text.h"
#include "core/settings/nearest.h"
#include "core/settings/value.h"
#include "profiles/choices/choices_file.h"
#include "profiles/learner/learner.h"

#include <ctype.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
  NAME_CAPACITY  = 32,
  VALUE_CAPACITY = 2048,
  MOST_NAMES     = N_CHOICES + N_LEARNER_ROWS + 1,
};

/// How a value is written in the file.
typedef enum { AS_NUMBER, AS_TEXT, AS_SHARE, AS_GROUP, AS_LIST } Form;

typedef struct {
  char        name[NAME_CAPACITY];
  const char* member; ///< Of a group: `rhythm` of `caps.rhythm`; else NULL
  const Row*  row;    ///< NULL: goals, or a group as a whole
  bool        is_choice;
  const char* value;
  Form        form;
} Change;

static Form
form_of(const Row* const row)
{
  switch (row->kind) {
    case ROW_FLAG:
    case ROW_COUNT:
    case ROW_BYTE:
    case ROW_LONG:
    case ROW_NUMBER:
      return AS_NUMBER;
    case ROW_EITHER:
    case ROW_WORD:
    case ROW_PITCH:
    case ROW_PROGRAM:
    case ROW_TEXT:
    case ROW_LINK:
    case ROW_OWN:
      break;
  }
  return AS_TEXT;
}

static bool
is_group(const char* const name)
{
  return strcmp(name, "caps") == 0 || strcmp(name, "pins") == 0;
}

static Status
no_such_setting(const char* const  name,
                const char* const* names,
                const unsigned     n_names,
                Fault* const       fault)
{
  const char* const near = nearest_word(name, names, n_names);
  return fault_say(fault,
                   STATUS_SYNTAX,
                   "learner.cfg has no setting %s; %s%s",
                   name,
                   near ? "did you mean " : "barter learner edit shows all",
                   near ? near : "");
}

/// Take the way in which a row is written; `caps.rhythm` is a part of `caps`.
static void
take_form(Change* const change, const Row* const row)
{
  change->row     = row;
  char* const dot = strchr(change->name, '.');
  change->form    = strcmp(row->name, "target") == 0 ? AS_SHARE : form_of(row);
  if (dot) {
    *dot           = '\0';
    change->member = row->name + (dot + 1 - change->name);
    change->form   = AS_GROUP;
  }
}

/// Find how the setting of a name is written.
static Status
find_form(Change* const change, Fault* const fault)
{
  const Row*     rows[N_CHOICES + N_LEARNER_ROWS];
  const char*    names[MOST_NAMES];
  unsigned       n         = choices_file_rows(CHOICE_BY_LEARNER, rows);
  unsigned       n_names   = 0;
  const unsigned n_choices = n;
  for (unsigned i = 0; i < N_LEARNER_ROWS; ++i) {
    rows[n++] = learner_row(i);
  }
  for (unsigned i = 0; i < n; ++i) {
    names[n_names++] = rows[i]->name;
    if (strcmp(rows[i]->name, change->name) == 0) {
      take_form(change, rows[i]);
      change->is_choice = i < n_choices;
      return STATUS_OK;
    }
  }
  names[n_names++] = "goals";
  change->form     = is_group(change->name) ? AS_GROUP : AS_LIST;
  return is_group(change->name) || strcmp(change->name, "goals") == 0
           ? STATUS_OK
           : no_such_setting(change->name, names, n_names, fault);
}

static Status
read_change(Change* const change, const char* const text, Fault* const fault)
{
  const size_t n = strcspn(text, "=");
  if (!text[n] || !n || n >= sizeof(change->name)) {
    return fault_say(fault,
                     STATUS_SYNTAX,
                     "%.60s sets nothing; write a setting and its value, as "
                     "tempo=90",
                     text);
  }
  memcpy(change->name, text, n);
  change->name[n] = '\0';
  change->value   = text + n + 1;
  return find_form(change, fault);
}

// Values as they are said

/// `75`, `75%`, `75 %` and `0.75` are one share; false if it is none.
static bool
read_share(const char* const value, double* const share)
{
  char* end = NULL;
  *share    = strtod(value, &end);
  if (end == value) {
    return false;
  }
  end += strspn(end, " ");
  const bool is_percent = *end == '%';
  if (is_percent || *share > 1.0) {
    *share /= 100.0;
  }
  return !end[is_percent];
}

static Status
check_share(const Change* const change, Fault* const fault)
{
  const Row* const row   = change->row;
  double           share = 0.0;
  return read_share(change->value, &share) && share >= row->least &&
             share <= row->most
           ? STATUS_OK
           : fault_say(fault,
                       STATUS_RANGE,
                       "%s %.60s is outside %.0f to %.0f in a hundred; write "
                       "it as 80 or 80 %%",
                       row->name,
                       change->value,
                       100.0 * row->least,
                       100.0 * row->most);
}

/// Whether a value is one, before it stands in a file whose form it could
/// break.
static Status
check_value(const Change* const change, Fault* const fault)
{
  Learner scratch = learner_plain("");
  if (strpbrk(change->value, "\n\r")) {
    return fault_say(fault,
                     STATUS_SYNTAX,
                     "%s has a line break in it; it must be one line%s",
                     change->name,
                     change->form == AS_LIST ? ", parted by ;" : "");
  }
  if (strcmp(change->name, "name") == 0) { // Nobody is without one
    return learner_check_name(change->value, fault);
  }
  if (!change->row || !change->value[0]) {
    return STATUS_OK;
  }
  return change->form == AS_SHARE
           ? check_share(change, fault)
           : row_parse(change->row,
                       change->is_choice ? (void*)&scratch.choices : &scratch,
                       change->row->name,
                       change->value,
                       fault);
}

// Places in the file

/// Return the end of a setting that begins here: behind its semicolon, which is
/// in no quotes and no braces.
static const char*
setting_end(const char* at)
{
  int  depth  = 0;
  bool quoted = false;
  for (; *at; ++at) {
    if (*at == '\\' && quoted && at[1]) {
      ++at;
    } else if (*at == '"') {
      quoted = !quoted;
    } else if (!quoted) {
      depth += (*at == '{' || *at == '[' || *at == '(') -
               (*at == '}' || *at == ']' || *at == ')');
      if (*at == ';' && depth <= 0) {
        return at + 1;
      }
    }
  }
  return at;
}

/// Whether a line sets a name; behind a `#` if `is_out`.
static bool
sets(const char* at, const char* const name, const bool is_out)
{
  const size_t n = strlen(name);
  at += strspn(at, " \t");
  if (is_out && *at == '#') {
    at += 1 + strspn(at + 1, " \t");
  } else if (is_out) {
    return false;
  }
  if (strncmp(at, name, n) != 0) {
    return false;
  }
  at += n;
  at += strspn(at, " \t");
  return *at == '=' || *at == ':';
}

/// Return the last line that sets a name; NULL if none does.
static const char*
find_line(const char* const text, const char* const name, const bool is_out)
{
  const char* found = NULL;
  for (const char* line = text; line && *line;) {
    found                 = sets(line, name, is_out) ? line : found;
    const char* const end = strchr(line, '\n');
    line                  = end ? end + 1 : NULL;
  }
  return found;
}

// Values as they stand in the file

static void
put_share(Text* const draft, const char* const value)
{
  char   text[32];
  double share = 0.0;
  (void)read_share(value, &share);
  (void)snprintf(text, sizeof(text), "%.10g", share);
  text_add(draft, text);
}

/// `rhythm=4 notes=5`, parted by blanks or commas.
static void
put_group(Text* const draft, const char* const value)
{
  text_add(draft, "{");
  for (const char* at = value + strspn(value, " ,"); *at;
       at += strspn(at, " ,")) {
    const size_t n = strcspn(at, " ,");
    text_add(draft, " ");
    text_add_part(draft, at, n);
    text_add(draft, ";");
    at += n;
  }
  text_add(draft, " }");
}

/// The group that stands on a line, with one of its members changed.
static void
put_member(Text* const         draft,
           const char* const   line,
           const Change* const change)
{
  const char* const brace = line ? strchr(line, '{') : NULL;
  text_add(draft, "{");
  for (const char* at = brace ? brace + 1 : ""; *at && *at != '}';) {
    at += strspn(at, " \t\n;,");
    const size_t n = strcspn(at, ";,}\n");
    if (n && !sets(at, change->member, false)) {
      text_add(draft, " ");
      text_add_part(draft, at, n);
      text_add(draft, ";");
    }
    at += n;
  }
  if (change->value[0]) {
    text_add(draft, " ");
    text_add(draft, change->member);
    text_add(draft, " = ");
    text_add(draft, change->value);
    text_add(draft, ";");
  }
  text_add(draft, " }");
}

/// Texts parted by semicolons.
static void
put_list(Text* const draft, const char* const value)
{
  bool is_first = true;
  text_add(draft, "[");
  for (const char* at = value + strspn(value, " ;"); *at;
       at += strspn(at, " ;")) {
    size_t       n     = strcspn(at, ";");
    const size_t whole = n;
    while (n && at[n - 1] == ' ') {
      --n;
    }
    text_add(draft, is_first ? " " : ", ");
    value_add_quoted(draft, at, n);
    is_first = false;
    at += whole;
  }
  text_add(draft, " ]");
}

static void
put_value(Text* const draft, const char* const line, const Change* const change)
{
  switch (change->form) {
    case AS_NUMBER:
      text_add(draft, change->value);
      break;
    case AS_TEXT:
      value_add_quoted(draft, change->value, strlen(change->value));
      break;
    case AS_SHARE:
      put_share(draft, change->value);
      break;
    case AS_GROUP:
      if (change->member) {
        put_member(draft, line, change);
      } else {
        put_group(draft, change->value);
      }
      break;
    case AS_LIST:
      put_list(draft, change->value);
      break;
  }
}

static bool
is_to_go(const Change* const change)
{
  return !change->value[0] && change->form != AS_LIST &&
         change->form != AS_GROUP;
}

/// Write the setting that is to stand for a line's; what is taken out of force
/// stands behind a `#` as it was.
static void
put_setting(Text* const         draft,
            const char* const   line,
            const Change* const change)
{
  if (is_to_go(change)) {
    text_add(draft, "# ");
    text_add_part(draft, line, (size_t)(setting_end(line) - line));
    return;
  }
  text_add(draft, change->name);
  text_add(draft, " = ");
  put_value(draft, line, change);
  text_add(draft, ";");
}

Status
learner_set(char** const text, const char* const change, Fault* const fault)
{
  Change read = {.member = NULL};
  char   room[VALUE_CAPACITY];
  Text   draft  = text_begin(room, sizeof(room));
  Status status = read_change(&read, change, fault);
  if (!status) {
    status = check_value(&read, fault);
  }
  if (status) {
    return status;
  }
  const char* const line = find_line(*text, read.name, false);
  if (!line && is_to_go(&read)) {
    return STATUS_OK; // It is in no force
  }
  put_setting(&draft, line, &read);
  const char* const out   = line ? NULL : find_line(*text, read.name, true);
  const char* const end   = *text + strlen(*text);
  const char* const from  = line ? line : out ? out : end;
  const char* const to    = line  ? setting_end(line)
                            : out ? out + strcspn(out, "\n")
                                  : end;
  const size_t      size  = strlen(*text) + draft.length + 3;
  char* const       whole = malloc(size);
  if (!whole) {
    return fault_memory(fault, NULL);
  }
  const bool is_last = from == end;
  (void)snprintf(whole,
                 size,
                 "%.*s%s%s%s%s",
                 (int)(from - *text),
                 *text,
                 is_last && from > *text && from[-1] != '\n' ? "\n" : "",
                 draft.buffer,
                 is_last ? "\n" : "",
                 to);
  free(*text);
  *text = whole;
  return STATUS_OK;
}
