#include "profiles/files/check.h"

#include "core/settings/chart_file.h"
#include "core/settings/feel_file.h"
#include "core/settings/places.h"
#include "core/settings/value.h"
#include "profiles/choices/choices_file.h"
#include "profiles/files/ladder_file.h"
#include "profiles/files/sentences_file.h"
#include "profiles/learner/learner_file.h"

#include <stdlib.h>
#include <string.h>

/// Room for whatever a file turns out to be, and for the feel that it names.
typedef struct {
  union {
    ChartFile chart;
    Choices   choices;
    Feel      feel;
    Ladder    ladder;
    Learner   learner;
    Sentences sentences;
  } file;
  Feel   named;
  Faults named_faults;
} Room;

/// Look up a chart or feel that a file names; false, with a fault noted, if
/// there is none.
static bool
look_up(const Setting   setting,
        const PlaceKind kind,
        char            path[PLACE_PATH_CAPACITY])
{
  if (setting_kind(setting) != SETTING_TEXT) {
    return false;
  }
  Fault      fault;
  const bool is_there =
    place_find(kind, setting_raw_text(setting), path, &fault) == STATUS_OK;
  if (!is_there) {
    setting_fault(setting, "%s", fault.text);
  }
  return is_there;
}

/// Check that a feel is there, can be read and fits a meter.
static void
check_feel(Room* const room, const Setting setting, const Meter meter)
{
  char path[PLACE_PATH_CAPACITY];
  char text[METER_TEXT_CAPACITY];
  if (!look_up(setting, PLACE_FEELS, path)) {
    return;
  }
  if (feel_file_load(&room->named, path, &room->named_faults) != STATUS_OK) {
    setting_fault(setting,
                  "the feel \"%s\" has faults of its own; check %.80s",
                  setting_raw_text(setting),
                  path);
  } else if (!feel_fits(&room->named, meter)) {
    setting_fault(setting,
                  "the feel \"%s\" is not for %s; name one that is",
                  setting_raw_text(setting),
                  meter_text(meter, text));
  }
}

static Status
check_chart(Room* const room, Settings* const settings)
{
  const Setting feel = setting_find(settings_top(settings), "feel");
  if (chart_file_read(&room->file.chart, settings) == STATUS_OK) {
    check_feel(room, feel, room->file.chart.chart.meter);
  }
  return settings_status(settings);
}

static Status
check_choices(Room* const room, Settings* const settings)
{
  Choices* const choices = &room->file.choices;
  char           path[PLACE_PATH_CAPACITY];
  const Setting  top = settings_top(settings);
  *choices           = choices_plain();
  choices_file_read(choices, CHOICE_BY_BARTER, settings);
  if (!settings_status(settings)) {
    (void)look_up(setting_find(top, "chart"), PLACE_CHARTS, path);
    (void)look_up(setting_find(top, "feel"), PLACE_FEELS, path);
  }
  return settings_status(settings);
}

/// Whether the top of a file has any of some names.
static bool
has_any(const Setting top, const char* const* const names, const unsigned n)
{
  bool has = false;
  for (unsigned i = 0; i < n; ++i) {
    has = has || setting_kind(setting_find(top, names[i])) != SETTING_ABSENT;
  }
  return has;
}

/// Read a file as what it is: each kind has names that no other has.
static Status
check_settings(Room* const room, Settings* const settings)
{
  static const char* const of_chart[] = {"meter", "scale"};
  static const char* const of_feel[]  = {
     "meters", "swing", "bass_line", "ride_extra", "drums", "bass", "chords"};
  static const char* const of_ladder[] = {
    "notes", "rhythm", "shape", "ornament", "start", "budget"};
  static const char* const of_learner[] = {
    "name", "caps", "pins", "target", "pace", "goals"};
  static const char* const of_sentences[] = {
    "praise", "advice", "silence", "worked", "work_on", "next"};

  const Setting top = settings_top(settings);
  if (setting_kind(setting_find(top, "bars")) == SETTING_LIST ||
      has_any(top, of_chart, sizeof(of_chart) / sizeof(*of_chart))) {
    return check_chart(room, settings);
  }
  if (has_any(top, of_feel, sizeof(of_feel) / sizeof(*of_feel))) {
    return feel_file_read(&room->file.feel, settings);
  }
  if (has_any(top, of_ladder, sizeof(of_ladder) / sizeof(*of_ladder))) {
    return ladder_file_read(&room->file.ladder, settings);
  }
  if (has_any(top, of_learner, sizeof(of_learner) / sizeof(*of_learner))) {
    room->file.learner = learner_plain("");
    return learner_file_read(&room->file.learner, settings);
  }
  if (has_any(
        top, of_sentences, sizeof(of_sentences) / sizeof(*of_sentences))) {
    return sentences_file_read(&room->file.sentences, settings);
  }
  return check_choices(room, settings);
}

/// Whether a file says nothing at all; of barter.cfg that is as good as any.
static bool
is_empty(const char* const path, Settings* const settings)
{
  char name[PLACE_NAME_CAPACITY];
  return setting_length(settings_top(settings)) == 0 &&
         strcmp(place_name(path, name), "barter") != 0;
}

Status
check_file(const char* const path, Faults* const faults)
{
  Settings* settings = NULL;
  Status    status   = settings_open(&settings, path, faults);
  if (status != STATUS_OK) {
    return status;
  }

  Room* const room = calloc(1, sizeof(*room));
  if (room && is_empty(path, settings)) {
    status = faults_add(faults,
                        STATUS_SYNTAX,
                        path,
                        0,
                        "nothing is set here; a chart has title, meter, key, "
                        "scale and bars");
  } else if (room) {
    status = check_settings(room, settings);
  } else {
    status = faults_add(
      faults, STATUS_MEMORY, path, 0, "there is no memory left to read it");
  }
  free(room);
  settings_close(settings);
  return status;
}
