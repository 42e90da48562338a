#include "responder/reference/offer.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>

static void
add_word(Offer* const offer, const char* const word, const size_t length)
{
  const size_t used = strlen(offer->words);
  (void)snprintf(offer->words + used,
                 sizeof(offer->words) - used,
                 "%s%.*s",
                 used ? " " : "",
                 (int)length,
                 word);
}

// `FILE|PORT`, `a4|letter`: small letters are said as they stand
static void
add_alternatives(Offer* const offer, const char* at)
{
  while (*at) {
    const size_t length = strcspn(at, "| ");
    if (islower((unsigned char)*at)) {
      add_word(offer, at, length);
    }
    offer->files = offer->files || !strncmp(at, "FILE", 4) ||
                   !strncmp(at, "TAKE", 4) || !strncmp(at, "[TAKE", 5);
    offer->folders = offer->folders || !strncmp(at, "DIR", 3);
    at += length + (at[length] == '|');
    if (*at == ' ') {
      return; // What follows is of no alternative
    }
  }
}

static const char*
names_of(const Option option)
{
  return option == OPTION_CHART     ? "charts"
         : option == OPTION_FEEL    ? "feels"
         : option == OPTION_LEARNER ? "learners"
                                    : "";
}

Offer
offer_value(const Option option)
{
  const Row* const row   = option_row(option);
  Offer            offer = {.names = names_of(option)};
  for (const char* const* word = row->words; word && *word; ++word) {
    add_word(&offer, *word, strlen(*word));
  }
  if (!row->words && row->value) {
    add_alternatives(&offer, row->value);
  }
  if (option == OPTION_OUT) {
    add_word(&offer, "synth none", strlen("synth none"));
  }
  return offer;
}

Offer
offer_operand(const Command* const command)
{
  Offer offer = {.names = ""};
  add_alternatives(&offer, command->operands);
  if (offer.words[0]) { // Of something: its ID or a file
    offer.names = "learners";
    offer.files = true;
  }
  return offer;
}

bool
offer_has_option(const Command* const command, const Option option)
{
  return (command->options | OPTION_BIT(OPTION_HELP)) & OPTION_BIT(option);
}
