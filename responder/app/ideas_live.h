/// @file responder/app/ideas_live.h Developments played one by one, live, each
/// until the player has tried it.
///
/// Each is a session of its own over the bars of the phrase: it is played, the
/// player tries it and is answered, and has the last turn. To one who is silent
/// it is played again. With a control, one tap plays it again, two go on to the
/// next, a tap and a hold make it slower, two and a hold faster, and holding
/// leaves.

#ifndef RESPONDER_APP_IDEAS_LIVE_H
#define RESPONDER_APP_IDEAS_LIVE_H

#include "responder/app/options.h"
#include "responder/app/who.h"
#include "responder/hear/phrase.h"
#include "responder/ideas/develop.h"
#include "responder/setup/setup.h"

/// What is played, and who tells of it.
typedef struct {
  const Options*      options;
  Who*                who;
  Setup*              setup; ///< A gesture may change its tempo
  const Phrase*       phrase;
  const Developments* found;
  void (*tell)(void* context, unsigned index); ///< Before one is played
  void* context;
} IdeasShow;

/// Play them to the end, a signal or a gesture, or until nobody plays any more;
/// return the exit status.
int
ideas_live(const IdeasShow* show);

#endif // RESPONDER_APP_IDEAS_LIVE_H
