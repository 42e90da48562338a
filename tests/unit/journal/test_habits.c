#include "support/practice.h"

#include <criterion/criterion.h>
#include <string.h>

static char folder[PRACTICE_PATH_CAPACITY];
static char path[PRACTICE_PATH_CAPACITY];

static void
set_up(void)
{
  practice_folder(folder);
  practice_path(path, folder, "journal.db");
}

static void
tear_down(void)
{
  practice_remove(folder);
}

TestSuite(habits, .init = set_up, .fini = tear_down);

static Rng rng = {0, 1};

/// Add a session of one day with one turn of the player's.
static void
add(Journal* const journal,
    const int32_t  day,
    const int32_t  success,
    const int32_t  rung,
    const int32_t  spread_us,
    const int32_t  notes)
{
  Fault          fault;
  JournalSession session = practice_session(&rng);
  JournalTurn    turn    = practice_turn(&rng, 1);
  session.id             = journal_new_id();
  session.started_ms     = day * INT64_C(86400000);
  turn.by_player         = 1;
  turn.success           = success;
  turn.heard_notes       = rung;
  turn.heard_rhythm      = 1;
  turn.heard_shape       = 1;
  turn.heard_ornament    = 2;
  turn.spread_us         = spread_us;
  turn.notes             = notes;
  cr_assert_eq(journal_add_session(journal, &session, &fault), STATUS_OK);
  cr_assert_eq(journal_add_turn(journal, session.id, &turn, &fault), STATUS_OK);
}

Test(habits, of_nobody_are_none)
{
  Journal* const journal = practice_open(path);
  JournalHabits  habits;
  Fault          fault;
  memset(&habits, 0x5A, sizeof(habits));
  cr_assert_eq(journal_habits(journal, &habits, &fault), STATUS_OK);
  cr_assert_eq(habits.n_turns, 0);
  cr_assert_float_eq(habits.heard[DIMENSION_NOTES], 0.0, 1e-9);
  cr_assert_float_eq(habits.spread_ms, 0.0, 1e-9);
  journal_close(journal);
}

/// Rungs of turns that succeeded, time of all that have notes; the latest eight
/// sessions, wherever they stand in the file.
Test(habits, are_those_of_the_latest_sessions)
{
  Journal* const journal = practice_open(path);
  JournalHabits  habits;
  Fault          fault;
  add(journal, 100, 1, 4, 10000, 5);
  add(journal, 101, 1, 5, 20000, 5);
  add(journal, 102, 0, 8, 30000, 5);            // Did not succeed
  add(journal, 103, 1, 8, 90000, 0);            // Has no notes
  add(journal, 104, JOURNAL_NONE, 8, 40000, 5); // Was not judged
  cr_assert_eq(journal_habits(journal, &habits, &fault), STATUS_OK);
  cr_assert_eq(habits.n_turns, 4);
  cr_assert_float_eq(habits.heard[DIMENSION_NOTES], 4.5, 1e-9);
  cr_assert_float_eq(habits.heard[DIMENSION_RHYTHM], 1.0, 1e-9);
  cr_assert_float_eq(habits.heard[DIMENSION_ORNAMENT], 2.0, 1e-9);
  cr_assert_float_eq(habits.spread_ms, 25.0, 1e-9);

  add(journal, 50, 1, 1, 90000, 5); // Written late, but long ago
  for (int32_t day = 105; day < 113; ++day) {
    add(journal, day, 1, 6, 12000, 5);
  }
  cr_assert_eq(journal_habits(journal, &habits, &fault), STATUS_OK);
  cr_assert_eq(habits.n_turns, 8);
  cr_assert_float_eq(habits.heard[DIMENSION_NOTES], 6.0, 1e-9);
  cr_assert_float_eq(habits.spread_ms, 12.0, 1e-9);
  journal_close(journal);
}
