#include "responder/tell/tell.h"

#include "core/settings/utf8.h"
#include "fixture.h"
#include "responder/record/drive.h"
#include "responder/tell/notes_tell.h"

#include <criterion/criterion.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { KEY_CAPACITY = 6000, MOST_COLUMNS = 100 };

static Setup    setup;
static HeardKey keys[KEY_CAPACITY];

// What was told, and what there was to tell
typedef struct {
  char*        text;
  size_t       size;
  FILE*        stream;
  const Chart* chart;
  unsigned     n_turns;
  unsigned     n_silent;
} Telling;

// The stream writes to where `telling` stands: keep it in place
static void
telling_begin(Telling* const telling)
{
  *telling        = (Telling){.chart = &setup.chart.chart};
  telling->stream = open_memstream(&telling->text, &telling->size);
  cr_assert_not_null(telling->stream);
}

static void
telling_end(Telling* const telling)
{
  (void)fclose(telling->stream);
}

// Every line is text of at most so many characters, with no space at its end
static void
check_lines(const char* const text)
{
  for (const char* line = text; *line;) {
    const size_t length = strcspn(line, "\n");
    unsigned     width  = 0;
    cr_assert_eq(line[length], '\n', "the last line does not end");
    cr_assert_eq(utf8_valid(line, length), length);
    for (size_t i = 0; i < length; ++i) {
      width += ((unsigned char)line[i] & 0xC0U) != 0x80U;
    }
    cr_assert_leq(width, MOST_COLUMNS, "%.*s", (int)length, line);
    cr_assert(!length || line[length - 1] != ' ', "%.*s|", (int)length, line);
    line += length + 1;
  }
}

static unsigned
count(const char* text, const char* const words)
{
  unsigned n = 0;
  while ((text = strstr(text, words))) {
    ++n;
    text += strlen(words);
  }
  return n;
}

// The form

