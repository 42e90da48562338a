/// @file core/settings/row_words.h What reading a row's value needs, wherever
/// it is said.

#ifndef CORE_SETTINGS_ROW_WORDS_H
#define CORE_SETTINGS_ROW_WORDS_H

#include "core/settings/row.h"

enum { ROW_WORDS_CAPACITY = 128 };

/// Return how many words there are to choose from.
unsigned
row_count_words(const Row* row);

/// Return which word a text is; as many as there are if it is none.
unsigned
row_find_word(const Row* row, const char* text);

/// Write the words as a person would: `1, 2 or 4` with ` or ` as the last
/// joint. `blank` takes the place of each space within a word. Return `list`.
const char*
row_list_words(const Row*  row,
               const char* last_joint,
               char        blank,
               char        list[ROW_WORDS_CAPACITY]);

/// Store a value that is a number, a flag or one of some words.
void
row_store(const Row* row, void* base, double number);

#endif // CORE_SETTINGS_ROW_WORDS_H
