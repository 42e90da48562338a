#include "responder/app/warmup_play.h"

#include "core/midi/smf_writer.h"
#include "core/music/swing.h"
#include "responder/app/recording.h"
#include "responder/session/session.h"

#include <assert.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>

// How a drill is sounded; common practice, no source.
enum {
  SIDE_STICK       = 37, ///< General MIDI
  COUNTED_VELOCITY = 96,
  CLICK_VELOCITY   = 48,
  ACCENT_VELOCITY  = 68,
  CALL_VELOCITY    = 84,
  CRUSHED_VELOCITY = 60,
  CHORD_VELOCITY   = 46,
  CHORD_LOWEST     = 48,
  SHORT_TICKS      = 61, ///< A crushed note is shorter
  KEY_CAPACITY     = 2 * PHRASE_CAPACITY,
};

static_assert((int)WARMUP_WORDS_CAPACITY <= (int)ANSWER_WHY_CAPACITY,
              "a drill's words are a turn's");
static_assert((int)DRILL_CAPACITY <= (int)SCRIPT_CAPACITY, "a drill is a turn");

static const double short_bar_s = 1.6;

static const char* const drill_names[] = {
  [DRILL_SCALE_RIGHT] = "Scale, right hand",
  [DRILL_SCALE_LEFT]  = "Scale, left hand",
  [DRILL_CHORD_TONES] = "Chord tones",
  [DRILL_RHYTHM]      = "One note, a rhythm",
  [DRILL_LANDING]     = "Landing on a chord tone",
  [DRILL_QUESTION]    = "Question and answer",
  [DRILL_CRUSHED]     = "Crushed notes",
};

// Words

typedef struct {
  char*  text;
  size_t n;
} Words;

__attribute__((format(printf, 2, 3))) static void
add(Words* const words, const char* const format, ...)
{
  va_list args;
  va_start(args, format);
  const int n = vsnprintf(
    words->text + words->n, WARMUP_WORDS_CAPACITY - words->n, format, args);
  va_end(args);
  words->n += (size_t)n;
  if (words->n >= WARMUP_WORDS_CAPACITY) {
    words->n = WARMUP_WORDS_CAPACITY - 1;
  }
}

static bool
is_run(const DrillKind kind)
{
  return kind <= DRILL_CHORD_TONES;
}

static void
add_pitch(Words* const       words,
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
  add(words, "%s%s", words->n ? "  " : "", spelling_text(spelling, name));
  if (note.finger) {
    add(words, " %u", (unsigned)note.finger);
  }
}

// A count: the beat, + for its half, "trip let" for its thirds
static void
add_place(Words* const words, const Tick beat, const Tick tick)
{
  const unsigned number = (unsigned)(tick / beat) + 1;
  const Tick     within = tick % beat;
  if (within == 0) {
    add(words, "%s%u", words->n ? "  " : "", number);
  } else if (within == beat / 2) {
    add(words, "%s%u+", words->n ? "  " : "", number);
  } else {
    add(words, " %s", within < beat / 2 ? "trip" : "let");
  }
}