static void
load_form(const char* const chart,
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

static char*
form_text(void)
{
  const SessionOptions options = setup_session(&setup);
  Telling              telling;
  telling_begin(&telling);
  tell_chart(telling.stream, &options);
  telling_end(&telling);
  return telling.text;
}

// The twelve-bar form by its own chords: C7 C7 C7 C7 F7 F7 C7 C7 G7 F7 C7 G7
Test(tell, shows_whose_bars_are_which)
{
  load_form("blues", "swing", 4, false);
  char* const text = form_text();
  cr_assert_eq(strncmp(text,
                       "Twelve-bar blues, in C major, 4/4, swing at 120; you "
                       "begin, 4 bars each\n",
                       72),
               0,
               "%s",
               text);
  cr_assert_not_null(strstr(
    text,
    "  bars   1-4   you     | C7          | C7          | C7          | C7\n"
    "  bars   5-8   partner | F7          | F7          | C7          | C7\n"
    "  bars   9-12  you     | G7          | F7          | C7          | G7\n"
    "  bars  13-16  partner | C7"));
  free(text);
}

// Two choruses: the second is told where the turns change hands in it
Test(tell, shows_every_bar_until_all_comes_again)
{
  static const struct {
    char     chart[16];
    char     feel[16];
    unsigned bars;
    unsigned n_bars;
  } rows[] = {
    {"blues", "swing", 4, 24},
    {"waltz", "waltz", 1, 16},
    {"sixteen-bar", "straight", 2, 16},
    {"blues-jazz", "swing", 4, 24},
    {"one-chord", "straight", 4, 8},
  };
  for (unsigned i = 0; i < sizeof(rows) / sizeof(*rows); ++i) {
    load_form(rows[i].chart, rows[i].feel, rows[i].bars, i % 2);
    char* const text = form_text();
    cr_assert_eq(count(text, "|"), rows[i].n_bars, "%s", text);
    cr_assert_eq(count(text, "\n  bar"), rows[i].n_bars / rows[i].bars);
    cr_assert_eq(count(text, "\n  and so on, 2 choruses in all\n"),
                 rows[i].n_bars <
                   setup.choices.choruses * setup.chart.chart.n_bars);
    cr_assert_not_null(
      strstr(text, i % 2 ? "your partner begins" : "you begin"));
    check_lines(text);
    for (char* end = text; (end = strchr(end, '\n')); *end = ' ') {
    }
    cr_assert_not_null(
      strstr(text, rows[i].bars == 1 ? "1 bar each" : "bars each"));
    free(text);
  }
}

// The longest symbols, one a beat: none is left out, no line runs over
Test(tell, shows_all_chords_of_a_crowded_bar)
{
  static const char* const symbols[] = {
    "Bbmaj7#11", "F#m7b5/C#", "Ebm(maj7)", "Db7#9"};
  char fault[CHART_FAULT_CAPACITY];
  load_form("blues", "swing", 4, false);
  Chart* const chart = &setup.chart.chart;
  chart_begin(chart, "Crowded", chart->meter, chart->key);
  for (unsigned bar = 0; bar < 4; ++bar) {
    char text[64];
    (void)snprintf(text,
                   sizeof(text),
                   "%s %s %s %s",
                   symbols[bar % 4],
                   symbols[(bar + 1) % 4],
                   symbols[(bar + 2) % 4],
                   symbols[(bar + 3) % 4]);
    cr_assert_eq(chart_add_bar(chart, text, fault), STATUS_OK, "%s", fault);
  }
  char* const text = form_text();
  for (unsigned i = 0; i < 4; ++i) {
    cr_assert_eq(count(text, symbols[i]), 8, "%s", text);
  }
  check_lines(text);
  free(text);
}

// Turns

static unsigned
count_in_turn(const char* const text, const char mark)
{
  unsigned n = 0;
  for (const char* at = text; *at; ++at) {
    n += *at == mark;
  }
  return n;
}

// As many notes as were heard, each marked by its role; one to land on after
// the line goes nowhere
static void
check_marks(const char* const text, const Phrase* const phrase)
{
  unsigned n_roots = 0, n_scale = 0, n_outside = 0, n_ornaments = 0, n_left = 0;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const HeardNote* const note    = &phrase->notes[i];
    const bool             is_main = !note->is_ornament;
    n_ornaments += note->is_ornament;
    n_roots += is_main && note->role == ROLE_ROOT;
    n_scale += is_main && note->role == ROLE_SCALE_TONE;
    n_outside += is_main && note->role == ROLE_OUTSIDE;
    n_left += is_main && note->role == ROLE_OUTSIDE &&
              note->resolution == RESOLUTION_LEFT;
  }
  if (phrase->landing.is_there && phrase->n_notes < PHRASE_CAPACITY) {
    n_roots += phrase->landing.role == ROLE_ROOT;
    n_scale += phrase->landing.role == ROLE_SCALE_TONE;
    n_outside += phrase->landing.role == ROLE_OUTSIDE;
    n_left += phrase->landing.role == ROLE_OUTSIDE;
  }
  cr_assert_eq(count_in_turn(text, '['), n_roots);
  cr_assert_eq(count_in_turn(text, '('), n_scale);
  cr_assert_eq(count_in_turn(text, '<'), n_outside);
  cr_assert_eq(count_in_turn(text, '~'), n_ornaments);
  cr_assert_eq(count(text, "?>"), n_left);
}

// The lines of a turn that hold its notes, in one piece
static void
note_lines(const char* const turn, char* const notes)
{
  const char* const begin = strchr(turn, '\n') + 1;
  const char*       end   = begin;
  while (strncmp(end, "    bar ", 8) == 0 ||
         strncmp(end, "          ", 10) == 0) {
    end = strchr(end, '\n') + 1;
  }
  memcpy(notes, begin, (size_t)(end - begin));
  notes[end - begin] = '\0';
}

static char notes_told[65536];

static unsigned n_single; // Turns of one note

static void
check_player(const TurnRecord* const record, const char* const text)
{
  char remark[REMARK_CAPACITY + 2];
  cr_assert_not_null(strstr(text, ", you\n"));
  if (!record->phrase.n_notes) {
    cr_assert_not_null(strstr(text, "\n    silence\n"), "%s", text);
  } else {
    cr_assert_eq(count(text, " rest"), 1 + count(record->remark, " rest"));
    cr_assert_eq(count(text, "aims at "), 1);
    // One note is no more than late or early
    const Phrase* const phrase = &record->phrase;
    const unsigned n_written   = phrase->n_notes - phrase->measures.n_ornaments;
    cr_assert_eq(count(text, "average"), n_written > 1);
    n_single += n_written == 1;
  }
  if (!record->phrase.n_notes && !record->remark[0]) { // Of a long silence
    cr_assert_eq(count(text, "\""), 0);
    return;
  }
  // A whole sentence or two
  (void)snprintf(remark, sizeof(remark), "%s", record->remark);
  const char last = remark[strlen(remark) - 1];
  cr_assert(last == '.' || last == '?', "%s", remark);
  cr_assert_eq(count(text, "\""), 2);
}

