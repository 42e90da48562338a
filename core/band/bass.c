#include "core/band/bass.h"

#include "core/band/bass_tone.h"
#include "core/band/hits.h"
#include "core/music/meter.h"

#include <stdbool.h>

/// How the bass is played (common practice, no source).
static const struct {
  double spread_ms;
  double velocity_spread;
  double velocities[4];    ///< Of a line's notes, by WalkRole
  double root_velocity;    ///< Where only roots are played, and at the end
  double share;            ///< Of the time to the next note that a note sounds
  double skip;             ///< Chance of a skip in a full bar
  double skip_velocity;    ///< Share of the velocity of the note it follows
  double skip_fastest_bpm; ///< No skips above
} TOUCH = {
  .spread_ms        = 4.0,
  .velocity_spread  = 4.0,
  .velocities       = {88.0, 80.0, 84.0, 82.0},
  .root_velocity    = 84.0,
  .share            = 0.92,
  .skip             = 0.22,
  .skip_velocity    = 0.72,
  .skip_fastest_bpm = 210.0,
};

/// A note of the bar before it is played.
typedef struct {
  Tick     tick;
  Tick     length;
  double   velocity;
  unsigned pitch;
} Plucked;

static void
pluck(const Cue* const     cue,
      const Plucked* const note,
      Rng* const           rng,
      BandBar* const       bar)
{
  const Touch touch = {
    .swing_ratio     = feel_swing_ratio(cue->feel, cue->tempo_bpm),
    .spread_ms       = TOUCH.spread_ms,
    .velocity_spread = TOUCH.velocity_spread,
  };
  const Written written = {
    .part     = PART_BASS,
    .tick     = note->tick,
    .length   = note->length,
    .pitch    = note->pitch,
    .velocity = note->velocity,
  };
  part_play(cue, &touch, rng, &written, bar);
}

/// Return where the chord at a tick is gone, the bar's end at the latest.
static Tick
chord_end(const Cue* const cue, const Tick tick)
{
  return tick_least(chart_next_change(cue->chart, tick), cue_end(cue));
}

/// Play the root of the bar's first chord, as long as that lasts.
static void
play_root(Bass* const      bass,
          const Cue* const cue,
          Rng* const       rng,
          BandBar* const   bar)
{
  const Chord* const chord = chart_chord_at(cue->chart, cue->start);
  if (chord_is_silence(chord)) {
    return;
  }
  const Tick    room = chord_end(cue, cue->start) - cue->start;
  const Plucked note = {
    .tick     = cue->start,
    .length   = (Tick)(TOUCH.share * (double)room),
    .velocity = TOUCH.root_velocity,
    .pitch    = bass_tone_root(chord, bass->walk.last),
  };
  bass->walk.last = (uint8_t)note.pitch;
  pluck(cue, &note, rng, bar);
}

/// Return where the last third of a beat begins, or its second half.
static Tick
off_beat(const Cue* const cue)
{
  const Tick beat = meter_beat_ticks(cue->chart->meter);
  return meter_is_compound(cue->chart->meter) ? beat * 2 / 3 : beat / 2;
}

/// Return the index of the note that a skip follows; `n` for no skip.
static unsigned
choose_skip(const Cue* const cue, const unsigned n, Rng* const rng)
{
  const bool may_skip = cue->fullness == BAND_FULL &&
                        cue->tempo_bpm <= TOUCH.skip_fastest_bpm && n > 1;
  return may_skip && rng_unit(rng) < TOUCH.skip ? rng_below(rng, n) : n;
}

/// Play a bar of a line, now and then with a skip: a note said again, lightly,
/// just before the next beat.
static void
play_line(Bass* const      bass,
          const Cue* const cue,
          Rng* const       rng,
          BandBar* const   bar)
{
  WalkNote       notes[WALK_BAR_MAX];
  const BassLine line = cue->feel->bass_line;
  const unsigned n    = walk_bar(&bass->walk, cue, line, rng, notes);
  const bool     may  = line == BASS_LINE_WALKING;
  const unsigned skip = may ? choose_skip(cue, n, rng) : n;
  for (unsigned i = 0; i < n; ++i) {
    const Tick end  = chord_end(cue, notes[i].tick);
    const Tick next = i + 1 < n ? tick_least(notes[i + 1].tick, end) : end;
    const Tick room = i == skip ? off_beat(cue) : next - notes[i].tick;
    Plucked    note = {
         .tick     = notes[i].tick,
         .length   = (Tick)(TOUCH.share * (double)room),
         .velocity = TOUCH.velocities[notes[i].role],
         .pitch    = notes[i].pitch,
    };
    pluck(cue, &note, rng, bar);
    if (i == skip) {
      note.tick += off_beat(cue);
      note.length = (meter_beat_ticks(cue->chart->meter) - off_beat(cue)) / 2;
      note.velocity *= TOUCH.skip_velocity;
      pluck(cue, &note, rng, bar);
    }
  }
}

