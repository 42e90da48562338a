/// @file responder/lesson/warmup_play.h A warm-up laid out in notes, and as a
/// file.

#ifndef RESPONDER_LESSON_WARMUP_PLAY_H
#define RESPONDER_LESSON_WARMUP_PLAY_H

#include "core/abc/abc.h"
#include "core/attributes.h"
#include "core/fault.h"
#include "core/status.h"
#include "profiles/plan/warmup.h"
#include "responder/session/script.h"
#include "responder/setup/setup.h"

enum { WARMUP_NAME_CAPACITY = 64, WARMUP_WORDS_CAPACITY = 160 };

/// Write what an item is called: `Scale, right hand`; return `text`.
const char*
warmup_item_name(const WarmupItem* item, char text[WARMUP_NAME_CAPACITY]);

/// Return the room that the drills of a setup are made in.
DrillRoom
warmup_room(const Setup* setup);

/// Return how many bars are counted in: two where one is short.
unsigned
warmup_count_in(const Setup* setup);

/// Write what a drill is, once up: the notes of a run with their fingers, when
/// to play in a rhythm, else the notes; return `text`.
const char*
warmup_drill_text(const WarmupItem* item,
                  const Setup*      setup,
                  const Drill*      drill,
                  char              text[WARMUP_WORDS_CAPACITY]);

/// Lay a drill out as a turn, with its off-beats where the feel has them once
/// the learner's rhythm swings.
void
warmup_script(ScriptTurn*       turn,
              const WarmupItem* item,
              const Setup*      setup,
              const Drill*      drill);

/**
   Write a warm-up as a Standard MIDI File: each drill after a count-in, over a
   click and its chord, with the time to echo it; the trading over the band,
   with the player's turns left free. A marker stands at each item.

   @return STATUS_OK; else the status of what failed, with the fault written.
*/
MUST_USE Status
warmup_save(const Warmup* warmup,
            const Setup*  setup,
            const char*   path,
            Fault*        fault);

/**
   Engrave the first round of each drill, with its fingers.

   @return STATUS_OK, or as notation_engrave(), with the fault written.
*/
MUST_USE Status
warmup_engrave(const Warmup* warmup,
               const Setup*  setup,
               const char*   path,
               Fault*        fault);

/// Write the first round of a drill, and nothing but it, as ABC notation; as
/// notation_abc_placed(), or STATUS_FULL if it has too many bars.
MUST_USE Status
warmup_abc(const WarmupItem* item,
           const Setup*      setup,
           const AbcLayout*  layout,
           AbcPlaces*        places,
           char**            text,
           size_t*           size);

#endif // RESPONDER_LESSON_WARMUP_PLAY_H
