#include "profiles/journal/schema.h"

#include <inttypes.h>
#include <stdio.h>

#define TEXT_OF(number) TEXT_OF_VALUE(number)
#define TEXT_OF_VALUE(number) #number

static const char version_1[] =
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
  "  says            TEXT NOT NULL, -- The line shown\n"
  "  why             TEXT NOT NULL, -- Why it was a success, or was not\n"
  "  moved           TEXT NOT NULL, -- What the ladder did after it, and why\n"
  "  PRIMARY KEY (session, number)\n"
  ") WITHOUT ROWID, STRICT;\n"
  "PRAGMA application_id = " TEXT_OF(
    SCHEMA_APPLICATION_ID) ";\n"
                           "PRAGMA user_version = 1;\n";

static const char version_2[] =
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
  "INSERT INTO total " SCHEMA_SUMS "GROUP BY session;\n"
  "CREATE INDEX turn_moved ON turn (session, number) WHERE moved <> '';\n"
  "PRAGMA user_version = 2;\n";

static const char version_3[] =
  "CREATE TABLE idea ( -- The notebook of ideas\n"
  "  id      BLOB PRIMARY KEY, -- 16 bytes, the sum of notes, key and meter\n"
  "  kept_ms INTEGER NOT NULL, -- Milliseconds of Unix time\n"
  "  chart   TEXT NOT NULL,\n"
  "  key     TEXT NOT NULL,\n"
  "  meter   TEXT NOT NULL,\n"
  "  origin  TEXT NOT NULL, -- The move that it came from\n"
  "  notes   TEXT NOT NULL  -- tick:length:pitch of each, 960 ticks a quarter\n"
  ") WITHOUT ROWID, STRICT;\n"
  "PRAGMA user_version = 3;\n";

static const char version_4[] =
  "CREATE TABLE line ( -- What was said, each text once\n"
  "  number INTEGER PRIMARY KEY,\n"
  "  text   TEXT NOT NULL UNIQUE\n"
  ") STRICT;\n"
  "CREATE TABLE played ( -- The turns as they are kept; read them as turn\n"
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
  "  rungs           INTEGER NOT NULL, -- Twelve digits of sixteen: those "
  "that\n"
  "                                    -- the learner stands on next, stood "
  "on,\n"
  "                                    -- and were heard; of each four the\n"
  "                                    -- ornament, shape, rhythm, notes\n"
  "  budget          INTEGER, -- What the rungs may sum to after it,\n"
  "                           -- thousandths\n"
  "  success         INTEGER, -- 1, 0, or NULL: not judged\n"
  "  idea            INTEGER, -- Number in the session's memory of ideas\n"
  "  likeness        INTEGER, -- To that idea, thousandths\n"
  "  move            INTEGER, -- The partner's: 0 repeat, and on as the\n"
  "                           -- program lists them\n"
  "  says            INTEGER NOT NULL REFERENCES line(number), -- Shown\n"
  "  why             INTEGER NOT NULL REFERENCES line(number), -- Why it was "
  "a\n"
  "                                    -- success, or was not\n"
  "  moved           TEXT NOT NULL, -- What the ladder did after it, and why\n"
  "  PRIMARY KEY (session, number)\n"
  ") WITHOUT ROWID, STRICT;\n"
  "INSERT INTO line (text)\n"
  "  SELECT says FROM turn UNION SELECT why FROM turn;\n"
  "INSERT INTO played SELECT\n"
  "  session, number, by_player, first_bar, length_ms, notes,\n"
  "  comping, ornaments, grid, swing, offset_us, spread_us,\n"
  "  syncopation, evenness, onsets, space, range, chord_share,\n"
  "  scale_share, outside_share, left_share, target, complexity,\n"
  "  heard_notes | (heard_rhythm << 4) |\n"
  "  (heard_shape << 8) | (heard_ornament << 12) |\n"
  "  (stands_notes << 16) | (stands_rhythm << 20) |\n"
  "  (stands_shape << 24) | (stands_ornament << 28) |\n"
  "  (next_notes << 32) | (next_rhythm << 36) |\n"
  "  (next_shape << 40) | (next_ornament << 44),\n"
  "  budget, success, idea, likeness, move,\n"
  "  (SELECT line.number FROM line WHERE text = says),\n"
  "  (SELECT line.number FROM line WHERE text = why), moved FROM turn;\n"
  "DROP TABLE turn;\n"
  "CREATE INDEX turn_moved ON played (session, number) WHERE moved <> '';\n";

