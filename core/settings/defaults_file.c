#include "core/settings/defaults_file.h"

#include "core/settings/gm.h"
#include "core/settings/value.h"

#include <limits.h>

enum {
  LOWEST_BPM    = 30,
  HIGHEST_BPM   = 320,
  CHORUSES_MAX  = 99,
  NARROWEST     = 12, ///< Range of a player, semitones
  SMALLEST_SPAN = 5,
  LARGEST_SPAN  = 24,
  LEVEL_MAX     = 127,
  EARLIEST_MS   = -200, ///< Of a lag
  LATEST_MS     = 500,
};

/// The words of `first` and `thins`, in the order of false and true.
static const char* const people[] = {"player", "partner"};

static const char* const part_names[N_PARTS] = {
  [PART_PLAYER]  = "player",
  [PART_PARTNER] = "partner",
  [PART_CHORDS]  = "chords",
  [PART_BASS]    = "bass",
  [PART_DRUMS]   = "drums",
};

Defaults
defaults_plain(void)
{
  // By ear: the two voices that talk are told apart, and the band is behind
  return (Defaults){
    .chart     = "blues",
    .bars      = 4,
    .choruses  = 2,
    .split     = 60,
    .lowest    = 60,
    .highest   = 84,
    .hand_span = 12,
    .sounds =
      {
        [PART_PLAYER]  = {0, 100}, // Acoustic grand piano
        [PART_PARTNER] = {4, 100}, // Electric piano 1
        [PART_CHORDS]  = {26, 70}, // Electric guitar (jazz)
        [PART_BASS]    = {32, 90}, // Acoustic bass
        [PART_DRUMS]   = {0, 80},
      },
  };
}

static unsigned
read_turn_length(const Setting setting, const unsigned fallback)
{
  const unsigned bars = (unsigned)value_int(setting, 1, 4, (int)fallback);
  if (bars == 3) {
    setting_fault(setting, "bars 3 is no turn's length; write 1, 2 or 4");
  }
  return bars;
}

static void
read_sounds(const Setting sounds, DefaultsSound values[N_PARTS])
{
  static const char* const names[] = {"program", "level"};
  value_allow(sounds, part_names, N_PARTS);
  for (unsigned part = 0; part < N_PARTS; ++part) {
    const Setting sound = value_group(setting_find(sounds, part_names[part]));
    DefaultsSound* const value = &values[part];
    value_allow(sound, names, sizeof(names) / sizeof(*names));
    value->program = gm_program(setting_find(sound, "program"), value->program);
    value->level   = (uint8_t)value_int(
      setting_find(sound, "level"), 0, LEVEL_MAX, value->level);
  }
}

static void
read_hands(const Setting top, Defaults* const defaults)
{
  defaults->split  = value_pitch(setting_find(top, "split"), defaults->split);
  defaults->lowest = value_pitch(setting_find(top, "lowest"), defaults->lowest);
  const Setting highest = setting_find(top, "highest");
  defaults->highest     = value_pitch(highest, defaults->highest);
  defaults->hand_span   = (uint8_t)value_int(setting_find(top, "hand_span"),
                                           SMALLEST_SPAN,
                                           LARGEST_SPAN,
                                           defaults->hand_span);
  if (defaults->highest < defaults->lowest + NARROWEST) {
    setting_fault(setting_kind(highest) ? highest : setting_find(top, "lowest"),
                  "the range is narrower than an octave; highest is to be %d "
                  "semitones above lowest, or more",
                  NARROWEST);
  }
}

static void
read_session(const Setting top, Defaults* const defaults)
{
  defaults->tempo_bpm = value_number(
    setting_find(top, "tempo"), LOWEST_BPM, HIGHEST_BPM, defaults->tempo_bpm);
  defaults->bars = read_turn_length(setting_find(top, "bars"), defaults->bars);
  defaults->choruses = (unsigned)value_int(
    setting_find(top, "choruses"), 1, CHORUSES_MAX, (int)defaults->choruses);
  defaults->partner_begins = value_choice(
    setting_find(top, "first"), people, 2, defaults->partner_begins);
  defaults->band_thins_for_partner = value_choice(
    setting_find(top, "thins"), people, 2, defaults->band_thins_for_partner);

  defaults->lag_ms = value_number(
    setting_find(top, "lag_ms"), EARLIEST_MS, LATEST_MS, defaults->lag_ms);

  const Setting seed = setting_find(top, "seed");
  if (setting_kind(seed) != SETTING_ABSENT) {
    defaults->has_seed = true;
    defaults->seed     = (uint32_t)value_int(seed, 0, INT_MAX, 0);
  }
}

static void
read_texts(const Setting top, Defaults* const defaults)
{
  value_copy(
    setting_find(top, "chart"), defaults->chart, sizeof(defaults->chart));
  value_copy(setting_find(top, "feel"), defaults->feel, sizeof(defaults->feel));
  value_copy(setting_find(top, "rung"), defaults->rung, sizeof(defaults->rung));
  value_copy(
    setting_find(top, "control"), defaults->control, sizeof(defaults->control));

  Key               key;
  const Setting     setting = setting_find(top, "key");
  const char* const text    = value_text(setting, KEY_TEXT_CAPACITY - 1);
  if (text && key_parse(&key, text) == STATUS_OK) {
    (void)key_text(key, defaults->key);
  } else if (text) {
    setting_fault(setting,
                  "key \"%s\" is not known; write a note and major or minor, "
                  "as Eb major",
                  text);
  }
}

Status
defaults_file_read(Defaults* const defaults, Settings* const settings)
{
  static const char* const names[] = {"chart",
                                      "key",
                                      "feel",
                                      "tempo",
                                      "bars",
                                      "choruses",
                                      "first",
                                      "thins",
                                      "seed",
                                      "rung",
                                      "split",
                                      "lowest",
                                      "highest",
                                      "hand_span",
                                      "sounds",
                                      "control",
                                      "lag_ms"};
  const Setting            top     = settings_top(settings);
  value_allow(top, names, sizeof(names) / sizeof(*names));
  read_texts(top, defaults);
  read_session(top, defaults);
  read_hands(top, defaults);
  read_sounds(value_group(setting_find(top, "sounds")), defaults->sounds);
  return settings_status(settings);
}

Status
defaults_file_load(Defaults* const   defaults,
                   const char* const path,
                   Faults* const     faults)
{
  Settings* settings = NULL;
  Status    status   = settings_open(&settings, path, faults);
  if (status == STATUS_OK) {
    status = defaults_file_read(defaults, settings);
    settings_close(settings);
  }
  return status;
}
