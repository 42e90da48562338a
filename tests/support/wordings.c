#include "support/wordings.h"

#include "support/writing.h"

#include <stdbool.h>
#include <stdio.h>
#include <string.h>

/// A wording of its own: no two begin alike.
static void
draw_wording(const unsigned kind,
             const unsigned number,
             char           words[SENTENCE_CAPACITY],
             Rng* const     rng)
{
  static const char* const fillers[] = {
    "la ", "so", "\xc3\xa9t\xc3\xa9 ", "- "};
  const SentenceRow row     = sentence_row((SentenceKind)kind);
  const size_t      most    = rng_below(rng, SENTENCE_CAPACITY);
  unsigned          tones   = 0; // Two are allowed
  Writing           writing = {words, SENTENCE_CAPACITY, 0};
  put(&writing, "%u.%u ", kind, number);
  for (;;) {
    const unsigned draw    = rng_below(rng, 6);
    const bool     is_tone = draw == 5 && row.has_tone && tones < 2;
    const char*    next    = is_tone                     ? "{tone} "
                             : draw == 4 && row.has_note ? "{note} "
                                                         : fillers[draw % 4];
    tones += is_tone;
    if (writing.n + strlen(next) > most) {
      break;
    }
    put(&writing, "%s", next);
  }
}

void
wordings_draw(Sentences* const sentences, Rng* const rng)
{
  memset(sentences, 0, sizeof(*sentences));
  for (unsigned kind = 0; kind < N_SENTENCES; ++kind) {
    Wordings* const wordings = &sentences->of[kind];
    wordings->n =
      SENTENCE_LEAST + rng_below(rng, SENTENCE_WORDINGS - SENTENCE_LEAST + 1);
    for (unsigned i = 0; i < wordings->n; ++i) {
      draw_wording(kind, i, wordings->words[i], rng);
    }
  }
}

size_t
wordings_text(const Sentences* const sentences,
              char* const            text,
              const size_t           capacity)
{
  Writing     writing = {text, capacity, 0};
  const char* group   = "";
  for (unsigned kind = 0; kind < N_SENTENCES; ++kind) {
    const SentenceRow     row      = sentence_row((SentenceKind)kind);
    const Wordings* const wordings = &sentences->of[kind];
    if (strcmp(row.group, group) != 0) {
      put(&writing, "%s%s = {\n", group[0] ? "};\n" : "", row.group);
      group = row.group;
    }
    put(&writing, "  %s = [", row.name);
    for (unsigned i = 0; i < wordings->n; ++i) {
      put(&writing, "%s \"%s\"", i ? "," : "", wordings->words[i]);
    }
    put(&writing, " ];\n");
  }
  put(&writing, "};\n");
  return writing.n;
}
