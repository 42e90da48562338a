#include "profiles/choices/choices.h"

#include "core/settings/chart_file.h"

#include <stddef.h>
#include <stdio.h>
#include <string.h>

// Who begins, and in whose turns the band plays thinner: false and true
static const char* const people[]  = {"player", "partner", NULL};
static const char* const lengths[] = {"1", "2", "4", NULL};

static bool
parse_rung(void* const field, const char* const text)
{
  return rung_parse(field, text) == STATUS_OK;
}

static const char*
print_rung(const void* const field, char* const text)
{
  return rung_text(*(const Rung*)field, text);
}

_Static_assert(sizeof(Way) == sizeof(unsigned), "as a ROW_WORD is");

#define FIELD(field) .offset = offsetof(Choices, field)

// Where it may be said
#define CHART CHOICE_PLACE_BIT(CHOICE_BY_CHART)
#define LADDER CHOICE_PLACE_BIT(CHOICE_BY_LADDER)
#define BARTER CHOICE_PLACE_BIT(CHOICE_BY_BARTER)
#define EQUIPMENT CHOICE_PLACE_BIT(CHOICE_BY_EQUIPMENT)
#define LEARNER CHOICE_PLACE_BIT(CHOICE_BY_LEARNER)
#define JOURNAL CHOICE_PLACE_BIT(CHOICE_BY_JOURNAL)
#define TAKE CHOICE_PLACE_BIT(CHOICE_BY_TAKE)
#define ASKING CHOICE_PLACE_BIT(CHOICE_BY_ASKING)

#define RUNG_ROW(dimension, rungs, words)                                      \
  {                                                                            \
    .row    = {.name = words,                                                  \
               .kind = ROW_BYTE,                                               \
               FIELD(rung.level[dimension]),                                   \
               .least = 1,                                                     \
               .most  = rungs,                                                 \
               .unit  = NULL,                                                  \
               .value = "N",                                                   \
               .help  = "the rung of " words},                                  \
    .places = LADDER | JOURNAL, .recorded = words,                             \
  }

#define SOUND_ROWS(part, words)                                                \
  {                                                                            \
    .row      = {.name = "sounds." words ".program",                           \
                 .kind = ROW_PROGRAM,                                          \
                 FIELD(sounds[part].program),                                  \
                 .most  = 127,                                                 \
                 .value = "SOUND",                                             \
                 .help  = "the sound of the " words},                           \
    .places   = BARTER,                                                        \
    .recorded = words "-program",                                              \
  },                                                                           \
  {                                                                            \
    .row    = {.name = "sounds." words ".level",                               \
               .kind = ROW_BYTE,                                               \
               FIELD(sounds[part].level),                                      \
               .most  = 127,                                                   \
               .value = "N",                                                   \
               .help  = "how loud the " words " is, 0 to 127"},                 \
    .places = BARTER, .recorded = words "-level",                              \
  }

