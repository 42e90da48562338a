// The band holds to its feel, whatever a musician may have written there: feels
// by chance over charts by chance, each bar read back against the patterns by
// arithmetic of its own.

#include "core/music/spelling.h"
#include "core/music/swing.h"
#include "fixture.h"
#include "support/feels.h"

#include <math.h>
#include <stdlib.h>

enum {
  FEELS       = 200,
  BARS        = 24,
  FOOT        = 44, // General MIDI: pedal hi-hat
  KICK        = 36,
  CRASH       = 49,
  LOUDER      = 6, // Velocities are a little off
  MOST_FILL   = 2, // Beats
  CHORD_TOUCH = 8, // Per cent that a chord's inner notes are softer
};

static const double SPREAD_MS = 6.0;

static Chart   chart;
static Feel    feel;
static Band    band;
static BandBar bar;
static Tick    start;
static double  tempo;
static Tick    held_until; // By the last chord of the bars before

static Tick
bar_ticks(void)
{
  return meter_bar_ticks(chart.meter);
}

static Tick
beat_ticks(void)
{
  return meter_beat_ticks(chart.meter);
}

static Tick
spread(void)
{
  return (Tick)ceil(SPREAD_MS * tempo * TICKS_PER_QUARTER / 60000.0);
}

static double
ratio_of(const Part part)
{
  const double others =
    feel.swing_by_tempo ? swing_ratio_by_tempo(tempo) : feel.swing_ratio;
  // The short note of two keeps 80 ms, and 4 is the most
  const double most   = fmin(4.0, 60000.0 / tempo / 80.0 - 1.0);
  const double uneven = fmin(others + feel.ride_swing_extra, most);
  return part == PART_DRUMS ? fmax(others, uneven) : others;
}

/// Where a place sounds: long to short as the feel says, by proportion.
static double
sounds_at(const Part part, const Tick tick)
{
  const Tick   beat   = beat_ticks();
  const Tick   within = tick % beat;
  const double ratio  = ratio_of(part);
  const double longer = (double)beat * ratio / (1.0 + ratio);
  if (meter_is_compound(chart.meter) || within * 4 % beat != 0) {
    return (double)tick;
  }
  return (double)(tick - within) +
         (2 * within <= beat
            ? longer * 2.0 * (double)within / (double)beat
            : (double)beat - ((double)beat - longer) * 2.0 *
                               (double)(beat - within) / (double)beat);
}

static bool
is_at(const PartNote* const note, const Tick tick)
{
  const double at = sounds_at((Part)note->part, tick);
  return fabs((double)note->note.tick - at) <= (double)spread();
}

static bool
fits(const FeelPattern* const pattern, const unsigned layer)
{
  return pattern->layer == layer &&
         (pattern->meter.numerator == 0 ||
          (pattern->meter.numerator == chart.meter.numerator &&
           pattern->meter.denominator == chart.meter.denominator));
}

static unsigned
n_fitting(const FeelPart* const part, const unsigned layer)
{
  unsigned n = 0;
  for (unsigned i = 0; i < part->n_patterns; ++i) {
    n += fits(&part->patterns[i], layer);
  }
  return n;
}

static unsigned
count_of(const Part part)
{
  unsigned n = 0;
  for (unsigned i = 0; i < bar.n_notes; ++i) {
    n += bar.notes[i].part == part;
  }
  return n;
}

/// Where a hit stands in the bar that is played; -1 for another bar.
static Tick
place_of(const FeelPattern* const pattern, const FeelHit* const hit)
{
  const Tick in_form    = start / bar_ticks() % chart.n_bars;
  const Tick in_pattern = in_form % pattern->n_bars * bar_ticks();
  const Tick tick       = hit->tick - in_pattern;
  return tick >= 0 && tick < bar_ticks() ? start + tick : -1;
}

/// Whether a pattern can be what the bar plays; `until` is where a fill begins.
typedef bool (*Explains)(const FeelPattern* pattern, Tick until);

