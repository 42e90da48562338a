#include "fixture.h"

#include <criterion/criterion.h>

#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

void
fixture_places(void)
{
  (void)setenv("BARTER_CONFIG", BARTER_SOURCE_DIR "/config", 1);
  (void)setenv("XDG_CONFIG_HOME", BARTER_SOURCE_DIR "/tests/none", 1);
}

Choices
fixture_choices(void)
{
  Choices choices = {
    .chart     = "blues",
    .feel      = "swing",
    .tempo_bpm = 120.0,
    .bars      = 4,
    .choruses  = 2,
    .rung      = {{5, 4, 4, 2}},
    .seed      = 7,
    .split     = 60,
    .lowest    = 60,
    .highest   = 84,
    .hand_span = 12,
  };
  for (unsigned part = 0; part < N_PARTS; ++part) {
    choices.sounds[part] = (ChoiceSound){(uint8_t)part, 90};
  }
  return choices;
}

void
fixture_load(Setup* const setup, const Choices* const choices)
{
  Faults faults = {.n_faults = 0};
  fixture_places();
  cr_assert_eq(setup_load(setup, choices, &faults),
               STATUS_OK,
               "%s",
               faults.n_faults ? faults.faults[0].text : "");
}

static int
compare_keys(const void* const left, const void* const right)
{
  const HeardKey* const a = left;
  const HeardKey* const b = right;
  if (a->tick != b->tick) {
    return a->tick < b->tick ? -1 : 1;
  }
  if (!a->velocity != !b->velocity) {
    return a->velocity ? 1 : -1;
  }
  return a->pitch - b->pitch;
}

size_t
fixture_keys(HeardKey* const keys,
             const size_t    most,
             Rng* const      rng,
             const Tick      from,
             const Tick      to)
{
  Tick   free_from[128] = {0}; // When a pitch is up again, from `from` on
  size_t n              = 0;
  Tick   now            = 0;
  while (from + now < to && n + 8 < most) {
    const unsigned n_together = rng_below(rng, 8) ? 1 : 3;
    const unsigned lowest     = n_together > 1 ? 40 : 58;
    for (unsigned i = 0; i < n_together; ++i) {
      const uint8_t pitch  = (uint8_t)(lowest + 4 * i + rng_below(rng, 24));
      const Tick    length = 20 + (Tick)rng_below(rng, 1500);
      if (now >= free_from[pitch]) {
        const uint8_t velocity = (uint8_t)(1 + rng_below(rng, 127));
        keys[n++]              = (HeardKey){from + now, pitch, velocity};
        keys[n++]              = (HeardKey){from + now + length, pitch, 0};
        free_from[pitch]       = now + length;
      }
    }
    const uint32_t kind = rng_below(rng, 10);
    now += kind == 0  ? 3000 + (Tick)rng_below(rng, 6000)
           : kind < 3 ? (Tick)rng_below(rng, 60)
                      : 200 + (Tick)rng_below(rng, 700);
  }
  qsort(keys, n, sizeof(*keys), compare_keys);
  return n;
}

void
fixture_path(char path[FIXTURE_PATH_CAPACITY], const char* const name)
{
  (void)snprintf(
    path, FIXTURE_PATH_CAPACITY, "test-%ld-%s", (long)getpid(), name);
}
