#include "core/music/chord.h"
#include "core/rng.h"
#include "core/settings/chart_file.h"
#include "profiles/files/ladder_file.h"
#include "responder/hear/hear.h"
#include "responder/session/facts.h"
#include "responder/session/remark.h"
#include "responder/session/summary.h"
#include "responder/session/wording.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <stdio.h>
#include <string.h>

#define CONFIG BARTER_SOURCE_DIR "/config/"

enum { BAR = 3840 };

static ChartFile chart;
static Ladder    ladder;
static Phrase    phrase;
static Sentences worded;
static HearWork  work;

static void
load(void)
{
  Faults faults = {.n_faults = 0};
  cr_assert_eq(chart_file_load(&chart, CONFIG "charts/blues.cfg", &faults), 0);
  cr_assert_eq(ladder_file_load(&ladder, CONFIG "ladder.cfg", &faults), 0);
}

/// A turn of which all came off.
static Outcome
came_off(void)
{
  return (Outcome){.is_judged = true,
                   .landed    = true,
                   .in_time   = true,
                   .is_led    = true,
                   .has_space = true,
                   .connected = true};
}

/// A turn of a way's goal, of which nothing else came off.
static Outcome
missed(const Goal goal, const Miss miss)
{
  return (Outcome){.is_judged = true, .goal = goal, .miss = miss};
}

/// A phrase by chance; one in six has no note.
static void
hear_by_chance(Rng* const rng)
{
  const Ear      ear = ear_usual(&chart.chart, &ladder, 120.0);
  Note           notes[12];
  const unsigned n = rng_below(rng, 6) ? 1 + rng_below(rng, 12) : 0;
  for (unsigned i = 0; i < n; ++i) {
    notes[i] = (Note){i * 600 + rng_below(rng, 120),
                      100 + rng_below(rng, 480),
                      (uint8_t)(60 + rng_below(rng, 20)),
                      80};
  }
  hear_phrase(&phrase, &work, &ear, notes, n, 0, 2 * BAR);
}

/// Nothing is said twice running, however seldom the wordings: two each, the
/// least that a file may have.
Test(remark, nothing_is_said_twice_running, .init = load)
{
  for (unsigned kind = 0; kind < N_SENTENCES; ++kind) {
    Wordings* const wordings = &worded.of[kind];
    wordings->n              = 2;
    (void)snprintf(wordings->words[0], SENTENCE_CAPACITY, "One %u.", kind);
    (void)snprintf(wordings->words[1], SENTENCE_CAPACITY, "Two %u.", kind);
  }
  for (unsigned seed = 0; seed < 20; ++seed) {
    Rng      rng                   = rng_seed(seed, 5);
    Remarks  remarks               = {0};
    unsigned silent                = 0;
    char     last[REMARK_CAPACITY] = "";
    for (unsigned turn = 0; turn < 100; ++turn) {
      char text[REMARK_CAPACITY];
      hear_by_chance(&rng);
      silent = phrase.n_notes ? 0 : silent + 1;
      remark_turn(&remarks,
                  &worded,
                  &(RemarkView){.chart        = &chart.chart,
                                .phrase       = &phrase,
                                .silent_turns = silent,
                                .times_said   = 1},
                  text);
      cr_assert(text[0] || silent > 4);
      if (text[0]) {
        cr_assert_str_neq(text, last, "turn %u", turn);
        (void)snprintf(last, sizeof(last), "%s", text);
      }
    }
  }
}

/// Words of a teacher's go round the note; long ones keep the line whole.
Test(remark, fills_what_is_in_braces, .init = load)
{
  const Ear  ear  = ear_usual(&chart.chart, &ladder, 120.0);
  const Note note = {0, 960, 64, 80};
  char       text[REMARK_CAPACITY];
  worded = *sentences_plain();
  (void)snprintf(worded.of[SENTENCE_PRAISE_TONE].words[0],
                 SENTENCE_CAPACITY,
                 "Ah: {note}, {tone}, {note}!");
  hear_phrase(&phrase, &work, &ear, &note, 1, 0, 2 * BAR);
  remark_turn(&(Remarks){0},
              &worded,
              &(RemarkView){.chart        = &chart.chart,
                            .phrase       = &phrase,
                            .silent_turns = 0,
                            .times_said   = 1},
              text);
  cr_assert_str_eq(text, "Ah: E, the third of C7, E!");

  // No room for the whole of it
  char* const words = worded.of[SENTENCE_PRAISE_TONE].words[0];
  memset(words, 'a', SENTENCE_CAPACITY - 1);
  for (unsigned i = 0; i < 72; i += 6) {
    memcpy(words + i, "{tone}", 6);
  }
  words[SENTENCE_CAPACITY - 1] = '\0';
  remark_turn(&(Remarks){0},
              &worded,
              &(RemarkView){.chart        = &chart.chart,
                            .phrase       = &phrase,
                            .silent_turns = 0,
                            .times_said   = 1},
              text);
  cr_assert_lt(strlen(text), REMARK_CAPACITY);
}

Test(remark, summary_is_worded_as_the_teacher_has_it, .init = load)
{
  Summary summary = {.sentences = &worded};
  worded          = *sentences_plain();
  (void)snprintf(worded.of[SENTENCE_NEXT_ONE_NOTE].words[0],
                 SENTENCE_CAPACITY,
                 "One note, Ada.");
  cr_assert_str_eq(summary_words(&summary).next_time, "One note, Ada.");
  summary.sentences = NULL;
  cr_assert_str_eq(summary_words(&summary).next_time,
                   "Begin with one note, the root, anywhere in the bar.");
}

/// Praised is the note that was judged, the last, whatever was aimed at.
Test(remark, names_the_note_judged, .init = load)
{
  const Ear  ear     = ear_usual(&chart.chart, &ladder, 120.0);
  const Note notes[] = {{0, 460, 67, 80},
                        {480, 460, 62, 80},
                        {960, 1800, 60, 90},
                        {6240, 200, 67, 60}};
  char       text[REMARK_CAPACITY];
  worded = *sentences_plain();
  (void)snprintf(
    worded.of[SENTENCE_PRAISE_TONE].words[0], SENTENCE_CAPACITY, "To {note}.");
  hear_phrase(&phrase, &work, &ear, notes, 4, 0, 2 * BAR);
  cr_assert_eq(phrase.notes[phrase.target].note.pitch, 60);
  remark_turn(&(Remarks){0},
              &worded,
              &(RemarkView){.chart        = &chart.chart,
                            .phrase       = &phrase,
                            .silent_turns = 0,
                            .times_said   = 1},
              text);
  cr_assert_eq(strncmp(text, "To G.", 5), 0, "%s", text);
}

