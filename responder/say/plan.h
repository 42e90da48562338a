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

typedef struct {
  Tick from; ///< Its first note
  Tick goal; ///< Its last
} Span;

/// Drawn once an answer, so that no judging makes all answers alike.
typedef struct {
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
  bool    leans;   ///< On strong beats, with tones that resolve by step
  bool    is_fine; ///< Sixteenths answer sixteenths
} Intent;

/// Drawn for each candidate.
typedef struct {
  unsigned n_spans;
  Span     spans[PLAN_PHRASES]; ///< Written ticks
  Contour  contour;
} Plan;

/// Draw what the whole answer is to be.
Intent
plan_intent(const Frame* frame, const Prompt* call, Rng* rng);

/// Draw where its phrases stand; false if the turn has no room for the form.
bool
plan_draw(Plan*         plan,
          const Frame*  frame,
          const Prompt* call,
          const Intent* intent,
          Rng*          rng);

#endif // RESPONDER_SAY_PLAN_H
