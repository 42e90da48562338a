#include "core/settings/value.h"

#include "core/music/spelling.h"
#include "core/settings/nearest.h"
#include "core/settings/utf8.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
  WORDS_LISTED = 8, ///< Most words that a fault names one by one
  PITCH_MAX    = 127,
};

Setting
value_need(const Setting group, const char* const name, const char* const hint)
{
  const Setting found = setting_find(group, name);
  if (setting_kind(group) == SETTING_GROUP && !found.node) {
    setting_fault(group, "%s is missing; write %s", name, hint);
  }
  return found;
}

void
value_allow(const Setting            group,
            const char* const* const names,
            const size_t             n_names)
{
  const unsigned n_members =
    setting_kind(group) == SETTING_GROUP ? setting_length(group) : 0;
  for (unsigned i = 0; i < n_members; ++i) {
    const Setting     member = setting_at(group, i);
    const char* const name   = setting_name(member);
    size_t            known  = 0;
    while (known < n_names && strcmp(name, names[known]) != 0) {
      ++known;
    }
    if (known == n_names) {
      const char* const meant = nearest_word(name, names, n_names);
      if (meant) {
        setting_fault(member, "%s is not known; write %s", name, meant);
      } else {
        setting_fault(member, "%s is not known here; take it away", name);
      }
    }
  }
}

Setting
value_group(const Setting setting)
{
  const SettingKind kind = setting_kind(setting);
  if (kind == SETTING_ABSENT || kind == SETTING_GROUP) {
    return setting;
  }
  setting_fault(setting,
                "%s holds no settings; write them in braces, { NAME = VALUE; }",
                setting_name(setting));
  return (Setting){setting.settings, NULL};
}

unsigned
value_count(const Setting list, const unsigned least, const unsigned most)
{
  if (setting_kind(list) == SETTING_ABSENT) {
    return 0;
  }
  if (setting_kind(list) != SETTING_LIST) {
    setting_fault(list,
                  "%s is no list; write it in brackets, %s = [ ... ];",
                  setting_name(list),
                  setting_name(list));
    return 0;
  }

  const unsigned count = setting_length(list);
  if (count < least || count > most) {
    setting_fault(list,
                  "%s holds %u values; %u to %u are allowed",
                  setting_name(list),
                  count,
                  least,
                  most);
    return 0;
  }
  return count;
}

/// Read a number of either kind; false, with a fault noted, if it is none.
static bool
read_number(const Setting setting, double* const number)
{
  if (setting_kind(setting) == SETTING_NUMBER) {
    *number = setting_raw_number(setting);
    return true;
  }
  if (setting_kind(setting) != SETTING_ABSENT) {
    setting_fault(setting,
                  "%s is no number; write one without quotes",
                  setting_name(setting));
  }
  return false;
}

int
value_int(const Setting setting,
          const int     lowest,
          const int     highest,
          const int     fallback)
{
  double number = 0.0;
  if (!read_number(setting, &number)) {
    return fallback;
  }
  if (!isfinite(number) || number < lowest || number > highest) {
    setting_fault(setting,
                  "%s %.10g is outside %d..%d",
                  setting_name(setting),
                  number,
                  lowest,
                  highest);
    return fallback;
  }
  if (number != floor(number)) {
    setting_fault(setting,
                  "%s %.10g is no whole number; write %d..%d",
                  setting_name(setting),
                  number,
                  lowest,
                  highest);
    return fallback;
  }
  return (int)number;
}

double
value_number(const Setting setting,
             const double  lowest,
             const double  highest,
             const double  fallback)
{
  double number = 0.0;
  if (!read_number(setting, &number)) {
    return fallback;
  }
  if (!isfinite(number) || number < lowest || number > highest) {
    setting_fault(setting,
                  "%s %.10g is outside %.10g..%.10g",
                  setting_name(setting),
                  number,
                  lowest,
                  highest);
    return fallback;
  }
  return number;
}

const char*
value_text(const Setting setting, const size_t longest)
{
  if (setting_kind(setting) == SETTING_ABSENT) {
    return NULL;
  }
  if (setting_kind(setting) != SETTING_TEXT) {
    setting_fault(
      setting, "%s is no text; put it in quotes", setting_name(setting));
    return NULL;
  }

  const char* const text = setting_raw_text(setting);
  if (!utf8_is_line(text)) {
    setting_fault(setting,
                  "%s holds bytes that are no text; write plain UTF-8",
                  setting_name(setting));
    return NULL;
  }
  if (strlen(text) > longest) {
    setting_fault(setting,
                  "%s is longer than %zu characters",
                  setting_name(setting),
                  longest);
    return NULL;
  }
  return text;
}