// A C left standing is corrected, and the C at the end not praised beside it
Test(remark, corrects_no_note_that_it_praises, .init = load)
{
  const Ear  ear     = ear_usual(&chart.chart, &ladder, 120.0);
  const Note notes[] = {
    {0, 900, 60, 80}, {960, 900, 61, 80}, {3840, 900, 60, 80}};
  Outcome outcome = came_off();
  char    text[REMARK_CAPACITY];
  outcome.is_led = false;
  worded         = *sentences_plain();
  (void)snprintf(
    worded.of[SENTENCE_PRAISE_ROOT].words[0], SENTENCE_CAPACITY, "To {note}.");
  hear_phrase(&phrase, &work, &ear, notes, 3, 0, 2 * BAR);
  phrase.notes[0].role       = ROLE_OUTSIDE; // As over another chord
  phrase.notes[0].resolution = RESOLUTION_LEFT;
  remark_turn(&(Remarks){0},
              &worded,
              &(RemarkView){.chart      = &chart.chart,
                            .phrase     = &phrase,
                            .outcome    = &outcome,
                            .times_said = 1},
              text);
  cr_assert_not(strstr(text, "To C."), "%s", text);
  cr_assert(strstr(text, "C"), "%s", text);
}

// Praise and judgement agree

static void
mark_sentences(void)
{
  for (unsigned kind = 0; kind < N_SENTENCES; ++kind) {
    worded.of[kind].n = 1;
    (void)snprintf(worded.of[kind].words[0], SENTENCE_CAPACITY, "<%u>", kind);
  }
}

static bool
says(const char* const text, const SentenceKind kind)
{
  char mark[16];
  (void)snprintf(mark, sizeof(mark), "<%u>", kind);
  return strstr(text, mark) != NULL;
}

static bool
says_why(const char* const text, const Outcome* const outcome)
{
  const bool in_time = says(text, SENTENCE_ADVICE_EVEN) ||
                       says(text, SENTENCE_ADVICE_LATE) ||
                       says(text, SENTENCE_ADVICE_EARLY);
  const bool moved = says(text, SENTENCE_ADVICE_MOVED);
  return (!outcome->landed && (moved || says(text, SENTENCE_ADVICE_LAST))) ||
         (!outcome->is_led && (moved || says(text, SENTENCE_ADVICE_LEFT))) ||
         (!outcome->in_time && in_time) ||
         (!outcome->has_space && says(text, SENTENCE_ADVICE_ROOM)) ||
         (!outcome->connected && says(text, SENTENCE_ADVICE_CONNECT));
}

// Whatever is played: of a turn that did not come off it is said why, and
// nothing is praised that did not come off
Test(remark, agrees_with_the_judgement, .init = load)
{
  static Phrase said;
  unsigned      n_failed = 0;
  Remarks       remarks  = {0};
  mark_sentences();
  for (unsigned seed = 0; seed < 2000; ++seed) {
    Rng rng = rng_seed(seed, 6);
    said    = phrase;
    hear_by_chance(&rng);
    if (phrase.n_notes == 0) {
      continue;
    }
    const OutcomeView against = {.spread_ms = 20.0,
                                 .said      = said.n_notes ? &said : NULL};
    const Outcome     outcome = outcome_judge(&phrase, &against);
    const RemarkView  view    = {.chart      = &chart.chart,
                                 .phrase     = &phrase,
                                 .outcome    = &outcome,
                                 .said       = against.said,
                                 .times_said = 1 + seed % 5};
    char              text[REMARK_CAPACITY];
    remark_turn(&remarks, &worded, &view, text);
    if (!outcome_succeeds(&outcome)) {
      ++n_failed;
      cr_assert(says_why(text, &outcome), "%s", text);
    }
    cr_assert(outcome.landed || (!says(text, SENTENCE_PRAISE_ROOT) &&
                                 !says(text, SENTENCE_PRAISE_TONE) &&
                                 !says(text, SENTENCE_PRAISE_OPEN)));
    cr_assert(outcome.in_time || !says(text, SENTENCE_PRAISE_STEADY));
    cr_assert(outcome.is_led || (!says(text, SENTENCE_PRAISE_LED) &&
                                 !says(text, SENTENCE_PRAISE_MOVED)));
    cr_assert(outcome.has_space || !says(text, SENTENCE_PRAISE_ROOM));
  }
  cr_assert_gt(n_failed, 500);
}

// Facts, each by what common practice calls so

static void
hear(Phrase* const heard, const Note* const notes, const unsigned n, Tick start)
{
  const Ear ear = ear_usual(&chart.chart, &ladder, 120.0);
  hear_phrase(heard, &work, &ear, notes, n, start, start + 4 * BAR);
}

// E over C7 in bar 4, Eb over F7 in bar 5: the third of one becomes the seventh
// of the other
Test(remark, the_third_moves_into_the_seventh, .init = load)
{
  const Note moved[] = {{3 * BAR, 900, 64, 80}, {4 * BAR, 900, 63, 80}};
  const Note stays[] = {{3 * BAR, 900, 60, 80}, {4 * BAR, 900, 60, 80}};
  FactWords  words;
  hear(&phrase, moved, 2, 3 * BAR);
  cr_assert(facts_moved(&phrase, &chart.chart, &words));
  cr_assert_str_eq(words.note, "E");
  cr_assert_str_eq(words.tone, "Eb over F7");
  const Note apart[] = {{3 * BAR, 900, 64, 80}, {4 * BAR, 900, 75, 80}};
  hear(&phrase, apart, 2, 3 * BAR); // In another octave nothing moved
  cr_assert_not(facts_moved(&phrase, &chart.chart, &words));
  const Note between[] = {{3 * BAR, 900, 64, 80},
                          {3 * BAR + 1920, 900, 67, 80},
                          {4 * BAR, 900, 63, 80}};
  hear(&phrase, between, 3, 3 * BAR); // G comes between them
  cr_assert_not(facts_moved(&phrase, &chart.chart, &words));
  const Note back[] = {{3 * BAR, 900, 64, 80},
                       {4 * BAR, 900, 63, 80},
                       {4 * BAR + 1920, 900, 65, 80},
                       {5 * BAR, 900, 64, 80}};
  hear(&phrase, back, 3, 3 * BAR); // On to F, and there it stays
  cr_assert(facts_moved(&phrase, &chart.chart, &words));
  hear(&phrase, back, 4, 3 * BAR); // ... or back to the E, over F7
  cr_assert_not(facts_moved(&phrase, &chart.chart, &words));
  hear(&phrase, stays, 2, 3 * BAR);
  cr_assert_not(facts_moved(&phrase, &chart.chart, &words));
}

