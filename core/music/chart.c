#include "core/music/chart.h"

#include "core/music/bar.h"
#include "core/music/pitch.h"
#include "core/music/text.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

enum { N_LETTERS = 7 };

/// Return the first of the changes before index `end` that stands at `tick` or
/// later.
static unsigned
first_change(const Chart* const chart, const unsigned end, const Tick tick)
{
  unsigned first = end;
  while (first > 0 && chart->changes[first - 1].tick >= tick) {
    --first;
  }
  return first;
}

/// Some bars in a row and their changes.
typedef struct {
  unsigned bar;
  unsigned n_bars;
  unsigned change;
  unsigned n_changes;
} Span;

/// Copy bars to bar `to_bar` and their changes to index `to_change`.
static void
copy_span(Chart* const   chart,
          const Span     span,
          const unsigned to_bar,
          const unsigned to_change)
{
  const Tick later =
    ((Tick)to_bar - (Tick)span.bar) * meter_bar_ticks(chart->meter);
  for (unsigned i = 0; i < span.n_changes; ++i) {
    ChordChange change = chart->changes[span.change + i];
    change.tick += later;
    chart->changes[to_change + i] = change;
  }
  for (unsigned i = 0; i < span.n_bars; ++i) {
    chart->scales[to_bar + i]         = chart->scales[span.bar + i];
    chart->scale_tonics[to_bar + i]   = chart->scale_tonics[span.bar + i];
    chart->scale_by_chord[to_bar + i] = chart->scale_by_chord[span.bar + i];
  }
}

void
chart_begin(Chart* const      chart,
            const char* const title,
            const Meter       meter,
            const Key         key)
{
  *chart    = (Chart){.meter = meter, .key = key};
  Text text = text_begin(chart->title, sizeof(chart->title));
  text_add(&text, title);
}

static Status
fault_plain(char              fault[CHART_FAULT_CAPACITY],
            const Status      status,
            const char* const words)
{
  Text text = text_begin(fault, CHART_FAULT_CAPACITY);
  text_add(&text, words);
  return status;
}

static Status
fault_length(char fault[CHART_FAULT_CAPACITY])
{
  return fault_plain(
    fault,
    STATUS_FULL,
    "a chart too long; expected 512 bars and 1024 chords at most");
}

static void
write_scale(Chart* const   chart,
            const unsigned bar,
            const Scale    scale,
            const bool     is_by_chord)
{
  chart->scales[bar]         = scale_readable(scale);
  chart->scale_tonics[bar]   = spelling_interval(chart->key.tonic, scale.tonic);
  chart->scale_by_chord[bar] = is_by_chord;
}

/// End a bar whose changes are written.
static void
end_bar(Chart* const chart, const unsigned n_changes)
{
  write_scale(chart, chart->n_bars, (Scale){chart->key.tonic, 0}, true);
  chart->n_changes += n_changes;
  ++chart->n_bars;
}

static Status
repeat_bar(Chart* const chart, char fault[CHART_FAULT_CAPACITY])
{
  if (chart->n_bars == 0) {
    return fault_plain(
      fault, STATUS_SYNTAX, "% in the first bar; expected a chord or N.C.");
  }
  const Tick     begin = chart_ticks(chart) - meter_bar_ticks(chart->meter);
  const unsigned first = first_change(chart, chart->n_changes, begin);
  const Span     last = {chart->n_bars - 1, 1, first, chart->n_changes - first};
  if (chart->n_changes + last.n_changes > CHART_CHANGE_CAPACITY) {
    return fault_length(fault);
  }
  copy_span(chart, last, chart->n_bars, chart->n_changes);
  end_bar(chart, last.n_changes);
  return STATUS_OK;
}

static void
write_bar(Chart* const chart, const Bar* const bar)
{
  Tick tick = chart_ticks(chart);
  for (unsigned i = 0; i < bar->n_chords; ++i) {
    const Chord* const chord             = &bar->chords[i];
    chart->changes[chart->n_changes + i] = (ChordChange){
      .tick  = tick,
      .chord = chord_readable(chord),
      .root  = spelling_interval(chart->key.tonic, chord->root),
      .bass  = spelling_interval(chart->key.tonic, chord->bass),
    };
    tick += (Tick)bar->beats[i] * meter_beat_ticks(chart->meter);
  }
  end_bar(chart, bar->n_chords);
}

