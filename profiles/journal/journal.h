/// @file profiles/journal/journal.h The journal of one person: what was
/// practised, in a file.
///
/// A turn is on the disk when journal_add_turn() returns: each is a commit of
/// its own. Journals of one person on several machines can be brought together
/// in any order and any number of times: records are known by their IDs, and of
/// two that differ the one that comes last in the order of journal_compare()
/// stays.
///
/// Memory: a Journal is taken by journal_open() and given back by
/// journal_close(). Threads: one at a time; another process may have the same
/// file open.

#ifndef PROFILES_JOURNAL_JOURNAL_H
#define PROFILES_JOURNAL_JOURNAL_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/status.h"
#include "profiles/journal/record.h"
#include "profiles/ladder/ladder.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

typedef struct Journal Journal;

typedef enum {
  JOURNAL_MUST_EXIST,
  JOURNAL_MAY_CREATE, ///< For its owner alone
} JournalOpening;

/// Where a learner stands.
typedef struct {
  Rung    rung;   ///< 0 in a dimension that is not told
  int32_t budget; ///< Thousandths, or JOURNAL_NONE
} JournalStand;

/// What a learner has done of late; 0 where nothing tells.
typedef struct {
  int64_t n_sessions;          ///< Of all time
  int64_t n_turns;             ///< The player's with notes
  double  heard[N_DIMENSIONS]; ///< Mean rung heard in turns that succeeded
  double  spread_ms;           ///< Mean timing error
  int64_t n_judged; ///< Turns that told where the learner stands, of all time,
  int64_t
    n_failures; ///< ... up to FINDING_TURNS, and how many did not come off
} JournalHabits;

/// A session with the sums over its turns: the player's, where it does not say
/// otherwise.
typedef struct {
  JournalSession session;
  int64_t        length_ms; ///< Of all turns, the partner's too
  int64_t        turns;
  int64_t        silent;
  int64_t        judged;
  int64_t        successes;
  int64_t        aimed;      ///< Turns with a target
  int64_t        landed;     ///< ... that was a root or a chord tone
  int64_t        timed;      ///< Turns with a spread
  int64_t        spread_us;  ///< Sum over these
  int64_t        offset_us;  ///< Sum over these
  int64_t        space;      ///< Thousandths, sum over the turns with notes
  int64_t        swung;      ///< Turns with a swing
  int64_t        swing;      ///< Thousandths, sum over these
  int64_t        complexity; ///< Thousandths, sum over the turns with notes
  int64_t        notes;
  int64_t        last;  ///< The turn that `stand` is of, 0 if none
  JournalStand   stand; ///< At the end; of meaning if `last`
} JournalTotal;

/// The notebook.
typedef struct {
  size_t       n_ideas;
  JournalIdea* ideas; ///< By the time they were kept
} JournalIdeas;

typedef struct {
  size_t        n_totals;
  JournalTotal* totals; ///< By the time they started
} JournalTotals;

/// A turn after which the ladder moved.
typedef struct {
  int32_t day;
  int32_t turn;
  bool    is_of_first; ///< Session that there ever was
  char    moved[JOURNAL_SAYS_CAPACITY];
} JournalMoved;

typedef struct {
  size_t        n_moves;
  JournalMoved* moves; ///< The latest first
} JournalMoves;

/// Called for each record; a status other than STATUS_OK ends the reading.
typedef struct {
  Status (*session)(void* context, const JournalSession* session);
  Status (*turn)(void* context, const JournalTurn* turn);
  void* context;
} JournalReader;

/// What a merge brought.
typedef struct {
  size_t sessions_added;
  size_t turns_added;
  size_t ideas_added;
  size_t records_replaced; ///< By fuller ones of the same ID
} JournalGain;

/**
   Open a journal; one of an older version is brought up to date.

   @param[out] journal Written on success only.
   @return STATUS_OK; STATUS_MISSING if there is none and none may be created,
   STATUS_SYNTAX if the file is no journal or that of a newer version,
   STATUS_MEMORY or STATUS_SYSTEM, with the fault written.
*/
MUST_USE Status
journal_open(Journal**      journal,
             const char*    path,
             JournalOpening opening,
             Fault*         fault);

/// Close; NULL does nothing.
void
journal_close(Journal* journal);

/// Return an ID that no other record has.
JournalId
journal_new_id(void);

// Writing

/**
   Begin a session; it is on the disk when this returns.

   @return STATUS_OK; STATUS_RANGE if there is one of its ID or a value is not
   allowed, STATUS_SYSTEM, with the fault written.
*/
MUST_USE Status
journal_add_session(Journal*              journal,
                    const JournalSession* session,
                    Fault*                fault);

/// Take out a session in which the player struck no key: it was no practice.
/// STATUS_OK, also where it stays; or STATUS_SYSTEM with the fault written.
MUST_USE Status
journal_drop_unplayed(Journal* journal, JournalId session, Fault* fault);

/// Drop a session, played in or not; STATUS_OK, or STATUS_SYSTEM with the fault
/// written and nothing dropped.
MUST_USE Status
journal_drop(Journal* journal, JournalId session, Fault* fault);

/**
   Add a turn to a session; it is on the disk when this returns.

   @return STATUS_OK; STATUS_RANGE if there is no such session, or such a turn
   already, or a value is not allowed; STATUS_SYSTEM, with the fault written and
   nothing changed.
*/
MUST_USE Status
journal_add_turn(Journal*           journal,
                 JournalId          session,
                 const JournalTurn* turn,
                 Fault*             fault);

