/// @file responder/hear/hear_work.h Room for the listener to work in.
///
/// Its content means nothing between calls; the caller keeps one so that
/// hearing allocates nothing and needs little stack.

#ifndef RESPONDER_HEAR_HEAR_WORK_H
#define RESPONDER_HEAR_HEAR_WORK_H

typedef struct
{
  char unused; // The tables of the grid search come here
} HearWork;

#endif // RESPONDER_HEAR_HEAR_WORK_H
