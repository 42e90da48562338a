/// @file responder/session/session.h Turn-taking as one deterministic machine.
///
/// The machine knows time only as ticks. Live, a clock advances it; offline, a
/// file does: advance to the tick of a key, let it hear the key, and so on. The
/// same options, the same seed and the same keys heard at the same ticks give
/// the same notes played, however the advances are cut up.
///
/// A session is: count-in, choruses of turns, one closing bar, and, where that
/// is wished for, the player's best phrase once more. The form is cut into
/// turns of `bars_per_turn` bars (the last of a chorus may be shorter); whose
/// they are the way of playing together says (pattern.h). As it is usually,
/// they alternate from the first to the last without regard to choruses.
///
/// Whose note it is: one struck up to half a beat before a player's turn is a
/// pick-up and belongs to that turn. A turn is judged SESSION_LEAD ticks before
/// it ends, or later, and may be answered sooner, as reply.h says; what sounds
/// after it was judged belongs to the record, and is known of from the next
/// turn on.
///
/// Memory: Session is about 1.5 MiB, fixed; keep it in place. Nothing is
/// allocated. Threads: one at a time.

#ifndef RESPONDER_SESSION_SESSION_H
#define RESPONDER_SESSION_SESSION_H

#include "core/band/band.h"
#include "core/music/chart.h"
#include "core/rng.h"
#include "core/tick.h"
#include "profiles/ladder/climb.h"
#include "profiles/ladder/ladder.h"
#include "responder/hear/hear.h"
#include "responder/hear/ideas.h"
#include "responder/hear/phrase.h"
#include "responder/say/say.h"
#include "responder/say/thinking.h"
#include "responder/session/agenda.h"
#include "responder/session/aim.h"
#include "responder/session/best.h"
#include "responder/session/change.h"
#include "responder/session/echo.h"
#include "responder/session/hearing.h"
#include "responder/session/outcome.h"
#include "responder/session/remark.h"
#include "responder/session/reply.h"
#include "responder/session/script.h"
#include "responder/session/turn.h"
#include "responder/session/waiting.h"

#include <stdbool.h>
#include <stdint.h>

enum {
  SESSION_LEAD            = 24,  ///< Ticks; 12 ms at 120 bpm
  SESSION_PLAYED_CAPACITY = 512, ///< Notes handed over in one advance
};

/// What a session is made of; the pointers must outlive it.
typedef struct {
  const Chart*  chart;
  const Feel*   feel;
  const Ladder* ladder;
  double        tempo_bpm; ///< Quarters a minute
  unsigned      bars_per_turn;
  unsigned      choruses; ///< 1 or more
  Way           way;
  bool          partner_begins; ///< Where the way leaves it open
  bool          makes_room; ///< The chart is one that chart_make_room() opened
  bool          band_thins_for_partner; ///< Else for the player
  Rung          rung;
  uint64_t      seed;
  unsigned      split_pitch;
  unsigned      lowest; ///< The learner's range
  unsigned      highest;
  unsigned      hand_span;
  double        spread_ms;
  double        lag_ms;
  ClimbPlan     plan;            ///< Zeroed, the rung stays as it is
  double        budget;          ///< Of the plan, when the session begins
  Skill         skill;           ///< ... and what is known of the learner then
  double        usual_spread_ms; ///< Of the learner; 0: as the ear expects
  const Sentences* sentences;    ///< What is said; NULL: the built-in ones
  bool plays_back; ///< After the last bar, the best that the player said
  const Idea*
    opens; ///< The partner says it before anything is said; NULL: nothing
  const Idea* kept; ///< Of the learner's notebook, to come back to; NULL: none
  const Script* script; ///< What the partner plays; NULL: it answers
  Tick listens_behind;  ///< A key is heard so long after its tick; 0: at once
  bool thinks_when_due; ///< All at once, and nothing in vain: nobody waits
} SessionOptions;

