/// @file responder/app/warmup_live.h A warm-up played through live, hands-free.
///
/// Each drill is a session of its own over its chord, in which the partner
/// plays what is to be played again; the trading is a session as any other.
/// With a control, one tap plays an item again, two go on to the next, a tap
/// and a hold make it slower, two and a hold faster, and holding leaves.

#ifndef RESPONDER_APP_WARMUP_LIVE_H
#define RESPONDER_APP_WARMUP_LIVE_H

#include "profiles/plan/warmup.h"
#include "responder/app/options.h"
#include "responder/app/who.h"
#include "responder/setup/setup.h"

/// What is played, and who tells of it.
typedef struct {
  const Options* options;
  Who*           who;
  const Warmup*  warmup;
  Setup*         setup; ///< A gesture may change its tempo
  void (*tell)(void* context, unsigned index); ///< Before an item is played
  void* context;
} WarmupShow;

/// Play it to its end, a signal or a gesture; return the exit status.
int
warmup_live(const WarmupShow* show);

#endif // RESPONDER_APP_WARMUP_LIVE_H