Test(remark, e_over_f7_should_be_e_flat, .init = load)
{
  const Note left[] = {{4 * BAR, 900, 64, 80}};
  const Note home[] = {{4 * BAR, 900, 63, 80}};
  FactWords  words;
  hear(&phrase, left, 1, 4 * BAR);
  cr_assert(facts_should_move(&phrase, &chart.chart, &words));
  cr_assert_str_eq(words.note, "E");
  cr_assert_str_eq(words.tone, "Eb over F7");
  const Note sixth[] = {{4 * BAR, 900, 62, 80}}; // D over F7 is a colour
  hear(&phrase, sixth, 1, 4 * BAR);
  cr_assert_not(facts_should_move(&phrase, &chart.chart, &words));
  // Over G7 in bar 9 it is Eb, of the F7 three bars before, that goes unheard:
  // the chord just before, C7, has none
  const Note older[] = {{8 * BAR, 900, 63, 80}};
  hear(&phrase, older, 1, 8 * BAR);
  cr_assert_not(facts_should_move(&phrase, &chart.chart, &words));
  hear(&phrase, home, 1, 4 * BAR);
  cr_assert_not(facts_should_move(&phrase, &chart.chart, &words));
  // B over C7 is of the G7 that the form ends on, but not before it was heard
  for (unsigned chorus = 0; chorus < 2; ++chorus) {
    const Note b[] = {{chorus * 12 * BAR, 900, 71, 80}};
    hear(&phrase, b, 1, chorus * 12 * BAR);
    cr_assert_eq(facts_should_move(&phrase, &chart.chart, &words), chorus);
  }
}

// What has to move is named as it was: over Adim7 the root of the Abmaj7 before
// it is no G sharp
Test(remark, what_should_move_keeps_its_name, .init = load)
{
  static const char* const chords[] = {"Abmaj7", "Adim7"};
  const Note               held     = {BAR, 900, 68, 80};
  Chart                    two      = chart.chart;
  FactWords                words;
  for (unsigned i = 0; i < two.n_changes; ++i) {
    const char* const name = chords[two.changes[i].tick >= BAR];
    cr_assert_eq(chord_parse(&two.changes[i].chord, name, strlen(name)), 0);
  }
  const Tick second = two.changes[1].tick;
  const Ear  ear    = ear_usual(&two, &ladder, 120.0);
  const Note note   = {second, held.length, held.pitch, held.velocity};
  cr_assert_geq(second, BAR);
  hear_phrase(&phrase, &work, &ear, &note, 1, second, second + BAR);
  cr_assert(facts_should_move(&phrase, &two, &words));
  cr_assert_str_eq(words.note, "Ab");
  cr_assert_str_eq(words.tone, "A over Adim7");
}

// The sixth may hang more than the fourth, which is asked to go on
Test(remark, asks_no_colour_to_go_home, .init = load)
{
  phrase = (Phrase){.n_notes = 2};
  for (unsigned i = 0; i < 2; ++i) { // A and F over C7
    phrase.notes[i] = (HeardNote){.note       = {i * 960, 900, i ? 65 : 69, 80},
                                  .grid_tick  = i * 960,
                                  .role       = ROLE_SCALE_TONE,
                                  .resolution = RESOLUTION_LEFT};
  }
  cr_assert_eq(facts_left(&phrase, &chart.chart), &phrase.notes[1]);
  phrase.n_notes = 1;
  cr_assert_eq(facts_left(&phrase, &chart.chart), &phrase.notes[0]);
}

// Of F sharps one of which was led, and a D flat, the D flat is spoken of;
// where there is nothing else the F sharp is
Test(remark, asks_what_was_never_led_to_go_home, .init = load)
{
  static const uint8_t pitches[] = {66, 78, 61};
  phrase                         = (Phrase){.n_notes = 3};
  for (unsigned i = 0; i < 3; ++i) {
    phrase.notes[i] = (HeardNote){
      .note       = {i * 960, 900, pitches[i], 80},
      .grid_tick  = i * 960,
      .role       = ROLE_OUTSIDE,
      .resolution = i == 1 ? RESOLUTION_LED : RESOLUTION_LEFT,
    };
  }
  cr_assert_eq(facts_left(&phrase, &chart.chart), &phrase.notes[2]);
  phrase.n_notes = 2;
  cr_assert_eq(facts_left(&phrase, &chart.chart), &phrase.notes[0]);
}

// F# F# to G, and Eb: what is led is told by its name where that hangs nowhere,
// and not where more hangs than was led; the landing hangs, if it is outside
Test(remark, tells_of_no_note_led_that_hangs_too, .init = load)
{
  static const struct {
    uint8_t resolutions[3];
    uint8_t landing; // 0: none
    int     told;    // Index; -1: none
  } rows[] = {
    {{RESOLUTION_LED, RESOLUTION_LED, RESOLUTION_LEFT}, 0, 0},
    {{RESOLUTION_LED, RESOLUTION_LEFT, RESOLUTION_LED}, 0, 2},
    {{RESOLUTION_LED, RESOLUTION_LEFT, RESOLUTION_LEFT}, 0, -1},
    {{RESOLUTION_LEFT, RESOLUTION_LEFT, RESOLUTION_LED}, 0, -1},
    {{RESOLUTION_LED, RESOLUTION_LED, RESOLUTION_LED}, 66, 2},
    {{RESOLUTION_LED, RESOLUTION_LED, RESOLUTION_LED}, 61, 0},
    {{RESOLUTION_LED, RESOLUTION_LED, RESOLUTION_LEFT}, 61, 0},
    {{RESOLUTION_LED, RESOLUTION_LANDED, RESOLUTION_LED}, 0, 2},
  };
  static const uint8_t pitches[] = {66, 78, 63};
  for (unsigned row = 0; row < sizeof(rows) / sizeof(*rows); ++row) {
    phrase = (Phrase){.n_notes = 3,
                      .landing = {.is_there   = rows[row].landing > 0,
                                  .note.pitch = rows[row].landing,
                                  .role       = ROLE_OUTSIDE}};
    for (unsigned i = 0; i < 3; ++i) {
      phrase.notes[i] = (HeardNote){.note.pitch = pitches[i],
                                    .role       = ROLE_OUTSIDE,
                                    .resolution = rows[row].resolutions[i]};
    }
    cr_assert_eq(facts_led(&phrase, chart.chart.key),
                 rows[row].told < 0 ? NULL : &phrase.notes[rows[row].told],
                 "row %u",
                 row);
  }
}

// The notes of C major, and of C minor with its leading tone, are from nowhere
// outside
Test(remark, no_note_of_the_key_is_from_outside)
{
  static const bool from_outside[2][12] = {
    {0, 1, 0, 1, 0, 0, 1, 0, 1, 0, 1, 0},
    {0, 1, 0, 0, 1, 0, 1, 0, 0, 1, 0, 0},
  };
  phrase = (Phrase){.n_notes = 1};
  for (unsigned i = 0; i < 24; ++i) {
    const Key key   = {.tonic = {0, 0}, .is_minor = i >= 12};
    phrase.notes[0] = (HeardNote){.note.pitch = (uint8_t)(60 + i % 12),
                                  .role       = ROLE_OUTSIDE,
                                  .resolution = RESOLUTION_LED};
    cr_assert_eq(
      facts_led(&phrase, key) != NULL, from_outside[i / 12][i % 12], "%u", i);
  }
}

