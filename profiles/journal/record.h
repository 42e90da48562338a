/// @file profiles/journal/record.h What is kept of practice: sessions and their
/// turns, and ideas worth keeping, as plain values.
///
/// Everything is counted in whole numbers, so that sums are exact in whatever
/// order they are made: lengths in milliseconds, deviations in microseconds,
/// shares and measures in thousandths. Texts are UTF-8 on one line.

#ifndef PROFILES_JOURNAL_RECORD_H
#define PROFILES_JOURNAL_RECORD_H

#include "profiles/ladder/ladder.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum {
  JOURNAL_NONE          = INT32_MIN, ///< There is nothing to say
  JOURNAL_ID_BYTES      = 16,
  JOURNAL_ID_TEXT       = 33,
  JOURNAL_KIND_CAPACITY = 16,
  JOURNAL_NAME_CAPACITY = 64,
  JOURNAL_SAYS_CAPACITY = 192,
  JOURNAL_IDEA_CAPACITY = 1024,
};

/// 128 bits by chance: no two are ever alike.
typedef struct {
  uint8_t bytes[JOURNAL_ID_BYTES];
} JournalId;

/// How the note aimed at stands to its chord, and the grid of a turn, as the
/// listener counts them.
enum { N_JOURNAL_TARGETS = 4, N_JOURNAL_GRIDS = 5 };

/// One sitting; what is known when it begins.
typedef struct {
  JournalId id;
  int64_t   started_ms; ///< Of Unix time
  int32_t   day;        ///< Where it was played, days since 1970-01-01
  char      kind[JOURNAL_KIND_CAPACITY]; ///< `trade`, `answer`, `warmup`
  char      way[JOURNAL_KIND_CAPACITY];  ///< Of playing: `answer`, `echo`
  char      chart[JOURNAL_NAME_CAPACITY];
  char      key[JOURNAL_KIND_CAPACITY];
  char      meter[JOURNAL_KIND_CAPACITY];
  char      feel[JOURNAL_NAME_CAPACITY];
  int32_t   tempo; ///< Thousandths of a quarter a minute
  int32_t   bars_per_turn;
  int32_t   choruses;
  int32_t   partner_begins;                 ///< 0 or 1
  int64_t   seed;                           ///< The 64 bits of it
  char      version[JOURNAL_KIND_CAPACITY]; ///< Of the program
} JournalSession;

/// One turn of a sitting. What has nothing to say is JOURNAL_NONE where that is
/// noted, in the partner's turns and the player's alike.
typedef struct {
  int32_t number;    ///< In its session, from 1
  int32_t by_player; ///< 0: by the partner
  int32_t first_bar;
  int32_t length_ms;
  int32_t notes; ///< Of the melody, without ornaments
  int32_t comping;
  int32_t ornaments;
  int32_t grid;        ///< 0 beat, 1 eighth, 2 swung eighth, 3 triplet,
                       ///< 4 sixteenth; NONE without notes
  int32_t swing;       ///< Long to short, thousandths; NONE if no beat tells
  int32_t offset_us;   ///< Mean lateness, early is negative; NONE without notes
  int32_t spread_us;   ///< Standard deviation; NONE below two notes
  int32_t syncopation; ///< A bar, thousandths
  int32_t evenness;    ///< nPVI, thousandths
  int32_t onsets;      ///< A bar, thousandths
  int32_t space;       ///< Share with nothing sounding, thousandths
  int32_t range;       ///< Semitones
  int32_t chord_share; ///< Roots and chord tones, thousandths of the notes
  int32_t scale_share;
  int32_t outside_share;
  int32_t left_share;  ///< Notes outside left hanging
  int32_t target;      ///< 0 root, 1 chord tone, 2 scale tone, 3 outside; NONE
  int32_t complexity;  ///< 0..100000
  int32_t heard_notes; ///< The lowest rungs that allow what was played
  int32_t heard_rhythm;
  int32_t heard_shape;
  int32_t heard_ornament;
  int32_t stands_notes; ///< The rungs that the learner stood on
  int32_t stands_rhythm;
  int32_t stands_shape;
  int32_t stands_ornament;
  int32_t next_notes; ///< ... and stands on after this turn
  int32_t next_rhythm;
  int32_t next_shape;
  int32_t next_ornament;
  int32_t budget;   ///< What the rungs may sum to after it, thousandths; NONE
  int32_t success;  ///< 1, 0, or NONE if it was not judged
  int32_t idea;     ///< Number in the session's memory of ideas; NONE
  int32_t likeness; ///< To that idea, thousandths; NONE
  int32_t move;     ///< The partner's, a Move; NONE
  char says[JOURNAL_SAYS_CAPACITY];  ///< The line shown: said to the player, or
                                     ///< the partner's reason
  char why[JOURNAL_SAYS_CAPACITY];   ///< Why it was a success, or was not
  char moved[JOURNAL_SAYS_CAPACITY]; ///< What the ladder did after it, and why;
                                     ///< empty if nothing
} JournalTurn;

