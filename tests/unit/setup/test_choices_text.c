#include "responder/ideas/notebook.h"
#include "responder/setup/choices_text.h"

#include "core/rng.h"
#include "fixture.h"

#include <criterion/criterion.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static char    text[CHOICES_TEXT_CAPACITY];
static char    other[2 * CHOICES_TEXT_CAPACITY];
static char    again[CHOICES_TEXT_CAPACITY];
static Choices choices;
static Choices read;
static Fault   fault;

// Any byte but a line break and the end: file names are bytes
static void
name_by_chance(char* const name, const unsigned most, Rng* const rng)
{
  const unsigned length = rng_below(rng, most);
  for (unsigned i = 0; i < length; ++i) {
    const char byte = (char)(1 + rng_below(rng, 255));
    name[i]         = byte == '\n' || byte == '\r' ? '=' : byte;
  }
  name[length] = '\0';
}

static Choices
choices_by_chance(Rng* const rng)
{
  static const unsigned bars[] = {1, 2, 4};
  const unsigned        lowest = rng_below(rng, 116);
  Choices               made   = {
                    .tempo_bpm              = 20.0 + 380.0 * rng_unit(rng),
                    .bars                   = bars[rng_below(rng, 3)],
                    .choruses               = 1 + rng_below(rng, 99),
                    .partner_begins         = rng_below(rng, 2),
                    .band_thins_for_partner = rng_below(rng, 2),
                    .makes_room             = rng_below(rng, 2),
                    .rung   = {{(uint8_t)(1 + rng_below(rng, N_NOTES_RUNGS)),
                                (uint8_t)(1 + rng_below(rng, N_RHYTHM_RUNGS)),
                                (uint8_t)(1 + rng_below(rng, N_SHAPE_RUNGS)),
                                (uint8_t)(1 + rng_below(rng, N_ORNAMENT_RUNGS))}},
                    .seed   = (uint64_t)rng_next(rng) << 31U ^ rng_next(rng),
                    .split  = (uint8_t)rng_below(rng, 128),
                    .lowest = (uint8_t)lowest,
                    .highest = (uint8_t)(lowest + 12 + rng_below(rng, 116 - lowest)),
                    .hand_span      = (uint8_t)(5 + rng_below(rng, 20)),
                    .lag_ms         = 700.0 * rng_unit(rng) - 200.0,
                    .listens_behind = rng_below(rng, 2) * rng_below(rng, 961),
  };
  name_by_chance(made.chart, CHOICES_NAME_CAPACITY, rng);
  name_by_chance(made.feel, CHOICES_NAME_CAPACITY, rng);
  name_by_chance(made.key, KEY_TEXT_CAPACITY, rng);
  for (unsigned part = 0; part < N_PARTS; ++part) {
    made.sounds[part] =
      (ChoiceSound){(uint8_t)rng_below(rng, 128), (uint8_t)rng_below(rng, 128)};
  }
  for (unsigned i = 0; i < 3; ++i) {
    made.sums[i] = (uint64_t)rng_next(rng) << 32U | rng_next(rng);
  }
  if (rng_below(rng, 2)) { // Half of them move their rungs
    made.plan = (ClimbPlan){
      .success_step = 0.001 + rng_unit(rng),
      .target       = 0.5 + 0.45 * rng_unit(rng),
      .caps         = {{(uint8_t)rng_below(rng, N_NOTES_RUNGS + 1),
                        (uint8_t)rng_below(rng, N_RHYTHM_RUNGS + 1),
                        (uint8_t)rng_below(rng, N_SHAPE_RUNGS + 1),
                        (uint8_t)rng_below(rng, N_ORNAMENT_RUNGS + 1)}},
      .pins = {{0, 1, 2, (uint8_t)rng_below(rng, N_ORNAMENT_RUNGS + 1)}},
    };
    made.budget          = 25.0 * rng_unit(rng);
    made.skill           = (Skill){{8.0 * rng_unit(rng), 0.0, 1.0, 2.5}};
    made.usual_spread_ms = 40.0 * rng_unit(rng);
  }
  return made;
}

// Member by member: what lies between them is nobody's
static void
check_same_plan(const ClimbPlan* const a, const ClimbPlan* const b)
{
  cr_assert(a->success_step <= b->success_step &&
            a->success_step >= b->success_step);
  cr_assert(a->target <= b->target && a->target >= b->target);
  cr_assert_eq(memcmp(&a->caps, &b->caps, sizeof(a->caps)), 0);
  cr_assert_eq(memcmp(&a->pins, &b->pins, sizeof(a->pins)), 0);
  cr_assert_eq(a->finding.step, b->finding.step);
  cr_assert_eq(a->finding.turns, b->finding.turns);
}

