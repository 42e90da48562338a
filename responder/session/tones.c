#include "responder/session/tones.h"

#include "core/music/pitch.h"
#include "core/music/spelling.h"

// Semitones
static const unsigned minor_third = 3;
static const unsigned major_third = 4;
static const unsigned fifth       = 7;

uint16_t
tones_bit(const unsigned key)
{
  return (uint16_t)(1U << key % OCTAVE);
}

uint16_t
tones_up_to(const Chart* const chart, const Tick tick, const Role role)
{
  uint16_t classes = 0;
  for (unsigned pc = 0; pc < OCTAVE; ++pc) {
    if (hear_role(chart, tick, pc) <= role) {
      classes |= tones_bit(pc);
    }
  }
  return classes;
}

uint16_t
tones_root(const Chart* const chart, const Tick tick)
{
  return tones_up_to(chart, tick, ROLE_ROOT);
}

bool
tones_is_home(const Tick tick, const FitTurn* const turn)
{
  return turn->home && tick >= turn->home;
}

uint16_t
tones_closing(const Tick tick, const FitTurn* const turn)
{
  const Chart* const chart = turn->ear.chart;
  return tones_is_home(tick, turn)
           ? tones_bit(spelling_pitch_class(chart->key.tonic))
           : tones_root(chart, tick);
}

uint16_t
tones_open(const Tick tick, const FitTurn* const turn)
{
  const Key      key   = turn->ear.chart->key;
  const unsigned tonic = spelling_pitch_class(key.tonic);
  const uint16_t tones = tones_up_to(turn->ear.chart, tick, ROLE_CHORD_TONE);
  const uint16_t home  = tones_bit(tonic) | tones_closing(tick, turn);
  const uint16_t open  = (uint16_t)(tones & ~home);
  const unsigned third = key.is_minor ? minor_third : major_third;
  return open ? open : tones_bit(tonic + third) | tones_bit(tonic + fifth);
}

uint8_t
tones_nearest(const uint8_t        key,
              const uint16_t       classes,
              const FitTurn* const turn)
{
  for (unsigned step = 0; step <= OCTAVE; ++step) {
    if (key >= turn->lowest + step && classes & tones_bit(key - step)) {
      return (uint8_t)(key - step);
    }
    if (key + step <= turn->highest && classes & tones_bit(key + step)) {
      return (uint8_t)(key + step);
    }
  }
  return key;
}

uint8_t
tones_within(unsigned key, const FitTurn* const turn)
{
  while (key > turn->highest) {
    key -= OCTAVE;
  }
  while (key < turn->lowest) {
    key += OCTAVE;
  }
  return (uint8_t)key;
}

/// Return chord and scale tones but for those a semitone above a chord tone,
/// which want to move (common practice, no source).
static uint16_t
mild_at(const Chart* const chart, const Tick tick)
{
  const uint16_t tones = tones_up_to(chart, tick, ROLE_CHORD_TONE);
  const uint16_t above = (uint16_t)(tones << 1U | tones >> (OCTAVE - 1));
  const uint16_t scale = tones_up_to(chart, tick, ROLE_SCALE_TONE);
  return (uint16_t)((scale & ~above) | tones);
}

uint16_t
tones_for_both(const Tick tick, const bool is_last, const FitTurn* const turn)
{
  const Chart* const chart = turn->ear.chart;
  const uint16_t     now =
    is_last ? tones_up_to(chart, tick, ROLE_CHORD_TONE) : mild_at(chart, tick);
  const uint16_t both = now & mild_at(chart, tick + turn->later);
  return both ? both : now;
}

uint8_t
tones_onward(const uint8_t        key,
             const int            way,
             const uint16_t       classes,
             const FitTurn* const turn)
{
  for (unsigned step = 1; step <= fifth; ++step) {
    const int to = key + way * (int)step;
    if (to >= (int)turn->lowest && to <= (int)turn->highest &&
        classes & tones_bit((unsigned)to)) {
      return (uint8_t)to;
    }
  }
  return key;
}
