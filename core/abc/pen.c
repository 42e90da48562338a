#include "core/abc/pen.h"

#include <inttypes.h>

static Moment
common_divisor(Moment a, Moment b)
{
  while (b) {
    const Moment rest = a % b;
    a                 = b;
    b                 = rest;
  }
  return a;
}

void
pen_length(FILE* const stream, const Moment length)
{
  const Moment divisor = common_divisor(length, ABC_UNIT);
  const Moment count   = length / divisor;
  const Moment part    = ABC_UNIT / divisor;
  if (count != 1) {
    (void)fprintf(stream, "%" PRId64, count);
  }
  if (part != 1) {
    (void)fprintf(stream, "/%" PRId64, part);
  }
}

void
pen_key(FILE* const stream, const Key key)
{
  const char* const sign = key.tonic.alter > 0   ? "#"
                           : key.tonic.alter < 0 ? "b"
                                                 : "";
  (void)fprintf(stream,
                "K:%c%s%s\n",
                "CDEFGAB"[key.tonic.letter],
                sign,
                key.is_minor ? "m" : "");
}

void
pen_quoted(FILE* const stream, const char* const mark, const char* const words)
{
  (void)fprintf(stream, "\"%s", mark);
  for (const char* at = words; *at; ++at) {
    if (*at == '%') {
      (void)fputs("\\%", stream); // Else what follows is a comment
    } else {
      (void)fputc(*at == '"' ? '\'' : *at == '\\' ? '/' : *at, stream);
    }
  }
  (void)fputc('"', stream);
}

void
pen_begin(AbcPen* const pen, const ScoreMeasure place)
{
  accidentals_begin(&pen->accidentals, pen->chart->key);
  measure_write(&pen->measure,
                pen->chart->meter,
                pen->staff->columns,
                pen->staff->n_columns,
                place.start * MOMENTS_PER_TICK,
                place.length * MOMENTS_PER_TICK);
}

// `c'` is the octave above `c`, that above `C` from middle C up
static void
write_letter(FILE* const stream, const SpelledPitch pitch)
{
  const char* const letters = pitch.octave > 4 ? "cdefgab" : "CDEFGAB";
  (void)fputc(letters[pitch.spelling.letter], stream);
  for (int octave = pitch.octave; octave > 5; --octave) {
    (void)fputc('\'', stream);
  }
  for (int octave = pitch.octave; octave < 4; ++octave) {
    (void)fputc(',', stream);
  }
}

static void
write_sign(FILE* const stream, const SpelledPitch pitch)
{
  (void)fputc(pitch.spelling.alter > 0   ? '^'
              : pitch.spelling.alter < 0 ? '_'
                                         : '=',
              stream);
}

void
pen_pitch(AbcPen* const pen, const SpelledPitch pitch)
{
  if (accidentals_need(&pen->accidentals, pitch) != SIGN_NONE) {
    write_sign(pen->stream, pitch);
  }
  write_letter(pen->stream, pitch);
}

static void
write_graces(AbcPen* const pen, const Column* const column)
{
  if (column->n_graces == 0) {
    return;
  }
  (void)fputs(column->n_graces == 1 ? "{/" : "{", pen->stream);
  for (unsigned i = 0; i < column->n_graces; ++i) {
    pen_pitch(pen, score_spell(pen->chart, pen->staff, column, i));
  }
  (void)fputc('}', pen->stream);
}

static void
write_fingers(const AbcPen* const pen, const Column* const column)
{
  const WrittenNote* const notes =
    &pen->staff->notes[column->first + column->n_graces];
  for (unsigned i = 0; i < column->n_notes; ++i) {
    if (notes[i].finger) {
      (void)fprintf(pen->stream, "!%u!", notes[i].finger);
    }
  }
}

// Whether a letter stands twice in a chord, once with another sign
static bool
is_on_one_line(const SpelledPitch a, const SpelledPitch b)
{
  return a.spelling.letter == b.spelling.letter && a.octave == b.octave;
}

// Ties carry their accidentals with them; of two notes on one line each says
// its own
static void
write_chord_tone(AbcPen* const       pen,
                 const Symbol* const symbol,
                 const unsigned      i)
{
  const Column* const column = symbol->column;
  const unsigned      first  = column->n_graces;
  const SpelledPitch  pitch =
    score_spell(pen->chart, pen->staff, column, first + i);
  bool is_double = false;
  for (unsigned k = i > 0 ? i - 1 : 0; k <= i + 1 && k < column->n_notes; ++k) {
    is_double =
      is_double ||
      (k != i &&
       is_on_one_line(pitch,
                      score_spell(pen->chart, pen->staff, column, first + k)));
  }
  if (is_double) {
    (void)accidentals_need(&pen->accidentals, pitch);
    write_sign(pen->stream, pitch);
    write_letter(pen->stream, pitch);
  } else if (symbol->ties_in) {
    write_letter(pen->stream, pitch);
  } else {
    pen_pitch(pen, pitch);
  }
}

static void
write_notes(AbcPen* const pen, const Symbol* const symbol)
{
  const Column* const column   = symbol->column;
  const bool          is_chord = column->n_notes > 1;
  if (!symbol->ties_in) {
    write_graces(pen, column);
    write_fingers(pen, column);
  }
  (void)fputs(is_chord ? "[" : "", pen->stream);
  for (unsigned i = 0; i < column->n_notes; ++i) {
    write_chord_tone(pen, symbol, i);
  }
  (void)fputs(is_chord ? "]" : "", pen->stream);
  pen_length(pen->stream, value_length(symbol->value));
  (void)fputs(symbol->ties_out ? "-" : "", pen->stream);
}

// `(5:4:3`: three symbols of five in the time of four
static void
write_tuplet(const AbcPen* const pen, const unsigned first)
{
  const Symbol* const symbols = pen->measure.symbols;
  unsigned            last    = first;
  while (last + 1 < pen->measure.n_symbols && !symbols[last].ends_tuplet) {
    ++last;
  }
  (void)fprintf(pen->stream,
                "(%u:%u:%u",
                symbols[first].actual,
                symbols[first].normal,
                last - first + 1);
}

// What stands close together shares a beam
static bool
is_beamed_on(const Symbol* const symbol)
{
  return symbol->beams[0] == BEAM_BEGIN || symbol->beams[0] == BEAM_CONTINUE;
}

void
pen_write(AbcPen* const pen, const unsigned i)
{
  const Symbol* const symbol = &pen->measure.symbols[i];
  if (symbol->begins_tuplet) {
    write_tuplet(pen, i);
  }
  if (symbol->column) {
    write_notes(pen, symbol);
  } else {
    (void)fputc('z', pen->stream);
    pen_length(pen->stream,
               symbol->is_whole_rest ? symbol->length
                                     : value_length(symbol->value));
  }
  if (!is_beamed_on(symbol)) {
    (void)fputc(' ', pen->stream);
  }
}
