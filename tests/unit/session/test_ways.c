// The ways of playing together: whose turn it is, what is asked, and how it is
// judged. What each way is comes from common practice, no source.

#include "core/rng.h"
#include "responder/session/facts.h"
#include "responder/session/fit.h"
#include "support/stand.h"

#include <criterion/criterion.h>
#include <stdlib.h>
#include <string.h>

enum { BAR = 3840, OCTAVE = 12 };

static Log log_a;
static Log log_b;

static SessionOptions
of_way(const Way way)
{
  SessionOptions options = usual();
  options.way            = way;
  options.bars_per_turn  = way == WAY_ECHO ? 2 : 4;
  options.choruses       = 3;
  options.rung           = (Rung){{4, 3, 3, 1}};
  return options;
}

// Players, who know what the partner said last and which turn comes

typedef struct Player Player;
struct Player {
  unsigned n_keys;
  HeardKey keys[512];
  Phrase   said; // By the partner
  Phrase   own;  // By the player, the turn before
  unsigned at;   // Key that comes next
  void (*play)(Player*, const Turn*);
};

static Player player;

static void
strike(Player* const it, const Tick tick, const Tick length, const int pitch)
{
  it->keys[it->n_keys++] = (HeardKey){tick, (uint8_t)pitch, 80};
  it->keys[it->n_keys++] = (HeardKey){tick + length, (uint8_t)pitch, 0};
}

static void
say_back(Player* const       it,
         const Turn* const   turn,
         const Phrase* const phrase,
         const int           on_one_key)
{
  const Tick later = turn->start - phrase->start_tick;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const Note note   = phrase->notes[i].note;
    const Tick next   = i + 1 < phrase->n_notes
                          ? phrase->notes[i + 1].note.tick - note.tick
                          : note.length;
    const Tick length = note.length < next ? note.length : next - 20;
    strike(
      it, note.tick + later, length, on_one_key ? on_one_key : (int)note.pitch);
  }
}

static void
play_back(Player* const it, const Turn* const turn)
{
  say_back(it, turn, &it->said, 0);
}

static void
tap(Player* const it, const Turn* const turn)
{
  say_back(it, turn, &it->said, 49); // A pad that is no tone of the form
}

static void
go_astray(Player* const it, const Turn* const turn)
{
  for (unsigned i = 0; i < 5; ++i) {
    strike(it, turn->start + 480 + i * 1440, 400, i % 2 ? 66 : 61);
  }
}

// A phrase of crotchets that ends on a pitch
static void
walk_to(Player* const it, const Turn* const turn, const int pitch)
{
  static const int before[] = {67, 64, 62};
  for (unsigned i = 0; i < 3; ++i) {
    strike(it, turn->start + i * 960, 800, before[i]);
  }
  strike(it, turn->start + 3 * 960, 900, pitch);
}

// The root of C7, G7 or F7, where the turn's first bar has it
static int
root_of(const Turn* const turn)
{
  const Chord* const chord =
    chart_chord_at(&chart.chart, turn->start + 3 * 960);
  const int pc = (int)spelling_pitch_class(chord->root);
  return pc > 8 ? 48 + pc : 60 + pc;
}

static void
come_home(Player* const it, const Turn* const turn)
{
  walk_to(it, turn, root_of(turn));
}

static void
stay_open(Player* const it, const Turn* const turn)
{
  walk_to(it, turn, root_of(turn) + 4); // The third
}

static void
tell_story(Player* const it, const Turn* const turn)
{
  if (turn->task == TASK_AGAIN) {
    say_back(it, turn, &it->said, 0);
  } else if (turn->task == TASK_LINE) {
    walk_to(it, turn, root_of(turn));
  } else { // Offbeats, to the root: fewer of them in each chorus
    for (unsigned i = 2 * turn->chorus; i < 6; ++i) {
      strike(
        it, turn->start + 1440 + i * 960, 300, i % 2 ? 67 : root_of(turn) + 12);
    }
    strike(it, turn->start + 2 * BAR, 900, root_of(turn) + 12);
  }
}

static void
five_notes(Player* const it, const Turn* const turn)
{
  static const int pitches[] = {60, 62, 64, 67, 69};
  for (unsigned i = 0; i < 5; ++i) {
    strike(it, turn->start + i * 480, 400, pitches[i]);
  }
}

static void
one_note(Player* const it, const Turn* const turn)
{
  for (Tick tick = turn->start; tick < turn->end - BAR; tick += 960) {
    const Chord* const chord = chart_chord_at(&chart.chart, tick);
    strike(it, tick, 500, 60 + (int)spelling_pitch_class(chord->root));
  }
}

static void
go_on(Log* const log, const Tick until)
{
  unsigned n = log->n_turns;
  advance(log, until);
  for (; n < log->n_turns; ++n) {
    if (!log->turns[n].turn.by_player) {
      player.said = log->turns[n].phrase;
    }
  }
}

// Every turn that is the player's is played when it begins
static void
run(Log* const                  log,
    const SessionOptions* const options,
    void (*const play)(Player*, const Turn*),
    const Tick step)
{
  const TurnPlan plan = session_turn_plan(options);
  log->n_notes        = 0;
  log->n_turns        = 0;
  player              = (Player){.play = play};
  const Tick end      = options->choruses * chart_ticks(options->chart);
  session_begin(&session, options);
  for (Turn turn = turn_at(plan, 1); turn.start < end;
       turn      = turn_at(plan, turn.index + 1)) {
    go_on(log, turn.silence);
    player.n_keys = 0;
    if (turn.by_player && play) {
      play(&player, &turn);
    }
    for (unsigned i = 0; i < player.n_keys; ++i) {
      while (session.now < player.keys[i].tick) {
        const Tick next = session.now + step;
        go_on(log, next < player.keys[i].tick ? next : player.keys[i].tick);
      }
      (void)session_hear(&session, player.keys[i]);
    }
  }
  go_on(log, session_last_tick(&session));
  cr_assert(session_is_over(&session));
}

static unsigned
count_met(const Log* const log, const Goal goal, const bool met)
{
  unsigned n = 0;
  for (unsigned i = 0; i < log->n_turns; ++i) {
    const Outcome* const outcome = &log->turns[i].outcome;
    n += outcome->is_judged && outcome->goal == goal &&
         (outcome->miss == MISS_NOTHING) == met;
  }
  return n;
}

static bool
is_wording(const char* const text, const SentenceKind kind)
{
  const Wordings* const words = &sentences_plain()->of[kind];
  bool                  is    = false;
  for (unsigned i = 0; i < words->n; ++i) {
    is = is || strncmp(text, words->words[i], strlen(words->words[i])) == 0;
  }
  return is;
}

// Whole sessions

Test(ways, echo_grows_with_whoever_gives_all_back, .init = load)
{
  for (unsigned seed = 1; seed <= 8; ++seed) {
    SessionOptions options = of_way(WAY_ECHO);
    options.seed           = seed;
    run(&log_a, &options, play_back, 5000);
    cr_assert_eq(log_a.n_turns, 18);
    cr_assert_eq(count_met(&log_a, GOAL_WHOLE, true), 9, "seed %u", seed);
    cr_assert_geq(session.standing.echo.n_notes, 7, "seed %u", seed);
    for (unsigned t = 0; t < log_a.n_turns; t += 2) { // From two notes to eight
      const unsigned n = log_a.turns[t].phrase.n_notes;
      cr_assert(n >= 2 && n <= 2 + t / 2 && n <= 8, "seed %u: %u", seed, n);
    }
  }
}