// One highest note, on its way, a fifth above the lowest or more
Test(remark, a_line_has_one_peak)
{
  static const struct {
    unsigned n;
    uint8_t  pitches[5];
    uint8_t  hangs; // The pitch that is left hanging
    int      peak;
  } rows[] = {
    {5, {60, 64, 67, 64, 60}, 0, 2},
    {5, {60, 64, 66, 64, 60}, 0, -1},
    {4, {60, 64, 67, 64}, 0, -1},
    {5, {60, 67, 64, 67, 60}, 0, -1},
    {5, {67, 64, 62, 60, 60}, 0, -1},
    {5, {60, 60, 62, 64, 67}, 0, -1},
    {5, {60, 64, 67, 64, 60}, 67, -1},
    {5, {60, 64, 67, 64, 60}, 64, 2},
  };
  for (unsigned row = 0; row < sizeof(rows) / sizeof(*rows); ++row) {
    phrase = (Phrase){.n_notes = rows[row].n};
    for (unsigned i = 0; i < rows[row].n; ++i) {
      const bool hangs = rows[row].pitches[i] == rows[row].hangs;
      phrase.notes[i] =
        (HeardNote){.note       = {i * 480, 400, rows[row].pitches[i], 80},
                    .grid_tick  = i * 480,
                    .resolution = hangs ? RESOLUTION_LEFT : RESOLUTION_NONE};
    }
    for (unsigned landing = 65; landing <= 67; ++landing) { // After the line
      const int wanted = landing < 67 ? rows[row].peak : -1;
      phrase.landing =
        (Landing){.is_there = landing > 65, .note.pitch = (uint8_t)landing};
      const HeardNote* const peak = facts_peak(&phrase);
      cr_assert_eq(peak ? peak - phrase.notes : -1, wanted, "%u", row);
    }
  }
}

// A landing outside is none that was led home
Test(remark, sums_up_a_landing_outside, .init = load)
{
  const Ear  ear     = ear_usual(&chart.chart, &ladder, 120.0);
  const Note notes[] = {{0, 900, 66, 80}, {960, 900, 67, 80}};
  mark_sentences();
  hear_phrase(&phrase, &work, &ear, notes, 2, 0, 2 * BAR);
  phrase.measures.space     = 0.2F; // Neither of these is praised
  phrase.measures.spread_ms = 35.0F;
  for (unsigned hangs = 0; hangs < 2; ++hangs) {
    Summary summary = {.sentences = &worded, .n_silent = 1, .n_turns = 1};
    phrase.landing  = (Landing){.is_there = true,
                                .role = hangs ? ROLE_OUTSIDE : ROLE_SCALE_TONE};
    summary_add(&summary, &phrase);
    cr_assert_eq(summary.n_left, hangs);
    const SummaryWords words = summary_words(&summary);
    cr_assert_eq(says(words.worked[0], SENTENCE_WORKED_LED) ||
                   says(words.worked[1], SENTENCE_WORKED_LED),
                 !hangs);
  }
}

// A passing note is told as it is written: rising ones sharp, falling ones flat
// (common practice, no source)
Test(remark, names_a_note_as_it_leads, .init = load)
{
  static const struct {
    uint8_t     pitches[2];
    const char* name;
  } rows[] = {
    {{66, 67}, "F#"}, {{66, 65}, "Gb"}, {{61, 62}, "C#"}, {{61, 60}, "Db"}};
  const Ear ear = ear_usual(&chart.chart, &ladder, 120.0);
  for (unsigned i = 0; i < sizeof(rows) / sizeof(*rows); ++i) {
    const Note notes[] = {{480, 400, rows[i].pitches[0], 80},
                          {960, 900, rows[i].pitches[1], 80}};
    FactWords  words;
    hear_phrase(&phrase, &work, &ear, notes, 2, 0, 2 * BAR);
    facts_name(&chart.chart, &phrase, &phrase.notes[0], &words);
    cr_assert_str_eq(words.note, rows[i].name);
  }
}

// Where no chord is played a note is told by its key
Test(remark, names_a_note_without_a_chord, .init = load)
{
  const HeardNote note   = {.note = {0, 900, 60, 80}};
  Chart           silent = chart.chart;
  FactWords       words;
  for (unsigned i = 0; i < silent.n_changes; ++i) {
    silent.changes[i].chord = (Chord){.n_tones = 0};
  }
  cr_assert(chord_is_silence(&silent.changes[0].chord));
  phrase.n_notes = 0;
  facts_name(&silent, &phrase, &note, &words);
  cr_assert_str_eq(words.note, "C");
  cr_assert_str_eq(words.tone, "in C major");
  facts_name_landings(&silent, &note, &words); // The tonic alone is at rest
  cr_assert_str_eq(words.tone, "C");
}

Test(remark, connection_is_a_rhythm_or_a_note, .init = load)
{
  static Phrase said;
  static Phrase apart;
  const Note    theirs[] = {{0, 400, 72, 80},
                            {480, 400, 70, 80},
                            {1440, 900, 67, 80},
                            {2880, 900, 64, 80}};
  const Note    mine[]   = {{0, 400, 60, 80},
                            {480, 400, 60, 80},
                            {1440, 900, 62, 80},
                            {2880, 900, 60, 80}};
  const Note    other[]  = {{0, 900, 65, 80}, {960, 900, 67, 80}};
  hear(&said, theirs, 4, 0);
  hear(&phrase, mine, 4, 0);
  hear(&apart, other, 2, 0);
  cr_assert(facts_takes_rhythm(&phrase, &said));
  cr_assert_not(facts_takes_rhythm(&apart, &said));
  cr_assert_not(facts_begins_from(&apart, &said));  // F from E
  for (unsigned pitch = 53; pitch <= 77; ++pitch) { // Of any octave
    said.notes[3].note.pitch = (uint8_t)pitch;
    cr_assert_eq(facts_begins_from(&apart, &said), pitch % 12 == 65 % 12);
  }
  cr_assert(facts_begins_from(&apart, &said));
  cr_assert_not(facts_begins_from(&phrase, &said));
}

Test(remark, dynamics_need_five_notes, .init = load)
{
  Note notes[5];
  for (unsigned i = 0; i < 5; ++i) {
    notes[i] = (Note){(Tick)i * 960, 800, 60, (uint8_t)(60 + 10 * i)};
  }
  hear(&phrase, notes, 5, 0);
  cr_assert_eq(facts_dynamics(&phrase), 40);
  hear(&phrase, notes, 4, 0);
  cr_assert_eq(facts_dynamics(&phrase), 0);
}

