#include "musicianship_tally.h"

#include "core/music/chord.h"
#include "responder/say/judge.h"

#include <stdlib.h>

enum {
  FAST_MS    = 300,
  STEP_MOST  = 2,
  THIRD_MOST = 4,
  N_EIGHTHS  = 8,
};

/// Points of complexity that an answer may lie beyond its rung's band.
static const float LEVEL_SLACK = 10.0F;

static const HeardNote*
last_of(const Phrase* const phrase)
{
  const HeardNote* last = NULL;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    last = phrase->notes[i].is_ornament ? last : &phrase->notes[i];
  }
  return last;
}

static void
add_ending(Tally* const            tally,
           const Phrase* const     phrase,
           const SayRequest* const request)
{
  const HeardNote* const last = last_of(phrase);
  const Tick             bar  = meter_bar_ticks(request->ear.chart->meter);
  if (!last) {
    ++tally->n_last_wrong;
    return;
  }
  tally->n_last_wrong += last->role > ROLE_CHORD_TONE;
  tally->n_end_wrong += request->ends_chorus && last->role != ROLE_ROOT;
  ++tally->ends[last->grid_tick % bar * N_EIGHTHS / bar];
  tally->n_last_bar += last->grid_tick >= request->end - bar;
}

static void
add_space(Tally* const        tally,
          const Phrase* const phrase,
          const Phrase* const call)
{
  const double space = (double)phrase->measures.space;
  tally->least_space =
    tally->n == 0 || space < tally->least_space ? space : tally->least_space;
  tally->space += space;
  if (call->measures.space < 0.15F) {
    ++tally->n_full;
    tally->full_space += space;
  }
}

static bool
keeps_rhythm(const Move move)
{
  return move == MOVE_NEW_NOTES || move == MOVE_SEQUENCE ||
         move == MOVE_TURN_OVER;
}

static void
add_likeness(Tally* const tally, const Answer* const answer)
{
  const Likeness is = answer->likeness;
  const bool     may_copy =
    answer->move == MOVE_REPEAT || answer->move == MOVE_RETURN ||
    answer->move == MOVE_ORNAMENT || answer->move == MOVE_SEQUENCE;
  tally->n_copies += !may_copy && is.rhythm > 0.999F && is.pitch > 0.999F;
  tally->n_unrelated += is.whole < 0.1F;
  if (keeps_rhythm(answer->move)) {
    ++tally->n_reuse;
    tally->reuse_rhythm += (double)is.rhythm;
    tally->reuse_pitch += (double)is.pitch;
  }
}

static void
add_sound(Tally* const            tally,
          const Answer* const     answer,
          const SayRequest* const request)
{
  const double ms    = 60000.0 / (request->ear.tempo_bpm * TICKS_PER_QUARTER);
  Tick         until = request->start;
  for (unsigned i = 0; i < answer->n_notes; ++i) {
    const Note note = answer->notes[i];
    tally->n_out_of_range +=
      note.pitch < request->lowest || note.pitch > request->highest;
    tally->n_out_of_turn +=
      note.tick < until || note.tick + note.length > request->end;
    if (i > 0) {
      const Note before = answer->notes[i - 1];
      tally->n_stretches +=
        ms * (double)(note.tick - before.tick) < FAST_MS &&
        abs(note.pitch - before.pitch) > (int)request->hand_span;
    }
    until = note.tick + note.length;
  }
}

static void
add_interval(Tally* const tally, const int interval, const int before)
{
  const int size = abs(interval);
  ++tally->n_intervals;
  tally->n_repeats += size == 0;
  tally->n_steps += size > 0 && size <= STEP_MOST;
  tally->n_thirds += size > STEP_MOST && size <= THIRD_MOST;
  tally->n_wider += size > THIRD_MOST;
  tally->n_turns += interval * before < 0;
}

static void
add_line(Tally* const tally, const Phrase* const phrase, const Tick beat)
{
  const HeardNote* last   = NULL;
  int              before = 0;
  unsigned         n      = 0;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const HeardNote* const note = &phrase->notes[i];
    if (note->is_ornament) {
      continue;
    }
    const bool bears = note->role <= ROLE_CHORD_TONE;
    const bool is_on = note->grid_tick % beat == 0;
    tally->n_bearing += bears;
    tally->n_on += is_on;
    tally->n_on_bearing += is_on && bears;
    tally->n_off += !is_on;
    tally->n_off_bearing += !is_on && bears;
    tally->n_hanging +=
      note->role == ROLE_OUTSIDE && note->resolution == RESOLUTION_LEFT;
    if (last) {
      const int interval = note->note.pitch - last->note.pitch;
      add_interval(tally, interval, before);
      before = interval;
    }
    last = note;
    ++n;
  }
  tally->n_notes += n;
  tally->n_pairs += n > 2 ? n - 2 : 0;
}

void
tally_add(Tally* const            tally,
          const Answer* const     answer,
          const SayRequest* const request,
          const SayHistory* const history)
{
  const Chart* const  chart  = request->ear.chart;
  const Phrase* const phrase = &answer->heard;
  const Band          level  = judge_complexity(request->rung);
  const float         is     = phrase->measures.complexity;
  add_ending(tally, phrase, request);
  add_space(tally, phrase, request->call);
  add_likeness(tally, answer);
  add_sound(tally, answer, request);
  add_line(tally, phrase, meter_beat_ticks(chart->meter));
  for (unsigned i = 0; i < history->n_digests; ++i) {
    tally->n_same +=
      history->digests[i] == answer->digest && answer->move != MOVE_RETURN;
  }
  tally->n_off_level +=
    is < level.least - LEVEL_SLACK || is > level.most + LEVEL_SLACK;
  tally->complexity += (double)is;
  tally->bars += (double)(request->end - request->start) /
                 (double)meter_bar_ticks(chart->meter);
  ++tally->n;
}
