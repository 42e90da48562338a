/// How long `barter progress` takes over ten years of daily practice, how large
/// such a journal is, and what it costs to keep one turn.

#include "measure.h"

#include "core/files/folder.h"
#include "core/rng.h"
#include "profiles/journal/journal.h"
#include "profiles/journal/sql.h"
#include "profiles/learner/people.h"

#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

enum {
  N_SESSIONS        = 3652, ///< Ten years, day by day
  TURNS_PER_SESSION = 274,  ///< 1,000,648 in all
  BAR_MS            = 2000, ///< 4/4 at 120
  TURN_MS           = 4 * BAR_MS,
  HALF_HOUR_MS      = 1800000,
  MIB               = 1048576,
  N_ROUNDS          = 7,
  N_COMMITS         = 300,
  PAGE_BYTES        = 4096,
};

static void
must(const bool holds, const char* const what)
{
  if (!holds) {
    (void)fprintf(stderr, "bench_journal: %s\n", what);
    exit(EXIT_FAILURE);
  }
}

// Practice: someone who gets better, slowly and not evenly

/// Return the session of a day, counted so that the last is today's.
static JournalSession
session_on(const int day)
{
  const int32_t        today   = (int32_t)(time(NULL) / 86400);
  const int32_t        date    = today - N_SESSIONS + 1 + day;
  const JournalSession session = {
    .id            = journal_new_id(),
    .started_ms    = (int64_t)date * 86400000 + 64800000,
    .day           = date,
    .kind          = "trade",
    .chart         = "Blues, twelve bars",
    .key           = "C major",
    .meter         = "4/4",
    .feel          = "swing",
    .tempo         = 120000,
    .bars_per_turn = 4,
    .choruses      = 90,
    .seed          = day,
    .version       = "0.1.0",
  };
  return session;
}

static int32_t
around(Rng* const rng, const double middle, const double give)
{
  const double draw = rng_unit(rng) + rng_unit(rng) - 1.0;
  return (int32_t)(middle + draw * give);
}

// What is said names notes and chords: of 180 turns played by people some 130
// lines were different, of 10,000 some thousands
static void
say(Rng* const rng, const char* const words, char text[JOURNAL_SAYS_CAPACITY])
{
  static const char* const notes[] = {
    "C", "Db", "D", "Eb", "E", "F", "Gb", "G", "Ab", "A", "Bb", "B"};
  static const char* const tones[] = {"root", "third", "fifth", "seventh"};
  (void)snprintf(text,
                 JOURNAL_SAYS_CAPACITY,
                 words,
                 notes[rng_below(rng, 12)],
                 tones[rng_below(rng, 4)],
                 notes[rng_below(rng, 12)],
                 notes[rng_below(rng, 12)]);
}

static JournalTurn
partner_turn(Rng* const rng, JournalTurn turn)
{
  turn.by_player = 0;
  turn.spread_us = around(rng, 1200, 300);
  turn.offset_us = around(rng, 200, 300);
  turn.move      = (int32_t)rng_below(rng, N_MOVES);
  turn.success   = JOURNAL_NONE;
  turn.budget    = JOURNAL_NONE;
  say(rng,
      "Your phrase thinned out, leading down to %s, the %s "
      "of %s7, by way of %s.",
      turn.says);
  return turn;
}

static JournalTurn
player_turn(Rng* const rng, JournalTurn turn, const double skill)
{
  turn.by_player     = 1;
  turn.success       = rng_unit(rng) < 0.8;
  turn.budget        = 4000 + (int32_t)(16000 * skill);
  turn.next_notes    = turn.stands_notes;
  turn.next_rhythm   = turn.stands_rhythm;
  turn.next_shape    = turn.stands_shape;
  turn.next_ornament = turn.stands_ornament;
  turn.move          = JOURNAL_NONE;
  say(rng,
      "You landed on %s, the %s of %s7. Take the %s one step on, to a chord "
      "tone.",
      turn.says);
  (void)snprintf(
    turn.why, sizeof(turn.why), "landed on a chord tone, in time, with space");
  return turn;
}

