#include "responder/record/drive.h"

#include "fixture.h"

#include <criterion/criterion.h>

#include <stdio.h>
#include <string.h>

enum { BAR = 3840, KEY_CAPACITY = 4000 };

static Setup        setup;
static HeardKey     keys[KEY_CAPACITY];
static Conversation conversation;
static Conversation other;

// The turns as they were told
typedef struct {
  unsigned n_turns;
  Tick     end;
  bool     is_in_order;
} Told;

static void
hear_turn(void* const context, const TurnRecord* const record)
{
  Told* const told = context;
  ++told->n_turns;
  told->is_in_order = told->is_in_order &&
                      record->turn.index == told->n_turns &&
                      record->turn.start == told->end;
  told->end = record->turn.end;
}

static Told
run(Conversation* const made, const size_t n_keys)
{
  const SessionOptions options = setup_session(&setup);
  Told                 told    = {.is_in_order = true};
  cr_assert_eq(drive_session(made,
                             &options,
                             &(DrivePlayer){.keys      = keys,
                                            .n_keys    = n_keys,
                                            .hear_turn = hear_turn,
                                            .context   = &told}),
               STATUS_OK);
  return told;
}

static void
load(const char* const chart,
     const char* const feel,
     const unsigned    bars,
     const bool        partner_begins)
{
  Choices choices = fixture_choices();
  (void)snprintf(choices.chart, sizeof(choices.chart), "%s", chart);
  (void)snprintf(choices.feel, sizeof(choices.feel), "%s", feel);
  choices.bars           = bars;
  choices.partner_begins = partner_begins;
  fixture_load(&setup, &choices);
}

static void
load_blues(void)
{
  load("blues", "swing", 4, false);
}

static void
free_both(void)
{
  conversation_free(&conversation);
  conversation_free(&other);
}

Test(conversation,
     has_a_count_in_and_a_closing_bar,
     .init = load_blues,
     .fini = free_both)
{
  // At 120 a bar lasts 2 s: one bar of count-in is enough (1.6 s)
  const Told told = run(&conversation, 0);
  cr_assert_eq(conversation.first, -BAR);
  cr_assert_eq(conversation.last, 25 * BAR);
  cr_assert_eq(told.n_turns, 6);
  cr_assert(told.is_in_order);
  cr_assert_eq(told.end, 24 * BAR);
}

Test(conversation, tells_every_turn_once, .fini = free_both)
{
  static const struct {
    char     chart[16];
    char     feel[16];
    unsigned bars;
    bool     partner_begins;
    unsigned n_turns;
  } rows[] = {
    {"blues", "swing", 1, false, 24},
    {"blues", "swing", 2, true, 12},
    {"waltz", "waltz", 4, false, 8},
    {"waltz", "waltz", 1, true, 32},
  };
  for (unsigned i = 0; i < sizeof(rows) / sizeof(*rows); ++i) {
    load(rows[i].chart, rows[i].feel, rows[i].bars, rows[i].partner_begins);
    conversation_free(&conversation);
    const Told told = run(&conversation, 0);
    cr_assert_eq(told.n_turns, rows[i].n_turns, "row %u: %u", i, told.n_turns);
    cr_assert(told.is_in_order);
  }
}

// The record holds exactly what was heard
static void
check_player(const Conversation* const made, const size_t n_keys)
{
  size_t n_notes = 0;
  for (size_t i = 0; i < made->n_notes; ++i) {
    const Note* const note = &made->notes[i].note;
    if (made->notes[i].part != PART_PLAYER) {
      continue;
    }
    ++n_notes;
    unsigned found = 0;
    for (size_t k = 0; k < n_keys; ++k) {
      const bool is_its = keys[k].pitch == note->pitch;
      found += is_its && keys[k].tick == note->tick &&
               keys[k].velocity == note->velocity;
      found += is_its && keys[k].tick == note->tick + note->length &&
               !keys[k].velocity;
    }
    cr_assert_eq(found, 2, "a note at %ld", (long)note->tick);
  }
  cr_assert_eq(2 * n_notes, n_keys);
}

