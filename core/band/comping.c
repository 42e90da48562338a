#include "core/band/comping.h"

#include "core/band/hits.h"
#include "core/music/meter.h"
#include "core/music/swing.h"

#include <stdbool.h>

/// How the hand plays (common practice, no source).
static const struct {
  double spread_ms;       ///< Of each note, and so of the chord
  double velocity_spread; ///< Of each note
  double other_voicing;   ///< Chance of another top note on the same chord
  double inner_softer;    ///< Share of the top note's velocity
  double end_velocity;
  double change_velocity; ///< Of a hit that no pattern has
  double rest_velocity;   ///< Of one that answers in the soloist's rest
  double rest_length;     ///< ... in beats
  double harmony_beats;   ///< A hit so long is no stab: it carries the harmony
} TOUCH = {5.0, 4.0, 0.3, 0.92, 76.0, 62.0, 66.0, 0.45, 2.0};

enum {
  RELEASE_TICKS  = 24,  ///< Between a chord and the change
  SOUNDING_LEAST = 120, ///< A hit that is cut shorter is left out
  AROUND         = 36,  ///< A hand is not exact: so near is together
};

/// A chord to be struck.
typedef struct {
  Hit          hit;
  const Chord* chord;
  VoicingWish  how;
} Stroke;

/// Return where a hit's chord is read: on the coming beat, if the hit is off
/// the beat, in its second half, and another chord comes there; but not for one
/// of several in a beat that is not held into the next.
static Tick
own_place(const Cue* const cue,
          const Tick       tick,
          const Tick       length,
          const Tick       before)
{
  const Tick         beat    = meter_beat_ticks(cue->chart->meter);
  const Tick         off     = (tick - cue->start) % beat;
  const Tick         coming  = tick - off + beat;
  const Chord* const next    = chart_chord_at(cue->chart, coming);
  const bool         is_lone = before < tick - off || tick + length > coming;
  const bool leads = 2 * off >= beat && is_lone && !chord_is_silence(next) &&
                     !chord_equals(next, chart_chord_at(cue->chart, tick));
  return leads ? coming : tick;
}

/// Return where the chord at a tick is gone.
static Tick
chord_end(const Cue* const cue, const Tick tick)
{
  return chart_next_change(cue->chart, tick);
}

/// Read each hit's chord where it is to be read.
static void
own_chords(Hits* const hits, const Cue* const cue)
{
  Tick before = cue->start - 1;
  for (unsigned i = 0; i < hits->n; ++i) {
    Hit* const hit = &hits->hits[i];
    hit->own       = own_place(cue, hit->tick, hit->length, before);
    before         = hit->tick;
  }
}

/// Whether a hit plays the chord that comes at a tick.
static bool
has_hit(const Hits* const hits, const Cue* const cue, const Tick change)
{
  const Tick end   = chord_end(cue, change);
  bool       found = false;
  for (unsigned i = 0; i < hits->n; ++i) {
    const Tick own = hits->hits[i].own;
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
      hits_add(hits, (Hit){change, beat / 2, TOUCH.change_velocity, 0, change});
    }
  }
}

/// Return where a written tick sounds.
static Tick
sounding_place(const Cue* const cue, const Tick tick)
{
  return swing_place(
    cue->chart->meter, tick, feel_swing_ratio(cue->feel, cue->tempo_bpm));
}

/// Return the last written tick that sounds by a tick.
static Tick
written_by(const Cue* const cue, const Tick sounding)
{
  // What is written beside a quarter of a beat sounds where it is written
  return sounding_place(cue, sounding) > sounding ? sounding - 1 : sounding;
}

static bool
hears(const Cue* const cue)
{
  return cue->solo && cue->solo->n_notes > 0;
}

/// Whether the bar has a rest of a beat or more from a tick on.
static bool
next_rest(const Cue* const cue, Tick* const from, Tick* const to)
{
  const Tick beat = meter_beat_ticks(cue->chart->meter);
  return solo_next_rest(cue->solo, from, cue_end(cue), beat, to);
}

/// Whether there is room for a hit beside the soloist: in a rest, if the bar
/// has any; elsewhere for what carries the harmony, but never among many notes.
static bool
has_place(const Cue* const cue, const Hit* const hit)
{
  const Tick beat = meter_beat_ticks(cue->chart->meter);
  const Tick at   = sounding_place(cue, hit->tick);
  Tick       from = cue->start;
  Tick       to   = 0;
  if (solo_is_busy(cue->solo, at, beat)) {
    return false;
  }
  return (double)hit->length >= TOUCH.harmony_beats * (double)beat ||
         solo_rests(cue->solo, at, beat) || !next_rest(cue, &from, &to);
}

static void
leave_room(Hits* const hits, const Cue* const cue)
{
  unsigned n_kept = 0;
  for (unsigned i = 0; i < hits->n; ++i) {
    if (has_place(cue, &hits->hits[i])) {
      hits->hits[n_kept++] = hits->hits[i];
    }
  }
  hits->n = n_kept;
}

static bool
has_hit_between(const Hits* const hits,
                const Cue* const  cue,
                const Tick        from,
                const Tick        to)
{
  bool found = false;
  for (unsigned i = 0; i < hits->n; ++i) {
    const Tick at = sounding_place(cue, hits->hits[i].tick);
    found         = found || (from <= at && at < to);
  }
  return found;
}

