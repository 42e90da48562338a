#include "profiles/files/ladder_file.h"
#include "support/ladders.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <stdio.h>
#include <string.h>

static const char shipped[] = BARTER_SOURCE_DIR "/config/ladder.cfg";

static Ladder ladder;
static Faults faults;

Test(ladder_file, reads_what_is_shipped)
{
  cr_assert_eq(ladder_file_load(&ladder, shipped, &faults),
               STATUS_OK,
               "%s",
               faults.faults[0].text);

  // The rungs as they are described: the root only; all chord tones in one
  // octave; scale tones from the fifth, outside from the seventh; two octaves
  cr_assert_eq(ladder.notes[0].chord_tones, 1);
  cr_assert_eq(ladder.notes[3].chord_tones, 4);
  cr_assert_eq(ladder.notes[3].range, 12);
  cr_assert_eq(ladder.notes[7].range, 24);
  for (unsigned i = 0; i < N_NOTES_RUNGS; ++i) {
    cr_assert_eq(ladder.notes[i].scale_share > 0.0F, i >= 4);
    cr_assert_eq(ladder.notes[i].outside_share > 0.0F, i >= 6);
    cr_assert_gt(strlen(ladder.notes[i].words), 0);
  }

  // On the beat; eighths; swung; off-beats; triplets; sixteenths; across
  for (unsigned i = 0; i < N_RHYTHM_RUNGS; ++i) {
    const RhythmRung* const rung = &ladder.rhythm[i];
    cr_assert_eq(rung->eighths, i >= 1);
    cr_assert_eq(rung->swing, i >= 2);
    cr_assert_eq(rung->off_beats, i >= 3);
    cr_assert_eq(rung->triplets, i >= 4);
    cr_assert_eq(rung->sixteenths, i >= 5);
    cr_assert_eq(rung->cross_rhythm, i >= 6);
    cr_assert(i == 0 || rung->onsets_per_bar > rung[-1].onsets_per_bar);
  }

  static const unsigned from[N_MOVES] = {[MOVE_REPEAT]              = 0,
                                         [MOVE_THIN_OUT]            = 0,
                                         [MOVE_NEW_NOTES]           = 1,
                                         [MOVE_NEW_RHYTHM]          = 1,
                                         [MOVE_QUESTION_AND_ANSWER] = 2,
                                         [MOVE_SEQUENCE]            = 3,
                                         [MOVE_FRAGMENT]            = 3,
                                         [MOVE_FILL_IN]             = 3,
                                         [MOVE_RETURN]              = 4,
                                         [MOVE_TURN_OVER]           = 5,
                                         [MOVE_SHIFT]               = 5,
                                         [MOVE_ORNAMENT] = N_SHAPE_RUNGS};
  for (unsigned i = 0; i < N_SHAPE_RUNGS; ++i) {
    for (unsigned move = 0; move < N_MOVES; ++move) {
      cr_assert_eq(ladder.shape[i].moves >> move & 1, i >= from[move]);
    }
  }

  for (unsigned i = 0; i < N_ORNAMENT_RUNGS; ++i) {
    cr_assert_eq(ladder.ornament[i].crushed_share > 0.0F, i >= 1);
    cr_assert_eq(ladder.ornament[i].approaches, i >= 2);
    cr_assert_eq(ladder.ornament[i].turns, i >= 3);
  }
  cr_assert_eq(ladder.start.level[DIMENSION_ORNAMENT], 1);
  cr_assert_geq(ladder.budget, 4);
}

typedef struct {
  char good[64]; ///< What is taken out of the shipped text ..
  char bad[64];  ///< .. and put in its place
  char says[64];
} FaultRow;

