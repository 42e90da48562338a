/// @file responder/lesson/converse.h A take answered: the whole conversation,
/// to be told, kept, reported, written as notes and heard.

#ifndef RESPONDER_LESSON_CONVERSE_H
#define RESPONDER_LESSON_CONVERSE_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/settings/faults.h"
#include "core/status.h"
#include "core/watch.h"
#include "responder/lesson/practice.h"
#include "responder/record/drive.h"
#include "responder/record/notation.h"
#include "responder/record/report.h"
#include "responder/record/take.h"
#include "responder/session/summary.h"
#include "responder/setup/setup.h"

#include <stdbool.h>

/// What is to be made of it.
typedef struct {
  bool         reports;
  bool         notates;
  Practice*    practice;  ///< Where each turn is kept; NULL: nowhere
  TurnListener hear_turn; ///< Told of each turn once it is kept; may be NULL
  void*        context;
} ConverseWish;

/// A conversation that was had; give it to converse_free().
typedef struct {
  const Setup*   setup;
  SessionOptions session;
  ConverseWish   wish;
  Conversation   conversation;
  Summary        summary;
  Report*        report;   ///< NULL if none was wished for
  Notation*      notation; ///< NULL if none was wished for
  Fault          kept;     ///< STATUS_OK as long as the journal took every turn
} Converse;

/**
   Load what was chosen for a take, and fit it: room is opened in both where it
   is wished for, and there are as many choruses as hold the take, unless their
   number was chosen.

   @return STATUS_OK; else faults are noted.
*/
MUST_USE Status
converse_load(Setup* setup, const Choices* choices, Take* take, Faults* faults);

/**
   Load a recording, to be had again: its choices and its player.

   @param[out] choices As they were then: where sums of the loaded files differ
   from these, the answers may.
   @param[out] take Written on success; give it to take_free().
   @return STATUS_OK; else faults are noted.
*/
MUST_USE Status
converse_load_again(Setup*      setup,
                    Choices*    choices,
                    Take*       take,
                    const char* path,
                    Faults*     faults);

/// Return where it ends, its closing bar too: nothing is heard after that.
Tick
converse_end(const Setup* setup);

/**
   Let a take be answered.

   @param setup Loaded for it; outlives the conversation.
   @param[out] converse Written whatever comes of it.
   @return STATUS_OK, or STATUS_MEMORY with the fault written.
*/
MUST_USE Status
converse_have(Converse*           converse,
              const Setup*        setup,
              const Take*         take,
              const ConverseWish* wish,
              Fault*              fault);

void
converse_free(Converse* converse);

/// Write the recording; STATUS_OK, or as recording_save().
MUST_USE Status
converse_save(const Converse* converse, const char* path, Fault* fault);

/// Write the notation, which was wished for; STATUS_OK, or as notation_save().
MUST_USE Status
converse_notate(const Converse* converse, const char* path, Fault* fault);

/// Engrave the notation, which was wished for; STATUS_OK, or as
/// notation_engrave().
MUST_USE Status
converse_engrave(const Converse* converse, const char* path, Fault* fault);

/// Render it; STATUS_OK, or as render_conversation().
/// @param soundfont NULL: the usual one.
/// @param watch Looks on, and may stop it; NULL: nobody does.
MUST_USE Status
converse_render(const Converse* converse,
                const char*     path,
                const char*     soundfont,
                const Watch*    watch,
                Fault*          fault);

#endif // RESPONDER_LESSON_CONVERSE_H
