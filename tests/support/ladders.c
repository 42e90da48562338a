#include "support/ladders.h"

#include "support/writing.h"

#include <stdbool.h>
#include <stdio.h>

static unsigned
below(Rng* const rng, const unsigned n)
{
  return (unsigned)(rng_unit(rng) * n);
}

static bool
tossed(Rng* const rng)
{
  return below(rng, 3) == 0;
}

static void
draw_notes(Ladder* const ladder, Rng* const rng)
{
  NotesRung rung = {.chord_tones = 1, .range = (uint8_t)(5 + below(rng, 9))};
  for (unsigned i = 0; i < N_NOTES_RUNGS; ++i) {
    const unsigned tones = rung.chord_tones + below(rng, 3);
    const unsigned range = rung.range + below(rng, 6);
    rung.chord_tones     = (uint8_t)(tones < 4 ? tones : 4);
    rung.range           = (uint8_t)(range < 36 ? range : 36);
    if (rung.scale_share > 0.0F || tossed(rng)) {
      rung.scale_share = 0.05F + 0.4F * (float)rng_unit(rng);
    }
    if (rung.outside_share > 0.0F || tossed(rng)) {
      rung.outside_share = 0.02F + 0.2F * (float)rng_unit(rng);
    }
    (void)snprintf(rung.words, sizeof(rung.words), "notes %u", i + 1);
    ladder->notes[i] = rung;
  }
}

static void
draw_rhythm(Ladder* const ladder, Rng* const rng)
{
  RhythmRung rung = {.onsets_per_bar = 1.0F + 3.0F * (float)rng_unit(rng)};
  for (unsigned i = 0; i < N_RHYTHM_RUNGS; ++i) {
    rung.onsets_per_bar += 1.5F * (float)rng_unit(rng);
    rung.eighths      = rung.eighths || tossed(rng);
    rung.swing        = rung.swing || tossed(rng);
    rung.off_beats    = rung.off_beats || tossed(rng);
    rung.triplets     = rung.triplets || tossed(rng);
    rung.sixteenths   = rung.sixteenths || tossed(rng);
    rung.cross_rhythm = rung.cross_rhythm || tossed(rng);
    (void)snprintf(rung.words, sizeof(rung.words), "rhythm %u", i + 1);
    ladder->rhythm[i] = rung;
  }
}

static void
draw_shape(Ladder* const ladder, Rng* const rng)
{
  ShapeRung rung = {.moves = 1U << MOVE_REPEAT};
  for (unsigned i = 0; i < N_SHAPE_RUNGS; ++i) {
    for (unsigned move = 0; move < N_MOVES; ++move) {
      if (move != MOVE_ORNAMENT && tossed(rng)) {
        rung.moves = (MoveSet)(rung.moves | 1U << move);
      }
    }
    (void)snprintf(rung.words, sizeof(rung.words), "shape %u", i + 1);
    ladder->shape[i] = rung;
  }
}

static void
draw_ornament(Ladder* const ladder, Rng* const rng)
{
  OrnamentRung rung = {.crushed_share = 0.0F};
  for (unsigned i = 0; i < N_ORNAMENT_RUNGS; ++i) {
    if (rung.crushed_share > 0.0F || tossed(rng)) {
      rung.crushed_share = 0.02F + 0.3F * (float)rng_unit(rng);
    }
    rung.approaches = rung.approaches || tossed(rng);
    rung.turns      = rung.turns || tossed(rng);
    (void)snprintf(rung.words, sizeof(rung.words), "ornament %u", i + 1);
    ladder->ornament[i] = rung;
  }
}

Ladder
ladders_draw(Rng* const rng)
{
  Ladder ladder = {.start = {{1, 1, 1, 1}}, .budget = N_DIMENSIONS};
  draw_notes(&ladder, rng);
  draw_rhythm(&ladder, rng);
  draw_shape(&ladder, rng);
  draw_ornament(&ladder, rng);
  return ladder;
}

static void
put_words(Writing* const           writing,
          const char* const        name,
          const char* const* const words,
          const unsigned           n_words,
          const unsigned           set)
{
  bool is_first = true;
  put(writing, " %s = [", name);
  for (unsigned i = 0; i < n_words; ++i) {
    if (set >> i & 1U) {
      put(writing, "%s \"%s\"", is_first ? "" : ",", words[i]);
      is_first = false;
    }
  }
  put(writing, " ];");
}

static void
put_notes(Writing* const writing, const NotesRung* const rung)
{
  put(writing,
      "{ words = \"%s\"; chord_tones = %u; range = %u; scale = %.4f; outside "
      "= %.4f; }",
      rung->words,
      rung->chord_tones,
      rung->range,
      (double)rung->scale_share,
      (double)rung->outside_share);
}

static void
put_rhythm(Writing* const writing, const RhythmRung* const rung)
{
  static const char* const words[] = {
    "eighths", "swing", "off-beats", "triplets", "sixteenths", "cross rhythm"};
  const unsigned set =
    (unsigned)rung->eighths | (unsigned)rung->swing << 1 |
    (unsigned)rung->off_beats << 2 | (unsigned)rung->triplets << 3 |
    (unsigned)rung->sixteenths << 4 | (unsigned)rung->cross_rhythm << 5;
  put(writing,
      "{ words = \"%s\"; onsets = %.4f;",
      rung->words,
      (double)rung->onsets_per_bar);
  put_words(writing, "allows", words, 6, set);
  put(writing, " }");
}

static void
put_shape(Writing* const writing, const ShapeRung* const rung)
{
  const char* words[N_MOVES];
  for (unsigned move = 0; move < N_MOVES; ++move) {
    words[move] = move_name((Move)move);
  }
  put(writing, "{ words = \"%s\";", rung->words);
  put_words(writing, "moves", words, N_MOVES, rung->moves);
  put(writing, " }");
}

static void
put_ornament(Writing* const writing, const OrnamentRung* const rung)
{
  static const char* const words[] = {"approaches", "turns"};
  put(writing,
      "{ words = \"%s\"; crushed = %.4f;",
      rung->words,
      (double)rung->crushed_share);
  put_words(writing,
            "allows",
            words,
            2,
            (unsigned)rung->approaches | (unsigned)rung->turns << 1);
  put(writing, " }");
}

size_t
ladders_text(const Ladder* const ladder,
             char* const         text,
             const size_t        capacity)
{
  Writing writing = {text, capacity, 0};
  for (unsigned d = 0; d < N_DIMENSIONS; ++d) {
    const unsigned n = dimension_rungs((Dimension)d);
    put(&writing, "%s = (\n", dimension_name((Dimension)d));
    for (unsigned i = 0; i < n; ++i) {
      switch ((Dimension)d) {
        case DIMENSION_NOTES:
          put_notes(&writing, &ladder->notes[i]);
          break;
        case DIMENSION_RHYTHM:
          put_rhythm(&writing, &ladder->rhythm[i]);
          break;
        case DIMENSION_SHAPE:
          put_shape(&writing, &ladder->shape[i]);
          break;
        case DIMENSION_ORNAMENT:
          put_ornament(&writing, &ladder->ornament[i]);
          break;
      }
      put(&writing, i + 1 < n ? ",\n" : " );\n");
    }
  }
  put(&writing, "start = { ");
  for (unsigned d = 0; d < N_DIMENSIONS; ++d) {
    put(&writing,
        "%s = %u; ",
        dimension_name((Dimension)d),
        ladder->start.level[d]);
  }
  put(&writing, "};\nbudget = %u;\n", ladder->budget);
  return writing.n;
}
