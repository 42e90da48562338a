-- The tables of version 3, as they were; never to be changed.
CREATE TABLE person (
  id BLOB PRIMARY KEY -- Whose journal this is, 16 bytes by chance. One
                      -- whose journals were brought together has several.
) WITHOUT ROWID, STRICT;
CREATE TABLE session (
  number         INTEGER PRIMARY KEY, -- In this file only
  id             BLOB NOT NULL UNIQUE, -- 16 bytes by chance, everywhere
  started_ms     INTEGER NOT NULL, -- Milliseconds since 1970, UTC
  day            INTEGER NOT NULL, -- Days since 1970-01-01, local time
  kind           TEXT NOT NULL, -- trade, answer, warmup
  chart          TEXT NOT NULL,
  key            TEXT NOT NULL,
  meter          TEXT NOT NULL,
  feel           TEXT NOT NULL,
  tempo          INTEGER NOT NULL, -- Thousandths of a quarter a minute
  bars_per_turn  INTEGER NOT NULL,
  choruses       INTEGER NOT NULL,
  partner_begins INTEGER NOT NULL, -- 0 or 1
  seed           INTEGER NOT NULL,
  version        TEXT NOT NULL -- Of the program
) STRICT;
CREATE TABLE turn (
  session         INTEGER NOT NULL REFERENCES session(number),
  number          INTEGER NOT NULL, -- In its session, from 1
  by_player       INTEGER NOT NULL, -- 1 the player, 0 the partner
  first_bar       INTEGER NOT NULL,
  length_ms       INTEGER NOT NULL,
  notes           INTEGER NOT NULL, -- Of the melody, without ornaments
  comping         INTEGER NOT NULL, -- Notes of the player's own chords
  ornaments       INTEGER NOT NULL,
  grid            INTEGER, -- 0 beat, 1 eighth, 2 swung eighth, 3 triplet,
                           -- 4 sixteenth; NULL without notes
  swing           INTEGER, -- Long to short, thousandths; NULL if no beat
                           -- tells
  offset_us       INTEGER, -- Mean lateness, microseconds; early is below
                           -- 0; NULL without notes
  spread_us       INTEGER, -- Standard deviation about it; NULL below two
                           -- notes
  syncopation     INTEGER NOT NULL, -- Longuet-Higgins & Lee, a bar,
                                    -- thousandths
  evenness        INTEGER NOT NULL, -- nPVI, thousandths; 0 is even
  onsets          INTEGER NOT NULL, -- A bar, thousandths
  space           INTEGER NOT NULL, -- Share with nothing sounding,
                                    -- thousandths, as all shares
  range           INTEGER NOT NULL, -- Semitones
  chord_share     INTEGER NOT NULL, -- Roots and chord tones
  scale_share     INTEGER NOT NULL,
  outside_share   INTEGER NOT NULL,
  left_share      INTEGER NOT NULL, -- Notes outside left hanging
  target          INTEGER, -- The note aimed at: 0 root, 1 chord tone,
                           -- 2 scale tone, 3 outside; NULL if none
  complexity      INTEGER NOT NULL, -- 0 to 100000
  heard_notes     INTEGER NOT NULL, -- The lowest rungs that allow
  heard_rhythm    INTEGER NOT NULL, -- what was played
  heard_shape     INTEGER NOT NULL,
  heard_ornament  INTEGER NOT NULL,
  stands_notes    INTEGER NOT NULL, -- The rungs the learner stood on
  stands_rhythm   INTEGER NOT NULL,
  stands_shape    INTEGER NOT NULL,
  stands_ornament INTEGER NOT NULL,
  next_notes      INTEGER NOT NULL, -- ... and stands on after this turn;
  next_rhythm     INTEGER NOT NULL, -- 0 in turns that say nothing of it
  next_shape      INTEGER NOT NULL,
  next_ornament   INTEGER NOT NULL,
  budget          INTEGER, -- What the rungs may sum to after it,
                           -- thousandths
  success         INTEGER, -- 1, 0, or NULL: not judged
  idea            INTEGER, -- Number in the session's memory of ideas
  likeness        INTEGER, -- To that idea, thousandths
  move            INTEGER, -- The partner's: 0 repeat, and on as the
                           -- program lists them
  says            TEXT NOT NULL, -- The line shown
  why             TEXT NOT NULL, -- Why it was a success, or was not
  moved           TEXT NOT NULL, -- What the ladder did after it, and why
  PRIMARY KEY (session, number)
) WITHOUT ROWID, STRICT;
PRAGMA application_id = 0x42725472;
PRAGMA user_version = 1;
CREATE TABLE total ( -- Sums over the turns of a session: the player's,
                     -- unless it says otherwise
  session    INTEGER PRIMARY KEY REFERENCES session(number),
  length_ms  INTEGER NOT NULL, -- Of all turns, the partner's too
  turns      INTEGER NOT NULL,
  silent     INTEGER NOT NULL,
  judged     INTEGER NOT NULL,
  successes  INTEGER NOT NULL,
  aimed      INTEGER NOT NULL, -- Turns with a target
  landed     INTEGER NOT NULL, -- ... that was a root or chord tone
  timed      INTEGER NOT NULL, -- Turns with a spread
  spread_us  INTEGER NOT NULL, -- Sum over these
  offset_us  INTEGER NOT NULL,
  space      INTEGER NOT NULL, -- Sum over the turns with notes
  swung      INTEGER NOT NULL, -- Turns with a swing
  swing      INTEGER NOT NULL, -- Sum over these
  complexity INTEGER NOT NULL, -- Sum over the turns with notes
  notes      INTEGER NOT NULL,
  last       INTEGER NOT NULL -- The last turn that says where the learner
                              -- stands; 0 if none does
) STRICT;
INSERT INTO total SELECT session, sum(length_ms), sum(by_player), sum(by_player AND notes = 0), count(success) FILTER (WHERE by_player), ifnull(sum(success) FILTER (WHERE by_player), 0), count(target) FILTER (WHERE by_player), ifnull(sum(target <= 1) FILTER (WHERE by_player), 0), count(spread_us) FILTER (WHERE by_player), ifnull(sum(spread_us) FILTER (WHERE by_player), 0), ifnull(sum(offset_us) FILTER (WHERE by_player AND spread_us IS NOT NULL), 0), ifnull(sum(space) FILTER (WHERE by_player AND notes > 0), 0), count(swing) FILTER (WHERE by_player), ifnull(sum(swing) FILTER (WHERE by_player), 0), ifnull(sum(complexity) FILTER (WHERE by_player AND notes > 0), 0), ifnull(sum(notes) FILTER (WHERE by_player), 0), ifnull(max(number) FILTER (WHERE by_player AND next_notes > 0), 0) FROM turn GROUP BY session;
CREATE INDEX turn_moved ON turn (session, number) WHERE moved <> '';
PRAGMA user_version = 2;
CREATE TABLE idea ( -- The notebook of ideas
  id      BLOB PRIMARY KEY, -- 16 bytes, the sum of notes, key and meter
  kept_ms INTEGER NOT NULL, -- Milliseconds of Unix time
  chart   TEXT NOT NULL,
  key     TEXT NOT NULL,
  meter   TEXT NOT NULL,
  origin  TEXT NOT NULL, -- The move that it came from
  notes   TEXT NOT NULL  -- tick:length:pitch of each, 960 ticks a quarter
) WITHOUT ROWID, STRICT;
PRAGMA user_version = 3;