// Loud and soft are praised where the note aimed at is louder than the others,
// and not by the range alone
Test(remark, weight_is_where_it_is_needed, .init = load)
{
  static const struct {
    uint8_t others[2]; // By turns, four in all
    uint8_t aim;
    bool    is_shaped;
  } rows[] = {{{60, 86}, 81, true},
              {{60, 86}, 80, false},
              {{60, 96}, 70, false},
              {{72, 78}, 95, false}, // By 23 in all
              {{72, 78}, 96, true}};
  char text[REMARK_CAPACITY];
  mark_sentences();
  for (unsigned row = 0; row < sizeof(rows) / sizeof(*rows); ++row) {
    phrase = (Phrase){.n_notes = 5, .target = 4, .end_tick = 2 * BAR};
    for (unsigned i = 0; i < 5; ++i) {
      const uint8_t velocity = i < 4 ? rows[row].others[i % 2] : rows[row].aim;
      phrase.notes[i]        = (HeardNote){.note      = {i * 480, 400, 66, velocity},
                                           .grid_tick = i * 480,
                                           .role      = ROLE_OUTSIDE};
    }
    phrase.measures.spread_ms = 35.0F;
    remark_turn(
      &(Remarks){0},
      &worded,
      &(RemarkView){.chart = &chart.chart, .phrase = &phrase, .times_said = 1},
      text);
    cr_assert_eq(says(text, SENTENCE_PRAISE_SHAPED),
                 rows[row].is_shaped,
                 "%u: %s",
                 row,
                 text);
  }
}

// A pick-up alone makes no rests
Test(remark, rests_are_between_notes, .init = load)
{
  const Ear ear = ear_usual(&chart.chart, &ladder, 120.0);
  char      text[REMARK_CAPACITY];
  mark_sentences();
  for (unsigned in_turn = 0; in_turn < 2; ++in_turn) {
    const Note note = {in_turn ? BAR : BAR - 240, 200, 66, 80};
    hear_phrase(&phrase, &work, &ear, &note, 1, BAR, 3 * BAR);
    remark_turn(
      &(Remarks){0},
      &worded,
      &(RemarkView){.chart = &chart.chart, .phrase = &phrase, .times_said = 1},
      text);
    cr_assert_eq(says(text, SENTENCE_PRAISE_ROOM), in_turn == 1, "%s", text);
  }
}

// Stopping is asked about once, however long the silence
Test(remark, asks_to_stop_once, .init = load)
{
  Remarks  remarks = {0};
  unsigned n_asked = 0;
  mark_sentences();
  phrase.n_notes = 0;
  for (unsigned silent = 1; silent <= 20; ++silent) {
    char             text[REMARK_CAPACITY];
    const RemarkView view = {
      .chart = &chart.chart, .phrase = &phrase, .silent_turns = silent};
    remark_turn(&remarks, &worded, &view, text);
    n_asked += says(text, SENTENCE_SILENCE_ASKING);
    cr_assert_eq(says(text, SENTENCE_SILENCE_ASKING), silent == 4);
    // ... and then hardly anything is said
    cr_assert_eq(text[0] == '\0', silent > 4 && silent % 4 != 0);
  }
  cr_assert_eq(n_asked, 1);
}

// The wordings of a thing go round, however seldom it is said
Test(remark, goes_round_the_wordings_of_each)
{
  Remarks               remarks  = {.first = 3};
  const Wordings* const wordings = &sentences_plain()->of[SENTENCE_PRAISE_ROOM];
  for (unsigned i = 0; i < wordings->n; ++i) {
    const char* const said =
      wording_next(&remarks, sentences_plain(), SENTENCE_PRAISE_ROOM);
    cr_assert_str_eq(said, wordings->words[(3 + i) % wordings->n]);
    (void)wording_next(&remarks, sentences_plain(), SENTENCE_PRAISE_TONE);
    remarks.n_said += 2;
  }
}

// Twice the same rhythm is praised as that
Test(remark, tells_a_rhythm_said_again, .init = load)
{
  Remarks    remarks = {0};
  const Note note    = {0, 900, 60, 80};
  char       text[REMARK_CAPACITY];
  mark_sentences();
  hear(&phrase, &note, 1, 0);
  for (unsigned i = 0; i < 2; ++i) {
    const RemarkView view = {.chart      = &chart.chart,
                             .phrase     = &phrase,
                             .times_said = 2,
                             .is_rhythm  = i};
    remark_turn(&remarks, &worded, &view, text);
    cr_assert_eq(says(text, SENTENCE_AGAIN_RHYTHM), i == 1);
    cr_assert_eq(says(text, SENTENCE_AGAIN_TWICE), i == 0);
  }
}

// Who hardly played is not praised for rests; an echo is not asked where it
// landed
Test(remark, sums_up_what_was_chosen, .init = load)
{
  mark_sentences();
  const Summary      silent = {.sentences = &worded,
                               .n_turns   = 6,
                               .n_silent  = 5,
                               .n_landed  = 1,
                               .n_notes   = 2,
                               .space     = 0.9};
  const SummaryWords words  = summary_words(&silent);
  cr_assert(says(words.work_on, SENTENCE_WORK_ON_TURNS));
  cr_assert(says(words.next_time, SENTENCE_NEXT_ONE_NOTE));
  for (unsigned i = 0; i < 2; ++i) {
    cr_assert_not(says(words.worked[i], SENTENCE_WORKED_ROOM));
    cr_assert_not(says(words.worked[i], SENTENCE_WORKED_LANDING));
  }
  Summary echo = {.sentences = &worded,
                  .n_turns   = 6,
                  .n_notes   = 24,
                  .space     = 3.0,
                  .way       = WAY_ECHO,
                  .n_goals   = {[GOAL_RHYTHM] = 6},
                  .n_met     = {[GOAL_RHYTHM] = 6}};
  cr_assert(says(summary_words(&echo).work_on, SENTENCE_WAY_WORK_ON_ECHO));
  cr_assert(says(summary_words(&echo).next_time, SENTENCE_NEXT_LIKED));
  cr_assert_not(says(summary_words(&echo).worked[1], SENTENCE_WORKED_ROOM));
  echo.way = WAY_ANSWER;
  cr_assert(says(summary_words(&echo).work_on, SENTENCE_WORK_ON_LANDING));
}

// Eighteen times the same: something is said of it, again and again
Test(remark, the_same_turn_eighteen_times_is_spoken_of, .init = load)
{
  Remarks    remarks = {0};
  unsigned   n_said  = 0;
  const Note note    = {0, 900, 60, 80};
  mark_sentences();
  hear(&phrase, &note, 1, 0);
  for (unsigned times = 1; times <= 18; ++times) {
    char             text[REMARK_CAPACITY];
    const RemarkView view = {
      .chart = &chart.chart, .phrase = &phrase, .times_said = times};
    remark_turn(&remarks, &worded, &view, text);
    n_said += says(text, SENTENCE_AGAIN_TWICE) ||
              says(text, SENTENCE_AGAIN_THIRD) ||
              says(text, SENTENCE_AGAIN_MORE);
  }
  cr_assert_geq(n_said, 9);
}