ParameterizedTestParameters(ladder_file, fault)
{
  static FaultRow rows[] = {
    {"chord_tones = 1;", "chord_tones = 5;", "chord_tones 5 is outside 1..4"},
    {"chord_tones = 2;", "", "chord_tones is missing"},
    {"chord_tones = 2;", "chord_tone = 2;", "write chord_tones"},
    {"chord_tones = 3;", "chord_tones = 1;", "rung 3 of notes does not allow"},
    {"range = 12;", "range = 37;", "range 37 is outside 0..36"},
    {"range = 24;", "range = 12;", "rung 8 of notes does not allow"},
    {"scale = 0.25;", "scale = 1.5;", "scale 1.5 is outside 0..1"},
    {"outside = 0.12;", "outside = 0.9;", "more than 1 together"},
    {"onsets = 3.0;", "onsets = 0.5;", "onsets 0.5 is outside 1..16"},
    {"onsets = 5.5;", "onsets = 4.0;", "rung 3 of rhythm does not allow"},
    {"[ \"eighths\", \"swing\" ]", "[ \"swing\" ]", "rung 3 of rhythm"},
    {"\"cross rhythm\"", "\"crossrhythm\"", "write cross rhythm"},
    {"[ \"repeat\", \"thin out\" ]", "[ \"thin out\" ]", "repeat is missing"},
    {"\"fill in\",", "\"ornament\",", "take it out of this list"},
    {"\"return\" ]", "\"retrun\" ]", "write return"},
    {"\"return\",\n              \"turn", "\"turn", "rung 6 of shape does not"},
    {"moves = [ \"repeat\"", "move = [ \"repeat\"", "move is not known"},
    {"onsets = 3.0;", "onset = 3.0;", "onset is not known; write onsets"},
    {"crushed = 0.06;", "crushd = 0.06;", "crushd is not known"},
    {"crushed = 0.06;", "crushed = \"x\";", "crushed is no number"},
    {"allows = [ \"approaches\" ];", "allows = true;", "allows is no list"},
    {"\"approaches\", \"turns\"", "\"turns\"", "rung 4 of ornament does not"},
    {"crushed = 0.10;", "", "rung 4 of ornament does not"},
    {"words = \"plain notes\";", "", "words is missing"},
    {"start  = { notes = 2;",
     "start  = { notes = 9;",
     "notes 9 is outside 1..8"},
    {"start  = { notes = 2;", "start  = { note = 2;", "note is not known"},
    {"budget = 6;", "budget = 4;", "which sum to 5"},
    {"budget = 6;", "", "budget is missing"},
    {"ornament = (", "ornaments = (", "ornaments is not known; write ornament"},
    {"rhythm = (", "rhythm = ( 4,", "rhythm holds 8 values; 7 to 7"},
    {"notes = (", "notes = 1; x = (", "notes is no list"},
  };
  return cr_make_param_array(FaultRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(FaultRow* row, ladder_file, fault)
{
  static char text[16384];
  static char other[16384];
  FILE* const file = fopen(shipped, "r");
  cr_assert_not_null(file);
  text[fread(text, 1, sizeof(text) - 1, file)] = '\0';
  cr_assert_eq(fclose(file), 0);
  const char* const place = strstr(text, row->good);
  cr_assert_not_null(place, "%s", row->good);
  (void)snprintf(other,
                 sizeof(other),
                 "%.*s%s%s",
                 (int)(place - text),
                 text,
                 row->bad,
                 place + strlen(row->good));

  Settings* settings = NULL;
  cr_assert_eq(settings_read(&settings, "t", other, strlen(other), &faults),
               STATUS_OK,
               "%s",
               faults.faults[0].text);
  cr_assert_eq(ladder_file_read(&ladder, settings), STATUS_SYNTAX);
  settings_close(settings);
  bool is_said = false;
  for (unsigned i = 0; i < faults.n_faults; ++i) {
    is_said = is_said || strstr(faults.faults[i].text, row->says);
  }
  cr_assert(is_said, "%s", faults.faults[0].text);
}

// Any ladder that keeps to the rules is read, and as it was written
Test(ladder_file, reads_any_that_is_right)
{
  static char text[65536];
  for (unsigned seed = 0; seed < 200; ++seed) {
    Rng          rng      = rng_seed(seed, 11);
    const Ladder drawn    = ladders_draw(&rng);
    Ladder       read     = {0};
    Settings*    settings = NULL;
    faults.n_faults       = 0;

    const size_t n = ladders_text(&drawn, text, sizeof(text));
    cr_assert_lt(n, sizeof(text));
    cr_assert_eq(settings_read(&settings, "drawn.cfg", text, n, &faults),
                 STATUS_OK);
    cr_assert_eq(ladder_file_read(&read, settings),
                 STATUS_OK,
                 "%s",
                 faults.faults[0].text);
    settings_close(settings);
    for (unsigned i = 0; i < N_RHYTHM_RUNGS; ++i) {
      cr_assert_eq(read.rhythm[i].triplets, drawn.rhythm[i].triplets);
      cr_assert_float_eq(
        read.rhythm[i].onsets_per_bar, drawn.rhythm[i].onsets_per_bar, 1e-3);
    }
    for (unsigned i = 0; i < N_NOTES_RUNGS; ++i) {
      cr_assert_eq(read.notes[i].chord_tones, drawn.notes[i].chord_tones);
    }
    for (unsigned i = 0; i < N_SHAPE_RUNGS; ++i) {
      cr_assert_eq(read.shape[i].moves, drawn.shape[i].moves);
    }
  }
}
