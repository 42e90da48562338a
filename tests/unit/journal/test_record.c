#include "support/practice.h"

#include <criterion/criterion.h>

#include <string.h>

Test(record, ids_are_read_as_they_are_written)
{
  Rng rng = rng_seed(1, 1);
  for (unsigned round = 0; round < 200; ++round) {
    const JournalId id = practice_session(&rng).id;
    JournalId       again;
    char            text[JOURNAL_ID_TEXT];
    cr_assert_eq(strlen(journal_id_text(id, text)), 32);
    cr_assert(journal_id_parse(&again, text));
    cr_assert(journal_id_equals(id, again));
  }
}

Test(record, what_is_no_id_is_refused)
{
  static const char* const texts[] = {"",
                                      "0123456789abcdef0123456789abcde",
                                      "0123456789abcdef0123456789abcdef0",
                                      "0123456789abcdef0123456789abcdeg",
                                      "0123456789ABCDEF0123456789ABCDEF",
                                      "0123456789abcdef 123456789abcdef"};
  for (unsigned i = 0; i < sizeof(texts) / sizeof(*texts); ++i) {
    JournalId id = {{42}};
    cr_assert_not(journal_id_parse(&id, texts[i]), "%s", texts[i]);
    cr_assert_eq(id.bytes[0], 42);
  }
}

Test(record, ids_by_chance_differ)
{
  JournalId ids[100];
  for (unsigned i = 0; i < 100; ++i) {
    ids[i] = journal_new_id();
    for (unsigned j = 0; j < i; ++j) {
      cr_assert_not(journal_id_equals(ids[i], ids[j]));
    }
  }
}

// A total order: exactly one of before, alike, after; and it carries on
Test(record, order_is_total)
{
  const JournalFields fields = journal_turn_fields();
  Rng                 rng    = rng_seed(2, 1);
  for (unsigned round = 0; round < 2000; ++round) {
    const JournalTurn a  = practice_turn(&rng, 1 + (int32_t)rng_below(&rng, 2));
    const JournalTurn b  = practice_turn(&rng, 1 + (int32_t)rng_below(&rng, 2));
    const JournalTurn c  = practice_turn(&rng, 1 + (int32_t)rng_below(&rng, 2));
    const int         ab = journal_compare(fields, &a, &b);
    const int         bc = journal_compare(fields, &b, &c);
    cr_assert_eq(ab > 0, journal_compare(fields, &b, &a) < 0);
    cr_assert_eq(ab == 0, journal_compare(fields, &b, &a) == 0);
    cr_assert_eq(journal_compare(fields, &a, &a), 0);
    if (ab >= 0 && bc >= 0) {
      cr_assert_geq(journal_compare(fields, &a, &c), 0);
    }
  }
}

// Every single field counts
Test(record, order_sees_each_field)
{
  const JournalFields kinds[] = {journal_session_fields(),
                                 journal_turn_fields()};
  Rng                 rng     = rng_seed(3, 1);
  for (unsigned i = 0; i < kinds[1].n_fields; ++i) {
    const JournalTurn         a     = practice_turn(&rng, 1);
    JournalTurn               b     = a;
    const JournalField* const field = &kinds[1].fields[i];
    if (field->kind == JOURNAL_TEXT) {
      cr_assert(journal_field_copy(field, &b, "zz, other"));
    } else {
      const int64_t number = journal_field_number(field, &a);
      journal_field_set(
        field, &b, number == field->most ? field->least : field->most);
    }
    cr_assert_neq(journal_compare(kinds[1], &a, &b), 0, "%s", field->name);
    cr_assert(journal_is_right(kinds[1], &b));
  }
}

Test(record, what_is_not_allowed_is_seen)
{
  const JournalFields fields = journal_turn_fields();
  Rng                 rng    = rng_seed(4, 1);
  for (unsigned i = 0; i < fields.n_fields; ++i) {
    const JournalField* const field = &fields.fields[i];
    JournalTurn               turn  = practice_turn(&rng, 1);
    cr_assert(journal_is_right(fields, &turn));
    if (field->kind == JOURNAL_TEXT) {
      char long_text[JOURNAL_SAYS_CAPACITY + 1];
      memset(long_text, 'x', sizeof(long_text));
      long_text[JOURNAL_SAYS_CAPACITY] = '\0';
      cr_assert_not(journal_field_copy(field, &turn, long_text));
      continue;
    }
    journal_field_set(field, &turn, field->most + 1);
    const bool wraps = field->most == INT32_MAX;
    cr_assert(wraps || !journal_is_right(fields, &turn), "%s", field->name);
    journal_field_set(field, &turn, JOURNAL_NONE);
    cr_assert_eq(
      journal_is_right(fields, &turn), field->may_be_none, "%s", field->name);
  }
}

Test(record, choices_have_a_word_for_each_number)
{
  const JournalFields fields = journal_turn_fields();
  unsigned            n      = 0;
  for (unsigned i = 0; i < fields.n_fields; ++i) {
    const JournalField* const field = &fields.fields[i];
    for (int64_t number = 0; field->words && number <= field->most; ++number) {
      char word[JOURNAL_KIND_CAPACITY];
      cr_assert_neq(journal_field_word(field, number, word)[0], '\0');
      cr_assert_null(strchr(word, '|'));
      ++n;
    }
  }
  cr_assert_eq(n, N_JOURNAL_GRIDS + N_JOURNAL_TARGETS);
}
