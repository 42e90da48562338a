#include "responder/app/warn.h"

#include "responder/app/command.h"

#include <math.h>

void
warn_of_damage(const char* const path, const Take* const take)
{
  const SmfWarnings* const warnings = &take->file.warnings;
  for (size_t i = 0; i < warnings->n; ++i) {
    command_say("%s: byte %u: %s",
                path,
                (unsigned)warnings->items[i].offset,
                warnings->items[i].text);
  }
  if (warnings->n_found > warnings->n) {
    command_say(
      "%s: and %zu more of the kind", path, warnings->n_found - warnings->n);
  }
}

void
warn_of_take(const char* const path, const Take* const take)
{
  warn_of_damage(path, take);
  if (!take->n_notes) {
    command_say("%s: there is no note to hear%s",
                path,
                take->file.n_notes ? "; --track says which track is the "
                                     "player's, of drums too"
                                   : "");
  }
}

void
warn_of_tempo(const char* const path,
              const Take* const take,
              const double      used_bpm)
{
  if (fabs(take->tempo_bpm - used_bpm) > 0.005) {
    command_say("%s: its tempo of %g is outside %g..%g; %g is used, --tempo "
                "says another",
                path,
                take->tempo_bpm,
                TAKE_TEMPO_LEAST,
                TAKE_TEMPO_MOST,
                used_bpm);
  }
}

void
warn_of_rest(const char* const path,
             const Take* const take,
             const Tick        end,
             const Meter       meter)
{
  size_t n = 0;
  while (n < take->n_notes && take->notes[take->n_notes - 1 - n].tick >= end) {
    ++n;
  }
  if (n) {
    command_say("%s: its last %zu note%s, after bar %lld, %s left out",
                path,
                n,
                n == 1 ? "" : "s",
                (long long)(end / meter_bar_ticks(meter)),
                n == 1 ? "is" : "are");
  }
}
