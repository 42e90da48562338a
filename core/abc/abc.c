#include "core/abc/abc.h"

#include "core/abc/pen.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>

// One staff of a part, line after line
typedef struct {
  AbcPen           pen;
  const ScorePart* part;
  unsigned         number;     // Of the voice, from 1
  bool             has_chords; // The first of all
  bool             has_labels; // The first of its part
  size_t           n_labels;   // Written so far
  AbcPlaces*       places;     // NULL: nobody asks
} Voice;

enum { VOICES_CAPACITY = 16 };

// The head

static void
write_words(FILE* const stream, const char* const field, const char* words)
{
  (void)fputs(field, stream);
  for (; *words; ++words) {
    (void)fputs(*words == '%' || *words == '\\' ? "\\" : "", stream);
    (void)fputc(*words, stream);
  }
  (void)fputc('\n', stream);
}

// The engraver measures words by the font that it wishes for; a machine that
// has a wider one in its place needs blanks, or they lie on what comes next
#define SWING_WORDS "\"Swing    \" "

static void
write_tempo(FILE* const stream, const Score* const score)
{
  const bool is_compound = meter_is_compound(score->chart->meter);
  (void)fprintf(
    stream,
    "Q:%s%s=%ld\n",
    score_swings(score) ? SWING_WORDS : "",
    is_compound ? "3/8" : "1/4",
    lround(is_compound ? score->tempo_bpm / 1.5 : score->tempo_bpm));
}

// `%%score {1 2} 3`: staves of one part stand in a brace
static void
write_staves(FILE* const stream, const Score* const score)
{
  unsigned number = 1;
  (void)fputs("%%score", stream);
  for (unsigned i = 0; i < score->n_parts; ++i) {
    if (score_has_two_staves(&score->parts[i])) {
      (void)fprintf(stream, " {%u %u}", number, number + 1);
      number += 2;
    } else {
      (void)fprintf(stream, " %u", number++);
    }
  }
  (void)fputc('\n', stream);
}

static void
write_head(FILE* const            stream,
           const Score* const     score,
           const AbcLayout* const layout)
{
  const Meter  meter     = score->chart->meter;
  const double margin_cm = layout->height_cm > 0.0 ? 1.5 : 0.4;
  (void)fprintf(stream,
                "%%abc-2.1\n"
                "%%%%pagewidth %.2fcm\n"
                "%%%%leftmargin %.2fcm\n"
                "%%%%rightmargin %.2fcm\n",
                layout->width_cm,
                margin_cm,
                margin_cm);
  if (layout->height_cm > 0.0) {
    (void)fprintf(stream, "%%%%pageheight %.2fcm\n", layout->height_cm);
  }
  // A picture is as wide as it was asked for; the last line of a page is not
  (void)fprintf(stream,
                "X:1\n"
                "%%%%stretchlast %s\n"
                "%%%%propagate-accidentals octave\n",
                layout->height_cm > 0.0 ? "0.3" : "1");
  if (layout->has_title) {
    write_words(stream, "T:", score->title);
  }
  (void)fprintf(
    stream, "M:%u/%u\nL:1/16\n", meter.numerator, meter.denominator);
  if (layout->has_title) {
    write_tempo(stream, score);
  }
  write_staves(stream, score);
  pen_key(stream, score->chart->key);
}

static void
write_voice_head(FILE* const stream, const Voice* const voice, const bool names)
{
  (void)fprintf(stream,
                "V:%u clef=%s",
                voice->number,
                score_is_low(voice->pen.staff) ? "bass" : "treble");
  if (names && voice->has_labels && voice->part->name[0]) {
    // Blanks keep a name in another font than the engraver's out of its clef
    (void)fprintf(stream, " name=\"  %s  \"", voice->part->name);
  }
  (void)fputc('\n', stream);
}

// What stands over the staff

static void
write_chord(FILE* const stream, const Score* const score, const Tick tick)
{
  char        text[CHORD_TEXT_CAPACITY];
  const Chord chord = *chart_chord_at(score->chart, tick);
  pen_quoted(stream, "", chord_text(&chord, text));
}

static bool
begins_symbol(const Measure* const measure, const Moment moment)
{
  for (unsigned i = 0; i < measure->n_symbols; ++i) {
    if (measure->symbols[i].start == moment) {
      return true;
    }
  }
  return false;
}

// Whether each chord of a measure is named where a note or rest begins
static bool
chords_meet_notes(const Voice* const voice,
                  const Score* const score,
                  const ScoreMeasure place)
{
  const Tick end = place.start + place.length;
  for (Tick tick = place.start; tick < end;
       tick      = chart_next_change(score->chart, tick)) {
    if (score_names_chord(score, tick) &&
        !begins_symbol(&voice->pen.measure,
                       (tick - place.start) * MOMENTS_PER_TICK)) {
      return false;
    }
  }
  return true;
}

// Chords that change while a note sounds stand over a voice of their own, in
// rests that are not shown
static void
write_chords_apart(const Voice* const voice,
                   const Score* const score,
                   const ScoreMeasure place)
{
  FILE* const stream = voice->pen.stream;
  const Tick  beat   = meter_beat_ticks(score->chart->meter);
  const Tick  end    = place.start + place.length;
  (void)fputs("& ", stream);
  for (Tick tick = place.start; tick < end;) {
    const Tick change = chart_next_change(score->chart, tick);
    const Tick next   = change < tick + beat ? change : tick + beat;
    if (score_names_chord(score, tick)) {
      write_chord(stream, score, tick);
    }
    (void)fputc('x', stream);
    pen_length(stream, (next - tick) * MOMENTS_PER_TICK);
    (void)fputc(' ', stream);
    tick = next;
  }
}

