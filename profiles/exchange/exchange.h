/// @file profiles/exchange/exchange.h A learner as one file, to take along and
/// to bring together with what is elsewhere.
///
/// The file is text, one JSON value a line (UTF-8). First the head:
///
///   {"format":"barter-learner","version":1,"learner":ID,"persons":[ID...],
///    "settings":{"changed_us":N,"text":"..."}|null,
///    "session_columns":["id",...],"turn_columns":[...],
///    "idea_columns":["id",...]}
///
/// then each session, {"session":[...]}, with its turns after it, each a list
/// in the order of the columns; then each idea of the notebook,
/// {"idea":[...]}, those that were taken out too; last
/// {"end":{"sessions":N,"turns":N,"ideas":N}}, so that one that was cut short
/// is known. Columns, units and choices are those of the journal's tables; null
/// is nothing to say.

#ifndef PROFILES_EXCHANGE_EXCHANGE_H
#define PROFILES_EXCHANGE_EXCHANGE_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/status.h"
#include "core/watch.h"
#include "profiles/journal/journal.h"
#include "profiles/learner/people.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

/// The head of a file; give it to exchange_head_free().
typedef struct {
  char       learner[PEOPLE_ID_CAPACITY]; ///< The ID where it was written
  size_t     n_persons;                   ///< 1 or more
  JournalId* persons;                     ///< Owned
  int64_t    changed_us; ///< When the settings were, Unix time; 0 unless known
  char*      settings;   ///< The text of learner.cfg, owned; NULL if none
} ExchangeHead;

/// Called for what a file holds, in its order; a status other than STATUS_OK,
/// with the fault written, ends the reading.
typedef struct {
  Status (*head)(void* context, const ExchangeHead* head, Fault* fault);
  Status (*session)(void* context, const JournalSession* session, Fault* fault);
  Status (*turn)(void* context, const JournalTurn* turn, Fault* fault);
  Status (*idea)(void* context, const JournalIdea* idea, Fault* fault);
  void* context;
  bool  head_only; ///< Read no further
} ExchangeReader;

void
exchange_head_free(ExchangeHead* head);

/**
   Write a learner.

   Settings that cannot be read by learner_file_load() are left out: look at
   them before.

   @param person Who is there; a journal is begun if there is none.
   @return STATUS_OK; STATUS_SYNTAX if the journal is damaged, STATUS_MEMORY or
   STATUS_SYSTEM, with the fault written.
*/
MUST_USE Status
exchange_write(FILE* stream, const Person* person, Fault* fault);

/**
   Write a journal as comma-separated values (RFC 4180), one line a turn, the
   columns of its session before its own.

   @param learner An ID, the first column.
*/
MUST_USE Status
exchange_write_csv(FILE*       stream,
                   const char* learner,
                   Journal*    journal,
                   Fault*      fault);

/**
   Read a file.

   @param name Stands for the file in the fault.
   @param reader Members that are NULL are not called.
   @return STATUS_OK; STATUS_SYNTAX if it is no such file, STATUS_FULL if a line
   is too long, STATUS_MEMORY, STATUS_SYSTEM, or what a call returned, with the
   fault written: with the line, and what would be right.
*/
MUST_USE Status
exchange_read(FILE*                 stream,
              const char*           name,
              const ExchangeReader* reader,
              Fault*                fault);

/**
   Look at the head of a file: whose it is. What follows is looked over when it
   is merged.

   @param[out] head Written on success only.
   @return As exchange_read(); STATUS_MISSING if there is no such file.
*/
MUST_USE Status
exchange_look(ExchangeHead* head, const char* path, Fault* fault);

/**
   Merge a file into a journal, all of it or nothing.

   @param watch Looks on; NULL: nobody does.
   @param[out] gain Written on success only.
   @return As exchange_look(), or what the journal returned; STATUS_STOPPED if
   it was stopped.
*/
MUST_USE Status
exchange_merge(Journal*     journal,
               const char*  path,
               const Watch* watch,
               JournalGain* gain,
               Fault*       fault);

/**
   Take the settings of a file if they are newer than a person's own; of two
   that changed at the same moment the one whose bytes come later.

   @param[out] is_taken Written on success only.
   @return STATUS_OK, or STATUS_SYSTEM with the fault written.
*/
MUST_USE Status
exchange_take_settings(const Person*       person,
                       const ExchangeHead* head,
                       bool*               is_taken,
                       Fault*              fault);

/**
   Say when a person's settings were changed.

   @param changed_us Unix time; 0 for settings that nobody made.
*/
MUST_USE Status
exchange_stamp(const Person* person, int64_t changed_us, Fault* fault);

#endif // PROFILES_EXCHANGE_EXCHANGE_H
