#include "ensemble.h"

#include <stdio.h>
#include <string.h>

enum {
  APART  = 3,
  TRIPLE = 3,
  EARLY  = TICKS_PER_QUARTER / 24, // What comes so early is the next beat's
};

typedef struct {
  const SmfTake* take;
  size_t         chords, partner, drums;
} Tracks;

static size_t
track_named(const SmfTake* const take, const char* const name)
{
  size_t i = 0;
  while (i < take->n_tracks && strcmp(smf_track_name(take, i), name) != 0) {
    ++i;
  }
  return i;
}

static Tick
end_of(const SmfNote* const note)
{
  return note->tick + (Tick)note->length;
}

/// Count the partner's notes, and those that lie at the chords that sound.
static void
add_note(Ensemble* const      ensemble,
         const Tracks* const  tracks,
         const SmfNote* const note)
{
  bool is_close  = false;
  bool is_unison = false;
  for (size_t i = 0; i < tracks->take->n_notes; ++i) {
    const SmfNote* const other = &tracks->take->notes[i];
    if (other->track == tracks->chords && other->tick < end_of(note) &&
        note->tick < end_of(other)) {
      is_close  = is_close || note->pitch < other->pitch + APART;
      is_unison = is_unison || note->pitch == other->pitch;
    }
  }
  ++ensemble->notes;
  ensemble->close += is_close;
  ensemble->unisons += is_unison;
}

/// Whether anything of a track sounds within a beat; and how many onsets it has
/// there, those struck together counted once.
static unsigned
onsets_of(const Tracks* const tracks,
          const size_t        track,
          const Tick          beat,
          bool* const         sounds)
{
  unsigned n    = 0;
  Tick     last = -TICKS_PER_QUARTER;
  *sounds       = false;
  for (size_t i = 0; i < tracks->take->n_notes; ++i) {
    const SmfNote* const note = &tracks->take->notes[i];
    const bool           on   = note->track == track &&
                    note->tick < beat + TICKS_PER_QUARTER - EARLY &&
                    end_of(note) > beat;
    *sounds = *sounds || on;
    if (on && note->tick >= beat - EARLY &&
        note->tick - last > TICKS_PER_QUARTER / 8) {
      ++n;
      last = note->tick;
    }
  }
  return n;
}

static void
add_beat(Ensemble* const ensemble, const Tracks* const tracks, const Tick beat)
{
  bool           sounds;
  bool           held;
  const unsigned n     = onsets_of(tracks, tracks->partner, beat, &sounds);
  const unsigned stabs = onsets_of(tracks, tracks->chords, beat, &held);
  if (n >= TRIPLE) {
    ++ensemble->triple_beats;
    ensemble->triple_stabs += stabs;
  }
  if (sounds) {
    ++ensemble->busy_beats;
    ensemble->busy_stabs += stabs;
  } else {
    ++ensemble->rest_beats;
    ensemble->rest_stabs += stabs;
  }
}

/// Count the beats of the partner's turns, which the markers tell.
static void
add_turns(Ensemble* const ensemble, const Tracks* const tracks)
{
  const SmfTake* const take    = tracks->take;
  Tick                 partner = -1; // Where its turn began
  for (size_t i = 0; i <= take->n_texts; ++i) {
    const bool        is_end = i == take->n_texts;
    const char* const text = is_end ? "turn" : smf_text(take, &take->texts[i]);
    if (!is_end &&
        (take->texts[i].kind != SMF_MARKER || strncmp(text, "turn ", 5) != 0)) {
      continue;
    }
    for (Tick beat = partner;
         beat >= 0 && !is_end && beat < take->texts[i].tick;
         beat += TICKS_PER_QUARTER) {
      add_beat(ensemble, tracks, beat);
    }
    partner = !is_end && strstr(text, "partner") ? take->texts[i].tick : -1;
  }
}

static Tick
first_marker(const SmfTake* const take)
{
  size_t i = 0;
  while (i < take->n_texts && take->texts[i].kind != SMF_MARKER) {
    ++i;
  }
  return i < take->n_texts ? take->texts[i].tick : 0;
}

bool
ensemble_add(Ensemble* const ensemble, const SmfTake* const take)
{
  const Tracks tracks = {.take    = take,
                         .chords  = track_named(take, "chords"),
                         .partner = track_named(take, "partner"),
                         .drums   = track_named(take, "drums")};
  if (tracks.chords == take->n_tracks || tracks.partner == take->n_tracks ||
      tracks.drums == take->n_tracks) {
    return false;
  }
  const Tick start = first_marker(take);
  for (size_t i = 0; i < take->n_notes; ++i) {
    const SmfNote* const note = &take->notes[i];
    if (note->track == tracks.partner) {
      add_note(ensemble, &tracks, note);
    } else if (note->track == tracks.drums && note->tick >= start) {
      ensemble->drums += note->velocity;
      ++ensemble->n_drums;
    } else if (note->track == tracks.chords && note->tick >= start) {
      ensemble->chords += note->velocity;
      ++ensemble->n_chords;
      ensemble->last_chord = (long)(note->tick - start);
    }
  }
  add_turns(ensemble, &tracks);
  return true;
}

bool
ensemble_load(Ensemble* const ensemble, const char* const path)
{
  SmfTake take = {0};
  Fault   fault;
  if (smf_load(&take, path, SMF_US_PER_QUARTER, &fault)) {
    fprintf(stderr, "musicianship: %s: %s\n", path, fault.text);
    return false;
  }
  const bool is = ensemble_add(ensemble, &take);
  smf_free(&take);
  return is;
}