Status
chart_add_bar(Chart* const      chart,
              const char* const text,
              char              fault[CHART_FAULT_CAPACITY])
{
  if (chart->n_bars == CHART_BAR_CAPACITY) {
    return fault_length(fault);
  }
  if (bar_is_repeat(text)) {
    return repeat_bar(chart, fault);
  }

  const unsigned n_beats = meter_beats_per_bar(chart->meter);
  Bar            bar     = {.n_chords = 0};
  const Status   status  = bar_read(&bar, chart->key, n_beats, text, fault);
  if (status != STATUS_OK) {
    return status;
  }
  if (chart->n_changes + bar.n_chords > CHART_CHANGE_CAPACITY) {
    return fault_length(fault);
  }
  write_bar(chart, &bar);
  return STATUS_OK;
}

Status
chart_set_scale(Chart* const chart, const unsigned bar, const char* const text)
{
  const bool   is_by_chord = strcmp(text, "by chord") == 0;
  Scale        scale       = {chart->key.tonic, 0};
  const size_t n           = spelling_parse(&scale.tonic, text);
  const size_t blank       = n > 0 && text[n] == ' ' ? 1 : 0;
  if (!is_by_chord && ((n > 0 && blank == 0) ||
                       scale_kind_named(&scale.kind, text + n + blank))) {
    return STATUS_SYNTAX;
  }

  const bool is_every = bar == CHART_BAR_CAPACITY;
  assert(is_every || bar < chart->n_bars);
  const unsigned first = is_every ? 0 : bar;
  const unsigned last  = is_every ? chart->n_bars : bar + 1;
  for (unsigned i = first; i < last; ++i) {
    write_scale(chart, i, scale, is_by_chord);
  }
  return STATUS_OK;
}

Tick
chart_ticks(const Chart* const chart)
{
  return (Tick)chart->n_bars * meter_bar_ticks(chart->meter);
}

/// Return a tick's place in the form, 0 or more.
static Tick
place_in_form(const Chart* const chart, const Tick tick)
{
  const Tick form = chart_ticks(chart);
  assert(form > 0);
  return (tick % form + form) % form;
}

/// Return the index of the change that is in force at a place in the form.
static unsigned
change_at(const Chart* const chart, const Tick place)
{
  unsigned low  = 0;                // In force, or before the one that is
  unsigned high = chart->n_changes; // Too late
  while (high - low > 1) {
    const unsigned middle = low + (high - low) / 2;
    if (chart->changes[middle].tick <= place) {
      low = middle;
    } else {
      high = middle;
    }
  }
  return low;
}

const Chord*
chart_chord_at(const Chart* const chart, const Tick tick)
{
  return &chart->changes[change_at(chart, place_in_form(chart, tick))].chord;
}

Tick
chart_next_change(const Chart* const chart, const Tick tick)
{
  const Tick     place = place_in_form(chart, tick);
  const unsigned now   = change_at(chart, place);
  const Tick     form  = chart_ticks(chart);
  const Tick     begin = tick - place;
  for (unsigned i = now + 1; i < now + chart->n_changes; ++i) {
    const ChordChange* const next = &chart->changes[i % chart->n_changes];
    if (!chord_equals(&next->chord, &chart->changes[now].chord)) {
      return begin + next->tick + (i >= chart->n_changes ? form : 0);
    }
  }
  return begin + form;
}

Scale
chart_scale_at(const Chart* const chart, const Tick tick)
{
  const Tick place = place_in_form(chart, tick);
  const Tick bar   = place / meter_bar_ticks(chart->meter);
  if (!chart->scale_by_chord[bar]) {
    return chart->scales[bar];
  }
  const Chord* const chord = chart_chord_at(chart, tick);
  if (!chord_is_silence(chord)) {
    return scale_for_chord(chord);
  }

  Scale        own    = {chart->key.tonic, 0};
  const Status status = scale_kind_named(
    &own.kind, chart->key.is_minor ? "natural minor" : "major");
  assert(status == STATUS_OK);
  (void)status;
  return own;
}

Spelling
chart_spell(const Chart* const chart, const Tick tick, const unsigned pitch)
{
  const Chord* const chord   = chart_chord_at(chart, tick);
  Spelling           spelled = chord->bass;
  if (chord_spell(chord, pitch, &spelled) ||
      (!chord_is_silence(chord) &&
       spelling_pitch_class(chord->bass) == pitch % PITCH_CLASSES)) {
    return spelled;
  }
  // A double accidental is read in a chord; in a line it is in the way
  if (scale_spell(chart_scale_at(chart, tick), pitch, &spelled) &&
      abs(spelled.alter) < 2) {
    return spelled;
  }
  return key_spell(chart->key, pitch % PITCH_CLASSES);
}

