#include "core/midi/gm.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <string.h>

// General MIDI System Level 1: the table that tests/tables/SOURCES.md names.
static const struct {
  const char* kind;
  int         number;
  const char* name;
} named[] = {
  {"program", GM_ACOUSTIC_GRAND_PIANO, "acoustic grand piano"},
  {"program", GM_BRIGHT_ACOUSTIC_PIANO, "bright acoustic piano"},
  {"program", GM_ELECTRIC_PIANO_1, "electric piano 1"},
  {"program", GM_ELECTRIC_PIANO_2, "electric piano 2"},
  {"program", GM_VIBRAPHONE, "vibraphone"},
  {"program", GM_DRAWBAR_ORGAN, "drawbar organ"},
  {"program", GM_ACOUSTIC_GUITAR_NYLON, "acoustic guitar (nylon)"},
  {"program", GM_ACOUSTIC_GUITAR_STEEL, "acoustic guitar (steel)"},
  {"program", GM_ELECTRIC_GUITAR_JAZZ, "electric guitar (jazz)"},
  {"program", GM_ELECTRIC_GUITAR_CLEAN, "electric guitar (clean)"},
  {"program", GM_ACOUSTIC_BASS, "acoustic bass"},
  {"program", GM_ELECTRIC_BASS_FINGER, "electric bass (finger)"},
  {"program", GM_FRETLESS_BASS, "fretless bass"},
  {"program", GM_TRUMPET, "trumpet"},
  {"program", GM_TROMBONE, "trombone"},
  {"program", GM_ALTO_SAX, "alto sax"},
  {"program", GM_TENOR_SAX, "tenor sax"},
  {"program", GM_CLARINET, "clarinet"},
  {"program", GM_FLUTE, "flute"},
  {"percussion_channel_10", GM_ACOUSTIC_BASS_DRUM, "Acoustic Bass Drum"},
  {"percussion_channel_10", GM_BASS_DRUM_1, "Bass Drum 1"},
  {"percussion_channel_10", GM_SIDE_STICK, "Side Stick"},
  {"percussion_channel_10", GM_ACOUSTIC_SNARE, "Acoustic Snare"},
  {"percussion_channel_10", GM_HAND_CLAP, "Hand Clap"},
  {"percussion_channel_10", GM_ELECTRIC_SNARE, "Electric Snare"},
  {"percussion_channel_10", GM_LOW_FLOOR_TOM, "Low Floor Tom"},
  {"percussion_channel_10", GM_CLOSED_HI_HAT, "Closed Hi-Hat"},
  {"percussion_channel_10", GM_HIGH_FLOOR_TOM, "High Floor Tom"},
  {"percussion_channel_10", GM_PEDAL_HI_HAT, "Pedal Hi-Hat"},
  {"percussion_channel_10", GM_LOW_TOM, "Low Tom"},
  {"percussion_channel_10", GM_OPEN_HI_HAT, "Open Hi-Hat"},
  {"percussion_channel_10", GM_LOW_MID_TOM, "Low-Mid Tom"},
  {"percussion_channel_10", GM_HI_MID_TOM, "Hi-Mid Tom"},
  {"percussion_channel_10", GM_CRASH_CYMBAL_1, "Crash Cymbal 1"},
  {"percussion_channel_10", GM_HIGH_TOM, "High Tom"},
  {"percussion_channel_10", GM_RIDE_CYMBAL_1, "Ride Cymbal 1"},
  {"percussion_channel_10", GM_RIDE_BELL, "Ride Bell"},
  {"percussion_channel_10", GM_TAMBOURINE, "Tambourine"},
  {"percussion_channel_10", GM_SPLASH_CYMBAL, "Splash Cymbal"},
  {"percussion_channel_10", GM_COWBELL, "Cowbell"},
  {"percussion_channel_10", GM_CRASH_CYMBAL_2, "Crash Cymbal 2"},
  {"percussion_channel_10", GM_RIDE_CYMBAL_2, "Ride Cymbal 2"},
  {"percussion_channel_10", GM_HI_WOOD_BLOCK, "Hi Wood Block"},
  {"percussion_channel_10", GM_LOW_WOOD_BLOCK, "Low Wood Block"},
};

// Return the name of a number as it is sent, as the table has it.
static void
published_name(const char* const kind, const int number, char name[64])
{
  FILE* const file = fopen(BARTER_TABLES "/gm.csv", "r");
  cr_assert_not_null(file);
  char line[256];
  name[0] = '\0';
  while (fgets(line, sizeof(line), file)) {
    char row_kind[64];
    char row_name[64];
    int  byte = 0;
    if (sscanf(line, "%63[^,],%*d,%d,%63[^,]", row_kind, &byte, row_name) ==
          3 &&
        !strcmp(row_kind, kind) && byte == number) {
      (void)snprintf(name, 64, "%s", row_name);
    }
  }
  (void)fclose(file);
}

Test(gm, has_the_published_numbers)
{
  for (size_t i = 0; i < sizeof(named) / sizeof(*named); ++i) {
    char name[64];
    published_name(named[i].kind, named[i].number, name);
    cr_assert_str_eq(name, named[i].name);
  }
}