// Four wordings of everything
Test(remark, has_four_wordings_of_each)
{
  for (unsigned kind = 0; kind < N_SENTENCES; ++kind) {
    cr_assert_geq(sentences_plain()->of[kind].n,
                  4,
                  "%s.%s",
                  sentence_row(kind).group,
                  sentence_row(kind).name);
  }
}

// Whatever landed: a question is a landing of its own, and asking does not make
// up for never closing
Test(remark, asking_alone_is_half_of_it, .init = load)
{
  Summary sum = {.sentences = &worded,
                 .way       = WAY_QUESTION,
                 .n_turns   = 9,
                 .n_landed  = 9,
                 .n_notes   = 40,
                 .n_goals   = {[GOAL_ASK] = 8, [GOAL_CLOSE] = 1},
                 .n_met     = {[GOAL_ASK] = 8}};
  mark_sentences();
  cr_assert_not(
    says(summary_words(&sum).worked[0], SENTENCE_WAY_WORKED_QUESTION));
  cr_assert_not(
    says(summary_words(&sum).worked[0], SENTENCE_WORKED_LANDING_ALL));
  sum.n_met[GOAL_CLOSE] = 1;
  cr_assert(says(summary_words(&sum).worked[0], SENTENCE_WAY_ALL_QUESTION));
  sum.n_silent = 7; // Nothing was played through
  cr_assert_not(says(summary_words(&sum).worked[1], SENTENCE_WORKED_FORM));
  cr_assert_not(
    says(summary_words(&sum).worked[0], SENTENCE_WAY_WORKED_QUESTION));
}

// Room and steady time are praised, but neither of who struck in the bar to
// sing in, nor in one breath with "you were early"; nor is the time of another
// rhythm than the one to be taken over
Test(remark, praises_no_part_of_who_came_too_soon, .init = load)
{
  static const struct {
    Goal goal;
    Miss miss;
  } rows[]         = {{GOAL_FEW, MISS_FEW},
                      {GOAL_SING, MISS_SING},
                      {GOAL_ALONG, MISS_ALONG},
                      {GOAL_RHYTHM, MISS_RHYTHM}};
  const Ear  ear   = ear_usual(&chart.chart, &ladder, 120.0);
  const Note one[] = {{0, 900, 66, 80}};
  Note       many[16]; // C sharps: no room, no landing
  char       text[REMARK_CAPACITY];
  mark_sentences();
  for (unsigned i = 0; i < 16; ++i) {
    many[i] = (Note){i * BAR / 8, BAR / 8, 61, 80};
  }
  const struct {
    const Note*  notes;
    unsigned     n;
    SentenceKind praise;
  } played[] = {{one, 1, SENTENCE_PRAISE_ROOM},
                {many, 16, SENTENCE_PRAISE_STEADY}};
  for (unsigned i = 0; i < 8; ++i) {
    const bool praised = i < 2 || (i >= 4 && i % 2 == 0);
    Outcome    outcome = missed(rows[i / 2].goal, rows[i / 2].miss);
    outcome.in_time    = true;
    hear_phrase(
      &phrase, &work, &ear, played[i % 2].notes, played[i % 2].n, 0, 2 * BAR);
    remark_goal(&(Remarks){0},
                &worded,
                &(RemarkView){.chart   = &chart.chart,
                              .phrase  = &phrase,
                              .outcome = &outcome},
                text);
    cr_assert_eq(says(text, played[i % 2].praise), praised, "%s", text);
  }
}

// Where it was to ask, to come home is no praise; nor is air in a turn whose
// bar to sing in was filled
Test(remark, praises_no_goal_that_was_missed, .init = load)
{
  Summary sum = {.sentences = &worded,
                 .way       = WAY_QUESTION,
                 .n_turns   = 4,
                 .n_at_home = 2,
                 .n_notes   = 20,
                 .spread_ms = 4 * 60.0,
                 .n_goals   = {[GOAL_ASK] = 2, [GOAL_CLOSE] = 2}};
  mark_sentences();
  for (unsigned closed = 0; closed < 2; ++closed) {
    sum.n_met[GOAL_CLOSE]    = closed;
    const SummaryWords words = summary_words(&sum);
    cr_assert_eq(says(words.worked[0], SENTENCE_WAY_SOME_QUESTION), closed);
    cr_assert_eq(says(words.worked[1], SENTENCE_WORKED_HOME), closed);
  }
  sum.way                = WAY_SING_FIRST;
  sum.space              = 4 * 0.5;
  sum.n_goals[GOAL_SING] = 4;
  for (unsigned met = 0; met < 5; met += 4) {
    sum.n_goals[GOAL_ASK] = sum.n_goals[GOAL_CLOSE] = 0;
    sum.n_met[GOAL_SING]                            = met;
    const SummaryWords words                        = summary_words(&sum);
    cr_assert_eq(says(words.worked[met > 0], SENTENCE_WORKED_ROOM), met > 0);
  }
}

// All is told from most, of goals and of landings; a silent turn is a part, too
Test(remark, tells_all_from_most, .init = load)
{
  static const struct {
    unsigned     n_met;
    unsigned     n_silent;
    SentenceKind goal;
    SentenceKind landing;
  } rows[] = {
    {10, 0, SENTENCE_WAY_ALL_FEW_NOTES, SENTENCE_WORKED_LANDING_ALL},
    {9, 0, SENTENCE_WAY_WORKED_FEW_NOTES, SENTENCE_WORKED_LANDING},
    {10, 1, SENTENCE_WAY_WORKED_FEW_NOTES, SENTENCE_WORKED_LANDING_ALL},
    {6, 0, SENTENCE_WAY_WORKED_FEW_NOTES, SENTENCE_WORKED_LANDING},
    {5, 0, SENTENCE_WAY_SOME_FEW_NOTES, SENTENCE_WORKED_HOME},
  };
  mark_sentences();
  for (unsigned i = 0; i < sizeof(rows) / sizeof(*rows); ++i) {
    const Summary      sum   = {.sentences = &worded,
                                .way       = WAY_FEW_NOTES,
                                .n_turns   = 10 + rows[i].n_silent,
                                .n_silent  = rows[i].n_silent,
                                .n_landed  = rows[i].n_met,
                                .n_at_home = 1,
                                .n_notes   = 40,
                                .spread_ms = 10 * 60.0,
                                .n_goals   = {[GOAL_FEW] = 10},
                                .n_met     = {[GOAL_FEW] = rows[i].n_met}};
    const SummaryWords words = summary_words(&sum);
    cr_assert(says(words.worked[0], rows[i].goal), "row %u", i);
    cr_assert(says(words.worked[1], rows[i].landing), "row %u", i);
  }
}

