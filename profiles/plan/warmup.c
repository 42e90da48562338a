#include "profiles/plan/warmup.h"

// How the time that trading leaves is shared out; common practice, no source.
static const struct {
  DrillKind kind; ///< Of no matter where `by` says
  enum { BY_KIND, BY_WEAKEST, BY_TRADING, BY_STRONGEST } by;
  double share;
} ORDER[] = {
  {DRILL_SCALE_RIGHT, BY_KIND, 0.18},
  {DRILL_SCALE_LEFT, BY_KIND, 0.08},
  {DRILL_LEFT_CHORDS, BY_KIND, 0.1},
  {DRILL_CHORD_TONES, BY_KIND, 0.16},
  {DRILL_RHYTHM, BY_KIND, 0.16},
  {DRILL_RHYTHM, BY_WEAKEST, 0.2},
  {DRILL_RHYTHM, BY_TRADING, 0.0},
  {DRILL_RHYTHM, BY_STRONGEST, 0.12},
};

enum {
  N_ORDER   = sizeof(ORDER) / sizeof(*ORDER),
  BREATH    = 1, ///< Bars after the rounds of a drill, or for trading's end
  GOOD_DEAL = 6, ///< Choruses of trading in one way
  DRILLS    = N_ORDER - 1,
  PASSES    = WARMUP_CAPACITY / (DRILLS + N_WAYS),
};

// When trading has its third, and how much of a short warm-up it may take;
// common practice, no source.
static const double long_minutes   = 20.0;
static const double least_share    = 1.0 / 3.0;
static const double most_of_short  = 0.6;
static const double is_long_enough = 0.95;

static double
bar_seconds(const WarmupRequest* const request)
{
  return meter_bar_seconds(request->room.chart->meter, request->tempo_bpm);
}

static double
round_seconds(const WarmupRequest* const request, const WarmupItem* const item)
{
  return 2.0 * item->bars * bar_seconds(request);
}

/// A rhythm to work on is a rung above where the learner stands.
static unsigned
rhythm_of(const WarmupRequest* const request, const unsigned place)
{
  const unsigned rung = request->room.rhythm;
  const bool     climbs =
    ORDER[place].by == BY_WEAKEST && request->weakest == DIMENSION_RHYTHM;
  return climbs && rung < N_RHYTHM_RUNGS ? rung + 1 : rung;
}

static WarmupItem
drill_at(const WarmupRequest* const request,
         const unsigned             place,
         const unsigned             pass)
{
  WarmupItem item = {
    .kind   = ORDER[place].by == BY_WEAKEST ? warmup_drill_for(request->weakest)
              : ORDER[place].by == BY_STRONGEST
                ? warmup_drill_for(request->strongest)
                : ORDER[place].kind,
    .rhythm = rhythm_of(request, place),
    .rounds = 1,
    .seed   = (request->seed + pass) * N_ORDER + place,
  };
  DrillRoom room = request->room;
  room.rhythm    = item.rhythm;
  item.bars      = drill_bars(item.kind, &room);
  item.seconds   = (request->count_in + BREATH) * bar_seconds(request) +
                 round_seconds(request, &item);
  return item;
}

// Trading

static double
chorus_seconds(const WarmupRequest* const request)
{
  return request->form_bars * bar_seconds(request);
}

/// Return how many choruses show what a way is.
static unsigned
least_choruses(const Way way)
{
  return way == WAY_ANSWER ? 1 : way_choruses(way) ? way_choruses(way) : 2;
}

static WarmupItem
trading_in(const WarmupRequest* const request,
           const Way                  way,
           const unsigned             number)
{
  WarmupItem item = {
    .trades = true,
    .way    = way,
    .rhythm = request->room.rhythm,
    .rounds = least_choruses(way),
    .seed   = request->seed * N_ORDER + DRILLS + number,
  };
  item.seconds = (request->count_in + BREATH) * bar_seconds(request) +
                 item.rounds * chorus_seconds(request);
  return item;
}

/// One time round: drills, and the trading among them.
typedef struct {
  const WarmupRequest* request;
  double               wanted; ///< Seconds
  double               share;  ///< Of it that is trading, at least
  unsigned             number;
  unsigned             n_drills;
  WarmupItem           drills[DRILLS];
  double               shares[DRILLS];
  unsigned             n_before; ///< Drills before the trading
  unsigned             n_tradings;
  WarmupItem           tradings[N_WAYS];
  double               drilled; ///< Seconds
  double               traded;
} Pass;

static void
add_trading(Pass* const pass, const Way way)
{
  const WarmupItem item =
    trading_in(pass->request, way, pass->number * N_WAYS + pass->n_tradings);
  pass->tradings[pass->n_tradings++] = item;
  pass->traded += item.seconds;
}

/// Return another way for each day, pass and time.
static Way
way_of(const Pass* const pass, const unsigned n)
{
  return (Way)(1 + (pass->request->seed + pass->number + n) % (N_WAYS - 1));
}

static void
begin_trading(Pass* const pass)
{
  const WarmupRequest* const request = pass->request;
  if (!request->trades) {
    return;
  }
  const Way    way  = (Way)((request->seed + pass->number) % N_WAYS);
  const double once = trading_in(request, way, 0).seconds;
  if (pass->share > 0.0) {
    add_trading(pass, way_of(pass, 0));
    add_trading(pass, WAY_ANSWER);
  } else {
    add_trading(pass, once <= most_of_short * pass->wanted ? way : WAY_ANSWER);
  }
}

