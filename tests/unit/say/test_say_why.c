// The sentence about an answer. The wording is ours; degrees and spelling are
// the trade's (common practice, no source).

#include "fixture.h"

#include "responder/say/why.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <string.h>

static Fixture fixture;

typedef struct {
  MoveFacts facts;
  Treatment treatment;
  uint8_t   pitches[3];
  char      why[ANSWER_WHY_CAPACITY];
} WhyRow;

ParameterizedTestParameters(say_why, sentences)
{
  static WhyRow rows[] = {
    {{.move = MOVE_NEW_NOTES},
     TREAT_ANSWER,
     {72, 67, 64},
     "Your rhythm again, with new notes, leading down to E, the third of C7."},
    {{.move = MOVE_NEW_NOTES, .is_simplified = true},
     TREAT_ANSWER,
     {60, 67, 70},
     "Your rhythm made plainer, with new notes, leading up to Bb, the seventh "
     "of C7."},
    {{.move = MOVE_REPEAT},
     TREAT_ANSWER,
     {60, 62, 60},
     "Your phrase again, landing on C, the root of C7."},
    {{.move = MOVE_NEW_RHYTHM},
     TREAT_ANSWER,
     {60, 62, 60},
     "Your notes in their order, in a new rhythm, landing on C, the root of "
     "C7."},
    {{.move = MOVE_NEW_RHYTHM, .is_fitted = true},
     TREAT_ANSWER,
     {60, 62, 60},
     "Your notes, fitted to the chords, in a new rhythm, landing on C, the "
     "root "
     "of C7."},
    {{.move = MOVE_SEQUENCE, .from_pitch = 60},
     TREAT_ANSWER,
     {64, 65, 67},
     "The shape of your phrase, a third higher, leading up to G, the fifth of "
     "C7."},
    {{.move = MOVE_SEQUENCE, .from_pitch = 62},
     TREAT_ANSWER,
     {60, 62, 60},
     "The shape of your phrase, a step lower, landing on C, the root of C7."},
    {{.move = MOVE_FRAGMENT, .n_times = 3, .n_notes = 1},
     TREAT_ANSWER,
     {67, 64, 64},
     "A piece of your phrase, three times, moving on, leading down to E, the "
     "third of C7."},
    {{.move = MOVE_FRAGMENT, .n_times = 3, .n_notes = 1},
     TREAT_ANSWER,
     {64, 64, 64},
     "A piece of your phrase, three times, landing on E, the third of C7."},
    {{.move = MOVE_FRAGMENT, .n_times = 2, .n_notes = 2},
     TREAT_ANSWER, // Cut where the turn ends
     {60, 64, 60},
     "A piece of your phrase, twice, landing on C, the root of C7."},
    {{.move = MOVE_REPEAT}, // Up in all, but the last move goes down
     TREAT_ANSWER,
     {60, 69, 67},
     "Your phrase again, landing on G, the fifth of C7."},
    {{.move = MOVE_REPEAT}, // The seventh of C7 is Bb
     TREAT_ANSWER,
     {72, 72, 71},
     "Your phrase again, landing on B, over C7."},
    {{.move = MOVE_SHIFT, .shift = -480},
     TREAT_ANSWER,
     {60, 62, 60},
     "Your phrase, half a beat earlier, landing on C, the root of C7."},
    {{.move = MOVE_SHIFT, .shift = 960},
     TREAT_ANSWER,
     {60, 62, 60},
     "Your phrase, a beat later, landing on C, the root of C7."},
    {{.move = MOVE_THIN_OUT, .of_idea = true},
     TREAT_SIMPLER,
     {60, 62, 60},
     "The idea thinned out, with room for you, landing on C, the root of C7."},
    {{.move = MOVE_THIN_OUT, .of_rhythm = true, .is_simplified = true},
     TREAT_ANSWER, // Moved to the beats
     {60, 62, 60},
     "Something plainer after your phrase, landing on C, the root of C7."},
    {{.move = MOVE_REPEAT, .is_little = true, .is_simplified = true},
     TREAT_ANSWER,
     {60, 60, 60},
     "Something plainer after your phrase, landing on C, the root of C7."},
    {{.move = MOVE_REPEAT, .is_little = true, .of_idea = true},
     TREAT_ANSWER,
     {60, 0, 0},
     "Something plainer after the idea, landing on C, the root of C7."},
    {{.move = MOVE_THIN_OUT, .of_rhythm = true},
     TREAT_ANSWER,
     {60, 0, 0},
     "Your phrase, in one note, landing on C, the root of C7."},
    {{.move = MOVE_REPEAT, .is_plain = true},
     TREAT_ANSWER,
     {60, 60, 60},
     "The root, plain and simple, landing on C, the root of C7."},
    {{.move = MOVE_REPEAT, .is_plain = true, .n_plain = 1},
     TREAT_ANSWER,
     {60, 60, 60},
     "The root once more, landing on C, the root of C7."},
    {{.move = MOVE_REPEAT, .is_plain = true, .n_plain = 2},
     TREAT_ANSWER,
     {60, 60, 60},
     "The root again, and that is all, landing on C, the root of C7."},
    {{.move = MOVE_NEW_NOTES, .is_opening = true},
     TREAT_ANSWER,
     {60, 62, 60},
     "A first idea to begin with, landing on C, the root of C7."},
    {{.move = MOVE_REPEAT, .of_cell = true, .is_own = true},
     TREAT_ANSWER,
     {60, 62, 60},
     "A cell of my own beside your phrase, landing on C, the root of C7."},
    {{.move = MOVE_REPEAT, .of_cell = true, .is_own = true, .of_idea = true},
     TREAT_ANSWER,
     {60, 62, 60},
     "A cell of my own, landing on C, the root of C7."},
    {{.move      = MOVE_NEW_NOTES,
      .of_cell   = true,
      .of_idea   = true,
      .of_rhythm = true},
     TREAT_SIMPLER,
     {60, 62, 60},
     "The rhythm of the idea, with new notes, with room for you, landing on C, "
     "the root of C7."},
    {{.move      = MOVE_FRAGMENT,
      .of_cell   = true,
      .of_idea   = true,
      .of_rhythm = true},
     TREAT_SIMPLER, // Of one tone
     {60, 60, 60},
     "The rhythm of the idea, twice, with room for you, landing on C, the root "
     "of C7."},
    {{.move = MOVE_RETURN, .is_again = true},
     TREAT_ANSWER,
     {60, 62, 60},
     "My answer again, landing on C, the root of C7."},
    {{.move = MOVE_RETURN, .is_again = true, .is_fitted = true},
     TREAT_ANSWER,
     {60, 62, 60},
     "My answer again, fitted to the chords now, landing on C, the root of "
     "C7."},
  };
  return cr_make_param_array(WhyRow, rows, sizeof(rows) / sizeof(*rows));
}

