#include "core/band/comping.h"

#include "core/music/meter.h"

#include <stdbool.h>

/// How the hand plays (common practice, no source).
static const struct {
  double spread_ms;       ///< Of each note, and so of the chord
  double velocity_spread; ///< Of each note
  double other_voicing;   ///< Chance of another top note on the same chord
  double inner_softer;    ///< Share of the top note's velocity
  double end_velocity;
  double change_velocity; ///< Of a hit that no pattern has
} TOUCH = {5.0, 4.0, 0.3, 0.92, 76.0, 62.0};

enum {
  RELEASE_TICKS  = 24,  ///< Between a chord and the change
  SOUNDING_LEAST = 120, ///< A hit with less time to sound is left out
  BAR_HITS_MAX   = FEEL_HIT_CAPACITY + METER_BEATS_PER_BAR_MAX,
};

/// A hit of the bar and the chord that it plays.
typedef struct {
  Tick         tick;
  Tick         length;
  double       velocity;
  const Chord* chord;
} Hit;

typedef struct {
  unsigned n;
  Hit      hits[BAR_HITS_MAX]; ///< Rising
} Hits;

static Tick
least(const Tick a, const Tick b)
{
  return a < b ? a : b;
}

/// Return the beat that a hit belongs to: the coming one, if the hit is off the
/// beat, in its second half, and the chord changes there to another.
static Tick
own_beat(const Cue* const cue, const Tick tick)
{
  const Tick         beat   = meter_beat_ticks(cue->chart->meter);
  const Tick         off    = (tick - cue->start) % beat;
  const Tick         coming = tick - off + beat;
  const Chord* const next   = chart_chord_at(cue->chart, coming);
  const bool         leads  = 2 * off >= beat && !chord_is_silence(next) &&
                     !chord_equals(next, chart_chord_at(cue->chart, tick));
  return leads ? coming : tick;
}

/// Return where the chord at a tick is gone.
static Tick
chord_end(const Cue* const cue, const Tick tick)
{
  return chart_next_change(cue->chart, tick);
}

static void
add_hit(Hits* const hits, const Hit hit)
{
  unsigned to = hits->n++;
  for (; to > 0 && hits->hits[to - 1].tick > hit.tick; --to) {
    hits->hits[to] = hits->hits[to - 1];
  }
  hits->hits[to] = hit;
}

/// Take the hits of a pattern that fall in the bar.
static void
take_hits(Hits* const              hits,
          const FeelPattern* const pattern,
          const Cue* const         cue)
{
  const Tick origin = rotation_origin(pattern, cue);
  for (unsigned i = 0; i < pattern->n_hits; ++i) {
    const FeelHit* const hit  = &pattern->hits[i];
    const Tick           tick = origin + hit->tick;
    if (tick >= cue->start && tick < cue_end(cue)) {
      const Chord* const chord =
        chart_chord_at(cue->chart, own_beat(cue, tick));
      add_hit(hits, (Hit){tick, hit->length, hit->velocity, chord});
    }
  }
}

/// Whether a hit plays the chord that comes at a tick.
static bool
has_hit(const Hits* const hits, const Cue* const cue, const Tick change)
{
  const Tick end   = chord_end(cue, change);
  bool       found = false;
  for (unsigned i = 0; i < hits->n; ++i) {
    const Tick own = own_beat(cue, hits->hits[i].tick);
    found          = found || (change <= own && own < end);
  }
  return found;
}

/// Give each chord that comes within the bar a hit.
static void
cover_changes(Hits* const hits, const Cue* const cue)
{
  const Tick beat = meter_beat_ticks(cue->chart->meter);
  for (Tick change = chord_end(cue, cue->start); change < cue_end(cue);
       change      = chord_end(cue, change)) {
    if (!has_hit(hits, cue, change)) {
      const Chord* const chord = chart_chord_at(cue->chart, change);
      add_hit(hits, (Hit){change, beat / 2, TOUCH.change_velocity, chord});
    }
  }
}

/// Return how a chord is to be voiced after the last one.
static VoicingWish
wish(const Comping* const comping, const Chord* const chord, Rng* const rng)
{
  const bool is_same =
    comping->voicing.n_voices > 0 && chord_equals(&comping->chord, chord);
  return is_same && rng_unit(rng) < TOUCH.other_voicing ? VOICING_OTHER
                                                        : VOICING_NEAR;
}

/// Voice a chord and play it.
static void
strike(Comping* const    comping,
       const Cue* const  cue,
       const Hit* const  hit,
       const VoicingWish how,
       Rng* const        rng,
       BandBar* const    bar)
{
  const Touch touch = {
    .swing_ratio     = feel_swing_ratio(cue->feel, cue->tempo_bpm),
    .spread_ms       = TOUCH.spread_ms,
    .velocity_spread = TOUCH.velocity_spread,
  };
  const VoicingTones tones = voicing_tones(hit->chord, cue->chart->key);
  comping->voicing         = voicing_next(&tones, &comping->voicing, how);
  comping->chord           = *hit->chord;
  comping->held_until      = hit->tick + hit->length;

  const unsigned n = comping->voicing.n_voices;
  for (unsigned i = 0; i < n; ++i) {
    const double  share   = i + 1 == n ? 1.0 : TOUCH.inner_softer;
    const Written written = {
      .part     = PART_CHORDS,
      .tick     = hit->tick,
      .length   = hit->length,
      .pitch    = comping->voicing.pitches[i],
      .velocity = hit->velocity * share,
    };
    part_play(cue, &touch, rng, &written, bar);
  }
}

/// Return how long a hit lasts: not into the next one, nor beyond its chord.
static Tick
sounding(const Hits* const hits, const unsigned i, const Cue* const cue)
{
  const Hit* const hit    = &hits->hits[i];
  const Tick       gone   = chord_end(cue, own_beat(cue, hit->tick));
  const Tick       next   = i + 1 < hits->n ? hits->hits[i + 1].tick : gone;
  const Tick       end    = least(next, gone) - RELEASE_TICKS;
  const Tick       length = least(hit->length, end - hit->tick);
  const bool       is_held_over = hit->tick + length > cue_end(cue);
  return is_held_over ? length - RELEASE_TICKS : length;
}

void
comping_play(Comping* const   comping,
             const Cue* const cue,
             Rng* const       rng,
             BandBar* const   bar)
{
  const FeelPattern* const pattern =
    cue->fullness == BAND_ROOTS
      ? NULL
      : rotation_next(&comping->rotation, &cue->feel->chords, cue, rng);
  Hits hits = {.n = 0};
  if (pattern) {
    take_hits(&hits, pattern, cue);
  }
  if (hits.n > 0) {
    cover_changes(&hits, cue);
  }

  for (unsigned i = 0; i < hits.n; ++i) {
    Hit hit    = hits.hits[i];
    hit.length = sounding(&hits, i, cue);
    if (!chord_is_silence(hit.chord) && hit.tick >= comping->held_until &&
        hit.length >= SOUNDING_LEAST) {
      strike(comping, cue, &hit, wish(comping, hit.chord, rng), rng, bar);
    }
  }
}

void
comping_end(Comping* const     comping,
            const Cue* const   cue,
            const Chord* const chord,
            Rng* const         rng,
            BandBar* const     bar)
{
  const Tick        length = cue_bar_ticks(cue) * 7 / 8;
  const Hit         hit    = {cue->start, length, TOUCH.end_velocity, chord};
  const VoicingWish how =
    comping->held_until > cue->start ? VOICING_FRESH : VOICING_NEAR;
  strike(comping, cue, &hit, how, rng, bar);
}
