#include "core/musicxml/musicxml.h"

#include "core/musicxml/element.h"
#include "core/musicxml/head.h"
#include "core/musicxml/note.h"
#include "core/notation/measure.h"

// A part under way
typedef struct {
  Xml*             xml;
  const Score*     score;
  const ScorePart* part;
  bool             has_chords;
  size_t           n_labels; // Written so far
  Accidentals      accidentals[SCORE_STAVES];
  Measure          measure;
} PartPen;

static Moment
moments(const Tick ticks)
{
  return ticks * MOMENTS_PER_TICK;
}

// What stands over the staff

static void
write_chords(PartPen* const pen, const Tick from, const Tick to)
{
  const Chart* const chart = pen->score->chart;
  if (!pen->has_chords || from < 0) { // A pick-up has none
    return;
  }
  for (Tick tick = from; tick < to; tick = chart_next_change(chart, tick)) {
    if (tick > from || score_names_chord(pen->score, tick)) {
      head_write_chord(
        pen->xml, chart_chord_at(chart, tick), moments(tick - from));
    }
  }
}

// Directions and chord symbols that begin with a symbol or in it
static void
write_above(PartPen* const pen, const Tick from, const Tick to)
{
  const ScorePart* const part = pen->part;
  while (pen->n_labels < part->n_labels &&
         part->labels[pen->n_labels].tick < to) {
    const ScoreLabel* const label = &part->labels[pen->n_labels++];
    head_write_words(pen->xml, label->words, moments(label->tick - from));
  }
  write_chords(pen, from, to);
}

// Measures

static void
write_staff(PartPen* const pen, const ScoreMeasure place, const unsigned staff)
{
  const Score* const score = pen->score;
  const bool         two   = score_has_two_staves(pen->part);
  NotePen            note  = {
                .xml    = pen->xml,
                .chart  = score->chart,
                .staff  = &pen->part->staves[staff],
                .voice  = staff == 0 ? 1 : 5, // Four voices a staff, as is usual
                .number = two ? staff + 1 : 0,
                .accidentals = &pen->accidentals[staff],
  };
  accidentals_begin(note.accidentals, score->chart->key);
  measure_write(&pen->measure,
                score->chart->meter,
                note.staff->columns,
                note.staff->n_columns,
                moments(place.start),
                moments(place.length));
  for (unsigned i = 0; i < pen->measure.n_symbols; ++i) {
    const Symbol* const symbol = &pen->measure.symbols[i];
    if (staff == 0) {
      const Moment end = symbol->start + symbol->length;
      write_above(pen,
                  place.start + symbol->start / MOMENTS_PER_TICK,
                  place.start + end / MOMENTS_PER_TICK);
    }
    note_write(&note, symbol);
  }
}

static void
write_barline(PartPen* const pen, const ScoreMeasure place)
{
  const bool is_last = place.number == pen->score->n_bars;
  if (is_last || score_ends_chorus(pen->score, place)) {
    xml_open(pen->xml, "barline");
    xml_attribute(pen->xml, "location", "right");
    xml_text(pen->xml, "bar-style", is_last ? "light-heavy" : "light-light");
    xml_close(pen->xml);
  }
}

static void
write_measure(PartPen* const pen, const ScoreMeasure place, const bool is_first)
{
  Xml* const xml = pen->xml;
  xml_open(xml, "measure");
  xml_attribute_number(xml, "number", place.number);
  if (place.number == 0) {
    xml_attribute(xml, "implicit", "yes");
  }
  if (is_first) {
    head_write_attributes(xml, pen->score, pen->part);
  }
  if (is_first && pen->has_chords) {
    head_write_tempo(xml, pen->score);
  }
  write_staff(pen, place, 0);
  if (score_has_two_staves(pen->part)) {
    xml_open(xml, "backup");
    xml_number(xml, "duration", moments(place.length));
    xml_close(xml);
    write_staff(pen, place, 1);
  }
  write_barline(pen, place);
  xml_close(xml);
}

static void
write_part(PartPen* const pen)
{
  for (unsigned i = 0; i < score_measures(pen->score); ++i) {
    write_measure(pen, score_measure(pen->score, i), i == 0);
  }
}

Status
musicxml_bytes(const Score* const score, char** const bytes, size_t* const size)
{
  Xml*         xml   = NULL;
  const Status begun = xml_begin(&xml,
                                 "score-partwise",
                                 "-//Recordare//DTD MusicXML 4.0 Partwise//EN",
                                 "http://www.musicxml.org/dtds/partwise.dtd");
  if (begun) {
    return begun;
  }
  xml_open(xml, "score-partwise");
  xml_attribute(xml, "version", "4.0");
  head_write(xml, score);
  for (unsigned i = 0; i < score->n_parts; ++i) {
    char    id[16];
    PartPen pen = {
      .xml        = xml,
      .score      = score,
      .part       = &score->parts[i],
      .has_chords = i == 0,
    };
    xml_open(xml, "part");
    xml_attribute(xml, "id", head_part_id(id, i));
    write_part(&pen);
    xml_close(xml);
  }
  xml_close(xml);
  const Status status = xml_end(xml, bytes, size);
  xml_free(xml);
  return status;
}