/// Give a chorus to the trading that has the fewest, or trade in one way more,
/// once all have a good deal; false if there is none.
static bool
trade_more(Pass* const pass)
{
  const unsigned most =
    pass->n_tradings < N_WAYS ? GOOD_DEAL : WARMUP_MOST_ROUNDS;
  unsigned least = N_WAYS;
  for (unsigned i = 0; i < pass->n_tradings; ++i) {
    const unsigned rounds = pass->tradings[i].rounds;
    if (rounds < most &&
        (least == N_WAYS || rounds < pass->tradings[least].rounds)) {
      least = i;
    }
  }
  if (least < N_WAYS) {
    ++pass->tradings[least].rounds;
    pass->tradings[least].seconds += chorus_seconds(pass->request);
    pass->traded += chorus_seconds(pass->request);
    return true;
  }
  if (pass->n_tradings == 0 || pass->n_tradings == N_WAYS) {
    return false;
  }
  add_trading(pass, way_of(pass, pass->n_tradings - 1));
  return true;
}

/// Return how long the drills can be.
static double
most_drilling(const Pass* const pass)
{
  double sum = pass->drilled;
  for (unsigned i = 0; i < pass->n_drills; ++i) {
    sum += (WARMUP_MOST_ROUNDS - 1.0) *
           round_seconds(pass->request, &pass->drills[i]);
  }
  return sum;
}

static void
lengthen_trading(Pass* const pass)
{
  const double third = pass->share * pass->wanted;
  const double rest  = pass->wanted - most_drilling(pass);
  const double half  = chorus_seconds(pass->request) / 2.0;
  while ((pass->traded < third || pass->traded + half <= rest) &&
         trade_more(pass)) {
  }
}

// Drills

/// Give a round to the drill that is furthest behind its share, as long as one
/// brings the whole nearer to its time; false if none does.
static bool
give_round(Pass* const pass)
{
  const double left  = pass->wanted - pass->drilled - pass->traded;
  unsigned     found = DRILLS;
  double       least = 0.0;
  for (unsigned i = 0; i < pass->n_drills; ++i) {
    const WarmupItem* const item = &pass->drills[i];
    const double            full = item->seconds / (pass->shares[i] + 1e-9);
    if (item->rounds < WARMUP_MOST_ROUNDS &&
        round_seconds(pass->request, item) < 2.0 * left &&
        (found == DRILLS || full < least)) {
      found = i;
      least = full;
    }
  }
  if (found == DRILLS) {
    return false;
  }
  WarmupItem* const item  = &pass->drills[found];
  const double      added = round_seconds(pass->request, item);
  ++item->rounds;
  item->seconds += added;
  pass->drilled += added;
  return true;
}

static void
begin_drills(Pass* const pass)
{
  for (unsigned place = 0; place < N_ORDER; ++place) {
    if (ORDER[place].by == BY_TRADING) {
      pass->n_before = pass->n_drills;
      continue;
    }
    const WarmupItem item        = drill_at(pass->request, place, pass->number);
    pass->shares[pass->n_drills] = ORDER[place].share;
    pass->drills[pass->n_drills++] = item;
    pass->drilled += item.seconds;
  }
}

static void
append(Warmup* const warmup, const WarmupItem* const item)
{
  warmup->items[warmup->n_items++] = *item;
  warmup->seconds += item->seconds;
}

static void
make_pass(Warmup* const warmup, Pass* const pass)
{
  begin_drills(pass);
  begin_trading(pass);
  lengthen_trading(pass);
  while (give_round(pass)) {
  }
  for (unsigned i = 0; i < pass->n_before; ++i) {
    append(warmup, &pass->drills[i]);
  }
  for (unsigned usual = 0; usual < 2; ++usual) { // As usual comes last
    for (unsigned i = 0; i < pass->n_tradings; ++i) {
      if ((pass->tradings[i].way == WAY_ANSWER) == usual) {
        append(warmup, &pass->tradings[i]);
      }
    }
  }
  for (unsigned i = pass->n_before; i < pass->n_drills; ++i) {
    append(warmup, &pass->drills[i]);
  }
}

static Warmup
make_in(const WarmupRequest* const request, const unsigned n_passes)
{
  const bool is_long = request->minutes >= long_minutes;
  Warmup     warmup  = {.n_items = 0};
  for (unsigned i = 0; i < n_passes; ++i) {
    Pass pass = {.request = request,
                 .wanted  = 60.0 * request->minutes / n_passes,
                 .share   = is_long ? least_share : 0.0,
                 .number  = i};
    make_pass(&warmup, &pass);
  }
  return warmup;
}

DrillKind
warmup_drill_for(const Dimension dimension)
{
  switch (dimension) {
    case DIMENSION_NOTES:
      return DRILL_LANDING;
    case DIMENSION_RHYTHM:
      return DRILL_RHYTHM;
    case DIMENSION_SHAPE:
      return DRILL_QUESTION;
    case DIMENSION_ORNAMENT:
      return DRILL_CRUSHED;
  }
  return DRILL_LANDING;
}

Warmup
warmup_make(const WarmupRequest* const request)
{
  Warmup warmup = make_in(request, 1);
  for (unsigned n = 2;
       n <= PASSES && warmup.seconds < is_long_enough * 60.0 * request->minutes;
       ++n) {
    warmup = make_in(request, n);
  }
  return warmup;
}
