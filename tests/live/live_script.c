// A lesson in memory: what is written beforehand sounds as it is written, and
// whoever plays it again after a turn's time is told that it came.
#include "stand.h"

#include "core/time/monotonic.h"

#include <stdio.h>
#include <string.h>

enum {
  SPEED    = 4,
  NOTES    = 4,
  N_TURNS  = 2,
  WAITING  = 64,
  PARTNER  = 0x91,
  RECORDED = 16,
};

static const double tempo_bpm = 120.0;

// Keys that are to be struck, and what was said to the player
typedef struct {
  Stand    stand;
  unsigned n_struck;
  unsigned n_heard; // Of the partner's notes
  uint8_t  heard[WAITING];
  unsigned n_remarks;
  char     remarks[RECORDED][REMARK_CAPACITY];
} Lesson;

static Lesson lesson;

// C Eb F C and G F Eb C in quarters, over two bars each
static ScriptTurn
turn_of(const uint8_t pitches[NOTES])
{
  ScriptTurn turn = {.n_notes = NOTES, .words = "four notes"};
  for (unsigned i = 0; i < NOTES; ++i) {
    turn.grid_ticks[i] = (Tick)i * TICKS_PER_QUARTER;
    turn.notes[i]      = (Note){turn.grid_ticks[i], 700, pitches[i], 80};
  }
  return turn;
}

static void
hear_turn(void* const context, const TurnRecord* const record)
{
  Lesson* const it = context;
  if (record->turn.by_player && it->n_remarks < RECORDED) {
    memcpy(it->remarks[it->n_remarks++], record->remark, REMARK_CAPACITY);
  }
}

// Strikes each of the partner's keys again two bars later
static void*
echo(void* const context)
{
  Lesson* const it      = context;
  const int64_t turn_ns = (int64_t)(8.0 * 60e9 / tempo_bpm) / SPEED;
  int64_t       due[WAITING];
  MidiMessage   message;
  while (!atomic_load(&it->stand.is_over)) {
    while (loop_take(it->stand.loop, &message)) {
      if (message.bytes[0] == PARTNER && it->n_heard < WAITING) {
        it->heard[it->n_heard] = message.bytes[1];
        due[it->n_heard++]     = monotonic_ns() + turn_ns;
      }
    }
    if (it->n_struck < it->n_heard && monotonic_ns() >= due[it->n_struck]) {
      stand_key(&it->stand, it->heard[it->n_struck++], 60);
    }
    monotonic_sleep_ms(1);
  }
  return NULL;
}

int
main(void)
{
  static const uint8_t up[NOTES]   = {60, 63, 65, 60};
  static const uint8_t down[NOTES] = {67, 65, 63, 60};
  const ScriptTurn     turns[]     = {turn_of(up), turn_of(down)};
  const Script         script      = {N_TURNS, turns, false};
  Stand* const         stand       = &lesson.stand;
  stand_begin(stand, "one-chord", 1, SPEED);
  stand->session.tempo_bpm      = tempo_bpm;
  stand->session.bars_per_turn  = 2;
  stand->session.partner_begins = true;
  stand->session.script         = &script;
  const Performance performance = {.session = &stand->session};
  pthread_t         player;
  atomic_store(&stand->is_over, false);
  if (pthread_create(&player, NULL, echo, &lesson)) {
    return 1;
  }
  stand_play(stand, &performance, hear_turn, &lesson);
  atomic_store(&stand->is_over, true);
  (void)pthread_join(player, NULL);

  stand_check(stand, !stand->status, "it plays");
  stand_check(stand, stand->result.end == STAGE_OVER, "to the end");
  (void)printf("%u notes, %u remarks\n", lesson.n_heard, lesson.n_remarks);
  stand_check(stand, lesson.n_heard == N_TURNS * NOTES, "every note sounds");
  for (unsigned i = 0; i < lesson.n_heard; ++i) {
    stand_check(stand,
                lesson.heard[i] == (i < NOTES ? up[i] : down[i - NOTES]),
                "as it is written");
  }
  const Wordings* const whole = &sentences_plain()->of[SENTENCE_ECHO_WHOLE];
  stand_check(stand, lesson.n_remarks == N_TURNS, "a remark for each echo");
  const unsigned first = (unsigned)stand->session.seed;
  for (unsigned i = 0; i < lesson.n_remarks; ++i) {
    const char* const words = whole->words[(first + i) % whole->n];
    (void)printf("%s\n", lesson.remarks[i]);
    stand_check(stand,
                strcmp(lesson.remarks[i], words) == 0,
                "the echo came");
  }
  stand_end(stand);
  return stand->n_failed != 0;
}
