#include "support/table.h"

#include <stdlib.h>
#include <string.h>

/// Cut a field off the text and return what follows; NULL after the last one.
static char*
cut_field(char* const text, char** const field)
{
  const bool is_quoted = text[0] == '"';
  char*      begin     = is_quoted ? text + 1 : text;
  char*      end       = begin + strcspn(begin, is_quoted ? "\"" : ",");
  char*      after     = is_quoted && *end ? end + 1 : end;
  char*      rest      = *after == ',' ? after + 1 : NULL;
  *end                 = '\0';
  *field               = begin;
  return rest;
}

static bool
read_line(FILE* const file, TableLine* const line)
{
  line->n_fields = 0;
  if (!fgets(line->text, sizeof(line->text), file)) {
    return false;
  }
  line->text[strcspn(line->text, "\r\n")] = '\0';
  char* rest                              = line->text;
  while (rest && line->n_fields < TABLE_COLUMN_CAPACITY) {
    rest = cut_field(rest, &line->fields[line->n_fields++]);
  }
  return true;
}

bool
table_open(Table* const table, const char* const path)
{
  table->file = fopen(path, "r");
  table->line = 1;
  if (!table->file) {
    return false;
  }
  if (!read_line(table->file, &table->heading)) {
    table_close(table);
    return false;
  }
  return true;
}

bool
table_next(Table* const table)
{
  ++table->line;
  return read_line(table->file, &table->row);
}

const char*
table_field(const Table* const table, const char* const column)
{
  for (unsigned i = 0; i < table->heading.n_fields; ++i) {
    if (strcmp(table->heading.fields[i], column) == 0) {
      return i < table->row.n_fields ? table->row.fields[i] : "";
    }
  }
  fprintf(stderr, "no column %s\n", column);
  abort();
}

long
table_number(const Table* const table, const char* const column)
{
  return strtol(table_field(table, column), NULL, 10);
}

void
table_close(Table* const table)
{
  if (table->file) {
    fclose(table->file);
  }
  table->file = NULL;
}