static JournalTurn
turn_of(Rng* const rng, const int number, const double skill)
{
  const int32_t     notes = around(rng, 6 + 10 * skill, 5);
  const JournalTurn turn  = {
     .number          = number,
     .first_bar       = 4 * number - 3,
     .length_ms       = TURN_MS,
     .notes           = notes < 1 ? 1 : notes,
     .grid            = skill > 0.3 ? 2 : 1,
     .swing           = around(rng, 1200 + 500 * skill, 250),
     .offset_us       = around(rng, 12000 - 8000 * skill, 15000),
     .spread_us       = around(rng, 52000 - 30000 * skill, 12000),
     .syncopation     = around(rng, 500 + 1500 * skill, 500),
     .evenness        = around(rng, 30000, 20000),
     .onsets          = notes * 250 < 0 ? 0 : notes * 250,
     .space           = around(rng, 300 + 250 * skill, 150),
     .range           = around(rng, 7 + 10 * skill, 4),
     .chord_share     = around(rng, 600, 200),
     .scale_share     = around(rng, 250, 100),
     .outside_share   = around(rng, 100, 50),
     .left_share      = around(rng, 50, 49),
     .target          = rng_unit(rng) < 0.55 + 0.35 * skill
                          ? (int32_t)rng_below(rng, 2)
                          : 2 + (int32_t)rng_below(rng, 2),
     .complexity      = around(rng, 10000 + 50000 * skill, 9000),
     .heard_notes     = 1 + (int32_t)(6 * skill),
     .heard_rhythm    = 1 + (int32_t)(5 * skill),
     .heard_shape     = 1,
     .heard_ornament  = 1,
     .stands_notes    = 1 + (int32_t)(6 * skill),
     .stands_rhythm   = 1 + (int32_t)(5 * skill),
     .stands_shape    = 1 + (int32_t)(4 * skill),
     .stands_ornament = 1 + (int32_t)(2.5 * skill),
     .idea            = (int32_t)rng_below(rng, 40) + 1,
     .likeness        = around(rng, 600, 300),
  };
  return number % 2 ? player_turn(rng, turn, skill) : partner_turn(rng, turn);
}

static void
fill(const char* const path)
{
  Rng         rng     = rng_seed(1, 9);
  Journal*    journal = NULL;
  JournalGain gain;
  Fault       fault;
  must(!journal_open(&journal, path, JOURNAL_MAY_CREATE, &fault) &&
         !journal_merge_begin(journal, &fault),
       "no journal");
  for (int day = 0; day < N_SESSIONS; ++day) {
    const JournalSession session = session_on(day);
    const double         skill   = day / (double)N_SESSIONS;
    must(!journal_merge_session(journal, &session, &fault), fault.text);
    for (int number = 1; number <= TURNS_PER_SESSION; ++number) {
      const JournalTurn turn = turn_of(&rng, number, skill);
      must(!journal_merge_turn(journal, &turn, &fault), fault.text);
    }
  }
  must(!journal_merge_end(journal, &gain, &fault), fault.text);
  journal_close(journal);
}

// Rows

static void
run_progress(void)
{
  const pid_t child = fork();
  if (child == 0) {
    if (!freopen("/dev/null", "w", stdout)) {
      _exit(127);
    }
    execl(BENCH_BARTER, BENCH_BARTER, "progress", (char*)NULL);
    _exit(127);
  }
  int status = 0;
  must(child > 0 && waitpid(child, &status, 0) == child && !status,
       "progress did not run");
}

static double
progress_ms(void)
{
  double times[N_ROUNDS];
  for (unsigned i = 0; i < N_ROUNDS; ++i) {
    const double begin = measure_now_us(CLOCK_MONOTONIC);
    run_progress();
    times[i] = (measure_now_us(CLOCK_MONOTONIC) - begin) * 1e-3;
  }
  measure_sort(times, N_ROUNDS);
  return times[N_ROUNDS / 2];
}

/// The same sums, made from all turns.
static double
scan_ms(const char* const path)
{
  Sql*  sql = NULL;
  Fault fault;
  must(!sql_open(&sql, path, false, &fault), fault.text);
  const double  begin = measure_now_us(CLOCK_MONOTONIC);
  const int64_t sum =
    sql_number(sql,
               "SELECT sum(a + b + c + d) FROM (SELECT sum(length_ms) a,"
               " sum(spread_us) b, sum(space) c, sum(target <= 1) d"
               " FROM turn WHERE by_player GROUP BY session)",
               0);
  const double time = (measure_now_us(CLOCK_MONOTONIC) - begin) * 1e-3;
  must(sum > 0, "nothing was summed up");
  sql_close(sql);
  return time;
}

