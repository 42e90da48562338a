#include "profiles/journal/schema.h"

#include <inttypes.h>
#include <stdio.h>

#define TEXT_OF(number) TEXT_OF_VALUE(number)
#define TEXT_OF_VALUE(number) #number

static const char people_and_sessions[] =
  "CREATE TABLE person (\n"
  "  id BLOB PRIMARY KEY -- Whose journal this is, 16 bytes by chance. One\n"
  "                      -- whose journals were brought together has several.\n"
  ") WITHOUT ROWID, STRICT;\n"
  "CREATE TABLE session (\n"
  "  number         INTEGER PRIMARY KEY, -- In this file only\n"
  "  id             BLOB NOT NULL UNIQUE, -- 16 bytes by chance, everywhere\n"
  "  started_ms     INTEGER NOT NULL, -- Milliseconds since 1970, UTC\n"
  "  day            INTEGER NOT NULL, -- Days since 1970-01-01, local time\n"
  "  kind           TEXT NOT NULL, -- trade, answer, warmup\n"
  "  way            TEXT NOT NULL, -- Of playing: answer, question, echo\n"
  "  chart          TEXT NOT NULL,\n"
  "  key            TEXT NOT NULL,\n"
  "  meter          TEXT NOT NULL,\n"
  "  feel           TEXT NOT NULL,\n"
  "  tempo          INTEGER NOT NULL, -- Thousandths of a quarter a minute\n"
  "  bars_per_turn  INTEGER NOT NULL,\n"
  "  choruses       INTEGER NOT NULL,\n"
  "  partner_begins INTEGER NOT NULL, -- 0 or 1\n"
  "  seed           INTEGER NOT NULL,\n"
  "  version        TEXT NOT NULL -- Of the program\n"
  ") STRICT;\n";

static const char turns[] =
  "CREATE TABLE line ( -- What was said, each text once\n"
  "  number INTEGER PRIMARY KEY,\n"
  "  text   TEXT NOT NULL UNIQUE\n"
  ") STRICT;\n"
  "CREATE TABLE turn (\n"
  "  session         INTEGER NOT NULL REFERENCES session(number),\n"
  "  number          INTEGER NOT NULL, -- In its session, from 1\n"
  "  by_player       INTEGER NOT NULL, -- 1 the player, 0 the partner\n"
  "  first_bar       INTEGER NOT NULL,\n"
  "  length_ms       INTEGER NOT NULL,\n"
  "  notes           INTEGER NOT NULL, -- Of the melody, without ornaments\n"
  "  comping         INTEGER NOT NULL, -- Notes of the player's own chords\n"
  "  ornaments       INTEGER NOT NULL,\n"
  "  grid            INTEGER, -- 0 beat, 1 eighth, 2 swung eighth, 3 triplet,\n"
  "                           -- 4 sixteenth; NULL without notes\n"
  "  swing           INTEGER, -- Long to short, thousandths; NULL if no beat\n"
  "                           -- tells\n"
  "  offset_us       INTEGER, -- Mean lateness, microseconds; early is below\n"
  "                           -- 0; NULL without notes\n"
  "  spread_us       INTEGER, -- Standard deviation about it; NULL below two\n"
  "                           -- notes\n"
  "  syncopation     INTEGER NOT NULL, -- Longuet-Higgins & Lee, a bar,\n"
  "                                    -- thousandths\n"
  "  evenness        INTEGER NOT NULL, -- nPVI, thousandths; 0 is even\n"
  "  onsets          INTEGER NOT NULL, -- A bar, thousandths\n"
  "  space           INTEGER NOT NULL, -- Share with nothing sounding,\n"
  "                                    -- thousandths, as all shares\n"
  "  range           INTEGER NOT NULL, -- Semitones\n"
  "  chord_share     INTEGER NOT NULL, -- Roots and chord tones\n"
  "  scale_share     INTEGER NOT NULL,\n"
  "  outside_share   INTEGER NOT NULL,\n"
  "  left_share      INTEGER NOT NULL, -- Notes outside left hanging\n"
  "  target          INTEGER, -- The note aimed at: 0 root, 1 chord tone,\n"
  "                           -- 2 scale tone, 3 outside; NULL if none\n"
  "  complexity      INTEGER NOT NULL, -- 0 to 100000\n"
  "  heard_notes     INTEGER NOT NULL, -- The lowest rungs that allow\n"
  "  heard_rhythm    INTEGER NOT NULL, -- what was played\n"
  "  heard_shape     INTEGER NOT NULL,\n"
  "  heard_ornament  INTEGER NOT NULL,\n"
  "  stands_notes    INTEGER NOT NULL, -- The rungs the learner stood on\n"
  "  stands_rhythm   INTEGER NOT NULL,\n"
  "  stands_shape    INTEGER NOT NULL,\n"
  "  stands_ornament INTEGER NOT NULL,\n"
  "  next_notes      INTEGER NOT NULL, -- ... and stands on after this turn;\n"
  "  next_rhythm     INTEGER NOT NULL, -- 0 in turns that say nothing of it\n"
  "  next_shape      INTEGER NOT NULL,\n"
  "  next_ornament   INTEGER NOT NULL,\n"
  "  budget          INTEGER, -- What the rungs may sum to after it,\n"
  "                           -- thousandths\n"
  "  success         INTEGER, -- 1, 0, or NULL: not judged\n"
  "  idea            INTEGER, -- Number in the session's memory of ideas\n"
  "  likeness        INTEGER, -- To that idea, thousandths\n"
  "  move            INTEGER, -- The partner's: 0 repeat, and on as the\n"
  "                           -- program lists them\n"
  "  says            INTEGER NOT NULL REFERENCES line(number), -- Shown\n"
  "  why             INTEGER NOT NULL REFERENCES line(number), -- Why it was\n"
  "                           -- a success, or was not\n"
  "  moved           TEXT NOT NULL, -- What the ladder did after it, and why\n"
  "  PRIMARY KEY (session, number)\n"
  ") WITHOUT ROWID, STRICT;\n"
  "CREATE INDEX turn_moved ON turn (session, number) WHERE moved <> '';\n";