/// An idea of the notebook. Two of the same notes in the same key and meter are
/// one: its ID is their sum, see journal_idea_id(). Of one that was taken out
/// there is left that it was, so that no older export brings it back: all but
/// the ID and the first two is empty.
typedef struct {
  JournalId id;
  int64_t   changed_ms; ///< Kept, renamed or taken out: the latest stays
  int32_t   is_removed; ///< 0 or 1
  int64_t   kept_ms;    ///< Of Unix time
  char      name[JOURNAL_NAME_CAPACITY];       ///< By the player, or empty
  char      chart[JOURNAL_NAME_CAPACITY];      ///< Its title
  char      chart_file[JOURNAL_SAYS_CAPACITY]; ///< How it is found, as --chart
  int32_t   first_bar;                  ///< Where the idea stood in it, from 1
  char      key[JOURNAL_KIND_CAPACITY]; ///< `Eb major`
  char      meter[JOURNAL_KIND_CAPACITY];
  char      origin[JOURNAL_NAME_CAPACITY]; ///< The move that it came from
  char notes[JOURNAL_IDEA_CAPACITY]; ///< `tick:length:pitch` of each, 960 ticks
                                     ///< a quarter from the turn's beginning
} JournalIdea;

typedef enum { JOURNAL_INT, JOURNAL_LONG, JOURNAL_TEXT } JournalFieldKind;

/// A field of a session or a turn, and what it may hold.
typedef struct {
  const char*      name; ///< In the database and in files
  JournalFieldKind kind;
  size_t           offset;
  int64_t          least; ///< Of numbers
  int64_t          most;  ///< Of numbers; of texts, the capacity
  bool             may_be_none;
  const char*      words; ///< Of a choice: `root|chord tone`, from 0; else NULL
  bool             is_line; ///< A text that many share: the database keeps it
                            ///< once, in the table `line`
} JournalField;

/// A kind of record as its fields, in the order of their columns.
typedef struct {
  const JournalField* fields;
  unsigned            n_fields;
} JournalFields;

/// Return the fields of a session, without its ID.
JournalFields
journal_session_fields(void);

/// Return the fields of a turn, without its session.
JournalFields
journal_turn_fields(void);

/// Return the fields of an idea, without its ID.
JournalFields
journal_idea_fields(void);

/// Return the ID of an idea: of its notes, key and meter.
JournalId
journal_idea_id(const JournalIdea* idea);

/// Return a number of a record.
int64_t
journal_field_number(const JournalField* field, const void* record);

/// Return a text of a record.
const char*
journal_field_text(const JournalField* field, const void* record);

/// Whether a number is allowed in a field.
bool
journal_field_allows(const JournalField* field, int64_t number);

/// Put a number that is allowed into a record.
void
journal_field_set(const JournalField* field, void* record, int64_t number);

/**
   Put a text into a record.

   @return False, and nothing put, if it is too long.
*/
bool
journal_field_copy(const JournalField* field, void* record, const char* text);

/**
   Write the word of a number of a choice; return `buffer`.

   @param field One with words.
*/
const char*
journal_field_word(const JournalField* field,
                   int64_t             number,
                   char                buffer[JOURNAL_KIND_CAPACITY]);

/// Return whether a record comes before (below 0) or after (above 0) another in
/// an order of all that there can be; 0 if they are alike.
int
journal_compare(JournalFields fields, const void* a, const void* b);

/// Whether all numbers of a record are allowed.
bool
journal_is_right(JournalFields fields, const void* record);

/// Write an ID as 32 hexadecimal digits; return `text`.
const char*
journal_id_text(JournalId id, char text[JOURNAL_ID_TEXT]);

/// Read an ID; false, and nothing written, if the text is none.
bool
journal_id_parse(JournalId* id, const char* text);

bool
journal_id_equals(JournalId a, JournalId b);

#endif // PROFILES_JOURNAL_RECORD_H