static const char version_4_view[] =
  "CREATE VIEW turn AS SELECT\n"
  "  session, played.number, by_player, first_bar, length_ms, notes,\n"
  "  comping, ornaments, grid, swing, offset_us, spread_us,\n"
  "  syncopation, evenness, onsets, space, range, chord_share,\n"
  "  scale_share, outside_share, left_share, target, complexity,\n"
  "  rungs & 15 AS heard_notes, rungs >> 4 & 15 AS heard_rhythm,\n"
  "  rungs >> 8 & 15 AS heard_shape, rungs >> 12 & 15 AS heard_ornament,\n"
  "  rungs >> 16 & 15 AS stands_notes, rungs >> 20 & 15 AS stands_rhythm,\n"
  "  rungs >> 24 & 15 AS stands_shape, rungs >> 28 & 15 AS stands_ornament,\n"
  "  rungs >> 32 & 15 AS next_notes, rungs >> 36 & 15 AS next_rhythm,\n"
  "  rungs >> 40 & 15 AS next_shape, rungs >> 44 & 15 AS next_ornament,\n"
  "  budget, success, idea, likeness, move,\n"
  "  said.text AS says, reason.text AS why, moved FROM played\n"
  "  LEFT JOIN line said ON said.number = played.says\n"
  "  LEFT JOIN line reason ON reason.number = played.why;\n"
  "CREATE TRIGGER turn_put INSTEAD OF INSERT ON turn BEGIN\n"
  "  INSERT OR IGNORE INTO line (text) VALUES (new.says), (new.why);\n"
  "  INSERT INTO played VALUES (\n"
  "  new.session, new.number, new.by_player, new.first_bar,\n"
  "  new.length_ms, new.notes, new.comping, new.ornaments, new.grid,\n"
  "  new.swing, new.offset_us, new.spread_us, new.syncopation,\n"
  "  new.evenness, new.onsets, new.space, new.range,\n"
  "  new.chord_share, new.scale_share, new.outside_share,\n"
  "  new.left_share, new.target, new.complexity,\n"
  "  new.heard_notes | (new.heard_rhythm << 4) |\n"
  "  (new.heard_shape << 8) | (new.heard_ornament << 12) |\n"
  "  (new.stands_notes << 16) | (new.stands_rhythm << 20) |\n"
  "  (new.stands_shape << 24) | (new.stands_ornament << 28) |\n"
  "  (new.next_notes << 32) | (new.next_rhythm << 36) |\n"
  "  (new.next_shape << 40) | (new.next_ornament << 44),\n"
  "  new.budget, new.success, new.idea, new.likeness, new.move,\n"
  "  (SELECT line.number FROM line WHERE text = new.says),\n"
  "  (SELECT line.number FROM line WHERE text = new.why), new.moved);\n"
  "END;\n"
  "PRAGMA user_version = 4;\n";

/// The steps from each version to the next, in one text or two: the language
/// promises no longer ones.
static const char* const steps[SCHEMA_VERSION][2] = {
  {version_1, ""},
  {version_2, ""},
  {version_3, ""},
  {version_4, version_4_view},
};

static Status
not_a_journal(const char* const path, Fault* const fault)
{
  return fault_set(fault,
                   STATUS_SYNTAX,
                   path,
                   0,
                   "is a database, but no journal; it is left as it is");
}

/// Look whose database it is, and of what version; all at one moment, so within
/// a transaction.
static Status
look_at(Sql* const        sql,
        const char* const path,
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
  if (*version > SCHEMA_VERSION) {
    return fault_set(fault,
                     STATUS_SYNTAX,
                     path,
                     0,
                     "is a journal of version %" PRId64
                     "; this program knows up to %d: a newer one reads it",
                     *version,
                     SCHEMA_VERSION);
  }
  return STATUS_OK;
}

static bool
climb_steps(Sql* const sql, int64_t version)
{
  bool is_good = true;
  for (; is_good && version < SCHEMA_VERSION; ++version) {
    is_good =
      sql_run(sql, steps[version][0]) && sql_run(sql, steps[version][1]);
  }
  return is_good && sql_run(sql, "COMMIT");
}

Status
schema_raise(Sql* const sql, const char* const path, Fault* const fault)
{
  int64_t version = 0;
  if (!sql_run(sql, "BEGIN")) {
    return sql_fault(sql, "cannot be read", fault);
  }
  Status status = look_at(sql, path, &version, fault);
  (void)!sql_run(sql, "COMMIT");
  if (status || version == SCHEMA_VERSION) {
    return status;
  }
  if (!sql_run(sql, "BEGIN IMMEDIATE")) {
    return sql_fault(sql, "cannot be brought up to date", fault);
  }
  // Another process may have done it while this one waited
  status            = look_at(sql, path, &version, fault);
  const bool is_old = !status && version > 0 && version < SCHEMA_VERSION;
  if (!status && !climb_steps(sql, version)) {
    status = sql_fault(sql, "cannot be brought up to date", fault);
  }
  if (!status && is_old) {
    (void)!sql_run(sql, "VACUUM"); // Room that stays is of no harm
  }
  if (status) {
    (void)!sql_run(sql, "ROLLBACK");
  }
  return status;
}