// ... and is no longer after three misses
Test(ways, echo_grows_for_nobody_else, .init = load)
{
  for (unsigned seed = 1; seed <= 8; ++seed) {
    SessionOptions options = of_way(WAY_ECHO);
    options.rung           = (Rung){{8, 7, 6, 1}};
    options.seed           = seed;
    run(&log_a, &options, go_astray, 5000);
    for (unsigned t = 0; t < log_a.n_turns; t += 2) {
      cr_assert_eq(log_a.turns[t].phrase.n_notes, 2, "seed %u", seed);
    }
  }
}

Test(ways, echo_asks_on_whoever_taps_its_rhythm, .init = load)
{
  SessionOptions options = of_way(WAY_ECHO);
  run(&log_a, &options, tap, 5000);
  cr_assert_geq(count_met(&log_a, GOAL_RHYTHM, true), 1);
  cr_assert_eq(count_met(&log_a, GOAL_RHYTHM, false), 0);
  cr_assert_geq(count_met(&log_a, GOAL_LANDING, false), 3);
  cr_assert_eq(session.standing.echo.n_notes, 2);
}

Test(ways, echo_plays_the_same_cell_until_it_comes, .init = load)
{
  SessionOptions options = of_way(WAY_ECHO);
  run(&log_a, &options, go_astray, 5000);
  cr_assert_eq(count_met(&log_a, GOAL_RHYTHM, true), 0);
  const Idea first  = idea_of(&log_a.turns[0].phrase, false);
  const Idea second = idea_of(&log_a.turns[2].phrase, false);
  cr_assert_eq(first.n_notes, second.n_notes);
  cr_assert_eq(memcmp(first.ticks, second.ticks, first.n_notes * sizeof(Tick)),
               0);
}

// What is to be given back is no stranger there: no tone stands a semitone over
// a tone of the chord that it is given back over, where both have another
// (avoid notes: common practice, no source)
static bool
rubs(const HeardNote* const note, const Tick later)
{
  const Tick     tick = heard_note_chord_tick(note, &chart.chart) + later;
  const Chord*   then = chart_chord_at(&chart.chart, tick);
  const unsigned key  = note->note.pitch;
  return !chord_has_core_tone(then, key) &&
         chord_has_core_tone(then, key + OCTAVE - 1);
}

Test(ways, echo_can_be_given_back, .init = load)
{
  for (unsigned seed = 1; seed <= 12; ++seed) {
    SessionOptions options = of_way(WAY_ECHO);
    options.seed           = seed;
    run(&log_a, &options, seed % 2 ? play_back : tap, 5000);
    for (unsigned i = 0; i + 1 < log_a.n_turns; i += 2) {
      const Phrase* const cell = &log_a.turns[i].phrase;
      for (unsigned k = 0; k + 1 < cell->n_notes; ++k) {
        cr_assert_not(rubs(&cell->notes[k], 2 * BAR), "seed %u", seed);
      }
      cr_assert_leq(facts_last(cell).role, ROLE_CHORD_TONE);
      const bool is_new = strncmp(log_a.turns[i].why, "Something", 9) == 0;
      cr_assert(!is_new || cell->measures.range > 0, "seed %u", seed);
    }
  }
}

static const HeardNote*
last_of(const TurnRecord* const record)
{
  return phrase_last_written(&record->phrase);
}

Test(ways, question_ends_open_and_answer_closed, .init = load)
{
  for (unsigned seed = 1; seed <= 12; ++seed) {
    SessionOptions options = of_way(WAY_QUESTION);
    options.seed           = seed;
    run(&log_a, &options, come_home, 5000);
    for (unsigned i = 0; i < log_a.n_turns; ++i) {
      const TurnRecord* const record = &log_a.turns[i];
      if (!record->turn.by_player && record->turn.task == TASK_ASK) {
        cr_assert_eq(last_of(record)->role, ROLE_CHORD_TONE);
        cr_assert_neq(last_of(record)->note.pitch % OCTAVE, 0);
      } else if (!record->turn.by_player) {
        cr_assert_eq(last_of(record)->role, ROLE_ROOT, "seed %u", seed);
      }
    }
    cr_assert_eq(count_met(&log_a, GOAL_CLOSE, false), 0);
    cr_assert_eq(count_met(&log_a, GOAL_ASK, true), 0);
    run(&log_a, &options, stay_open, 5000);
    cr_assert_eq(count_met(&log_a, GOAL_ASK, false), 0);
  }
}

// Where no chord is played the tonic alone is at rest: the third or the fifth
// asks
Test(ways, question_is_open_without_a_chord, .init = load)
{
  for (unsigned i = 0; i < chart.chart.n_changes; ++i) {
    chart.chart.changes[i].chord = (Chord){.n_tones = 0};
  }
  for (unsigned seed = 1; seed <= 12; ++seed) {
    SessionOptions options = of_way(WAY_QUESTION);
    options.seed           = seed;
    run(&log_a, &options, NULL, 5000);
    for (unsigned i = 0; i < log_a.n_turns; ++i) {
      const TurnRecord* const record = &log_a.turns[i];
      if (!record->turn.by_player && record->turn.task == TASK_ASK) {
        const unsigned last = last_of(record)->note.pitch % OCTAVE;
        cr_assert(last == 4 || last == 7, "%u", last);
      }
    }
  }
}

// What is said of the partner's turns is not said twice running
Test(ways, say_nothing_twice_running, .init = load)
{
  static const Way ways[] = {
    WAY_QUESTION, WAY_ECHO, WAY_FEW_NOTES, WAY_HANDING_OVER, WAY_SING_FIRST};
  for (unsigned i = 0; i < sizeof(ways) / sizeof(*ways); ++i) {
    SessionOptions options = of_way(ways[i]);
    const char*    last    = "";
    options.rung           = (Rung){{1, 2, 1, 1}};
    options.bars_per_turn  = 2;
    run(&log_a, &options, one_note, 5000);
    for (unsigned t = 0; t < log_a.n_turns; ++t) {
      const TurnRecord* const record = &log_a.turns[t];
      if (!record->turn.by_player) {
        cr_assert_str_neq(record->why, last, "way %u, turn %u", ways[i], t + 1);
        last = record->why;
      }
    }
  }
}

// Where the form comes round there is Dm7; the piece ends at home, in C, as the
// band does
Test(ways, close_the_piece_at_home, .init = load)
{
  static const Way ways[] = {WAY_QUESTION, WAY_FEW_NOTES};
  unsigned         n_over = 0;
  load_chart("two-five-one");
  for (unsigned seed = 1; seed <= 16; ++seed) {
    SessionOptions options = of_way(ways[seed % 2]);
    options.choruses       = ways[seed % 2] == WAY_QUESTION ? 2 : 1;
    options.bars_per_turn  = 2;
    options.seed           = seed;
    run(&log_a, &options, come_home, 5000);
    const TurnRecord* const last = &log_a.turns[log_a.n_turns - 1];
    cr_assert_not(last->turn.by_player);
    if (last->phrase.n_notes &&
        last_of(last)->grid_tick >= options.choruses * 16 * BAR) {
      cr_assert_eq(last_of(last)->note.pitch % OCTAVE, 0, "seed %u", seed);
      cr_assert(ways[seed % 2] != WAY_QUESTION ||
                  strstr(last->why, "the tonic of C major"),
                "%s",
                last->why);
      ++n_over;
    }
  }
  cr_assert_gt(n_over, 4);
}

