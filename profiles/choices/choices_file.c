#include "profiles/choices/choices_file.h"

#include "core/settings/places.h"
#include "core/settings/value.h"

#include <stdio.h>
#include <string.h>

// Of "Bb major" the tonic: the chart says whether it is minor
static void
settle_key(Choices* const choices, const Setting setting)
{
  Key key;
  if (setting_kind(setting) != SETTING_TEXT || !choices->key[0]) {
    return;
  }
  if (key_parse(&key, choices->key) == STATUS_OK) {
    char text[KEY_TEXT_CAPACITY];
    (void)key_text(key, text);
    text[strcspn(text, " ")] = '\0';
    (void)snprintf(choices->key, sizeof(choices->key), "%s", text);
  } else {
    setting_fault(setting,
                  "key \"%s\" is not known; write a note and major or minor, "
                  "as Eb major",
                  choices->key);
  }
}

static void
check_range(const Choices* const choices, const Setting top)
{
  const Setting highest = setting_find(top, "highest");
  const Setting lowest  = setting_find(top, "lowest");
  const Setting at      = setting_kind(highest) ? highest : lowest;
  if (choices->highest < choices->lowest + CHOICES_RANGE_LEAST &&
      setting_kind(at)) {
    setting_fault(at,
                  "the range is narrower than an octave; highest is to be %d "
                  "semitones above lowest, or more",
                  CHOICES_RANGE_LEAST);
  }
}

static void
mark_read(Choices* const    choices,
          const Choice      choice,
          const ChoicePlace place,
          const Setting     setting)
{
  const unsigned line = setting_line(setting);
  if (setting_kind(setting) == SETTING_ABSENT) {
    return;
  }
  choices_mark(choices, choice, place, line);
  for (unsigned i = 0; choice == CHOICE_RUNG && i < N_DIMENSIONS; ++i) {
    if (choices->rung.level[i]) {
      choices_mark(choices, (Choice)(CHOICE_NOTES + i), place, line);
    }
  }
}

unsigned
choices_file_rows(const ChoicePlace place, const Row* rows[N_CHOICES])
{
  unsigned n = 0;
  for (unsigned i = 0; i < N_CHOICES; ++i) {
    const ChoiceRow* const choice = choice_row((Choice)i);
    if (choice->places & CHOICE_PLACE_BIT(place)) {
      rows[n++] = &choice->row;
    }
  }
  return n;
}

void
choices_file_read_part(Choices* const    choices,
                       const ChoicePlace place,
                       Settings* const   settings)
{
  const Setting top = settings_top(settings);
  for (unsigned i = 0; i < N_CHOICES; ++i) {
    const ChoiceRow* const choice = choice_row((Choice)i);
    if (choice->places & CHOICE_PLACE_BIT(place)) {
      const Setting setting = row_find(&choice->row, top);
      row_read(&choice->row, choices, setting);
      mark_read(choices, (Choice)i, place, setting);
    }
  }
  settle_key(choices, setting_find(top, "key"));
  check_range(choices, top);
}

void
choices_file_read(Choices* const    choices,
                  const ChoicePlace place,
                  Settings* const   settings)
{
  const Row*     rows[N_CHOICES];
  const unsigned n = choices_file_rows(place, rows);
  rows_allow(rows, n, NULL, 0, settings_top(settings));
  choices_file_read_part(choices, place, settings);
}

static Status
load(Choices* const    choices,
     const ChoicePlace place,
     const char* const name,
     Faults* const     faults)
{
  char      path[PLACE_PATH_CAPACITY];
  Fault     ignored;
  Settings* settings = NULL;
  if (place_find_file(name, path, &ignored)) {
    return STATUS_OK; // None is needed
  }
  Status status = settings_open(&settings, path, faults);
  if (!status) {
    choices_file_read(choices, place, settings);
    status = settings_status(settings);
    settings_close(settings);
  }
  return status;
}

Status
choices_load(Choices* const choices, Faults* const faults)
{
  *choices            = choices_plain();
  const Status status = load(choices, CHOICE_BY_BARTER, "barter.cfg", faults);
  return status
           ? status
           : load(choices, CHOICE_BY_EQUIPMENT, CHOICES_EQUIPMENT_FILE, faults);
}