const char*
warmup_drill_text(const WarmupItem* const item,
                  const Setup* const      setup,
                  const Drill* const      drill,
                  char                    text[WARMUP_WORDS_CAPACITY])
{
  const Chart* const chart = &setup->chart.chart;
  const unsigned     n =
    is_run(item->kind) ? drill->n_notes / 2 + 1 : drill->n_notes;
  const Chord* const chord =
    item->kind <= DRILL_SCALE_LEFT ? NULL : &drill->chord;
  Words words = {text, 0};
  text[0]     = '\0';
  for (unsigned i = 0; i < n; ++i) {
    const DrillNote note = drill->notes[i];
    if (item->kind == DRILL_RHYTHM) {
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
    const DrillNote* const note    = &drill->notes[i];
    const Tick             written = written_tick(drill, i);
    const Tick tick = swing_place(meter, written, ratio) + note->tick - written;
    const Tick end  = swing_place(meter, note->tick + note->length, ratio);
    turn->grid_ticks[i]  = written;
    turn->is_ornament[i] = is_crushed(note);
    turn->notes[i] =
      (Note){tick,
             is_crushed(note) ? note->length : end - tick,
             note->pitch,
             is_crushed(note) ? CRUSHED_VELOCITY : CALL_VELOCITY};
  }
  (void)warmup_drill_text(item, setup, drill, turn->words);
}

// Laying out

/// A warm-up being laid out.
typedef struct {
  const Setup* setup;
  SmfWriter*   writer;
  Conversation notes;
  Tick         now;
  Status       status; ///< The first failure
} Layout;

static Tick
bar_of(const Setup* const setup)
{
  return meter_bar_ticks(setup->chart.chart.meter);
}

static void
lay(Layout* const layout, const Part part, const Note note)
{
  if (!layout->status) {
    layout->status =
      conversation_add(&layout->notes, (PartNote){note, (uint8_t)part});
  }
}

static void
lay_clicks(Layout* const layout, const unsigned bars, const bool counts)
{
  const Meter    meter = layout->setup->chart.chart.meter;
  const Tick     beat  = meter_beat_ticks(meter);
  const unsigned beats = meter_beats_per_bar(meter);
  for (unsigned i = 0; i < bars * beats; ++i) {
    const unsigned velocity = counts           ? COUNTED_VELOCITY
                              : i % beats == 0 ? ACCENT_VELOCITY
                                               : CLICK_VELOCITY;
    lay(
      layout,
      PART_DRUMS,
      (Note){layout->now + i * beat, beat / 4, SIDE_STICK, (uint8_t)velocity});
  }
}

static void
lay_chord(Layout* const layout, const Chord* const chord)
{
  for (unsigned pitch = CHORD_LOWEST; pitch < CHORD_LOWEST + 12; ++pitch) {
    if (chord_has_core_tone(chord, pitch)) {
      lay(layout,
          PART_CHORDS,
          (Note){layout->now,
                 bar_of(layout->setup) * 3 / 4,
                 (uint8_t)pitch,
                 CHORD_VELOCITY});
    }
  }
}

static void
lay_call(Layout* const           layout,
         const WarmupItem* const item,
         const Drill* const      drill)
{
  ScriptTurn turn;
  warmup_script(&turn, item, layout->setup, drill);
  for (unsigned i = 0; i < turn.n_notes; ++i) {
    Note note = turn.notes[i];
    note.tick += layout->now;
    lay(layout, PART_PARTNER, note);
  }
}

static void
lay_drill(Layout* const layout, const WarmupItem* const item)
{
  const Tick     bar      = bar_of(layout->setup);
  const unsigned count_in = warmup_count_in(layout->setup);
  DrillRoom      room     = warmup_room(layout->setup);
  Rng            rng      = rng_seed(item->seed, 1);
  room.rhythm             = item->rhythm;
  lay_clicks(layout, count_in, true);
  layout->now += count_in * bar;
  for (unsigned round = 0; round < item->rounds; ++round) {
    Drill drill;
    drill_make(&drill, item->kind, &room, round, &rng);
    lay_call(layout, item, &drill);
    for (unsigned half = 0; half < 2; ++half) {
      lay_clicks(layout, item->bars, false);
      lay_chord(layout, &drill.chord);
      layout->now += item->bars * bar;
    }
  }
  layout->now += bar; // To breathe
}

// Trading

/// A session whose player says again what was said; only the partner and the
/// band are laid out.
typedef struct {
  Session    session;
  SessionOut out;
  HeardKey   keys[KEY_CAPACITY];
  unsigned   n_keys;
  unsigned   next;
} Trading;

static int
compare_keys(const void* const left, const void* const right)
{
  const HeardKey* const a = left;
  const HeardKey* const b = right;
  if (a->tick != b->tick) {
    return a->tick < b->tick ? -1 : 1;
  }
  return a->velocity - b->velocity; // Ends first
}

static void
echo(Trading* const trading, const TurnRecord* const record)
{
  const Phrase* const phrase = &record->phrase;
  const Tick          later  = record->turn.end - record->turn.start;
  trading->n_keys            = 0;
  trading->next              = 0;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const Note note = phrase->notes[i].note;
    trading->keys[trading->n_keys++] =
      (HeardKey){note.tick + later, note.pitch, note.velocity};
    trading->keys[trading->n_keys++] =
      (HeardKey){note.tick + note.length + later, note.pitch, 0};
  }
  qsort(trading->keys, trading->n_keys, sizeof(*trading->keys), compare_keys);
}