Test(conversation,
     keeps_what_was_played_as_it_was,
     .init = load_blues,
     .fini = free_both)
{
  for (uint64_t seed = 0; seed < 12; ++seed) {
    Rng          rng = rng_seed(seed, 3);
    const size_t n_keys =
      fixture_keys(keys, KEY_CAPACITY, &rng, -BAR, 23 * BAR);
    cr_assert_gt(n_keys, 100);
    conversation_free(&conversation);
    (void)run(&conversation, n_keys);
    check_player(&conversation, n_keys);
  }
}

Test(conversation,
     is_in_order_and_within_its_time,
     .init = load_blues,
     .fini = free_both)
{
  Rng          rng    = rng_seed(1, 3);
  const size_t n_keys = fixture_keys(keys, KEY_CAPACITY, &rng, 0, 24 * BAR);
  unsigned     n_notes[N_PARTS] = {0};
  (void)run(&conversation, n_keys);
  for (size_t i = 0; i < conversation.n_notes; ++i) {
    const PartNote* const part = &conversation.notes[i];
    cr_assert_geq(part->note.tick, conversation.first);
    cr_assert_geq(part->note.length, 1);
    cr_assert_leq(part->note.tick + part->note.length, conversation.last);
    cr_assert(part->note.pitch <= 127 && part->note.velocity >= 1 &&
              part->note.velocity <= 127);
    cr_assert(i == 0 || conversation.notes[i - 1].note.tick <= part->note.tick);
    ++n_notes[part->part];
  }
  for (unsigned part = 0; part < N_PARTS; ++part) {
    cr_assert_gt(n_notes[part], 20, "part %u", part);
  }
}

// In one part no pitch is struck while it sounds: a MIDI file could not tell
// which of two ends is whose
Test(conversation, ends_a_note_before_it_sounds_again, .fini = free_both)
{
  static const char feels[][16] = {"swing", "straight", "bossa", "shuffle"};
  for (unsigned i = 0; i < sizeof(feels) / sizeof(*feels); ++i) {
    Rng          rng    = rng_seed(i, 4);
    const size_t n_keys = fixture_keys(keys, KEY_CAPACITY, &rng, 0, 24 * BAR);
    load("blues", feels[i], 2, i % 2);
    conversation_free(&conversation);
    (void)run(&conversation, n_keys);
    Tick ends[N_PARTS][128];
    for (unsigned part = 0; part < N_PARTS; ++part) {
      for (unsigned pitch = 0; pitch < 128; ++pitch) {
        ends[part][pitch] = conversation.first;
      }
    }
    for (size_t n = 0; n < conversation.n_notes; ++n) {
      const PartNote* const part = &conversation.notes[n];
      Tick* const           end  = &ends[part->part][part->note.pitch];
      cr_assert_leq(*end,
                    part->note.tick,
                    "%s: part %u, pitch %u at %ld",
                    feels[i],
                    part->part,
                    part->note.pitch,
                    (long)part->note.tick);
      *end = part->note.tick + part->note.length;
    }
  }
}

Test(conversation,
     lets_go_of_a_key_held_for_ever,
     .init = load_blues,
     .fini = free_both)
{
  keys[0] = (HeardKey){23 * BAR, 60, 80};
  keys[1] = (HeardKey){60 * BAR, 60, 0};
  (void)run(&conversation, 2);
  unsigned n_notes = 0;
  for (size_t i = 0; i < conversation.n_notes; ++i) {
    const PartNote* const part = &conversation.notes[i];
    if (part->part == PART_PLAYER) {
      ++n_notes;
      cr_assert_eq(part->note.tick, 23 * BAR);
      cr_assert_eq(part->note.tick + part->note.length, conversation.last);
    }
  }
  cr_assert_eq(n_notes, 1);
}