static const char totals_and_ideas[] =
  "CREATE TABLE total ( -- Sums over the turns of a session: the player's,\n"
  "                     -- unless it says otherwise\n"
  "  session    INTEGER PRIMARY KEY REFERENCES session(number),\n"
  "  length_ms  INTEGER NOT NULL, -- Of all turns, the partner's too\n"
  "  turns      INTEGER NOT NULL,\n"
  "  silent     INTEGER NOT NULL,\n"
  "  judged     INTEGER NOT NULL,\n"
  "  successes  INTEGER NOT NULL,\n"
  "  aimed      INTEGER NOT NULL, -- Turns with a target\n"
  "  landed     INTEGER NOT NULL, -- ... that was a root or chord tone\n"
  "  timed      INTEGER NOT NULL, -- Turns with a spread\n"
  "  spread_us  INTEGER NOT NULL, -- Sum over these\n"
  "  offset_us  INTEGER NOT NULL,\n"
  "  space      INTEGER NOT NULL, -- Sum over the turns with notes\n"
  "  swung      INTEGER NOT NULL, -- Turns with a swing\n"
  "  swing      INTEGER NOT NULL, -- Sum over these\n"
  "  complexity INTEGER NOT NULL, -- Sum over the turns with notes\n"
  "  notes      INTEGER NOT NULL,\n"
  "  last       INTEGER NOT NULL -- The last turn that says where the learner\n"
  "                              -- stands; 0 if none does\n"
  ") STRICT;\n"
  "CREATE TABLE idea ( -- The notebook of ideas\n"
  "  id         BLOB PRIMARY KEY, -- 16 bytes, the sum of notes, key, meter\n"
  "  changed_ms INTEGER NOT NULL, -- Kept, renamed or taken out; Unix time\n"
  "  is_removed INTEGER NOT NULL, -- 1: taken out, and all that follows empty\n"
  "  kept_ms    INTEGER NOT NULL, -- Milliseconds of Unix time\n"
  "  name       TEXT NOT NULL, -- By the player; may be empty\n"
  "  chart      TEXT NOT NULL, -- Its title\n"
  "  chart_file TEXT NOT NULL, -- Its name or path\n"
  "  first_bar  INTEGER NOT NULL, -- Of the chart, from 1\n"
  "  key        TEXT NOT NULL,\n"
  "  meter      TEXT NOT NULL,\n"
  "  origin     TEXT NOT NULL, -- The move that it came from\n"
  "  notes      TEXT NOT NULL  -- tick:length:pitch of each, 960 ticks a\n"
  "                            -- quarter\n"
  ") WITHOUT ROWID, STRICT;\n"
  "PRAGMA application_id = " TEXT_OF(SCHEMA_APPLICATION_ID) ";\n";