static void
check_same(const Choices* const a, const Choices* const b)
{
  cr_assert_str_eq(a->chart, b->chart);
  cr_assert_str_eq(a->feel, b->feel);
  cr_assert_str_eq(a->key, b->key);
  cr_assert(a->tempo_bpm <= b->tempo_bpm && a->tempo_bpm >= b->tempo_bpm);
  cr_assert_eq(a->bars, b->bars);
  cr_assert_eq(a->choruses, b->choruses);
  cr_assert_eq(a->partner_begins, b->partner_begins);
  cr_assert_eq(a->band_thins_for_partner, b->band_thins_for_partner);
  cr_assert_eq(a->makes_room, b->makes_room);
  cr_assert_eq(memcmp(&a->rung, &b->rung, sizeof(a->rung)), 0);
  cr_assert_eq(a->seed, b->seed);
  check_same_plan(&a->plan, &b->plan);
  cr_assert_eq(memcmp(&a->skill, &b->skill, sizeof(a->skill)), 0);
  cr_assert(a->budget <= b->budget && a->budget >= b->budget);
  cr_assert(a->usual_spread_ms <= b->usual_spread_ms &&
            a->usual_spread_ms >= b->usual_spread_ms);
  cr_assert_eq(a->split, b->split);
  cr_assert_eq(a->lowest, b->lowest);
  cr_assert_eq(a->highest, b->highest);
  cr_assert_eq(a->hand_span, b->hand_span);
  cr_assert(a->lag_ms <= b->lag_ms && a->lag_ms >= b->lag_ms);
  cr_assert_eq(memcmp(a->sounds, b->sounds, sizeof(a->sounds)), 0);
  cr_assert_eq(memcmp(a->sums, b->sums, sizeof(a->sums)), 0);
}

Test(choices_text, reads_back_whatever_was_written)
{
  Rng rng = rng_seed(1, 0);
  for (unsigned i = 0; i < 500; ++i) {
    choices = choices_by_chance(&rng);
    choices_write(&choices, text);
    cr_assert_eq(
      choices_read(&read, text, &fault), STATUS_OK, "%s", fault.text);
    check_same(&read, &choices);
  }
}

Test(choices_text, begins_with_its_heading_and_is_lines)
{
  choices = fixture_choices();
  choices_write(&choices, text);
  cr_assert_eq(strncmp(text, CHOICES_HEADING, strlen(CHOICES_HEADING)), 0);
  cr_assert_not_null(strstr(text, "\nchart=blues\n"));
  cr_assert_not_null(strstr(text, "\ntempo=120\n"));
  cr_assert_not_null(strstr(text, "\nseed=7\n"));
  cr_assert_eq(text[strlen(text) - 1], '\n');
}

// Refused, with a reason, and nothing written
static void
check_refused(const char* const damaged)
{
  memset(&read, 0x5A, sizeof(read));
  const Choices before = read;
  fault                = (Fault){.status = STATUS_OK};
  const Status status  = choices_read(&read, damaged, &fault);
  cr_assert(status == STATUS_SYNTAX || status == STATUS_RANGE, "%s", damaged);
  cr_assert_eq(fault.status, status);
  cr_assert_gt(strlen(fault.text), 0);
  cr_assert_eq(memcmp(&read, &before, sizeof(read)), 0);
}

// Each in memory of its own size, so that reading on behind it is found out
Test(choices_text, refuses_what_is_cut_anywhere)
{
  Rng rng = rng_seed(2, 0);
  choices = choices_by_chance(&rng);
  choices_write(&choices, text);
  const size_t length = strlen(text);
  for (size_t cut = 0; cut < length; ++cut) {
    char* const damaged = malloc(cut + 1);
    memcpy(damaged, text, cut);
    damaged[cut] = '\0';
    check_refused(damaged);
    free(damaged);
  }
}

// A change leaves either what another session would have written, or nothing
// that is taken
static unsigned
check_changed(const char* const changed)
{
  if (choices_read(&read, changed, &fault)) {
    check_refused(changed);
    return 0;
  }
  choices_write(&read, again);
  cr_assert_str_eq(again, changed);
  cr_assert(read.bars == 1 || read.bars == 2 || read.bars == 4);
  cr_assert_geq(read.highest, read.lowest + 12);
  cr_assert_leq(read.highest, 127);
  cr_assert_leq(read.seed, INT64_MAX);
  return 1;
}

Test(choices_text, takes_no_changed_byte_for_another)
{
  unsigned n_taken = 0;
  Rng      rng     = rng_seed(3, 0);
  choices          = fixture_choices();
  choices_write(&choices, text);
  const size_t length = strlen(text);
  for (unsigned i = 0; i < 20000; ++i) {
    const size_t at = rng_below(&rng, (uint32_t)length);
    memcpy(other, text, length + 1);
    switch (rng_below(&rng, 3)) {
      case 0:
        other[at] = (char)(1 + rng_below(&rng, 255));
        break;
      case 1:
        memmove(other + at, other + at + 1, length - at);
        break;
      default:
        memmove(other + at + 1, other + at, length - at + 1);
        other[at] = (char)(1 + rng_below(&rng, 127));
        break;
    }
    n_taken += check_changed(other);
  }
  cr_assert_gt(n_taken, 0); // Other digits are another session
  cr_assert_lt(n_taken, 10000);
}

