#include "support/feels.h"

#include "core/music/meter.h"
#include "support/writing.h"

#include <stdbool.h>
#include <stdio.h>
#include <string.h>

enum {
  MAX_HITS     = 40,
  N_TONES      = 4,
  LOWEST_DRUM  = 35, // General MIDI System Level 1: 35..81
  N_DRUMS      = 47,
  MAX_STROKES  = 4,
  MAX_VELOCITY = 127,
};

static const Meter meters[] = {{2, 4}, {3, 4}, {4, 4}, {5, 4}, {6, 8}, {12, 8}};

enum { N_METERS = sizeof(meters) / sizeof(*meters) };

static bool
tossed(Rng* const rng)
{
  return rng_below(rng, 2) == 0;
}

static unsigned
between(Rng* const rng, const unsigned low, const unsigned high)
{
  return low + rng_below(rng, high - low + 1);
}

static void
draw_meters(Feel* const feel, Rng* const rng)
{
  const unsigned first = rng_below(rng, N_METERS);
  feel->n_meters       = between(rng, 1, 3);
  for (unsigned i = 0; i < feel->n_meters; ++i) {
    feel->meters[i] = meters[(first + i) % N_METERS];
  }
}

// Hits on halves, thirds or quarters of a beat; a pattern has one kind
static void
draw_hits(FeelPattern* const pattern, const Meter meter, Rng* const rng)
{
  const Tick     step   = meter_beat_ticks(meter) / between(rng, 1, 4);
  const Tick     end    = meter_bar_ticks(meter) * pattern->n_bars;
  const unsigned one_in = between(rng, 1, 5);
  for (Tick tick = 0; tick < end && pattern->n_hits < MAX_HITS; tick += step) {
    if (rng_below(rng, one_in) == 0) {
      pattern->hits[pattern->n_hits++] = (FeelHit){
        .tick     = tick,
        .length   = step * between(rng, 1, 8) / 4,
        .velocity = (uint8_t)between(rng, 1, MAX_VELOCITY),
      };
    }
  }
}

static void
draw_voices(FeelPattern* const pattern, const bool is_drums, Rng* const rng)
{
  uint8_t drums[MAX_STROKES];
  for (unsigned i = 0; i < MAX_STROKES; ++i) {
    drums[i] = (uint8_t)between(rng, LOWEST_DRUM, LOWEST_DRUM + N_DRUMS - 1);
  }
  for (unsigned i = 0; i < pattern->n_hits; ++i) {
    FeelHit* const hit = &pattern->hits[i];
    hit->voice         = is_drums ? drums[rng_below(rng, MAX_STROKES)]
                                  : (uint8_t)rng_below(rng, N_TONES);
    hit->length        = is_drums ? 1 : hit->length;
  }
}

// One pattern for each meter at least, so that the part fits them all
static void
draw_part(FeelPart* const   part,
          const Feel* const feel,
          const bool        has_voice,
          const bool        is_drums,
          Rng* const        rng)
{
  static const uint8_t lengths[] = {1, 2, 4};
  part->n_patterns               = feel->n_meters * between(rng, 1, 4);
  for (unsigned i = 0; i < part->n_patterns; ++i) {
    FeelPattern* const pattern = &part->patterns[i];
    pattern->n_bars            = lengths[rng_below(rng, 3)];
    pattern->layer             = (uint8_t)rng_below(rng, 2);
    pattern->meter             = feel->meters[i % feel->n_meters];
    draw_hits(pattern, pattern->meter, rng);
    if (has_voice) {
      draw_voices(pattern, is_drums, rng);
    }
    if (feel->n_meters == 1 && tossed(rng)) {
      pattern->meter = (Meter){0}; // Every meter of the feel
    }
  }
}

void
feels_draw(Feel* const feel, Rng* const rng)
{
  memset(feel, 0, sizeof(*feel));
  (void)snprintf(feel->name, sizeof(feel->name), "drawn");
  draw_meters(feel, rng);
  feel->swing_by_tempo = rng_below(rng, 4) == 0;
  feel->swing_ratio =
    feel->swing_by_tempo ? 1.0 : 1.0 + between(rng, 0, 12) * 0.25;
  feel->ride_swing_extra = between(rng, 0, 6) * 0.25;
  feel->bass_line        = (BassLine)rng_below(rng, 3);
  if (rng_below(rng, 5) > 0) {
    draw_part(&feel->chords, feel, false, false, rng);
  }
  if (feel->bass_line == BASS_LINE_PATTERN) {
    draw_part(&feel->bass, feel, true, false, rng);
  }
  if (rng_below(rng, 5) > 0) {
    draw_part(&feel->drums, feel, true, true, rng);
  }
}

// Numbers of beats, one for each hit of a voice; all if `voice` is beyond them
typedef double (*Value)(const FeelHit* hit, Tick beat);

static double
place(const FeelHit* const hit, const Tick beat)
{
  return 1.0 + (double)hit->tick / (double)beat;
}

