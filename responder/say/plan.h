/// @file responder/say/plan.h What an answer is to be, before any rhythm: its
/// role, its phrases, where it aims.

#ifndef RESPONDER_SAY_PLAN_H
#define RESPONDER_SAY_PLAN_H

#include "core/rng.h"
#include "core/tick.h"
#include "responder/say/frame.h"
#include "responder/say/prompt.h"

#include <stdbool.h>

enum { PLAN_PHRASES = 6 };

typedef enum {
  CONTOUR_ARCH,
  CONTOUR_FALL,
  CONTOUR_RISE,
  CONTOUR_VALLEY,
} Contour;

enum { N_CONTOURS = 4 };

/// What a beat is divided into, now and then.
typedef enum {
  TEXTURE_PLAIN,
  TEXTURE_TRIPLETS,
  TEXTURE_SIXTEENTHS,
  TEXTURE_ACROSS, ///< Groups of a beat and a half
} Texture;

enum { N_TEXTURES = 4 };

/// How an answer's phrases lie.
typedef enum {
  FORM_LINE,     ///< One
  FORM_TWO,      ///< Two short ones
  FORM_SENTENCE, ///< One, one like it, and on
  FORM_SHORT_LONG,
  FORM_LONG_SHORT,
  FORM_THREE,
} Form;

enum { N_FORMS = 6 };

/// How an answer speaks.
typedef enum {
  MANNER_LINE,  ///< One thought leads to the next
  MANNER_TALK,  ///< One note said some times, left, and come back to
  MANNER_RIFF,  ///< A cell again elsewhere in the bar, and then let go
  MANNER_SPARE, ///< A few long notes, and then one gesture
} Manner;

enum { N_MANNERS = 4, PLAN_SAID = 2 };

typedef struct {
  Tick from; ///< Its first note
  Tick goal; ///< Its last
  bool bare; ///< Nothing comes in between
} Span;

/// Drawn once an answer, so that no judging makes all answers alike; anew only
/// where the best line is poor.
typedef struct {
  Manner  manner;
  bool    runs_on; ///< A line that makes up for the room that others leave
  bool    closes;
  Form    form;
  Texture texture;
  double  notes;  ///< Aimed at
  Tick    goal;   ///< Where the last note is written
  int     lowest; ///< Keys
  int     highest;
  bool    shows_run; ///< What the rung adds
  bool    shows_outside;
  bool    shows_range;
  bool    appoggiaturas; ///< On strong beats, with tones that resolve by step
  bool    is_fine;       ///< Sixteenths answer sixteenths
} Intent;

/// Drawn for each candidate.
typedef struct {
  unsigned n_spans;
  Span     spans[PLAN_PHRASES]; ///< Written ticks
  unsigned n_stated; ///< First phrases that are the cell's head, the last of
                     ///< them the whole cell
  Cell     head;     ///< Of the cell
  unsigned n_said;   ///< Places where one note is said some times
  Cell     said[PLAN_SAID]; ///< Their rhythms; `at` is a written tick
  Contour  contour;
} Plan;

/// Draw what the whole answer is to be.
Intent
plan_intent(const Frame*  frame,
            const Prompt* call,
            Manner        manner,
            Move          move,
            Rng*          rng);

/**
   Draw where its phrases stand.

   @param cell What is planted there.
   @return Whether the turn has room for the form.
*/
bool
plan_draw(Plan*         plan,
          const Frame*  frame,
          const Prompt* call,
          const Intent* intent,
          const Cell*   cell,
          Rng*          rng);

#endif // RESPONDER_SAY_PLAN_H
