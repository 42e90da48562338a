#include "responder/lesson/warmup_play.h"

#include "core/music/swing.h"
#include "core/settings/value.h"

#include <assert.h>
#include <stdio.h>

// How a drill is sounded; common practice, no source.
enum {
  CALL_VELOCITY    = 84,
  CRUSHED_VELOCITY = 60,
  SHORT_TICKS      = 61, ///< A crushed note is shorter
};

static_assert((int)WARMUP_WORDS_CAPACITY <= (int)ANSWER_WHY_CAPACITY,
              "a drill's words are a turn's");
static_assert((int)DRILL_CAPACITY <= (int)SCRIPT_CAPACITY, "a drill is a turn");

static const double short_bar_s = 1.6;

// Words

static void
add_pitch(Text* const        words,
          const Chart* const chart,
          const Chord* const chord,
          const DrillNote    note)
{
  char     name[SPELLING_TEXT_CAPACITY];
  Spelling spelling = chart_spell(chart, 0, note.pitch);
  (void)scale_spell(chart_scale_at(chart, 0), note.pitch, &spelling);
  if (chord) {
    (void)chord_spell(chord, note.pitch, &spelling);
  }
  value_add(
    words, "%s%s", words->length ? "  " : "", spelling_text(spelling, name));
  if (note.finger) {
    value_add(words, " %u", (unsigned)note.finger);
  }
}

// A count: the beat, & for its half, "trip let" for its thirds
static void
add_place(Text* const words, const Tick beat, const Tick tick)
{
  const unsigned number = (unsigned)(tick / beat) + 1;
  const Tick     within = tick % beat;
  if (within == 0) {
    value_add(words, "%s%u", words->length ? "  " : "", number);
  } else if (within == beat / 2) {
    value_add(words, "%s%u&", words->length ? "  " : "", number);
  } else {
    value_add(words, " %s", within < beat / 2 ? "trip" : "let");
  }
}

const char*
warmup_drill_text(const WarmupItem* const item,
                  const Setup* const      setup,
                  const Drill* const      drill,
                  char                    text[WARMUP_WORDS_CAPACITY])
{
  const Chart* const    chart = &setup->chart.chart;
  const DrillRow* const row   = drill_row(item->kind);
  const Chord* const    chord = row->is_scale ? NULL : &drill->chord;
  const unsigned n     = row->tells == DRILL_TELLS_RUN ? drill->n_notes / 2 + 1
                         : row->tells == DRILL_TELLS_CHORD ? drill->n_notes / 2
                                                           : drill->n_notes;
  Text           words = text_begin(text, WARMUP_WORDS_CAPACITY);
  for (unsigned i = 0; i < n; ++i) {
    const DrillNote note = drill->notes[i];
    if (row->tells == DRILL_TELLS_PLACES) {
      add_place(&words, meter_beat_ticks(chart->meter), note.tick);
    } else if (note.length >= SHORT_TICKS) {
      add_pitch(&words, chart, chord, note);
    }
  }
  return text;
}

// Notes

static double
swing_ratio(const WarmupItem* const item, const Setup* const setup)
{
  return setup->ladder.rhythm[item->rhythm - 1].swing
           ? feel_swing_ratio(&setup->feel, setup->choices.tempo_bpm)
           : 1.0;
}

static bool
is_crushed(const DrillNote* const note)
{
  return note->length < SHORT_TICKS;
}

// A crushed note, and the note right after it, stand where the latter is
// written
static Tick
written_tick(const Drill* const drill, const unsigned i)
{
  const bool follows = i > 0 && is_crushed(&drill->notes[i - 1]);
  return drill->notes[follows ? i - 1 : i].tick;
}

void
warmup_script(ScriptTurn* const       turn,
              const WarmupItem* const item,
              const Setup* const      setup,
              const Drill* const      drill)
{
  const Meter  meter = setup->chart.chart.meter;
  const double ratio = swing_ratio(item, setup);
  *turn              = (ScriptTurn){.n_notes = drill->n_notes};
  for (unsigned i = 0; i < drill->n_notes; ++i) {
    turn->grid_ticks[i] = written_tick(drill, i);
  }
  for (unsigned i = 0; i < drill->n_notes; ++i) {
    const DrillNote* const note    = &drill->notes[i];
    const Tick             written = turn->grid_ticks[i];
    const Tick             placed =
      swing_place_in(meter, written, ratio, turn->grid_ticks, drill->n_notes);
    const Tick tick      = placed + note->tick - written;
    const Tick end       = swing_place_in(meter,
                                    note->tick + note->length,
                                    ratio,
                                    turn->grid_ticks,
                                    drill->n_notes);
    turn->is_ornament[i] = is_crushed(note);
    turn->notes[i] =
      (Note){tick,
             is_crushed(note) ? note->length : end - tick,
             note->pitch,
             is_crushed(note) ? CRUSHED_VELOCITY : CALL_VELOCITY};
  }
  (void)warmup_drill_text(item, setup, drill, turn->words);
}

const char*
warmup_item_name(const WarmupItem* const item, char text[WARMUP_NAME_CAPACITY])
{
  const bool has_way = item->trades && item->way != WAY_ANSWER;
  (void)snprintf(text,
                 WARMUP_NAME_CAPACITY,
                 "%s%s%s",
                 item->trades ? "Trading" : drill_row(item->kind)->name,
                 has_way ? ": " : "",
                 has_way ? way_names[item->way] : "");
  return text;
}

DrillRoom
warmup_room(const Setup* const setup)
{
  return (DrillRoom){
    .chart  = &setup->chart.chart,
    .ladder = &setup->ladder,
    .lowest = setup->choices.lowest,
    .split  = setup->choices.split,
    .rhythm = setup->choices.rung.level[DIMENSION_RHYTHM],
    .notes  = setup->choices.rung.level[DIMENSION_NOTES],
  };
}

unsigned
warmup_count_in(const Setup* const setup)
{
  const double bar_s =
    meter_bar_seconds(setup->chart.chart.meter, setup->choices.tempo_bpm);
  return bar_s < short_bar_s ? 2 : 1;
}
