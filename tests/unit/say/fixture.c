#include "fixture.h"

#include <stdlib.h>
#include <string.h>

enum {
  BARS_MOST  = 12,
  CALL_NOTES = 128,
};

typedef struct {
  const char* meter;
  const char* key;
  const char* scale;
  unsigned    n_bars;
  const char* bars[BARS_MOST];
} ChartText;

// Twelve-bar blues in major and minor, a line of two-fives, a waltz (common
// practice, no source).
static const ChartText charts[N_FIXTURE_FORMS] = {
  {"4/4",
   "C",
   "major blues",
   12,
   {"C7",
    "F7",
    "C7",
    "C7",
    "F7",
    "F7",
    "C7",
    "A7",
    "Dm7",
    "G7",
    "C7 A7",
    "Dm7 G7"}},
  {"4/4",
   "A minor",
   "minor blues",
   12,
   {"Am7",
    "Dm7",
    "Am7",
    "Am7",
    "Dm7",
    "Dm7",
    "Am7",
    "Am7",
    "F7",
    "E7",
    "Am7",
    "E7"}},
  {"4/4",
   "Bb",
   "by chord",
   8,
   {"Cm7", "F7", "Bbmaj7", "Ebmaj7", "Am7b5", "D7", "Gm7", "Gm7"}},
  {"3/4",
   "F",
   "major",
   8,
   {"Fmaj7", "Dm7", "Gm7", "C7", "Am7", "Dm7", "Gm7 / C7", "F"}},
  {"4/4", "C", "C mixolydian", 4, {"C7", "%", "%", "%"}},
  {"6/8", "G", "major", 4, {"G", "C", "G D7", "G"}},
  {"5/4", "D minor", "by chord", 4, {"Dm7", "N.C.", "Bb7 / / A7 /", "Dm7"}},
};

Ladder
fixture_ladder(void)
{
  const MoveSet one   = 1U << MOVE_REPEAT | 1U << MOVE_THIN_OUT;
  const MoveSet two   = one | 1U << MOVE_NEW_NOTES | 1U << MOVE_NEW_RHYTHM;
  const MoveSet three = two | 1U << MOVE_QUESTION_AND_ANSWER;
  const MoveSet four =
    three | 1U << MOVE_SEQUENCE | 1U << MOVE_FRAGMENT | 1U << MOVE_FILL_IN;
  const MoveSet five = four | 1U << MOVE_RETURN;
  const MoveSet six  = five | 1U << MOVE_TURN_OVER | 1U << MOVE_SHIFT;
  return (Ladder){
    .notes  = {{"", 1, 12, 0, 0},
               {"", 2, 12, 0, 0},
               {"", 3, 12, 0, 0},
               {"", 4, 12, 0, 0},
               {"", 4, 12, 0.25F, 0},
               {"", 4, 16, 0.35F, 0},
               {"", 4, 19, 0.35F, 0.12F},
               {"", 4, 24, 0.35F, 0.12F}},
    .rhythm = {{"", 3, false, false, false, false, false, false},
               {"", 4.5F, true, false, false, false, false, false},
               {"", 5.5F, true, true, false, false, false, false},
               {"", 6, true, true, true, false, false, false},
               {"", 7, true, true, true, true, false, false},
               {"", 8.5F, true, true, true, true, true, false},
               {"", 9, true, true, true, true, true, true}},
    .shape =
      {{"", one}, {"", two}, {"", three}, {"", four}, {"", five}, {"", six}},
    .ornament = {{"", 0, false, false},
                 {"", 0.06F, false, false},
                 {"", 0.08F, true, false},
                 {"", 0.1F, true, true}},
    .start    = {{2, 2, 2, 1}},
    .budget   = 8,
  };
}

void
fixture_chart(Chart* const chart, const unsigned index)
{
  const ChartText* const text = &charts[index];
  Meter                  meter;
  Key                    key;
  char                   fault[CHART_FAULT_CAPACITY];
  if (meter_parse(&meter, text->meter) || key_parse(&key, text->key)) {
    abort();
  }
  chart_begin(chart, "fixture", meter, key);
  for (unsigned i = 0; i < text->n_bars; ++i) {
    if (chart_add_bar(chart, text->bars[i], fault)) {
      abort();
    }
  }
  if (chart_set_scale(chart, CHART_BAR_CAPACITY, text->scale)) {
    abort();
  }
}

/// How a beat of a style is played: chances of its divisions.
typedef struct {
  double rest;
  double one;
  double two;
  double three;
  double off; ///< The half beat alone; the remainder are four sixteenths
} Style;

static const Style styles[N_FIXTURE_CALLS] = {
  {0.3, 0.7, 0.0, 0.0, 0.0},   // Quarters
  {0.3, 0.35, 0.35, 0.0, 0.0}, // Eighths
  {0.25, 0.2, 0.35, 0.0, 0.2}, // Off-beats
  {0.2, 0.2, 0.3, 0.2, 0.1},   // Triplets
  {0.2, 0.2, 0.3, 0.1, 0.05},  // Sixteenths among them
  {0.0, 0.0, 0.9, 0.1, 0.0},   // No room at all
};

