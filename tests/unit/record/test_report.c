#include "responder/record/report.h"

#include "fixture.h"
#include "responder/record/drive.h"

#include <criterion/criterion.h>
#include <jansson.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { KEY_CAPACITY = 6000 };

static Setup    setup;
static HeardKey keys[KEY_CAPACITY];

// A report in the making, and how much of what it must say it has said
typedef struct {
  Report*  report;
  Summary  summary;
  unsigned n_turns;
  unsigned n_notes;
} Reporting;

static void
hear_turn(void* const context, const TurnRecord* const record)
{
  Reporting* const reporting = context;
  report_add_turn(reporting->report, record);
  if (record->turn.by_player) {
    summary_add(&reporting->summary, &record->phrase);
  }
  ++reporting->n_turns;
  reporting->n_notes += record->phrase.n_notes;
}

static Reporting
reporting_begin(void)
{
  const SessionOptions options = setup_session(&setup);
  const ReportHead     head    = {
           .chart         = options.chart,
           .feel          = setup.feel.name,
           .tempo_bpm     = options.tempo_bpm,
           .seed          = options.seed,
           .bars_per_turn = options.bars_per_turn,
  };
  const Reporting reporting = {.report = report_open(&head)};
  cr_assert_not_null(reporting.report);
  return reporting;
}

// Write it, and read it back with a reader that is not ours
static json_t*
written(const Report* const report)
{
  json_error_t  error;
  char* const   text = report_text(report);
  json_t* const root = json_loads(text, JSON_REJECT_DUPLICATES, &error);
  cr_assert_not_null(root, "%s", error.text);
  free(text);
  return root;
}

// Converse with chance over a chart, and read the report back
static json_t*
report_of(const Choices* const choices, const uint64_t seed)
{
  fixture_load(&setup, choices);
  const SessionOptions options = setup_session(&setup);
  const Tick           end     = chart_ticks(options.chart) * options.choruses;
  Rng                  rng     = rng_seed(seed, 6);
  const size_t n_keys    = fixture_keys(keys, KEY_CAPACITY, &rng, -400, end);
  Reporting    reporting = reporting_begin();
  Conversation conversation;
  cr_assert_eq(drive_session(&conversation,
                             &options,
                             &(DrivePlayer){.keys      = keys,
                                            .n_keys    = n_keys,
                                            .hear_turn = hear_turn,
                                            .context   = &reporting}),
               STATUS_OK);
  report_add_summary(reporting.report, &reporting.summary);
  json_t* const root = written(reporting.report);
  conversation_free(&conversation);
  report_close(reporting.report);

  size_t        n_notes = 0;
  size_t        i       = 0;
  const json_t* turn    = NULL;
  json_array_foreach(json_object_get(root, "turns"), i, turn)
  {
    n_notes += json_array_size(json_object_get(turn, "notes"));
  }
  cr_assert_eq(json_array_size(json_object_get(root, "turns")),
               reporting.n_turns);
  cr_assert_eq(n_notes, reporting.n_notes);
  return root;
}

// Fields: each of design section 6 is there, of its type, in its range

static json_int_t
whole(const json_t* const object, const char* const name)
{
  const json_t* const value = json_object_get(object, name);
  cr_assert(json_is_integer(value), "%s is no whole number", name);
  return json_integer_value(value);
}

static double
number(const json_t* const object, const char* const name)
{
  const json_t* const value = json_object_get(object, name);
  cr_assert(json_is_number(value), "%s is no number", name);
  cr_assert(isfinite(json_number_value(value)), "%s", name);
  return json_number_value(value);
}

static const char*
string(const json_t* const object, const char* const name)
{
  const json_t* const value = json_object_get(object, name);
  cr_assert(json_is_string(value), "%s is no text", name);
  return json_string_value(value);
}

static bool
is_one_of(const char* const text, const char* const* const words)
{
  for (unsigned i = 0; words[i]; ++i) {
    if (strcmp(text, words[i]) == 0) {
      return true;
    }
  }
  return false;
}

static void
check_role(const json_t* const object)
{
  static const char* const roles[] = {
    "root", "chord tone", "scale tone", "outside", NULL};
  cr_assert(is_one_of(string(object, "role"), roles));
}

// Whether a grid position is one of a beat's written ones: sixteenths and
// triplets
static bool
is_written(const json_int_t tick)
{
  return tick % 240 == 0 || tick % 320 == 0;
}