/// One turn, whole in itself.
typedef struct {
  Turn      turn;
  Phrase    phrase;    ///< As heard
  unsigned  idea;      ///< 0 if there is none
  float     likeness;  ///< To the idea of that number, when it came back
  Move      move;      ///< Partner's turns
  AnswerIs  is;        ///< ... what they are beside a move
  Treatment treatment; ///< Partner's turns: what the call asked for
  Likeness  answers;   ///< Partner's turns: likeness to the call
  char      why[ANSWER_WHY_CAPACITY]; ///< Partner's turns
  char      remark[REMARK_CAPACITY];  ///< Player's turns
  bool      asks_to_stop;             ///< Silent for the fourth time running
  bool      offers_longer;    ///< The player filled the partner's turns twice
  bool      is_lost;          ///< The player's place was lost in this turn
  unsigned  n_early;          ///< Notes struck in the silence before it
  Note      early;            ///< The first of these, the top one
  Rung      rung;             ///< That it was judged against, or answered from
  Outcome   outcome;          ///< Player's turns
  char asks[REMARK_CAPACITY]; ///< What is said of the turn that comes; or empty
  ClimbMove climb;            ///< Player's turns that were judged, with a plan
} TurnRecord;

/// What an advance brought.
typedef struct {
  unsigned      n_played;
  PartNote      played[SESSION_PLAYED_CAPACITY]; ///< Rising by tick
  unsigned      n_turns; ///< 0..2: the player's turn and the answer to it
  TurnRecord    turns[2];
  SessionChange change; ///< That holds from its tick on; or none
} SessionOut;

/// What the player's turns have led to.
typedef struct {
  Phrase       call;         ///< The last one
  unsigned     silent_turns; ///< Running
  Acquaintance player;       ///< What is known of how the player keeps time
  double       lag_ms;       ///< How late the player was heard last
  double       drift_beats;  ///< How late the player has come to be
  double       step_beats;   ///< ... since the turn before
  Ideas        ideas;
  Climb        climb;       ///< Where the learner stands
  Idea         said;        ///< In the last turn that was not silent
  unsigned     times_said;  ///< Running
  bool         is_rhythm;   ///< ... the last time with other notes
  bool         comes_again; ///< The phrase, or a stretch of it
  bool         comes_back;  ///< An earlier phrase, that had been left
  EchoStand    echo;        ///< Of WAY_ECHO
  Idea         line;        ///< A, of WAY_STORY
  unsigned     most_notes;  ///< Over a chord in the last turn; 0: there is none
  bool         is_fewer;    ///< ... fewer than in the one before
  unsigned     misses;      ///< Of the goals of a way, running
  unsigned     eased; ///< Steps that the partner's turns are made simpler by
} Standing;

enum { SHOWN_CAPACITY = 512 };

/// A note of a chorus that the partner showed, to be played again.
typedef struct {
  Note note;
  Tick grid_tick;
  bool is_ornament;
} ShownNote;

enum { OWN_CAPACITY = 64 }; // Phrases of the player's that are known again

/// How the partner's answers stand to each other: what is said twice is
/// answered twice, and then departed from (A A B).
typedef enum {
  ANSWERS_FRESH,
  ANSWERS_AGAIN, ///< With the answer before, fitted to the chords now
  ANSWERS_DEPARTING,
} AnswersAs;

/// An answer that came in before the line. What the player still plays belongs
/// to the turn that it answers, which is judged at the line.
typedef struct {
  Tick       at;   ///< When it is judged
  Turn       call; ///< Index 0: there is none
  Reply      reply;
  TurnRecord answer;
  Standing   before; ///< The call
  Answer     said;   ///< ... by the partner
} Ahead;