// In several texts: the language promises no longer ones
static const char* const first_version[] = {people_and_sessions,
                                            turns,
                                            totals_and_ideas,
                                            NULL};

/// The step to each version, from SCHEMA_FIRST on. A change of the tables adds
/// a step and leaves those before it as they are.
static const SchemaStep steps[] = {first_version};

static Status
not_a_journal(const char* const path, Fault* const fault)
{
  return fault_in(fault,
                  STATUS_SYNTAX,
                  path,
                  "is a database, but no journal; it is left as it is");
}

static Status
check_version(const int64_t     version,
              const int64_t     newest,
              const char* const path,
              Fault* const      fault)
{
  if (version > newest) {
    return fault_in(fault,
                    STATUS_SYNTAX,
                    path,
                    "is a journal of version %" PRId64
                    "; this program knows up to %" PRId64
                    ": a newer one reads it",
                    version,
                    newest);
  }
  if (version > 0 && version < SCHEMA_FIRST) {
    return fault_in(fault,
                    STATUS_SYNTAX,
                    path,
                    "is a journal of version %" PRId64
                    ", from before the first release, which this program "
                    "cannot read; it is left as it is: move it away to begin "
                    "a new one",
                    version);
  }
  return STATUS_OK;
}

/// Look whose database it is, and of what version; all at one moment, so within
/// a transaction.
static Status
look_at(Sql* const        sql,
        const char* const path,
        const int64_t     newest,
        int64_t* const    version,
        Fault* const      fault)
{
  const int64_t owner    = sql_number(sql, "PRAGMA application_id", -1);
  const int64_t n_tables = sql_number(
    sql, "SELECT count(*) FROM sqlite_master WHERE type = 'table'", -1);
  *version = sql_number(sql, "PRAGMA user_version", -1);
  if (owner < 0 || n_tables < 0 || *version < 0) {
    return sql_fault(sql, "cannot be read", fault);
  }
  if (owner != SCHEMA_APPLICATION_ID && (owner || n_tables || *version)) {
    return not_a_journal(path, fault);
  }
  return check_version(*version, newest, path, fault);
}

static bool
take_step(Sql* const sql, const SchemaStep step, const int64_t version)
{
  char mark[48];
  (void)snprintf(mark, sizeof(mark), "PRAGMA user_version = %" PRId64, version);
  bool is_good = true;
  for (unsigned i = 0; is_good && step[i]; ++i) {
    is_good = sql_run(sql, step[i]);
  }
  return is_good && sql_run(sql, mark);
}

static bool
climb(Sql* const              sql,
      const SchemaStep* const all,
      const int64_t           newest,
      const int64_t           version)
{
  bool    is_good = true;
  int64_t next    = version < SCHEMA_FIRST ? SCHEMA_FIRST : version + 1;
  for (; is_good && next <= newest; ++next) {
    is_good = take_step(sql, all[next - SCHEMA_FIRST], next);
  }
  return is_good && sql_run(sql, "COMMIT");
}

Status
schema_climb(Sql* const              sql,
             const char* const       path,
             const SchemaStep* const all,
             const unsigned          n_steps,
             Fault* const            fault)
{
  const int64_t newest  = SCHEMA_FIRST + (int64_t)n_steps - 1;
  int64_t       version = 0;
  if (!sql_run(sql, "BEGIN")) {
    return sql_fault(sql, "cannot be read", fault);
  }
  Status status = look_at(sql, path, newest, &version, fault);
  (void)!sql_run(sql, "COMMIT");
  if (status || version == newest) {
    return status;
  }
  if (!sql_run(sql, "BEGIN IMMEDIATE")) {
    return sql_fault(sql, "cannot be brought up to date", fault);
  }
  // Another process may have done it while this one waited
  status = look_at(sql, path, newest, &version, fault);
  if (!status && !climb(sql, all, newest, version)) {
    status = sql_fault(sql, "cannot be brought up to date", fault);
  }
  if (status) {
    (void)!sql_run(sql, "ROLLBACK");
  }
  return status;
}

Status
schema_raise(Sql* const sql, const char* const path, Fault* const fault)
{
  return schema_climb(sql, path, steps, sizeof(steps) / sizeof(*steps), fault);
}
