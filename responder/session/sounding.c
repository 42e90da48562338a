#include "responder/session/sounding.h"

#include "responder/session/accompany.h"
#include "responder/session/player_turn.h"

#include <assert.h>

enum { STREAM_BAND = 1 };

static Tick
bar_ticks(const Session* const session)
{
  return meter_bar_ticks(session->options.chart->meter);
}

static void
add(Session* const session, PartNote part_note)
{
  const Tick left = session_closing_end(session) - part_note.note.tick;
  assert(left > 0);
  if (part_note.note.length > left) {
    part_note.note.length = left;
  }
  agenda_add(&session->agenda, part_note);
}

static void
add_bar(Session* const session)
{
  for (unsigned i = 0; i < session->bar.n_notes; ++i) {
    add(session, session->bar.notes[i]);
  }
}

void
sounding_answer(Session* const session)
{
  const Answer* const answer = &session->answer;
  for (unsigned i = 0; i < answer->n_notes; ++i) {
    add(session, (PartNote){answer->notes[i], PART_PARTNER});
  }
}

void
sounding_count_in(Session* const session)
{
  const SessionOptions* const options = &session->options;
  band_begin(&session->band,
             options->chart,
             options->feel,
             options->tempo_bpm,
             rng_seed(options->seed, STREAM_BAND));
  const unsigned bars = band_count_in(&session->band, 0, &session->bar);
  session->first      = -(Tick)bars * bar_ticks(session);
  add_bar(session);
}

static BandFullness
fullness(const Session* const session)
{
  if (player_is_lost(&session->standing)) {
    return BAND_ROOTS;
  }
  const bool thins_for_player = !session->options.band_thins_for_partner;
  return session->turn.by_player == thins_for_player ? BAND_THIN : BAND_FULL;
}

void
sounding_bar(Session* const session)
{
  if (session->next_bar < session->end) {
    const Solo solo = accompany_solo(session, session->next_bar);
    band_hear(&session->band, &solo);
    band_play_bar(
      &session->band, session->next_bar, fullness(session), &session->bar);
  } else {
    band_end(&session->band, session->next_bar, &session->bar);
  }
  add_bar(session);
  session->next_bar += bar_ticks(session);
}

// The best phrase once more, alone, after the closing bar

Tick
sounding_coda_ticks(const SessionOptions* const options)
{
  const unsigned turn = options->bars_per_turn > 1 ? options->bars_per_turn : 2;
  return options->plays_back
           ? (Tick)(turn + 2) * meter_bar_ticks(options->chart->meter)
           : 0;
}

void
sounding_coda(Session* const session)
{
  const Phrase* const phrase = &session->best.phrase;
  const Tick          bar    = bar_ticks(session);
  const Tick          from   = session_closing_end(session);
  if (!session->best.worth) {
    session->last = from;
    return;
  }
  const bool begins_early = phrase->notes[0].note.tick < phrase->start_tick;
  const Tick later        = from + begins_early * bar - phrase->start_tick;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    Note note = phrase->notes[i].note;
    note.tick += later;
    const Tick left = session->last - note.tick;
    if (left > 0) {
      note.length = note.length < left ? note.length : left;
      agenda_add(&session->agenda, (PartNote){note, PART_PARTNER});
    }
  }
}