typedef struct {
  SessionOptions options;
  Tick           now;
  Tick           first;    ///< Of the count-in
  Tick           end;      ///< Of the last turn; the closing bar follows
  Tick           last;     ///< Of all
  Tick           next_bar; ///< The bar that the band has yet to play
  Turn           turn;     ///< The present one
  Waiting        waiting;  ///< Keys that are yet to be heard
  Hearing        hearing;
  Agenda         agenda;
  SessionChange  asked; ///< For the next turn
  Standing       standing;
  Standing       presumed; ///< As things stand if nothing more is played
  Reply          reply;
  Ahead          ahead;
  Thinking       thinking;
  unsigned       n_own; ///< The player's phrases so far; the latest are kept
  Idea           own[OWN_CAPACITY];
  AnswersAs      answers_as;   ///< The last answer
  Tick           called_until; ///< What of the last call was answered
  double         loudness;     ///< Mean velocity of the player's last turn
  unsigned   crowded_turns;    ///< The partner's, filled by the player, running
  bool       has_opened;       ///< The partner said something
  unsigned   eased_told;       ///< Steps simpler, of which the player was told
  Best       best;
  AimStand   aim; ///< Of the chorus, in the usual way
  SayHistory history;
  Phrase cell; ///< Of an echo, as it was at first; of a chorus shown, its first
               ///< line; of what is taken over of it, the present one, whole
  unsigned  n_shown; ///< Notes of the last chorus that was shown
  ShownNote shown[SHOWN_CAPACITY];
  Answer    answer; ///< The last one
  Answer    next_answer;
  Remarks   remarks;
  Band      band;
  // Room to work in
  Note       notes[HEARING_CAPACITY];
  HearWork   hear_work;
  TurnRecord presumed_record;
  unsigned   presumed_keys; ///< That had moved then
  BandBar    bar;
} Session;

/// Return how the form of a session is cut into turns.
TurnPlan
session_turn_plan(const SessionOptions* options);

/// Return the ear that a session listens with.
Ear
session_ear(const SessionOptions* options);

/// Return what is said in a session.
const Sentences*
session_sentences(const SessionOptions* options);

/// Write what is said before a session begins: the goal of its way, and of its
/// first turn; empty where the way is the usual one. Return `text`.
const char*
session_opening(const SessionOptions* options, char text[REMARK_CAPACITY]);

/// Return what a turn is called: what it is for, or in the usual way what was
/// done to the call; empty of the player's there.
const char*
session_turn_name(const TurnRecord* record);

/// Begin; time stands at the first tick of the count-in.
void
session_begin(Session* session, const SessionOptions* options);

/// Return the first tick of the count-in, below 0.
Tick
session_first_tick(const Session* session);

/// Return the tick where everything is over; it may come nearer at the closing
/// bar, where there is nothing to play back.
Tick
session_last_tick(const Session* session);

/**
   Hear a key; a tick in the past counts as now.

   A session that listens behind hears it so many ticks after its own: until
   then it may still come, and only one that comes later counts as struck later.

   @return The tick that it counts as, which is what a recording must keep.
*/
Tick
session_hear(Session* session, HeardKey key);

/**
   Let something be otherwise from the next turn on: its line is the first
   moment of another tempo, which is not the session's to keep but that of
   whoever lets its time pass.

   What is asked SESSION_LEAD before a line or later is for the line after. It
   holds for what is thought from then on: an answer that begins on the line has
   been thought before.
*/
void
session_change(Session* session, const SessionChange* change);

/**
   Go on until a tick.

   @param until Notes that begin before it are handed over, and what must be
   decided before it is decided.
   @param[out] out Written whole.
   @return The tick reached: `until`, or less when `out` had no more room; then
   advance again.
*/
Tick
session_advance(Session* session, Tick until, SessionOut* out);

/**
   Take the next note before its time, so that it can be on its way when it is
   to sound; session_advance() will not hand it over again.

   @param before Notes that begin before it; at most SESSION_LEAD / 2 after the
   tick reached, so that nothing decided later belongs before what was taken.
   @param[out] note Written when true comes back.
   @return Whether there is one.
*/
bool
session_take_ahead(Session* session, Tick before, PartNote* note);

/// Return the goal of the first chorus.
AimStand
session_first_aim(const SessionOptions* options);

/// Return where the closing bar ends.
Tick
session_closing_end(const Session* session);

bool
session_is_over(const Session* session);

#endif // RESPONDER_SESSION_SESSION_H