static unsigned
most_notes(const TurnRecord* const record)
{
  unsigned used[OCTAVE] = {0};
  unsigned most         = 0;
  for (unsigned i = 0; i < record->phrase.n_notes; ++i) {
    const HeardNote* const note = &record->phrase.notes[i];
    const Chord* const     chord =
      chart_chord_at(&chart.chart, heard_note_chord_tick(note, &chart.chart));
    const unsigned root = spelling_pitch_class(chord->root);
    used[root] |= 1U << note->note.pitch % OCTAVE;
    const unsigned n = (unsigned)__builtin_popcount(used[root]);
    most             = n > most ? n : most;
  }
  return most;
}

Test(ways, few_notes_are_few_for_both, .init = load)
{
  unsigned three = 0;
  for (unsigned seed = 1; seed <= 12; ++seed) {
    SessionOptions options = of_way(WAY_FEW_NOTES);
    options.seed           = seed;
    run(&log_a, &options, seed % 2 ? one_note : five_notes, 5000);
    for (unsigned i = 0; i < log_a.n_turns; ++i) {
      const TurnRecord* const record = &log_a.turns[i];
      if (!record->turn.by_player) {
        cr_assert_leq(most_notes(record), record->turn.chorus + 1);
        cr_assert(record->turn.chorus == 2 ||
                  fit_has_roots(&record->phrase, &chart.chart));
        cr_assert(i < 2 || strcmp(record->why, log_a.turns[i - 2].why),
                  "%s",
                  record->why);
        three += most_notes(record) == 3;
      }
    }
    // Five notes over a chord are more than three; one is never too many
    cr_assert_eq(count_met(&log_a, GOAL_FEW, seed % 2 == 0), 0);
  }
  cr_assert_gt(three, 0);
}

Test(ways, story_is_told_by_both, .init = load)
{
  for (unsigned seed = 1; seed <= 8; ++seed) {
    SessionOptions options = of_way(WAY_STORY);
    options.seed           = seed;
    run(&log_a, &options, tell_story, 5000);
    cr_assert_eq(log_a.n_turns, 9);
    cr_assert_eq(count_met(&log_a, GOAL_AGAIN, false), 0, "seed %u", seed);
    cr_assert_eq(count_met(&log_a, GOAL_LAST, false), 0, "seed %u", seed);
    // The second chorus: the player's line comes back from the partner
    const Idea line  = idea_of(&log_a.turns[3].phrase, true);
    const Idea again = idea_of(&log_a.turns[4].phrase, false);
    cr_assert_not(log_a.turns[4].turn.by_player);
    cr_assert_geq(idea_likeness(&line, &again).rhythm, 0.99F);
    cr_assert_leq(last_of(&log_a.turns[4])->role, ROLE_CHORD_TONE);
  }
}

// A line is short enough to be sung: fewer than two notes a bar, and a chord
// tone to end on (common practice, no source)
Test(ways, lines_are_short, .init = load)
{
  for (unsigned seed = 1; seed <= 12; ++seed) {
    SessionOptions options = of_way(seed % 2 ? WAY_STORY : WAY_HANDING_OVER);
    options.seed           = seed;
    options.rung           = (Rung){{6, 5, 3, 1}};
    run(&log_a, &options, NULL, 5000);
    for (unsigned i = 0; i < log_a.n_turns; ++i) {
      const TurnRecord* const record = &log_a.turns[i];
      if (!record->turn.by_player) {
        cr_assert_leq(record->phrase.n_notes, 10, "seed %u", seed);
        cr_assert_leq(last_of(record)->role, ROLE_CHORD_TONE);
      }
    }
  }
}

// A chorus of two turns has no line to end with: it is the first one again
Test(ways, short_choruses_are_told_on, .init = load)
{
  SessionOptions options = of_way(WAY_STORY);
  options.bars_per_turn  = chart.chart.n_bars / 2;
  run(&log_a, &options, tell_story, 5000);
  const SentenceKind kinds[] = {SENTENCE_TURN_AGAIN_YOURS,
                                SENTENCE_TURN_LAST,
                                SENTENCE_TURN_LINE_YOURS,
                                SENTENCE_TURN_AGAIN_MINE,
                                SENTENCE_TURN_LAST};
  for (unsigned i = 0; i < 5; ++i) {
    cr_assert(is_wording(log_a.turns[i].asks, kinds[i]), "%u", i);
  }
}

// A form of three turns: two questions, and one end for both
Test(ways, tell_whoever_asks_and_closes, .init = load)
{
  SessionOptions options = of_way(WAY_QUESTION);
  run(&log_a, &options, come_home, 5000);
  cr_assert(is_wording(log_a.turns[0].asks, SENTENCE_TURN_ASK));
  cr_assert(is_wording(log_a.turns[2].asks, SENTENCE_TURN_ASK));
  cr_assert(is_wording(log_a.turns[4].asks, SENTENCE_TURN_CLOSE_LAST));
  options.bars_per_turn = 2;
  run(&log_a, &options, come_home, 5000);
  cr_assert(is_wording(log_a.turns[5].asks, SENTENCE_TURN_ASK));
}

// Three goals missed running: the partner's next turn is simpler, and the
// player is asked for less
Test(ways, get_simpler_where_goals_are_missed, .init = load)
{
  double   onsets[2] = {0.0, 0.0}; // In a bar, before and after
  unsigned n[2]      = {0, 0};
  for (unsigned seed = 1; seed <= 8; ++seed) {
    SessionOptions options = of_way(WAY_SING_FIRST);
    options.rung           = (Rung){{6, 6, 3, 3}};
    options.bars_per_turn  = 2;
    options.seed           = seed;
    run(&log_a, &options, go_astray, 5000);
    unsigned missed = 0;
    unsigned told   = 0;
    for (unsigned t = 0; t < log_a.n_turns; ++t) {
      const TurnRecord* const record = &log_a.turns[t];
      missed += record->outcome.is_judged && record->outcome.miss;
      if (is_wording(record->asks, SENTENCE_TURN_SIMPLER)) {
        cr_assert(record->turn.by_player);
        cr_assert_eq(missed, 3 * ++told);
      } else if (!record->turn.by_player) {
        onsets[told > 0] += (double)record->phrase.measures.onsets_per_bar;
        ++n[told > 0];
      }
    }
    cr_assert_eq(told, 2, "seed %u", seed);
  }
  cr_assert_lt(onsets[1] / n[1], 0.9 * onsets[0] / n[0]);
}

// ... but for no turn after the last
Test(ways, ask_for_nothing_smaller_at_the_end, .init = load)
{
  SessionOptions options = of_way(WAY_SING_FIRST);
  options.bars_per_turn  = 2;
  for (options.choruses = 1; options.choruses <= 2; ++options.choruses) {
    unsigned told = 0;
    run(&log_a, &options, go_astray, 5000); // Three turns, and six
    for (unsigned t = 0; t < log_a.n_turns; ++t) {
      told += is_wording(log_a.turns[t].asks, SENTENCE_TURN_SIMPLER);
    }
    cr_assert_eq(told, options.choruses - 1);
  }
}

// Room is left for a turn that comes: the partner's last words promise none
Test(ways, leave_room_for_no_turn_after_the_last, .init = load)
{
  SessionOptions options = of_way(WAY_ANSWER);
  options.choruses       = 2; // Six turns
  run(&log_a, &options, NULL, 5000);
  cr_assert_eq(log_a.n_turns, 6);
  for (unsigned t = 1; t < log_a.n_turns; t += 2) {
    const bool leaves = strstr(log_a.turns[t].why, "with room for you");
    cr_assert_eq(leaves, t < 5, "%s", log_a.turns[t].why);
  }
}

