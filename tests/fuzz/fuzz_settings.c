// Any text as each kind of settings file: it is read, or there is a fault that
// says why not; and what is read keeps to its limits.

#include "core/settings/chart_file.h"
#include "core/settings/feel_file.h"
#include "core/settings/utf8.h"
#include "profiles/choices/choices_file.h"
#include "profiles/files/ladder_file.h"
#include "target.h"

#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

static ChartFile chart;
static Choices   choices;
static Feel      feel;
static Ladder    ladder;
static Faults    faults;

static void
must(const bool holds)
{
  if (!holds) {
    abort();
  }
}

static void
check_chart(void)
{
  const Chart* const read = &chart.chart;
  must(read->n_bars >= 1 && read->n_bars <= CHART_BAR_CAPACITY);
  must(read->n_changes >= read->n_bars);
  for (unsigned i = 1; i < read->n_changes; ++i) {
    must(read->changes[i - 1].tick < read->changes[i].tick);
  }
  must(read->changes[read->n_changes - 1].tick < chart_ticks(read));
  must(chart.tempo_bpm == 0.0 ||
       (chart.tempo_bpm >= 30.0 && chart.tempo_bpm <= 320.0));
  must(utf8_is_line(read->title));
}

static void
check_part(const FeelPart* const part)
{
  must(part->n_patterns <= FEEL_PATTERN_CAPACITY);
  for (unsigned i = 0; i < part->n_patterns; ++i) {
    const FeelPattern* const pattern = &part->patterns[i];
    must(pattern->n_bars == 1 || pattern->n_bars == 2 || pattern->n_bars == 4);
    must(pattern->layer <= 1 && pattern->n_hits <= FEEL_HIT_CAPACITY);
    for (unsigned hit = 0; hit < pattern->n_hits; ++hit) {
      const FeelHit* const one = &pattern->hits[hit];
      must(one->tick >= 0 && one->length >= 1);
      must(one->velocity >= 1 && one->velocity <= 127);
      must(hit == 0 || pattern->hits[hit - 1].tick <= one->tick);
    }
  }
}

static void
check_feel(void)
{
  must(feel.n_meters >= 1 && feel.n_meters <= FEEL_METER_CAPACITY);
  must(feel.swing_ratio >= 1.0 && feel.swing_ratio <= 4.0);
  check_part(&feel.chords);
  check_part(&feel.bass);
  check_part(&feel.drums);
  for (unsigned i = 0; i < feel.n_meters; ++i) {
    must(feel_fits(&feel, feel.meters[i]));
  }
}

static void
check_ladder(void)
{
  unsigned sum = 0;
  for (unsigned d = 0; d < N_DIMENSIONS; ++d) {
    must(ladder.start.level[d] >= 1);
    must(ladder.start.level[d] <= dimension_rungs((Dimension)d));
    sum += ladder.start.level[d];
  }
  must(ladder.budget >= sum);
  for (unsigned i = 1; i < N_SHAPE_RUNGS; ++i) {
    must((ladder.shape[i].moves & ladder.shape[i - 1].moves) ==
         ladder.shape[i - 1].moves);
  }
}

static void
check_choices(void)
{
  must(choices.bars >= 1 && choices.bars <= 4 && choices.choruses >= 1);
  must(choices.highest >= choices.lowest + 12 && choices.highest <= 127);
}

/// Read a kind of file and check it.
static void
try_kind(const unsigned kind, Settings* const settings)
{
  Status status = STATUS_OK;
  switch (kind) {
    case 0:
      status = chart_file_read(&chart, settings);
      break;
    case 1:
      status = feel_file_read(&feel, settings);
      break;
    case 2:
      status = ladder_file_read(&ladder, settings);
      break;
    default:
      choices = choices_plain();
      choices_file_read(&choices, CHOICE_BY_BARTER, settings);
      status = settings_status(settings);
      break;
  }
  must((status == STATUS_OK) == (faults.n_faults == 0));
  if (status == STATUS_OK) {
    static void (*const checks[])(void) = {
      check_chart, check_feel, check_ladder, check_choices};
    checks[kind]();
  }
}

int
LLVMFuzzerTestOneInput(const uint8_t* const data, const size_t size)
{
  for (unsigned kind = 0; kind < 4; ++kind) {
    Settings* settings = NULL;
    faults             = (Faults){0};
    const Status status =
      settings_read(&settings, "f.cfg", (const char*)data, size, &faults);
    if (status == STATUS_OK) {
      must(faults.n_faults == 0);
      try_kind(kind, settings);
    } else {
      must(faults.n_faults == 1 && !settings);
    }
    settings_close(settings);
    for (unsigned i = 0; i < faults.n_faults; ++i) {
      must(faults.faults[i].text[0] && faults.faults[i].status != STATUS_OK);
    }
    if (status != STATUS_OK) {
      break; // The others would end so, too
    }
  }
  return 0;
}
