#include "profiles/files/ladder_file.h"

#include "core/settings/value.h"

#include <string.h>

enum {
  RANGE_MAX       = 36, ///< Semitones
  CHORD_TONES_MAX = 4,
  ONSETS_MAX      = 16, ///< A bar of sixteenths
};

/// What a rung of rhythm may allow, in the order of the bits of allowed_set().
static const char* const rhythm_words[] =
  {"eighths", "swing", "off-beats", "triplets", "sixteenths", "cross rhythm"};
enum { N_RHYTHM_WORDS = sizeof(rhythm_words) / sizeof(*rhythm_words) };

static const char* const ornament_words[] = {"approaches", "turns"};
enum { N_ORNAMENT_WORDS = sizeof(ornament_words) / sizeof(*ornament_words) };

/// Read a list of words as a set; bit n: word n.
static unsigned
word_set(const Setting            setting,
         const char* const* const words,
         const unsigned           n_words)
{
  unsigned       set   = 0;
  const unsigned count = value_count(setting, 0, n_words);
  for (unsigned i = 0; i < count; ++i) {
    const unsigned word =
      value_choice(setting_at(setting, i), words, n_words, n_words);
    set |= word < n_words ? 1U << word : 0U;
  }
  return set;
}

static float
share_of(const Setting rung, const char* const name)
{
  return (float)value_number(setting_find(rung, name), 0.0, 1.0, 0.0);
}

static void
read_words(const Setting rung, char words[LADDER_WORDS_CAPACITY])
{
  words[0] = '\0';
  value_copy(value_need(rung, "words", "words = \"...\"; for the player"),
             words,
             LADDER_WORDS_CAPACITY);
}

/// Note that a rung takes away what the one below it allows.
static void
check_rising(const Setting rung, const unsigned index, const bool is_rising)
{
  if (index > 0 && !is_rising) {
    setting_fault(rung,
                  "rung %u of %s does not allow all that rung %u does; a rung "
                  "only adds",
                  index + 1,
                  setting_name(rung),
                  index);
  }
}

static void
read_notes(Ladder* const ladder, const Setting rung, const unsigned index)
{
  static const char* const names[] = {
    "words", "chord_tones", "range", "scale", "outside"};
  NotesRung* const notes = &ladder->notes[index];
  value_allow(rung, names, sizeof(names) / sizeof(*names));
  read_words(rung, notes->words);
  notes->chord_tones =
    (uint8_t)value_int(value_need(rung, "chord_tones", "chord_tones = 1; to 4"),
                       1,
                       CHORD_TONES_MAX,
                       1);
  notes->range = (uint8_t)value_int(
    value_need(rung, "range", "range = 12; semitones"), 0, RANGE_MAX, 0);
  notes->scale_share   = share_of(rung, "scale");
  notes->outside_share = share_of(rung, "outside");
  if (notes->scale_share + notes->outside_share > 1.0F) {
    setting_fault(rung, "scale and outside are more than 1 together");
  }

  const NotesRung* const below = notes - (index > 0);
  check_rising(rung,
               index,
               notes->chord_tones >= below->chord_tones &&
                 notes->range >= below->range &&
                 (notes->scale_share > 0.0F || below->scale_share <= 0.0F) &&
                 (notes->outside_share > 0.0F || below->outside_share <= 0.0F));
}

static unsigned
rhythm_set(const RhythmRung* const rhythm)
{
  return (unsigned)rhythm->eighths | (unsigned)rhythm->swing << 1 |
         (unsigned)rhythm->off_beats << 2 | (unsigned)rhythm->triplets << 3 |
         (unsigned)rhythm->sixteenths << 4 |
         (unsigned)rhythm->cross_rhythm << 5;
}

static void
read_rhythm(Ladder* const ladder, const Setting rung, const unsigned index)
{
  static const char* const names[] = {"words", "onsets", "allows"};
  RhythmRung* const        rhythm  = &ladder->rhythm[index];
  value_allow(rung, names, sizeof(names) / sizeof(*names));
  read_words(rung, rhythm->words);
  rhythm->onsets_per_bar =
    (float)value_number(value_need(rung, "onsets", "onsets = 4; notes a bar"),
                        1.0,
                        ONSETS_MAX,
                        1.0);

  const unsigned set =
    word_set(setting_find(rung, "allows"), rhythm_words, N_RHYTHM_WORDS);
  rhythm->eighths               = set & 1U;
  rhythm->swing                 = set >> 1 & 1U;
  rhythm->off_beats             = set >> 2 & 1U;
  rhythm->triplets              = set >> 3 & 1U;
  rhythm->sixteenths            = set >> 4 & 1U;
  rhythm->cross_rhythm          = set >> 5 & 1U;
  const RhythmRung* const below = rhythm - (index > 0);
  check_rising(rung,
               index,
               rhythm->onsets_per_bar >= below->onsets_per_bar &&
                 (set & rhythm_set(below)) == rhythm_set(below));
}