/// Speak where the soloist rests: half a beat after the line has stopped, or
/// where the half beat comes after that.
static void
fill_rests(Hits* const hits, const Cue* const cue)
{
  const Tick beat = meter_beat_ticks(cue->chart->meter);
  Tick       from = cue->start;
  Tick       to   = 0;
  for (; next_rest(cue, &from, &to); from = to) {
    const Tick at =
      tick_floor(from - cue->start + beat - 1, beat / 2) + cue->start;
    const Tick ends = sounding_place(cue, at + SOUNDING_LEAST);
    if (ends <= to && at < cue_end(cue) &&
        !has_hit_between(hits, cue, from, to)) {
      const Tick length = (Tick)(TOUCH.rest_length * (double)beat);
      hits_add(hits, (Hit){at, length, TOUCH.rest_velocity, 0, at});
    }
  }
}

/// Return how a hit is to be voiced: on the same chord now and then with
/// another top note, if the hand has had a beat's time.
static VoicingWish
wish(const Comping* const comping,
     const Cue* const     cue,
     const Hit* const     hit,
     const Chord* const   chord,
     Rng* const           rng)
{
  const Tick beat  = meter_beat_ticks(cue->chart->meter);
  const bool is_on = comping->voicing.n_voices > 0 &&
                     hit->tick - comping->struck >= beat &&
                     chord_equals(&comping->chord, chord);
  return is_on && rng_unit(rng) < TOUCH.other_voicing ? VOICING_OTHER
                                                      : VOICING_NEAR;
}

/// Whether there is time for a hit that is written so long.
static bool
sounds(const Tick room, const Tick written)
{
  return room >= tick_least(written, SOUNDING_LEAST);
}

/// Voice a hit below the line over it, and end it where the line comes down;
/// false if there is no room.
static bool
voice_under(Voicing* const       voicing,
            const Voicing* const last,
            const Cue* const     cue,
            Stroke* const        stroke)
{
  const VoicingTones tones = voicing_tones(stroke->chord, cue->chart->key);
  Hit* const         hit   = &stroke->hit;
  if (!hears(cue)) {
    *voicing = voicing_next(&tones, last, stroke->how);
    return true;
  }
  const Tick beat  = meter_beat_ticks(cue->chart->meter);
  const Tick at    = sounding_place(cue, hit->tick);
  const Tick to    = sounding_place(cue, hit->tick + hit->length) + AROUND;
  const Tick first = tick_least(to, at + beat / 2);
  *voicing =
    voicing_under(&tones,
                  last,
                  stroke->how,
                  solo_ceiling(cue->solo, at - AROUND, first, VOICING_HIGHEST));
  if (voicing->n_voices == 0) {
    return false;
  }
  const unsigned top  = voicing->pitches[voicing->n_voices - 1];
  const Tick     down = solo_comes_down(cue->solo, at - AROUND, to, top);
  if (down == to) {
    return true;
  }
  const Tick gone     = down - AROUND;
  const bool has_room = sounds(gone - at, hit->length);
  hit->length         = written_by(cue, gone) - hit->tick;
  return has_room;
}

/// Leave out what still sounds: under a low line no other voicing may be left.
static void
leave_out(Voicing* const voicing, const Voicing* const sounding)
{
  unsigned n = 0;
  for (unsigned i = 0; i < voicing->n_voices; ++i) {
    bool is_held = false;
    for (unsigned k = 0; k < sounding->n_voices; ++k) {
      is_held = is_held || sounding->pitches[k] == voicing->pitches[i];
    }
    if (!is_held) {
      voicing->pitches[n++] = voicing->pitches[i];
    }
  }
  voicing->n_voices = n;
}

/// Voice a chord and play it.
static void
strike(Comping* const   comping,
       const Cue* const cue,
       Stroke           stroke,
       Rng* const       rng,
       BandBar* const   bar)
{
  Voicing voicing;
  if (!voice_under(&voicing, &comping->voicing, cue, &stroke)) {
    return;
  }
  if (stroke.how == VOICING_FRESH) {
    leave_out(&voicing, &comping->voicing);
  }
  const Hit* const hit   = &stroke.hit;
  const Touch      touch = {
         .swing_ratio     = feel_swing_ratio(cue->feel, cue->tempo_bpm),
         .spread_ms       = TOUCH.spread_ms,
         .velocity_spread = TOUCH.velocity_spread,
  };
  comping->voicing    = voicing;
  comping->chord      = *stroke.chord;
  comping->struck     = hit->tick;
  comping->held_until = hit->tick + hit->length;

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
  const Tick       gone   = chord_end(cue, hit->own);
  const Tick       next   = i + 1 < hits->n ? hits->hits[i + 1].tick : gone;
  const Tick       end    = tick_least(next, gone) - RELEASE_TICKS;
  const Tick       length = tick_least(hit->length, end - hit->tick);
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
    hits = hits_of(pattern, cue);
    own_chords(&hits, cue);
  }
  if (hits.n > 0) {
    cover_changes(&hits, cue);
  }
  if (hears(cue)) {
    leave_room(&hits, cue);
  }
  if (hears(cue) && cue->fullness == BAND_FULL && pattern) {
    fill_rests(&hits, cue);
  }

  for (unsigned i = 0; i < hits.n; ++i) {
    Hit                hit   = hits.hits[i];
    const Chord* const chord = chart_chord_at(cue->chart, hit.own);
    hit.length               = sounding(&hits, i, cue);
    if (!chord_is_silence(chord) && hit.tick >= comping->held_until &&
        sounds(hit.length, hits.hits[i].length)) {
      const VoicingWish how = wish(comping, cue, &hit, chord, rng);
      strike(comping, cue, (Stroke){hit, chord, how}, rng, bar);
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
  const VoicingWish how =
    comping->held_until > cue->start ? VOICING_FRESH : VOICING_NEAR;
  const Hit hit = {cue->start, length, TOUCH.end_velocity, 0, cue->start};
  strike(comping, cue, (Stroke){hit, chord, how}, rng, bar);
}
