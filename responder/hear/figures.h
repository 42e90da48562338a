/// @file responder/hear/figures.h Which slots of a beat are filled together:
/// some figures are played often, others hardly ever.

#ifndef RESPONDER_HEAR_FIGURES_H
#define RESPONDER_HEAR_FIGURES_H

enum { FIGURE_SLOTS = 4 };

/// What the figures of a division cost, in nats; bit n: slot n is filled.
typedef struct {
  unsigned n_slots; ///< Up to FIGURE_SLOTS
  float    prices[1U << FIGURE_SLOTS];
} Figures;

/// Of a beat in triplets.
extern const Figures figures_triplets;

/// Of a beat in sixteenths.
extern const Figures figures_sixteenths;

/// Return what the cheapest figure of `n` onsets costs; 1..n_slots.
float
figures_least(const Figures* figures, unsigned n);

/**
   Find the figure of `n` onsets that costs least, where each stands included.

   @param costs Of each onset on each slot.
   @param[out] cost Its own and its onsets'.
*/
unsigned
figures_find(const Figures* figures,
             unsigned       n,
             float          costs[][FIGURE_SLOTS],
             float*         cost);

#endif // RESPONDER_HEAR_FIGURES_H
