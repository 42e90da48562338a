#include "core/musicxml/note.h"

static const char* const type_names[] = {
  [VALUE_64TH]    = "64th",
  [VALUE_32ND]    = "32nd",
  [VALUE_16TH]    = "16th",
  [VALUE_EIGHTH]  = "eighth",
  [VALUE_QUARTER] = "quarter",
  [VALUE_HALF]    = "half",
  [VALUE_WHOLE]   = "whole",
};

static const char* const beam_names[] = {
  [BEAM_BEGIN]    = "begin",
  [BEAM_CONTINUE] = "continue",
  [BEAM_END]      = "end",
  [BEAM_FORWARD]  = "forward hook",
  [BEAM_BACKWARD] = "backward hook",
};

enum { GRACE_BEAMS = 2 }; // Several grace notes are sixteenths

static void
write_pitch(Xml* const xml, const SpelledPitch pitch)
{
  const char step[] = {"CDEFGAB"[pitch.spelling.letter], '\0'};
  xml_open(xml, "pitch");
  xml_text(xml, "step", step);
  if (pitch.spelling.alter) {
    xml_number(xml, "alter", pitch.spelling.alter);
  }
  xml_number(xml, "octave", pitch.octave < 0 ? 0 : pitch.octave);
  xml_close(xml);
}

static void
write_accidental(const NotePen* const pen, const SpelledPitch pitch)
{
  const SignNeed need  = accidentals_need(pen->accidentals, pitch);
  const int      alter = pitch.spelling.alter;
  if (need == SIGN_NONE) {
    return;
  }
  xml_open(pen->xml, "accidental");
  if (need == SIGN_COURTESY) {
    xml_attribute(pen->xml, "cautionary", "yes");
  }
  xml_words(pen->xml, alter > 0 ? "sharp" : alter < 0 ? "flat" : "natural");
  xml_close(pen->xml);
}

static void
write_time_modification(Xml* const xml, const Symbol* const symbol)
{
  if (symbol->actual) {
    xml_open(xml, "time-modification");
    xml_number(xml, "actual-notes", symbol->actual);
    xml_number(xml, "normal-notes", symbol->normal);
    xml_text(xml, "normal-type", type_names[symbol->tuplet_type]);
    xml_close(xml);
  }
}

static void
write_beam(Xml* const xml, const unsigned level, const Beam beam)
{
  if (beam != BEAM_NONE) {
    xml_open(xml, "beam");
    xml_attribute_number(xml, "number", level + 1);
    xml_words(xml, beam_names[beam]);
    xml_close(xml);
  }
}

static void
write_marked(Xml* const        xml,
             const char* const name,
             const char* const type,
             const bool        is_bracketed)
{
  xml_open(xml, name);
  xml_attribute(xml, "type", type);
  if (is_bracketed) {
    xml_attribute(xml, "bracket", "yes");
  }
  xml_close(xml);
}

// Ties are of every note, brackets of the first of a chord
static void
write_notations(Xml* const xml, const Symbol* const symbol, const bool is_first)
{
  const bool begins = is_first && symbol->begins_tuplet;
  const bool ends   = is_first && symbol->ends_tuplet;
  if (!symbol->ties_in && !symbol->ties_out && !begins && !ends) {
    return;
  }
  xml_open(xml, "notations");
  if (symbol->ties_in) {
    write_marked(xml, "tied", "stop", false);
  }
  if (symbol->ties_out) {
    write_marked(xml, "tied", "start", false);
  }
  if (begins) {
    write_marked(xml, "tuplet", "start", true);
  }
  if (ends) {
    write_marked(xml, "tuplet", "stop", false);
  }
  xml_close(xml);
}

static void
write_staff(const NotePen* const pen)
{
  if (pen->number) {
    xml_number(pen->xml, "staff", pen->number);
  }
}

static void
write_value(Xml* const xml, const Value value)
{
  xml_text(xml, "type", type_names[value.type]);
  if (value.dots) {
    xml_empty(xml, "dot");
  }
}

static void
write_rest(const NotePen* const pen, const Symbol* const symbol)
{
  Xml* const xml = pen->xml;
  xml_open(xml, "note");
  xml_open(xml, "rest");
  if (symbol->is_whole_rest) {
    xml_attribute(xml, "measure", "yes");
  }
  xml_close(xml);
  xml_number(xml, "duration", symbol->length);
  xml_number(xml, "voice", pen->voice);
  if (!symbol->is_whole_rest) {
    write_value(xml, symbol->value);
    write_time_modification(xml, symbol);
  }
  write_staff(pen);
  write_notations(xml, symbol, true);
  xml_close(xml);
}

static void
write_grace(NotePen* const pen, const Column* const column, const unsigned i)
{
  const bool         is_single = column->n_graces == 1;
  const SpelledPitch pitch     = score_spell(pen->chart, pen->staff, column, i);
  Xml* const         xml       = pen->xml;
  xml_open(xml, "note");
  xml_open(xml, "grace");
  if (is_single) {
    xml_attribute(xml, "slash", "yes");
  }
  xml_close(xml);
  write_pitch(xml, pitch);
  xml_number(xml, "voice", pen->voice);
  xml_text(xml, "type", type_names[is_single ? VALUE_EIGHTH : VALUE_16TH]);
  write_accidental(pen, pitch);
  write_staff(pen);
  for (unsigned level = 0; level < GRACE_BEAMS && !is_single; ++level) {
    write_beam(xml,
               level,
               i == 0                      ? BEAM_BEGIN
               : i + 1 == column->n_graces ? BEAM_END
                                           : BEAM_CONTINUE);
  }
  xml_close(xml);
}

static void
write_note(NotePen* const pen, const Symbol* const symbol, const unsigned i)
{
  const Column* const column = symbol->column;
  const SpelledPitch  pitch =
    score_spell(pen->chart, pen->staff, column, column->n_graces + i);
  Xml* const xml = pen->xml;
  xml_open(xml, "note");
  if (i) {
    xml_empty(xml, "chord");
  }
  write_pitch(xml, pitch);
  xml_number(xml, "duration", symbol->length);
  if (symbol->ties_in) {
    write_marked(xml, "tie", "stop", false);
  }
  if (symbol->ties_out) {
    write_marked(xml, "tie", "start", false);
  }
  xml_number(xml, "voice", pen->voice);
  write_value(xml, symbol->value);
  // A tie carries its accidental with it, over the bar line too
  if (!symbol->ties_in) {
    write_accidental(pen, pitch);
  }
  write_time_modification(xml, symbol);
  write_staff(pen);
  for (unsigned level = 0; level < MEASURE_BEAMS && i == 0; ++level) {
    write_beam(xml, level, (Beam)symbol->beams[level]);
  }
  write_notations(xml, symbol, i == 0);
  xml_close(xml);
}

void
note_write(NotePen* const pen, const Symbol* const symbol)
{
  const Column* const column = symbol->column;
  if (!column) {
    write_rest(pen, symbol);
    return;
  }
  for (unsigned i = 0; i < column->n_graces && !symbol->ties_in; ++i) {
    write_grace(pen, column, i);
  }
  for (unsigned i = 0; i < column->n_notes; ++i) {
    write_note(pen, symbol, i);
  }
}