static const ChoiceRow rows[N_CHOICES] = {
  // The form
  {
    .row      = {.name = "chart",
                 .kind = ROW_TEXT,
                 FIELD(chart),
                 .most  = CHOICES_NAME_CAPACITY,
                 .value = "NAME|FILE",
                 .help  = "the form to play over"},
    .places   = BARTER | ASKING,
    .recorded = "chart",
  },
  {
    .row      = {.name = "feel",
                 .kind = ROW_TEXT,
                 FIELD(feel),
                 .most  = CHOICES_NAME_CAPACITY,
                 .value = "NAME|FILE",
                 .help  = "how the band plays"},
    .places   = CHART | BARTER | ASKING,
    .recorded = "feel",
  },
  {
    .row      = {.name = "key",
                 .kind = ROW_TEXT,
                 FIELD(key),
                 .most  = KEY_TEXT_CAPACITY,
                 .value = "K",
                 .help  = "move the chart to this key: Eb, F#"},
    .places   = CHART | BARTER | ASKING,
    .recorded = "key",
  },
  {
    .row            = {.name = "tempo",
                       .kind = ROW_NUMBER,
                       FIELD(tempo_bpm),
                       .least = TEMPO_LEAST_BPM,
                       .most  = TEMPO_MOST_BPM,
                       .unit  = "bpm",
                       .value = "BPM",
                       .help  = "quarters a minute, 30 to 320"},
    .places         = CHART | BARTER | LEARNER | TAKE | ASKING,
    .recorded       = "tempo",
    .recorded_least = 20, // Of a take
    .recorded_most  = 400,
  },
  // The conversation
  {
    .row      = {.name = "bars",
                 .kind = ROW_COUNT,
                 FIELD(bars),
                 .least = 1,
                 .most  = 4,
                 .words = lengths,
                 .unit  = "bars",
                 .value = "N",
                 .help  = "bars in a turn: 1, 2 or 4"},
    .places   = BARTER | ASKING,
    .recorded = "bars",
  },
  {
    .row      = {.name = "choruses",
                 .kind = ROW_COUNT,
                 FIELD(choruses),
                 .least = 1,
                 .most  = CHORUSES_MOST,
                 .unit  = "times",
                 .value = "N",
                 .help  = "times through the form, 1 to 99"},
    .places   = BARTER | TAKE | ASKING,
    .recorded = "choruses",
  },
  {
    .row      = {.name = "first",
                 .kind = ROW_EITHER,
                 FIELD(partner_begins),
                 .words = people,
                 .value = "WHO",
                 .help  = "who begins: player or partner"},
    .places   = BARTER | ASKING,
    .recorded = "partner-begins",
  },
  {
    .row      = {.name = "thins",
                 .kind = ROW_EITHER,
                 FIELD(band_thins_for_partner),
                 .words = people,
                 .value = "WHO",
                 .help  = "in whose turns the band plays thinner"},
    .places   = BARTER,
    .recorded = "thins-for-partner",
  },
  {
    .row      = {.name = "make-room",
                 .kind = ROW_FLAG,
                 FIELD(makes_room),
                 .help = "open room in an unbroken solo"},
    .places   = ASKING,
    .recorded = "makes-room",
  },
  {
    .row      = {.name = "way",
                 .kind = ROW_WORD,
                 FIELD(way),
                 .words = way_names,
                 .value = "WAY",
                 .help  = "how to play together; barter trade --help has all"},
    .places   = BARTER | ASKING,
    .recorded = "way",
    .is_rare  = true,
  },
  // The rung
  {
    .row    = {.name = "rung",
               .kind = ROW_OWN,
               FIELD(rung),
               .most  = sizeof(Rung),
               .value = "R",
               .help  = "a number for all, or notes=N,rhythm=N,...",
               .parse = parse_rung,
               .print = print_rung,
               .right = "1 to 8 for all, or notes=1..8,rhythm=1..7,shape=1..6,"
                           "ornament=1..4"},
    .places = BARTER | LEARNER | ASKING,
  },
  RUNG_ROW(DIMENSION_NOTES, N_NOTES_RUNGS, "notes"),
  RUNG_ROW(DIMENSION_RHYTHM, N_RHYTHM_RUNGS, "rhythm"),
  RUNG_ROW(DIMENSION_SHAPE, N_SHAPE_RUNGS, "shape"),
  RUNG_ROW(DIMENSION_ORNAMENT, N_ORNAMENT_RUNGS, "ornament"),
  {
    .row      = {.name = "seed",
                 .kind = ROW_LONG,
                 FIELD(seed),
                 .value = "N",
                 .help  = "another number, other answers"},
    .places   = BARTER | ASKING,
    .recorded = "seed",
  },
  // The hands
  {
    .row      = {.name = "split",
                 .kind = ROW_PITCH,
                 FIELD(split),
                 .most  = 127,
                 .value = "PITCH",
                 .help  = "the lowest note of the melody hand"},
    .places   = BARTER | LEARNER,
    .recorded = "split",
  },
  {
    .row      = {.name = "lowest",
                 .kind = ROW_PITCH,
                 FIELD(lowest),
                 .most  = 127,
                 .value = "PITCH",
                 .help  = "the lowest note of the answers"},
    .places   = BARTER | LEARNER,
    .recorded = "lowest",
  },
  {
    .row      = {.name = "highest",
                 .kind = ROW_PITCH,
                 FIELD(highest),
                 .most  = 127,
                 .value = "PITCH",
                 .help  = "the highest note of the answers"},
    .places   = BARTER | LEARNER,
    .recorded = "highest",
  },
  {
    .row      = {.name = "hand_span",
                 .kind = ROW_BYTE,
                 FIELD(hand_span),
                 .least = 5,
                 .most  = 24,
                 .unit  = "semitones",
                 .value = "N",
                 .help  = "the widest stretch, 5 to 24 semitones"},
    .places   = BARTER | LEARNER,
    .recorded = "hand-span",
  },
  // The equipment
  {
    .row      = {.name = "lag_ms",
                 .kind = ROW_NUMBER,
                 FIELD(lag_ms),
                 .least = -200,
                 .most  = 500,
                 .unit  = "ms",
                 .value = "MS",
                 .help  = "by how much you are heard late, -200 to 500"},
    .places   = BARTER | EQUIPMENT,
    .recorded = "lag-ms",
  },
  SOUND_ROWS(PART_PARTNER, "partner"),
  SOUND_ROWS(PART_PLAYER, "player"),
  SOUND_ROWS(PART_CHORDS, "chords"),
  SOUND_ROWS(PART_BASS, "bass"),
  SOUND_ROWS(PART_DRUMS, "drums"),
  {
    .row    = {.name = "sounds.fonts",
               .kind = ROW_TEXT,
               FIELD(fonts),
               .most  = CHOICES_FONTS_CAPACITY,
               .value = "NAME,...",
               .help  = "sound fonts to look for, the best first"},
    .places = BARTER,
  },
  {
    .row    = {.name = "control",
               .kind = ROW_TEXT,
               FIELD(control),
               .most  = CHOICES_CONTROL_CAPACITY,
               .value = "cc64|key21",
               .help  = "pedal or key to steer with"},
    .places = BARTER | EQUIPMENT | ASKING,
  },
};

