#include "profiles/choices/choices.h"

#include "core/rng.h"

#include <criterion/criterion.h>

#include <stdio.h>
#include <string.h>

// What every row must keep to

static bool
is_number(const Row* const row)
{
  return (row->kind == ROW_COUNT && !row->words) || row->kind == ROW_NUMBER ||
         row->kind == ROW_BYTE;
}

Test(choices, are_each_called_by_a_name_of_their_own)
{
  for (unsigned i = 0; i < N_CHOICES; ++i) {
    const ChoiceRow* const a = choice_row(i);
    cr_assert(a->row.name && a->row.help && a->places, "%u", i);
    for (unsigned j = 0; j < i; ++j) {
      const ChoiceRow* const b = choice_row(j);
      cr_assert_str_neq(a->row.name, b->row.name);
      cr_assert(!a->recorded || !b->recorded ||
                  strcmp(a->recorded, b->recorded) != 0,
                "%s",
                a->row.name);
    }
  }
}

// The help of a number says its range, if it says one, and that of words all
Test(choices, are_helped_by_their_ranges)
{
  for (unsigned i = 0; i < N_CHOICES; ++i) {
    const Row* const row = &choice_row(i)->row;
    char             range[32];
    (void)snprintf(range, sizeof(range), "%g to %g", row->least, row->most);
    if (is_number(row) && strstr(row->help, " to ")) {
      cr_assert_not_null(strstr(row->help, range), "%s", row->help);
    }
    for (unsigned w = 0; row->words && row->words[w]; ++w) {
      cr_assert(strstr(row->help, row->words[w]) || i == CHOICE_THINS ||
                  i == CHOICE_WAY,
                "%s",
                row->help);
    }
    cr_assert_leq(strlen(row->help), 56, "%s", row->help);
  }
}

// What is built in is within every range
Test(choices, are_plain_within_their_ranges)
{
  const Choices plain = choices_plain();
  for (unsigned i = 0; i < N_CHOICES; ++i) {
    const Row* const row    = &choice_row(i)->row;
    const double     number = row_number(row, &plain);
    const bool       is_open =
      i == CHOICE_TEMPO || (i >= CHOICE_NOTES && i <= CHOICE_ORNAMENT) ||
      (choice_row(i)->is_rare && number == 0.0); // Nobody chose
    cr_assert(!is_number(row) || is_open ||
                (number >= row->least && number <= row->most),
              "%s",
              row->name);
    cr_assert_eq(choices_place(&plain, i), CHOICE_BY_DEFAULT);
  }
  cr_assert_geq(plain.highest, plain.lowest + CHOICES_RANGE_LEAST);
}

// Any value of a choice, in words
static const char*
draw(const Row* const row, Rng* const rng, char text[ROW_TEXT_CAPACITY])
{
  static const char* const names[]    = {"C", "Eb", "blues", "a/b.cfg"};
  static const char* const programs[] = {"1", "128", "acoustic bass"};
  static const char* const rungs[]    = {"3", "notes=4", "shape=2,rhythm=7"};
  unsigned                 n          = 0;
  while (row->words && row->words[n]) {
    ++n;
  }
  if (n) {
    return row->words[rng_below(rng, n)];
  }
  if (is_number(row)) {
    const uint32_t steps = (uint32_t)(row->most - row->least);
    (void)snprintf(text,
                   ROW_TEXT_CAPACITY,
                   "%g",
                   row->least + (double)rng_below(rng, steps + 1));
    return text;
  }
  switch (row->kind) {
    case ROW_LONG:
    case ROW_PITCH:
      (void)snprintf(text, ROW_TEXT_CAPACITY, "%u", rng_below(rng, 128));
      return text;
    case ROW_PROGRAM:
      return programs[rng_below(rng, 3)];
    case ROW_OWN:
      return rungs[rng_below(rng, 3)];
    case ROW_TEXT:
      return names[rng_below(rng, 4)];
    default:
      return NULL; // A flag
  }
}

