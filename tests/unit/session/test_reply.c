#include "responder/session/reply.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

// A call of two bars of four, answered at tick 7680; the lead is 24 ticks. All
// the expected ticks are counted by hand from what musicianship says: silent
// for a beat, a beat and a half before the turn; half a beat after the line.

enum { BEAT = 960, LINE = 8 * BEAT, LEAD = 24 };

static const Meter four   = {4, 4};
static const Turn  call   = {.index = 1, .by_player = true, .end = LINE};
static const Turn  answer = {.index = 2, .start = LINE, .end = 2 * LINE};

typedef struct {
  Tick     begins; // The first time; -1 for never
  unsigned n_begins;
  Tick     gives;
  Tick     earliest; // When it is given
  Tick     start;
} Seen;

/// Let keys be heard, and the moments pass until the answer is given.
static Seen
pass(const HeardKey* const keys, const unsigned n_keys, const bool is_exact)
{
  static Hearing hearing;
  Seen           seen  = {.begins = -1};
  Reply          reply = reply_open(&call, &answer, LEAD, four);
  unsigned       heard = 0;
  hearing              = (Hearing){.n_notes = 0};
  reply.may_come_in    = !is_exact;
  reply.may_wait       = !is_exact;
  for (bool is_over = false; !is_over;) {
    const Tick now = reply.next;
    cr_assert_lt(now, LINE + BEAT, "never given");
    while (heard < n_keys && keys[heard].tick <= now) {
      hearing_key(&hearing, keys[heard++]);
    }
    const ReplyStep step = reply_step(&reply, &hearing, LEAD, four);
    if (step.begins) {
      seen.begins = seen.begins < 0 ? now : seen.begins;
      ++seen.n_begins;
    }
    is_over = step.gives;
    cr_assert(!step.gives || reply.thinks);
    cr_assert_eq(reply.next, now + REPLY_STEP);
    seen.gives = now;
  }
  seen.earliest = reply.earliest;
  seen.start    = reply_start(&reply, four);
  return seen;
}

// One note, from..to, and another of half a beat if `again` is one

typedef struct {
  char name[16];
  Tick from;
  Tick to;
  Tick again;
  bool is_exact;
  Tick begins;
  Tick gives;
  Tick earliest;
  Tick start;
} Row;

enum {
  NONE   = -1,
  ANY    = -1,
  UPBEAT = LINE - BEAT,
  OFF    = LINE - BEAT / 2,
  LANDED = LINE + BEAT / 2,
  NEXT   = LINE + BEAT,
  SOON   = LINE - 3 * BEAT / 2, // Where a pick-up may begin
  EARLY  = SOON - LEAD,         // When that is decided
  ONTIME = LINE - LEAD,         // The usual decision
  LATE   = LANDED - LEAD,       // ... of one that waits for a landing
  LAST   = UPBEAT - LEAD,       // The latest that thinking begins
};