// How long after its turn a note may be struck: the player lands up to half a
// beat after the line, and the partner's last answer closes with the band
static json_int_t
latest(const json_t* const turn)
{
  const Chart* const chart = &setup.chart.chart;
  const Tick         end   = chart_ticks(chart) * setup.choices.choruses;
  return strcmp(string(turn, "by"), "player") == 0 ? 480
         : whole(turn, "end_tick") == end ? meter_bar_ticks(chart->meter)
                                          : 0;
}

static void
check_note(const json_t* const note, const json_t* const turn)
{
  const json_int_t tick = whole(note, "tick");
  cr_assert_eq(json_object_size(note), 11);
  // A pick-up begins up to half a beat early, the partner's up to one and a
  // half
  cr_assert_geq(tick,
                whole(turn, "start_tick") -
                  (strcmp(string(turn, "by"), "player") == 0 ? 480 : 1440));
  cr_assert_lt(tick, whole(turn, "end_tick") + latest(turn));
  cr_assert_geq(whole(note, "length"), 1);
  cr_assert(whole(note, "pitch") >= 0 && whole(note, "pitch") <= 127);
  // Its name by another way: a letter, a sign, the octave of the letter
  const char* const name    = json_string_value(json_object_get(note, "name"));
  const char* const letters = "C D EF G A B";
  cr_assert_not_null(name);
  const int sign       = name[1] == '#' ? 1 : name[1] == 'b' ? -1 : 0;
  const int class_of_c = (int)(strchr(letters, name[0]) - letters);
  const int octave     = atoi(name + 1 + abs(sign));
  cr_assert_eq(
    12 * (octave + 1) + class_of_c + sign, whole(note, "pitch"), "%s", name);
  cr_assert(whole(note, "velocity") >= 1 && whole(note, "velocity") <= 127);
  cr_assert_leq(llabs(whole(note, "grid_tick") - tick), 960);
  check_role(note);
  cr_assert(json_is_boolean(json_object_get(note, "ornament")));
  cr_assert(json_is_boolean(json_object_get(note, "begins_phrase")));
  if (note == json_array_get(json_object_get(turn, "notes"), 0)) {
    cr_assert(json_is_true(json_object_get(note, "begins_phrase")));
  }

  const json_t* const resolved = json_object_get(note, "resolved");
  const char* const   role     = string(note, "role");
  const bool is_at_rest = !strcmp(role, "root") || !strcmp(role, "chord tone");
  if (!json_is_true(json_object_get(note, "ornament"))) {
    cr_assert(is_at_rest ? json_is_null(resolved) : json_is_boolean(resolved));
    const json_t* const how = json_object_get(note, "resolution");
    cr_assert(is_at_rest ? json_is_null(how) : json_is_string(how));
    cr_assert(is_at_rest || json_is_true(resolved) !=
                              !strcmp(json_string_value(how), "left hanging"));
    cr_assert(is_written(whole(note, "grid_tick")) ||
                !strcmp(string(turn, "by"), "player"),
              "%lld",
              (long long)whole(note, "grid_tick"));
  }
}

static void
check_rhythm(const json_t* const rhythm)
{
  static const char* const grids[] = {
    "beat", "eighth", "swung eighth", "triplet", "sixteenth", NULL};
  cr_assert_eq(json_object_size(rhythm), 6);
  cr_assert(is_one_of(string(rhythm, "grid"), grids));
  const json_t* const ratio = json_object_get(rhythm, "swing_ratio");
  cr_assert(json_is_null(ratio) || number(rhythm, "swing_ratio") >= 1.0 / 3.0);
  cr_assert_leq(fabs(number(rhythm, "offset_ms")), 2000.0);
  cr_assert_geq(number(rhythm, "spread_ms"), 0.0);
  cr_assert_geq(number(rhythm, "syncopation"), 0.0);
  cr_assert_geq(number(rhythm, "onsets_per_bar"), 0.0);
}

static void
check_target(const json_t* const turn)
{
  const json_t* const target = json_object_get(turn, "target");
  const json_t* const notes  = json_object_get(turn, "notes");
  if (!json_array_size(notes)) {
    cr_assert(json_is_null(target));
    return;
  }
  cr_assert_eq(json_object_size(target), 3);
  check_role(target);
  size_t        i       = 0;
  unsigned      n_found = 0;
  const json_t* note    = NULL;
  json_array_foreach(notes, i, note)
  {
    n_found += whole(note, "tick") == whole(target, "tick") &&
               whole(note, "pitch") == whole(target, "pitch") &&
               !strcmp(string(note, "role"), string(target, "role"));
  }
  cr_assert_geq(n_found, 1);
}

