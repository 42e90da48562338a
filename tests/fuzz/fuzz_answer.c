// Any bytes, taken as a player's take and answered: refused, or a conversation
// in which every note lies where it may.

#include "core/settings/chart_file.h"
#include "core/settings/feel_file.h"
#include "profiles/files/ladder_file.h"
#include "responder/record/drive.h"
#include "responder/record/take.h"
#include "target.h"

#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

enum {
  CHORUSES = 2,
  PICK_UP  = 3 * TICKS_PER_EIGHTH, // At most, before the partner's turn
};

static ChartFile chart;
static Feel      feel;
static Ladder    ladder;

static void
must(const bool holds)
{
  if (!holds) {
    abort();
  }
}

static void
load_once(void)
{
  static bool is_loaded = false;
  Faults      faults    = {.n_faults = 0};
  if (!is_loaded) {
    must(
      !chart_file_load(&chart, FUZZ_CONFIG "/charts/blues-jazz.cfg", &faults));
    must(!feel_file_load(&feel, FUZZ_CONFIG "/feels/swing.cfg", &faults));
    must(!ladder_file_load(&ladder, FUZZ_CONFIG "/ladder.cfg", &faults));
    is_loaded = true;
  }
}

// The first byte chooses the turns' length, who begins, the rungs
static SessionOptions
options_from(const uint8_t choice, const double tempo_bpm)
{
  static const Rung rungs[] = {
    {{1, 1, 1, 1}}, {{3, 2, 2, 2}}, {{6, 5, 4, 3}}, {{8, 7, 6, 4}}};
  return (SessionOptions){
    .chart          = &chart.chart,
    .feel           = &feel,
    .ladder         = &ladder,
    .tempo_bpm      = tempo_bpm,
    .bars_per_turn  = 1U << choice % 3U,
    .choruses       = CHORUSES,
    .partner_begins = choice & 4U,
    .rung           = rungs[choice >> 3U & 3U],
    .seed           = choice >> 5U,
    .split_pitch    = 60,
    .lowest         = 55,
    .highest        = 84,
    .hand_span      = 12,
    .spread_ms      = 20.0,
  };
}

static void
hear_turn(void* const context, const TurnRecord* const record)
{
  const Phrase* const phrase = &record->phrase;
  must(phrase->n_notes <= PHRASE_CAPACITY);
  must(phrase->measures.space >= 0.0F && phrase->measures.space <= 1.0F);
  must(record->turn.by_player || phrase->n_notes > 0);
  ++*(unsigned*)context;
}

// The partner may come in with a pick-up; its last answer closes with the band
static bool
is_in_turn(const Note note, const Turn turn, const Tick end, const Tick last)
{
  return !turn.by_player && note.tick >= turn.start - PICK_UP &&
         note.tick + note.length <= (turn.end == end ? last : turn.end);
}

static void
check_notes(const Conversation* const conversation,
            const SessionOptions*     options)
{
  const TurnPlan plan = session_turn_plan(options);
  const Tick     end  = CHORUSES * chart_ticks(options->chart);
  Turn           turn = turn_at(plan, 1);
  for (size_t i = 0; i < conversation->n_notes; ++i) {
    const PartNote* const part = &conversation->notes[i];
    must(part->note.length >= 1 && part->note.velocity >= 1);
    must(part->note.tick >= conversation->first);
    must(part->note.tick + part->note.length <= conversation->last);
    if (part->part == PART_PARTNER) {
      while (part->note.tick >= turn.end && turn.end < end) {
        turn = turn_at(plan, turn.index + 1);
      }
      const Turn of = turn.by_player ? turn_at(plan, turn.index + 1) : turn;
      must(is_in_turn(part->note, of, end, conversation->last));
    }
  }
}

static void
answer(const char* const path, const uint8_t choice)
{
  Take  take;
  Fault fault;
  if (take_load(&take, path, (TakeChoice){NULL, 0.0}, &fault)) {
    must(fault.text[0] != '\0');
    return;
  }
  const SessionOptions options = options_from(choice, take_tempo(&take));
  HeardKey*            keys    = NULL;
  size_t               n_keys  = 0;
  unsigned             n_turns = 0;
  Conversation         conversation;
  must(!take_keys(&take, &keys, &n_keys));
  must(!drive_session(&conversation,
                      &options,
                      &(DrivePlayer){.keys      = keys,
                                     .n_keys    = n_keys,
                                     .hear_turn = hear_turn,
                                     .context   = &n_turns}));
  must(n_turns == CHORUSES * 12U / options.bars_per_turn);
  check_notes(&conversation, &options);
  conversation_free(&conversation);
  free(keys);
  take_free(&take);
}

int
LLVMFuzzerTestOneInput(const uint8_t* const data, const size_t size)
{
  load_once();
  if (size < 2) {
    return 0;
  }
  char      path[] = "/tmp/barter-fuzz-XXXXXX";
  const int file   = mkstemp(path);
  must(file >= 0 && write(file, data + 1, size - 1) == (ssize_t)(size - 1));
  must(close(file) == 0);
  answer(path, data[0]);
  must(unlink(path) == 0);
  return 0;
}
