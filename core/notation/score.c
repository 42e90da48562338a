#include "core/notation/score.h"

#include <stdint.h>

static const double LEAST_SWING = 1.1; // What is less is played straight

// Of the first bar that is whole
static Tick
first_tick(const Score* const score)
{
  return score->first_bar * meter_bar_ticks(score->chart->meter);
}

unsigned
score_measures(const Score* const score)
{
  return score->n_bars - score->first_bar + (score->pick_up > 0);
}

ScoreMeasure
score_measure(const Score* const score, const unsigned i)
{
  const Tick bar = meter_bar_ticks(score->chart->meter);
  if (score->pick_up && i == 0) {
    return (ScoreMeasure){
      first_tick(score) - score->pick_up, score->pick_up, 0};
  }
  const unsigned number = score->first_bar + i + 1 - (score->pick_up > 0);
  return (ScoreMeasure){(Tick)(number - 1) * bar, bar, number};
}

bool
score_ends_chorus(const Score* const score, const ScoreMeasure measure)
{
  const Tick end = measure.start + measure.length;
  return score->marks_choruses && end > 0 &&
         end % chart_ticks(score->chart) == 0;
}

bool
score_swings(const Score* const score)
{
  return score->swing_ratio >= LEAST_SWING &&
         !meter_is_compound(score->chart->meter);
}

bool
score_names_chord(const Score* const score, const Tick tick)
{
  const Chart* const chart = score->chart;
  const Tick         first = first_tick(score);
  return tick == first ||
         (tick > first && (tick % chart_ticks(chart) == 0 ||
                           chart_next_change(chart, tick - 1) == tick));
}

bool
score_has_two_staves(const ScorePart* const part)
{
  return part->staves[1].n_columns > 0;
}

bool
score_is_low(const ScoreStaff* const staff)
{
  enum { LOW_F = 53 };
  uint64_t sum = 0;
  uint64_t n   = 0;
  for (size_t i = 0; i < staff->n_columns; ++i) {
    const Column* const column = &staff->columns[i];
    sum += staff->notes[column->first + column->n_graces].pitch;
    ++n;
  }
  return n > 0 && sum < n * LOW_F;
}

// The pitch that a column's single note leads to
static unsigned
next_pitch(const ScoreStaff* const staff, const Column* const column)
{
  const Column* const next = column + 1;
  if (next == staff->columns + staff->n_columns) {
    return ACCIDENTALS_NOTHING;
  }
  return staff->notes[next->first + (next->n_graces ? 0 : next->n_notes - 1)]
    .pitch;
}

SpelledPitch
score_spell(const Chart* const      chart,
            const ScoreStaff* const staff,
            const Column* const     column,
            const unsigned          i)
{
  const WrittenNote* const note = &staff->notes[column->first + i];
  const unsigned           next = i < column->n_graces ? note[1].pitch
                                  : column->n_notes == 1 ? next_pitch(staff, column)
                                                         : ACCIDENTALS_NOTHING;
  return accidentals_spell(chart, note, next);
}
