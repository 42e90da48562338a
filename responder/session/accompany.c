#include "responder/session/accompany.h"

/// So much louder than the mean is an accent (by ear).
static const double accent_above = 8.0;

double
accompany_loudness(const Session* const session)
{
  const Phrase* const call = &session->standing.call;
  double              sum  = 0.0;
  for (unsigned i = 0; i < call->n_notes; ++i) {
    sum += call->notes[i].note.velocity;
  }
  return call->n_notes ? sum / call->n_notes : session->loudness;
}

static Tick
last_accent(const Session* const session)
{
  const Phrase* const call = &session->standing.call;
  const Tick          bar  = meter_bar_ticks(session->options.chart->meter);
  for (unsigned i = call->n_notes; i-- > 0;) {
    const HeardNote* const note = &call->notes[i];
    if (!note->is_ornament &&
        note->note.velocity >= session->loudness + accent_above) {
      return note->grid_tick - tick_floor(note->grid_tick, bar);
    }
  }
  return SOLO_NO_ACCENT;
}

/// Add the last answer's notes that sound near the bar.
static void
add_answer(const Session* const session, const Tick bar, Solo* const solo)
{
  const Answer* const answer = &session->answer;
  const Tick          length = meter_bar_ticks(session->options.chart->meter);
  for (unsigned i = 0; i < answer->n_notes; ++i) {
    const Note note = answer->notes[i];
    const Tick end  = note.tick + note.length;
    if (end > bar - length && note.tick < bar + 2 * length) {
      solo_add(solo, (SoloNote){note.tick, end, note.pitch});
    }
  }
}

/// Expect of the player what was played a bar before, in the same turn.
static void
expect_player(const Session* const session, const Tick bar, Solo* const solo)
{
  const Hearing* const hearing = &session->hearing;
  const Tick           length  = meter_bar_ticks(session->options.chart->meter);
  for (unsigned i = 0; i < hearing->n_notes; ++i) {
    const Note note = hearing->notes[i];
    if (note.tick >= session->turn.start && note.tick >= bar - length) {
      const Tick end = note.length ? note.tick + note.length : session->now;
      solo_add(solo,
               (SoloNote){note.tick + length, end + length, SOLO_ANY_PITCH});
    }
  }
}

/// Keep free for an answer that nobody knows yet: it may go anywhere.
static void
expect_answer(const Session* const session, const Tick bar, Solo* const solo)
{
  const Meter       meter  = session->options.chart->meter;
  const Tick        length = meter_bar_ticks(meter);
  const Turn* const turn   = &session->reply.turn;
  const bool        sounds = !turn->by_player || turn->task == TASK_ALONG;
  if (turn->index > 0 && turn->start < session->end && sounds &&
      turn->start < bar + 2 * length) {
    const SoloNote any = {reply_first(&session->reply, bar, meter),
                          turn->start + length,
                          (uint8_t)session->options.lowest};
    solo_add(solo, any);
  }
}

Solo
accompany_solo(const Session* const session, const Tick bar)
{
  const Turn turn   = session->turn;
  const Tick length = meter_bar_ticks(session->options.chart->meter);
  const Turn next =
    turn_at(session_turn_plan(&session->options), turn.index + 1);
  Solo solo   = solo_silent();
  solo.louder = solo_louder(session->loudness);
  solo.leads_on =
    bar + length == turn.end && next.by_player && turn.end < session->end;
  if (!turn.by_player) {
    solo.accent = last_accent(session);
  }
  add_answer(session, bar, &solo);
  expect_answer(session, bar, &solo);
  if (turn.by_player && bar > turn.start) {
    expect_player(session, bar, &solo);
  }
  return solo;
}
