// How a turn is engraved: what is long stands in halves, too.

#include "responder/page/staves.h"

#include "fixture.h"

#include <criterion/criterion.h>

#include <stdio.h>
#include <string.h>

enum { BEAT = TICKS_PER_QUARTER, BAR = 4 * BEAT };

static Setup setup;

// A turn from bar 5 on with a note on each beat, and a pick-up
static json_t*
engraved(const unsigned n_bars, const bool runs_over)
{
  const Choices blues = fixture_choices();
  const Tick    start = 4 * BAR;
  Phrase phrase       = {.start_tick = start, .end_tick = start + n_bars * BAR};
  fixture_load(&setup, &blues);
  for (Tick tick = start - BEAT; tick < phrase.end_tick + (runs_over ? 1 : 0);
       tick += BEAT) {
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

// So often a mark stands left of the one before
static unsigned
lines_of(const json_t* const staff)
{
  unsigned n      = 0;
  double   before = 1e9;
  size_t   i;
  json_t*  mark;
  json_array_foreach(json_object_get(staff, "marks"), i, mark)
  {
    const double x = json_number_value(json_object_get(mark, "x"));
    n += x < before;
    before = x;
  }
  return n;
}

Test(staves, a_turn_of_four_bars_stands_in_halves_too)
{
  json_t* const       staff  = engraved(4, false);
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
  json_t* const staff = engraved(2, false);
  cr_expect_null(json_object_get(staff, "halves"));
  cr_expect_eq(lines_of(staff), 1);
  json_decref(staff);
}

// What was struck as the next turn began takes a bar more, but no line
Test(staves, what_runs_over_takes_no_line)
{
  json_t* const staff = engraved(4, true);
  cr_expect_eq(lines_of(staff), 1);
  cr_expect_eq(lines_of(json_object_get(staff, "halves")), 2);
  cr_expect_lt(height_of(staff), 120.0);
  json_decref(staff);
}