static void
check_idea(const json_t* const turn)
{
  const json_t* const idea = json_object_get(turn, "idea");
  cr_assert_not_null(idea);
  if (!json_is_null(idea)) {
    cr_assert_eq(json_object_size(idea), 2);
    cr_assert_geq(whole(idea, "id"), 1);
    cr_assert(number(idea, "likeness") >= 0.0 &&
              number(idea, "likeness") <= 1.0);
  }
}

static void
check_rung(const json_t* const rung)
{
  cr_assert_eq(json_object_size(rung), 4);
  cr_assert(whole(rung, "notes") >= 1 && whole(rung, "notes") <= 8);
  cr_assert(whole(rung, "rhythm") >= 1 && whole(rung, "rhythm") <= 7);
  cr_assert(whole(rung, "shape") >= 1 && whole(rung, "shape") <= 6);
  cr_assert(whole(rung, "ornament") >= 1 && whole(rung, "ornament") <= 4);
}

static void
check_chords(const json_t* const turn)
{
  const json_t* const chords = json_object_get(turn, "chords");
  json_int_t          before = -1;
  size_t              i      = 0;
  const json_t*       chord  = NULL;
  cr_assert_geq(json_array_size(chords), 1);
  json_array_foreach(chords, i, chord)
  {
    const json_int_t tick = whole(chord, "tick");
    cr_assert_eq(json_object_size(chord), 2);
    cr_assert_gt(strlen(string(chord, "symbol")), 0);
    cr_assert(i ? tick > before : tick == whole(turn, "start_tick"));
    // ... and the player's landing may come as late after the turn
    const json_int_t late = strcmp(string(turn, "by"), "player") == 0 ? 480 : 0;
    cr_assert_lt(tick,
                 whole(turn, "end_tick") + late,
                 "%s %d",
                 string(turn, "by"),
                 (int)(tick - whole(turn, "end_tick")));
    before = tick;
  }
}

// Musicianship, section 3: the moves by their names; and what is none
static void
check_move(const json_t* const turn)
{
  static const char* const moves[] = {"repeat",
                                      "same rhythm, new notes",
                                      "same notes, new rhythm",
                                      "sequence",
                                      "question and answer",
                                      "fragment",
                                      "thin out",
                                      "fill in",
                                      "turn over",
                                      "shift",
                                      "return",
                                      "ornament",
                                      "first idea",
                                      "plain root",
                                      "own line",
                                      "same answer",
                                      NULL};
  cr_assert(is_one_of(string(turn, "move"), moves), "%s", string(turn, "move"));
  cr_assert_gt(strlen(string(turn, "why")), 10);
  cr_assert_null(json_object_get(turn, "says"));
}

// A player's turn is judged against where the learner stands, and says why
static void
check_outcome(const json_t* const turn)
{
  const json_t* const success = json_object_get(turn, "success");
  const json_t* const moved   = json_object_get(turn, "moved");
  check_rung(json_object_get(turn, "stands_on"));
  cr_assert(json_is_null(success) || json_is_boolean(success));
  cr_assert_eq(json_is_null(success),
               json_array_size(json_object_get(turn, "notes")) == 0);
  cr_assert_eq(string(turn, "outcome")[0] == '\0', json_is_null(success));
  cr_assert(json_is_null(moved) || json_object_size(moved) == 4);
}

static void
check_turn(const json_t* const turn, const Tick bar, const size_t index)
{
  const bool is_player = strcmp(string(turn, "by"), "player") == 0;
  cr_assert_eq(whole(turn, "index"), (json_int_t)index);
  cr_assert(is_player || strcmp(string(turn, "by"), "partner") == 0);
  cr_assert_eq(whole(turn, "start_tick"), (whole(turn, "first_bar") - 1) * bar);
  cr_assert_gt(whole(turn, "end_tick"), whole(turn, "start_tick"));
  check_chords(turn);

  size_t        i    = 0;
  const json_t* note = NULL;
  cr_assert(json_is_array(json_object_get(turn, "notes")));
  json_array_foreach(json_object_get(turn, "notes"), i, note)
  {
    check_note(note, turn);
  }
  check_rhythm(json_object_get(turn, "rhythm"));
  cr_assert(number(turn, "space") >= 0.0 && number(turn, "space") <= 1.0);
  check_target(turn);
  cr_assert_eq(strspn(string(turn, "contour"), "*udr"),
               strlen(string(turn, "contour")));
  check_idea(turn);
  cr_assert(number(turn, "complexity") >= 0.0 &&
            number(turn, "complexity") <= 100.0);
  check_rung(json_object_get(turn, "rung"));
  if (is_player) {
    cr_assert_gt(strlen(string(turn, "says")), 10);
    check_outcome(turn);
    cr_assert_null(json_object_get(turn, "move"));
  } else {
    check_move(turn);
  }
  const size_t n_rare = (json_object_get(turn, "asks") ? 1U : 0U) +
                        (json_object_get(turn, "task") ? 1U : 0U);
  cr_assert_eq(json_object_size(turn), (is_player ? 21 : 16) + n_rare);
}

