#include "fixture.h"

#include "responder/hear/ideas.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

static Fixture fixture;
static Ideas   ideas;

/// A random phrase of four bars on eighths.
static Idea
random_idea(const unsigned onsets_per_bar, Rng* const rng)
{
  Idea     idea  = {.by_player = true};
  unsigned left  = 4 * onsets_per_bar;
  int      pitch = 60;
  for (unsigned slot = 0; slot < 32; ++slot) {
    if (rng_below(rng, 32 - slot) < left) {
      pitch += (int)rng_below(rng, 9) - 4;
      pitch                      = pitch < 48 ? 53 : pitch > 80 ? 75 : pitch;
      idea.ticks[idea.n_notes]   = (Tick)slot * 480;
      idea.lengths[idea.n_notes] = 480;
      idea.pitches[idea.n_notes] = (uint8_t)pitch;
      ++idea.n_notes;
      --left;
    }
  }
  return idea;
}

Test(ideas, the_same_is_wholly_alike)
{
  Rng rng = rng_seed(1, 1);
  for (unsigned density = 1; density <= 8; ++density) {
    const Idea     idea = random_idea(density, &rng);
    const Likeness like = idea_likeness(&idea, &idea);
    cr_assert_float_eq(like.rhythm, 1, 1e-5);
    cr_assert_float_eq(like.pitch, 1, 1e-5);
    cr_assert_float_eq(like.whole, 1, 1e-5);
  }
}

Test(ideas, transposed_is_the_same)
{
  Rng  rng   = rng_seed(2, 1);
  Idea idea  = random_idea(4, &rng);
  Idea moved = idea;
  for (unsigned i = 0; i < moved.n_notes; ++i) {
    moved.pitches[i] = (uint8_t)(moved.pitches[i] + 7);
  }
  cr_assert_float_eq(idea_likeness(&idea, &moved).pitch, 1, 1e-5);
}

/// A cell of a longer phrase, said again in another: what is heard as the same
/// is common practice, no source.
typedef struct {
  char    name[32];
  uint8_t n;
  uint8_t gaps[8]; ///< In eighths, before each note
  uint8_t pitches[8];
  bool    is_again;
} StretchRow;

ParameterizedTestParameters(ideas, stretches)
{
  // The cell: 67 for a quarter, 64 and 62 for eighths, 60, 62 and 64
  static StretchRow rows[] = {
    {"four as they were", 4, {2, 2, 1, 1}, {67, 64, 62, 60}, true},
    {"an octave up", 4, {2, 2, 1, 1}, {79, 76, 74, 72}, true},
    {"three only", 3, {2, 2, 1}, {67, 64, 62}, false},
    {"in another rhythm", 4, {2, 1, 1, 2}, {67, 64, 62, 60}, false},
    {"four, a step up", 4, {2, 2, 1, 1}, {69, 66, 64, 62}, false},
    {"six, a step up", 6, {2, 2, 1, 1, 2, 1}, {69, 65, 64, 62, 64, 65}, true},
    {"six that turn elsewhere",
     6,
     {2, 2, 1, 1, 2, 1},
     {69, 65, 64, 62, 60, 65},
     false},
    {"one note six times",
     6,
     {2, 1, 1, 1, 1, 1},
     {67, 67, 67, 67, 67, 67},
     false},
  };
  return cr_make_param_array(StretchRow, rows, sizeof(rows) / sizeof(*rows));
}

static void
add_note(Idea* const idea, const unsigned eighths, const unsigned pitch)
{
  const unsigned n = idea->n_notes++;
  idea->ticks[n]   = (n ? idea->ticks[n - 1] : 0) + (Tick)eighths * 480;
  idea->lengths[n] = 480;
  idea->pitches[n] = (uint8_t)pitch;
}

ParameterizedTest(StretchRow* row, ideas, stretches)
{
  static const uint8_t gaps[]    = {3, 2, 1, 1, 2, 1, 3, 1};
  static const uint8_t pitches[] = {67, 64, 62, 60, 62, 64, 67, 67};
  Idea                 said      = {.n_notes = 0};
  Idea                 now       = {.n_notes = 0};
  for (unsigned i = 0; i < 8; ++i) {
    add_note(&said, gaps[i], pitches[i]);
  }
  add_note(&now, 5, 71);
  for (unsigned i = 0; i < row->n; ++i) {
    add_note(&now, row->gaps[i], row->pitches[i]);
  }
  add_note(&now, 5, 53);
  cr_assert_eq(idea_has_stretch(&said, &now), row->is_again, "%s", row->name);
  cr_assert_eq(idea_has_stretch(&now, &said), row->is_again, "%s", row->name);
}