static void
measure_commits(const char* const path, double* const p50, double* const p99)
{
  static double        times[N_COMMITS];
  Rng                  rng     = rng_seed(2, 9);
  const JournalSession session = session_on(N_SESSIONS);
  Journal*             journal = NULL;
  Fault                fault;
  must(!journal_open(&journal, path, JOURNAL_MAY_CREATE, &fault) &&
         !journal_add_session(journal, &session, &fault),
       "no journal");
  for (int i = 0; i < N_COMMITS; ++i) {
    const JournalTurn turn  = turn_of(&rng, i + 1, 1.0);
    const double      begin = measure_now_us(CLOCK_MONOTONIC);
    must(!journal_add_turn(journal, session.id, &turn, &fault), fault.text);
    times[i] = (measure_now_us(CLOCK_MONOTONIC) - begin) * 1e-3;
  }
  journal_close(journal);
  measure_sort(times, N_COMMITS);
  *p50 = times[N_COMMITS / 2];
  *p99 = times[N_COMMITS * 99 / 100];
}

/// What the disk alone takes to keep a page more.
static double
bare_sync_ms(const char* const path)
{
  static double     times[N_COMMITS];
  static const char page[PAGE_BYTES] = {1};
  const int         file = open(path, O_WRONLY | O_CREAT | O_TRUNC, 0600);
  for (int i = 0; i < N_COMMITS; ++i) {
    const double begin = measure_now_us(CLOCK_MONOTONIC);
    must(write(file, page, sizeof(page)) == sizeof(page) && !fdatasync(file),
         "no disk");
    times[i] = (measure_now_us(CLOCK_MONOTONIC) - begin) * 1e-3;
  }
  (void)close(file);
  measure_sort(times, N_COMMITS);
  return times[N_COMMITS / 2];
}

/// Ten years of half an hour a day, and what fits into 200 MiB instead.
static void
tell_size(const int bars, const double turn_bytes)
{
  const double day_turns = HALF_HOUR_MS / (double)(bars * BAR_MS);
  const double mib       = turn_bytes * N_SESSIONS * day_turns / MIB;
  printf("BENCH {\"row\":\"ten years, half an hour a day, turns of %d bars at "
         "120\",\"value\":%.0f,\"unit\":\"MiB\",\"must\":\"%s\","
         "\"beside\":\"%.0f bytes a turn; 200 MiB are %.0f minutes a day\"}\n",
         bars,
         mib,
         bars > 1 ? "under 200" : "",
         turn_bytes,
         30.0 * 200.0 / mib);
}

int
main(void)
{
  char        folder[] = "/tmp/barter-bench-XXXXXX";
  char        bare[sizeof(folder) + 8];
  Person      me;
  struct stat about;
  Fault       fault;
  must(mkdtemp(folder) && !setenv("XDG_DATA_HOME", folder, 1), "no folder");
  must(!people_place(&me, PEOPLE_USUAL_ID, &fault) &&
         !folder_make(me.folder, &fault),
       "no folder");
  (void)snprintf(bare, sizeof(bare), "%s/bare", folder);

  fill(me.journal);
  must(!stat(me.journal, &about), "no journal");
  printf("BENCH {\"row\":\"progress over %d turns\",\"value\":%.0f,"
         "\"unit\":\"ms\",\"must\":\"under 300\","
         "\"beside\":\"the sums from all turns: %.0f ms\"}\n",
         N_SESSIONS * TURNS_PER_SESSION,
         progress_ms(),
         scan_ms(me.journal));
  const double turn_bytes =
    (double)about.st_size / (N_SESSIONS * TURNS_PER_SESSION);
  tell_size(4, turn_bytes);
  tell_size(2, turn_bytes);
  tell_size(1, turn_bytes);
  double p50 = 0.0;
  double p99 = 0.0;
  measure_commits(me.journal, &p50, &p99);
  printf("BENCH {\"row\":\"keeping a turn, p50 (p99 %.1f)\",\"value\":%.2f,"
         "\"unit\":\"ms\",\"must\":\"off the clock thread\","
         "\"beside\":\"4 KiB and fdatasync: %.2f ms\"}\n",
         p99,
         p50,
         bare_sync_ms(bare));
  if (getenv("BENCH_KEEP")) {
    printf("kept: %s\n", folder);
  } else {
    must(!folder_remove(folder, &fault), fault.text);
  }
  return EXIT_SUCCESS;
}