static void
check_report(const json_t* const root, const Choices* const choices)
{
  const Tick bar = meter_bar_ticks(setup.chart.chart.meter);
  cr_assert_str_eq(string(root, "format"), "barter-report");
  cr_assert_eq(whole(root, "version"), 1);
  cr_assert_str_eq(string(root, "chart"), setup.chart.chart.title);
  cr_assert_str_eq(string(root, "feel"), choices->feel);
  cr_assert_eq(whole(root, "ppq"), 960);
  cr_assert_eq(whole(root, "seed"), (json_int_t)choices->seed);
  cr_assert_eq(whole(root, "bars_per_turn"), choices->bars);
  cr_assert_float_eq(number(root, "tempo_bpm"), choices->tempo_bpm, 0.001);
  cr_assert(json_is_object(json_object_get(root, "summary")));
  cr_assert_eq(json_object_size(root), 12);

  json_int_t    end  = 0;
  size_t        i    = 0;
  const json_t* turn = NULL;
  json_array_foreach(json_object_get(root, "turns"), i, turn)
  {
    check_turn(turn, bar, i + 1);
    cr_assert_eq(whole(turn, "start_tick"), end); // Absolute, from bar 1
    end = whole(turn, "end_tick");
  }
  cr_assert_eq(end, chart_ticks(&setup.chart.chart) * choices->choruses);
}

typedef struct {
  char chart[24];
  char feel[16];
  char key[4];
} FormRow;

static const FormRow forms[] = {
  {"blues", "swing", ""},
  {"blues-minor", "shuffle", "F#"},
  {"waltz", "waltz", "Ab"},
  {"two-five-one", "bossa", ""},
  {"modal-vamp", "straight", ""},
  {"blues-jazz", "swing", "Db"},
};

Test(report, has_every_field_of_its_type_and_range)
{
  for (unsigned i = 0; i < 24; ++i) {
    const FormRow* const form    = &forms[i % 6];
    Choices              choices = fixture_choices();
    (void)snprintf(choices.chart, sizeof(choices.chart), "%s", form->chart);
    (void)snprintf(choices.feel, sizeof(choices.feel), "%s", form->feel);
    (void)snprintf(choices.key, sizeof(choices.key), "%s", form->key);
    choices.bars           = 1U << (i % 3);
    choices.choruses       = 1 + i % 2;
    choices.partner_begins = i % 4 == 3;
    choices.makes_room     = i % 5 == 4;
    choices.tempo_bpm      = 60.0 + 11.5 * i;
    choices.rung           = (Rung){{(uint8_t)(1 + i % 8),
                                     (uint8_t)(1 + i % 7),
                                     (uint8_t)(1 + i % 6),
                                     (uint8_t)(1 + i % 4)}};
    choices.seed           = 1000 + i;
    json_t* const root     = report_of(&choices, i);
    check_report(root, &choices);
    json_decref(root);
  }
}

// Twelve keys by their names; the minor chart stays minor
Test(report, names_the_key_it_was_moved_to)
{
  static const struct {
    char key[4];
    char major[12];
    char minor[12];
  } rows[] = {
    {"C", "C major", "C minor"},
    {"Db", "Db major", "C# minor"},
    {"D", "D major", "D minor"},
    {"Eb", "Eb major", "Eb minor"},
    {"E", "E major", "E minor"},
    {"F", "F major", "F minor"},
    {"F#", "F# major", "F# minor"},
    {"G", "G major", "G minor"},
    {"Ab", "Ab major", "Ab minor"},
    {"A", "A major", "A minor"},
    {"Bb", "Bb major", "Bb minor"},
    {"B", "B major", "B minor"},
  };
  for (unsigned i = 0; i < 24; ++i) {
    Choices choices = fixture_choices();
    (void)snprintf(choices.chart,
                   sizeof(choices.chart),
                   "%s",
                   i % 2 ? "blues-minor" : "blues");
    (void)snprintf(choices.key, sizeof(choices.key), "%s", rows[i / 2].key);
    fixture_load(&setup, &choices);
    const Reporting reporting = reporting_begin();
    json_t* const   root      = written(reporting.report);
    cr_assert_str_eq(string(root, "key"),
                     i % 2 ? rows[i / 2].minor : rows[i / 2].major);
    cr_assert_str_eq(string(root, "meter"), "4/4");
    json_decref(root);
    report_close(reporting.report);
  }
}

