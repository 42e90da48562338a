/// @file tests/support/table.h A table of values to check against, line by
/// line.
///
/// Comma-separated text; a field with a comma stands in double quotes. The
/// first line names the columns.

#ifndef TESTS_SUPPORT_TABLE_H
#define TESTS_SUPPORT_TABLE_H

#include <stdbool.h>
#include <stdio.h>

enum {
  TABLE_LINE_CAPACITY   = 1024,
  TABLE_COLUMN_CAPACITY = 24,
};

/// A line cut into its fields.
typedef struct {
  char     text[TABLE_LINE_CAPACITY];
  char*    fields[TABLE_COLUMN_CAPACITY];
  unsigned n_fields;
} TableLine;

/// A table being read: keep it in place, the fields point into it.
typedef struct {
  FILE*     file;
  unsigned  line; ///< 1-based, of `row`
  TableLine heading;
  TableLine row;
} Table;

/// Open a table and read its heading; false, and nothing to close, if it cannot
/// be read.
bool
table_open(Table* table, const char* path);

/// Read the next line; false at the end.
bool
table_next(Table* table);

/// Return a field of the line by the name of its column; it lives until the
/// next line. A line too short has an empty one, a column unknown ends the
/// program.
const char*
table_field(const Table* table, const char* column);

/// Return a field as a whole number.
long
table_number(const Table* table, const char* column);

void
table_close(Table* table);

#endif // TESTS_SUPPORT_TABLE_H