/// What goes evenly is heard again from six notes on.
Test(ideas, even_stretches_are_longer)
{
  for (unsigned n = 4; n <= 7; ++n) {
    Idea said = {.n_notes = 0};
    Idea now  = {.n_notes = 0};
    for (unsigned i = 0; i < 8; ++i) {
      add_note(&said, 1, 60 + 2 * i);
      add_note(&now, 1, i < n ? 60 + 2 * i : 73 - i);
    }
    cr_assert_eq(idea_has_stretch(&said, &now), n >= 6, "%u", n);
  }
}

/// Swung quavers come again as straight ones, but not every gap a sixth of a
/// beat longer or shorter is the same: twice as long is another.
Test(ideas, stretches_keep_their_gaps)
{
  static const struct {
    Tick gaps[2][5];
    bool is_again;
  } rows[] = {
    {{{640, 320, 640, 320, 960}, {480, 480, 480, 480, 960}}, true},
    {{{640, 320, 640, 320, 960}, {640, 319, 640, 320, 960}}, true},
    {{{640, 318, 640, 320, 960}, {480, 478, 480, 480, 960}}, false},
    {{{160, 160, 320, 160, 640}, {320, 320, 160, 160, 480}}, false},
  };
  static const uint8_t pitches[2][6] = {{62, 60, 65, 60, 63, 60},
                                        {63, 60, 63, 60, 63, 60}};
  for (unsigned row = 0; row < sizeof(rows) / sizeof(*rows); ++row) {
    Idea pair[2] = {{.n_notes = 6}, {.n_notes = 6}};
    for (unsigned i = 0; i < 12; ++i) {
      Idea* const    idea = &pair[i / 6];
      const unsigned n    = i % 6;
      idea->pitches[n]    = pitches[i / 6][n];
      idea->ticks[n] =
        n ? idea->ticks[n - 1] + rows[row].gaps[i / 6][n - 1] : 0;
    }
    cr_assert_eq(
      idea_has_stretch(&pair[0], &pair[1]), rows[row].is_again, "%u", row);
  }
}

Test(ideas, likeness_is_mutual)
{
  Rng rng = rng_seed(3, 1);
  for (unsigned i = 0; i < 200; ++i) {
    const Idea     a  = random_idea(1 + i % 8, &rng);
    const Idea     b  = random_idea(1 + i / 8 % 8, &rng);
    const Likeness ab = idea_likeness(&a, &b);
    const Likeness ba = idea_likeness(&b, &a);
    cr_assert_float_eq(ab.rhythm, ba.rhythm, 1e-5);
    cr_assert_float_eq(ab.pitch, ba.pitch, 1e-5);
    cr_assert(ab.rhythm >= 0 && ab.rhythm <= 1.00001F);
    cr_assert(ab.pitch >= 0 && ab.pitch <= 1.00001F);
  }
}

/// Unrelated phrases of one density are little alike in the mean.
Test(ideas, unrelated_phrases)
{
  Rng rng = rng_seed(4, 1);
  for (unsigned density = 2; density <= 6; ++density) {
    double   sum         = 0;
    unsigned n_stretches = 0;
    for (unsigned i = 0; i < 500; ++i) {
      const Idea a = random_idea(density, &rng);
      const Idea b = random_idea(density, &rng);
      sum += (double)idea_likeness(&a, &b).whole;
      n_stretches += idea_has_stretch(&a, &b);
    }
    cr_assert_lt(sum / 500, 0.35, "%u a bar: %f", density, sum / 500);
    cr_assert_lt(n_stretches, 25, "%u a bar: %u", density, n_stretches);
  }
}

