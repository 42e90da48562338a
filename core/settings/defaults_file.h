/// @file core/settings/defaults_file.h What holds when nothing else is said.
///
/// `barter.cfg` may say any of it; the command line goes before it.

#ifndef CORE_SETTINGS_DEFAULTS_FILE_H
#define CORE_SETTINGS_DEFAULTS_FILE_H

#include "core/attributes.h"
#include "core/band/band.h"
#include "core/band/feel.h"
#include "core/music/key.h"
#include "core/settings/faults.h"
#include "core/settings/settings.h"
#include "core/status.h"

#include <stdbool.h>
#include <stdint.h>

enum {
  DEFAULTS_CHART_CAPACITY   = 256,
  DEFAULTS_RUNG_CAPACITY    = 64,
  DEFAULTS_CONTROL_CAPACITY = 16,
};

/// How a part sounds.
typedef struct {
  uint8_t program; ///< As it is sent, 0..127; of no matter for the drums
  uint8_t level;   ///< Channel volume (controller 7), 0..127
} DefaultsSound;

typedef struct {
  char     chart[DEFAULTS_CHART_CAPACITY]; ///< Name or path
  char     key[KEY_TEXT_CAPACITY];         ///< Empty: the chart's own
  char     feel[FEEL_NAME_CAPACITY];       ///< Empty: the chart's suggestion
  double   tempo_bpm; ///< 30..320; 0: the chart's suggestion
  unsigned bars;      ///< Of a turn: 1, 2 or 4
  unsigned choruses;  ///< 1..99
  bool     partner_begins;
  bool     band_thins_for_partner; ///< Else for the player
  bool     has_seed;
  uint32_t seed;                         ///< Of meaning if has_seed
  char     rung[DEFAULTS_RUNG_CAPACITY]; ///< As rung_parse() reads it; may be
                                         ///< empty
  uint8_t       split;                   ///< Lowest key of the melody hand
  uint8_t       lowest;                  ///< The player's range, MIDI keys
  uint8_t       highest;                 ///< At least an octave above `lowest`
  uint8_t       hand_span;               ///< Widest stretch, semitones, 5..24
  DefaultsSound sounds[N_PARTS];         ///< By Part
  char   control[DEFAULTS_CONTROL_CAPACITY]; ///< `cc64`, `key21`; or empty
  double lag_ms; ///< How late the player is heard, by the equipment too
} Defaults;

/// Return what holds when no file says anything.
Defaults
defaults_plain(void);

/**
   Read defaults from settings that are open; what they do not say stays as it
   is in `defaults`.

   @return STATUS_OK, or STATUS_SYNTAX with the faults noted.
*/
MUST_USE Status
defaults_file_read(Defaults* defaults, Settings* settings);

/**
   Load defaults from a file, over those in `defaults`.

   @return STATUS_OK, or what settings_open() or defaults_file_read() returned.
*/
MUST_USE Status
defaults_file_load(Defaults* defaults, const char* path, Faults* faults);

#endif // CORE_SETTINGS_DEFAULTS_FILE_H
