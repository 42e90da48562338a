#include "calls.h"

#include "blind_learner.h"
#include "take_file.h"

#include <stdio.h>
#include <string.h>

enum { N_INVENTED = 32, N_KEYS = 4, N_LEVELS = 4 };

static void
add_four(Calls* const calls, const json_t* const four, const char* const folder)
{
  Take* const       take = &calls->takes[calls->n++];
  const char* const file = json_string_value(json_object_get(four, "file"));
  const int         stem = (int)strcspn(file, ".");
  *take                  = (Take){.bars = 4};
  (void)snprintf(
    take->take, SAID_PATH, "%s/fours/%.*s.mid", folder, stem, file);
  (void)snprintf(
    take->chart, SAID_PATH, "%s/fours/%.*s.cfg", folder, stem, file);
  take->lead_in =
    (double)json_integer_value(json_object_get(four, "lead_in_ticks")) /
    SAID_QUARTER;
}

bool
calls_fours(Calls* const calls, const char* const folder)
{
  char path[SAID_PATH];
  (void)snprintf(path, sizeof(path), "%s/fours/fours.json", folder);
  json_t* const fours = json_load_file(path, 0, NULL);
  *calls              = (Calls){.name = "fours"};
  for (size_t i = 0; i < json_array_size(fours) && calls->n < CALLS; ++i) {
    add_four(calls, json_array_get(fours, i), folder);
  }
  json_decref(fours);
  return calls->n > 0;
}

bool
calls_invented(Calls* const calls, const char* const folder)
{
  static const char* const keys[N_KEYS]  = {"C", "Eb", "F", "G"};
  static const unsigned    above[N_KEYS] = {0, 3, 5, 7};
  *calls                                 = (Calls){.name = "invented calls"};
  for (unsigned i = 0; i < N_INVENTED; ++i) {
    Take* const    take  = &calls->takes[calls->n++];
    const unsigned key   = i / N_LEARNER_GROUNDS % N_KEYS;
    const unsigned level = 2 + (i + i / N_KEYS) % N_LEVELS;
    Rng            rng   = rng_seed(i, 17);
    LearnerCall    call  = learner_call_on(i % N_LEARNER_GROUNDS, level, &rng);
    for (size_t k = 0; k < call.n_notes; ++k) {
      call.notes[k].pitch = (call.notes[k].pitch + above[key]) & 0x7FU;
    }
    *take = (Take){.bars = call.bars};
    (void)snprintf(take->take, SAID_PATH, "%s/call-%u.mid", folder, i);
    (void)snprintf(take->chart, SAID_PATH, "%s", call.chart);
    (void)snprintf(take->key, sizeof(take->key), "%s", keys[key]);
    if (!take_write(take->take, call.notes, call.n_notes, call.tempo_bpm)) {
      return false;
    }
  }
  return true;
}