/// Moving a rhythm makes it less alike, the more so the less the beat; adding
/// or leaving out a note little.
Test(ideas, related_rhythms)
{
  Rng        rng     = rng_seed(5, 1);
  double     sum[4]  = {0};
  const Tick moves[] = {960, 480, 240};
  for (unsigned i = 0; i < 200; ++i) {
    const Idea idea = random_idea(3, &rng);
    for (unsigned m = 0; m < 3; ++m) {
      Idea moved = idea;
      for (unsigned n = 0; n < moved.n_notes; ++n) {
        moved.ticks[n] += moves[m];
      }
      sum[m] += (double)idea_likeness(&idea, &moved).rhythm / 200;
    }
    Idea shorter = idea;
    --shorter.n_notes;
    sum[3] += (double)idea_likeness(&idea, &shorter).rhythm / 200;
  }
  cr_assert(sum[0] > sum[1] && sum[1] > sum[2] && sum[2] > 0);
  cr_assert_gt(sum[1], 0.5);
  cr_assert_gt(sum[3], 0.8);
}

/// Even quarters are everyone's: the same rhythm makes no idea.
Test(ideas, an_even_rhythm_alone_is_no_idea)
{
  Idea                 a      = {.n_notes = 8};
  Idea                 b      = {.n_notes = 8};
  static const uint8_t up[]   = {60, 64, 67, 70, 72, 76, 79, 82};
  static const uint8_t down[] = {79, 77, 72, 70, 65, 63, 60, 55};
  for (unsigned i = 0; i < 8; ++i) {
    a.ticks[i] = b.ticks[i] = (Tick)i * 960;
    a.pitches[i]            = up[i];
    b.pitches[i]            = down[i];
  }
  cr_assert_float_eq(idea_likeness(&a, &b).rhythm, 1, 1e-5);
  cr_assert_lt(idea_likeness(&a, &b).whole, 0.35);
}

Test(ideas, nothing_is_like_nothing)
{
  Rng        rng   = rng_seed(6, 1);
  const Idea empty = {.n_notes = 0};
  const Idea idea  = random_idea(3, &rng);
  cr_assert_eq(idea_likeness(&empty, &idea).whole, 0);
  cr_assert_eq(idea_likeness(&empty, &empty).whole, 0);
  float likeness = 1;
  ideas          = (Ideas){0};
  cr_assert_eq(ideas_meet(&ideas, &empty, &likeness), 0);
  cr_assert_eq(likeness, 0);
  cr_assert_eq(ideas.n_ideas, 0);
}

Test(ideas, an_idea_comes_back)
{
  Rng   rng         = rng_seed(7, 1);
  float likeness    = 0;
  ideas             = (Ideas){0};
  const Idea first  = random_idea(3, &rng);
  const Idea second = random_idea(4, &rng);
  cr_assert_eq(ideas_meet(&ideas, &first, &likeness), 1);
  cr_assert_eq(likeness, 0);
  cr_assert_eq(ideas_meet(&ideas, &second, &likeness), 2);
  Idea again = first;
  again.pitches[2] += 1;
  --again.n_notes;
  cr_assert_eq(ideas_meet(&ideas, &again, &likeness), 1);
  cr_assert_gt(likeness, 0.6F);
  cr_assert_eq(ideas.n_ideas, 2);
  cr_assert_eq(ideas_get(&ideas, 1)->n_notes, first.n_notes);
  cr_assert_null(ideas_get(&ideas, 3));
}

/// The first is kept for good, of the others the oldest makes room.
Test(ideas, the_memory_forgets_the_oldest_but_the_first)
{
  Rng   rng      = rng_seed(8, 1);
  float likeness = 0;
  ideas          = (Ideas){0};
  unsigned n_new = 0;
  while (n_new < 40) {
    const Idea     idea = random_idea(2 + n_new % 3, &rng);
    const unsigned id   = ideas_meet(&ideas, &idea, &likeness);
    n_new               = id > n_new ? id : n_new;
  }
  cr_assert_eq(ideas.n_ideas, IDEA_CAPACITY);
  cr_assert_not_null(ideas_get(&ideas, 1));
  cr_assert_null(ideas_get(&ideas, 2));
  cr_assert_not_null(ideas_get(&ideas, 40));
  cr_assert_not_null(ideas_get(&ideas, 40 - IDEA_CAPACITY + 2));
  cr_assert_null(ideas_get(&ideas, 40 - IDEA_CAPACITY + 1));
}

Test(ideas, of_a_phrase)
{
  fixture_open(&fixture, "4/4", "C7|C7", "major", 120);
  fixture_add(&fixture, 900, 60, 63);
  fixture_add(&fixture, 960, 900, 64);
  fixture_add(&fixture, 1920, 400, 60);
  fixture.places[0]    = 960;
  fixture.ornaments[0] = true;
  const Idea idea      = idea_of(fixture_hear_written(&fixture, 2), true);
  cr_assert_eq(idea.n_notes, 2);
  cr_assert_eq(idea.ticks[0], 960);
  cr_assert_eq(idea.lengths[0], 960);
  cr_assert_eq(idea.pitches[1], 60);
  cr_assert(idea.by_player);
}

