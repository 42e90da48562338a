#include "core/settings/scan.h"

#include "core/settings/utf8.h"

#include <ctype.h>
#include <errno.h>
#include <limits.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

/// What stood last, comments and blanks aside.
typedef enum {
  SEEN_NOTHING, ///< Or a `;`, or a `{` just opened: a name may follow
  SEEN_NAME,
  SEEN_EQUALS,
  SEEN_VALUE, ///< Or a closed bracket
  SEEN_COMMA, ///< Or a `(` or `[` just opened
} Seen;

typedef struct {
  char     bracket;
  unsigned line;
} Opened;

typedef struct {
  char*       at; ///< The byte that is read next
  unsigned    line;
  const char* file;
  ScanLines*  lines;
  Faults*     faults;
  unsigned    n_names;
  Seen        seen;
  char*       comma; ///< SEEN_COMMA: where it stands; NULL for a bracket
  const char* name;  ///< SEEN_NAME, SEEN_EQUALS: the name
  int         name_length;
  unsigned    name_line;
  unsigned    depth;
  Opened      opened[SCAN_DEPTH_CAPACITY];
} Scan;

/// Note a fault on the line that is being read.
__attribute__((format(printf, 2, 3))) static Status
slip(const Scan* const scan, const char* const format, ...)
{
  va_list args;
  va_start(args, format);
  (void)faults_add_list(
    scan->faults, STATUS_SYNTAX, scan->file, scan->line, format, args);
  va_end(args);
  return STATUS_SYNTAX;
}

/// Return the innermost bracket that is open, or NULL.
static const Opened*
innermost(const Scan* const scan)
{
  return scan->depth > 0 ? &scan->opened[scan->depth - 1] : NULL;
}

static bool
in_list(const Scan* const scan)
{
  const Opened* const opened = innermost(scan);
  return opened && opened->bracket != '{';
}

static char
closing(const char bracket)
{
  return bracket == '{' ? '}' : bracket == '[' ? ']' : ')';
}

static bool
is_name_start(const char c)
{
  return isalpha((unsigned char)c) || c == '*';
}

static bool
is_name_part(const char c)
{
  return isalnum((unsigned char)c) || c == '*' || c == '-' || c == '_';
}

/// Refuse a name that waits for its `=` or its value.
static Status
finish_name(Scan* const scan)
{
  if (scan->seen != SEEN_NAME && scan->seen != SEEN_EQUALS) {
    return STATUS_OK;
  }
  scan->line = scan->name_line;
  return slip(scan,
              "%.*s has no %s after it; write %.*s = VALUE;",
              scan->name_length,
              scan->name,
              scan->seen == SEEN_NAME ? "=" : "value",
              scan->name_length,
              scan->name);
}

/// Check that a value may stand here.
static Status
begin_value(Scan* const scan)
{
  const Opened* const opened = innermost(scan);
  if (scan->seen == SEEN_EQUALS ||
      (in_list(scan) && scan->seen == SEEN_COMMA)) {
    scan->seen = SEEN_VALUE;
    return STATUS_OK;
  }
  if (in_list(scan)) {
    return slip(scan, "a comma is missing before this value");
  }
  if (scan->seen == SEEN_NAME) {
    return finish_name(scan);
  }
  if (opened) {
    return slip(scan,
                "a value stands here without a name; write NAME = VALUE; or "
                "close the { of line %u before it",
                opened->line);
  }
  return slip(scan, "a value stands here without a name; write NAME = VALUE;");
}

/// Remember the line of a value that holds no others.
static Status
count_value(Scan* const scan)
{
  ScanLines* const lines = scan->lines;
  if (lines->n_values == SCAN_VALUE_CAPACITY) {
    (void)slip(scan,
               "this is value %u; a file may have %u",
               lines->n_values + 1,
               lines->n_values);
    return STATUS_FULL;
  }
  lines->lines[lines->n_values++] = scan->line;
  return STATUS_OK;
}

static Status
read_string(Scan* const scan)
{
  Status status = begin_value(scan);
  if (status == STATUS_OK) {
    status = count_value(scan);
  }
  if (status != STATUS_OK) {
    return status;
  }

  char* c = scan->at + 1;
  while (*c != '"' && *c != '\n' && *c) {
    c += c[0] == '\\' && (c[1] == '"' || c[1] == '\\') ? 2 : 1;
  }
  scan->at = c + 1;
  return *c == '"'
           ? STATUS_OK
           : slip(scan,
                  "a text begins here and does not end; put a \" after it");
}

