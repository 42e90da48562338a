#include "core/band/drums.h"

#include "core/band/hits.h"
#include "core/music/meter.h"

#include <stddef.h>

/// How the drums are played (common practice, no source).
static const struct {
  double spread_ms;
  double velocity_spread;
  double fill_at_four; ///< Chance of a fill at the end of so many bars
  double fill_at_eight;
  double fill_at_form;
  double fill_at_turn; ///< ... that leads to a turn of the player's
  double accent;       ///< Chance that a bar takes up the call's last accent
  double accent_velocity;
  double crash_velocity; ///< After a fill, at the beginning of the form
  double kick_velocity;
  double hat_velocity; ///< That keeps time under roots alone
  double count_first;  ///< Velocities of the count-in
  double count;
  double even; ///< Up to this ratio, fills are those of even eighths
} TOUCH = {
  .spread_ms       = 3.0,
  .velocity_spread = 4.0,
  .fill_at_four    = 0.3,
  .fill_at_eight   = 0.6,
  .fill_at_form    = 0.85,
  .fill_at_turn    = 0.7,
  .accent          = 0.35,
  .accent_velocity = 56.0,
  .crash_velocity  = 62.0,
  .kick_velocity   = 64.0,
  .hat_velocity    = 48.0,
  .count_first     = 92.0,
  .count           = 78.0,
  .even            = 1.15,
};

enum {
  STROKE_TICKS  = 100, ///< A drum's note; the sound rings by itself
  FILL_PARTS    = 12,  ///< Of a beat: 6 is the half, 4 a third, 3 a quarter
  FILL_STROKES  = 8,
  COUNT_BAR_MS  = 1600, ///< A bar that is shorter is counted twice
  BARS_OF_EIGHT = 8,
  BARS_OF_FOUR  = 4,
};

static const double MS_PER_TICK_AND_BPM = 60000.0 / TICKS_PER_QUARTER;

/// What a fill is for.
typedef enum {
  FILL_EVEN,
  FILL_SWUNG,
  FILL_COMPOUND,
  FILL_STICK, ///< Where the hand lies on the snare drum, for the side stick
} FillKind;

typedef struct {
  uint8_t place; ///< In FILL_PARTS of a beat from the fill's beginning
  uint8_t drum;  ///< A Drum; 0 ends the strokes
  uint8_t velocity;
} FillStroke;

/// A fill for the last beats of a bar (common practice, no source). It stands
/// in for the hands; the hi-hat goes on.
typedef struct {
  FillKind   kind;
  uint8_t    beats;
  uint16_t   fastest_bpm; ///< In quarters
  FillStroke strokes[FILL_STROKES];
} Fill;

static const Fill fills[] = {
  {FILL_SWUNG, 1, 400, {{0, DRUM_SNARE, 54}, {6, DRUM_SNARE, 66}}},
  {FILL_SWUNG,
   1,
   160,
   {{0, DRUM_SNARE, 50}, {4, DRUM_SNARE, 42}, {8, DRUM_HIGH_TOM, 62}}},
  {FILL_SWUNG,
   2,
   400,
   {{0, DRUM_SNARE, 62},
    {6, DRUM_SNARE, 48},
    {12, DRUM_HIGH_TOM, 58},
    {18, DRUM_LOW_TOM, 66}}},
  {FILL_SWUNG,
   2,
   400,
   {{6, DRUM_SNARE, 64}, {12, DRUM_BASS, 58}, {18, DRUM_SNARE, 68}}},
  {FILL_SWUNG,
   2,
   170,
   {{0, DRUM_SNARE, 56},
    {4, DRUM_SNARE, 40},
    {8, DRUM_SNARE, 52},
    {12, DRUM_HIGH_TOM, 58},
    {16, DRUM_MIDDLE_TOM, 50},
    {20, DRUM_LOW_TOM, 64}}},
  {FILL_EVEN, 1, 400, {{0, DRUM_SNARE, 56}, {6, DRUM_SNARE, 66}}},
  {FILL_EVEN,
   1,
   130,
   {{0, DRUM_SNARE, 54}, {6, DRUM_SNARE, 48}, {9, DRUM_SNARE, 62}}},
  {FILL_EVEN,
   2,
   400,
   {{0, DRUM_SNARE, 60},
    {6, DRUM_HIGH_TOM, 54},
    {12, DRUM_MIDDLE_TOM, 58},
    {18, DRUM_LOW_TOM, 64}}},
  {FILL_EVEN,
   2,
   125,
   {{6, DRUM_SNARE, 52},
    {9, DRUM_SNARE, 44},
    {12, DRUM_HIGH_TOM, 60},
    {18, DRUM_LOW_TOM, 62}}},
  {FILL_COMPOUND,
   1,
   400,
   {{0, DRUM_SNARE, 56}, {4, DRUM_SNARE, 46}, {8, DRUM_SNARE, 64}}},
  {FILL_COMPOUND,
   1,
   400,
   {{0, DRUM_SNARE, 60}, {4, DRUM_HIGH_TOM, 54}, {8, DRUM_LOW_TOM, 60}}},
  {FILL_COMPOUND,
   1,
   120,
   {{0, DRUM_SNARE, 52},
    {2, DRUM_SNARE, 40},
    {4, DRUM_SNARE, 48},
    {8, DRUM_LOW_TOM, 62}}},
  {FILL_STICK,
   2,
   400,
   {{0, DRUM_SIDE_STICK, 56},
    {6, DRUM_SIDE_STICK, 48},
    {12, DRUM_SIDE_STICK, 60},
    {18, DRUM_LOW_TOM, 52}}},
  {FILL_STICK, 1, 400, {{0, DRUM_SIDE_STICK, 60}, {6, DRUM_SIDE_STICK, 64}}},
};

