#include "core/band/hits.h"

#include "core/band/rotation.h"

#include <assert.h>

void
hits_add(Hits* const hits, const Hit hit)
{
  assert(hits->n < HITS_CAPACITY);
  unsigned to = hits->n++;
  for (; to > 0 && hits->hits[to - 1].tick > hit.tick; --to) {
    hits->hits[to] = hits->hits[to - 1];
  }
  hits->hits[to] = hit;
}

Hits
hits_of(const FeelPattern* const pattern, const Cue* const cue)
{
  Hits       hits   = {.n = 0};
  const Tick origin = rotation_origin(pattern, cue);
  for (unsigned i = 0; i < pattern->n_hits; ++i) {
    const FeelHit* const hit  = &pattern->hits[i];
    const Tick           tick = origin + hit->tick;
    if (tick >= cue->start && tick < cue_end(cue)) {
      hits_add(&hits,
               (Hit){tick, hit->length, hit->velocity, hit->voice, tick});
    }
  }
  return hits;
}