static bool
is_explained(const FeelPart* const part,
             const unsigned        layer,
             const Tick            until,
             const Explains        explains)
{
  bool is = false;
  for (unsigned i = 0; i < part->n_patterns; ++i) {
    const FeelPattern* const pattern = &part->patterns[i];
    is = is || (fits(pattern, layer) && explains(pattern, until));
  }
  return is;
}

static unsigned
layer_of(const FeelPart* const part, const BandFullness fullness)
{
  return fullness == BAND_FULL && n_fitting(part, 1) > 0 ? 1 : 0;
}

static bool
is_form_start(void)
{
  return start % (bar_ticks() * chart.n_bars) == 0;
}

static bool
has_stroke(const FeelHit* const hit, const Tick tick)
{
  bool has = false;
  for (unsigned i = 0; i < bar.n_notes; ++i) {
    const PartNote* const it = &bar.notes[i];
    const int off            = abs((int)it->note.velocity - (int)hit->velocity);
    has = has || (it->part == PART_DRUMS && it->note.pitch == hit->voice &&
                  is_at(it, tick) && (off < LOUDER || tick == start));
  }
  return has;
}

/// Whether a drum's stroke is one of the pattern, or of what may be added.
static bool
is_stroke(const FeelPattern* const pattern,
          const PartNote* const    note,
          const Tick               until)
{
  const bool is_crash = note->note.pitch == CRASH || note->note.pitch == KICK;
  bool       is =
    (until < start + bar_ticks() && note->note.tick >= until - spread()) ||
    (is_crash && is_form_start() && is_at(note, start));
  for (unsigned i = 0; i < pattern->n_hits; ++i) {
    const Tick tick = place_of(pattern, &pattern->hits[i]);
    is = is || (tick >= 0 && pattern->hits[i].voice == note->note.pitch &&
                is_at(note, tick));
  }
  return is;
}

static bool
explains_drums(const FeelPattern* const pattern, const Tick until)
{
  bool explains = true;
  for (unsigned i = 0; i < pattern->n_hits; ++i) {
    const FeelHit* const hit  = &pattern->hits[i];
    const Tick           tick = place_of(pattern, hit);
    if (tick >= 0 && (tick < until || hit->voice == FOOT)) {
      explains = explains && has_stroke(hit, tick);
    }
  }
  for (unsigned i = 0; i < bar.n_notes; ++i) {
    explains = explains && (bar.notes[i].part != PART_DRUMS ||
                            is_stroke(pattern, &bar.notes[i], until));
  }
  return explains;
}

static bool
drums_hold(const BandFullness fullness)
{
  const unsigned layer = layer_of(&feel.drums, fullness);
  const Tick     end   = start + bar_ticks();
  if (feel.drums.n_patterns == 0) {
    return count_of(PART_DRUMS) == 0;
  }
  if (fullness == BAND_ROOTS) { // The foot alone, on the weak beats
    bool is_foot = true;
    for (unsigned i = 0; i < bar.n_notes; ++i) {
      const PartNote* const note = &bar.notes[i];
      is_foot =
        is_foot && (note->part != PART_DRUMS || note->note.pitch == FOOT);
    }
    return is_foot && count_of(PART_DRUMS) > 0;
  }
  if (n_fitting(&feel.drums, layer) == 0) {
    return count_of(PART_DRUMS) == 0;
  }
  bool holds = false;
  for (int beats = 0; beats <= (fullness == BAND_FULL ? MOST_FILL : 0);
       ++beats) {
    const Tick until = end - beats * beat_ticks();
    holds = holds || is_explained(&feel.drums, layer, until, explains_drums);
  }
  return holds;
}

static const Chord*
chord_at(const Tick tick)
{
  return chart_chord_at(&chart, tick);
}

static bool
is_change(const Tick tick)
{
  return !chord_equals(chord_at(tick - 1), chord_at(tick));
}

