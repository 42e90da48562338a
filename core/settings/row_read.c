// Values from the settings of a file, and tables of them.

#include "core/settings/row.h"
#include "core/settings/row_words.h"

#include "core/settings/gm.h"
#include "core/settings/value.h"

#include <limits.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

enum { NAMES_MOST = 64 };

static void
read_count(const Row* const row, void* const base, const Setting setting)
{
  unsigned* const field = row_field(row, base);
  const unsigned  count =
    (unsigned)value_int(setting, (int)row->least, (int)row->most, (int)*field);
  char text[16];
  char list[ROW_WORDS_CAPACITY];
  (void)snprintf(text, sizeof(text), "%u", count);
  if (!row->words || row->words[row_find_word(row, text)]) {
    *field = count;
  } else {
    setting_fault(setting,
                  "%s %u will not do; write %s",
                  setting_name(setting),
                  count,
                  row_list_words(row, " or ", ' ', list));
  }
}

static void
read_own(const Row* const row, void* const base, const Setting setting)
{
  const char* const text = value_text(setting, ROW_TEXT_CAPACITY - 1);
  if (text && text[0] && !row->parse(row_field(row, base), text)) {
    setting_fault(setting,
                  "%s \"%.60s\" is not understood; write %s",
                  setting_name(setting),
                  text,
                  row->right);
  }
}

void
row_read(const Row* const row, void* const base, const Setting setting)
{
  void* const    field = row_field(row, base);
  const unsigned n     = row_count_words(row);
  if (setting_kind(setting) == SETTING_ABSENT) {
    return;
  }
  switch (row->kind) {
    case ROW_FLAG:
      *(bool*)field = value_bool(setting, *(bool*)field);
      break;
    case ROW_EITHER:
      *(bool*)field = value_choice(setting, row->words, n, *(bool*)field);
      break;
    case ROW_WORD:
      *(unsigned*)field =
        value_choice(setting, row->words, n, *(unsigned*)field);
      break;
    case ROW_COUNT:
      read_count(row, base, setting);
      break;
    case ROW_BYTE:
      *(uint8_t*)field = (uint8_t)value_int(
        setting, (int)row->least, (int)row->most, *(uint8_t*)field);
      break;
    case ROW_LONG: // libconfig's whole numbers
      *(uint64_t*)field = (uint64_t)value_int(setting, 0, INT_MAX, 0);
      break;
    case ROW_NUMBER:
      *(double*)field =
        value_number(setting, row->least, row->most, *(double*)field);
      break;
    case ROW_PITCH:
      *(uint8_t*)field = value_pitch(setting, *(uint8_t*)field);
      break;
    case ROW_PROGRAM:
      *(uint8_t*)field = gm_program(setting, *(uint8_t*)field);
      break;
    case ROW_TEXT:
      value_copy(setting, field, (size_t)row->most);
      break;
    case ROW_OWN:
      read_own(row, base, setting);
      break;
    case ROW_LINK: // Nothing of a file stays
      break;
  }
}

// Tables

Setting
row_find(const Row* const row, const Setting top)
{
  Setting     at   = top;
  const char* name = row->name;
  for (;;) {
    char         part[64];
    const size_t length = strcspn(name, ".");
    (void)snprintf(part, sizeof(part), "%.*s", (int)length, name);
    at = setting_find(at, part);
    if (!name[length]) {
      return at;
    }
    name += length + 1;
  }
}

// Note what a group says that no row below a prefix has, and what is no group
static void
allow_below(const Row* const* const  rows,
            const unsigned           n,
            const char* const* const others,
            const unsigned           n_others,
            const char* const        prefix,
            const Setting            group)
{
  const size_t n_prefix = strlen(prefix);
  char         parts[NAMES_MOST][64];
  const char*  names[2 * NAMES_MOST];
  unsigned     n_names = 0;
  for (unsigned i = 0; i < n && n_names < NAMES_MOST; ++i) {
    const char* const rest = rows[i]->name + n_prefix;
    if (strncmp(rows[i]->name, prefix, n_prefix) != 0) {
      continue;
    }
    const size_t length = strcspn(rest, ".");
    (void)snprintf(parts[n_names], sizeof(*parts), "%.*s", (int)length, rest);
    if (n_names && strcmp(parts[n_names], parts[n_names - 1]) == 0) {
      continue; // The rows of a group stand together
    }
    names[n_names] = parts[n_names];
    if (rest[length]) {
      char below[128];
      (void)snprintf(below, sizeof(below), "%s%s.", prefix, names[n_names]);
      allow_below(rows,
                  n,
                  NULL,
                  0,
                  below,
                  value_group(setting_find(group, names[n_names])));
    }
    ++n_names;
  }
  for (unsigned i = 0; i < n_others && i < NAMES_MOST; ++i) {
    names[n_names++] = others[i];
  }
  value_allow(group, names, n_names);
}

void
rows_allow(const Row* const* const  rows,
           const unsigned           n,
           const char* const* const others,
           const unsigned           n_others,
           const Setting            top)
{
  allow_below(rows, n, others, n_others, "", top);
}

void
rows_read(const Row* const* const rows,
          const unsigned          n,
          void* const             base,
          const Setting           top)
{
  for (unsigned i = 0; i < n; ++i) {
    row_read(rows[i], base, row_find(rows[i], top));
  }
}
