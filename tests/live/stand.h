// What the live tests share: a stage over ports in memory, a player and a
// listener.

#ifndef TESTS_LIVE_STAND_H
#define TESTS_LIVE_STAND_H

#include "core/settings/chart_file.h"
#include "profiles/ladder/ladder.h"
#include "responder/stage/stage.h"
#include "support/loop.h"

#include <pthread.h>
#include <stdatomic.h>
#include <stdbool.h>
#include <sys/types.h>

enum { STAND_HEARD = 60000, STAND_KEPT = 20000 };

typedef struct Stand Stand;

struct Stand {
  ChartFile      chart;
  Feel           feel;
  Ladder         ladder;
  SessionOptions session;
  Ports*         loop; // The present one; the stage owns it
  Stage*         stage;
  StageResult    result;
  Status         status;
  StageNews      news;
  void (*look)(Stand*, const StageNews*); // At each of the news; or NULL
  // What came out, in order
  unsigned    n_heard;
  MidiMessage heard[STAND_HEARD];
  // What was recorded; of the notes, what is on disk at the end
  char        folder[32];
  char        path[64];
  ino_t       inode;
  unsigned    n_saves; // That were seen while it played
  unsigned    n_kept;
  PartNote    kept[STAND_KEPT];
  bool        disk_is_gone;
  bool        is_alone; // No keyboard is there at first
  bool        has_heard_of_keyboard;
  unsigned    n_shown; // Keys, up and down
  atomic_uint n_turns;
  atomic_uint n_judged; // Of these, by a plan
  atomic_uint n_moved;  // ... after which the ladder moved
  atomic_bool is_over;
  unsigned    n_failed;
};

// A session of so many choruses of a shipped chart; ends the program on failure
void
stand_begin(Stand* stand, const char* chart, unsigned choruses, int speed);

// ... without a keyboard, which may come
void
stand_begin_alone(Stand*      stand,
                  const char* chart,
                  unsigned    choruses,
                  int         speed);

// Play it through, while another thread does `act` and can see is_over
void
stand_perform(Stand* stand, void* (*act)(void*), bool sync, bool click);

// Play a session through; each turn is handed on, where there is a listener
void
stand_play(Stand*             stand,
           const Performance* performance,
           void (*hear_turn)(void* context, const TurnRecord* record),
           void* context);

// Close everything and take what is left
void
stand_end(Stand* stand);

// Say what should hold, if it does not
void
stand_check(Stand* stand, bool holds, const char* words);

// Strike and let go of a key at the keyboard
void
stand_key(Stand* stand, uint8_t pitch, unsigned ms);

// Notes that began and did not end, in what was heard
unsigned
stand_hanging(const Stand* stand);

#endif // TESTS_LIVE_STAND_H
