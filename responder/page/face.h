/// @file responder/page/face.h What a page that is open holds, and how it is
/// told of to browsers.

#ifndef RESPONDER_PAGE_FACE_H
#define RESPONDER_PAGE_FACE_H

#include "core/time/beat_clock.h"
#include "responder/lesson/desk.h"
#include "responder/lesson/recall.h"
#include "responder/lesson/trading.h"
#include "responder/lesson/tries.h"
#include "responder/page/page.h"
#include "responder/page/scratch.h"
#include "responder/page/server.h"
#include "responder/page/wire.h"
#include "responder/page/worker.h"

#include <jansson.h>
#include <stdint.h>
#include <stdio.h>

enum {
  FACE_KEY_CAPACITY = 33, ///< 128 bits in hexadecimal digits
  FACE_NOBODY       = SERVER_CLIENTS,
  FACE_PITCHES      = 128,
  FACE_TEXT         = 512,
  FACE_NAME         = SCRATCH_PATH,
  FACE_PIECES       = 2, ///< Of the state, kept as text
  FACE_TURNS        = 8, ///< That a page that comes later is told of
};

#define FACE_JSON                                                              \
  (JSON_COMPACT | JSON_REAL_PRECISION(12)) ///< How it is written

/// How what is played live stands.
typedef enum {
  FACE_IDLE,
  FACE_COUNT_IN,
  FACE_PLAYS,
  FACE_PAUSED,
  FACE_OVER
} FaceStands;

/// What is played live.
typedef enum {
  FACE_TRADES,
  FACE_WARMS_UP, ///< An exercise
  FACE_TRIES     ///< A development of a phrase
} FaceKind;

typedef struct {
  FaceKind              kind;
  const SessionOptions* session;   ///< As it began
  PlayingSession*       kept;      ///< NULL: nothing is kept of it
  double                tempo_bpm; ///< Now
  json_t*               exercise;  ///< As the state has it; NULL: none
} FaceLive;

/// A browser's page.
typedef struct {
  bool    is_there;
  bool    is_open; ///< It has shown the key
  int64_t came_ns;
  int64_t n; ///< Of its last request
} Guest;

/// What can be changed while a session is played.
typedef struct {
  bool thru;
  bool click;
  bool layers[N_PARTS]; ///< Which parts of the band sound
} FaceSwitches;

/// Something recorded that is heard again.
typedef struct {
  bool         is_on;
  Conversation notes; ///< Its own
  double       tempo_bpm;
  char         name[64];
  size_t       next; ///< Note of the conversation
  Tick         end;
  BeatClock    clock; ///< Of the machine's
} FaceHears;

typedef struct WarmUp WarmUp; // warm_up.h

struct Page {
  PageWish     wish;
  Server*      server;
  Worker*      worker;
  Worker*      keeper; ///< Of the journal, which is written in order
  char         key[FACE_KEY_CAPACITY];
  char         scratch[SCRATCH_PATH]; ///< A folder in passing
  char         address[PAGE_ADDRESS_CAPACITY];
  int          beacon; ///< By which a second start finds it
  Guest        guests[SERVER_CLIENTS];
  unsigned     player;   ///< Whose page plays; FACE_NOBODY: none
  int64_t      empty_ns; ///< Since when there is no page; 0: there is one
  bool         ends;
  Said         said;
  Setup        next;  ///< What the next session is made of
  Setup        trial; ///< What it would be
  Trading      trading;
  Playing      playing;
  bool         has_sound;
  char         sound[FACE_TEXT];    ///< In words, for people
  char         keyboard[FACE_TEXT]; ///< The same
  bool         hears_keyboard;
  FaceSwitches switches;
  bool         held[FACE_PITCHES]; ///< Keys of the page that are down
  bool         has_own_tempo;      ///< By slower or faster
  bool         is_asked;           ///< A change, that has not come about yet
  FaceStands   stands;
  FaceLive     live;      ///< Of what is played, or was last
  bool         is_begun;  ///< A session is played
  unsigned     n_cleared; ///< How often turns were cleared: by welcome.h
  WireCall     early;     ///< To begin, before there was sound
  bool         is_early;  ///< ... and it is not answered yet
  int64_t      placed_ns; ///< When the place was told last
  int64_t      played_ns; ///< In all, since the last care
  int64_t      looked_ns;
  Recall*      recall;              ///< What is looked back on; NULL: nothing
  char         recalled[FACE_NAME]; ///< Its name
  FaceHears    hears;
  Desk*        ideas;   ///< What was developed last; NULL: nothing
  json_t*      told;    ///< ... and what a page was told of each
  Tries*       tries;   ///< Of it, one by one; NULL: none
  WarmUp*      warm_up; ///< The plan; NULL: none was asked for
  FILE*        dropped; ///< A file that is being brought in; NULL: none
  size_t       n_dropped;
  char         dropped_path[FACE_NAME];
  char         removed[PLACE_PATH_CAPACITY]; ///< Whoever was removed last
  char         removed_id[FACE_NAME];
  char         import[FACE_NAME];   ///< Whom to bring in, as a file
  json_t*      turns;               ///< The last ones that were told
  json_t*      staves;              ///< Theirs, by index
  json_t*      over;                ///< The form they were played over
  char*        pieces[FACE_PIECES]; ///< What welcome.h keeps; NULL: to be made
};

/// Parts of the state.
typedef enum {
  STATE_ME       = 1U << 0,
  STATE_PEOPLE   = 1U << 1,
  STATE_TABLE    = 1U << 2,
  STATE_CHOICES  = 1U << 3,
  STATE_FORM     = 1U << 4, ///< With `tones`
  STATE_SESSION  = 1U << 5,
  STATE_SOUND    = 1U << 6,
  STATE_KEYBOARD = 1U << 7,
  STATE_CARE     = 1U << 8,
  STATE_TURNS = 1U << 9, ///< With `staves` and the form they were played over
  STATE_ALL   = (1U << 10) - 1,
} StatePart;

/// Send an event or an answer to one page; `message` is taken over.
void
face_send(Page* page, unsigned client, json_t* message);

/// Send an event to every page; `message` is taken over.
void
face_tell(Page* page, json_t* message);

/// Send a line for the player to every page.
/// @param kind As page.h has them.
void
face_say(Page* page, const char* kind, const char* text);

/// Return what tells one page of parts of the state.
json_t*
face_state(const Page* page, unsigned client, unsigned parts);

/// Send parts of the state to every page.
void
face_tell_state(Page* page, unsigned parts);

/// Answer a request that was to be answered later; `answer` is taken over, NULL
/// is a fault.
void
face_answer(Page* page, const WireCall* call, json_t* answer);

/// Write a fault of a request in words; return NULL.
__attribute__((format(printf, 3, 4))) json_t*
face_refuse(WireCall* call, const char* field, const char* format, ...);

/// Take the first of faults for that of a request; return NULL.
json_t*
face_refuse_all(WireCall* call, const char* field, const Faults* faults);

/// Return the session whose form is shown: that is played, or the next one. The
/// page's, for as long as nothing changes.
SessionOptions
face_session(const Page* page);

/// Whether a text of a page names a chart or feel, and no file of its choice;
/// else the fault is written. What else is chosen is always right.
bool
face_is_name(Choice choice, const char* text, Fault* fault);

#endif // RESPONDER_PAGE_FACE_H
