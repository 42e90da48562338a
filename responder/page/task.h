/// @file responder/page/task.h A request that takes a while: done on the
/// worker's thread, then answered.

#ifndef RESPONDER_PAGE_TASK_H
#define RESPONDER_PAGE_TASK_H

#include "responder/lesson/desk.h"
#include "responder/page/face.h"

typedef struct Task Task;

/// What it is done with is its own: nothing of the page is touched meanwhile.
struct Task {
  Job      job; ///< The first member
  WireCall call;
  /// On the worker's thread; return the answer, NULL with faults noted.
  json_t* (*make)(Task* task, const char* folder);
  /// On the server's, before the answer, `made`, is sent; NULL: nothing to do.
  void (*done)(Page* page, Task* task);
  Who      who;     ///< Who plays
  Choices  choices; ///< What is chosen
  Said     said;    ///< What was asked for
  unsigned number;
  unsigned count;
  double   amount;
  char     text[FACE_TEXT];
  char     path[PLACE_PATH_CAPACITY];
  char     scratch[SCRATCH_PATH]; ///< Where its own folder is made
  Desk*    desk;                  ///< Of ideas; NULL: none
  WarmUp*  warm_up;               ///< NULL: none
  Recall*  recall;                ///< NULL: none
  json_t*  made;
  Faults   faults;
};

/// Begin one with what holds on the page now; NULL with the fault written.
Task*
task_begin(const Page* page,
           WireCall*   call,
           json_t* (*make)(Task* task, const char* folder));

/// Let it be done; return NULL.
json_t*
task_give(Page* page, Task* task, WireCall* call);

/// Let go of one that is not given.
void
task_drop(Task* task);

/// Note a fault of an task; return NULL.
json_t*
task_fail(Task* task, const Fault* fault);

/// Answer that something lies in the notebook now, under its number.
json_t*
task_kept(size_t number, bool is_new);

/// Once that is done: look at whose notebook it is again.
void
task_look_again(Page* page, Task* task);

/// Read a file whole, to be freed, with a NUL behind its `size` bytes; NULL if
/// it cannot be read.
char*
task_read_file(const char* path, size_t* size);

/// Return a file as an answer: `file`, `type`, `base64`; NULL if it cannot be
/// read.
json_t*
task_answer_file(const char* path, const char* name, const char* type);

#endif // RESPONDER_PAGE_TASK_H