ParameterizedTestParameters(reply, moments)
{
  static Row rows[] = {
    // Silent for a beat: it comes in, with room for a pick-up
    {"silent", 0, SOON - BEAT, NONE, false, ANY, EARLY, SOON, LINE},
    {"a tick less", 0, SOON - BEAT + 1, NONE, false, ANY, ONTIME, LINE, LINE},
    // Nobody knows whether the player begins yet
    {"no call", NONE, NONE, NONE, false, LAST, ONTIME, LINE, LINE},
    {"a held note", 0, 2 * LINE, NONE, false, LAST, ONTIME, LINE, LINE},
    // The last half beat, and an eighth of a beat for who is early
    {"before it", 0, UPBEAT, LINE - 601, false, ANY, ONTIME, LINE, LINE},
    {"within it", 0, UPBEAT, LINE - 600, false, ANY, LATE, LANDED, NEXT},
    {"lands", 0, UPBEAT, LINE + 240, false, LAST, ONTIME, LINE, LINE},
    {"runs, lands", OFF, LINE, LINE + 240, false, LAST, LATE, LANDED, NEXT},
    {"lands late", OFF, LINE, LINE + 241, false, LAST, LATE, NEXT, NEXT},
    // A script keeps to the line
    {"script", 0, BEAT, NONE, true, ANY, ONTIME, LINE, LINE},
    {"script, over", 0, BEAT, OFF, true, ANY, ONTIME, LINE, LINE},
  };
  return cr_make_param_array(Row, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(const Row* row, reply, moments)
{
  HeardKey keys[4];
  unsigned n = 0;
  if (row->from >= 0) {
    keys[n++] = (HeardKey){row->from, 60, 80};
    keys[n++] = (HeardKey){row->to, 60, 0};
  }
  if (row->again >= 0) {
    keys[n++] = (HeardKey){row->again, 64, 80};
    keys[n++] = (HeardKey){row->again + 100, 64, 0};
  }
  const Seen seen = pass(keys, n, row->is_exact);
  cr_assert_eq(seen.gives, row->gives, "%s: %ld", row->name, (long)seen.gives);
  cr_assert_eq(seen.earliest, row->earliest, "%s", row->name);
  cr_assert_eq(seen.start, row->start, "%s", row->name);
  cr_assert(row->begins == ANY || row->begins == seen.begins, "%s", row->name);
}

// Half a beat of silence, in the second half of the turn (4 beats): then it
// thinks; not while a note sounds, and not before the half.
Test(reply, thinks_when_the_phrase_seems_to_have_ended)
{
  const HeardKey short_one[] = {{0, 60, 80}, {BEAT, 60, 0}};
  const Seen     at_half     = pass(short_one, 2, false);
  cr_assert_eq(at_half.begins, LINE / 2 - LEAD);
  for (Tick end = 4800; end < 4800 + 3 * REPLY_STEP; ++end) {
    const HeardKey keys[] = {{0, 60, 80}, {end, 60, 0}};
    const Seen     seen   = pass(keys, 2, false);
    cr_assert_geq(seen.begins, end + BEAT / 2);
    cr_assert_lt(seen.begins, end + BEAT / 2 + REPLY_STEP);
  }
}

// Every key begins the thinking anew, and the last moment alone will do.
Test(reply, begins_anew_with_every_key)
{
  HeardKey keys[40];
  unsigned n = 0;
  for (unsigned i = 0; i < 10; ++i) {
    keys[n++] = (HeardKey){LINE - 900 + i * 24, 60, 80};
    keys[n++] = (HeardKey){LINE - 900 + i * 24 + 10, 60, 0};
  }
  const Seen seen = pass(keys, n, false);
  cr_assert_geq(seen.n_begins, 10);
  const HeardKey last[] = {{LINE - LEAD, 60, 80}, {LINE, 60, 0}};
  cr_assert_eq(pass(last, 2, true).gives, ONTIME);
}

// What is to be kept free before it is known when the answer begins
Test(reply, may_begin_at_the_first)
{
  const Turn none  = {.index = 0};
  Reply      reply = reply_open(&call, &answer, LEAD, four);
  cr_assert_eq(reply_first(&reply, LINE - 4 * BEAT, four), LINE - 3 * BEAT / 2);
  cr_assert_eq(reply_first(&reply, LINE, four), LINE + BEAT / 2);
  reply.may_come_in = false;
  cr_assert_eq(reply_first(&reply, LINE - 4 * BEAT, four), LINE);
  reply = reply_open(&none, &answer, LEAD, four);
  cr_assert_eq(reply_first(&reply, LINE - 4 * BEAT, four), LINE);
}

// The partner opens: nobody is waited for, nothing is a call.
Test(reply, opens_at_the_line)
{
  static Hearing hearing;
  const Turn     none  = {.index = 0};
  const Turn     first = {.index = 1, .start = 0, .end = LINE};
  Reply          reply = reply_open(&none, &first, LEAD, four);
  ReplyStep      step  = {.gives = false};
  hearing_key(&hearing, (HeardKey){-2000, 60, 80});
  hearing_key(&hearing, (HeardKey){-1900, 60, 0});
  hearing_key(&hearing, (HeardKey){-200, 60, 80});
  cr_assert_eq(reply.next, -LEAD - BEAT);
  while (!step.gives) {
    step = reply_step(&reply, &hearing, LEAD, four);
  }
  cr_assert_eq(reply.next, REPLY_STEP - LEAD);
  cr_assert_eq(reply.earliest, 0);
}