// From a likeness of .6 on it is the idea that comes back, below it is new: of
// pairs by chance, some lie close to it on either side.
Test(ideas, come_back_from_a_likeness_on)
{
  unsigned n_just_above = 0;
  unsigned n_just_below = 0;
  for (uint64_t seed = 0; seed < 4000; ++seed) {
    Rng   rng = rng_seed(seed, 8);
    Idea  pair[2];
    float likeness = 0.0F;
    ideas          = (Ideas){.n_ideas = 0};
    for (unsigned i = 0; i < 2; ++i) {
      pair[i] = (Idea){.n_notes = 5 + rng_below(&rng, 3)};
      for (unsigned j = 0; j < pair[i].n_notes; ++j) {
        pair[i].ticks[j]   = j * 480 + 240 * rng_below(&rng, 2);
        pair[i].lengths[j] = 200;
        pair[i].pitches[j] = (uint8_t)(60 + rng_below(&rng, 5));
      }
    }
    const float whole = idea_likeness(&pair[0], &pair[1]).whole;
    cr_assert_eq(ideas_meet(&ideas, &pair[0], &likeness), 1U);
    cr_assert_eq(ideas_meet(&ideas, &pair[1], &likeness),
                 whole >= 0.6F ? 1U : 2U,
                 "%g",
                 (double)whole);
    n_just_above += whole >= 0.6F && whole < 0.62F;
    n_just_below += whole < 0.6F && whole > 0.58F;
  }
  cr_assert_gt(n_just_above, 0U);
  cr_assert_gt(n_just_below, 0U);
}

/// A row of even quavers that go by one interval.
static Idea
row_of(const int interval, const unsigned n)
{
  Idea idea = {.n_notes = n};
  for (unsigned i = 0; i < n; ++i) {
    idea.ticks[i]   = i * 480;
    idea.lengths[i] = 400;
    idea.pitches[i] = (uint8_t)(64 + (i % 2 ? interval : 0) + (int)i / 2);
  }
  return idea;
}

// Worth coming back to: what was left, and came most often
Test(ideas, know_what_was_left)
{
  const Idea rows[]   = {row_of(7, 5), row_of(-7, 5), row_of(2, 5)};
  float      likeness = 0.0F;
  ideas               = (Ideas){.n_ideas = 0};
  cr_assert_null(ideas_left(&ideas, &rows[0], 0.75F));
  cr_assert_eq(ideas_meet(&ideas, &rows[0], &likeness), 1U);
  cr_assert_eq(ideas_meet(&ideas, &rows[1], &likeness), 2U);
  cr_assert_null(ideas_left(&ideas, &rows[1], 0.75F), "both have just come");
  cr_assert_eq(ideas_meet(&ideas, &rows[2], &likeness), 3U);
  cr_assert_eq(ideas_left(&ideas, &rows[2], 0.75F)->id, 1U);
  cr_assert_null(ideas_left(&ideas, &rows[0], 0.75F), "it is being said");
  cr_assert_eq(ideas_meet(&ideas, &rows[1], &likeness), 2U);
  cr_assert_eq(ideas_meet(&ideas, &rows[1], &likeness), 2U);
  cr_assert_eq(ideas_left(&ideas, &rows[1], 0.75F)->id, 1U, "equal: the first");
  cr_assert_eq(ideas_meet(&ideas, &rows[2], &likeness), 3U);
  cr_assert_eq(ideas_meet(&ideas, &rows[0], &likeness), 1U);
  cr_assert_eq(ideas_left(&ideas, &rows[0], 0.75F)->id, 2U, "came three times");

  Idea kept    = rows[0];
  kept.is_kept = true;
  ideas        = (Ideas){.n_ideas = 0};
  for (unsigned i = 0; i < 6; ++i) {
    (void)ideas_meet(&ideas, i == 0 ? &kept : &rows[1 + i % 2], &likeness);
  }
  cr_assert_eq(ideas_left(&ideas, &rows[2], 0.75F)->id, 1U, "of the notebook");
}