// Whether chord, bass or scale have a pitch
static bool
has_place(const Chart* const chart, const Tick tick, const unsigned pitch)
{
  const Chord* const chord = chart_chord_at(chart, tick);
  Spelling           spelling;
  return chord_spell(chord, pitch, &spelling) ||
         (!chord_is_silence(chord) &&
          spelling_pitch_class(chord->bass) == pitch % PITCH_CLASSES) ||
         scale_spell(chart_scale_at(chart, tick), pitch, &spelling);
}

// The way to write a pitch class with the letter beside another, if that takes
// one accidental at most
static bool
spell_beside(Spelling* const spelling,
             const unsigned  pitch,
             const Spelling  next,
             const int       letters)
{
  const int letter  = (next.letter + letters + N_LETTERS) % N_LETTERS;
  const int natural = (int)spelling_pitch_class((Spelling){(int8_t)letter, 0});
  const int up      = (int)(pitch % PITCH_CLASSES) - natural;
  const int alter   = (up + 18) % PITCH_CLASSES - 6; // -6..5
  if (abs(alter) > 1) {
    return false;
  }
  *spelling = (Spelling){(int8_t)letter, (int8_t)alter};
  return true;
}

Spelling
chart_spell_leading(const Chart* const chart,
                    const Tick         tick,
                    const unsigned     pitch,
                    const unsigned     next)
{
  Spelling  spelling = chart_spell(chart, tick, pitch);
  const int step     = (int)next - (int)pitch;
  if (next != CHART_NOTHING && abs(step) == 1 && spelling.alter &&
      !has_place(chart, tick, pitch)) {
    (void)spell_beside(
      &spelling, pitch, chart_spell(chart, tick, next), step > 0 ? -1 : 1);
  }
  return abs(spelling.alter) > 1 ? spelling_plain(spelling) : spelling;
}

void
chart_transpose(Chart* const chart, const Spelling tonic)
{
  chart->key = key_readable((Key){tonic, chart->key.is_minor});
  for (unsigned i = 0; i < chart->n_changes; ++i) {
    ChordChange* const change = &chart->changes[i];
    if (!chord_is_silence(&change->chord)) {
      change->chord.root = spelling_above(chart->key.tonic, change->root);
      change->chord.bass = spelling_above(chart->key.tonic, change->bass);
      change->chord      = chord_readable(&change->chord);
    }
  }
  for (unsigned i = 0; i < chart->n_bars; ++i) {
    Scale* const scale = &chart->scales[i];
    scale->tonic = spelling_above(chart->key.tonic, chart->scale_tonics[i]);
    *scale       = scale_readable(*scale);
  }
}

Status
chart_make_room(Chart* const chart, const unsigned bars)
{
  assert(bars > 0);
  if (chart->n_bars > CHART_BAR_CAPACITY / 2 ||
      chart->n_changes > CHART_CHANGE_CAPACITY / 2) {
    return STATUS_FULL;
  }

  // From the last group to the first, so that none is written over unread
  Span span = {.bar = chart->n_bars, .change = chart->n_changes};
  while (span.bar > 0) {
    const unsigned bar    = (span.bar - 1) / bars * bars;
    const Tick     tick   = (Tick)bar * meter_bar_ticks(chart->meter);
    const unsigned change = first_change(chart, span.change, tick);
    span = (Span){bar, span.bar - bar, change, span.change - change};
    copy_span(chart, span, 2 * bar + span.n_bars, 2 * change + span.n_changes);
    copy_span(chart, span, 2 * bar, 2 * change);
  }
  chart->n_bars *= 2;
  chart->n_changes *= 2;
  return STATUS_OK;
}

Status
chart_part(Chart* const       part,
           const Chart* const chart,
           const unsigned     first,
           const unsigned     n_bars)
{
  const Tick bar = meter_bar_ticks(chart->meter);
  chart_begin(part, chart->title, chart->meter, chart->key);
  for (unsigned i = 0; i < n_bars; ++i) {
    const unsigned from  = (first + i) % chart->n_bars;
    const Tick     begin = (Tick)from * bar;
    for (unsigned c = first_change(chart, chart->n_changes, begin);
         c < chart->n_changes && chart->changes[c].tick < begin + bar;
         ++c) {
      if (part->n_changes == CHART_CHANGE_CAPACITY) {
        return STATUS_FULL;
      }
      ChordChange* const change = &part->changes[part->n_changes++];
      *change                   = chart->changes[c];
      change->tick += (Tick)i * bar - begin;
    }
    part->scales[i]         = chart->scales[from];
    part->scale_tonics[i]   = chart->scale_tonics[from];
    part->scale_by_chord[i] = chart->scale_by_chord[from];
    ++part->n_bars;
  }
  return STATUS_OK;
}
