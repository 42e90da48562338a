#include "responder/lesson/warn.h"

#include <math.h>

void
warn_of_damage(Notices* const    notices,
               const char* const path,
               const Take* const take)
{
  const SmfWarnings* const warnings = &take->file.warnings;
  for (size_t i = 0; i < warnings->n; ++i) {
    notices_add(notices,
                "%s: byte %u: %s",
                path,
                (unsigned)warnings->items[i].offset,
                warnings->items[i].text);
  }
  if (warnings->n_found > warnings->n) {
    notices_add(notices,
                "%s: and %zu more of the kind",
                path,
                warnings->n_found - warnings->n);
  }
}

void
warn_of_take(Notices* const    notices,
             const char* const path,
             const Take* const take)
{
  warn_of_damage(notices, path, take);
  if (!take->n_notes) {
    notices_add(notices,
                "%s: there is no note to hear%s",
                path,
                take->file.n_notes ? "; --track says which track is the "
                                     "player's, of drums too"
                : take->file.warnings.n
                  ? "; the file is damaged, and what was lost may have had some"
                  : "");
  }
}

void
warn_of_tempo(Notices* const    notices,
              const char* const path,
              const Take* const take,
              const double      used_bpm)
{
  if (fabs(take->tempo_bpm - used_bpm) > 0.005) {
    notices_add(notices,
                "%s: its tempo of %g is outside %g..%g; %g is used, --tempo "
                "says another",
                path,
                take->tempo_bpm,
                TAKE_TEMPO_LEAST,
                TAKE_TEMPO_MOST,
                used_bpm);
  }
}

void
warn_of_rest(Notices* const    notices,
             const char* const path,
             const Take* const take,
             const Tick        end,
             const Meter       meter)
{
  size_t n = 0;
  while (n < take->n_notes && take->notes[take->n_notes - 1 - n].tick >= end) {
    ++n;
  }
  if (n) {
    notices_add(notices,
                "%s: its last %zu note%s, after bar %lld, %s left out",
                path,
                n,
                n == 1 ? "" : "s",
                (long long)(end / meter_bar_ticks(meter)),
                n == 1 ? "is" : "are");
  }
}

void
warn_of_changes(Notices* const       notices,
                const Choices* const then,
                const Choices* const now)
{
  static const char* const names[] = {"chart", "feel", "ladder"};
  for (unsigned i = 0; i < 3; ++i) {
    if (then->sums[i] != now->sums[i]) {
      notices_add(notices,
                  "the %s has changed since this was recorded; the answers may "
                  "differ",
                  names[i]);
    }
  }
}
