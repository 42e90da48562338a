#include "core/musicxml/head.h"

#include "core/notation/degrees.h"

#include <math.h>
#include <stdio.h>

enum { SWING_PARTS = 20 }; // A ratio of 1.55 is 31 : 20

const char*
head_part_id(char id[16], const unsigned part)
{
  (void)snprintf(id, 16, "P%u", part + 1);
  return id;
}

void
head_write(Xml* const xml, const Score* const score)
{
  static const char* const supported[] = {"accidental", "beam"};
  xml_open(xml, "work");
  xml_text(xml, "work-title", score->title);
  xml_close(xml);
  xml_open(xml, "identification");
  xml_open(xml, "encoding");
  xml_text(xml, "software", score->software);
  for (unsigned i = 0; i < sizeof(supported) / sizeof(*supported); ++i) {
    xml_open(xml, "supports");
    xml_attribute(xml, "element", supported[i]);
    xml_attribute(xml, "type", "yes");
    xml_close(xml);
  }
  xml_close(xml);
  xml_close(xml);
  xml_open(xml, "part-list");
  for (unsigned i = 0; i < score->n_parts; ++i) {
    char id[16];
    xml_open(xml, "score-part");
    xml_attribute(xml, "id", head_part_id(id, i));
    xml_text(xml, "part-name", score->parts[i].name);
    xml_close(xml);
  }
  xml_close(xml);
}

static void
write_clef(Xml* const xml, const bool is_bass, const unsigned number)
{
  xml_open(xml, "clef");
  if (number) {
    xml_attribute_number(xml, "number", number);
  }
  xml_text(xml, "sign", is_bass ? "F" : "G");
  xml_number(xml, "line", is_bass ? 4 : 2);
  xml_close(xml);
}

void
head_write_attributes(Xml* const             xml,
                      const Score* const     score,
                      const ScorePart* const part)
{
  const Key   key   = score->chart->key;
  const Meter meter = score->chart->meter;
  const bool  two   = score_has_two_staves(part);
  xml_open(xml, "attributes");
  xml_number(xml, "divisions", MOMENTS_PER_QUARTER);
  xml_open(xml, "key");
  xml_number(xml, "fifths", key_signature(key));
  xml_text(xml, "mode", key.is_minor ? "minor" : "major");
  xml_close(xml);
  xml_open(xml, "time");
  xml_number(xml, "beats", meter.numerator);
  xml_number(xml, "beat-type", meter.denominator);
  xml_close(xml);
  if (two) {
    xml_number(xml, "staves", SCORE_STAVES);
  }
  write_clef(xml, score_is_low(&part->staves[0]), two ? 1 : 0);
  if (two) {
    write_clef(xml, true, 2);
  }
  xml_close(xml);
}

static void
write_metronome(Xml* const xml, const Score* const score)
{
  const bool   is_compound = meter_is_compound(score->chart->meter);
  const double beats = is_compound ? score->tempo_bpm / 1.5 : score->tempo_bpm;
  xml_open(xml, "metronome");
  xml_text(xml, "beat-unit", "quarter");
  if (is_compound) {
    xml_empty(xml, "beat-unit-dot");
  }
  xml_number(xml, "per-minute", lround(beats));
  xml_close(xml);
}

static int64_t
common_divisor(int64_t a, int64_t b)
{
  while (b) {
    const int64_t rest = a % b;
    a                  = b;
    b                  = rest;
  }
  return a;
}

// MusicXML 4.0, "swing": how long the first and the second of two are
static void
write_swing(Xml* const xml, const double ratio)
{
  const int64_t first   = lround(ratio * SWING_PARTS);
  const int64_t divisor = common_divisor(first, SWING_PARTS);
  xml_open(xml, "swing");
  xml_number(xml, "first", first / divisor);
  xml_number(xml, "second", SWING_PARTS / divisor);
  xml_text(xml, "swing-type", "eighth");
  xml_close(xml);
}

void
head_write_tempo(Xml* const xml, const Score* const score)
{
  const bool swings = score_swings(score);
  xml_open(xml, "direction");
  xml_attribute(xml, "placement", "above");
  if (swings) {
    xml_open(xml, "direction-type");
    xml_text(xml, "words", "Swing");
    xml_close(xml);
  }
  xml_open(xml, "direction-type");
  write_metronome(xml, score);
  xml_close(xml);
  xml_open(xml, "sound");
  // Whole, as the metronome mark says it: not every reader takes fractions
  xml_attribute_number(xml, "tempo", lround(score->tempo_bpm));
  if (swings) {
    write_swing(xml, score->swing_ratio);
  }
  xml_close(xml);
  xml_close(xml);
}

static void
write_offset(Xml* const xml, const Moment offset)
{
  if (offset) {
    xml_number(xml, "offset", offset);
  }
}

void
head_write_words(Xml* const xml, const char* const words, const Moment offset)
{
  xml_open(xml, "direction");
  xml_attribute(xml, "placement", "above");
  xml_open(xml, "direction-type");
  xml_text(xml, "words", words);
  xml_close(xml);
  write_offset(xml, offset);
  xml_close(xml);
}

// Chord symbols

static void
write_step(Xml* const        xml,
           const char* const element,
           const char* const step,
           const char* const alter,
           const Spelling    spelling)
{
  const char letter[] = {"CDEFGAB"[spelling.letter], '\0'};
  xml_open(xml, element);
  xml_text(xml, step, letter);
  if (spelling.alter) {
    xml_number(xml, alter, spelling.alter);
  }
  xml_close(xml);
}

static void
write_degree(Xml* const xml, const Degree degree)
{
  static const char* const types[] = {
    [DEGREE_ADD]      = "add",
    [DEGREE_ALTER]    = "alter",
    [DEGREE_SUBTRACT] = "subtract",
  };
  xml_open(xml, "degree");
  xml_attribute(xml, "print-object", "no"); // The kind's text says it
  xml_number(xml, "degree-value", degree.number);
  xml_number(xml, "degree-alter", degree.alter);
  xml_text(xml, "degree-type", types[degree.type]);
  xml_close(xml);
}

static void
write_no_chord(Xml* const xml)
{
  xml_open(xml, "root");
  xml_open(xml, "root-step");
  xml_attribute(xml, "text", "");
  xml_words(xml, "C");
  xml_close(xml);
  xml_close(xml);
  xml_open(xml, "kind");
  xml_attribute(xml, "text", "N.C.");
  xml_words(xml, "none");
  xml_close(xml);
}

static void
write_sounding_chord(Xml* const xml, const Chord* const chord)
{
  const ChordDegrees degrees = degrees_of(chord);
  write_step(xml, "root", "root-step", "root-alter", chord->root);
  xml_open(xml, "kind");
  xml_attribute(xml, "text", chord->suffix);
  xml_words(xml, degrees.kind);
  xml_close(xml);
  if (chord->bass.letter != chord->root.letter ||
      chord->bass.alter != chord->root.alter) {
    write_step(xml, "bass", "bass-step", "bass-alter", chord->bass);
  }
  for (unsigned i = 0; i < degrees.n_degrees; ++i) {
    write_degree(xml, degrees.degrees[i]);
  }
}

void
head_write_chord(Xml* const xml, const Chord* const chord, const Moment offset)
{
  xml_open(xml, "harmony");
  if (chord_is_silence(chord)) {
    write_no_chord(xml);
  } else {
    write_sounding_chord(xml, chord);
  }
  write_offset(xml, offset);
  xml_close(xml);
}
