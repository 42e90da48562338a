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
  N_ORDER = sizeof(ORDER) / sizeof(*ORDER),
  BREATH  = 1, ///< Bars after the rounds of a drill
};

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
item_of(const WarmupRequest* const request, const unsigned place)
{
  WarmupItem item = {
    .trades = ORDER[place].by == BY_TRADING,
    .kind   = ORDER[place].by == BY_WEAKEST ? warmup_drill_for(request->weakest)
              : ORDER[place].by == BY_STRONGEST
                ? warmup_drill_for(request->strongest)
                : ORDER[place].kind,
    .rhythm = rhythm_of(request, place),
    .rounds = 1,
    .seed   = request->seed * N_ORDER + place,
  };
  DrillRoom room = request->room;
  room.rhythm    = item.rhythm;
  if (item.trades) {
    item.rounds  = request->choruses;
    item.seconds = request->form_bars * bar_seconds(request);
  } else {
    item.bars    = drill_bars(item.kind, &room);
    item.seconds = (request->count_in + BREATH) * bar_seconds(request) +
                   round_seconds(request, &item);
  }
  return item;
}

/// Give a round to the drill that is furthest behind its share, as long as one
/// brings the whole nearer to its time; false if none does.
static bool
give_round(Warmup* const              warmup,
           const WarmupRequest* const request,
           const double* const        shares)
{
  const double left  = 60.0 * request->minutes - warmup->seconds;
  unsigned     found = WARMUP_CAPACITY;
  double       least = 0.0;
  for (unsigned i = 0; i < warmup->n_items; ++i) {
    const WarmupItem* const item = &warmup->items[i];
    const double            full = item->seconds / (shares[i] + 1e-9);
    if (!item->trades && item->rounds < WARMUP_MOST_ROUNDS &&
        round_seconds(request, item) < 2.0 * left &&
        (found == WARMUP_CAPACITY || full < least)) {
      found = i;
      least = full;
    }
  }
  if (found == WARMUP_CAPACITY) {
    return false;
  }
  WarmupItem* const item  = &warmup->items[found];
  const double      added = round_seconds(request, item);
  ++item->rounds;
  item->seconds += added;
  warmup->seconds += added;
  return true;
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
  Warmup warmup                  = {.n_items = 0};
  double shares[WARMUP_CAPACITY] = {0.0};
  for (unsigned place = 0; place < N_ORDER; ++place) {
    if (ORDER[place].by != BY_TRADING || request->choruses) {
      shares[warmup.n_items]         = ORDER[place].share;
      warmup.items[warmup.n_items++] = item_of(request, place);
      warmup.seconds += warmup.items[warmup.n_items - 1].seconds;
    }
  }
  while (give_round(&warmup, request, shares)) {
  }
  return warmup;
}
