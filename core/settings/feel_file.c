#include "core/settings/feel_file.h"

#include "core/settings/gm.h"
#include "core/settings/places.h"
#include "core/settings/value.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum {
  TITLE_MAX       = 63,
  METER_MAX       = 8,
  BARS_MAX        = 4,
  STROKES_MAX     = 16,
  VELOCITY_MAX    = 127,
  VELOCITY_UNSAID = 80,
  LOWEST_BEAT     = 1,
  DIVISIONS       = 12, ///< Of a beat; what is near one is meant to be on it
  DIVISION_NEAR   = 10, ///< Ticks
};

static const double swing_max      = 4.0;
static const double ride_extra_max = 1.5;
static const double length_min     = 0.05; ///< Beats

/// How long a pattern is and what its beats are.
typedef struct {
  Tick     beat; ///< Ticks
  unsigned n_beats;
} Ruler;

/// Reads the notes of a pattern, which is empty so far.
typedef void (*NoteReader)(FeelPattern* pattern, Setting group, Ruler ruler);

/// Return the value that a note has from a list of one for each, or from one
/// value for all.
static Setting
value_of_note(const Setting values, const unsigned note)
{
  return setting_kind(values) == SETTING_LIST ? setting_at(values, note)
                                              : values;
}

/// Find what a group says of each of its notes; absent if a list has too few or
/// too many.
static Setting
find_per_note(const Setting group, const char* const name, const unsigned n)
{
  const Setting values = setting_find(group, name);
  if (setting_kind(values) != SETTING_LIST || setting_length(values) == n) {
    return values;
  }
  setting_fault(values,
                "%s holds %u values for %u beats; write one for each, or one "
                "without brackets for all",
                name,
                setting_length(values),
                n);
  return (Setting){values.settings, NULL};
}

/// Return a number of beats in ticks, on the twelfth of a beat that is meant.
static Tick
ticks_of(const double beats, const Tick beat)
{
  const Tick division = beat / DIVISIONS;
  const Tick exact    = (Tick)llround(beats * (double)beat);
  const Tick meant    = (exact + division / 2) / division * division;
  return llabs(exact - meant) <= DIVISION_NEAR ? meant : exact;
}

/// Read where the notes of a group stand, and how loud they are, behind the
/// hits that a pattern has; return how many there are.
static unsigned
read_beats(FeelPattern* const pattern, const Setting group, const Ruler ruler)
{
  const Setting  beats      = value_need(group, "beats", "beats = [1, 2.5];");
  const unsigned room       = FEEL_HIT_CAPACITY - pattern->n_hits;
  const unsigned n          = value_count(beats, 0, room);
  const Setting  velocities = find_per_note(group, "velocities", n);
  const double   end        = ruler.n_beats + 1.0;
  double         before     = 0.0;
  for (unsigned i = 0; i < n; ++i) {
    const Setting setting = setting_at(beats, i);
    const double  beat =
      value_number(setting, LOWEST_BEAT, end - length_min, before + length_min);
    if (beat <= before) {
      setting_fault(setting,
                    "beat %g does not come after beat %g; write beats in their "
                    "order",
                    beat,
                    before);
    }
    before                             = beat;
    pattern->hits[pattern->n_hits + i] = (FeelHit){
      .tick     = ticks_of(beat - LOWEST_BEAT, ruler.beat),
      .length   = 1,
      .velocity = (uint8_t)value_int(
        value_of_note(velocities, i), 1, VELOCITY_MAX, VELOCITY_UNSAID),
    };
  }
  pattern->n_hits += n;
  return n;
}

/// Read how long the notes are; those that do not say it last to the next.
static void
read_lengths(FeelPattern* const pattern, const Setting group, const Ruler ruler)
{
  const Setting lengths = find_per_note(group, "lengths", pattern->n_hits);
  const Tick    end     = (Tick)ruler.n_beats * ruler.beat;
  for (unsigned i = 0; i < pattern->n_hits; ++i) {
    FeelHit* const hit  = &pattern->hits[i];
    const Tick     next = i + 1 < pattern->n_hits ? hit[1].tick : end;
    const double   length =
      value_number(value_of_note(lengths, i), length_min, ruler.n_beats, 0.0);
    hit->length =
      length > 0.0 ? ticks_of(length, ruler.beat) : next - hit->tick;
  }
}

static void
read_chord_notes(FeelPattern* const pattern,
                 const Setting      group,
                 const Ruler        ruler)
{
  static const char* const names[] = {
    "bars", "layer", "meter", "beats", "lengths", "velocities"};
  value_allow(group, names, sizeof(names) / sizeof(*names));
  (void)read_beats(pattern, group, ruler);
  read_lengths(pattern, group, ruler);
}