enum { N_FILLS = sizeof(fills) / sizeof(*fills) };

static void
stroke(const Cue* const cue,
       const Touch*     touch,
       const Tick       tick,
       const unsigned   drum,
       const double     velocity,
       Rng* const       rng,
       BandBar* const   bar)
{
  const Tick    room    = cue_end(cue) - tick;
  const Written written = {
    .part     = PART_DRUMS,
    .tick     = tick,
    .length   = room < STROKE_TICKS ? room : STROKE_TICKS,
    .pitch    = drum,
    .velocity = velocity,
  };
  part_play(cue, touch, rng, &written, bar);
}

static Touch
touch_of(const Cue* const cue)
{
  return (Touch){
    .swing_ratio     = feel_drum_ratio(cue->feel, cue->tempo_bpm),
    .spread_ms       = TOUCH.spread_ms,
    .velocity_spread = TOUCH.velocity_spread,
  };
}

static bool
has_stick(const FeelPattern* const pattern)
{
  bool has = false;
  for (unsigned i = 0; i < pattern->n_hits; ++i) {
    has = has || pattern->hits[i].voice == DRUM_SIDE_STICK;
  }
  return has;
}

static FillKind
fill_kind(const Cue* const cue, const FeelPattern* const pattern)
{
  if (meter_is_compound(cue->chart->meter)) {
    return FILL_COMPOUND;
  }
  if (has_stick(pattern)) {
    return FILL_STICK;
  }
  const double ratio = feel_swing_ratio(cue->feel, cue->tempo_bpm);
  return ratio <= TOUCH.even ? FILL_EVEN : FILL_SWUNG;
}

/// Return the chance that a bar ends in a fill.
static double
fill_chance(const Cue* const cue)
{
  const unsigned bars    = cue_form_bar(cue) + 1;
  const bool     is_full = cue->fullness == BAND_FULL;
  if (is_full && bars == cue->chart->n_bars) {
    return TOUCH.fill_at_form;
  }
  if (cue->solo && cue->solo->leads_on) {
    return TOUCH.fill_at_turn;
  }
  if (!is_full) {
    return 0.0;
  }
  if (bars % BARS_OF_EIGHT == 0) {
    return TOUCH.fill_at_eight;
  }
  return bars % BARS_OF_FOUR == 0 ? TOUCH.fill_at_four : 0.0;
}

/// Draw a fill for a bar that goes on from its pattern; NULL for none.
static const Fill*
draw_fill(const Cue* const         cue,
          const FeelPattern* const pattern,
          Rng* const               rng)
{
  if (rng_unit(rng) >= fill_chance(cue)) {
    return NULL;
  }
  const FillKind kind  = fill_kind(cue, pattern);
  const unsigned beats = meter_beats_per_bar(cue->chart->meter);
  const Fill*    found[N_FILLS];
  unsigned       n_found = 0;
  for (unsigned i = 0; i < N_FILLS; ++i) {
    if (fills[i].kind == kind && fills[i].beats < beats &&
        cue->tempo_bpm <= fills[i].fastest_bpm) {
      found[n_found++] = &fills[i];
    }
  }
  return n_found > 0 ? found[rng_below(rng, n_found)] : NULL;
}

/// Play the hits of a pattern that fall in the bar: the feet until its end, the
/// hands until a fill begins.
static void
play_hits(const FeelPattern* const pattern,
          const Cue* const         cue,
          const Tick               hands_until,
          Rng* const               rng,
          BandBar* const           bar)
{
  const Touch touch = touch_of(cue);
  const Hits  hits  = hits_of(pattern, cue);
  for (unsigned i = 0; i < hits.n; ++i) {
    const Hit* const hit = &hits.hits[i];
    if (hit->tick < hands_until || hit->voice == DRUM_PEDAL_HAT) {
      stroke(cue, &touch, hit->tick, hit->voice, hit->velocity, rng, bar);
    }
  }
}

