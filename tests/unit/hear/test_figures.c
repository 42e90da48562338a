#include "responder/hear/figures.h"

#include <criterion/criterion.h>

#include <math.h>

/// Counts of beats by the twelfths that are filled, over 298 solos of the
/// Weimar Jazz Database 1.2, the whole beat first.
typedef struct {
  unsigned figure; ///< Bit n: slot n
  double   count;
} Counted;

static void
check_counted(const Figures* const figures,
              const Counted* const rows,
              const unsigned       n)
{
  for (unsigned i = 0; i < n; ++i) {
    cr_assert_float_eq((double)figures->prices[rows[i].figure],
                       log(rows[0].count / rows[i].count),
                       0.006,
                       "figure %u",
                       rows[i].figure);
  }
}

Test(figures, cost_what_they_are_counted)
{
  static const Counted triplets[]   = {{7, 2465}, {6, 1808}, {3, 626}};
  static const Counted sixteenths[] = {{15, 2620},
                                       {9, 1520},
                                       {13, 1273},
                                       {14, 1268},
                                       {12, 955},
                                       {11, 814},
                                       {7, 617},
                                       {3, 573},
                                       {6, 403}};
  check_counted(&figures_triplets, triplets, 3);
  check_counted(&figures_sixteenths, sixteenths, 9);
}

/// What is not counted is dearer than all that is of as many notes, or as dear
/// as the rarest.
Test(figures, others_are_dear)
{
  static const unsigned pairs[] = {5, 10};
  for (unsigned i = 0; i < 2; ++i) {
    cr_assert_gt(figures_sixteenths.prices[pairs[i]],
                 figures_sixteenths.prices[3]);
  }
  cr_assert_gt(figures_triplets.prices[5], figures_triplets.prices[3]);
  cr_assert_gt(figures_triplets.prices[4], figures_triplets.prices[1]);
  cr_assert_gt(figures_sixteenths.prices[8], figures_sixteenths.prices[1]);
}

/// The cheapest of all figures of as many onsets, wherever they stand: by
/// trying every pair of slots.
Test(figures, the_cheapest_is_found)
{
  for (unsigned first = 0; first < 4; ++first) {
    for (unsigned last = first + 1; last < 4; ++last) {
      float cost        = 0;
      float costs[2][4] = {{9, 9, 9, 9}, {9, 9, 9, 9}};
      costs[0][first]   = 0.5F;
      costs[1][last]    = 0.25F;
      const unsigned figure =
        figures_find(&figures_sixteenths, 2, costs, &cost);
      cr_assert_eq(figure, 1U << first | 1U << last);
      cr_assert_float_eq(
        cost, figures_sixteenths.prices[figure] + 0.75F, 1e-5F);
    }
  }
  cr_assert_float_eq(figures_least(&figures_sixteenths, 2), 0.54F, 1e-6F);
  cr_assert_float_eq(figures_least(&figures_triplets, 3), 0, 1e-6F);
}
