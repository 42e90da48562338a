/// @file core/settings/nearest.h The known word that a mistyped one means.

#ifndef CORE_SETTINGS_NEAREST_H
#define CORE_SETTINGS_NEAREST_H

#include <stddef.h>

/**
   Return how many letters must be put in, taken out, changed or swapped with
   their neighbour to make one word of the other (optimal string alignment,
   Damerau 1964, Levenshtein 1966); capitals count as small letters.

   Only the first 63 bytes of each word are looked at.
*/
unsigned
nearest_distance(const char* a, const char* b);

/**
   Return the word that is meant, or NULL if none is near.

   Near is one letter wrong of each three begun: one in `key`, two in `tempo`.
   Of two that are equally near, the earlier one is returned.

   @param words `n_words` words; one that is returned is one of these.
*/
const char*
nearest_word(const char* word, const char* const* words, size_t n_words);

#endif // CORE_SETTINGS_NEAREST_H
