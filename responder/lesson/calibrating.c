#include "responder/lesson/calibrating.h"

#include "core/midi/gm.h"
#include "core/midi_message.h"
#include "core/time/monotonic.h"

#include <string.h>

enum {
  N_LEAD       = 4, ///< The first ones, to find the beat; not counted
  FIRST_MS     = 1000,
  AHEAD_MS     = 200,
  CLICK_STRONG = 110,
  CLICK_WEAK   = 90,
};

void
calibrating_begin(Calibrating* const calibrating, const double tempo_bpm)
{
  const int64_t begin = monotonic_ns() + FIRST_MS * NS_PER_MS;
  memset(calibrating, 0, sizeof(*calibrating));
  for (unsigned i = 0; i < CALIBRATING_CLICKS; ++i) {
    calibrating->clicks_ns[i] = begin + (int64_t)(60e9 / tempo_bpm * i);
  }
}

static void
take_taps(Calibrating* const calibrating, Stage* const stage)
{
  MidiMessage message;
  while (stage_take(stage, &message)) {
    if ((message.bytes[0] & 0xF0U) == MIDI_NOTE_ON &&
        message.time_ns > calibrating->clicks_ns[N_LEAD - 1] &&
        calibrating->n_taps < CALIBRATION_MOST) {
      calibrating->taps_ns[calibrating->n_taps++] = message.time_ns;
    }
  }
}

bool
calibrating_go_on(Calibrating* const calibrating, Stage* const stage)
{
  const int64_t* const clicks   = calibrating->clicks_ns;
  const int64_t        interval = clicks[1] - clicks[0];
  const int64_t        now      = monotonic_ns();
  while (calibrating->n_clicked < CALIBRATING_CLICKS &&
         clicks[calibrating->n_clicked] < now + AHEAD_MS * NS_PER_MS) {
    const bool is_strong = calibrating->n_clicked % 4 == 0;
    stage_click(stage,
                clicks[calibrating->n_clicked++],
                is_strong ? GM_HI_WOOD_BLOCK : GM_LOW_WOOD_BLOCK,
                is_strong ? CLICK_STRONG : CLICK_WEAK);
  }
  take_taps(calibrating, stage);
  return now < clicks[CALIBRATING_CLICKS - 1] + interval;
}

Status
calibrating_end(const Calibrating* const calibrating, Calibration* const found)
{
  return calibration_of(found,
                        calibrating->clicks_ns + N_LEAD,
                        CALIBRATING_CLICKS - N_LEAD,
                        calibrating->taps_ns,
                        calibrating->n_taps);
}