static Answer*
heard(const uint8_t pitches[3]) // 0: no more of them
{
  const unsigned n = pitches[1] ? 3 : 1;
  fixture_open(&fixture, FIXTURE_ONE_CHORD, 0, 2, (Rung){{4, 4, 4, 1}}, 1);
  Answer* const answer = &fixture.answer;
  answer->n_notes      = n;
  for (unsigned i = 0; i < n; ++i) {
    const Tick tick        = fixture.request.start + 960 * (Tick)i;
    answer->notes[i]       = (Note){tick, 800, pitches[i], 80};
    answer->grid_ticks[i]  = tick;
    answer->is_ornament[i] = false;
  }
  hear_written(&answer->heard,
               &fixture.request.ear,
               answer->notes,
               answer->grid_ticks,
               answer->is_ornament,
               n,
               fixture.request.start,
               fixture.request.end);
  return answer;
}

ParameterizedTest(WhyRow* row, say_why, sentences)
{
  Answer* const answer = heard(row->pitches);
  why_write(answer, &fixture.chart, &row->facts, row->treatment, INT64_MAX);
  cr_assert_str_eq(answer->why, row->why);
}

/// What is no development of the call by its move is not called by one.
Test(say_why, heading_says_what_the_words_say)
{
  static const uint8_t pitches[] = {60, 62, 60};
  static const struct {
    MoveFacts   facts;
    const char* name;
    const char* words;
  } rows[] = {
    {{.move = MOVE_REPEAT}, "repeat", "Your phrase again"},
    {{.move = MOVE_SEQUENCE, .of_cell = true}, "sequence", "I took"},
    {{.move = MOVE_NEW_NOTES, .of_cell = true, .is_own = true},
     "own line",
     "A cell of my own"},
    {{.move = MOVE_REPEAT, .is_plain = true}, "plain root", "The root, plain"},
    {{.move = MOVE_RETURN, .is_again = true}, "same answer", "My answer again"},
    {{.move = MOVE_REPEAT, .is_opening = true}, "first idea", "A first idea"},
  };
  for (unsigned i = 0; i < sizeof(rows) / sizeof(*rows); ++i) {
    Answer* const answer = heard(pitches);
    answer->move         = rows[i].facts.move;
    why_write(answer, &fixture.chart, &rows[i].facts, TREAT_ANSWER, INT64_MAX);
    cr_assert_str_eq(why_name(answer->is, answer->move), rows[i].name);
    cr_assert(strstr(answer->why, rows[i].words), "%s", answer->why);
  }
}

