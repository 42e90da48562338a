/// @file responder/lesson/kept.h A learner's notebook of ideas.

#ifndef RESPONDER_LESSON_KEPT_H
#define RESPONDER_LESSON_KEPT_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/status.h"
#include "profiles/journal/journal.h"
#include "responder/ideas/develop.h"
#include "responder/lesson/who.h"
#include "responder/setup/setup.h"

#include <stdbool.h>
#include <stddef.h>

/**
   Read the notebook of who plays; empty if nothing is kept of them.

   @param[out] ideas Written on success; give it to journal_ideas_free().
*/
MUST_USE Status
kept_load(JournalIdeas* ideas, const Who* who, Fault* fault);

/**
   Read an idea of the notebook as notes.

   @param[out] idea Written on success only.
   @param[out] tonic The pitch class of its key.
   @return Whether it is one that barter kept.
*/
bool
kept_idea(const JournalIdea* kept, Idea* idea, unsigned* tonic);

/// Choose an idea's own chart and key, and what feel the chart suggests.
void
kept_own(Choices* choices, const JournalIdea* kept);

/**
   Name an idea of the notebook; an empty name takes its name away.

   @param id Of one that kept_load() read.
   @return STATUS_OK; STATUS_MISSING if it is not there any more, STATUS_SYNTAX
   or STATUS_RANGE if the name is none, with the fault written.
*/
MUST_USE Status
kept_rename(const Who* who, JournalId id, const char* name, Fault* fault);

/// Take an idea out of the notebook, for good; as kept_rename().
MUST_USE Status
kept_remove(const Who* who, JournalId id, Fault* fault);

/**
   Keep a development in the notebook; folder and journal are made if they are
   missing.

   @param[out] number Which of the notebook it is, from 1.
   @param[out] is_new Whether it was not there yet.
*/
MUST_USE Status
kept_add(const Who*    who,
         const Setup*  setup,
         const Answer* answer,
         size_t*       number,
         bool*         is_new,
         Fault*        fault);

/// Keep a phrase; as kept_add().
/// @param origin How it came about, as the name of a move.
MUST_USE Status
kept_add_phrase(const Who*    who,
                const Setup*  setup,
                const Phrase* phrase,
                const char*   origin,
                size_t*       number,
                bool*         is_new,
                Fault*        fault);

/// Keep the best phrase of a session in place of the one of the session before,
/// for the next to begin with. STATUS_OK, or what failed with the fault
/// written.
MUST_USE Status
kept_best(Journal*      journal,
          const Setup*  setup,
          const Phrase* phrase,
          Fault*        fault);

/**
   Let an idea of the notebook come back in a session, now and then, as the seed
   has it: `setup->kept`. One in the meter of the chart and not longer than a
   turn is chosen, and moved into its key. The best phrase of the last session,
   where it fits, goes before: the partner begins with it.

   @param setup Loaded.
   @param who Who plays.
*/
void
kept_offer(Setup* setup, const Who* who);

#endif // RESPONDER_LESSON_KEPT_H
