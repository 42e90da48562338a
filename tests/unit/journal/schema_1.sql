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
