#include "responder/tell/wrap.h"

#include "core/rng.h"
#include "responder/tell/columns.h"

#include <criterion/criterion.h>

#include <locale.h>
#include <stdlib.h>
#include <string.h>

static char  lines[65536];
static char  words[4096];
static FILE* stream;

static void
begin(void)
{
  cr_assert_not_null(setlocale(LC_CTYPE, "C.UTF-8")); // As the program does
  memset(lines, 0, sizeof(lines));
  stream = fmemopen(lines, sizeof(lines), "w");
}

Test(wrap, sets_words_beside_what_stands_to_the_left, .init = begin)
{
  Wrap wrap = wrap_begin(stream, 10, "  bar 1:");
  wrap_piece(&wrap, "1 C4");
  wrap_words(&wrap, "  and   so on ");
  wrap_end(&wrap);
  (void)fclose(stream);
  cr_assert_str_eq(lines, "  bar 1:  1 C4 and so on\n");
}

Test(wrap, goes_on_under_the_indent, .init = begin)
{
  Wrap wrap = wrap_begin(stream, 4, "a");
  for (unsigned i = 0; i < 40; ++i) {
    wrap_piece(&wrap, "1 C4");
  }
  wrap_end(&wrap);
  (void)fclose(stream);
  // 4 + 15 * 5 + 4 = 83 is too long, so 15 pieces a line
  const char* const second = strchr(lines, '\n') + 1;
  cr_assert_eq(second - lines, 4 + 15 * 5);
  cr_assert_eq(strncmp(second, "    1 C4 1 C4", 13), 0);
}

Test(wrap, leaves_a_word_that_is_too_long_whole, .init = begin)
{
  memset(words, 'x', 200);
  Wrap wrap = wrap_begin(stream, 2, "");
  wrap_words(&wrap, "a");
  wrap_words(&wrap, words);
  wrap_words(&wrap, "b");
  wrap_end(&wrap);
  (void)fclose(stream);
  cr_assert_eq(strncmp(lines, "  a\n  xxx", 9), 0);
  cr_assert_str_eq(lines + strlen(lines) - 6, "x\n  b\n");
}

Test(wrap, writes_nothing_but_its_left_without_words, .init = begin)
{
  Wrap wrap = wrap_begin(stream, 3, "ab");
  wrap_words(&wrap, "   ");
  wrap_end(&wrap);
  (void)fclose(stream);
  cr_assert_str_eq(lines, "ab \n");
}

static unsigned
characters(const char* const text, const size_t n_bytes)
{
  unsigned n = 0;
  for (size_t i = 0; i < n_bytes; ++i) {
    n += ((unsigned char)text[i] & 0xC0U) != 0x80U;
  }
  return n;
}

// No line is too long, none could take the next line's first word, and no word
// is lost
Test(wrap, fills_lines_and_loses_nothing)
{
  static const char* const pieces[] = {
    "a", "of", "C\u266f", "\u2153", "landing"};
  Rng rng = rng_seed(1, 0);
  for (unsigned round = 0; round < 300; ++round) {
    size_t n        = 0;
    size_t n_pieces = rng_below(&rng, 120);
    begin();
    Wrap wrap = wrap_begin(stream, rng_below(&rng, 24), "");
    for (size_t i = 0; i < n_pieces; ++i) {
      const char* const piece = pieces[rng_below(&rng, 5)];
      n += (size_t)snprintf(
        words + n, sizeof(words) - n, "%s%s", n ? " " : "", piece);
      wrap_piece(&wrap, piece);
    }
    words[n] = '\0';
    wrap_end(&wrap);
    (void)fclose(stream);

    size_t   at   = 0;
    unsigned room = 0; // On the line before
    for (char* line = strtok(lines, "\n"); line; line = strtok(NULL, "\n")) {
      const unsigned width = characters(line, strlen(line));
      char*          word  = line + strspn(line, " ");
      cr_assert_leq(width, COLUMNS_USUAL);
      if (*word) {
        const size_t first = strcspn(word, " ");
        cr_assert(!at || characters(word, first) + 1 > room);
        cr_assert_eq(strncmp(words + at, word, strlen(word)), 0);
        at += strlen(word) + (words[at + strlen(word)] == ' ');
      }
      room = COLUMNS_USUAL - width;
    }
    cr_assert_eq(at, n);
  }
}
