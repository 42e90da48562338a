/// @file responder/say/answer.h What is asked of the partner, and its answer.
///
/// Plain values; an Answer is about 20 KiB.

#ifndef RESPONDER_SAY_ANSWER_H
#define RESPONDER_SAY_ANSWER_H

#include "core/music/note.h"
#include "core/tick.h"
#include "profiles/ladder/ladder.h"
#include "responder/hear/hear.h"
#include "responder/hear/ideas.h"
#include "responder/hear/phrase.h"

#include <stdbool.h>
#include <stdint.h>

enum {
  ANSWER_CAPACITY      = 128, ///< Notes of an answer, ornaments among them
  ANSWER_WHY_CAPACITY  = 160,
  SAY_HISTORY_CAPACITY = 32, ///< Answers of the present chorus remembered
};

/// What the turn before calls for.
typedef enum {
  TREAT_ANSWER,    ///< A phrase was played: answer it
  TREAT_SIMPLER,   ///< A silent turn: shorter and simpler, from the last idea
  TREAT_FRAGMENTS, ///< Silence again: fragments of the first idea, and waiting
  TREAT_SPACE,     ///< An overfull turn: answer it with space
} Treatment;

/// What an answer is, where it is no development of the call by its move.
typedef enum {
  ANSWER_BY_MOVE,
  ANSWER_FIRST, ///< A first idea
  ANSWER_PLAIN, ///< The root and no more
  ANSWER_OWN,   ///< Made of a cell of its own
  ANSWER_AGAIN, ///< The answer before
  ANSWER_BEST,  ///< The player's best phrase of the last session
} AnswerIs;

enum { N_ANSWER_IS = 6 };

/// What was said so far; zeroed at the beginning of a session.
typedef struct {
  unsigned n_answers; ///< Of the session
  Move last_moves[2]; ///< The latest first; of no matter while n_answers < 2
  unsigned n_digests; ///< Of the present chorus
  uint32_t digests[SAY_HISTORY_CAPACITY]; ///< Of written notes and pitches
} SayHistory;

typedef struct Answer Answer;

/// Everything an answer depends on, besides chance.
typedef struct {
  Ear               ear; ///< Chart, ladder, tempo
  Rung              rung;
  Tick              start;    ///< The turn to be filled
  Tick              earliest; ///< A pick-up may begin here; `start` if none may
  Tick              end;
  const Phrase*     call; ///< The turn before; may hold no note
  const Ideas*      ideas;
  const SayHistory* history;
  unsigned          lowest; ///< The learner's range, MIDI keys
  unsigned          highest;
  unsigned  hand_span;   ///< Widest step between neighbours at speed, semitones
  double    swing_ratio; ///< Of the feel at this tempo; 1 straight
  Treatment treatment;
  unsigned  turn_in_chorus;   ///< 0-based, among the partner's turns
  unsigned  turns_in_chorus;  ///< The partner's, 1 or more
  bool      ends_chorus;      ///< The turn runs to the end of the form
  bool      ends_piece;       ///< Close on the tonic, on the last downbeat
  const Phrase* departs_from; ///< What is left, and closed; NULL: nothing
  const Answer* before;       ///< Said earlier, to be said again; NULL if none
} SayRequest;

struct Answer {
  unsigned n_notes;
  Note     notes[ANSWER_CAPACITY];      ///< As they sound, rising by tick
  Tick     grid_ticks[ANSWER_CAPACITY]; ///< As they are written
  bool     is_ornament[ANSWER_CAPACITY];
  Move     move;
  AnswerIs is;
  char     why[ANSWER_WHY_CAPACITY]; ///< One sentence
  Phrase   heard;                    ///< What the listener finds in it
  Likeness likeness; ///< To the call, or to the idea returned to
  uint32_t digest;
  float    faults; ///< How much the judge finds wrong with it; 0 is nothing
};

#endif // RESPONDER_SAY_ANSWER_H
