/// @file profiles/sentences/sentences.h What is said to the player, as a
/// teacher may word it.
///
/// `{note}` in a sentence is the note spoken of, `{tone}` what it is to its
/// chord. Sentences is a plain value; sentences_plain() has the shipped ones,
/// made of config/sentences.cfg while building.

#ifndef PROFILES_SENTENCES_SENTENCES_H
#define PROFILES_SENTENCES_SENTENCES_H

#include <stdbool.h>

enum {
  SENTENCE_LEAST    = 2, ///< Wordings, so that none is said twice running
  SENTENCE_WORDINGS = 6,
  SENTENCE_CAPACITY = 80, ///< Bytes of a wording, with its NUL
};

/// What is measured, and so what is said.
typedef enum {
  // After a turn of the player's: what worked
  SENTENCE_PRAISE_ROOT,
  SENTENCE_PRAISE_TONE,
  SENTENCE_PRAISE_LED,
  SENTENCE_PRAISE_ROOM,
  SENTENCE_PRAISE_STEADY,
  SENTENCE_PRAISE_PLAYED,
  SENTENCE_PRAISE_RHYTHM,
  SENTENCE_PRAISE_BEGAN,
  SENTENCE_PRAISE_MOVED,
  SENTENCE_PRAISE_OPEN,
  SENTENCE_PRAISE_SHAPED,
  SENTENCE_PRAISE_FEWER,
  // ... then one thing to try, at most
  SENTENCE_ADVICE_LEFT,
  SENTENCE_ADVICE_LAST,
  SENTENCE_ADVICE_ROOM,
  SENTENCE_ADVICE_EVEN,
  SENTENCE_ADVICE_LATE,
  SENTENCE_ADVICE_EARLY,
  SENTENCE_ADVICE_CONNECT,
  SENTENCE_ADVICE_MOVED,
  SENTENCE_ADVICE_FLAT,
  // After a turn without a note
  SENTENCE_SILENCE_WAITING,
  SENTENCE_SILENCE_PASSING,
  SENTENCE_SILENCE_ASKING,
  SENTENCE_SILENCE_LAST,
  // When the same comes again: what worked, and what to try then
  SENTENCE_AGAIN_TWICE,
  SENTENCE_AGAIN_RHYTHM,
  SENTENCE_AGAIN_THIRD,
  SENTENCE_AGAIN_MORE,
  // In a warm-up, after a phrase that was to be played again
  SENTENCE_ECHO_WHOLE,
  SENTENCE_ECHO_RHYTHM,
  SENTENCE_ECHO_NOTES,
  SENTENCE_ECHO_OTHER,
  SENTENCE_ECHO_SILENT,
  // How to practise a development, in the order of the moves
  SENTENCE_PRACTISE_REPEAT,
  SENTENCE_PRACTISE_NEW_NOTES,
  SENTENCE_PRACTISE_NEW_RHYTHM,
  SENTENCE_PRACTISE_SEQUENCE,
  SENTENCE_PRACTISE_QUESTION,
  SENTENCE_PRACTISE_FRAGMENT,
  SENTENCE_PRACTISE_THIN_OUT,
  SENTENCE_PRACTISE_FILL_IN,
  SENTENCE_PRACTISE_TURN_OVER,
  SENTENCE_PRACTISE_SHIFT,
  SENTENCE_PRACTISE_RETURN,
  SENTENCE_PRACTISE_ORNAMENT,
  // After a session: two things that worked,
  SENTENCE_WORKED_LANDING,
  SENTENCE_WORKED_ROOM,
  SENTENCE_WORKED_TIME,
  SENTENCE_WORKED_LED,
  SENTENCE_WORKED_HOME,
  SENTENCE_WORKED_TURNS,
  SENTENCE_WORKED_FORM,
  // ... one to work on,
  SENTENCE_WORK_ON_LANDING,
  SENTENCE_WORK_ON_LEADING,
  SENTENCE_WORK_ON_ROOM,
  SENTENCE_WORK_ON_TIME,
  SENTENCE_WORK_ON_BAND,
  SENTENCE_WORK_ON_IDEA,
  SENTENCE_WORK_ON_TURNS,
  // ... and how to begin next time
  SENTENCE_NEXT_LANDING,
  SENTENCE_NEXT_ROOM,
  SENTENCE_NEXT_SLOWER,
  SENTENCE_NEXT_LIKED,
  SENTENCE_NEXT_ONE_NOTE,
  // Before a session in a way of playing that has its own goal: what it is
  SENTENCE_WAY_QUESTION,
  SENTENCE_WAY_ECHO,
  SENTENCE_WAY_FEW_NOTES,
  SENTENCE_WAY_STORY,
  SENTENCE_WAY_HANDING_OVER,
  SENTENCE_WAY_SING_FIRST,
  // ... and what the turn that comes is for
  SENTENCE_TURN_ASK,
  SENTENCE_TURN_CLOSE,
  SENTENCE_TURN_CLOSE_LAST,
  SENTENCE_TURN_ECHO_RHYTHM,
  SENTENCE_TURN_ECHO_LANDING,
  SENTENCE_TURN_ECHO_WHOLE,
  SENTENCE_TURN_FEW_ONE,
  SENTENCE_TURN_FEW_TWO,
  SENTENCE_TURN_FEW_THREE,
  SENTENCE_TURN_LINE_MINE,
  SENTENCE_TURN_LINE_YOURS,
  SENTENCE_TURN_AGAIN_YOURS,
  SENTENCE_TURN_AGAIN_MINE,
  SENTENCE_TURN_AGAIN_LAST,
  SENTENCE_TURN_LAST,
  SENTENCE_TURN_SHOW,
  SENTENCE_TURN_ALONG,
  SENTENCE_TURN_ALONE,
  SENTENCE_TURN_SIMPLER,
  // After a turn in such a way: it did what it was for
  SENTENCE_MET_ASK,
  SENTENCE_MET_CLOSE,
  SENTENCE_MET_RHYTHM,
  SENTENCE_MET_LANDING,
  SENTENCE_MET_WHOLE,
  SENTENCE_MET_FEW,
  SENTENCE_MET_LINE,
  SENTENCE_MET_AGAIN,
  SENTENCE_MET_LAST,
  SENTENCE_MET_ALONG,
  SENTENCE_MET_ALONE,
  SENTENCE_MET_SING,
  // ... or it did not: why, and what to try
  SENTENCE_MISSED_ASK,
  SENTENCE_MISSED_ASK_OUTSIDE,
  SENTENCE_MISSED_CLOSE,
  SENTENCE_MISSED_RHYTHM,
  SENTENCE_MISSED_LANDING,
  SENTENCE_MISSED_WHOLE,
  SENTENCE_MISSED_MORE,
  SENTENCE_MISSED_SOME,
  SENTENCE_MISSED_FEW,
  SENTENCE_MISSED_FEW_ROOT,
  SENTENCE_MISSED_LINE_SHORT,
  SENTENCE_MISSED_LINE_LONG,
  SENTENCE_MISSED_LINE,
  SENTENCE_MISSED_AGAIN,
  SENTENCE_MISSED_LAST,
  SENTENCE_MISSED_LAST_SAME,
  SENTENCE_MISSED_ALONG,
  SENTENCE_MISSED_ALONE,
  SENTENCE_MISSED_SING,
  SENTENCE_MISSED_SING_LANDING,
  // After a session in such a way: most of it came off
  SENTENCE_WAY_WORKED_QUESTION,
  SENTENCE_WAY_WORKED_ECHO,
  SENTENCE_WAY_WORKED_FEW_NOTES,
  SENTENCE_WAY_WORKED_STORY,
  SENTENCE_WAY_WORKED_HANDING_OVER,
  SENTENCE_WAY_WORKED_SING_FIRST,
  // ... or it did not: how to begin next time
  SENTENCE_WAY_NEXT_QUESTION,
  SENTENCE_WAY_NEXT_ECHO,
  SENTENCE_WAY_NEXT_FEW_NOTES,
  SENTENCE_WAY_NEXT_STORY,
  SENTENCE_WAY_NEXT_HANDING_OVER,
  SENTENCE_WAY_NEXT_SING_FIRST,
  // ... and, either way, what to work on
  SENTENCE_WAY_WORK_ON_QUESTION,
  SENTENCE_WAY_WORK_ON_ECHO,
  SENTENCE_WAY_WORK_ON_FEW_NOTES,
  SENTENCE_WAY_WORK_ON_STORY,
  SENTENCE_WAY_WORK_ON_HANDING_OVER,
  SENTENCE_WAY_WORK_ON_SING_FIRST,
  // The one goal of a chorus in the usual way of playing, said before it
  SENTENCE_AIM_LAND,
  SENTENCE_AIM_ROOM,
  SENTENCE_AIM_TAKE_UP,
  SENTENCE_AIM_TWICE,
  // ... and looked back on when it ends: it came off
  SENTENCE_AIM_MET_LAND,
  SENTENCE_AIM_MET_ROOM,
  SENTENCE_AIM_MET_TAKE_UP,
  SENTENCE_AIM_MET_TWICE,
  // ... or it did not
  SENTENCE_AIM_MISSED_LAND,
  SENTENCE_AIM_MISSED_ROOM,
  SENTENCE_AIM_MISSED_TAKE_UP,
  SENTENCE_AIM_MISSED_TWICE,
} SentenceKind;

enum { N_SENTENCES = SENTENCE_AIM_MISSED_TWICE + 1 };

/// The ways to say one thing.
typedef struct {
  unsigned n;
  char     words[SENTENCE_WORDINGS][SENTENCE_CAPACITY];
} Wordings;

typedef struct {
  Wordings of[N_SENTENCES];
} Sentences;

/// How a kind of sentence is named, and what it may hold.
typedef struct {
  const char* group; ///< `praise`
  const char* name;  ///< `root`
  bool        has_note;
  bool        has_tone;
} SentenceRow;

/// Return how a kind is named.
SentenceRow
sentence_row(SentenceKind kind);

/// Return the built-in sentences.
const Sentences*
sentences_plain(void);

/// Return one wording; the same `turn` gives the same, the next one another, if
/// there is any.
const char*
sentence(const Sentences* sentences, SentenceKind kind, unsigned turn);

/// Whether a text holds nothing in braces but what a kind may hold.
bool
sentence_fits(SentenceKind kind, const char* text);

#endif // PROFILES_SENTENCES_SENTENCES_H