/// Whether a written place has a note of a part; `note` is it.
static bool
find_at(const Part part, const Tick tick, const PartNote** const note)
{
  for (unsigned i = 0; i < bar.n_notes; ++i) {
    if (bar.notes[i].part == part && is_at(&bar.notes[i], tick)) {
      *note = &bar.notes[i];
      return true;
    }
  }
  return false;
}

static bool
is_near(const double velocity, const FeelHit* const hit, const unsigned softer)
{
  const double low = hit->velocity * (1.0 - softer / 100.0) - LOUDER;
  return velocity >= low && velocity <= hit->velocity + LOUDER;
}

/// Whether a bass note is the tone that its hit asks for; all our chords have
/// perfect fifths. The first note of a chord is its root, whatever is asked.
static bool
is_tone(const PartNote* const note,
        const FeelHit* const  hit,
        const Tick            tick,
        const bool            is_first)
{
  const unsigned root  = spelling_pitch_class(chord_at(tick)->bass);
  const unsigned above = (note->note.pitch + 12U - root) % 12U;
  switch (is_first ? BASS_ROOT : (BassTone)hit->voice) {
    case BASS_ROOT:
    case BASS_OCTAVE:
      return above == 0;
    case BASS_FIFTH:
      return above == 7;
    case BASS_APPROACH:
      return true;
  }
  return false;
}

static bool
explains_bass(const FeelPattern* const pattern, const Tick until)
{
  bool         explains = true;
  unsigned     n        = 0;
  const Chord* before   = chord_at(start - 1);
  (void)until;
  for (Tick tick = start; tick < start + bar_ticks(); ++tick) {
    const FeelHit*  hit  = NULL;
    const PartNote* note = NULL;
    for (unsigned i = 0; i < pattern->n_hits; ++i) {
      hit =
        place_of(pattern, &pattern->hits[i]) == tick ? &pattern->hits[i] : hit;
    }
    if (hit || is_change(tick)) {
      const bool is_first = !chord_equals(before, chord_at(tick));
      explains            = explains && find_at(PART_BASS, tick, &note) &&
                 (!hit || (is_near(note->note.velocity, hit, 0) &&
                           is_tone(note, hit, tick, is_first))) &&
                 (hit || is_tone(note, &(FeelHit){0}, tick, true));
      before = chord_at(tick);
      ++n;
    }
  }
  return explains && n == count_of(PART_BASS);
}

/// A line has a note on each beat (in two: on some), a skip off it at most.
static bool
line_holds(void)
{
  const bool is_two = feel.bass_line == BASS_LINE_TWO;
  unsigned   n_on   = 0;
  unsigned   n_off  = 0;
  for (unsigned i = 0; i < bar.n_notes; ++i) {
    const PartNote* const note = &bar.notes[i];
    if (note->part == PART_BASS) {
      const Tick within = (note->note.tick - start + spread()) % beat_ticks();
      n_on += within <= 2 * spread();
      n_off += within > 2 * spread();
    }
  }
  const unsigned beats = meter_beats_per_bar(chart.meter);
  return is_two ? n_off == 0 && n_on >= 1 && n_on <= beats
                : n_off <= 1 && n_on == beats;
}

static bool
bass_holds(const BandFullness fullness)
{
  const unsigned  layer = layer_of(&feel.bass, fullness);
  const PartNote* note  = NULL;
  if (fullness == BAND_ROOTS) {
    return count_of(PART_BASS) == 1 && find_at(PART_BASS, start, &note);
  }
  if (feel.bass_line != BASS_LINE_PATTERN) {
    return line_holds();
  }
  return n_fitting(&feel.bass, layer) == 0
           ? count_of(PART_BASS) == 0
           : is_explained(&feel.bass, layer, 0, explains_bass);
}

/// Whether a hit is played, or held over by the chord before.
static bool
is_comped(const FeelHit* const hit, const Tick tick)
{
  const PartNote* note = NULL;
  return find_at(PART_CHORDS, tick, &note)
           ? is_near(note->note.velocity, hit, CHORD_TOUCH)
           : fmin(sounds_at(PART_CHORDS, tick), (double)tick) <
               (double)(held_until + spread());
}