// ... and comes back where they are met
Test(ways, get_on_again_where_goals_are_met, .init = load)
{
  SessionOptions options = of_way(WAY_SING_FIRST);
  run(&log_a, &options, go_astray, 5000);
  cr_assert_geq(session.standing.eased, 1);
  run(&log_a, &options, come_home, 5000);
  cr_assert_eq(session.standing.eased, 0);
}

// Whoever is silent has no line for the partner to say
Test(ways, story_goes_on_from_silence, .init = load)
{
  SessionOptions options = of_way(WAY_STORY);
  run(&log_a, &options, NULL, 5000);
  const Wordings* const line = &sentences_plain()->of[SENTENCE_TURN_LINE_MINE];
  unsigned              n    = 0;
  for (unsigned i = 0; i < line->n; ++i) {
    n += strcmp(log_a.turns[3].asks, line->words[i]) == 0;
  }
  cr_assert_eq(log_a.turns[3].turn.task, TASK_LINE);
  cr_assert_eq(log_a.turns[4].turn.task, TASK_LINE); // ... whose line it is
  cr_assert_eq(n, 1, "%s", log_a.turns[3].asks);
}

// A note just before the line is the pick-up of the turn after, where that is
// the player's too: it is heard once
static void
pick_up(Player* const it, const Turn* const turn)
{
  strike(it, turn->start + 960, 300, 60);
  strike(it, turn->start + 1920, 300, 64);
  strike(it, turn->end - 400, 300, 67);
}

Test(ways, hear_a_pick_up_once, .init = load)
{
  SessionOptions options = of_way(WAY_STORY);
  run(&log_a, &options, pick_up, 5000);
  cr_assert_eq(log_a.turns[1].phrase.n_notes, 2);
  cr_assert_eq(log_a.turns[2].phrase.n_notes, 3); // The last begins a chorus
}

// A line that ends on the root before the next one's pick-up, half a beat away
// and less, runs on into it
static Tick to_pick_up;

static void
run_into_the_next(Player* const it, const Turn* const turn)
{
  const Tick         last  = turn->end - 720;
  const Chord* const chord = chart_chord_at(&chart.chart, last);
  const int          root  = 60 + (int)spelling_pitch_class(chord->root);
  for (unsigned i = 0; i < 3; ++i) {
    strike(it, turn->start + (1 + turn->index % 3) * 480 + i * 960, 400, 67);
  }
  strike(it, last, 240, root);
  strike(it, last + to_pick_up, 100, root + 2);
}

Test(ways, praise_no_end_of_a_line_that_runs_on, .init = load)
{
  SessionOptions options = of_way(WAY_STORY);
  for (to_pick_up = 300; to_pick_up <= 600; to_pick_up += 300) {
    run(&log_a, &options, run_into_the_next, 5000);
    const TurnRecord* const last =
      &log_a.turns[2]; // A line of the player's own
    cr_assert_eq(last->turn.task, TASK_LAST);
    cr_assert_eq(last->phrase.runs_on, to_pick_up == 300);
    cr_assert_eq(last->outcome.landed, to_pick_up == 600);
    cr_assert_eq(last->outcome.miss == MISS_LAST, to_pick_up == 300);
  }
  // Over the partner's turn there is no time for more
  const SessionOptions trades = usual();
  to_pick_up                  = 300;
  run(&log_a, &trades, run_into_the_next, 5000);
  cr_assert_not(log_a.turns[0].phrase.runs_on);
}

// In every turn it begins on the partner's last note: told where that came just
// before, and not where the player's own turn did
static void
begin_from_said(Player* const it, const Turn* const turn)
{
  if (it->said.n_notes && turn->task != TASK_AGAIN) {
    strike(it, turn->start, 3800, phrase_last_written(&it->said)->note.pitch);
    strike(it, turn->start + BAR, 2 * BAR, 61);
  }
}

Test(ways, hear_who_goes_on_from_the_partner, .init = load)
{
  SessionOptions options = of_way(WAY_STORY);
  unsigned       n       = 0;
  for (options.seed = 0; options.seed < 12; ++options.seed) {
    run(&log_a, &options, begin_from_said, 5000);
    for (unsigned i = 1; i < log_a.n_turns; ++i) {
      const bool begins =
        is_wording(log_a.turns[i].remark, SENTENCE_PRAISE_BEGAN);
      cr_assert_not(begins && log_a.turns[i - 1].turn.by_player);
      n += begins;
    }
  }
  cr_assert_gt(n, 0);
}

// A line that was said in another chorus is not new
static void
end_as_ever(Player* const it, const Turn* const turn)
{
  Turn first   = *turn;
  first.chorus = 0;
  tell_story(it, &first);
}

Test(ways, story_knows_a_last_line_again, .init = load)
{
  SessionOptions options = of_way(WAY_STORY);
  run(&log_a, &options, end_as_ever, 5000);
  cr_assert_eq(count_met(&log_a, GOAL_LAST, true), 1);
  cr_assert_eq(count_met(&log_a, GOAL_LAST, false), 2);
}

static unsigned
count_missed(const Log* const log, const Miss miss)
{
  unsigned n = 0;
  for (unsigned i = 0; i < log->n_turns; ++i) {
    n += log->turns[i].outcome.miss == miss;
  }
  return n;
}

Test(ways, story_hears_another_line_as_another, .init = load)
{
  SessionOptions options = of_way(WAY_STORY);
  run(&log_a, &options, go_astray, 5000);
  cr_assert_eq(count_met(&log_a, GOAL_AGAIN, true), 0);
  cr_assert_geq(count_missed(&log_a, MISS_AGAIN), 1);
}

// A new line, and that once more where the first was to come again
static void
stay_with_the_last(Player* const it, const Turn* const turn)
{
  Turn last  = *turn;
  last.index = 3;
  last.task  = TASK_LAST;
  tell_story(it, &last);
}

Test(ways, story_knows_an_old_line_from_the_first, .init = load)
{
  SessionOptions options = of_way(WAY_STORY);
  load_chart("sixteen-bar"); // Four lines: A A B A
  run(&log_a, &options, stay_with_the_last, 5000);
  cr_assert_geq(count_missed(&log_a, MISS_AGAIN_OTHER), 2);
}

static unsigned
partner_notes(const Log* const log, const unsigned chorus, PartNote* notes)
{
  const Tick length = chart_ticks(&chart.chart);
  unsigned   n      = 0;
  for (unsigned i = 0; i < log->n_notes; ++i) {
    PartNote note = log->notes[i];
    if (note.part == PART_PARTNER && note.note.tick >= chorus * length &&
        note.note.tick < (chorus + 1) * length) {
      note.note.tick -= chorus * length;
      notes[n++] = note;
    }
  }
  return n;
}

Test(ways, hand_over_in_three_choruses, .init = load)
{
  static PartNote shown[1000];
  static PartNote along[1000];
  static PartNote alone[1000];
  SessionOptions  options = of_way(WAY_HANDING_OVER);
  run(&log_a, &options, NULL, 5000);
  const unsigned n = partner_notes(&log_a, 0, shown);
  cr_assert_gt(n, 12);
  cr_assert_eq(partner_notes(&log_a, 1, along), n);
  for (unsigned i = 0; i < n; ++i) {
    cr_assert_eq(shown[i].note.tick, along[i].note.tick);
    cr_assert_eq(shown[i].note.pitch, along[i].note.pitch);
  }
  cr_assert_eq(partner_notes(&log_a, 2, alone), 0);
}