static unsigned
onsets_of(const Style style, const double chance)
{
  double sum = style.rest;
  if (chance < sum) {
    return 0;
  }
  if (chance < (sum += style.one)) {
    return 1;
  }
  if (chance < (sum += style.two)) {
    return 2;
  }
  if (chance < (sum += style.three)) {
    return 3;
  }
  return chance < sum + style.off ? 5 : 4;
}

/// Walk to the next note: mostly by step through the chart's notes.
static unsigned
walk(const Chart* const chart, const Tick tick, unsigned pitch, Rng* const rng)
{
  const int way  = rng_below(rng, 2) ? 1 : -1;
  int       next = (int)pitch;
  for (unsigned left = 1 + rng_below(rng, 2); left > 0;) {
    next += way;
    left -= hear_role(chart, tick, (unsigned)next) <= ROLE_SCALE_TONE ? 1 : 0;
  }
  return next < 57   ? (unsigned)next + 12
         : next > 79 ? (unsigned)next - 12
                     : (unsigned)next;
}

void
fixture_call(Fixture* const fixture,
             const unsigned style,
             const unsigned bars,
             Rng* const     rng)
{
  const Chart* const chart = &fixture->chart;
  const Tick         beat  = meter_beat_ticks(chart->meter);
  const Tick         end   = meter_bar_ticks(chart->meter) * (Tick)bars;
  Note               notes[CALL_NOTES];
  unsigned           n     = 0;
  unsigned           pitch = 62 + rng_below(rng, 8);
  for (Tick at = 0; at < end; at += beat) {
    const unsigned onsets = onsets_of(styles[style], rng_unit(rng));
    const Tick     part   = onsets == 5 ? beat / 2 : beat / (onsets + !onsets);
    for (unsigned i = onsets == 5; i < (onsets == 5 ? 2 : onsets); ++i) {
      const Tick tick = at + (Tick)i * part;
      pitch           = walk(chart, tick, pitch, rng);
      if (n < CALL_NOTES) {
        notes[n++] = (Note){tick,
                            part * 9 / 10,
                            (uint8_t)pitch,
                            (uint8_t)(60 + rng_below(rng, 30))};
      }
    }
  }
  hear_phrase(&fixture->call,
              &fixture->hear_work,
              &fixture->request.ear,
              notes,
              n,
              0,
              end);
}

void
fixture_open(Fixture* const fixture,
             const unsigned chart,
             const unsigned style,
             const unsigned bars,
             const Rung     rung,
             const uint64_t seed)
{
  Rng rng = rng_seed(seed, 77);
  fixture_chart(&fixture->chart, chart);
  fixture->ladder  = fixture_ladder();
  fixture->ideas   = (Ideas){0};
  fixture->history = (SayHistory){0};
  const Tick turn  = meter_bar_ticks(fixture->chart.meter) * (Tick)bars;
  fixture->request = (SayRequest){
    .ear             = ear_usual(&fixture->chart, &fixture->ladder, 132.0),
    .rung            = rung,
    .start           = turn,
    .earliest        = turn,
    .end             = 2 * turn,
    .call            = &fixture->call,
    .ideas           = &fixture->ideas,
    .history         = &fixture->history,
    .lowest          = 53,
    .highest         = 84,
    .hand_span       = 12,
    .swing_ratio     = 1.6,
    .treatment       = TREAT_ANSWER,
    .turn_in_chorus  = 0,
    .turns_in_chorus = 4,
  };
  fixture->request.ear.split_pitch = 48;
  fixture_call(fixture, style, bars, &rng);
  const Idea idea = idea_of(&fixture->call, true);
  float      likeness;
  (void)ideas_meet(&fixture->ideas, &idea, &likeness);
}

static bool
is_called_at(const Phrase* const call, const Tick tick)
{
  for (unsigned i = 0; i < call->n_notes; ++i) {
    if (call->notes[i].grid_tick == tick) {
      return true;
    }
  }
  return false;
}

bool
fixture_call_leans(const Fixture* const fixture)
{
  const Phrase* const call = &fixture->call;
  for (unsigned i = 0; i < call->n_notes; ++i) {
    const Tick tick = call->notes[i].grid_tick;
    const Tick past = tick % TICKS_PER_QUARTER;
    if (past != 0 && (!is_called_at(call, tick - past) ||
                      !is_called_at(call, tick - past + TICKS_PER_QUARTER))) {
      return true;
    }
  }
  return false;
}

void
fixture_answer(Fixture* const fixture, const unsigned n_slices, const Rng rng)
{
  think_begin(&fixture->work, &fixture->request, rng);
  for (unsigned i = 0; i < n_slices && think_slice(&fixture->work); ++i) {
  }
  think_end(&fixture->work, &fixture->answer);
}