static void
tell_and_check(void* const context, const TurnRecord* const record)
{
  Telling* const telling = context;
  Telling        own;
  telling_begin(&own);
  tell_turn(own.stream, telling->chart, record, false);
  telling_end(&own);

  char head[64];
  (void)snprintf(head, sizeof(head), "Turn %u, bar", record->turn.index);
  cr_assert_eq(strncmp(own.text, head, strlen(head)), 0);
  check_lines(own.text);
  note_lines(own.text, notes_told);
  check_marks(notes_told, &record->phrase);
  if (record->turn.by_player) {
    check_player(record, own.text);
  } else {
    cr_assert_not_null(strstr(own.text, session_turn_name(record)));
    const char last = record->why[strlen(record->why) - 1];
    cr_assert_eq(last, '.', "%s", record->why);
  }
  ++telling->n_turns;
  telling->n_silent += !record->phrase.n_notes;
  free(own.text);
}

Test(tell, tells_every_note_and_every_turn)
{
  static const struct {
    char     chart[16];
    char     feel[16];
    unsigned bars;
  } forms[] = {
    {"blues", "swing", 4},
    {"blues-minor", "shuffle", 2},
    {"waltz", "waltz", 1},
    {"sixteen-bar", "bossa", 4},
    {"modal-vamp", "straight", 2},
  };
  unsigned n_silent = 0;
  for (unsigned i = 0; i < 20; ++i) {
    load_form(forms[i % 5].chart, forms[i % 5].feel, forms[i % 5].bars, i % 2);
    setup.choices.rung           = (Rung){{8, 7, 6, 4}};
    const SessionOptions options = setup_session(&setup);
    const Tick           end = chart_ticks(options.chart) * options.choruses;
    Rng                  rng = rng_seed(i, 8);
    // Now and then the player stops half way
    const size_t n_keys =
      fixture_keys(keys, KEY_CAPACITY, &rng, -400, i % 4 ? end : end / 2);
    Telling      telling = {.chart = options.chart};
    Conversation conversation;
    cr_assert_eq(drive_session(&conversation,
                               &options,
                               &(DrivePlayer){.keys      = keys,
                                              .n_keys    = n_keys,
                                              .hear_turn = tell_and_check,
                                              .context   = &telling}),
                 STATUS_OK);
    cr_assert_eq(telling.n_turns,
                 2 * options.chart->n_bars / options.bars_per_turn);
    n_silent += telling.n_silent;
    conversation_free(&conversation);
  }
  cr_assert_gt(n_silent, 0);
  cr_assert_gt(n_single, 0);
}

// A turn as dense as hands can make it
static TurnRecord record;

Test(tell, wraps_a_bar_that_is_full)
{
  load_form("blues", "swing", 1, false);
  record.turn =
    (Turn){.index = 1, .by_player = true, .end = 3840, .first_bar = 1};
  record.phrase.n_notes = PHRASE_CAPACITY;
  record.phrase.target  = PHRASE_NO_TARGET;
  for (unsigned i = 0; i < PHRASE_CAPACITY; ++i) {
    record.phrase.notes[i] =
      (HeardNote){.note       = {15 * i, 10, (uint8_t)(40 + i % 60), 80},
                  .grid_tick  = 15 * i,
                  .role       = (uint8_t)(i % 4),
                  .resolution = RESOLUTION_LEFT};
  }
  (void)snprintf(record.remark, sizeof(record.remark), "Good.");
  Telling own;
  telling_begin(&own);
  tell_turn(own.stream, own.chart, &record, false);
  telling_end(&own);
  check_lines(own.text);
  note_lines(own.text, notes_told);
  check_marks(notes_told, &record.phrase);
  free(own.text);
}