// Whether nothing stands still that moved
static bool
moves_like(const Idea* const line, const Idea* const first)
{
  bool moves = line->n_notes == first->n_notes;
  for (unsigned i = 1; moves && i < line->n_notes; ++i) {
    moves = line->pitches[i] != line->pitches[i - 1] ||
            first->pitches[i] == first->pitches[i - 1];
  }
  return moves;
}

// Four lines are shown as A A B A (common practice, no source)
Test(ways, show_a_chorus_of_lines, .init = load)
{
  load_chart("sixteen-bar");
  for (unsigned seed = 1; seed <= 8; ++seed) {
    SessionOptions options = of_way(WAY_HANDING_OVER);
    options.seed           = seed;
    run(&log_a, &options, NULL, 5000);
    const Idea first = idea_of(&log_a.turns[0].phrase, false);
    for (unsigned i = 1; i < 4; ++i) {
      const Idea line   = idea_of(&log_a.turns[i].phrase, false);
      const bool is_new = i == 2;
      cr_assert_eq(idea_likeness(&first, &line).rhythm < 0.99F, is_new);
      cr_assert(is_new || moves_like(&line, &first), "seed %u", seed);
    }
    cr_assert_eq(strncmp(log_a.turns[1].why, "Once more the same", 18), 0);
    cr_assert_eq(strncmp(log_a.turns[3].why, "The first line again", 20), 0);
  }
}

static void
play_what_was_shown(Player* const it, const Turn* const turn)
{
  for (unsigned i = 0; i < log_a.n_turns; ++i) {
    const TurnRecord* const record = &log_a.turns[i];
    if (!record->turn.by_player &&
        (turn->index - record->turn.index) % 3 == 0) {
      say_back(it, turn, &record->phrase, 0);
    }
  }
}

// ... each note a shade too soon, so that the first of a turn is struck in the
// one before
static void
play_a_shade_ahead(Player* const it, const Turn* const turn)
{
  const Tick length = turn->end - turn->start;
  for (unsigned i = 0; i < 2 * log_a.n_turns; ++i) {
    const unsigned          next   = i / log_a.n_turns;
    const TurnRecord* const record = &log_a.turns[i % log_a.n_turns];
    const unsigned          at     = turn->index + next;
    if (record->turn.by_player || (at - record->turn.index) % 3 != 0 ||
        at > 9) {
      continue;
    }
    for (unsigned n = 0; n < record->phrase.n_notes; ++n) {
      const Note note  = record->phrase.notes[n].note;
      const Tick later = turn->start - record->turn.start + next * length;
      const Tick tick  = note.tick + later - 60;
      if (tick >= turn->start ? tick < turn->end : turn->index == 4) {
        strike(it, tick, 200, note.pitch);
      }
    }
  }
}

static void
play_some_of_it(Player* const it, const Turn* const turn)
{
  play_what_was_shown(it, turn);
  it->n_keys = it->n_keys / 4 * 2; // The first half of the notes
}

Test(ways, handing_over_hears_who_takes_over, .init = load)
{
  SessionOptions options = of_way(WAY_HANDING_OVER);
  run(&log_a, &options, play_what_was_shown, 5000);
  cr_assert_eq(count_met(&log_a, GOAL_ALONG, true), 3);
  cr_assert_eq(count_met(&log_a, GOAL_ALONE, true), 3);
  // A part of it is enough, if it is in its places
  run(&log_a, &options, play_some_of_it, 5000);
  cr_assert_eq(count_met(&log_a, GOAL_ALONG, true), 3);
  cr_assert_eq(count_met(&log_a, GOAL_ALONE, true), 3);
  run(&log_a, &options, go_astray, 5000);
  cr_assert_leq(count_met(&log_a, GOAL_ALONG, true), 1);
}

// The first three turns go astray; then the notes on a beat, or all
static void
find_back(Player* const it, const Turn* const turn, const bool to_all)
{
  if (turn->index <= 6 + 3) {
    go_astray(it, turn);
    return;
  }
  for (unsigned i = 0; i < log_a.n_turns; ++i) {
    const TurnRecord* const record = &log_a.turns[i];
    if (record->turn.by_player || (turn->index - record->turn.index) % 6 != 0) {
      continue;
    }
    static Phrase some;
    some         = record->phrase;
    some.n_notes = 0;
    for (unsigned n = 0; n < record->phrase.n_notes; ++n) {
      if (to_all || record->phrase.notes[n].grid_tick % 960 == 0) {
        some.notes[some.n_notes++] = record->phrase.notes[n];
      }
    }
    say_back(it, turn, &some, 0);
  }
}

// What is struck a shade before a line is heard behind it
Test(ways, handing_over_hears_first_notes, .init = load)
{
  unsigned n_first = 0;
  for (unsigned seed = 1; seed <= 6; ++seed) {
    SessionOptions options = of_way(WAY_HANDING_OVER);
    options.seed           = seed;
    run(&log_a, &options, play_a_shade_ahead, 5000);
    for (unsigned i = 3; i < log_a.n_turns; ++i) {
      const Phrase* const shown = &log_a.turns[i % 3].phrase;
      const Phrase* const mine  = &log_a.turns[i].phrase;
      cr_assert_eq(mine->n_notes, shown->n_notes, "%u of %u", i, seed);
      cr_assert_not(mine->landing.is_there);
      n_first += shown->notes[0].grid_tick == shown->start_tick;
    }
  }
  cr_assert_gt(n_first, 6);
}

static void
find_beats(Player* const it, const Turn* const turn)
{
  find_back(it, turn, false);
}

static void
find_all(Player* const it, const Turn* const turn)
{
  find_back(it, turn, true);
}

static bool
is_between(const Tick tick)
{
  return tick % 960 > 240 && tick % 960 < 720;
}

// Return how many of the partner's notes of the second half of a chorus lie
// between the beats
static unsigned
count_between(const unsigned chorus)
{
  static PartNote notes[1000];
  const unsigned  n    = partner_notes(&log_a, chorus, notes);
  const Tick      half = chart_ticks(&chart.chart) / 2;
  unsigned        sum  = 0;
  for (unsigned i = 0; i < n; ++i) {
    sum += notes[i].note.tick >= half && is_between(notes[i].note.tick);
  }
  return sum;
}

// Three turns missed: less of the chorus is played along, and less is enough;
// who takes over all of it is not held to less
Test(ways, handing_over_gets_smaller, .init = load)
{
  SessionOptions options    = of_way(WAY_HANDING_OVER);
  unsigned       between[2] = {0, 0};
  options.bars_per_turn     = 2;
  for (options.seed = 1; options.seed <= 8; ++options.seed) {
    run(&log_a, &options, go_astray, 5000);
    between[0] += count_between(0);
    between[1] += count_between(1);
    unsigned told = 0;
    for (unsigned t = 0; t < log_a.n_turns; ++t) {
      told += is_wording(log_a.turns[t].asks, SENTENCE_TURN_STRONG);
    }
    const bool went_along = count_met(&log_a, GOAL_ALONG, true) > 0;
    cr_assert(told == 2 || (told == 1 && went_along), "%u", told);
    run(&log_a, &options, find_beats, 5000);
    cr_assert_eq(count_met(&log_a, GOAL_ALONG, false), 3);
    cr_assert_eq(count_met(&log_a, GOAL_ALONE, false), 0);
    run(&log_a, &options, find_all, 5000);
    cr_assert_eq(count_met(&log_a, GOAL_ALONG, true), 3);
    cr_assert_eq(count_met(&log_a, GOAL_ALONE, true), 6);
  }
  cr_assert_gt(between[0], 5);
  cr_assert_lt(4 * between[1], between[0]); // A line may have none on a beat
}

