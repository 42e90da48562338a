#include "responder/page/state.h"

static json_t*
bars_of(const Chart* const chart)
{
  const Tick    bar  = meter_bar_ticks(chart->meter);
  const double  beat = (double)meter_beat_ticks(chart->meter);
  json_t* const bars = json_array();
  for (unsigned i = 0; i < chart->n_bars; ++i) {
    (void)json_array_append_new(bars, json_array());
  }
  for (unsigned i = 0; i < chart->n_changes; ++i) {
    const ChordChange* const change = &chart->changes[i];
    char                     symbol[CHORD_TEXT_CAPACITY];
    (void)json_array_append_new(
      json_array_get(bars, (size_t)(change->tick / bar)),
      json_pack("{sf ss}",
                "beat",
                (double)(change->tick % bar) / beat,
                "symbol",
                chord_text(&change->chord, symbol)));
  }
  return bars;
}

static json_t*
turns_of(const SessionOptions* const session)
{
  const TurnPlan plan  = session_turn_plan(session);
  const Tick     bar   = meter_bar_ticks(session->chart->meter);
  const Tick     end   = chart_ticks(session->chart) * session->choruses;
  json_t* const  turns = json_array();
  Turn           turn  = turn_at(plan, 1);
  for (; turn.start < end; turn = turn_at(plan, turn.index + 1)) {
    (void)json_array_append_new(
      turns,
      json_pack("{ss si si si}",
                "by",
                turn.by_player ? "player" : "partner",
                "first_bar",
                (int)turn.first_bar,
                "bars",
                (int)((turn.end - turn.start) / bar),
                "silent", // Bars before it
                (int)((turn.start - turn.silence) / bar)));
  }
  return turns;
}

json_t*
state_form(const SessionOptions* const session)
{
  const Chart* const chart = session->chart;
  char               key[KEY_TEXT_CAPACITY];
  char               scale[SCALE_TEXT_CAPACITY];
  return json_pack("{ss ss s[ii] sI sI so ss si so sf}",
                   "title",
                   chart->title,
                   "key",
                   key_text(chart->key, key),
                   "meter",
                   (int)chart->meter.numerator,
                   (int)chart->meter.denominator,
                   "bar_ticks",
                   (json_int_t)meter_bar_ticks(chart->meter),
                   "beat_ticks",
                   (json_int_t)meter_beat_ticks(chart->meter),
                   "bars",
                   bars_of(chart),
                   "scale",
                   scale_text(chart_scale_at(chart, 0), scale),
                   "choruses",
                   (int)session->choruses,
                   "turns",
                   turns_of(session),
                   "tempo",
                   session->tempo_bpm);
}

static json_t*
pitch_classes(const unsigned set)
{
  json_t* const list = json_array();
  for (int i = 0; i < 12; ++i) {
    if (set >> i & 1U) {
      (void)json_array_append_new(list, json_integer(i));
    }
  }
  return list;
}

// The chord tones that bear weight, as the ear counts them
static unsigned
chord_set(const Chord* const chord)
{
  unsigned set = 0;
  for (unsigned i = 0; i < 12; ++i) {
    set |= chord_has_core_tone(chord, i) ? 1U << i : 0;
  }
  return set;
}

static json_t*
root_of(const Chord* const chord)
{
  for (int i = 0; i < 12; ++i) {
    if (chord_has_root(chord, (unsigned)i)) {
      return json_integer(i);
    }
  }
  return json_null();
}

json_t*
state_tones(const Chart* const chart)
{
  json_t* const tones = json_object();
  for (unsigned i = 0; i < chart->n_changes; ++i) {
    const ChordChange* const change = &chart->changes[i];
    char                     symbol[CHORD_TEXT_CAPACITY];
    (void)chord_text(&change->chord, symbol);
    if (!json_object_get(tones, symbol)) {
      (void)json_object_set_new(
        tones,
        symbol,
        json_pack("{so so so}",
                  "root",
                  root_of(&change->chord),
                  "chord",
                  pitch_classes(chord_set(&change->chord)),
                  "scale",
                  pitch_classes(
                    scale_pitch_classes(chart_scale_at(chart, change->tick)))));
    }
  }
  return tones;
}
