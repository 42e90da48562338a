#include "core/music/bar.h"

#include "core/music/numeral.h"
#include "core/music/text.h"

#include <string.h>

/// A word of a bar's text.
typedef struct {
  const char* at;
  size_t      length;
} Word;

/// Return the next word and step over it; length 0 at the end.
static Word
next_word(const char** const text)
{
  *text += strspn(*text, " \t");
  const Word word = {*text, strcspn(*text, " \t")};
  *text += word.length;
  return word;
}

static bool
is_sign(const Word word, const char sign)
{
  return word.length == 1 && word.at[0] == sign;
}

static unsigned
count_words(const char* text)
{
  unsigned n = 0;
  while (next_word(&text).length > 0) {
    ++n;
  }
  return n;
}

static Status
fault_plain(char fault[CHART_FAULT_CAPACITY], const char* const words)
{
  Text text = text_begin(fault, CHART_FAULT_CAPACITY);
  text_add(&text, words);
  return STATUS_SYNTAX;
}

static Status
fault_word(char fault[CHART_FAULT_CAPACITY], const Word word)
{
  enum { N_SHOWN = 24 };
  Text text = text_begin(fault, CHART_FAULT_CAPACITY);
  text_add(&text, "'");
  text_add_part(&text, word.at, word.length < N_SHOWN ? word.length : N_SHOWN);
  text_add(&text,
           "' is no chord; expected a symbol (Bbmaj7), a Roman numeral "
           "(bVI7), N.C., / or %");
  return STATUS_SYNTAX;
}

static Status
fault_beats(char           fault[CHART_FAULT_CAPACITY],
            const unsigned n_words,
            const bool     is_held,
            const unsigned n_beats)
{
  Text text = text_begin(fault, CHART_FAULT_CAPACITY);
  text_add_number(&text, (int)n_words);
  text_add(&text, is_held ? " beats written" : " chords");
  text_add(&text, " in a bar of ");
  text_add_number(&text, (int)n_beats);
  text_add(&text,
           is_held ? " beats; expected one word a beat, a chord or /"
                   : " beats; expected one chord a beat at most");
  return STATUS_SYNTAX;
}

static Status
read_chord(Chord* const chord, const Key key, const Word word)
{
  const bool is_symbol =
    (word.at[0] >= 'A' && word.at[0] <= 'G') || word.at[0] == 'N';
  return is_symbol ? chord_parse(chord, word.at, word.length)
                   : numeral_parse(chord, key, word.at, word.length);
}

/// Read words into chords of one beat each, held longer by `/`.
static Status
read_words(Bar* const  bar,
           const Key   key,
           const char* text,
           char        fault[CHART_FAULT_CAPACITY])
{
  for (Word word = next_word(&text); word.length > 0; word = next_word(&text)) {
    if (is_sign(word, '%')) {
      return fault_plain(fault, "% stands with other words; expected it alone");
    }
    if (is_sign(word, '/')) {
      if (bar->n_chords == 0) {
        return fault_plain(fault,
                           "/ begins the bar; expected a chord before it");
      }
      ++bar->beats[bar->n_chords - 1];
    } else if (read_chord(&bar->chords[bar->n_chords], key, word)) {
      return fault_word(fault, word);
    } else {
      bar->beats[bar->n_chords++] = 1;
    }
  }
  return STATUS_OK;
}

/// Share the beats evenly; what is left over goes to the first chords.
static void
share_beats(Bar* const bar, const unsigned n_beats)
{
  for (unsigned i = 0; i < bar->n_chords; ++i) {
    const bool is_longer = i < n_beats % bar->n_chords;
    bar->beats[i]        = n_beats / bar->n_chords + (is_longer ? 1 : 0);
  }
}

bool
bar_is_repeat(const char* const text)
{
  const char* rest = text;
  return is_sign(next_word(&rest), '%') && next_word(&rest).length == 0;
}

Status
bar_read(Bar* const        bar,
         const Key         key,
         const unsigned    n_beats,
         const char* const text,
         char              fault[CHART_FAULT_CAPACITY])
{
  const unsigned n_words = count_words(text);
  if (n_words == 0) {
    return fault_plain(fault, "an empty bar; expected a chord, N.C. or %");
  }
  if (n_words > n_beats) {
    return fault_beats(fault, n_words, strstr(text, " /") != NULL, n_beats);
  }

  Bar          read   = {.n_chords = 0};
  const Status status = read_words(&read, key, text, fault);
  if (status != STATUS_OK) {
    return status;
  }
  if (read.n_chords == n_words) {
    share_beats(&read, n_beats);
  } else if (n_words != n_beats) {
    return fault_beats(fault, n_words, true, n_beats);
  }
  *bar = read;
  return STATUS_OK;
}