static void
play_six(Player* const it, const Turn* const turn, const unsigned which)
{
  static const Tick at[]          = {480, 1440, 1920, 3360, 4320, 5760};
  static const int  pitches[2][6] = {{60, 64, 67, 72, 67, 64},
                                     {76, 62, 70, 60, 65, 62}};
  for (unsigned i = 0; i < 6; ++i) {
    strike(it, turn->start + at[i], 400, pitches[which][i]);
  }
}

static void
keep_the_rhythm(Player* const it, const Turn* const turn)
{
  play_six(it, turn, turn->index % 4 / 2);
}

static void
say_the_same(Player* const it, const Turn* const turn)
{
  play_six(it, turn, 0);
}

// Each turn but one ends with a cell that began the one before
static void
keep_a_piece(Player* const it, const Turn* const turn)
{
  static const Tick at[]   = {0, 720, 1440, 2400};
  static const int  cell[] = {67, 64, 60, 62};
  const unsigned    number = turn->index / 2;
  const Tick        piece  = number % 2 ? 0 : 2 * BAR;
  const Tick        other  = number % 2 ? 2 * BAR : 0;
  for (unsigned i = 0; i < 4; ++i) {
    strike(it, turn->start + piece + at[i], 400, cell[i]);
  }
  for (unsigned i = 0; i < 3 + number % 3; ++i) {
    strike(
      it, turn->start + other + 960 * (Tick)i, 300, 72 + (int)(i * number));
  }
}

// A piece that came back in longer turns was said twice
Test(ways, know_a_piece_that_comes_again, .init = load)
{
  SessionOptions options = of_way(WAY_ANSWER);
  run(&log_a, &options, keep_a_piece, 5000);
  cr_assert(session.standing.comes_again);
  cr_assert_eq(session.standing.times_said, 1);
  run(&log_a, &options, go_astray, 5000);
  cr_assert(session.standing.comes_again); // The whole of it
  run(&log_a, &options, NULL, 5000);
  cr_assert_not(session.standing.comes_again);
}

// Two phrases by turns
static void
take_turns(Player* const it, const Turn* const turn)
{
  const unsigned number = (turn->index - 1) / 2;
  const bool     second = number % 2;
  const Tick     at[]   = {0, 1440, 1920, 2400, 3360};
  const int      a[]    = {60, 64, 67, 64, 60};
  const int      b[]    = {67, 70, 67, 65, 64};
  for (unsigned i = 0; i < 5; ++i) {
    strike(it,
           turn->start + at[i] + (second ? 480 * (i > 1) : 0),
           400,
           second ? b[i] : a[i]);
  }
}

static void
take_turns_once(Player* const it, const Turn* const turn)
{
  take_turns(it, turn);
  if (turn->index > 4) { // Neither again
    it->n_keys = 0;
    walk_to(it, turn, 60 + (int)turn->index);
  }
}

// ... of which the third has some notes of the first changed
static unsigned n_changed;

static void
take_turns_nearly(Player* const it, const Turn* const turn)
{
  static const int first[]  = {60, 64, 67, 64, 60, 62, 64, 67, 69, 72};
  static const int second[] = {72, 71, 69, 74, 72, 67, 65, 64, 62, 60};
  const bool       is_first = turn->index == 1 || turn->index == 5;
  for (unsigned i = 0; i < 10 && turn->index <= 5; ++i) {
    const int change = turn->index == 5 && i < n_changed ? 1 : 0;
    strike(it,
           turn->start + i * (is_first ? 480 : 640),
           300,
           (is_first ? first[i] : second[i]) + change);
  }
}

// Nine notes of ten are enough, eight are not
Test(ways, know_a_phrase_by_nine_notes_of_ten, .init = load)
{
  SessionOptions options = of_way(WAY_ANSWER);
  options.bars_per_turn  = 2;
  options.choruses       = 1;
  for (n_changed = 0; n_changed < 3; ++n_changed) {
    run(&log_a, &options, take_turns_nearly, 5000);
    cr_assert_eq(log_a.turns[4].turn.index, 5);
    cr_assert_eq(session.standing.comes_back, n_changed < 2, "%u", n_changed);
  }
}

// A phrase that was left comes back: that is heard, and told
Test(ways, know_a_phrase_that_comes_back, .init = load)
{
  SessionOptions options = of_way(WAY_ANSWER);
  options.bars_per_turn  = 2;
  options.choruses       = 2;
  unsigned told[2]       = {0, 0};
  for (unsigned once = 0; once < 2; ++once) {
    run(&log_a, &options, once ? take_turns_once : take_turns, 5000);
    cr_assert_eq(session.standing.comes_back, !once);
    for (unsigned t = 0; t < log_a.n_turns; ++t) {
      const bool is = is_wording(log_a.turns[t].remark, SENTENCE_AGAIN_BACK);
      cr_assert(!is || t >= 4, "%u: %s", t, log_a.turns[t].remark);
      told[once] += is;
    }
  }
  cr_assert_geq(told[0], 1);
  cr_assert_eq(told[1], 0);
}

// What comes again in its rhythm alone is not called the same
Test(ways, know_a_rhythm_from_a_phrase, .init = load)
{
  SessionOptions options = of_way(WAY_ANSWER);
  options.bars_per_turn  = 2;
  run(&log_a, &options, keep_the_rhythm, 5000);
  cr_assert(is_wording(log_a.turns[2].remark, SENTENCE_AGAIN_RHYTHM));
  run(&log_a, &options, say_the_same, 5000);
  cr_assert(is_wording(log_a.turns[2].remark, SENTENCE_AGAIN_TWICE));
}

Test(ways, sing_first_leaves_the_bar_free, .init = load)
{
  SessionOptions options = of_way(WAY_SING_FIRST);
  run(&log_a, &options, come_home, 5000);
  cr_assert_eq(count_met(&log_a, GOAL_SING, false), 0);
  cr_assert_geq(count_met(&log_a, GOAL_SING, true), 4);
  const TurnPlan plan = session_turn_plan(&options);
  for (unsigned i = 0; i < log_a.n_notes; ++i) {
    for (unsigned index = 1; index <= 9; ++index) {
      const Turn turn = turn_at(plan, index);
      cr_assert(log_a.notes[i].part != PART_PARTNER ||
                log_a.notes[i].note.tick < turn.silence ||
                log_a.notes[i].note.tick >= turn.start);
    }
  }
}

// A key in the bar to sing in is known by its place, from its first beat on, be
// that struck a shade early; a pick-up is none, nor is what ends before
static void
strike_too_soon(Player* const it, const Turn* const turn)
{
  if (turn->index == 3) {
    strike(it, turn->silence + 960, 15, 65);
    strike(it, turn->silence + 980, 300, 69);
    strike(it, turn->silence + 1920, 300, 67);
  } else if (turn->index == 5) {
    strike(it, turn->silence, 300, 64);
  }
  strike(it, turn->start - 300, 300, 62);
  come_home(it, turn);
  if (turn->index == 3 || turn->index == 5) { // Before the next one
    strike(it, turn->end + 4 * BAR - 240, 80, 72);
    strike(it, turn->end + 4 * BAR - 100, 80, 71);
  }
}