static void
play_fill(const Fill* const fill,
          const Cue* const  cue,
          const Tick        begin,
          Rng* const        rng,
          BandBar* const    bar)
{
  const Touch touch = touch_of(cue);
  const Tick  part  = meter_beat_ticks(cue->chart->meter) / FILL_PARTS;
  for (unsigned i = 0; i < FILL_STROKES && fill->strokes[i].drum; ++i) {
    const FillStroke* const it   = &fill->strokes[i];
    const Tick              tick = begin + (Tick)it->place * part;
    stroke(cue, &touch, tick, it->drum, it->velocity, rng, bar);
  }
}

/// Keep time with the foot alone.
static void
play_foot(const Cue* const cue, Rng* const rng, BandBar* const bar)
{
  const Meter meter   = cue->chart->meter;
  const Touch touch   = touch_of(cue);
  const Tick  beat    = meter_beat_ticks(meter);
  const int   weakest = meter_weight(meter, beat); // That of the second beat
  for (Tick tick = cue->start; tick < cue_end(cue); tick += beat) {
    if (meter_weight(meter, tick) == weakest) {
      stroke(cue, &touch, tick, DRUM_PEDAL_HAT, TOUCH.hat_velocity, rng, bar);
    }
  }
}

/// Mark the beginning of the form after a fill.
static void
play_crash(const Cue* const cue, Rng* const rng, BandBar* const bar)
{
  const Touch touch = touch_of(cue);
  stroke(cue, &touch, cue->start, DRUM_CRASH, TOUCH.crash_velocity, rng, bar);
  stroke(cue, &touch, cue->start, DRUM_BASS, TOUCH.kick_velocity, rng, bar);
}

/// Take up the call's last accent now and then, where the hands are free.
static void
play_accent(const Cue* const         cue,
            const FeelPattern* const pattern,
            const Tick               hands_until,
            Rng* const               rng,
            BandBar* const           bar)
{
  const Solo* const solo = cue->solo;
  if (!solo || solo->accent == SOLO_NO_ACCENT || cue->fullness != BAND_FULL ||
      rng_unit(rng) >= TOUCH.accent) {
    return;
  }
  const Touch    touch = touch_of(cue);
  const Tick     tick  = cue->start + solo->accent;
  const unsigned drum  = has_stick(pattern) ? DRUM_SIDE_STICK : DRUM_SNARE;
  if (tick < hands_until) {
    stroke(cue, &touch, tick, drum, TOUCH.accent_velocity, rng, bar);
  }
}

void
drums_play(Drums* const     drums,
           const Cue* const cue,
           Rng* const       rng,
           BandBar* const   bar)
{
  if (cue->feel->drums.n_patterns == 0) {
    return;
  }
  if (cue->fullness == BAND_ROOTS) {
    play_foot(cue, rng, bar);
    drums->has_filled = false;
    return;
  }
  const FeelPattern* const pattern =
    rotation_next(&drums->rotation, &cue->feel->drums, cue, rng);
  if (!pattern) {
    return;
  }

  const Fill* const fill  = draw_fill(cue, pattern, rng);
  const Tick        beat  = meter_beat_ticks(cue->chart->meter);
  const Tick        hands = cue_end(cue) - (fill ? fill->beats * beat : 0);
  play_hits(pattern, cue, hands, rng, bar);
  play_accent(cue, pattern, hands, rng, bar);
  if (fill) {
    play_fill(fill, cue, hands, rng, bar);
  }
  if (drums->has_filled && cue_form_bar(cue) == 0) {
    play_crash(cue, rng, bar);
  }
  drums->has_filled = fill != NULL;
}

void
drums_end(const Cue* const cue, Rng* const rng, BandBar* const bar)
{
  if (cue->feel->drums.n_patterns > 0) {
    play_crash(cue, rng, bar);
  }
}

unsigned
drums_count_bars(const Cue* const cue)
{
  const double bar_ms =
    (double)cue_bar_ticks(cue) * MS_PER_TICK_AND_BPM / cue->tempo_bpm;
  return bar_ms < COUNT_BAR_MS ? 2 : 1;
}

void
drums_count(const Cue* const cue,
            const bool       half,
            Rng* const       rng,
            BandBar* const   bar)
{
  const Touch    exact = {.swing_ratio = 1.0};
  const Tick     beat  = meter_beat_ticks(cue->chart->meter);
  const unsigned n     = meter_beats_per_bar(cue->chart->meter);
  for (unsigned i = 0; i < n; ++i) {
    const bool is_half = i == 0 || (n == 4 && i == 2);
    if (!half || is_half) {
      const double velocity = i == 0 ? TOUCH.count_first : TOUCH.count;
      stroke(cue,
             &exact,
             cue->start + (Tick)i * beat,
             DRUM_SIDE_STICK,
             velocity,
             rng,
             bar);
    }
  }
}