/// Give each chord that comes in the bar a hit where it comes.
static void
cover_changes(Hits* const hits, const Cue* const cue)
{
  const Tick beat   = meter_beat_ticks(cue->chart->meter);
  Tick       change = cue->start;
  while (change < cue_end(cue)) {
    bool has_hit = false;
    for (unsigned i = 0; i < hits->n; ++i) {
      has_hit = has_hit || hits->hits[i].tick == change;
    }
    const bool comes = !chord_equals(chart_chord_at(cue->chart, change - 1),
                                     chart_chord_at(cue->chart, change));
    if (comes && !has_hit) {
      hits_add(hits,
               (Hit){change, beat, TOUCH.root_velocity, BASS_ROOT, change});
    }
    change = chart_next_change(cue->chart, change);
  }
}

/// Return the chord that a hit leads to: of the next hit, or of the next bar.
static const Chord*
next_chord(const Hits* const hits, const unsigned i, const Cue* const cue)
{
  const Tick tick = i + 1 < hits->n ? hits->hits[i + 1].tick : cue_end(cue);
  return chart_chord_at(cue->chart, tick);
}

/// Make the first hit on each new chord its root, and an approach to silence
/// too.
static void
say_roots(Hits* const hits, const Cue* const cue)
{
  const Chord* before = chart_chord_at(cue->chart, cue->start - 1);
  for (unsigned i = 0; i < hits->n; ++i) {
    Hit* const         hit   = &hits->hits[i];
    const Chord* const chord = chart_chord_at(cue->chart, hit->tick);
    if (!chord_equals(before, chord) ||
        (hit->voice == BASS_APPROACH &&
         chord_is_silence(next_chord(hits, i, cue)))) {
      hit->voice = BASS_ROOT;
    }
    before = chord;
  }
}

/// Return the pitch of a hit: the last one, if the tone is the same.
static unsigned
hit_pitch(const Bass* const bass,
          const Cue* const  cue,
          const Hits* const hits,
          const unsigned    i,
          Rng* const        rng)
{
  const Hit* const   hit   = &hits->hits[i];
  const Chord* const chord = chart_chord_at(cue->chart, hit->tick);
  if (i > 0 && hit->voice == hits->hits[i - 1].voice &&
      chord_equals(chart_chord_at(cue->chart, hits->hits[i - 1].tick), chord)) {
    return bass->walk.last;
  }
  const BassAsk ask = {
    .tone  = (BassTone)hit->voice,
    .chord = chord,
    .next  = next_chord(hits, i, cue),
    .key   = cue->chart->key,
    .last  = bass->walk.last,
  };
  return bass_tone_pitch(&ask, rng);
}

/// Play a hit, if there is a chord.
static void
play_hit(Bass* const       bass,
         const Cue* const  cue,
         const Hits* const hits,
         const unsigned    i,
         Rng* const        rng,
         BandBar* const    bar)
{
  const Hit* const hit = &hits->hits[i];
  if (chord_is_silence(chart_chord_at(cue->chart, hit->tick))) {
    return;
  }
  const Tick end = chord_end(cue, hit->tick);
  const Tick next =
    i + 1 < hits->n ? tick_least(hits->hits[i + 1].tick, end) : end;
  const Plucked note = {
    .tick     = hit->tick,
    .length   = tick_least(hit->length, next - hit->tick),
    .velocity = hit->velocity,
    .pitch    = hit_pitch(bass, cue, hits, i, rng),
  };
  bass->walk.last = (uint8_t)note.pitch;
  pluck(cue, &note, rng, bar);
}

static void
play_pattern(Bass* const      bass,
             const Cue* const cue,
             Rng* const       rng,
             BandBar* const   bar)
{
  const FeelPattern* const pattern =
    rotation_next(&bass->rotation, &cue->feel->bass, cue, rng);
  if (!pattern) {
    return;
  }
  Hits hits = hits_of(pattern, cue);
  cover_changes(&hits, cue);
  say_roots(&hits, cue);
  for (unsigned i = 0; i < hits.n; ++i) {
    play_hit(bass, cue, &hits, i, rng, bar);
  }
}

void
bass_play(Bass* const      bass,
          const Cue* const cue,
          Rng* const       rng,
          BandBar* const   bar)
{
  if (cue->fullness == BAND_ROOTS) {
    play_root(bass, cue, rng, bar);
  } else if (cue->feel->bass_line == BASS_LINE_PATTERN) {
    play_pattern(bass, cue, rng, bar);
  } else {
    play_line(bass, cue, rng, bar);
  }
}

void
bass_end(Bass* const        bass,
         const Cue* const   cue,
         const Chord* const chord,
         Rng* const         rng,
         BandBar* const     bar)
{
  const Plucked note = {
    .tick     = cue->start,
    .length   = cue_bar_ticks(cue) * 7 / 8,
    .velocity = TOUCH.root_velocity,
    .pitch    = bass_tone_root(chord, bass->walk.last),
  };
  bass->walk.last = (uint8_t)note.pitch;
  pluck(cue, &note, rng, bar);
}