Test(ways, know_what_was_struck_too_soon, .init = load)
{
  SessionOptions options = of_way(WAY_SING_FIRST);
  run(&log_a, &options, strike_too_soon, 5000);
  for (unsigned i = 0; i < log_a.n_turns; i += 2) {
    const TurnRecord* const record = &log_a.turns[i];
    cr_assert_eq(record->n_early, i == 2 ? 3 : i == 4 ? 2 : 0);
    cr_assert_eq(record->outcome.miss == MISS_SING, i == 2 || i == 4);
    cr_assert_eq(record->early.pitch, i == 2 ? 69 : i == 4 ? 71 : 0);
  }
}

// Who comes too soon, again and again, is not asked for less
static void
sing_with_the_hands(Player* const it, const Turn* const turn)
{
  strike(it, turn->silence + 960, 300, 64);
  go_astray(it, turn);
}

Test(ways, ask_for_nothing_smaller_of_who_came_too_soon, .init = load)
{
  SessionOptions options = of_way(WAY_SING_FIRST);
  for (unsigned soon = 0; soon < 2; ++soon) {
    unsigned told         = 0;
    options.bars_per_turn = 2;
    run(&log_a, &options, soon ? sing_with_the_hands : go_astray, 5000);
    for (unsigned i = 0; i < log_a.n_turns; ++i) {
      told += is_wording(log_a.turns[i].asks, SENTENCE_TURN_SIMPLER);
    }
    cr_assert_eq(told > 0, !soon);
  }
}

// ... but of that he is told as soon as he comes in time
static void
sing_with_the_hands_at_first(Player* const it, const Turn* const turn)
{
  if (turn->index < 6) {
    strike(it, turn->silence + 960, 300, 64);
  }
  go_astray(it, turn);
}

Test(ways, tell_of_the_simpler_as_soon_as_there_is_nothing_else, .init = load)
{
  SessionOptions options = of_way(WAY_SING_FIRST);
  options.bars_per_turn  = 2;
  run(&log_a, &options, sing_with_the_hands_at_first, 5000);
  bool     is_late = false;
  unsigned told    = 0;
  for (unsigned i = 0; i < log_a.n_turns; ++i) {
    const TurnRecord* const record = &log_a.turns[i];
    is_late = is_late || (record->turn.by_player && record->turn.index >= 6);
    told += is_wording(record->asks, SENTENCE_TURN_SIMPLER);
    cr_assert_eq(told > 0, is_late, "%u", i);
  }
}

// Two runs in semiquavers, an octave down and up
static void
run_up_and_down(Player* const it, const Turn* const turn)
{
  for (unsigned i = 0; i < 14; ++i) {
    strike(it, turn->start + i * 240, 200, 60 + (int)(i < 7 ? 14 - 2 * i : i));
  }
}

// What is called the phrase again has half of its notes or more, and more than
// one
Test(ways, call_nothing_the_phrase_that_is_hardly_there, .init = load)
{
  SessionOptions options = of_way(WAY_SING_FIRST);
  unsigned       n       = 0;
  options.bars_per_turn  = 2;
  for (options.seed = 1; options.seed <= 24; ++options.seed) {
    options.rung = (Rung){{(uint8_t)(1 + options.seed % 4), 2, 1, 1}};
    run(&log_a, &options, run_up_and_down, 5000);
    for (unsigned i = 1; i < log_a.n_turns; ++i) {
      const TurnRecord* const it  = &log_a.turns[i];
      const unsigned          had = log_a.turns[i - 1].phrase.n_notes;
      const unsigned          has = it->phrase.n_notes;
      if (!it->turn.by_player && had) {
        const bool is_again = strncmp(it->why, "Your phrase again", 17) == 0 ||
                              strncmp(it->why, "Your rhythm again", 17) == 0;
        cr_assert(
          !is_again || 2 * has >= had, "%u of %u: %s", has, had, it->why);
        n += strncmp(it->why, "Something plainer", 17) == 0;
      }
    }
  }
  cr_assert_gt(n, 0);
}

// Whoever plays in the bar to sing in alone is not told that he listened
static void
strike_and_stop(Player* const it, const Turn* const turn)
{
  if (turn->index == 3) {
    strike(it, turn->silence + 960, 300, 65);
  }
}

Test(ways, tell_no_listening_of_who_struck, .init = load)
{
  SessionOptions options = of_way(WAY_SING_FIRST);
  run(&log_a, &options, strike_and_stop, 5000);
  cr_assert(is_wording(log_a.turns[0].remark, SENTENCE_SILENCE_PASSING));
  cr_assert(is_wording(log_a.turns[2].remark, SENTENCE_MISSED_SING));
}

// ... nor are they asked to stop, or told that they ended with a rest
static void
strike_and_sing(Player* const it, const Turn* const turn)
{
  strike(it, turn->silence + 960, 300, 64);
}

Test(ways, tell_no_rest_of_who_struck, .init = load)
{
  SessionOptions options = of_way(WAY_SING_FIRST);
  run(&log_a, &options, strike_and_sing, 5000);
  for (unsigned i = 0; i < log_a.n_turns; ++i) {
    const TurnRecord* const record = &log_a.turns[i];
    cr_assert(!record->turn.by_player ||
                is_wording(record->remark, SENTENCE_MISSED_SING),
              "%s",
              record->remark);
    cr_assert_not(record->asks_to_stop);
  }
}

// What nobody can give back is no cell, but an end
Test(ways, echo_ends_on_no_cell, .init = load)
{
  SessionOptions options = of_way(WAY_ECHO);
  options.choruses       = 1;
  for (unsigned bars = 2; bars <= 4; bars += 2) { // Six turns, and three
    options.bars_per_turn = bars;
    run(&log_a, &options, play_back, 5000);
    cr_assert_eq(log_a.n_turns, 12 / bars);
    for (unsigned i = 0; i < log_a.n_turns; i += 2) {
      const Turn* const turn = &log_a.turns[i].turn;
      cr_assert_eq(turn->task, turn->end == 12 * BAR ? TASK_FREE : TASK_CELL);
      cr_assert_gt(log_a.turns[i].phrase.n_notes, 0);
    }
  }
}

// What holds for all of them

Test(ways, play_the_same_however_time_is_cut, .init = load)
{
  static void (*const plays[N_WAYS])(Player*, const Turn*) = {
    come_home, stay_open, tap, one_note, tell_story, play_back, come_home};
  for (unsigned way = 0; way < N_WAYS; ++way) {
    const SessionOptions options = of_way((Way)way);
    run(&log_a, &options, plays[way], 5000);
    run(&log_b, &options, plays[way], 37);
    cr_assert_eq(log_a.n_notes, log_b.n_notes, "%s", way_names[way]);
    for (unsigned i = 0; i < log_a.n_notes; ++i) {
      cr_assert_eq(log_a.notes[i].note.tick, log_b.notes[i].note.tick);
      cr_assert_eq(log_a.notes[i].note.pitch, log_b.notes[i].note.pitch);
    }
    for (unsigned i = 0; i < log_a.n_turns; ++i) {
      cr_assert_str_eq(log_a.turns[i].remark, log_b.turns[i].remark);
      cr_assert_str_eq(log_a.turns[i].asks, log_b.turns[i].asks);
    }
  }
}