// A turn is judged by the note that it landed on, be it after its last bar
Test(tell, shows_where_a_turn_landed)
{
  load_form("blues", "swing", 1, false);
  record = (TurnRecord){
    .turn = {.index = 1, .by_player = true, .end = 3840, .first_bar = 1}};
  record.phrase.end_tick = 3840;
  record.phrase.target   = PHRASE_NO_TARGET;
  record.phrase.n_notes  = 1;
  record.phrase.notes[0] = (HeardNote){.note        = {3360, 440, 62, 80},
                                       .grid_tick   = 3360,
                                       .grid_length = 480,
                                       .role        = ROLE_SCALE_TONE};
  record.phrase.landing  = (Landing){.is_there  = true,
                                     .note      = {3850, 900, 60, 80},
                                     .grid_tick = 3840,
                                     .role      = ROLE_ROOT};
  Telling own;
  telling_begin(&own);
  tell_turn(own.stream, own.chart, &record, false);
  telling_end(&own);
  cr_assert_not_null(strstr(own.text,
                            "bar   2:  1     2  3  4\n"
                            "              [C4]  .  .  .\n"),
                     "%s",
                     own.text);
  free(own.text);
}

// A note that leads up to where the turn landed is spelled so in the drawing,
// too
Test(tell, draws_as_it_spells)
{
  load_form("blues", "swing", 1, false);
  record = (TurnRecord){
    .turn   = {.index = 1, .by_player = true, .end = 3840, .first_bar = 1},
    .phrase = {.n_notes = 1, .end_tick = 3840, .target = PHRASE_NO_TARGET}};
  record.phrase.notes[0] = (HeardNote){.note        = {3360, 440, 61, 80},
                                       .grid_tick   = 3360,
                                       .grid_length = 480,
                                       .role        = ROLE_OUTSIDE};
  record.phrase.landing  = (Landing){.is_there  = true,
                                     .note      = {3850, 900, 62, 80},
                                     .grid_tick = 3840,
                                     .role      = ROLE_SCALE_TONE};
  Telling own;
  telling_begin(&own);
  tell_turn(own.stream, own.chart, &record, true);
  telling_end(&own);
  cr_assert_not_null(strstr(own.text, "<C#4>"), "%s", own.text);
  cr_assert_not_null(strstr(own.text, "\n    C#4  |"), "%s", own.text);
  free(own.text);
}

// One note of the player's own chords is not "1 notes"
Test(tell, counts_notes_of_own_chords)
{
  load_form("blues", "swing", 1, false);
  record = (TurnRecord){
    .turn = {.index = 1, .by_player = true, .end = 3840, .first_bar = 1}};
  record.phrase.end_tick = 3840;
  record.phrase.target   = PHRASE_NO_TARGET;
  record.phrase.n_notes  = 1;
  record.phrase.notes[0] = (HeardNote){.note        = {960, 900, 60, 80},
                                       .grid_tick   = 960,
                                       .grid_length = 960,
                                       .role        = ROLE_ROOT};
  for (unsigned n = 1; n <= 2; ++n) {
    record.phrase.n_comping = n;
    Telling own;
    telling_begin(&own);
    tell_turn(own.stream, own.chart, &record, false);
    telling_end(&own);
    cr_assert_not_null(strstr(own.text, n == 1 ? "; 1 note" : "; 2 notes"));
    cr_assert_null(strstr(own.text, "1 notes"));
    free(own.text);
  }
}

// What is blamed is shown
Test(tell, shows_what_was_struck_too_soon)
{
  load_form("blues", "swing", 2, false);
  record = (TurnRecord){.turn    = {.index     = 1,
                                    .by_player = true,
                                    .start     = 3840,
                                    .end       = 7680,
                                    .first_bar = 2},
                        .n_early = 2,
                        .early   = {1490, 100, 63, 80}};
  Telling own;
  telling_begin(&own);
  tell_turn(own.stream, own.chart, &record, false);
  telling_end(&own);
  cr_assert_not_null(strstr(own.text,
                            "    In the bar to sing in you struck Eb4 (bar 1, "
                            "beat 2&), and more.\n    silence\n"),
                     "%s",
                     own.text);
  free(own.text);
}

// What is said of what comes stands behind all of the turn, its drawing too
Test(tell, asks_after_the_drawing)
{
  load_form("blues", "swing", 2, false);
  record = (TurnRecord){
    .turn   = {.index = 1, .by_player = true, .end = 7680, .first_bar = 1},
    .phrase = {.n_notes = 1, .end_tick = 7680, .target = PHRASE_NO_TARGET},
    .remark = "heard",
    .asks   = "what comes",
  };
  record.phrase.notes[0] =
    (HeardNote){.note = {0, 480, 60, 80}, .grid_length = 480};
  Telling own;
  telling_begin(&own);
  tell_turn(own.stream, own.chart, &record, true);
  telling_end(&own);
  const char* const drawn = strstr(own.text, "    bar  |1");
  cr_assert(drawn && strstr(drawn, "|\nwhat comes\n"), "%s", own.text);
  free(own.text);
}