// Lines that never came again are no story
Test(remark, a_story_has_its_line_again, .init = load)
{
  Summary sum = {.sentences = &worded,
                 .way       = WAY_STORY,
                 .n_turns   = 6,
                 .n_notes   = 40,
                 .n_goals   = {[GOAL_LINE] = 4, [GOAL_AGAIN] = 2},
                 .n_met     = {[GOAL_LINE] = 4}};
  mark_sentences();
  cr_assert(says(summary_words(&sum).worked[0], SENTENCE_WAY_SOME_STORY));
  sum.n_met[GOAL_AGAIN] = 2;
  cr_assert(says(summary_words(&sum).worked[0], SENTENCE_WAY_ALL_STORY));
}

// Nothing invites to what does not come: no turn of the player's, no answer
Test(remark, invites_to_nothing_at_the_end, .init = load)
{
  const Ear     ear     = ear_usual(&chart.chart, &ladder, 120.0);
  const Note    note    = {0, 900, 67, 80};
  const Outcome outcome = {.is_judged = true, .landed = true};
  char          text[REMARK_CAPACITY];
  mark_sentences();
  for (unsigned last = 0; last < 2; ++last) {
    hear_phrase(&phrase, &work, &ear, &note, 0, 0, 2 * BAR);
    remark_turn(&(Remarks){0},
                &worded,
                &(RemarkView){.chart        = &chart.chart,
                              .phrase       = &phrase,
                              .silent_turns = 4,
                              .is_last      = last},
                text);
    cr_assert_eq(says(text, SENTENCE_SILENCE_LAST), last, "%s", text);
    cr_assert_eq(says(text, SENTENCE_SILENCE_ASKING), !last, "%s", text);

    // All else that could be praised was, a turn ago
    Remarks remarks = {.n_said = 1};
    for (unsigned kind = 0; kind < N_SENTENCES; ++kind) {
      remarks.said_at[kind] = kind != SENTENCE_PRAISE_OPEN;
    }
    hear_phrase(&phrase, &work, &ear, &note, 1, 0, 2 * BAR);
    remark_turn(&remarks,
                &worded,
                &(RemarkView){.chart   = &chart.chart,
                              .phrase  = &phrase,
                              .outcome = &outcome,
                              .is_end  = last},
                text);
    cr_assert_eq(says(text, SENTENCE_PRAISE_OPEN), !last, "%s", text);
  }
}

// C over F7 is at home: nothing is left open; nor on F; but on A it is
Test(remark, nothing_is_open_at_home, .init = load)
{
  const Ear     ear     = ear_usual(&chart.chart, &ladder, 120.0);
  const Outcome outcome = came_off();
  char          text[REMARK_CAPACITY];
  mark_sentences();
  for (uint8_t pitch = 60; pitch <= 69; ++pitch) {
    if (pitch == 60 || pitch == 65 || pitch == 69) {
      const Note note    = {4 * BAR, 900, pitch, 80};
      Remarks    remarks = {.n_said = 1};
      for (unsigned kind = 0; kind < N_SENTENCES; ++kind) {
        remarks.said_at[kind] = kind != SENTENCE_PRAISE_OPEN;
      }
      hear_phrase(&phrase, &work, &ear, &note, 1, 4 * BAR, 6 * BAR);
      remark_turn(&remarks,
                  &worded,
                  &(RemarkView){.chart      = &chart.chart,
                                .phrase     = &phrase,
                                .outcome    = &outcome,
                                .times_said = 1},
                  text);
      cr_assert_eq(says(text, SENTENCE_PRAISE_OPEN), pitch == 69, "%s", text);
    }
  }
}

// What is only to be tried is kept back where no turn comes to try it in; why a
// turn did not come off is said all the same
Test(remark, asks_for_no_try_at_the_end, .init = load)
{
  static const struct {
    bool         succeeds;
    unsigned     times;
    SentenceKind advice;
    bool         at_end;
  } rows[]           = {{true, 1, SENTENCE_ADVICE_FLAT, false},
                        {true, 3, SENTENCE_AGAIN_THIRD, false},
                        {false, 1, SENTENCE_ADVICE_CONNECT, true}};
  const Ear ear      = ear_usual(&chart.chart, &ladder, 120.0);
  Note      notes[8] = {{0}};
  char      text[REMARK_CAPACITY];
  mark_sentences();
  for (unsigned i = 0; i < 8; ++i) {
    notes[i] = (Note){i * 480, 400, i % 2 ? 67 : 60, 80};
  }
  hear_phrase(&phrase, &work, &ear, notes, 8, 0, 2 * BAR);
  for (unsigned i = 0; i < 6; ++i) {
    const bool last    = i % 2;
    Outcome    outcome = came_off();
    outcome.connected  = rows[i / 2].succeeds;
    remark_turn(&(Remarks){0},
                &worded,
                &(RemarkView){.chart      = &chart.chart,
                              .phrase     = &phrase,
                              .outcome    = &outcome,
                              .times_said = rows[i / 2].times,
                              .is_last    = last},
                text);
    cr_assert_eq(
      says(text, rows[i / 2].advice), !last || rows[i / 2].at_end, "%s", text);
  }
}

// Whoever falls silent at the end is not praised for going on to it
Test(remark, form_is_praised_of_who_plays_to_the_end, .init = load)
{
  const Ear  ear  = ear_usual(&chart.chart, &ladder, 120.0);
  const Note note = {0, 900, 66, 80};
  mark_sentences();
  for (unsigned silent = 0; silent < 2; ++silent) {
    // Nothing else to praise
    Summary summary = {.sentences = &worded, .way = WAY_ECHO};
    for (unsigned turn = 0; turn < 4; ++turn) {
      const bool is_silent = turn == (silent ? 3U : 0U);
      hear_phrase(&phrase, &work, &ear, &note, is_silent ? 0 : 1, 0, 2 * BAR);
      summary_add(&summary, &phrase);
    }
    const SummaryWords words = summary_words(&summary);
    cr_assert_eq(says(words.worked[0], SENTENCE_WORKED_FORM), !silent);
  }
}

