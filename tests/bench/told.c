#include "told.h"

#include "calls.h"
#include "said_sums.h"
#include "take_file.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { TOP = 8, NOTES = 512, GROUPS = 32 };

typedef struct {
  double n, sum, squares;
} Spread;

static void
spread_add(Spread* const spread, const double value)
{
  ++spread->n;
  spread->sum += value;
  spread->squares += value * value;
}

static double
mean_of(const Spread* const spread)
{
  return spread->n > 0.0 ? spread->sum / spread->n : 0.0;
}

static double
deviation_of(const Spread* const spread)
{
  const double mean = mean_of(spread);
  return spread->n > 0.0
           ? sqrt(fmax(0.0, spread->squares / spread->n - mean * mean))
           : 0.0;
}

static double
part(const double some, const double all)
{
  return all > 0.0 ? some / all : 0.0;
}

static unsigned
longest_run(const Line* const line)
{
  unsigned longest = 0;
  unsigned n       = 0;
  for (unsigned i = 0; i + 1 < line->n; ++i) {
    const int  way     = line_direction(line, i);
    const bool goes_on = i > 0 && way == line_direction(line, i - 1);
    n                  = way == 0 ? 0 : goes_on ? n + 1 : 1;
    longest            = n > longest ? n : longest;
  }
  return longest + 1;
}

static double*
add_shares(double* to, const Said* const said)
{
  Counts c = {0};
  sums_count(&c, said);
  *to++ = part(c.n_steps, c.n_intervals);
  *to++ = part(c.n_thirds, c.n_intervals);
  *to++ = part(c.n_repeats, c.n_intervals);
  *to++ = part(c.n_wider, c.n_intervals);
  *to++ = part(c.n_turns, c.n_pairs);
  *to++ = part(c.n_on_tones, c.n_on);
  *to++ = part(c.n_off_tones, c.n_off);
  *to++ = part(c.n_off, c.n_off + c.n_on);
  *to++ = part(c.n_triplets, c.n_off + c.n_on);
  *to++ = part(c.n_sixteenths, c.n_off + c.n_on);
  return to;
}

void
told_features(double* const     features,
              const Said* const said,
              const double      tempo_bpm)
{
  const double ms     = 60000.0 / tempo_bpm / SAID_QUARTER;
  const Line   line   = line_of(said);
  Spread       steps  = {0};
  Spread       legato = {0};
  Spread       late   = {0};

  double n_leaning = 0.0; // On from a bar's last eighth
  for (unsigned i = 0; i < line.n; ++i) {
    const SaidNote* const note = line.notes[i];
    n_leaning +=
      (note->grid + SAID_BAR) % SAID_BAR == SAID_BAR - SAID_QUARTER / 2;

    if (note->grid % SAID_QUARTER == 0) {
      spread_add(&late, ms * (double)(note->tick - note->grid));
    }
    if (i + 1 < line.n) {
      const double wait = (double)(line.notes[i + 1]->tick - note->tick);
      spread_add(&steps, (double)line_step(&line, i) / SAID_QUARTER);
      spread_add(&legato,
                 wait > 0.0 ? fmin(1.5, (double)note->length / wait) : 1);
    }
  }
  double* to = add_shares(features, said);
  *to++      = line.n;
  *to++      = sums_range(said);
  *to++      = longest_run(&line);
  *to++      = mean_of(&steps);
  *to++      = part(deviation_of(&steps), mean_of(&steps));
  *to++      = n_leaning;
  *to++      = sums_silence(said); // The last one of what is written
  *to++      = mean_of(&late);
  *to++      = deviation_of(&late);
  *to++      = mean_of(&legato);
  *to++      = deviation_of(&legato);
}

/// Hear what a player did next, and beside it the call itself.
static bool
add_player(Example* const      example,
           Example* const      before,
           const Take* const   four_take,
           const json_t* const four,
           const char* const   path,
           const Asked         asked)
{
  SmfNote      notes[NOTES];
  Pair         pair;
  Take         take = *four_take;
  const size_t n    = take_four(notes, NOTES, four);
  (void)snprintf(take.take, SAID_PATH, "%s", path);
  if (!take_write(
        path, notes, n, json_number_value(json_object_get(four, "bpm")))) {
    return false;
  }
  json_t* const report = said_hear(&take, &asked);
  const bool    is     = said_read_pair(&pair, report);
  json_decref(report);
  if (is) {
    told_features(example->features, &pair.answer, pair.tempo_bpm);
    told_features(before->features, &pair.call, pair.tempo_bpm);
  }
  return is;
}

static bool
add_ours(Example* const example, const Take* const take, const Asked asked)
{
  Pair          pair;
  json_t* const report = said_ask(take, &asked);
  const bool    is     = said_read_pair(&pair, report);
  json_decref(report);
  if (is) {
    told_features(example->features, &pair.answer, pair.tempo_bpm);
    example->is_ours = true;
  }
  return is;
}

/// Return a number for a word: the fours tell no more of a player than the
/// instrument.
static unsigned
group_of(const char** const groups, const char* const word)
{
  unsigned i = 0;
  while (i + 1 < GROUPS && groups[i] && strcmp(groups[i], word) != 0) {
    ++i;
  }
  groups[i] = word;
  return i;
}

static void
print_area(const char* const what,
           Example* const    examples,
           const unsigned    n,
           const unsigned    n_features)
{
  logistic_cross(examples, n, n_features);
  printf("%-42s %7.3f   (two halves of a solo .51-.57)\n",
         what,
         logistic_area(examples, n));
}

bool
told_print(Asked asked, const char* const takes, const char* const folder)
{
  static Calls   calls;
  static Example examples[2 * CALLS]; // A player's and ours in turn
  static Example players[2 * CALLS];  // A player's and the call before it
  const char*    groups[GROUPS] = {NULL};
  char           path[SAID_PATH];
  unsigned       n = 0;
  (void)snprintf(path, sizeof(path), "%s/fours/fours.json", takes);
  json_t* const fours = json_load_file(path, 0, NULL);
  bool          is    = calls_fours(&calls, takes);
  (void)snprintf(path, sizeof(path), "%s/four.mid", folder);
  asked.rung = TOP;
  asked.seed = 1;
  for (unsigned i = 0; is && i < calls.n; ++i) {
    const json_t* const four = json_array_get(fours, i);
    const char* const   plays =
      json_string_value(json_object_get(four, "instrument"));
    const unsigned group  = group_of(groups, plays ? plays : "");
    Example* const played = &examples[n];
    Example* const before = &players[n + 1];
    played[0].group = played[1].group = before->group = group;
    before->is_ours                                   = true;
    is = add_player(played, before, &calls.takes[i], four, path, asked) &&
         add_ours(&played[1], &calls.takes[i], asked);
    players[n] = *played;
    n += 2;
  }
  if (is) {
    printf("\nTold from players: area under the curve, %u of each\n", n / 2);
    print_area("by what is written", examples, n, TOLD_WRITTEN);
    print_area("... and by its timing", examples, n, TOLD_FEATURES);
    print_area(
      "players' calls from what they did next", players, n, TOLD_FEATURES);
  }
  json_decref(fours);
  return is;
}