/// Check a whole number: libconfig would quietly cut it down to 32 bits.
static Status
check_size(const Scan* const scan, const char* const text, const int length)
{
  const char* const digits = text + (*text == '-' || *text == '+');
  const bool        is_hex = digits[0] == '0' && tolower(digits[1]) == 'x';
  const bool is_float      = !is_hex && strcspn(digits, ".eE") < (size_t)length;

  errno                 = 0;
  const long long value = strtoll(digits, NULL, is_hex ? 16 : 10);
  if (!is_float && (errno == ERANGE || value > INT_MAX)) {
    return slip(scan,
                "the number %.*s is too large; the largest is %d",
                length,
                text,
                INT_MAX);
  }
  return STATUS_OK;
}

static Status
read_number(Scan* const scan)
{
  Status status = begin_value(scan);
  if (status == STATUS_OK) {
    status = count_value(scan);
  }
  if (status != STATUS_OK) {
    return status;
  }

  char* c = scan->at + 1;
  while (isalnum((unsigned char)*c) || *c == '.' ||
         ((*c == '-' || *c == '+') && tolower((unsigned char)c[-1]) == 'e')) {
    ++c;
  }
  const char* const text = scan->at;
  scan->at               = c;
  return check_size(scan, text, (int)(c - text));
}

/// Read a word that is no name of a setting: true and false are values.
static Status
read_word(Scan* const scan, const int length)
{
  static const char* const words[] = {"true", "false"};
  for (size_t i = 0; i < sizeof(words) / sizeof(*words); ++i) {
    if ((size_t)length == strlen(words[i]) &&
        strncasecmp(scan->at, words[i], (size_t)length) == 0) {
      scan->at += length;
      const Status status = begin_value(scan);
      return status == STATUS_OK ? count_value(scan) : status;
    }
  }
  if (in_list(scan)) {
    return slip(scan,
                "%.*s stands within the %c of line %u; put it in quotes, or "
                "close the %c before it",
                length,
                scan->at,
                innermost(scan)->bracket,
                innermost(scan)->line,
                innermost(scan)->bracket);
  }
  return slip(scan,
              "%.*s is no value; put words in quotes, \"%.*s\", or write true "
              "or false",
              length,
              scan->at,
              length,
              scan->at);
}

static Status
read_name(Scan* const scan)
{
  int length = 1;
  while (is_name_part(scan->at[length])) {
    ++length;
  }
  if (in_list(scan) || scan->seen == SEEN_EQUALS) {
    return read_word(scan, length);
  }
  if (scan->seen == SEEN_NAME) {
    return finish_name(scan);
  }
  if (++scan->n_names > SCAN_NAME_CAPACITY) {
    (void)slip(scan,
               "this is name %u; a file may have %d",
               scan->n_names,
               SCAN_NAME_CAPACITY);
    return STATUS_FULL;
  }

  scan->seen        = SEEN_NAME;
  scan->name        = scan->at;
  scan->name_length = length;
  scan->name_line   = scan->line;
  scan->at += length;
  return STATUS_OK;
}

static Status
read_opening(Scan* const scan)
{
  const Status status = begin_value(scan);
  if (status != STATUS_OK) {
    return status;
  }
  if (scan->depth == SCAN_DEPTH_CAPACITY) {
    (void)slip(scan,
               "brackets stand %d deep here; one less is allowed",
               scan->depth + 1);
    return STATUS_FULL;
  }

  const char bracket          = *scan->at;
  scan->opened[scan->depth++] = (Opened){bracket, scan->line};
  scan->seen                  = bracket == '{' ? SEEN_NOTHING : SEEN_COMMA;
  scan->comma                 = NULL;
  *scan->at++                 = bracket == '{' ? '{' : '(';
  return STATUS_OK;
}

static Status
read_closing(Scan* const scan)
{
  const Opened* const opened = innermost(scan);
  if (!opened) {
    return slip(scan, "%c closes nothing; take it away", *scan->at);
  }
  if (*scan->at != closing(opened->bracket)) {
    return slip(scan,
                "%c cannot close the %c of line %u; put %c before it",
                *scan->at,
                opened->bracket,
                opened->line,
                closing(opened->bracket));
  }
  const Status status = finish_name(scan);
  if (status != STATUS_OK) {
    return status;
  }

  if (in_list(scan) && scan->seen == SEEN_COMMA && scan->comma) {
    *scan->comma = ' ';
  }
  *scan->at++ = opened->bracket == '{' ? '}' : ')';
  scan->seen  = SEEN_VALUE;
  --scan->depth;
  return STATUS_OK;
}

