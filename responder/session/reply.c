#include "responder/session/reply.h"

#include <stdint.h>

/// In eighths of a beat; common practice, no source.
enum {
  SEEMS_ENDED = 4,  ///< So long a silence, and the phrase seems to have ended
  SURELY_OVER = 8,  ///< ... and the partner may come in before the line
  COMES_IN    = 12, ///< So long before it
  RUNS_OVER   = 5,  ///< A key struck so near the line may lead over it
  LANDS       = 4,  ///< So long after the line a landing is waited for
  LANDS_LATE  = 2,  ///< A landing after that is begun after by a whole beat
};

static Tick
eighths_of_beat(const Meter meter, const int n)
{
  return meter_beat_ticks(meter) * n / 8;
}

Reply
reply_open(const Turn* const call,
           const Turn* const turn,
           const Tick        lead,
           const Meter       meter)
{
  const Tick beat   = meter_beat_ticks(meter);
  const Tick half   = (call->end - call->start) / 2;
  const Tick before = (half > beat ? half : beat) / REPLY_STEP * REPLY_STEP;
  return (Reply){
    .turn        = *turn,
    .call        = *call,
    .next        = turn->start - lead - before,
    .earliest    = turn->start,
    .may_come_in = true,
    .may_wait    = true,
  };
}

static bool
is_silent_since(const Hearing* const hearing, const Tick now, const Tick since)
{
  return hearing_last_sound(hearing, now, INT64_MIN) <= since;
}

/// Whether the player has said something in the turn that is to be answered.
static bool
has_call(const Reply* const   reply,
         const Hearing* const hearing,
         const Meter          meter)
{
  const Tick pick_up = reply->call.start - meter_beat_ticks(meter) / 2;
  return reply->call.index > 0 &&
         hearing_last_onset(hearing, INT64_MIN) >= pick_up;
}

bool
reply_runs_over(const Reply* const   reply,
                const Hearing* const hearing,
                const Meter          meter)
{
  return reply->may_wait && reply->call.index > 0 &&
         hearing_last_onset(hearing, INT64_MIN) >=
           reply->turn.start - eighths_of_beat(meter, RUNS_OVER);
}

/// Whether the partner comes in before the line; asked at that one moment.
static bool
comes_in(const Reply* const   reply,
         const Hearing* const hearing,
         const Tick           lead,
         const Meter          meter)
{
  const Tick before = reply->turn.start - eighths_of_beat(meter, COMES_IN);
  const Tick since  = before - eighths_of_beat(meter, SURELY_OVER);
  return reply->may_come_in && reply->next == before - lead &&
         has_call(reply, hearing, meter) &&
         is_silent_since(hearing, reply->next, since);
}

/// Return where the answer may begin, as things stand.
static Tick
earliest(const Reply* const   reply,
         const Hearing* const hearing,
         const Tick           lead,
         const Meter          meter)
{
  const Tick line   = reply->turn.start;
  const Tick before = line - eighths_of_beat(meter, COMES_IN);
  if (reply_runs_over(reply, hearing, meter)) {
    const bool lands_late = hearing_last_onset(hearing, INT64_MIN) >
                            line + eighths_of_beat(meter, LANDS_LATE);
    return line + (lands_late ? meter_beat_ticks(meter)
                              : eighths_of_beat(meter, LANDS));
  }
  const bool may = reply->may_come_in && reply->next <= before - lead &&
                   has_call(reply, hearing, meter);
  return may ? before : line;
}

/// Whether it is time to think.
static bool
may_think(const Reply* const   reply,
          const Hearing* const hearing,
          const Tick           lead,
          const Meter          meter)
{
  const Tick now  = reply->next;
  const Tick last = reply->turn.start - lead - meter_beat_ticks(meter);
  return now >= last ||
         (has_call(reply, hearing, meter) &&
          is_silent_since(
            hearing, now, now - eighths_of_beat(meter, SEEMS_ENDED)));
}

/// Whether the answer is to be given now.
static bool
is_due(Reply* const         reply,
       const Hearing* const hearing,
       const Tick           lead,
       const Meter          meter)
{
  const Tick line = reply->turn.start;
  if (reply->next == line - lead) {
    reply->is_late = reply_runs_over(reply, hearing, meter);
    return !reply->is_late;
  }
  return reply->next == line - lead + eighths_of_beat(meter, LANDS) ||
         comes_in(reply, hearing, lead, meter);
}

ReplyStep
reply_step(Reply* const         reply,
           const Hearing* const hearing,
           const Tick           lead,
           const Meter          meter)
{
  const bool gives = is_due(reply, hearing, lead, meter);
  const Tick from  = earliest(reply, hearing, lead, meter);
  const bool is_anew =
    reply->n_struck != hearing->n_struck || reply->earliest != from;
  const bool may = may_think(reply, hearing, lead, meter);
  reply->next += REPLY_STEP;
  if (is_anew || !reply->thinks) {
    reply->earliest    = from;
    reply->n_struck    = hearing->n_struck;
    reply->has_thought = false;
    reply->thinks      = may || gives;
    return (ReplyStep){.begins = reply->thinks, .gives = gives};
  }
  return (ReplyStep){.goes_on = !reply->has_thought, .gives = gives};
}

Tick
reply_first(const Reply* const reply, const Tick from, const Meter meter)
{
  const Tick line = reply->turn.start;
  if (from >= line) {
    return line + eighths_of_beat(meter, LANDS);
  }
  const bool may_come_in = reply->may_come_in && reply->call.index > 0;
  return may_come_in ? line - eighths_of_beat(meter, COMES_IN) : line;
}

Tick
reply_wait(const Meter meter)
{
  return eighths_of_beat(meter, LANDS);
}

Tick
reply_start(const Reply* const reply, const Meter meter)
{
  const Tick line = reply->turn.start;
  return reply->earliest > line ? line + meter_beat_ticks(meter) : line;
}