static void
read_bass_notes(FeelPattern* const pattern,
                const Setting      group,
                const Ruler        ruler)
{
  static const char* const names[] = {
    "bars", "layer", "meter", "beats", "lengths", "velocities", "tones"};
  static const char* const tones[] = {
    [BASS_ROOT]     = "root",
    [BASS_FIFTH]    = "fifth",
    [BASS_OCTAVE]   = "octave",
    [BASS_APPROACH] = "approach",
  };
  value_allow(group, names, sizeof(names) / sizeof(*names));
  const unsigned n = read_beats(pattern, group, ruler);
  read_lengths(pattern, group, ruler);

  const Setting played = find_per_note(group, "tones", n);
  for (unsigned i = 0; i < n; ++i) {
    pattern->hits[i].voice = (uint8_t)value_choice(
      value_of_note(played, i), tones, sizeof(tones) / sizeof(*tones), 0);
  }
}

static int
compare_hits(const void* const a, const void* const b)
{
  const FeelHit* const left  = a;
  const FeelHit* const right = b;
  if (left->tick != right->tick) {
    return left->tick < right->tick ? -1 : 1;
  }
  return (int)left->voice - (int)right->voice;
}

static void
read_drum_notes(FeelPattern* const pattern,
                const Setting      group,
                const Ruler        ruler)
{
  static const char* const names[] = {"bars", "layer", "meter", "strokes"};
  static const char* const stroke_names[] = {"drum", "beats", "velocities"};
  value_allow(group, names, sizeof(names) / sizeof(*names));
  const Setting strokes =
    value_need(group,
               "strokes",
               "strokes = ( { drum = \"ride cymbal 1\"; beats = [1, 2]; } );");
  const unsigned n_strokes = value_count(strokes, 0, STROKES_MAX);
  for (unsigned i = 0; i < n_strokes; ++i) {
    const Setting stroke = value_group(setting_at(strokes, i));
    value_allow(
      stroke, stroke_names, sizeof(stroke_names) / sizeof(*stroke_names));
    const uint8_t drum = gm_drum(
      value_need(stroke, "drum", "drum = \"ride cymbal 1\";"), GM_LOWEST_DRUM);
    const unsigned first = pattern->n_hits;
    const unsigned n     = read_beats(pattern, stroke, ruler);
    for (unsigned hit = first; hit < first + n; ++hit) {
      pattern->hits[hit].voice = drum;
    }
  }
  qsort(pattern->hits, pattern->n_hits, sizeof(FeelHit), compare_hits);
}

/// Read a meter; zeroed if it is wrong.
static Meter
read_meter(const Setting setting)
{
  Meter             meter = {0};
  const char* const text  = value_text(setting, METER_MAX);
  if (text && meter_parse(&meter, text) != STATUS_OK) {
    setting_fault(setting,
                  "meter \"%s\" is not known; write 2/4, 3/4, 4/4, 5/4, 6/8 or "
                  "12/8",
                  text);
  }
  return meter;
}

static bool
has_meter(const Feel* const feel, const Meter meter)
{
  bool has = false;
  for (unsigned i = 0; i < feel->n_meters; ++i) {
    has = has || (feel->meters[i].numerator == meter.numerator &&
                  feel->meters[i].denominator == meter.denominator);
  }
  return has;
}

/// Return the ruler of a pattern; without a meter of its own, it is as long as
/// the longest of the feel's.
static Ruler
ruler_of(const Feel* const        feel,
         const FeelPattern* const pattern,
         const Setting            group)
{
  if (pattern->meter.numerator) {
    return (Ruler){meter_beat_ticks(pattern->meter),
                   meter_beats_per_bar(pattern->meter) * pattern->n_bars};
  }

  Ruler ruler = {meter_beat_ticks(feel->meters[0]), 0};
  for (unsigned i = 0; i < feel->n_meters; ++i) {
    const Meter    meter   = feel->meters[i];
    const unsigned n_beats = meter_beats_per_bar(meter) * pattern->n_bars;
    ruler.n_beats          = n_beats > ruler.n_beats ? n_beats : ruler.n_beats;
    if (meter_beat_ticks(meter) != ruler.beat) {
      setting_fault(group,
                    "the feel's meters have beats of two kinds; write "
                    "meter = \"%u/%u\"; or another of them",
                    meter.numerator,
                    meter.denominator);
      break;
    }
  }
  return ruler;
}

static void
read_pattern(const Feel* const  feel,
             FeelPattern* const pattern,
             const Setting      group,
             const NoteReader   read_notes)
{
  *pattern            = (FeelPattern){0};
  const Setting bars  = setting_find(group, "bars");
  const Setting meter = setting_find(group, "meter");
  pattern->n_bars     = (uint8_t)value_int(bars, 1, BARS_MAX, 1);
  pattern->layer = (uint8_t)value_int(setting_find(group, "layer"), 0, 1, 0);
  pattern->meter = read_meter(meter);
  if (pattern->n_bars == 3) {
    setting_fault(bars, "bars 3 is no length of a pattern; write 1, 2 or 4");
  }
  if (pattern->meter.numerator && !has_meter(feel, pattern->meter)) {
    setting_fault(meter, "this meter is not among the feel's meters");
  }
  read_notes(pattern, group, ruler_of(feel, pattern, group));
}