// A key let up before the count-in is not heard, one held into it is from then
// on, however often it was struck before; nor is one after the closing bar.
Test(conversation,
     strikes_what_is_down_as_it_begins,
     .init = load_blues,
     .fini = free_both)
{
  const HeardKey early[] = {
    {-100 * BAR, 60, 80},
    {-99 * BAR, 60, 0},
    {-60 * BAR, 62, 70},
    {-50 * BAR, 62, 80},
    {-2 * BAR, 65, 30},
    {-BAR, 65, 0},
    {-BAR, 65, 40},
    {480, 62, 0},
    {960, 65, 0},
    {25 * BAR, 64, 80},
    {26 * BAR, 64, 0},
  };
  memcpy(keys, early, sizeof(early));
  (void)run(&conversation, sizeof(early) / sizeof(*early));
  unsigned n_notes = 0;
  for (size_t i = 0; i < conversation.n_notes; ++i) {
    const Note* const note = &conversation.notes[i].note;
    if (conversation.notes[i].part == PART_PLAYER) {
      const bool is_62 = note->pitch == 62;
      ++n_notes;
      cr_assert_eq(note->tick, conversation.first);
      cr_assert_eq(note->pitch, is_62 ? 62 : 65);
      cr_assert_eq(note->velocity, is_62 ? 80 : 40);
      cr_assert_eq(note->length, is_62 ? BAR + 480 : BAR + 960);
    }
  }
  cr_assert_eq(n_notes, 2);
}

static bool
same(const Conversation* const a, const Conversation* const b)
{
  bool is_same = a->n_notes == b->n_notes;
  for (size_t i = 0; is_same && i < a->n_notes; ++i) {
    const Note* const x = &a->notes[i].note;
    const Note* const y = &b->notes[i].note;
    is_same             = x->tick == y->tick && x->length == y->length &&
              x->pitch == y->pitch && x->velocity == y->velocity &&
              a->notes[i].part == b->notes[i].part;
  }
  return is_same;
}

Test(conversation,
     goes_the_same_way_again,
     .init = load_blues,
     .fini = free_both)
{
  Rng          rng    = rng_seed(5, 3);
  const size_t n_keys = fixture_keys(keys, KEY_CAPACITY, &rng, 0, 24 * BAR);
  (void)run(&conversation, n_keys);
  (void)run(&other, n_keys);
  cr_assert(same(&conversation, &other));

  ++setup.choices.seed;
  conversation_free(&other);
  (void)run(&other, n_keys);
  cr_assert_not(same(&conversation, &other));
}

// A player who strikes one key when the partner has ended, and no other

typedef struct {
  DrivePlayer player;
  HeardKey    keys[2];
  unsigned    n_struck;
} Echo;

static void
strike_after(void* const context, const TurnRecord* const record)
{
  Echo* const it = context;
  if (record->turn.by_player || record->turn.end >= 24 * BAR) {
    return;
  }
  it->keys[0]       = (HeardKey){record->turn.end + 480, 72, 80};
  it->keys[1]       = (HeardKey){record->turn.end + 960, 72, 0};
  it->player.keys   = it->keys;
  it->player.n_keys = 2;
  ++it->n_struck;
}

Test(conversation, lets_a_listener_play, .fini = free_both)
{
  load("blues", "swing", 2, true);
  const SessionOptions options = setup_session(&setup);
  Echo it = {.player = {.hear_turn = strike_after, .context = &it}};
  cr_assert_eq(drive_session(&conversation, &options, &it.player), STATUS_OK);
  cr_assert_eq(it.n_struck, 6); // Twelve turns, the partner's every other
  cr_assert_eq(it.player.n_keys, 0);
  unsigned n_notes = 0;
  for (size_t i = 0; i < conversation.n_notes; ++i) {
    const Note* const note = &conversation.notes[i].note;
    if (conversation.notes[i].part == PART_PLAYER) {
      cr_assert_eq(note->tick, (4 * (Tick)n_notes + 2) * BAR + 480);
      cr_assert_eq(note->length, 480);
      ++n_notes;
    }
  }
  cr_assert_eq(n_notes, it.n_struck);
}