/// What is decorated is not plain.
Test(say_why, a_plain_root_has_no_grace_note)
{
  static const uint8_t pitches[] = {60, 59, 60};
  const MoveFacts      facts     = {.move = MOVE_REPEAT, .is_plain = true};
  for (unsigned grace = 0; grace < 2; ++grace) {
    Answer* const answer   = heard(pitches);
    answer->is_ornament[1] = grace;
    why_write(answer, &fixture.chart, &facts, TREAT_ANSWER, INT64_MAX);
    cr_assert_eq(
      strstr(answer->why, "plain") == NULL, grace, "%s", answer->why);
  }
}

/// A piece that goes another way is there in its rhythm alone; it moves with
/// the chords only where they move.
Test(say_why, a_piece_again_is_one)
{
  static const struct {
    uint8_t     pitches[4];
    Tick        period;
    const char* words;
  } rows[] = {
    {{60, 64, 60, 64}, 1920, "A piece of your phrase, twice, leading"},
    {{60, 64, 62, 65}, 1920, "A piece of your phrase, twice, moving on"},
    {{60, 64, 64, 64}, 1920, "The rhythm of a piece of your phrase, twice, "},
    {{60, 64, 64, 60}, 1920, "The rhythm of a piece of your phrase, twice, "},
    {{60, 64, 60, 63}, 16 * 960, "A piece of your phrase, twice, moving with"},
  };
  for (unsigned i = 0; i < sizeof(rows) / sizeof(*rows); ++i) {
    static Answer answer;
    fixture_open(&fixture, 0, 0, 2, (Rung){{4, 4, 4, 1}}, 1);
    answer = (Answer){.n_notes = 4};
    for (unsigned n = 0; n < 4; ++n) {
      const Tick tick      = n / 2 * rows[i].period + n % 2 * 960;
      answer.notes[n]      = (Note){tick, 800, rows[i].pitches[n], 80};
      answer.grid_ticks[n] = tick;
      answer.heard.notes[n] =
        (HeardNote){.grid_tick = tick, .note = answer.notes[n]};
    }
    answer.heard.n_notes  = 4;
    const MoveFacts facts = {.move = MOVE_FRAGMENT, .n_times = 2, .n_notes = 2};
    why_write(&answer, &fixture.chart, &facts, TREAT_ANSWER, INT64_MAX);
    cr_assert_eq(strncmp(answer.why, rows[i].words, strlen(rows[i].words)),
                 0,
                 "%s",
                 answer.why);
  }
}

/// After the last bar the band is on the tonic, whatever the form begins with.
Test(say_why, ends_where_the_band_does)
{
  static const uint8_t pitches[] = {60, 62, 60};
  const MoveFacts      facts     = {.move = MOVE_REPEAT};
  Answer* const        answer    = heard(pitches);
  why_write(
    answer, &fixture.chart, &facts, TREAT_ANSWER, fixture.request.start);
  cr_assert_str_eq(answer->why,
                   "Your phrase again, landing on C, the tonic of C major.");
}

/// Plain and kind: no praise, no mark, nothing to fill in left open.
Test(say_why, every_move_has_words)
{
  for (unsigned seed = 0; seed < 300; ++seed) {
    fixture_open(&fixture, seed % 4, seed % 5, 2, (Rung){{6, 5, 6, 3}}, seed);
    Rng        rng  = rng_seed(seed, 1);
    const Move move = (Move)(seed % N_MOVES);
    if (say_by_move(
          &fixture.answer, &fixture.work, &fixture.request, move, &rng)) {
      cr_assert_not(strstr(fixture.answer.why, "  "));
      cr_assert_not(strstr(fixture.answer.why, " ,"));
      cr_assert_not(strstr(fixture.answer.why, "mark"));
    }
  }
}
