#include "responder/app/command.h"

#include "core/sum.h"
#include "profiles/journal/day.h"
#include "profiles/plan/care.h"
#include "responder/app/begin.h"
#include "responder/app/choosing.h"
#include "responder/app/sitting.h"
#include "responder/app/today.h"
#include "responder/app/warmup_live.h"
#include "responder/app/warmup_play.h"
#include "responder/app/who.h"
#include "responder/tell/tell.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

// When to pause: five minutes in every half hour (British Association for
// Performing Arts Medicine, "Ten top health tips for musicians").
static const double pause_after_s = 1800.0;

static const double usual_minutes   = 10.0;
static const double most_of_trading = 0.6; // Of all; else it is left out

enum { INDENT = 11, LINE_CAPACITY = 160 };

// What is known when the plan is made
typedef struct {
  Setup         setup;
  Who           who;
  int32_t       day;
  WarmupRequest request;
  Warmup        warmup;
} Today;

// Reading

static Status
read_day(int32_t* const day, const char* const text, Fault* const fault)
{
  Date date = {0, 0, 0};
  char again[DAY_TEXT_CAPACITY];
  char rest = '\0';
  if (sscanf(
        text, "%4d-%2u-%2u%c", &date.year, &date.month, &date.day, &rest) ==
        3 &&
      date.year >= 1 && date.month >= 1 && date.month <= 12) {
    *day = day_of(date);
    if (strcmp(day_text(*day, again), text) == 0) {
      return STATUS_OK;
    }
  }
  return fault_set(fault,
                   STATUS_RANGE,
                   NULL,
                   0,
                   "--date %.40s is no day; write it as 2025-11-25",
                   text);
}

// Planning

// Another for each day and person
static uint64_t
seed_of(const int32_t day, const char* const id)
{
  return sum_add(SUM_BEGIN ^ (uint64_t)day, id, strlen(id)) >> 16U;
}

static void
make_request(Today* const present, const double minutes)
{
  const Setup* const   setup   = &present->setup;
  const Choices* const choices = &setup->choices;
  const unsigned       count   = warmup_count_in(setup);
  const unsigned       form    = count + setup->chart.chart.n_bars + 1;
  const double         bar_s =
    meter_bar_seconds(setup->chart.chart.meter, choices->tempo_bpm);
  const bool  trades = form * bar_s <= most_of_trading * 60.0 * minutes;
  const Climb climb =
    climb_begin(&choices->plan, choices->rung, choices->budget, choices->skill);
  const char* const id =
    present->who.has_place ? present->who.person.id : PEOPLE_USUAL_ID;
  present->request = (WarmupRequest){
    .room      = warmup_room(setup),
    .tempo_bpm = choices->tempo_bpm,
    .minutes   = minutes,
    .count_in  = count,
    .choruses  = trades ? 1 : 0,
    .form_bars = form,
    .weakest   = climb_weakest(&climb, &choices->plan),
    .strongest = climb_strongest(&climb),
    .seed      = seed_of(present->day, id),
  };
}

// Telling

static void
tell_time(const double seconds)
{
  const long whole = lround(seconds);
  (void)printf("%ld:%02ld", whole / 60, whole % 60);
}

static bool
goes_by_chords(const DrillKind kind)
{
  return kind == DRILL_CHORD_TONES || kind == DRILL_LEFT_CHORDS;
}

// The run of a round, after the name of its scale or chord
static void
tell_round(const Today* const      present,
           const WarmupItem* const item,
           const Drill* const      drill)
{
  const Chart* const chart = &present->setup.chart.chart;
  char               run[WARMUP_WORDS_CAPACITY];
  char               line[WARMUP_WORDS_CAPACITY + SCALE_TEXT_CAPACITY + 2];
  char               name[SCALE_TEXT_CAPACITY];
  if (goes_by_chords(item->kind)) {
    (void)chord_text(&drill->chord, name);
  } else {
    (void)scale_text(chart_scale_at(chart, 0), name);
  }
  (void)snprintf(line,
                 sizeof(line),
                 "%s: %s",
                 name,
                 warmup_drill_text(item, &present->setup, drill, run));
  tell_words(stdout, INDENT, line);
}

