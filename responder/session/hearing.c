#include "responder/session/hearing.h"

static Tick
end_of(const Note* const note, const Tick now)
{
  return note->length ? note->tick + note->length : now;
}

static void
key_up(Hearing* const hearing, const HeardKey key)
{
  const unsigned index = hearing->sounding[key.pitch];
  if (index) {
    Note* const note = &hearing->notes[index - 1];
    note->length     = key.tick > note->tick ? key.tick - note->tick : 1;
    hearing->sounding[key.pitch] = 0;
  }
}

static void
key_down(Hearing* const hearing, const HeardKey key)
{
  if (hearing->n_notes == HEARING_CAPACITY) {
    ++hearing->n_missed;
    return;
  }
  hearing->notes[hearing->n_notes++] =
    (Note){key.tick, 0, key.pitch, key.velocity};
  hearing->sounding[key.pitch] = (uint16_t)hearing->n_notes;
}

void
hearing_key(Hearing* const hearing, const HeardKey key)
{
  key_up(hearing, key);
  if (key.velocity) {
    ++hearing->n_struck;
    key_down(hearing, key);
  }
}

unsigned
hearing_span(const Hearing* const hearing,
             const Tick           from,
             const Tick           to,
             const Tick           now,
             Note* const          notes)
{
  unsigned n = 0;
  for (unsigned i = 0; i < hearing->n_notes; ++i) {
    Note note = hearing->notes[i];
    if (note.tick >= from && note.tick < to) {
      const Tick end = end_of(&note, now);
      note.length    = end > note.tick ? end - note.tick : 1;
      notes[n++]     = note;
    }
  }
  return n;
}

void
hearing_forget(Hearing* const hearing, const Tick before)
{
  unsigned first = 0;
  while (first < hearing->n_notes && hearing->notes[first].tick < before) {
    ++first;
  }
  for (unsigned i = first; i < hearing->n_notes; ++i) {
    hearing->notes[i - first] = hearing->notes[i];
  }
  hearing->n_notes -= first;
  for (unsigned pitch = 0; pitch < 128; ++pitch) {
    const unsigned index     = hearing->sounding[pitch];
    hearing->sounding[pitch] = (uint16_t)(index > first ? index - first : 0);
  }
}

bool
hearing_has_onset(const Hearing* const hearing, const Tick from, const Tick to)
{
  bool has = false;
  for (unsigned i = 0; i < hearing->n_notes; ++i) {
    has =
      has || (hearing->notes[i].tick >= from && hearing->notes[i].tick < to);
  }
  return has;
}

Tick
hearing_last_onset(const Hearing* const hearing, const Tick none)
{
  return hearing->n_notes ? hearing->notes[hearing->n_notes - 1].tick : none;
}

Tick
hearing_last_sound(const Hearing* const hearing,
                   const Tick           now,
                   const Tick           none)
{
  Tick last = none;
  for (unsigned i = 0; i < hearing->n_notes; ++i) {
    const Tick end = end_of(&hearing->notes[i], now);
    last           = end > last ? end : last;
  }
  return last;
}

double
hearing_share(const Hearing* const hearing,
              const Tick           from,
              const Tick           to,
              const Tick           now)
{
  Tick sounding = 0;
  Tick reached  = from; // What lies before it has been counted
  for (unsigned i = 0; i < hearing->n_notes; ++i) {
    const Note* const note  = &hearing->notes[i];
    const Tick        end   = end_of(note, now) < to ? end_of(note, now) : to;
    const Tick        begin = note->tick > reached ? note->tick : reached;
    if (end > begin) {
      sounding += end - begin;
      reached = end;
    }
  }
  return to > from ? (double)sounding / (double)(to - from) : 0.0;
}