static void
read_shape(Ladder* const ladder, const Setting rung, const unsigned index)
{
  static const char* const names[] = {"words", "moves"};
  ShapeRung* const         shape   = &ladder->shape[index];
  value_allow(rung, names, sizeof(names) / sizeof(*names));
  read_words(rung, shape->words);

  const char* words[N_MOVES];
  for (unsigned move = 0; move < N_MOVES; ++move) {
    words[move] = move_name((Move)move);
  }
  const Setting moves =
    value_need(rung, "moves", "moves = [\"repeat\", \"thin out\"];");
  const unsigned set = word_set(moves, words, N_MOVES);
  shape->moves       = (MoveSet)set;
  if (set >> MOVE_ORNAMENT & 1U) {
    setting_fault(moves,
                  "ornament comes with the rungs of ornament; take it out of "
                  "this list");
  }
  if ((set >> MOVE_REPEAT & 1U) == 0) {
    setting_fault(moves,
                  "repeat is missing; every rung has it, so that there is "
                  "always an answer");
  }
  const ShapeRung* const below = shape - (index > 0);
  check_rising(rung, index, (shape->moves & below->moves) == below->moves);
}

static void
read_ornament(Ladder* const ladder, const Setting rung, const unsigned index)
{
  static const char* const names[]  = {"words", "crushed", "allows"};
  OrnamentRung* const      ornament = &ladder->ornament[index];
  value_allow(rung, names, sizeof(names) / sizeof(*names));
  read_words(rung, ornament->words);
  ornament->crushed_share = share_of(rung, "crushed");

  const unsigned set =
    word_set(setting_find(rung, "allows"), ornament_words, N_ORNAMENT_WORDS);
  ornament->approaches            = set & 1U;
  ornament->turns                 = set >> 1 & 1U;
  const OrnamentRung* const below = ornament - (index > 0);
  check_rising(
    rung,
    index,
    (ornament->crushed_share > 0.0F || below->crushed_share <= 0.0F) &&
      ornament->approaches >= below->approaches &&
      ornament->turns >= below->turns);
}

/// Reads one rung of a dimension into the ladder.
typedef void (*RungReader)(Ladder* ladder, Setting rung, unsigned index);

static void
read_dimension(Ladder* const    ladder,
               const Setting    top,
               const Dimension  dimension,
               const RungReader read_rung)
{
  const unsigned n_rungs = dimension_rungs(dimension);
  const Setting  rungs   = value_need(
    top, dimension_name(dimension), "a list of its rungs, ( { words = ... } )");
  const unsigned count = value_count(rungs, n_rungs, n_rungs);
  for (unsigned i = 0; i < count; ++i) {
    const Setting rung = value_group(setting_at(rungs, i));
    if (setting_kind(rung) == SETTING_GROUP) {
      read_rung(ladder, rung, i);
    }
  }
}

static void
read_start(Ladder* const ladder, const Setting top)
{
  const char*   names[N_DIMENSIONS];
  unsigned      most = 0;
  unsigned      sum  = 0;
  const Setting start =
    value_group(value_need(top, "start", "start = { notes = 1; ... };"));
  for (unsigned d = 0; d < N_DIMENSIONS; ++d) {
    names[d]               = dimension_name((Dimension)d);
    const unsigned n_rungs = dimension_rungs((Dimension)d);
    const Setting  level   = value_need(start, names[d], "a rung, from 1");
    ladder->start.level[d] = (uint8_t)value_int(level, 1, (int)n_rungs, 1);
    most += n_rungs;
    sum += ladder->start.level[d];
  }
  value_allow(start, names, N_DIMENSIONS);

  const Setting budget = value_need(top, "budget", "budget = 6;");
  ladder->budget =
    (uint8_t)value_int(budget, N_DIMENSIONS, (int)most, (int)most);
  if (ladder->budget < sum) {
    setting_fault(budget,
                  "budget %u is less than the rungs of start, which sum to %u",
                  ladder->budget,
                  sum);
  }
}

Status
ladder_file_read(Ladder* const ladder, Settings* const settings)
{
  static const char* const names[] = {
    "notes", "rhythm", "shape", "ornament", "start", "budget"};
  const Setting top = settings_top(settings);
  value_allow(top, names, sizeof(names) / sizeof(*names));

  *ladder = (Ladder){0};
  read_dimension(ladder, top, DIMENSION_NOTES, read_notes);
  read_dimension(ladder, top, DIMENSION_RHYTHM, read_rhythm);
  read_dimension(ladder, top, DIMENSION_SHAPE, read_shape);
  read_dimension(ladder, top, DIMENSION_ORNAMENT, read_ornament);
  read_start(ladder, top);
  return settings_status(settings);
}

Status
ladder_file_load(Ladder* const     ladder,
                 const char* const path,
                 Faults* const     faults)
{
  Settings* settings = NULL;
  Status    status   = settings_open(&settings, path, faults);
  if (status == STATUS_OK) {
    status = ladder_file_read(ladder, settings);
    settings_close(settings);
  }
  return status;
}
