#include "profiles/files/sentences_file.h"

#include "core/settings/value.h"

#include <stdbool.h>
#include <string.h>

enum { MOST_TONES = 2 }; // In one sentence: they are long, and a line is not

static unsigned
count_tones(const char* text)
{
  unsigned n = 0;
  for (; (text = strstr(text, "{tone}")); ++text) {
    ++n;
  }
  return n;
}

static void
read_wording(const Setting      setting,
             const SentenceKind kind,
             char               words[SENTENCE_CAPACITY])
{
  const char* const text = value_text(setting, SENTENCE_CAPACITY - 1);
  if (!text) {
    return;
  }
  if (!text[strspn(text, " ")]) {
    setting_fault(setting, "the sentence is empty; write one, or take it out");
  } else if (!sentence_fits(kind, text)) {
    const SentenceRow row = sentence_row(kind);
    setting_fault(setting,
                  "\"%.40s\" has something in braces that is not known here; "
                  "%s",
                  text,
                  row.has_note && row.has_tone ? "{note} and {tone} are"
                  : row.has_note               ? "{note} is"
                  : row.has_tone               ? "{tone} is"
                                               : "nothing is");
  } else if (count_tones(text) > MOST_TONES) {
    setting_fault(setting,
                  "\"%.40s\" has {tone} more than twice, which makes the line "
                  "too long; write it once",
                  text);
  } else {
    memcpy(words, text, strlen(text) + 1);
  }
}

static void
read_wordings(const Setting      list,
              const SentenceKind kind,
              Wordings* const    wordings)
{
  const unsigned n = value_count(list, SENTENCE_LEAST, SENTENCE_WORDINGS);
  for (unsigned i = 0; i < n; ++i) {
    read_wording(setting_at(list, i), kind, wordings->words[i]);
  }
  wordings->n = n ? n : wordings->n;
}

/// Read the sentences of one group, those from `first` on; return where the
/// next group begins.
static unsigned
read_group(const Setting top, const unsigned first, Sentences* const sentences)
{
  const char* const name  = sentence_row((SentenceKind)first).group;
  const Setting     group = value_group(setting_find(top, name));
  const char*       names[N_SENTENCES];
  unsigned          n = 0;
  while (first + n < N_SENTENCES &&
         strcmp(sentence_row((SentenceKind)(first + n)).group, name) == 0) {
    const SentenceKind kind = (SentenceKind)(first + n);
    names[n++]              = sentence_row(kind).name;
    read_wordings(
      setting_find(group, names[n - 1]), kind, &sentences->of[kind]);
  }
  value_allow(group, names, n);
  return first + n;
}

/// Whether a sentence is also another one: of a kind before, or before it in
/// its own list.
static bool
is_double(const Sentences* const sentences,
          const unsigned         kind,
          const unsigned         number)
{
  const char* const words = sentences->of[kind].words[number];
  for (unsigned k = 0; k <= kind; ++k) {
    const unsigned n = k == kind ? number : sentences->of[k].n;
    for (unsigned i = 0; i < n; ++i) {
      if (words[0] && strcmp(words, sentences->of[k].words[i]) == 0) {
        return true;
      }
    }
  }
  return false;
}

/// What stands twice would be said twice running.
static void
refuse_doubles(const Setting top, const Sentences* const sentences)
{
  for (unsigned kind = 0; kind < N_SENTENCES; ++kind) {
    const SentenceRow row = sentence_row((SentenceKind)kind);
    const Setting list = setting_find(setting_find(top, row.group), row.name);
    for (unsigned i = 0; i < setting_length(list); ++i) {
      if (is_double(sentences, kind, i)) {
        setting_fault(setting_at(list, i),
                      "\"%.40s\" stands twice in this file; word it another "
                      "way, or take it out",
                      sentences->of[kind].words[i]);
      }
    }
  }
}

Status
sentences_file_read(Sentences* const sentences, Settings* const settings)
{
  const Setting top = settings_top(settings);
  const char*   groups[N_SENTENCES];
  unsigned      n_groups = 0;
  for (unsigned next = 0; next < N_SENTENCES;) {
    groups[n_groups++] = sentence_row((SentenceKind)next).group;
    next               = read_group(top, next, sentences);
  }
  value_allow(top, groups, n_groups);
  if (settings_status(settings) == STATUS_OK) {
    refuse_doubles(top, sentences);
  }
  return settings_status(settings);
}

Status
sentences_file_load(Sentences* const  sentences,
                    const char* const path,
                    Faults* const     faults)
{
  Settings* settings = NULL;
  Status    status   = settings_open(&settings, path, faults);
  *sentences         = *sentences_plain();
  if (status == STATUS_OK) {
    status = sentences_file_read(sentences, settings);
    settings_close(settings);
  }
  if (status != STATUS_OK) {
    *sentences = *sentences_plain();
  }
  return status;
}