// A late beginning of the last turn, and a key in the closing bar
static void
play_past_the_end(Player* const it, const Turn* const turn)
{
  strike(it, turn->start + 2 * BAR - 960, 300, 60);
  if (turn->end == session.end) {
    strike(it, turn->end + BAR - 480, 300, 64);
  }
}

// Every turn has its record, in order, whatever is played
Test(ways, decide_every_turn, .init = load)
{
  static void (*const plays[])(Player*, const Turn*) = {
    NULL, come_home, go_astray, play_back, play_past_the_end};
  for (unsigned i = 0; i < 5 * N_WAYS * 3; ++i) {
    SessionOptions options = of_way((Way)(i % N_WAYS));
    options.bars_per_turn  = 1U << i / N_WAYS % 3;
    options.partner_begins = i % 2;
    options.seed           = i;
    run(&log_a, &options, plays[i % 5], 3000);
    const unsigned silent = pattern_silent_bars(options.way);
    const unsigned bars =
      options.bars_per_turn > silent ? options.bars_per_turn : silent + 1;
    cr_assert_eq(log_a.n_turns, 36 / bars, "%s", way_names[options.way]);
    for (unsigned t = 0; t < log_a.n_turns; ++t) {
      cr_assert_eq(log_a.turns[t].turn.index, t + 1);
    }
  }
}

Test(ways, say_their_goal_before_they_begin, .init = load)
{
  char opening[REMARK_CAPACITY];
  char other[REMARK_CAPACITY];
  for (unsigned way = 0; way < N_WAYS; ++way) {
    SessionOptions options = of_way((Way)way);
    cr_assert_str_neq(session_opening(&options, opening), "");
    ++options.seed;
    cr_assert_str_neq(session_opening(&options, other), opening);
  }
}

// Of the story's lines it is said which there are: A A B in three, A A B A in
// four; where a chorus is too short for a story, it goes on in the next
Test(ways, say_how_the_story_goes, .init = load)
{
  static const struct {
    const char* chart;
    unsigned    bars_per_turn;
    bool        comes_back;
  } rows[] = {
    {"blues", 4, false},
    {"blues", 2, false},
    {"sixteen-bar", 4, true},
    {"sixteen-bar", 2, false},
    {"modal-vamp", 4, false},
    {"modal-vamp", 2, true},
    {"sixteen-bar", 1, false}, // A A B four times before that
  };
  char opening[REMARK_CAPACITY];
  for (unsigned i = 0; i < sizeof(rows) / sizeof(*rows); ++i) {
    SessionOptions options = of_way(WAY_STORY);
    options.bars_per_turn  = rows[i].bars_per_turn;
    load_chart(rows[i].chart);
    (void)session_opening(&options, opening);
    cr_assert_eq(is_wording(opening, SENTENCE_WAY_STORY_BACK),
                 rows[i].comes_back,
                 "%u: %s",
                 i,
                 opening);
    cr_assert_neq(is_wording(opening, SENTENCE_WAY_STORY), rows[i].comes_back);
  }
}

// Of a session too short for all of a way its first turn is told alone: nobody
// plays a third chorus of two
Test(ways, promise_what_the_session_has, .init = load)
{
  static const struct {
    Way      way;
    unsigned bars_per_turn;
    unsigned choruses;
    unsigned says;
  } rows[] = {
    {WAY_HANDING_OVER, 4, 3, SENTENCE_WAY_HANDING_OVER},
    {WAY_HANDING_OVER, 4, 2, SENTENCE_TURN_SHOW},
    {WAY_FEW_NOTES, 4, 3, SENTENCE_WAY_FEW_NOTES},
    {WAY_FEW_NOTES, 4, 2, SENTENCE_TURN_FEW_ONE},
    {WAY_QUESTION, 2, 2, SENTENCE_WAY_QUESTION},
    {WAY_QUESTION, 2, 1, SENTENCE_TURN_CLOSE},
    {WAY_STORY, 4, 1, SENTENCE_WAY_STORY},
  };
  char opening[REMARK_CAPACITY];
  for (unsigned i = 0; i < sizeof(rows) / sizeof(*rows); ++i) {
    SessionOptions options = of_way(rows[i].way);
    options.bars_per_turn  = rows[i].bars_per_turn;
    options.choruses       = rows[i].choruses;
    (void)session_opening(&options, opening);
    cr_assert(
      is_wording(opening, (SentenceKind)rows[i].says), "%u: %s", i, opening);
  }
}

// A third note is said to come in once: in a fourth chorus it is nothing new
Test(ways, tell_of_a_third_note_once, .init = load)
{
  SessionOptions options = of_way(WAY_FEW_NOTES);
  unsigned       n       = 0;
  options.choruses       = 5;
  run(&log_a, &options, come_home, 5000);
  for (unsigned i = 0; i < log_a.n_turns; ++i) {
    n += is_wording(log_a.turns[i].asks, SENTENCE_TURN_FEW_THREE);
  }
  cr_assert_eq(n, 1);
}

// As usual, a chorus has one goal: it is looked back on, and the next is said
Test(ways, have_one_goal_a_chorus, .init = load)
{
  SessionOptions options = of_way(WAY_ANSWER);
  run(&log_a, &options, come_home, 5000);
  for (unsigned i = 0; i < log_a.n_turns; ++i) {
    const TurnRecord* const record = &log_a.turns[i];
    cr_assert_eq(record->asks[0] != '\0', record->turn.ends_chorus);
  }
  run(&log_a, &options, NULL, 5000);
  cr_assert_eq(log_a.turns[log_a.n_turns - 1].asks[0], '\0'); // Nothing to say
}

// Only the usual way tells of the rung
Test(ways, leave_the_rungs_alone, .init = load)
{
  for (unsigned way = 1; way < N_WAYS; ++way) {
    SessionOptions options = of_way((Way)way);
    options.plan           = (ClimbPlan){.success_step = 1.0, .target = 0.8};
    options.budget         = 20.0;
    run(&log_a, &options, come_home, 5000);
    const Rung rung = session.standing.climb.rung;
    cr_assert_eq(memcmp(&rung, &options.rung, sizeof(rung)), 0);
  }
}

// The best phrase comes once more, alone, after the closing bar

static unsigned
after_the_close(const Log* const log, const PartNote** first)
{
  const Tick close = session_closing_end(&session);
  unsigned   n     = 0;
  for (unsigned i = 0; i < log->n_notes; ++i) {
    if (log->notes[i].note.tick >= close) {
      *first = n ? *first : &log->notes[i];
      cr_assert_eq(log->notes[i].part, PART_PARTNER);
      ++n;
    }
  }
  return n;
}

Test(ways, play_the_best_phrase_back, .init = load)
{
  SessionOptions  options = of_way(WAY_ANSWER);
  const PartNote* first   = NULL;
  options.plays_back      = true;
  run(&log_a, &options, come_home, 5000);
  cr_assert_eq(after_the_close(&log_a, &first), 4); // 67 64 62 and home
  cr_assert_eq(first->note.pitch, 67);
  cr_assert_gt(session_last_tick(&session), session_closing_end(&session));
  run(&log_b, &options, come_home, 41);
  cr_assert_eq(log_a.n_notes, log_b.n_notes);

  // Nothing came off, or it is not wished for
  run(&log_a, &options, go_astray, 5000);
  cr_assert_eq(after_the_close(&log_a, &first), 0);
  cr_assert_eq(session_last_tick(&session), session_closing_end(&session));
  options.plays_back = false;
  run(&log_a, &options, come_home, 5000);
  cr_assert_eq(after_the_close(&log_a, &first), 0);
}