// The lines of a phrase that begins in bar 1 of a blues in C
static char*
told(const HeardNote* const notes, const unsigned n_notes)
{
  Telling own;
  record.phrase = (Phrase){.n_notes = n_notes, .end_tick = 2 * 3840};
  memcpy(record.phrase.notes, notes, n_notes * sizeof(*notes));
  telling_begin(&own);
  notes_tell(own.stream, own.chart, &record.phrase, 0, n_notes);
  telling_end(&own);
  check_lines(own.text);
  return own.text;
}

// Two phrases that meet in a bar are one row of it; a bar without either is
// left out
Test(tell, tells_no_bar_of_a_take_twice)
{
  static const struct {
    Tick tick;
    bool begins;
  } rows[] = {{0, true}, {2880, true}, {4800, false}, {11520, true}};
  load_form("blues", "swing", 4, false);
  record = (TurnRecord){
    .turn = {.index = 1, .by_player = true, .end = 4 * 3840, .first_bar = 1}};
  record.phrase =
    (Phrase){.n_notes = 4, .end_tick = 4 * 3840, .target = PHRASE_NO_TARGET};
  for (unsigned i = 0; i < 4; ++i) {
    record.phrase.notes[i] = (HeardNote){.note = {rows[i].tick, 480, 60, 80},
                                         .grid_tick     = rows[i].tick,
                                         .grid_length   = 480,
                                         .begins_phrase = rows[i].begins};
  }
  Telling own;
  telling_begin(&own);
  tell_phrases(own.stream, own.chart, &record);
  telling_end(&own);
  unsigned n_rows[5] = {0};
  for (const char* at = own.text; (at = strstr(at, "    bar")); ++at) {
    unsigned bar = 0;
    cr_assert_eq(sscanf(at, " bar %u:", &bar), 1);
    ++n_rows[bar];
  }
  cr_assert(n_rows[1] == 1 && n_rows[2] == 1 && n_rows[3] == 0 &&
              n_rows[4] == 1,
            "%s",
            own.text);
  free(own.text);
}

// 480 ticks are the half of a beat, 240 and 720 its quarters, 320 and 640 its
// thirds; each stands over its note
Test(tell, names_places_in_the_bar)
{
  static const struct {
    Tick tick;
    char place[16];
  } rows[] = {
    {0, "1"},
    {240, "1e"},
    {320, "1\u2153"},
    {480, "1&"},
    {640, "1\u2154"},
    {720, "1a"},
    {137, "1.14"}, // None that players count by: 137 / 960
    {411, "1.42"},
    {2880, "4"},
    {3600, "4a"},
    {3360, "4&"},
  };
  load_form("blues", "swing", 4, false);
  for (unsigned i = 0; i < sizeof(rows) / sizeof(*rows); ++i) {
    const HeardNote note  = {.note        = {rows[i].tick, 100, 60, 80},
                             .grid_tick   = rows[i].tick,
                             .grid_length = 240,
                             .grid        = GRID_SIXTEENTH,
                             .role        = ROLE_ROOT};
    char* const     text  = told(&note, 1);
    char* const     below = strchr(text, '\n') + 1;
    const long      at    = strstr(below, "[C4]") - below;
    below[-1]             = '\0';
    const char* beats     = text;
    for (long n = 0; n < at; ++n) { // A character a column
      for (++beats; ((unsigned char)*beats & 0xC0U) == 0x80U; ++beats) {
      }
    }
    cr_assert_eq(strncmp(beats, rows[i].place, strlen(rows[i].place)), 0);
    free(text);
  }
}

