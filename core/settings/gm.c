#include "core/settings/gm.h"

#include "core/settings/value.h"

#include <assert.h>
#include <stddef.h>
#include <stdlib.h>
#include <string.h>

// General MIDI System, Level 1: sound set and percussion key map (MMA 1991)

static const char* const program_names[GM_N_PROGRAMS] = {
  "acoustic grand piano",
  "bright acoustic piano",
  "electric grand piano",
  "honky-tonk piano",
  "electric piano 1",
  "electric piano 2",
  "harpsichord",
  "clavi",
  "celesta",
  "glockenspiel",
  "music box",
  "vibraphone",
  "marimba",
  "xylophone",
  "tubular bells",
  "dulcimer",
  "drawbar organ",
  "percussive organ",
  "rock organ",
  "church organ",
  "reed organ",
  "accordion",
  "harmonica",
  "tango accordion",
  "acoustic guitar (nylon)",
  "acoustic guitar (steel)",
  "electric guitar (jazz)",
  "electric guitar (clean)",
  "electric guitar (muted)",
  "overdriven guitar",
  "distortion guitar",
  "guitar harmonics",
  "acoustic bass",
  "electric bass (finger)",
  "electric bass (pick)",
  "fretless bass",
  "slap bass 1",
  "slap bass 2",
  "synth bass 1",
  "synth bass 2",
  "violin",
  "viola",
  "cello",
  "contrabass",
  "tremolo strings",
  "pizzicato strings",
  "orchestral harp",
  "timpani",
  "string ensemble 1",
  "string ensemble 2",
  "synthstrings 1",
  "synthstrings 2",
  "choir aahs",
  "voice oohs",
  "synth voice",
  "orchestra hit",
  "trumpet",
  "trombone",
  "tuba",
  "muted trumpet",
  "french horn",
  "brass section",
  "synthbrass 1",
  "synthbrass 2",
  "soprano sax",
  "alto sax",
  "tenor sax",
  "baritone sax",
  "oboe",
  "english horn",
  "bassoon",
  "clarinet",
  "piccolo",
  "flute",
  "recorder",
  "pan flute",
  "blown bottle",
  "shakuhachi",
  "whistle",
  "ocarina",
  "lead 1 (square)",
  "lead 2 (sawtooth)",
  "lead 3 (calliope)",
  "lead 4 (chiff)",
  "lead 5 (charang)",
  "lead 6 (voice)",
  "lead 7 (fifths)",
  "lead 8 (bass + lead)",
  "pad 1 (new age)",
  "pad 2 (warm)",
  "pad 3 (polysynth)",
  "pad 4 (choir)",
  "pad 5 (bowed)",
  "pad 6 (metallic)",
  "pad 7 (halo)",
  "pad 8 (sweep)",
  "fx 1 (rain)",
  "fx 2 (soundtrack)",
  "fx 3 (crystal)",
  "fx 4 (atmosphere)",
  "fx 5 (brightness)",
  "fx 6 (goblins)",
  "fx 7 (echoes)",
  "fx 8 (sci-fi)",
  "sitar",
  "banjo",
  "shamisen",
  "koto",
  "kalimba",
  "bag pipe",
  "fiddle",
  "shanai",
  "tinkle bell",
  "agogo",
  "steel drums",
  "woodblock",
  "taiko drum",
  "melodic tom",
  "synth drum",
  "reverse cymbal",
  "guitar fret noise",
  "breath noise",
  "seashore",
  "bird tweet",
  "telephone ring",
  "helicopter",
  "applause",
  "gunshot",
};

static const char* const drum_names[GM_N_DRUMS] = {
  "acoustic bass drum",
  "bass drum 1",
  "side stick",
  "acoustic snare",
  "hand clap",
  "electric snare",
  "low floor tom",
  "closed hi-hat",
  "high floor tom",
  "pedal hi-hat",
  "low tom",
  "open hi-hat",
  "low-mid tom",
  "hi-mid tom",
  "crash cymbal 1",
  "high tom",
  "ride cymbal 1",
  "chinese cymbal",
  "ride bell",
  "tambourine",
  "splash cymbal",
  "cowbell",
  "crash cymbal 2",
  "vibraslap",
  "ride cymbal 2",
  "hi bongo",
  "low bongo",
  "mute hi conga",
  "open hi conga",
  "low conga",
  "high timbale",
  "low timbale",
  "high agogo",
  "low agogo",
  "cabasa",
  "maracas",
  "short whistle",
  "long whistle",
  "short guiro",
  "long guiro",
  "claves",
  "hi wood block",
  "low wood block",
  "mute cuica",
  "open cuica",
  "mute triangle",
  "open triangle",
};

const char*
gm_program_name(const unsigned program)
{
  assert(program < GM_N_PROGRAMS);
  return program_names[program];
}

bool
gm_find_program(const char* const text, uint8_t* const program)
{
  char* end    = NULL;
  long  number = strtol(text, &end, 10) - 1;
  if (end == text || *end) {
    number = 0;
    while (number < GM_N_PROGRAMS && strcmp(text, program_names[number]) != 0) {
      ++number;
    }
  }
  if (number < 0 || number >= GM_N_PROGRAMS) {
    return false;
  }
  *program = (uint8_t)number;
  return true;
}

uint8_t
gm_program(const Setting setting, const uint8_t fallback)
{
  if (setting_kind(setting) == SETTING_TEXT) {
    return (uint8_t)value_choice(
      setting, program_names, GM_N_PROGRAMS, fallback);
  }
  return (uint8_t)(value_int(setting, 1, GM_N_PROGRAMS, fallback + 1) - 1);
}

uint8_t
gm_drum(const Setting setting, const uint8_t fallback)
{
  if (setting_kind(setting) == SETTING_TEXT) {
    const unsigned none = GM_N_DRUMS;
    const unsigned drum = value_choice(setting, drum_names, GM_N_DRUMS, none);
    return drum == none ? fallback : (uint8_t)(GM_LOWEST_DRUM + drum);
  }
  return (uint8_t)value_int(
    setting, GM_LOWEST_DRUM, GM_LOWEST_DRUM + GM_N_DRUMS - 1, fallback);
}