static void
advance(Layout* const layout, Trading* const trading, const Tick begin)
{
  Session* const session = &trading->session;
  Tick           until   = session_last_tick(session);
  if (trading->next < trading->n_keys &&
      trading->keys[trading->next].tick < until) {
    until = trading->keys[trading->next].tick;
  }
  const Tick reached = session_advance(session, until, &trading->out);
  for (unsigned i = 0; i < trading->out.n_played; ++i) {
    PartNote played = trading->out.played[i];
    played.note.tick += begin;
    lay(layout, (Part)played.part, played.note);
  }
  if (reached >= until && trading->next < trading->n_keys) {
    (void)session_hear(session, trading->keys[trading->next++]);
  }
  for (unsigned i = 0; i < trading->out.n_turns; ++i) {
    if (!trading->out.turns[i].turn.by_player) {
      echo(trading, &trading->out.turns[i]);
    }
  }
}

static void
lay_trading(Layout* const layout, const WarmupItem* const item)
{
  SessionOptions options = setup_session(layout->setup);
  options.choruses       = item->rounds;
  options.partner_begins = true;
  options.seed           = item->seed;
  options.plan           = (ClimbPlan){.success_step = 0.0};

  Trading* const trading = calloc(1, sizeof(*trading));
  if (!trading) {
    layout->status = STATUS_MEMORY;
    return;
  }
  session_begin(&trading->session, &options);
  const Tick begin = layout->now - session_first_tick(&trading->session);
  while (!session_is_over(&trading->session)) {
    advance(layout, trading, begin);
  }
  layout->now = begin + session_last_tick(&trading->session);
  free(trading);
}

const char*
warmup_item_name(const WarmupItem* const item, char text[WARMUP_NAME_CAPACITY])
{
  (void)snprintf(text,
                 WARMUP_NAME_CAPACITY,
                 "%s",
                 item->trades ? "Trading" : drill_names[item->kind]);
  return text;
}

DrillRoom
warmup_room(const Setup* const setup)
{
  return (DrillRoom){
    .chart  = &setup->chart.chart,
    .lowest = setup->choices.lowest,
    .split  = setup->choices.split,
    .rhythm = setup->choices.rung.level[DIMENSION_RHYTHM],
  };
}

unsigned
warmup_count_in(const Setup* const setup)
{
  const double quarters = (double)bar_of(setup) / TICKS_PER_QUARTER;
  return quarters * 60.0 / setup->choices.tempo_bpm < short_bar_s ? 2 : 1;
}

static void
lay_item(Layout* const layout, const WarmupItem* const item)
{
  char name[WARMUP_NAME_CAPACITY];
  smf_writer_text(
    layout->writer, 0, layout->now, SMF_MARKER, warmup_item_name(item, name));
  if (item->trades) {
    lay_trading(layout, item);
  } else {
    lay_drill(layout, item);
  }
}

Status
warmup_save(const Warmup* const warmup,
            const Setup* const  setup,
            const char* const   path,
            Fault* const        fault)
{
  Layout layout = {.setup = setup};
  Status status =
    smf_writer_open(&layout.writer, 1, TICKS_PER_QUARTER, SMF_PLAIN);
  if (status) {
    return fault_set(fault, status, path, 0, "%s", status_text(status));
  }
  (void)smf_writer_track(layout.writer, "warm-up");
  for (unsigned i = 0; i < warmup->n_items; ++i) {
    lay_item(&layout, &warmup->items[i]);
  }
  layout.notes.last = layout.now;
  conversation_sort(&layout.notes);
  recording_write_head(layout.writer, setup, &layout.notes);
  recording_write_parts(layout.writer, setup, &layout.notes);

  status =
    layout.status
      ? fault_set(
          fault, layout.status, path, 0, "%s", status_text(layout.status))
      : smf_writer_save(layout.writer, path, fault);
  smf_writer_close(layout.writer);
  conversation_free(&layout.notes);
  return status;
}
