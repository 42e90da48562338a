/// @file responder/app/ideas_kept.h `barter ideas` where it is about the
/// notebook: listing, naming, taking out.

#ifndef RESPONDER_APP_IDEAS_KEPT_H
#define RESPONDER_APP_IDEAS_KEPT_H

#include "profiles/choices/choices.h"
#include "profiles/journal/journal.h"
#include "responder/app/options.h"
#include "responder/lesson/desk.h"
#include "responder/lesson/who.h"

#include <stdbool.h>
#include <stddef.h>

/// A notebook that is open.
typedef struct {
  const Options* options;
  Who            who;
  JournalIdeas   ideas;
} IdeasKept;

/// Whether the words are `rename` or `remove`: take no file for one of these.
bool
ideas_kept_is_change(const Options* options);

/// Read the notebook of who plays; whoever does not ask for it can go on
/// without. An exit status.
int
ideas_kept_open(IdeasKept* kept, const Options* options);

/// Return which idea a word means, from 1; 0, and a fault said, if it is none.
size_t
ideas_kept_number(const IdeasKept* kept, const char* word);

/// Choose what an idea is shown over: what is asked for, else its own.
Choices
ideas_kept_choose(const IdeasKept* kept, size_t number);

/// List them; an exit status.
int
ideas_kept_list(const IdeasKept* kept, Desk* desk, OpeningSpan span);

/// Name one or take one out, as the words say; an exit status.
int
ideas_kept_change(const IdeasKept* kept);

#endif // RESPONDER_APP_IDEAS_KEPT_H