static bool
explains_chords(const FeelPattern* const pattern, const Tick until)
{
  bool explains = true;
  bool has_any  = false;
  (void)until;
  for (unsigned i = 0; i < pattern->n_hits; ++i) {
    const Tick tick = place_of(pattern, &pattern->hits[i]);
    has_any         = has_any || tick >= 0;
    explains = explains && (tick < 0 || is_comped(&pattern->hits[i], tick));
  }
  for (unsigned i = 0; i < bar.n_notes; ++i) {
    const PartNote* const note = &bar.notes[i];
    bool                  is   = note->part != PART_CHORDS;
    for (unsigned k = 0; k < pattern->n_hits; ++k) {
      const Tick tick = place_of(pattern, &pattern->hits[k]);
      is              = is || (tick >= 0 && is_at(note, tick));
    }
    for (Tick tick = start; tick < start + bar_ticks(); tick += beat_ticks()) {
      is = is || (has_any && is_change(tick) && is_at(note, tick));
    }
    explains = explains && is;
  }
  return explains;
}

static bool
chords_hold(const BandFullness fullness)
{
  const unsigned layer = layer_of(&feel.chords, fullness);
  const bool     holds =
    fullness == BAND_ROOTS || n_fitting(&feel.chords, layer) == 0
          ? count_of(PART_CHORDS) == 0
          : is_explained(&feel.chords, layer, 0, explains_chords);
  for (unsigned i = 0; i < bar.n_notes; ++i) {
    const PartNote* const note = &bar.notes[i];
    const Tick            end  = note->note.tick + note->note.length;
    if (note->part == PART_CHORDS && end > held_until) {
      held_until = end;
    }
  }
  return holds;
}

/// A chord a bar or more, each on a beat.
static void
draw_chart(const Meter meter, Rng* const rng)
{
  static const char* const chords[] = {
    "C7", "F7", "Dm7", "G7", "Bbmaj7", "E7", "Am7", "Ab6"};
  Key            key;
  const unsigned n_bars = 1 + rng_below(rng, 8);
  cr_assert_eq(key_parse(&key, "C major"), STATUS_OK);
  chart_begin(&chart, "drawn", meter, key);
  for (unsigned i = 0; i < n_bars; ++i) {
    char text[64] = "";
    char fault[CHART_FAULT_CAPACITY];
    for (unsigned beat = 0; beat < meter_beats_per_bar(meter); ++beat) {
      const bool holds = beat > 0 && rng_below(rng, 3) > 0;
      (void)strcat(text, beat ? " " : "");
      (void)strcat(text, holds ? "/" : chords[rng_below(rng, 8)]);
    }
    cr_assert_eq(chart_add_bar(&chart, text, fault), STATUS_OK, "%s", fault);
  }
}

static void
play_by(const unsigned seed, Rng* const rng)
{
  static const double tempi[] = {50.0, 90.0, 120.0, 160.0, 200.0};
  tempo                       = tempi[rng_below(rng, 5)];
  draw_chart(feel.meters[rng_below(rng, feel.n_meters)], rng);
  cr_assert(feel_fits(&feel, chart.meter));
  band_begin(&band, &chart, &feel, tempo, *rng);
  held_until = -1;
  for (unsigned i = 0; i < BARS; ++i) {
    const BandFullness fullness = (BandFullness)rng_below(rng, 3);
    start                       = i * bar_ticks();
    band_play_bar(&band, start, fullness, &bar);
    cr_assert(drums_hold(fullness), "drums, feel %u, bar %u", seed, i);
    cr_assert(bass_holds(fullness), "bass, feel %u, bar %u", seed, i);
    cr_assert(chords_hold(fullness), "chords, feel %u, bar %u", seed, i);
  }
}

Test(feels, the_band_holds_to_its_feel)
{
  for (unsigned seed = 0; seed < FEELS; ++seed) {
    Rng rng = rng_seed(seed, 21);
    feels_draw(&feel, &rng);
    play_by(seed, &rng);
  }
}