// A way's goal is looked back on: what came off of it, or something else that
// was good, then what was missing, then how to begin
Test(remark, looks_back_on_what_was_missed, .init = load)
{
  mark_sentences();
  for (unsigned way = WAY_QUESTION; way < N_WAYS; ++way) {
    const unsigned of  = way - WAY_QUESTION;
    Summary        sum = {.sentences = &worded,
                          .way       = (Way)way,
                          .n_turns   = 5,
                          .n_silent  = 1,
                          .n_notes   = 20,
                          .spread_ms = 4 * 60.0,
                          .n_goals   = {[GOAL_SING] = 4}};
    for (unsigned met = 0; met <= 4; ++met) {
      sum.n_met[GOAL_SING]     = met;
      const SummaryWords words = summary_words(&sum);
      const unsigned     good  = met == 0  ? SENTENCE_WORKED_FORM
                                 : met < 3 ? SENTENCE_WAY_SOME_QUESTION + of
                                           : SENTENCE_WAY_WORKED_QUESTION + of;
      cr_assert(says(words.worked[0], good), "%u, %u met", way, met);
      cr_assert(says(words.work_on,
                     met < 3 ? SENTENCE_WAY_MISSED_QUESTION + of
                             : SENTENCE_WAY_WORK_ON_QUESTION + of));
      cr_assert_eq(says(words.next_time, SENTENCE_WAY_NEXT_QUESTION + of),
                   met < 3);
    }
    sum.n_met[GOAL_SING] = 0;
    sum.ends_silent      = true; // So that nothing else can be praised
    cr_assert(says(summary_words(&sum).worked[0], SENTENCE_WORKED_BEGAN));
    cr_assert_str_eq(summary_words(&sum).worked[1], "");
  }
}

// What missed a goal of a way, where the turn ended on the root and left room

typedef struct {
  char     name[32];
  Goal     goal;
  Miss     miss;
  bool     is_fewer;
  unsigned praise; // N_SENTENCES: none comes first
  unsigned says;
} PartRow;

ParameterizedTestParameters(remark, parts)
{
  static PartRow rows[] = {
    {"met", GOAL_FEW, MISS_NOTHING, false, N_SENTENCES, SENTENCE_MET_FEW},
    {"too many notes",
     GOAL_FEW,
     MISS_FEW,
     false,
     SENTENCE_PRAISE_ROOT,
     SENTENCE_MISSED_FEW},
    {"apart, and landed",
     GOAL_ALONG,
     MISS_ALONG,
     false,
     SENTENCE_PRAISE_ROOT,
     SENTENCE_MISSED_ALONG},
    {"another rhythm, any notes",
     GOAL_RHYTHM,
     MISS_RHYTHM,
     false,
     SENTENCE_PRAISE_ROOM,
     SENTENCE_MISSED_RHYTHM},
    {"a question that came home",
     GOAL_ASK,
     MISS_ASK,
     false,
     SENTENCE_PRAISE_ROOM,
     SENTENCE_MISSED_ASK},
    {"fewer than before",
     GOAL_FEW,
     MISS_FEW,
     true,
     N_SENTENCES,
     SENTENCE_MISSED_FEW_YET},
    {"praised already",
     GOAL_LANDING,
     MISS_LANDING,
     false,
     N_SENTENCES,
     SENTENCE_MISSED_LANDING},
    {"all places kept",
     GOAL_RHYTHM,
     MISS_MORE,
     false,
     N_SENTENCES,
     SENTENCE_MISSED_MORE},
  };
  return cr_make_param_array(PartRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(PartRow* row, remark, parts, .init = load)
{
  const Ear  ear     = ear_usual(&chart.chart, &ladder, 120.0);
  const Note notes[] = {{0, 900, 67, 80}, {960, 900, 60, 80}};
  Outcome    outcome = missed(row->goal, row->miss);
  char       text[REMARK_CAPACITY];
  char       wanted[REMARK_CAPACITY];
  outcome.landed = true;
  mark_sentences();
  hear_phrase(&phrase, &work, &ear, notes, 2, 0, 2 * BAR);
  remark_goal(&(Remarks){0},
              &worded,
              &(RemarkView){.chart    = &chart.chart,
                            .phrase   = &phrase,
                            .outcome  = &outcome,
                            .is_fewer = row->is_fewer},
              text);
  if (row->praise == N_SENTENCES) {
    (void)snprintf(wanted, sizeof(wanted), "<%u>", row->says);
  } else {
    (void)snprintf(wanted, sizeof(wanted), "<%u> <%u>", row->praise, row->says);
  }
  cr_assert_str_eq(text, wanted, "%s", row->name);
}

// Who played a turn between began nowhere near the partner's last note
Test(remark, begins_where_the_partner_stopped_just_before, .init = load)
{
  const Ear     ear     = ear_usual(&chart.chart, &ladder, 120.0);
  const Outcome outcome = missed(GOAL_FEW, MISS_FEW);
  const Note    note    = {0, 7600, 66, 80};
  char          text[REMARK_CAPACITY];
  mark_sentences();
  hear_phrase(&phrase, &work, &ear, &note, 1, 0, 2 * BAR);
  for (unsigned goes_on = 0; goes_on < 2; ++goes_on) {
    remark_goal(&(Remarks){0},
                &worded,
                &(RemarkView){.chart   = &chart.chart,
                              .phrase  = &phrase,
                              .said    = &phrase,
                              .goes_on = goes_on,
                              .outcome = &outcome},
                text);
    cr_assert_eq(says(text, SENTENCE_PRAISE_BEGAN), !goes_on, "%s", text);
  }
}

// One good thing comes before what was missed, be it that something was played;
// where the partner is to be repeated, not that one began where it ended
Test(remark, no_miss_is_said_alone, .init = load)
{
  const Ear  ear  = ear_usual(&chart.chart, &ladder, 120.0);
  const Note note = {0, 7600, 66, 80};
  Phrase     said;
  const Note last = {0, 900, 66, 80};
  const struct {
    Goal goal;
    Miss miss;
    bool begins; // Where the partner ended
    bool is_told;
  } rows[] = {
    {GOAL_SING, MISS_SING, false, false},
    {GOAL_ASK, MISS_ASK, true, true},
    {GOAL_FEW, MISS_FEW, true, true},
    {GOAL_RHYTHM, MISS_RHYTHM, true, false},
    {GOAL_ALONG, MISS_ALONG, true, false},
    {GOAL_ALONE, MISS_ALONE, true, false},
  };
  mark_sentences();
  hear_phrase(&said, &work, &ear, &last, 1, 0, 2 * BAR);
  hear_phrase(&phrase, &work, &ear, &note, 1, 0, 2 * BAR);
  for (unsigned i = 0; i < sizeof(rows) / sizeof(*rows); ++i) {
    char          text[REMARK_CAPACITY];
    const Outcome outcome = missed(rows[i].goal, rows[i].miss);
    remark_goal(&(Remarks){0},
                &worded,
                &(RemarkView){.chart   = &chart.chart,
                              .phrase  = &phrase,
                              .said    = rows[i].begins ? &said : NULL,
                              .outcome = &outcome},
                text);
    cr_assert_eq(
      says(text, SENTENCE_PRAISE_BEGAN), rows[i].is_told, "%u: %s", i, text);
    cr_assert_eq(
      says(text, SENTENCE_PRAISE_PLAYED), !rows[i].is_told, "%u: %s", i, text);
  }
}