static Status
read_equals(Scan* const scan)
{
  if (scan->seen != SEEN_NAME) {
    return slip(scan,
                "%c stands here with no name before it; write NAME = VALUE;",
                *scan->at);
  }
  ++scan->at;
  scan->seen = SEEN_EQUALS;
  return STATUS_OK;
}

/// Read a comma or semicolon.
static Status
read_separator(Scan* const scan)
{
  const Status status = finish_name(scan);
  if (status != STATUS_OK) {
    return status;
  }
  if (*scan->at == ';' && in_list(scan)) {
    return slip(scan,
                "a ; stands within the %c of line %u; put %c before it, or "
                "write a comma",
                innermost(scan)->bracket,
                innermost(scan)->line,
                closing(innermost(scan)->bracket));
  }
  if (scan->seen != SEEN_VALUE) {
    return slip(scan, "there is one %c too many; take it away", *scan->at);
  }

  scan->comma = scan->at;
  scan->seen  = *scan->at == ';' ? SEEN_NOTHING : SEEN_COMMA;
  ++scan->at;
  return STATUS_OK;
}

static Status
read_comment(Scan* const scan)
{
  if (scan->at[0] != '/' || scan->at[1] != '*') {
    scan->at += strcspn(scan->at, "\n");
    return STATUS_OK;
  }

  const char* const end = strstr(scan->at + 2, "*/");
  if (!end) {
    return slip(scan,
                "a comment begins here and does not end; put */ after it");
  }
  for (; scan->at < end; ++scan->at) {
    scan->line += *scan->at == '\n';
  }
  scan->at += 2;
  return STATUS_OK;
}

/// Refuse a character that begins nothing.
static Status
read_other(const Scan* const scan)
{
  const char c = *scan->at;
  if (c == '@') {
    return slip(scan,
                "@include is not read; write all the settings in this file");
  }
  if ((unsigned char)c >= 0x80) {
    return slip(scan,
                "%.*s stands outside quotes; write texts in straight quotes, "
                "\"...\", and names in plain letters",
                (int)utf8_character(scan->at, strlen(scan->at)),
                scan->at);
  }
  if (!isprint((unsigned char)c)) {
    return slip(scan, "a character of code %d stands here; take it away", c);
  }
  return slip(
    scan, "%c stands outside quotes; write texts in quotes, \"4/4\"", c);
}

/// Read one thing: a blank, comment, bracket, sign, name or value.
static Status
read_next(Scan* const scan)
{
  const char c = *scan->at;
  if (c == '\n' || c == ' ' || c == '\t' || c == '\r' || c == '\f') {
    scan->line += c == '\n';
    ++scan->at;
    return STATUS_OK;
  }
  if (c == '#' || (c == '/' && (scan->at[1] == '/' || scan->at[1] == '*'))) {
    return read_comment(scan);
  }
  if (is_name_start(c)) {
    return read_name(scan);
  }
  switch (c) {
    case '"':
      return read_string(scan);
    case '(':
    case '[':
    case '{':
      return read_opening(scan);
    case ')':
    case ']':
    case '}':
      return read_closing(scan);
    case '=':
    case ':':
      return read_equals(scan);
    case ',':
    case ';':
      return read_separator(scan);
    default:
      break;
  }
  const bool is_number =
    isdigit((unsigned char)c) || c == '-' || c == '+' || c == '.';
  return is_number ? read_number(scan) : read_other(scan);
}

Status
scan_text(char* const       text,
          const char* const file,
          ScanLines* const  lines,
          Faults* const     faults)
{
  lines->n_values = 0;
  Scan scan       = {
          .at = text, .line = 1, .file = file, .lines = lines, .faults = faults};
  Status status = STATUS_OK;
  while (status == STATUS_OK && *scan.at) {
    status = read_next(&scan);
  }
  if (status != STATUS_OK) {
    return status;
  }

  const Opened* const opened = innermost(&scan);
  if (opened) {
    scan.line = opened->line;
    return slip(&scan,
                "the %c here is never closed; put %c where it ends",
                opened->bracket,
                closing(opened->bracket));
  }
  return finish_name(&scan);
}