static void
read_part(const Feel* const feel,
          FeelPart* const   part,
          const Setting     list,
          const NoteReader  read_notes)
{
  part->n_patterns = value_count(list, 0, FEEL_PATTERN_CAPACITY);
  for (unsigned i = 0; i < part->n_patterns; ++i) {
    const Setting group = value_group(setting_at(list, i));
    if (setting_kind(group) == SETTING_GROUP) {
      read_pattern(feel, &part->patterns[i], group, read_notes);
    }
  }
}

/// Read the meters; false if none of them is right.
static bool
read_meters(Feel* const feel, const Setting setting)
{
  const bool     is_list = setting_kind(setting) == SETTING_LIST;
  const unsigned n = is_list ? value_count(setting, 1, FEEL_METER_CAPACITY) : 1;
  for (unsigned i = 0; i < n; ++i) {
    const Meter meter = read_meter(value_of_note(setting, i));
    if (meter.numerator) {
      feel->meters[feel->n_meters++] = meter;
    }
  }
  return feel->n_meters > 0;
}

static void
read_swing(Feel* const feel, const Setting setting)
{
  static const char* const words[] = {"by tempo", "straight"};
  feel->swing_by_tempo             = false;
  feel->swing_ratio                = 1.0;
  if (setting_kind(setting) == SETTING_TEXT) {
    feel->swing_by_tempo = value_choice(setting, words, 2, 1) == 0;
  } else {
    feel->swing_ratio = value_number(setting, 1.0, swing_max, 1.0);
  }
}

/// Check that every meter that the feel says it is for can be played.
static void
check_meters(const Feel* const feel, const Setting meters)
{
  for (unsigned i = 0; i < feel->n_meters; ++i) {
    char text[METER_TEXT_CAPACITY];
    if (!feel_fits(feel, feel->meters[i])) {
      setting_fault(
        meters,
        "a part has patterns, but none for %s; write one for it, or "
        "take the meter away",
        meter_text(feel->meters[i], text));
    }
  }
}

/// Check that the bass has patterns if it is to play them, and only then.
static void
check_bass(const Feel* const feel, const Setting line, const Setting bass)
{
  const bool is_asked = feel->bass_line == BASS_LINE_PATTERN;
  const bool has_any  = feel->bass.n_patterns > 0;
  if (is_asked && !has_any) {
    setting_fault(line,
                  "there are no patterns for the bass to play; write bass = "
                  "( ... ); or bass_line = \"walking\";");
  } else if (!is_asked && has_any) {
    setting_fault(bass,
                  "these patterns are never played; write bass_line = "
                  "\"patterns\"; or take them away");
  }
}

/// Read the three parts of a feel whose meters are known.
static void
read_parts(Feel* const feel, const Setting top, const Setting line)
{
  const Setting bass = setting_find(top, "bass");
  read_part(feel, &feel->chords, setting_find(top, "chords"), read_chord_notes);
  read_part(feel, &feel->bass, bass, read_bass_notes);
  read_part(feel, &feel->drums, setting_find(top, "drums"), read_drum_notes);
  if (setting_kind(line) == SETTING_TEXT) {
    check_bass(feel, line, bass);
  }
}

Status
feel_file_read(Feel* const feel, Settings* const settings)
{
  static const char* const names[] = {"title",
                                      "meters",
                                      "swing",
                                      "ride_extra",
                                      "bass_line",
                                      "chords",
                                      "bass",
                                      "drums"};
  static const char* const lines[] = {
    [BASS_LINE_PATTERN] = "patterns",
    [BASS_LINE_TWO]     = "two",
    [BASS_LINE_WALKING] = "walking",
  };
  const Setting top = settings_top(settings);
  value_allow(top, names, sizeof(names) / sizeof(*names));
  (void)value_text(value_need(top, "title", "title = \"My feel\";"), TITLE_MAX);

  *feel = (Feel){0};
  char name[PLACE_NAME_CAPACITY];
  (void)snprintf(feel->name,
                 sizeof(feel->name),
                 "%.*s",
                 FEEL_NAME_CAPACITY - 1,
                 place_name(settings_file(settings), name));
  read_swing(feel, value_need(top, "swing", "swing = \"by tempo\";"));
  feel->ride_swing_extra =
    value_number(setting_find(top, "ride_extra"), 0.0, ride_extra_max, 0.0);

  const Setting line = value_need(top, "bass_line", "bass_line = \"walking\";");
  feel->bass_line    = (BassLine)value_choice(line, lines, 3, 0);
  const Setting meters = value_need(top, "meters", "meters = [\"4/4\"];");
  if (read_meters(feel, meters)) {
    read_parts(feel, top, line);
    check_meters(feel, meters);
  }
  return settings_status(settings);
}

Status
feel_file_load(Feel* const feel, const char* const path, Faults* const faults)
{
  Settings* settings = NULL;
  Status    status   = settings_open(&settings, path, faults);
  if (status == STATUS_OK) {
    status = feel_file_read(feel, settings);
    settings_close(settings);
  }
  return status;
}