// Worked out by hand: a quarter, an eighth into which a note is crushed, a half
// over the bar line, a rest, and a note on beat three
Test(tell, sets_notes_under_their_beats)
{
  static const HeardNote notes[] = {
    {.note = {0, 900, 60, 80}, .grid_length = 960, .role = ROLE_ROOT},
    {.note        = {1400, 60, 63, 80},
     .grid_tick   = 1440,
     .grid_length = 60,
     .is_ornament = true,
     .role        = ROLE_OUTSIDE},
    {.note        = {1440, 480, 64, 80},
     .grid_tick   = 1440,
     .grid_length = 480,
     .grid        = GRID_EIGHTH,
     .role        = ROLE_CHORD_TONE},
    {.note        = {2880, 1900, 69, 80},
     .grid_tick   = 2880,
     .grid_length = 1920,
     .role        = ROLE_SCALE_TONE},
    {.note        = {3840 + 1920, 900, 66, 80},
     .grid_tick   = 3840 + 1920,
     .grid_length = 960,
     .role        = ROLE_OUTSIDE,
     .resolution  = RESOLUTION_LEFT},
  };
  load_form("blues", "swing", 4, false);
  char* const text = told(notes, 5);
  cr_assert_str_eq(text,
                   "    bar   1:  1     2  2&       3  4\n"
                   "              [C4]  .  ~Eb4 E4  .  (A4)\n"
                   "    bar   2:  1  2  3       4\n"
                   "              -  .  <Gb4?>  .\n",
                   "%s",
                   text);
  free(text);
}

// No rest where a note holds on under a shorter one
Test(tell, holds_on_under_shorter_notes)
{
  static const HeardNote notes[] = {
    {.note        = {0, 1920, 60, 80},
     .grid_length = 480,
     .grid        = GRID_EIGHTH,
     .role        = ROLE_ROOT},
    {.note        = {480, 480, 52, 80},
     .grid_tick   = 480,
     .grid_length = 480,
     .grid        = GRID_EIGHTH,
     .role        = ROLE_CHORD_TONE},
  };
  load_form("blues", "swing", 4, false);
  char* const text = told(notes, 2);
  cr_assert_str_eq(text,
                   "    bar   1:  1     1&  2  3  4\n"
                   "              [C4]  E3  -  .  .\n",
                   "%s",
                   text);
  free(text);
}

// Rising, a passing note is sharp; falling, it is flat (common practice)
Test(tell, spells_passing_notes_as_they_lead)
{
  static const struct {
    uint8_t pitches[3];
    char    names[3][8];
  } rows[] = {
    {{60, 61, 62}, {"[C4]", "<C#4>", "(D4)"}},
    {{62, 61, 60}, {"(D4)", "<Db4>", "[C4]"}},
    {{67, 68, 69}, {"G4", "<G#4>", "(A4)"}},
    {{69, 68, 67}, {"(A4)", "<Ab4>", "G4"}},
    {{65, 66, 67}, {"(F4)", "<F#4>", "G4"}},
    {{71, 70, 69}, {"<B4>", "Bb4", "(A4)"}}, // The seventh of C7 stays one
  };
  static const uint8_t roles[12] = {ROLE_ROOT,
                                    ROLE_OUTSIDE,
                                    ROLE_SCALE_TONE,
                                    ROLE_SCALE_TONE,
                                    ROLE_CHORD_TONE,
                                    ROLE_SCALE_TONE,
                                    ROLE_OUTSIDE,
                                    ROLE_CHORD_TONE,
                                    ROLE_OUTSIDE,
                                    ROLE_SCALE_TONE,
                                    ROLE_CHORD_TONE,
                                    ROLE_OUTSIDE};
  load_form("blues", "swing", 4, false);
  for (unsigned i = 0; i < sizeof(rows) / sizeof(*rows); ++i) {
    HeardNote notes[3];
    for (unsigned n = 0; n < 3; ++n) {
      const uint8_t pitch = rows[i].pitches[n];
      notes[n]            = (HeardNote){.note        = {960 * n, 960, pitch, 80},
                                        .grid_tick   = 960 * n,
                                        .grid_length = 960,
                                        .role        = roles[pitch % 12],
                                        .resolution  = RESOLUTION_LED};
    }
    char* const text = told(notes, 3);
    for (unsigned n = 0; n < 3; ++n) {
      cr_assert_not_null(strstr(text, rows[i].names[n]), "%s", text);
    }
    free(text);
  }
}

Test(tell, sums_up_in_whole_lines)
{
  Telling own;
  telling_begin(&own);
  const Summary nothing = {.n_turns = 3, .n_silent = 3};
  tell_summary(own.stream, &nothing);
  notes_tell_legend(own.stream);
  telling_end(&own);
  cr_assert_eq(strncmp(own.text, "Afterwards\n    ", 15), 0);
  check_lines(own.text);
  free(own.text);
}