Test(report, sums_up)
{
  const Choices choices = fixture_choices();
  json_t* const root    = report_of(&choices, 1);
  const json_t* summary = json_object_get(root, "summary");
  json_int_t    n_turns = 0, n_silent = 0, n_notes = 0;
  size_t        i    = 0;
  const json_t* turn = NULL;
  json_array_foreach(json_object_get(root, "turns"), i, turn)
  {
    if (strcmp(string(turn, "by"), "player") == 0) {
      const size_t n = json_array_size(json_object_get(turn, "notes"));
      ++n_turns;
      n_silent += n == 0;
      n_notes += (json_int_t)n;
    }
  }
  cr_assert_eq(whole(summary, "player_turns"), n_turns);
  cr_assert_eq(whole(summary, "silent_turns"), n_silent);
  cr_assert_eq(whole(summary, "notes"), n_notes);
  cr_assert_leq(whole(summary, "landed_turns"), n_turns - n_silent);
  cr_assert_leq(whole(summary, "notes_outside"), n_notes);
  cr_assert_leq(whole(summary, "notes_left_hanging"),
                whole(summary, "notes_outside"));
  cr_assert_eq(json_array_size(json_object_get(summary, "worked")), 2);
  cr_assert_gt(strlen(string(summary, "work_on")), 0);
  cr_assert_gt(strlen(string(summary, "next_time")), 0);
  json_decref(root);
}

// A report that holds more than the largest number of 53 bits is still whole
// numbers (RFC 8259, section 6, leaves the range to the reader)
Test(report, keeps_the_largest_seed)
{
  Choices choices = fixture_choices();
  choices.seed    = INT64_MAX;
  fixture_load(&setup, &choices);
  const Reporting reporting = reporting_begin();
  json_t* const   root      = written(reporting.report);
  cr_assert_eq(whole(root, "seed"), INT64_MAX);
  json_decref(root);
  report_close(reporting.report);
  report_close(NULL);
}

// JSON is UTF-8 (RFC 8259, section 8.1), the name of a file need not be
Test(report, survives_a_name_that_is_no_text)
{
  const Choices choices = fixture_choices();
  fixture_load(&setup, &choices);
  (void)snprintf(setup.feel.name, sizeof(setup.feel.name), "sw\xFFng");
  const Reporting reporting = reporting_begin();
  json_t* const   root      = written(reporting.report);
  cr_assert_str_eq(string(root, "feel"), "?");
  json_decref(root);
  report_close(reporting.report);
  report_close(NULL);
}

// What a turn is judged by beside its own notes: where it landed after the
// line, and what was struck while it was to be sung
Test(report, has_what_lies_beside_the_turn)
{
  static TurnRecord record;
  const Choices     choices = fixture_choices();
  fixture_load(&setup, &choices);
  record = (TurnRecord){
    .turn    = {.index = 1, .by_player = true, .start = 3840, .end = 7680},
    .phrase  = {.start_tick = 3840,
                .end_tick   = 7680,
                .target     = PHRASE_NO_TARGET,
                .landing    = {.is_there  = true,
                               .note      = {7690, 400, 60, 80},
                               .grid_tick = 7680,
                               .role      = ROLE_ROOT}},
    .n_early = 2,
    .early   = {960, 100, 63, 80},
  };
  for (unsigned there = 0; there < 2; ++there) {
    record.phrase.landing.is_there = there;
    record.n_early                 = there ? 2 : 0;
    json_t* const       turn       = report_turn(&setup.chart.chart, &record);
    const json_t* const landing    = json_object_get(turn, "landing");
    const json_t* const early      = json_object_get(turn, "early");
    cr_assert_eq(json_is_null(landing), !there);
    cr_assert_eq(json_is_null(early), !there);
    if (there) {
      cr_assert_eq(whole(landing, "tick"), 7690);
      cr_assert_eq(whole(landing, "grid_tick"), 7680);
      cr_assert_eq(whole(landing, "pitch"), 60);
      cr_assert_str_eq(string(landing, "name"), "C4");
      cr_assert_str_eq(string(landing, "role"), "root");
      cr_assert_eq(whole(early, "tick"), 960);
      cr_assert_str_eq(string(early, "name"), "Eb4");
      cr_assert_eq(whole(early, "notes"), 2);
    }
    json_decref(turn);
  }
}