static double
length(const FeelHit* const hit, const Tick beat)
{
  return (double)hit->length / (double)beat;
}

static double
velocity(const FeelHit* const hit, const Tick beat)
{
  (void)beat;
  return hit->velocity;
}

enum { ANY_VOICE = 128 };

static void
put_values(Writing* const           writing,
           const char* const        name,
           const FeelPattern* const pattern,
           const unsigned           voice,
           const Tick               beat,
           const Value              value)
{
  bool is_first = true;
  put(writing, " %s = [", name);
  for (unsigned i = 0; i < pattern->n_hits; ++i) {
    const FeelHit* const hit = &pattern->hits[i];
    if (voice == ANY_VOICE || voice == hit->voice) {
      put(writing,
          value == velocity ? "%s %.0f" : "%s %.5f",
          is_first ? "" : ",",
          value(hit, beat));
      is_first = false;
    }
  }
  put(writing, " ];");
}

static void
put_tones(Writing* const writing, const FeelPattern* const pattern)
{
  static const char* const tones[N_TONES] = {
    [BASS_ROOT]     = "root",
    [BASS_FIFTH]    = "fifth",
    [BASS_OCTAVE]   = "octave",
    [BASS_APPROACH] = "approach",
  };
  put(writing, " tones = [");
  for (unsigned i = 0; i < pattern->n_hits; ++i) {
    put(writing, "%s \"%s\"", i ? "," : "", tones[pattern->hits[i].voice]);
  }
  put(writing, " ];");
}

static void
put_strokes(Writing* const           writing,
            const FeelPattern* const pattern,
            const Tick               beat)
{
  bool is_first = true;
  put(writing, " strokes = (");
  for (unsigned drum = LOWEST_DRUM; drum < LOWEST_DRUM + N_DRUMS; ++drum) {
    bool is_played = false;
    for (unsigned i = 0; i < pattern->n_hits; ++i) {
      is_played = is_played || pattern->hits[i].voice == drum;
    }
    if (is_played) {
      put(writing, "%s { drum = %u;", is_first ? "" : ",", drum);
      put_values(writing, "beats", pattern, drum, beat, place);
      put_values(writing, "velocities", pattern, drum, beat, velocity);
      put(writing, " }");
      is_first = false;
    }
  }
  put(writing, " );");
}

static void
put_pattern(Writing* const           writing,
            const Feel* const        feel,
            const FeelPart* const    part,
            const FeelPattern* const pattern)
{
  const bool  has_meter = pattern->meter.numerator > 0;
  const Meter meter     = has_meter ? pattern->meter : feel->meters[0];
  const Tick  beat      = meter_beat_ticks(meter);
  put(writing, "  { bars = %u; layer = %u;", pattern->n_bars, pattern->layer);
  if (has_meter) {
    put(writing, " meter = \"%u/%u\";", meter.numerator, meter.denominator);
  }
  if (part == &feel->drums) {
    put_strokes(writing, pattern, beat);
  } else {
    put_values(writing, "beats", pattern, ANY_VOICE, beat, place);
    put_values(writing, "lengths", pattern, ANY_VOICE, beat, length);
    put_values(writing, "velocities", pattern, ANY_VOICE, beat, velocity);
    if (part == &feel->bass) {
      put_tones(writing, pattern);
    }
  }
  put(writing, " }");
}

static void
put_part(Writing* const        writing,
         const Feel* const     feel,
         const char* const     name,
         const FeelPart* const part)
{
  if (part->n_patterns > 0) {
    put(writing, "%s = (\n", name);
    for (unsigned i = 0; i < part->n_patterns; ++i) {
      put_pattern(writing, feel, part, &part->patterns[i]);
      put(writing, i + 1 < part->n_patterns ? ",\n" : " );\n");
    }
  }
}

size_t
feels_text(const Feel* const feel, char* const text, const size_t capacity)
{
  static const char* const lines[] = {
    [BASS_LINE_PATTERN] = "patterns",
    [BASS_LINE_TWO]     = "two",
    [BASS_LINE_WALKING] = "walking",
  };
  Writing writing = {text, capacity, 0};
  put(&writing, "title = \"Drawn\";\nmeters = [");
  for (unsigned i = 0; i < feel->n_meters; ++i) {
    put(&writing,
        "%s \"%u/%u\"",
        i ? "," : "",
        feel->meters[i].numerator,
        feel->meters[i].denominator);
  }
  put(&writing, " ];\n");
  if (feel->swing_by_tempo) {
    put(&writing, "swing = \"by tempo\";\n");
  } else {
    put(&writing, "swing = %.2f;\n", feel->swing_ratio);
  }
  put(&writing,
      "ride_extra = %.2f;\nbass_line = \"%s\";\n",
      feel->ride_swing_extra,
      lines[feel->bass_line]);
  put_part(&writing, feel, "chords", &feel->chords);
  put_part(&writing, feel, "bass", &feel->bass);
  put_part(&writing, feel, "drums", &feel->drums);
  return writing.n;
}
