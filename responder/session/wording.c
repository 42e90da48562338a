#include "responder/session/wording.h"

#include <stdio.h>
#include <string.h>

// Appends a sentence, or nothing if the whole of it has no room
static void
fill(char* const text, const char* words_of, const FactWords* const words)
{
  const size_t begin = strlen(text);
  size_t       n     = begin;
  while (*words_of && n < REMARK_CAPACITY) {
    const bool  is_note = strncmp(words_of, "{note}", 6) == 0;
    const bool  is_tone = strncmp(words_of, "{tone}", 6) == 0;
    const char* word    = is_note ? words->note : words->tone;
    if (is_note || is_tone) {
      n += (size_t)snprintf(text + n, REMARK_CAPACITY - n, "%s", word);
      words_of += 6;
    } else {
      text[n++] = *words_of++;
    }
  }
  text[n < REMARK_CAPACITY ? n : begin] = '\0';
}

const char*
wording_next(Remarks* const         remarks,
             const Sentences* const sentences,
             const SentenceKind     kind)
{
  remarks->said_at[kind] = remarks->n_said + 1;
  return sentence(sentences, kind, remarks->first + remarks->times[kind]++);
}

void
wording_say(Remarks* const         remarks,
            const Sentences* const sentences,
            const SentenceKind     kind,
            const FactWords* const words,
            char                   text[REMARK_CAPACITY])
{
  char spaced[SENTENCE_CAPACITY + 1];
  (void)snprintf(spaced,
                 sizeof(spaced),
                 "%s%s",
                 text[0] ? " " : "",
                 wording_next(remarks, sentences, kind));
  fill(text, spaced, words);
}