/**
   Keep an idea in the notebook; it is on the disk when this returns.

   @param idea Its ID, and when it was changed, are of no matter.
   @param[out] is_new Whether there was none of these notes yet; if there was,
   that one stays.
   @return STATUS_OK; STATUS_RANGE if a value is not allowed, STATUS_SYSTEM,
   with the fault written.
*/
MUST_USE Status
journal_keep_idea(Journal*           journal,
                  const JournalIdea* idea,
                  bool*              is_new,
                  Fault*             fault);

/**
   Give an idea of the notebook another name; an empty one takes it away.

   @param now_ms Of Unix time.
   @return STATUS_OK; STATUS_MISSING if there is no such idea, STATUS_RANGE if
   the name is too long, STATUS_SYSTEM, with the fault written.
*/
MUST_USE Status
journal_rename_idea(Journal*    journal,
                    JournalId   id,
                    const char* name,
                    int64_t     now_ms,
                    Fault*      fault);

/**
   Take an idea out of the notebook: only that it was there is kept.

   @return STATUS_OK; STATUS_MISSING if there is no such idea, STATUS_SYSTEM,
   with the fault written.
*/
MUST_USE Status
journal_remove_idea(Journal*  journal,
                    JournalId id,
                    int64_t   now_ms,
                    Fault*    fault);

// Reading

/**
   Read the notebook.

   @param[out] ideas Written on success; give it to journal_ideas_free().
*/
MUST_USE Status
journal_ideas(Journal* journal, JournalIdeas* ideas, Fault* fault);

/// Read the notebook with what was taken out of it, as an export needs it.
MUST_USE Status
journal_all_ideas(Journal* journal, JournalIdeas* ideas, Fault* fault);

void
journal_ideas_free(JournalIdeas* ideas);

/**
   Sum up all sessions that have turns.

   @param[out] totals Written on success; give it to journal_totals_free().
*/
MUST_USE Status
journal_totals(Journal* journal, JournalTotals* totals, Fault* fault);

void
journal_totals_free(JournalTotals* totals);

/**
   Find where the learner stands: at the end of the latest session.

   @param[out] stand Written on success only.
   @return STATUS_OK; STATUS_MISSING, with no fault, if no session tells.
*/
MUST_USE Status
journal_stand(Journal* journal, JournalStand* stand, Fault* fault);

/// Sum up the latest sessions.
/// @param[out] habits Written on success only.
MUST_USE Status
journal_habits(Journal* journal, JournalHabits* habits, Fault* fault);

/// A sentence about turns that did not come off, which lives during the call
/// only, and of how many it is true.
typedef void (*JournalWhy)(void* context, const char* why, unsigned n);

/**
   Count why turns did not come off since a day.

   @param from_day Days since 1970-01-01.
   @param[out] n_judged The turns that were judged since then; written on
   success only.
*/
MUST_USE Status
journal_whys(Journal*   journal,
             int32_t    from_day,
             JournalWhy tell,
             void*      context,
             unsigned*  n_judged,
             Fault*     fault);

/**
   Read the moves of the ladder, the latest first.

   @param[out] moves Written on success; give it to journal_moves_free().
*/
MUST_USE Status
journal_moves(Journal* journal, JournalMoves* moves, Fault* fault);

void
journal_moves_free(JournalMoves* moves);

/**
   Read everything: each session by the time it started, then its turns.

   @return STATUS_OK, what the reader returned, or STATUS_SYSTEM; only for the
   last the fault is written.
*/
MUST_USE Status
journal_read(Journal* journal, const JournalReader* reader, Fault* fault);

// People

/// Give the journal's person an ID, if there is none yet.
MUST_USE Status
journal_name_person(Journal* journal, Fault* fault);

/// Whether the journal is of a person of this ID.
bool
journal_is_of(Journal* journal, JournalId person);

/**
   Read the IDs of the journal's person, in their own order.

   @param[out] ids Owned by the caller: free().
*/
MUST_USE Status
journal_persons(Journal* journal, JournalId** ids, size_t* n_ids, Fault* fault);

// Bringing together

/// Begin to merge: from here on nothing is kept before journal_merge_end().
MUST_USE Status
journal_merge_begin(Journal* journal, Fault* fault);

/// Merge an ID of the same person.
MUST_USE Status
journal_merge_person(Journal* journal, JournalId person, Fault* fault);

/// Merge a session; turns that follow belong to it.
MUST_USE Status
journal_merge_session(Journal*              journal,
                      const JournalSession* session,
                      Fault*                fault);

/// Merge a turn of the session merged last.
MUST_USE Status
journal_merge_turn(Journal* journal, const JournalTurn* turn, Fault* fault);

/// Merge an idea, by the ID that its notes have or, where it was taken out,
/// had.
MUST_USE Status
journal_merge_idea(Journal* journal, const JournalIdea* idea, Fault* fault);

/// Keep what was merged, all of it or nothing.
/// @param[out] gain Written on success only.
MUST_USE Status
journal_merge_end(Journal* journal, JournalGain* gain, Fault* fault);

/// Forget what was merged.
void
journal_merge_abandon(Journal* journal);

#endif // PROFILES_JOURNAL_JOURNAL_H
