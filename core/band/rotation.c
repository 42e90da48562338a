#include "core/band/rotation.h"

#include <stdbool.h>
#include <stddef.h>

enum {
  RUN_MAX = 2, // So often running, if there is another
};

/// Which patterns may be drawn.
typedef struct {
  const Cue*         cue;
  unsigned           layer;
  bool               anywhere; ///< Also those that have begun in a bar before
  const FeelPattern* tired;    ///< Not this one
} Choice;

static bool
may_draw(const Choice* const choice, const FeelPattern* const pattern)
{
  return pattern->layer == choice->layer && pattern != choice->tired &&
         feel_pattern_fits(pattern, choice->cue->chart->meter) &&
         (choice->anywhere || cue_form_bar(choice->cue) % pattern->n_bars == 0);
}

/// Draw one of the patterns that may be drawn; NULL if there is none.
static const FeelPattern*
draw(const Choice* const choice, const FeelPart* const part, Rng* const rng)
{
  const FeelPattern* found[FEEL_PATTERN_CAPACITY];
  unsigned           n_found = 0;
  for (unsigned i = 0; i < part->n_patterns; ++i) {
    if (may_draw(choice, &part->patterns[i])) {
      found[n_found++] = &part->patterns[i];
    }
  }
  return n_found > 0 ? found[rng_below(rng, n_found)] : NULL;
}

/// Draw one that is not `tired`, from its beginning if there is one, else from
/// within; else `tired` itself.
static const FeelPattern*
draw_of_layer(const FeelPart* const    part,
              const Cue* const         cue,
              const unsigned           layer,
              const FeelPattern* const tired,
              Rng* const               rng)
{
  const Choice choices[] = {
    {cue, layer, false, tired},
    {cue, layer, true, tired},
    {cue, layer, true, NULL},
  };
  const FeelPattern* pattern = NULL;
  for (unsigned i = 0; !pattern && i < sizeof(choices) / sizeof(*choices);
       ++i) {
    pattern = draw(&choices[i], part, rng);
  }
  return pattern;
}

/// Return where a pattern comes to its end: the end of the form at the latest.
static Tick
end_of(const FeelPattern* const pattern, const Cue* const cue)
{
  const unsigned bar     = cue_form_bar(cue);
  const unsigned to_end  = pattern->n_bars - bar % pattern->n_bars;
  const unsigned to_form = cue->chart->n_bars - bar;
  const unsigned n_left  = to_end < to_form ? to_end : to_form;
  return cue->start + (Tick)n_left * cue_bar_ticks(cue);
}

/// Return the layer that a part plays in a bar.
static unsigned
layer_for(const FeelPart* const part, const Cue* const cue)
{
  const Choice full     = {cue, 1, true, NULL};
  bool         has_full = false;
  for (unsigned i = 0; i < part->n_patterns; ++i) {
    has_full = has_full || may_draw(&full, &part->patterns[i]);
  }
  return cue->fullness == BAND_FULL && has_full ? 1 : 0;
}

const FeelPattern*
rotation_next(Rotation* const       rotation,
              const FeelPart* const part,
              const Cue* const      cue,
              Rng* const            rng)
{
  const unsigned           layer = layer_for(part, cue);
  const FeelPattern* const last  = rotation->pattern;
  if (last && last->layer == layer && cue->start < rotation->until) {
    return last;
  }

  const FeelPattern* const tired = rotation->run >= RUN_MAX ? last : NULL;
  const FeelPattern* const next  = draw_of_layer(part, cue, layer, tired, rng);
  rotation->run                  = next == last ? rotation->run + 1 : 1;
  rotation->pattern              = next;
  rotation->until                = next ? end_of(next, cue) : cue->start;
  return next;
}

Tick
rotation_origin(const FeelPattern* const pattern, const Cue* const cue)
{
  const unsigned bars_in = cue_form_bar(cue) % pattern->n_bars;
  return cue->start - (Tick)bars_in * cue_bar_ticks(cue);
}