// Of chord tones as many rounds as there are chords
static void
tell_run(const Today* const present, const WarmupItem* const item)
{
  DrillRoom room = present->request.room;
  Rng       rng  = rng_seed(item->seed, 1);
  Drill     drill;
  Chord     first;
  room.rhythm = item->rhythm;
  drill_make(&drill, item->kind, &room, 0, &rng);
  first = drill.chord;
  tell_round(present, item, &drill);
  for (unsigned i = 1; goes_by_chords(item->kind) && i < item->rounds; ++i) {
    drill_make(&drill, item->kind, &room, i, &rng);
    if (chord_equals(&drill.chord, &first)) {
      break;
    }
    tell_round(present, item, &drill);
  }
}

static void
tell_how(const Today* const present, const WarmupItem* const item)
{
  static const char* const words[] = {
    [DRILL_SCALE_RIGHT] = "Up and down, then from the top; evenly. The figures "
                          "are fingers, 1 the thumb.",
    [DRILL_SCALE_LEFT]  = "The same below.",
    [DRILL_CHORD_TONES] = "Of each chord of the form in turn.",
    [DRILL_RHYTHM]      = "The root alone; the rhythm",
    [DRILL_LANDING]     = "Let the last note stand: it is a chord tone.",
    [DRILL_QUESTION]    = "The same rhythm twice; the second time it ends at "
                          "home.",
    [DRILL_CRUSHED]     = "Let the short note fall into the long one.",
    [DRILL_LEFT_CHORDS] = "Each chord near the one before; move only the "
                          "fingers that must.",
  };
  const bool is_further = item->rhythm > present->request.room.rhythm;
  char       line[LINE_CAPACITY];
  (void)snprintf(line, sizeof(line), "%s", words[item->kind]);
  if (item->trades) {
    (void)snprintf(line,
                   sizeof(line),
                   "Play in the gaps: take up the rhythm or the last note, and "
                   "leave room.");
  } else if (item->kind == DRILL_RHYTHM) {
    (void)snprintf(line,
                   sizeof(line),
                   "%s%s: %s.",
                   words[item->kind],
                   is_further ? " a rung further" : "",
                   present->setup.ladder.rhythm[item->rhythm - 1].words);
  }
  tell_words(stdout, INDENT, line);
}

static void
tell_item(const Today* const present, const unsigned index)
{
  const WarmupItem* const item = &present->warmup.items[index];
  const bool              ends = index + 1 == present->warmup.n_items;
  char                    name[WARMUP_NAME_CAPACITY];
  (void)printf("\n%2u. %s", index + 1, item->seconds < 600.0 ? " " : "");
  tell_time(item->seconds);
  (void)printf("  %s%s, %u %s%s\n",
               ends ? "To end with: " : "",
               warmup_item_name(item, name),
               item->rounds,
               item->trades ? "chorus" : "round",
               item->rounds == 1 || item->trades ? "" : "s");
  tell_how(present, item);
  if (!item->trades &&
      (item->kind <= DRILL_CHORD_TONES || goes_by_chords(item->kind))) {
    tell_run(present, item);
  }
}

// What comes before an item: a pause, where half an hour has gone by
static void
tell_next(void* const context, const unsigned index)
{
  const Today* const present = context;
  double             played  = 0.0;
  for (unsigned i = 0; i < index; ++i) {
    played += present->warmup.items[i].seconds;
  }
  const double after = played + present->warmup.items[index].seconds;
  if (floor(after / pause_after_s) > floor(played / pause_after_s)) {
    (void)puts("\n    Pause: five minutes away from the keys.");
  }
  tell_item(present, index);
}

static void
tell_care(void)
{
  (void)putchar('\n');
  tell_words(stdout, 0, care_text());
}