// Return the line that `at` stands on, as an offset and a length
static size_t
line_at(const char* const lines, size_t at, size_t* const length)
{
  while (at > 0 && lines[at - 1] != '\n') {
    --at;
  }
  *length = strcspn(lines + at, "\n") + 1;
  return at;
}

Test(choices_text, refuses_lines_left_out_doubled_or_swapped)
{
  choices = fixture_choices();
  choices_write(&choices, text);
  const size_t size = strlen(text);
  for (size_t at = 0; at < size;) {
    size_t       length = 0;
    const size_t begin  = line_at(text, at, &length);
    at                  = begin + length;

    (void)snprintf(other, sizeof(other), "%.*s%s", (int)begin, text, text + at);
    check_refused(other);
    (void)snprintf(other, sizeof(other), "%.*s%s", (int)at, text, text + begin);
    check_refused(other);
    if (at < size) {
      size_t       next_length = 0;
      const size_t next        = line_at(text, at, &next_length);
      (void)snprintf(other,
                     sizeof(other),
                     "%.*s%.*s%.*s%s",
                     (int)begin,
                     text,
                     (int)next_length,
                     text + next,
                     (int)length,
                     text + begin,
                     text + next + next_length);
      check_refused(other);
    }
  }
}

typedef struct {
  char from[24];
  char to[40];
} ChangeRow;

// The ranges are those of the command line and of the hearing
Test(choices_text, refuses_values_that_cannot_be_played)
{
  static const ChangeRow rows[] = {
    {"tempo=120", "tempo=19"},
    {"tempo=120", "tempo=401"},
    {"tempo=120", "tempo=nan"},
    {"tempo=120", "tempo=0x78"},
    {"tempo=120", "tempo=1.2e2"},
    {"bars=4", "bars=3"},
    {"bars=4", "bars=2.5"},
    {"bars=4", "bars=0"},
    {"bars=4", "bars=04"},
    {"choruses=2", "choruses=0"},
    {"choruses=2", "choruses=100"},
    {"partner-begins=0", "partner-begins=2"},
    {"partner-begins=0", "partner-begins=0.5"},
    {"notes=5", "notes=0"},
    {"notes=5", "notes=9"},
    {"rhythm=4", "rhythm=8"},
    {"shape=4", "shape=7"},
    {"ornament=2", "ornament=5"},
    {"seed=7", "seed=-7"},
    {"seed=7", "seed=9223372036854775808"},
    {"seed=7", "seed=99999999999999999999999"},
    {"lowest=60", "lowest=73"},
    {"lowest=60", "lowest=-1"},
    {"highest=84", "highest=128"},
    {"hand-span=12", "hand-span=4"},
    {"hand-span=12", "hand-span=25"},
    {"partner-level=90", "partner-level=128"},
    {"chart-sum=0", "chart-sum=18446744073709551616"},
    {"barter-session 1", "barter-session 2"},
  };
  choices = fixture_choices();
  choices_write(&choices, text);
  for (unsigned i = 0; i < sizeof(rows) / sizeof(*rows); ++i) {
    const char* const at = strstr(text, rows[i].from);
    cr_assert_not_null(at, "%s", rows[i].from);
    (void)snprintf(other,
                   sizeof(other),
                   "%.*s%s%s",
                   (int)(at - text),
                   text,
                   rows[i].to,
                   at + strlen(rows[i].from));
    check_refused(other);
  }
}

// An idea of the notebook goes into the recording and comes out the same
Test(choices_text, keeps_the_idea_that_may_come_back)
{
  Rng rng = rng_seed(9, 1);
  for (unsigned n = 1; n <= IDEA_NOTE_CAPACITY; ++n) {
    Idea idea = {.n_notes = n};
    choices   = choices_by_chance(&rng);
    for (unsigned i = 0; i < n; ++i) {
      idea.ticks[i]   = (Tick)i * 240;
      idea.lengths[i] = 1 + rng_below(&rng, 240);
      idea.pitches[i] = (uint8_t)rng_below(&rng, 128);
    }
    (void)notebook_text(&idea, choices.kept);
    choices_write(&choices, text);
    cr_assert_lt(strlen(text), CHOICES_TEXT_CAPACITY - 1);
    cr_assert_eq(
      choices_read(&read, text, &fault), STATUS_OK, "%s", fault.text);
    cr_assert_str_eq(read.kept, choices.kept);
    choices_write(&read, again);
    cr_assert_str_eq(again, text);

    // Without its end, or with one too many, it is none
    const size_t length = strlen(text);
    memcpy(other, text, length + 1);
    other[length - 1] = '\0';
    cr_assert_eq(choices_read(&read, other, &fault), STATUS_SYNTAX);
    (void)snprintf(other, sizeof(other), "%skept=0:480:60\n", text);
    cr_assert_eq(choices_read(&read, other, &fault), STATUS_SYNTAX);
  }
}