void
value_copy(const Setting setting, char* const buffer, const size_t size)
{
  const char* const text = value_text(setting, size - 1);
  if (text) {
    memcpy(buffer, text, strlen(text) + 1);
  }
}

/// Write what would be right to a text: all words, or the first of very many.
static const char*
list_words(const char* const* const words,
           const unsigned           n_words,
           char* const              buffer,
           const size_t             size)
{
  if (n_words > WORDS_LISTED) {
    (void)snprintf(
      buffer, size, "one of %u names, such as %s", n_words, words[0]);
    return buffer;
  }

  size_t length = 0;
  for (unsigned i = 0; i < n_words && length < size; ++i) {
    const char* const joint = i == 0 ? "" : i + 1 < n_words ? ", " : " or ";
    length +=
      (size_t)snprintf(buffer + length, size - length, "%s%s", joint, words[i]);
  }
  return buffer;
}

unsigned
value_choice(const Setting            setting,
             const char* const* const words,
             const unsigned           n_words,
             const unsigned           fallback)
{
  const char* const text = value_text(setting, SETTINGS_SIZE_MAX);
  if (!text) {
    return fallback;
  }
  for (unsigned i = 0; i < n_words; ++i) {
    if (strcmp(text, words[i]) == 0) {
      return i;
    }
  }

  char              all[128];
  const char* const meant = nearest_word(text, words, n_words);
  setting_fault(setting,
                "%s \"%.40s\" is not known; write %s",
                setting_name(setting),
                text,
                meant ? meant : list_words(words, n_words, all, sizeof(all)));
  return fallback;
}

/// Read a pitch by its name; false if it is none.
static bool
read_pitch(const char* const text, int* const pitch)
{
  Spelling          spelling;
  const size_t      length = spelling_parse(&spelling, text);
  const char* const octave = text + length;
  const bool        is_low = octave[0] == '-';
  if (length == 0 || !isdigit((unsigned char)octave[is_low]) ||
      octave[is_low + 1]) {
    return false;
  }

  // Cb4 is the key below C4: the octave is that of the letter
  static const int naturals[] = {0, 2, 4, 5, 7, 9, 11};
  const int        number     = octave[is_low] - '0';
  *pitch = 12 * ((is_low ? -number : number) + 1) + naturals[spelling.letter] +
           spelling.alter;
  return *pitch >= 0 && *pitch <= PITCH_MAX;
}

bool
value_find_pitch(const char* const text, uint8_t* const pitch)
{
  char* end    = NULL;
  long  number = strtol(text, &end, 10);
  int   named  = 0;
  if (end == text || *end) {
    number = read_pitch(text, &named) ? named : -1;
  }
  if (number < 0 || number > PITCH_MAX) {
    return false;
  }
  *pitch = (uint8_t)number;
  return true;
}

const char*
value_pitch_text(const unsigned pitch, char text[PITCH_TEXT_CAPACITY])
{
  static const Spelling sharps[] = {
    {0, 0},
    {0, 1},
    {1, 0},
    {1, 1},
    {2, 0},
    {3, 0},
    {3, 1},
    {4, 0},
    {4, 1},
    {5, 0},
    {5, 1},
    {6, 0},
  };
  return pitch_text(pitch, sharps[pitch % 12], text);
}

bool
value_bool(const Setting setting, const bool fallback)
{
  const SettingKind kind = setting_kind(setting);
  if (kind == SETTING_BOOL) {
    return setting_raw_bool(setting);
  }
  if (kind != SETTING_ABSENT) {
    setting_fault(setting,
                  "%s is neither true nor false; write one of them",
                  setting_name(setting));
  }
  return fallback;
}

uint8_t
value_pitch(const Setting setting, const uint8_t fallback)
{
  if (setting_kind(setting) != SETTING_TEXT) {
    return (uint8_t)value_int(setting, 0, PITCH_MAX, fallback);
  }

  const char* const text  = value_text(setting, SETTINGS_SIZE_MAX);
  int               pitch = fallback;
  if (text && !read_pitch(text, &pitch)) {
    setting_fault(setting,
                  "%s \"%.20s\" is no pitch; write a note with its octave, C4 "
                  "for middle C",
                  setting_name(setting),
                  text);
    return fallback;
  }
  return (uint8_t)pitch;
}

void
value_add_quoted(Text* const text, const char* const words, const size_t length)
{
  text_add(text, "\"");
  for (size_t i = 0; i < length; ++i) {
    text_add(text, words[i] == '"' || words[i] == '\\' ? "\\" : "");
    text_add_part(text, words + i, 1);
  }
  text_add(text, "\"");
}