const ChoiceRow*
choice_row(const Choice choice)
{
  return &rows[choice];
}

Choices
choices_plain(void)
{
  // The two voices that talk are told apart, and the band is 4 LU behind them
  return (Choices){
    .chart     = "blues",
    .bars      = 4,
    .choruses  = 2,
    .seed      = 1,
    .split     = 60,
    .lowest    = 60,
    .highest   = 84,
    .hand_span = 12,
    .sounds =
      {
        [PART_PLAYER]  = {0, 100}, // Acoustic grand piano
        [PART_PARTNER] = {4, 100}, // Electric piano 1
        [PART_CHORDS]  = {26, 70}, // Electric guitar (jazz)
        [PART_BASS]    = {32, 66}, // Acoustic bass
        [PART_DRUMS]   = {0, 70},
      },
    .fonts = "MuseScore_General.sf3,FluidR3_GM.sf2,"
             "default-GM.sf3,default-GM.sf2,TimGM6mb.sf2",
  };
}

void
choices_mark(Choices* const    choices,
             const Choice      choice,
             const ChoicePlace place,
             const unsigned    line)
{
  choices->from[choice] = (ChoiceSource){
    (uint8_t)place, line <= UINT16_MAX ? (uint16_t)line : UINT16_MAX};
}

ChoicePlace
choices_place(const Choices* const choices, const Choice choice)
{
  return (ChoicePlace)choices->from[choice].place;
}

const char*
choice_place_name(const ChoicePlace place)
{
  static const char* const names[] = {
    [CHOICE_BY_DEFAULT]   = "default",
    [CHOICE_BY_CHART]     = "chart",
    [CHOICE_BY_LADDER]    = "ladder.cfg",
    [CHOICE_BY_BARTER]    = "barter.cfg",
    [CHOICE_BY_EQUIPMENT] = "equipment.cfg",
    [CHOICE_BY_LEARNER]   = "learner.cfg",
    [CHOICE_BY_JOURNAL]   = "journal",
    [CHOICE_BY_TAKE]      = "take",
    [CHOICE_BY_ASKING]    = "option",
    [CHOICE_BY_RECORDING] = "recording",
  };
  return names[place];
}

const char*
choices_from(const Choices* const choices,
             const Choice         choice,
             char                 text[CHOICES_FROM_CAPACITY])
{
  const ChoicePlace place = choices_place(choices, choice);
  const unsigned    line  = choices->from[choice].line;
  if (place == CHOICE_BY_ASKING) {
    const bool   is_rung = choice >= CHOICE_NOTES && choice <= CHOICE_ORNAMENT;
    const Choice said    = is_rung ? CHOICE_RUNG : choice;
    (void)snprintf(text, CHOICES_FROM_CAPACITY, "--%s", rows[said].row.name);
  } else if (line) {
    (void)snprintf(
      text, CHOICES_FROM_CAPACITY, "%s:%u", choice_place_name(place), line);
  } else {
    (void)snprintf(text, CHOICES_FROM_CAPACITY, "%s", choice_place_name(place));
  }
  return text;
}

Status
said_add(Said* const       said,
         const Choice      choice,
         const char* const as,
         const char* const text,
         Fault* const      fault)
{
  const Status status =
    row_parse(&rows[choice].row, &said->values, as, text, fault);
  if (status) {
    return status;
  }
  said->set |= CHOICE_BIT(choice);
  for (unsigned i = 0; choice == CHOICE_RUNG && i < N_DIMENSIONS; ++i) {
    said->set |= said->values.rung.level[i] ? CHOICE_BIT(CHOICE_NOTES + i) : 0;
  }
  return STATUS_OK;
}

bool
said_has(const Said* const said, const Choice choice)
{
  return said->set & CHOICE_BIT(choice);
}

void
choices_lay(Choices* const    choices,
            const Said* const said,
            const ChoicePlace place)
{
  for (unsigned i = 0; i < N_CHOICES; ++i) {
    if (said->set & CHOICE_BIT(i)) {
      if (i != CHOICE_RUNG) { // Its parts are laid one by one
        row_copy(&rows[i].row, choices, &said->values);
      }
      choices_mark(choices, (Choice)i, place, 0);
    }
  }
}