static void
write_labels(Voice* const voice, const Tick before)
{
  const ScorePart* const part = voice->part;
  while (voice->has_labels && voice->n_labels < part->n_labels &&
         part->labels[voice->n_labels].tick < before) {
    const char* const words = part->labels[voice->n_labels++].words;
    if (words[0]) {
      pen_quoted(voice->pen.stream, "^", words);
    }
  }
}

// Measures

// What there is no memory for is not told of
static void
note_place(const Voice* const voice, const Tick tick)
{
  AbcPlaces* const places = voice->places;
  const long       offset = places ? ftell(voice->pen.stream) : -1;
  if (offset < 0) {
    return;
  }
  if (places->n == places->capacity) {
    const size_t    capacity = places->capacity ? 2 * places->capacity : 64;
    AbcPlace* const larger =
      realloc(places->places, capacity * sizeof(*larger));
    if (!larger) {
      return;
    }
    places->places   = larger;
    places->capacity = capacity;
  }
  places->places[places->n++] = (AbcPlace){(size_t)offset, tick};
}

static void
write_bar_line(FILE* const        stream,
               const Score* const score,
               const ScoreMeasure place)
{
  (void)fputs(place.number == score->n_bars     ? "|]"
              : score_ends_chorus(score, place) ? "|| "
                                                : "| ",
              stream);
}

static void
write_measure(Voice* const       voice,
              const Score* const score,
              const ScoreMeasure place)
{
  AbcPen* const pen = &voice->pen;
  pen_begin(pen, place);
  const bool meet = chords_meet_notes(voice, score, place);
  for (unsigned i = 0; i < pen->measure.n_symbols; ++i) {
    const Symbol* const symbol = &pen->measure.symbols[i];
    const Moment        end    = symbol->start + symbol->length;
    const Tick          tick   = place.start + symbol->start / MOMENTS_PER_TICK;
    if (symbol->column) {
      note_place(voice, tick);
    }
    write_labels(voice, place.start + end / MOMENTS_PER_TICK);
    if (voice->has_chords && meet && symbol->start % MOMENTS_PER_TICK == 0 &&
        score_names_chord(score, tick)) {
      write_chord(pen->stream, score, tick);
    }
    pen_write(pen, i);
  }
  if (voice->has_chords && !meet) {
    write_chords_apart(voice, score, place);
  }
  write_bar_line(pen->stream, score, place);
}

// The measure behind a line, counted from 1
static unsigned
end_of_line(const Score* const     score,
            const AbcLayout* const layout,
            const unsigned         line)
{
  const unsigned n   = score_measures(score);
  const unsigned end = line * layout->bars_per_line + (score->pick_up > 0);
  return end > n || line == layout->n_lines ? n : end;
}

static void
write_lines(Voice* const           voices,
            const unsigned         n_voices,
            const Score* const     score,
            const AbcLayout* const layout)
{
  const unsigned n     = score_measures(score);
  unsigned       first = 0;
  for (unsigned line = 1; first < n; ++line) {
    const unsigned end = end_of_line(score, layout, line);
    for (unsigned v = 0; v < n_voices; ++v) {
      FILE* const stream = voices[v].pen.stream;
      (void)fprintf(stream, "V:%u\n", voices[v].number);
      for (unsigned i = first; i < end; ++i) {
        write_measure(&voices[v], score, score_measure(score, i));
      }
      (void)fputc('\n', stream);
    }
    first = end;
  }
}

static unsigned
list_voices(Voice              voices[VOICES_CAPACITY],
            FILE* const        stream,
            const Score* const score,
            AbcPlaces* const   places)
{
  unsigned n = 0;
  for (unsigned i = 0; i < score->n_parts; ++i) {
    const ScorePart* const part     = &score->parts[i];
    const unsigned         n_staves = score_has_two_staves(part) ? 2 : 1;
    for (unsigned s = 0; s < n_staves && n < VOICES_CAPACITY; ++s, ++n) {
      voices[n] = (Voice){
        .pen        = {.stream = stream,
                       .chart  = score->chart,
                       .staff  = &part->staves[s]},
        .part       = part,
        .number     = n + 1,
        .has_chords = n == 0,
        .has_labels = s == 0,
        .places     = places,
      };
    }
  }
  return n;
}

Status
abc_text_placed(const Score* const     score,
                const AbcLayout* const layout,
                AbcPlaces* const       places,
                char** const           text,
                size_t* const          size)
{
  char*        written = NULL;
  size_t       length  = 0;
  Voice* const voices  = calloc(VOICES_CAPACITY, sizeof(*voices));
  FILE* const  stream  = voices ? open_memstream(&written, &length) : NULL;
  if (!stream) {
    free(voices);
    return STATUS_MEMORY;
  }
  const unsigned n = list_voices(voices, stream, score, places);
  write_head(stream, score, layout);
  for (unsigned v = 0; v < n; ++v) {
    write_voice_head(stream, &voices[v], score->n_parts > 1);
  }
  write_lines(voices, n, score, layout);
  free(voices);
  const bool has_failed = ferror(stream) != 0;
  if (fclose(stream) != 0 || has_failed) {
    free(written);
    return STATUS_MEMORY;
  }
  *text = written;
  *size = length;
  return STATUS_OK;
}

Status
abc_text(const Score* const     score,
         const AbcLayout* const layout,
         char** const           text,
         size_t* const          size)
{
  return abc_text_placed(score, layout, NULL, text, size);
}