static void
check_laid(const Choices* const laid,
           const Choices* const under,
           const Said* const    said,
           const Choice         choice)
{
  const Row* const row    = &choice_row(choice)->row;
  const bool       is_set = said_has(said, choice);
  char             is[ROW_TEXT_CAPACITY];
  char             was[ROW_TEXT_CAPACITY];
  cr_assert_eq(choices_place(laid, choice),
               is_set ? CHOICE_BY_ASKING : CHOICE_BY_DEFAULT,
               "%s",
               row->name);
  if (choice != CHOICE_RUNG) { // Some of its parts may be said
    cr_assert_str_eq(row_text(row, laid, is),
                     row_text(row, is_set ? &said->values : under, was),
                     "%s",
                     row->name);
  }
}

// What is said is laid over the rest, and nothing else changes
Test(choices, lay_what_was_said_and_no_more)
{
  Rng rng = rng_seed(3, 1);
  for (unsigned round = 0; round < 2000; ++round) {
    const Choices under = choices_plain();
    Choices       laid  = under;
    Said          said  = {.set = 0};
    Fault         fault;
    for (unsigned i = 0; i < N_CHOICES; ++i) {
      char text[ROW_TEXT_CAPACITY];
      if (rng_below(&rng, 3) == 0) {
        cr_assert_eq(
          said_add(
            &said, i, "it", draw(&choice_row(i)->row, &rng, text), &fault),
          STATUS_OK,
          "%s",
          fault.text);
        cr_assert(said_has(&said, i));
      }
    }
    choices_lay(&laid, &said, CHOICE_BY_ASKING);
    for (unsigned i = 0; i < N_CHOICES; ++i) {
      check_laid(&laid, &under, &said, i);
    }
  }
}

// What is right of a rung says how far each dimension goes
Test(choices, say_how_far_a_rung_goes)
{
  const char* const right = choice_row(CHOICE_RUNG)->row.right;
  for (unsigned d = 0; d < N_DIMENSIONS; ++d) {
    char range[32];
    (void)snprintf(
      range, sizeof(range), "%s=1..%u", dimension_name(d), dimension_rungs(d));
    cr_assert_not_null(strstr(right, range), "%s", right);
    cr_assert_eq((unsigned)choice_row(CHOICE_NOTES + d)->row.most,
                 dimension_rungs(d));
  }
}

Test(choices, of_a_rung_only_what_is_named)
{
  Said    said    = {.set = 0};
  Choices choices = choices_plain();
  Fault   fault;
  choices.rung = (Rung){{1, 2, 3, 4}};
  cr_assert_eq(said_add(&said, CHOICE_RUNG, "--rung", "rhythm=5", &fault),
               STATUS_OK);
  choices_lay(&choices, &said, CHOICE_BY_ASKING);
  cr_assert_arr_eq(choices.rung.level, ((uint8_t[]){1, 5, 3, 4}), N_DIMENSIONS);
  cr_assert_eq(choices_place(&choices, CHOICE_RHYTHM), CHOICE_BY_ASKING);
  cr_assert_eq(choices_place(&choices, CHOICE_NOTES), CHOICE_BY_DEFAULT);
}

Test(choices, refuse_without_a_trace)
{
  Said  said = {.set = 0};
  Fault fault;
  cr_assert_eq(said_add(&said, CHOICE_TEMPO, "--tempo", "900", &fault),
               STATUS_RANGE);
  cr_assert_str_eq(fault.text, "--tempo 900 is not a number from 30 to 320");
  cr_assert_eq(said.set, 0);
}

Test(choices, tell_where_they_come_from)
{
  Choices choices = choices_plain();
  char    text[CHOICES_FROM_CAPACITY];
  cr_assert_str_eq(choices_from(&choices, CHOICE_TEMPO, text), "default");
  choices_mark(&choices, CHOICE_TEMPO, CHOICE_BY_BARTER, 12);
  cr_assert_str_eq(choices_from(&choices, CHOICE_TEMPO, text), "barter.cfg:12");
  choices_mark(&choices, CHOICE_TEMPO, CHOICE_BY_CHART, 0);
  cr_assert_str_eq(choices_from(&choices, CHOICE_TEMPO, text), "chart");
  choices_mark(&choices, CHOICE_TEMPO, CHOICE_BY_ASKING, 0);
  cr_assert_str_eq(choices_from(&choices, CHOICE_TEMPO, text), "--tempo");
  choices_mark(&choices, CHOICE_SHAPE, CHOICE_BY_ASKING, 0);
  cr_assert_str_eq(choices_from(&choices, CHOICE_SHAPE, text), "--rung");
}
