// How a turn is engraved: what is long stands in halves, too.

#include "responder/page/staves.h"

#include "fixture.h"

#include <criterion/criterion.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { BEAT = TICKS_PER_QUARTER, BAR = 4 * BEAT };

static Setup setup;

// A turn from bar 5 on with so many notes on its beats, the first before it
static json_t*
engraved(const unsigned n_bars, const unsigned n_notes)
{
  const Choices blues = fixture_choices();
  const Tick    start = 4 * BAR;
  Phrase phrase       = {.start_tick = start, .end_tick = start + n_bars * BAR};
  fixture_load(&setup, &blues);
  for (Tick tick = start - BEAT; phrase.n_notes < n_notes; tick += BEAT) {
    phrase.notes[phrase.n_notes++] = (HeardNote){
      .note        = {.tick = tick, .length = BEAT, .pitch = 67},
      .grid_tick   = tick,
      .grid_length = BEAT,
    };
  }
  const SessionOptions session = setup_session(&setup);
  const Turn turn = {.by_player = true, .start = start, .end = phrase.end_tick};
  json_t* const staff = staves_engrave(&session, turn, &phrase);
  cr_assert_not_null(staff);
  return staff;
}

// Nothing, where abcm2ps is missing
static json_t*
drawn(const unsigned n_bars, const unsigned n_notes)
{
  json_t* const staff = engraved(n_bars, n_notes);
  if (json_object_get(staff, "missing")) {
    json_decref(staff);
    cr_skip("abcm2ps is missing");
  }
  return staff;
}

static double
height_of(const json_t* const staff)
{
  const char* const svg    = json_string_value(json_object_get(staff, "svg"));
  const char* const box    = strstr(svg, "viewBox=");
  double            width  = 0.0;
  double            height = 0.0;
  cr_assert_eq(sscanf(box, "viewBox=\"0 0 %lf %lf\"", &width, &height), 2);
  return height;
}

// So often a mark stands left of the one before. They are told the height of
// their line: together all of the picture
static unsigned
lines_of(const json_t* const staff)
{
  unsigned n      = 0;
  double   before = 1e9;
  double   bottom = 0.0;
  size_t   i;
  json_t*  mark;
  json_array_foreach(json_object_get(staff, "marks"), i, mark)
  {
    const double x = json_number_value(json_object_get(mark, "x"));
    const double y = json_number_value(json_object_get(mark, "y"));
    if (x < before) {
      cr_expect_float_eq(y, bottom, 0.01);
      bottom = y + json_number_value(json_object_get(mark, "h"));
      ++n;
    }
    before = x;
  }
  cr_expect_float_eq(bottom, height_of(staff), 0.01);
  return n;
}

Test(staves, a_turn_of_four_bars_stands_in_halves_too)
{
  json_t* const       staff  = drawn(4, 17);
  const json_t* const halves = json_object_get(staff, "halves");
  cr_assert_not_null(halves);
  cr_expect_eq(lines_of(staff), 1);
  cr_expect_eq(lines_of(halves), 2);
  cr_expect_eq(json_array_size(json_object_get(staff, "marks")), 17);
  cr_expect_eq(json_array_size(json_object_get(halves, "marks")), 17);
  json_decref(staff);
}

Test(staves, a_short_turn_does_not)
{
  json_t* const staff = drawn(2, 9);
  cr_expect_null(json_object_get(staff, "halves"));
  cr_expect_eq(lines_of(staff), 1);
  json_decref(staff);
}

// What was struck as the next turn began takes a bar more, but no line
Test(staves, what_runs_over_takes_no_line)
{
  json_t* const staff = drawn(4, 18);
  cr_expect_eq(lines_of(staff), 1);
  cr_expect_eq(lines_of(json_object_get(staff, "halves")), 2);
  cr_expect_lt(height_of(staff), 120.0);
  json_decref(staff);
}

// ... which there is, too, where nothing was played
Test(staves, a_line_without_a_note_is_a_line)
{
  json_t* const       staff  = drawn(4, 5);
  const json_t* const halves = json_object_get(staff, "halves");
  const json_t* const mark =
    json_array_get(json_object_get(halves, "marks"), 4);
  const double reach = json_number_value(json_object_get(mark, "h"));
  cr_expect_lt(reach, 0.7 * height_of(halves));
  cr_expect_gt(reach, 0.3 * height_of(halves));
  json_decref(staff);
}

// An abcm2ps of the test's own
static const char*
missing_by(const char* const script)
{
  static char words[80];
  FILE* const file = fopen("abcm2ps", "w");
  cr_assert_not_null(file);
  (void)fprintf(file, "#!/bin/sh\n%s\n", script);
  cr_assert_eq(fclose(file), 0);
  cr_assert_eq(chmod("abcm2ps", 0700), 0);
  json_t* const     staff = engraved(4, 17);
  const char* const why = json_string_value(json_object_get(staff, "missing"));
  (void)snprintf(words, sizeof(words), "%s", why ? why : "");
  cr_expect_null(json_object_get(staff, "svg"));
  json_decref(staff);
  return words;
}

Test(staves, why_there_is_none_is_said)
{
  char folder[] = "/tmp/test_staves_XXXXXX";
  cr_assert_not_null(mkdtemp(folder));
  cr_assert_eq(chdir(folder), 0);
  (void)setenv("PATH", folder, 1);
  cr_expect_str_eq(missing_by("exit 1"),
                   "no staff: abcm2ps failed");
  cr_expect_str_eq(missing_by("echo nonsense"),
                   "no staff: abcm2ps failed");
  cr_assert_eq(unlink("abcm2ps"), 0);
  json_t* const staff = engraved(4, 17);
  cr_expect_str_eq(json_string_value(json_object_get(staff, "missing")),
                   "install the package abcm2ps");
  json_decref(staff);
  cr_assert_eq(rmdir(folder), 0);
}
