/// @file core/settings/row.h One row of a table of values: what a value is
/// called, what it may be, and how it is said.
///
/// A row knows where its value stands in a struct, its `base`. From a table of
/// them come the reading of a settings file, of a word of the command line or
/// a field of a page, the range errors of both, the help, and the value as
/// text.

#ifndef CORE_SETTINGS_ROW_H
#define CORE_SETTINGS_ROW_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/settings/settings.h"
#include "core/status.h"

#include <stdbool.h>
#include <stddef.h>

enum { ROW_TEXT_CAPACITY = 1024 };

/// What a value is, and the type of its field.
typedef enum {
  ROW_FLAG,    ///< bool: it is, or it is not
  ROW_EITHER,  ///< bool: the first of two words, or the second
  ROW_WORD,    ///< unsigned: which of `words`
  ROW_COUNT,   ///< unsigned: whole; of `words`, if there are any
  ROW_BYTE,    ///< uint8_t: whole
  ROW_LONG,    ///< uint64_t: whole, 0 to INT64_MAX; in a file to INT_MAX
  ROW_NUMBER,  ///< double
  ROW_PITCH,   ///< uint8_t: a MIDI key, by number or name
  ROW_PROGRAM, ///< uint8_t: a sound of General MIDI, as it is sent
  ROW_TEXT,    ///< char[most]
  ROW_LINK,    ///< const char*: a text that stays where it was said
  ROW_OWN,     ///< As `parse` and `print` have it; in a file a text
} RowKind;

typedef struct {
  const char* name; ///< `tempo`; with dots, `sounds.bass.level`, in groups
  RowKind     kind;
  size_t      offset;       ///< Of the field, from the base
  double      least;        ///< Of COUNT, BYTE, NUMBER
  double      most;         ///< ... and of TEXT and OWN the bytes of the field
  const char* const* words; ///< Of EITHER, WORD and COUNT; NULL ends them
  const char*        unit;  ///< `bpm`; NULL: none
  const char*        value; ///< What a value is called: `BPM`; NULL: FLAG
  const char*        help;  ///< One line, without a full stop
  bool (*parse)(void* field, const char* text); ///< Of OWN; false: no such one
  const char* (*print)(const void* field, char* text); ///< Of OWN
  const char* right; ///< Of OWN: what is right where parse() refuses
} Row;

/// Return the field of a row.
void*
row_field(const Row* row, void* base);

/// Copy the value of a row from one struct to another of its kind.
void
row_copy(const Row* row, void* to, const void* from);

/**
   Read a value from words of the command line or a page.

   @param as How the value is called in a fault: `--tempo`.
   @param text LINK keeps its address; FLAG takes `NULL`.
   @return STATUS_OK; STATUS_SYNTAX or STATUS_RANGE with the fault written.
*/
MUST_USE Status
row_parse(const Row*  row,
          void*       base,
          const char* as,
          const char* text,
          Fault*      fault);

/// Read a value from a setting; one that is absent or at fault, which is noted,
/// leaves the field as it was.
void
row_read(const Row* row, void* base, Setting setting);

/// Find the setting of a row; its name may lead through groups.
Setting
row_find(const Row* row, Setting top);

/**
   Note what a file says that no row of a table stands for.

   @param rows `n` rows; those of a group stand together.
   @param others `n_others` names at the top that are read otherwise.
*/
void
rows_allow(const Row* const*  rows,
           unsigned           n,
           const char* const* others,
           unsigned           n_others,
           Setting            top);

/// Read the values of `n` rows.
void
rows_read(const Row* const* rows, unsigned n, void* base, Setting top);

/// Return a value that is a number, a flag or one of some words.
double
row_number(const Row* row, const void* base);

/// Write a value as a person would, `C4`, `partner`, without its unit; return
/// `text`.
const char*
row_text(const Row* row, const void* base, char text[ROW_TEXT_CAPACITY]);

/// Write a value so that row_recall() reads the same back; return `text`.
const char*
row_record(const Row* row, const void* base, char text[ROW_TEXT_CAPACITY]);

/**
   Read what row_record() wrote.

   @param least, most In place of the row's own: what was recorded may have
   gone further than what may be said.
   @return Whether the value was right; it is stored if so.
*/
bool
row_recall(const Row*  row,
           void*       base,
           double      least,
           double      most,
           const char* text);

#endif // CORE_SETTINGS_ROW_H
