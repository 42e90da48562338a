/// @file responder/reference/offer.h What a shell may offer for a word of the
/// command line, found in what the tables say of it.

#ifndef RESPONDER_REFERENCE_OFFER_H
#define RESPONDER_REFERENCE_OFFER_H

#include "responder/app/command.h"

#include <stdbool.h>

enum { OFFER_WORDS_CAPACITY = 256 };

typedef struct {
  char        words[OFFER_WORDS_CAPACITY]; ///< Divided by blanks
  const char* names;   ///< `charts`, `feels`, `learners`; or empty
  bool        files;   ///< Any path
  bool        folders; ///< Paths of folders
} Offer;

/// Return what may be the value of an option.
Offer
offer_value(Option option);

/// Return what may be said after a command, its options aside.
Offer
offer_operand(const Command* command);

/// Return whether a command knows an option: its own, or --help.
bool
offer_has_option(const Command* command, Option option);

#endif // RESPONDER_REFERENCE_OFFER_H
