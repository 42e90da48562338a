#include "profiles/sheet/sheet.h"

enum { MIDDLE_C = 60, F_ABOVE = 65 };

static bool
has_chord(const Sheet* const sheet, const Chord* const chord, const Scale scale)
{
  const Chart* const chart = sheet->request.chart;
  for (unsigned i = 0; i < sheet->n_chords; ++i) {
    const SheetChord* const known = &sheet->chords[i];
    if (chord_equals(&chart->changes[known->change].chord, chord) &&
        scale_equals(known->scale, scale)) {
      return true;
    }
  }
  return false;
}

static bool
has_scale(const Sheet* const sheet, const Scale scale)
{
  for (unsigned i = 0; i < sheet->n_scales; ++i) {
    if (scale_equals(sheet->scales[i], scale)) {
      return true;
    }
  }
  return false;
}

/// Whether the blues scale of the home note belongs to a form: where its first
/// chord on that note has a minor seventh (common practice, no source).
static bool
is_bluesy(const Chart* const chart)
{
  const unsigned home = spelling_pitch_class(chart->key.tonic);
  for (unsigned i = 0; i < chart->n_changes; ++i) {
    const Chord* const chord = &chart->changes[i].chord;
    if (!chord_is_silence(chord) && spelling_pitch_class(chord->root) == home) {
      return chord->all_mask >> 10 & 1U;
    }
  }
  return false;
}

static void
add_blues_scale(Sheet* const sheet)
{
  const Chart* const chart = sheet->request.chart;
  Scale              blues = {.tonic = chart->key.tonic};
  if (is_bluesy(chart) && !scale_kind_named(&blues.kind, "minor blues") &&
      !has_scale(sheet, blues)) {
    sheet->scales[sheet->n_scales++] = blues;
  }
}

static void
write_rhythms(Sheet* const sheet)
{
  const SheetRequest* const request = &sheet->request;
  const RhythmRung* const   rung =
    &request->ladder->rhythm[request->rung.level[DIMENSION_RHYTHM] - 1];
  const Meter meter = request->chart->meter;
  if (request->n_rhythms) {
    sheet->n_rhythms = sheet_rhythms(
      meter, rung, request->seed, request->n_rhythms, sheet->rhythms);
  } else {
    sheet->n_rhythms  = 1;
    sheet->rhythms[0] = sheet_rhythm(meter, rung);
  }
}

void
sheet_make(Sheet* const sheet, const SheetRequest* const request)
{
  const Chart* const  chart  = request->chart;
  const Ladder* const ladder = request->ladder;
  HandShape           shapes[CHART_CHANGE_CAPACITY];
  left_hand_shapes(chart, shapes);
  sheet->request  = *request;
  sheet->n_chords = 0;
  sheet->n_scales = 0;
  write_rhythms(sheet);
  for (unsigned i = 0; i < chart->n_changes; ++i) {
    const ChordChange* const change = &chart->changes[i];
    const Scale              scale  = chart_scale_at(chart, change->tick);
    if (!chord_is_silence(&change->chord) &&
        !has_chord(sheet, &change->chord, scale)) {
      sheet->chords[sheet->n_chords++] = (SheetChord){i, scale, shapes[i]};
    }
    if (!has_scale(sheet, scale)) {
      sheet->scales[sheet->n_scales++] = scale;
    }
  }
  add_blues_scale(sheet);
  sheet_task(ladder, request->rung, request->task, sheet->task);
}

SheetRun
sheet_run(const Scale scale)
{
  SheetRun              run     = {.n = 0};
  unsigned              n       = 0;
  const Interval* const degrees = scale_degrees(scale.kind, &n);
  const unsigned        tonic   = MIDDLE_C + spelling_pitch_class(scale.tonic);
  for (unsigned i = 0; i < n; ++i) {
    const unsigned pitch = tonic + (unsigned)degrees[i].semitones;
    run.pitches[i]       = (uint8_t)pitch;
    (void)scale_spell(scale, pitch, &run.spellings[i]);
  }
  run.pitches[n]   = (uint8_t)(tonic + 12);
  run.spellings[n] = scale.tonic;
  run.n            = n + 1;
  fingering_find(HAND_RIGHT, run.pitches, run.n, run.right);
  fingering_find(HAND_LEFT, run.pitches, run.n, run.left);
  return run;
}

/// A tone of the chord is spelled as the chord has it, all else by the scale.
static Spelling
spelling_of(const Chord* const chord, const Scale scale, const unsigned pitch)
{
  Spelling spelling = scale.tonic;
  if (!chord_spell(chord, pitch, &spelling)) {
    (void)scale_spell(scale, pitch, &spelling);
  }
  return spelling;
}

SheetKeyboard
sheet_keyboard(const Sheet* const sheet, const unsigned chord)
{
  const Chart* const       chart    = sheet->request.chart;
  const SheetChord* const  own      = &sheet->chords[chord];
  const ChordChange* const change   = &chart->changes[own->change];
  const unsigned           in_c     = spelling_pitch_class(change->chord.root);
  const unsigned           root     = MIDDLE_C + in_c;
  const unsigned           scale    = scale_pitch_classes(own->scale);
  SheetKeyboard            keyboard = {
               .lowest = root < F_ABOVE ? MIDDLE_C : F_ABOVE,
  };
  for (unsigned above = 0; above <= 12; ++above) {
    const unsigned pitch = root + above;
    const bool     is_in =
      scale >> pitch % 12 & 1U || change->chord.all_mask >> above % 12 & 1U;
    if (is_in) {
      keyboard.keys[keyboard.n_keys++] = (SheetKey){
        (uint8_t)pitch,
        chord_has_root(&change->chord, pitch)        ? SHEET_ROOT
        : chord_has_core_tone(&change->chord, pitch) ? SHEET_CHORD_TONE
                                                     : SHEET_SCALE_TONE,
        spelling_of(&change->chord, own->scale, pitch),
      };
    }
  }
  return keyboard;
}

unsigned
sheet_bar_changes(const Chart* const chart,
                  const unsigned     bar,
                  unsigned* const    n_changes)
{
  const Tick ticks = meter_bar_ticks(chart->meter);
  unsigned   first = 0;
  while (first < chart->n_changes && chart->changes[first].tick < bar * ticks) {
    ++first;
  }
  unsigned end = first;
  while (end < chart->n_changes &&
         chart->changes[end].tick < (bar + 1) * ticks) {
    ++end;
  }
  *n_changes = end - first;
  return first;
}

bool
sheet_repeats_bar(const Chart* const chart, const unsigned bar)
{
  if (bar == 0) {
    return false;
  }
  unsigned       n_here   = 0;
  unsigned       n_before = 0;
  const unsigned here     = sheet_bar_changes(chart, bar, &n_here);
  const unsigned before   = sheet_bar_changes(chart, bar - 1, &n_before);
  if (n_here != n_before) {
    return false;
  }
  for (unsigned i = 0; i < n_here; ++i) {
    const ChordChange* const now  = &chart->changes[here + i];
    const ChordChange* const then = &chart->changes[before + i];
    if (now->tick - then->tick != meter_bar_ticks(chart->meter) ||
        !chord_equals(&now->chord, &then->chord)) {
      return false;
    }
  }
  return true;
}

bool
sheet_has_turns(const Sheet* const sheet)
{
  return sheet->request.chart->n_bars % (2 * sheet->request.bars_per_turn) == 0;
}