static void
tell_head(const Today* const present)
{
  const Setup* const setup = &present->setup;
  char               day[DAY_TEXT_CAPACITY];
  char               rung[RUNG_TEXT_CAPACITY];
  char               key[KEY_TEXT_CAPACITY];
  (void)printf("Warm-up for %s, %s: ",
               present->who.learner.name,
               day_text(present->day, day));
  tell_time(present->warmup.seconds);
  (void)printf(" minutes\n%s in %s at %.0f\nStanding on %s\n",
               setup->chart.chart.title,
               key_text(setup->chart.chart.key, key),
               setup->choices.tempo_bpm,
               rung_text(setup->choices.rung, rung));
  (void)puts("Each round is played to you once; then you play it.");
}

static void
tell_plan(Today* const present)
{
  for (unsigned i = 0; i < present->warmup.n_items; ++i) {
    tell_next(present, i);
  }
  tell_care();
}

// The command

static int
prepare(Today* const present, const Options* const options)
{
  Fault fault;
  present->day = today();
  if (options_have(options, OPTION_DATE) &&
      read_day(&present->day, options->date, &fault)) {
    return command_fail(&fault);
  }
  const int code = begin_who(&present->who, options);
  if (code) {
    return code;
  }
  Choices choices = begin_choose(&present->who, options);
  choose_climb(&choices, &present->who);
  choices.choruses = 1;
  return begin_setup(&present->setup, &choices);
}

static int
play_live(Today* const present, const Options* const options)
{
  const WarmupShow show = {
    .options = options,
    .who     = &present->who,
    .warmup  = &present->warmup,
    .setup   = &present->setup,
    .tell    = tell_next,
    .context = present,
  };
  tell_care();
  return warmup_live(&show);
}

static int
warm_up(Today* const present, const Options* const options)
{
  Fault     fault;
  const int code = prepare(present, options);
  if (code) {
    return code;
  }
  make_request(present,
               options_have(options, OPTION_MINUTES) ? options->minutes
                                                     : usual_minutes);
  present->warmup = warmup_make(&present->request);
  tell_head(present);
  if (options_have(options, OPTION_LIVE)) {
    return play_live(present, options);
  }
  tell_plan(present);
  return options_have(options, OPTION_OUT) &&
             warmup_save(
               &present->warmup, &present->setup, options->out, &fault)
           ? command_fail(&fault)
           : EXIT_DONE;
}

static int
run(const Options* const options)
{
  if (options->n_operands) {
    return command_misuse("warmup takes no file; --out FILE.mid writes one");
  }
  if (!options_have(options, OPTION_LIVE) &&
      options->given & SITTING_OPTIONS & ~OPTION_BIT(OPTION_OUT)) {
    return command_misuse("ports and sound are of a warmup --live");
  }
  Today* const present = calloc(1, sizeof(*present));
  if (!present) {
    return command_fail_memory();
  }
  const int code = warm_up(present, options);
  free(present);
  return code;
}

const Command command_warmup = {
  .name     = "warmup",
  .operands = "",
  .summary  = "today's plan to warm up with",
  .words =
    "Plans some minutes from easy to where the learner stands, the same for "
    "all\nof a day. --out writes them as a MIDI file to play along with. "
    "--live plays\nthem through: each exercise is played to you, and you play "
    "it again; what is\ntraded counts as practice. With a --control, one tap "
    "plays an exercise again,\ntwo go on, a tap and a hold make it slower, two "
    "and a hold faster, and holding\nleaves.",
  .options = OPTION_BIT(OPTION_CHART) | OPTION_BIT(OPTION_KEY) |
             OPTION_BIT(OPTION_TEMPO) | OPTION_BIT(OPTION_FEEL) |
             OPTION_BIT(OPTION_LEARNER) | OPTION_BIT(OPTION_MINUTES) |
             OPTION_BIT(OPTION_DATE) | OPTION_BIT(OPTION_LIVE) |
             SITTING_OPTIONS,
  .run = run,
};
