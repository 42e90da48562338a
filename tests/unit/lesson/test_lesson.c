// A learner's day by what the lesson offers, and nothing else: no command line,
// no terminal. Files are read back by others: MIDI by the reader, JSON by
// Jansson.

#include "core/midi/smf_reader.h"
#include "core/time/monotonic.h"
#include "profiles/choices/choices_file.h"
#include "responder/lesson/charts.h"
#include "responder/lesson/choosing.h"
#include "responder/lesson/converse.h"
#include "responder/lesson/desk.h"
#include "responder/lesson/drills.h"
#include "responder/lesson/ideas_file.h"
#include "responder/lesson/kept.h"
#include "responder/lesson/learners.h"
#include "responder/lesson/listen.h"
#include "responder/lesson/printing.h"
#include "responder/lesson/progress_view.h"
#include "responder/lesson/today.h"
#include "responder/lesson/trading.h"
#include "responder/lesson/tries.h"
#include "responder/lesson/warmup_plan.h"
#include "responder/lesson/warmup_play.h"

#include <criterion/criterion.h>
#include <jansson.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { PATH_CAPACITY = 512 };

static char folder[] = "/tmp/barter-day-XXXXXX";

static Choices     everybody;
static Who         ada;
static Setup       setup;
static Listening   listening;
static Desk        desk;
static Tries       tries;
static Drills      drills;
static Printing    printing;
static Playing     playing;
static Trading     trading;
static Faults      faults;
static Fault       fault;
static const Setup no_setup;

static const char*
path_of(const char* const name)
{
  static char path[PATH_CAPACITY];
  (void)snprintf(path, sizeof(path), "%s/%s", folder, name);
  return path;
}

static void
wake_up(void)
{
  cr_assert_not_null(mkdtemp(folder));
  (void)setenv("HOME", folder, 1);
  (void)setenv("XDG_CONFIG_HOME", path_of("config"), 1);
  (void)setenv("XDG_DATA_HOME", path_of("data"), 1);
  (void)setenv("BARTER_CONFIG", BARTER_SOURCE_DIR "/config", 1);
  setup = no_setup;
}

static void
go_to_bed(void)
{
  char words[PATH_CAPACITY];
  (void)snprintf(words, sizeof(words), "rm -rf '%s'", folder);
  cr_assert_eq(system(words), 0);
}

static void
good(const Status status)
{
  cr_assert_eq(status,
               STATUS_OK,
               "%s %s",
               fault.text,
               faults.n_faults ? faults.faults[0].text : "");
}

static void
say(Said* const said, const Choice choice, const char* const text)
{
  good(said_add(said, choice, "asked", text, &fault));
}

// Somebody new, and what she chooses

static void
add_ada(void)
{
  Person person;
  good(choices_load(&everybody, &faults));
  good(people_place(&person, "ada", &fault));
  const Learner learner = who_plain("Ada", &everybody);
  good(people_make(&person, &learner, &fault));
  good(who_find(&ada, "ada", &everybody, &faults));
  cr_assert(ada.is_there);
  cr_assert_str_eq(ada.learner.name, "Ada");
  cr_assert_not(ada.has_stand);
}

static Choices
choices_of_ada(void)
{
  Said said = {.set = 0};
  say(&said, CHOICE_CHART, "blues");
  say(&said, CHOICE_KEY, "C");
  say(&said, CHOICE_FEEL, "swing");
  say(&said, CHOICE_BARS, "2");
  say(&said, CHOICE_SEED, "3");
  Choices choices = choose(&ada, &said);
  choose_climb(&choices, &ada);
  cr_assert(climb_has_plan(&choices.plan));
  return choices;
}

// A take answered, as practice, and had again

static void
count_turn(void* const context, const TurnRecord* const record)
{
  unsigned* const n_turns = context;
  cr_assert_eq(record->turn.index, ++*n_turns);
}

static void
check_report(const Converse* const had, const unsigned n_turns)
{
  char* const   text = report_text(had->report);
  json_t* const root = json_loads(text, JSON_REJECT_DUPLICATES, NULL);
  cr_assert_str_eq(json_string_value(json_object_get(root, "format")),
                   "barter-report");
  cr_assert_eq(json_array_size(json_object_get(root, "turns")), n_turns);
  cr_assert_not_null(json_object_get(root, "summary"));
  json_decref(root);
  free(text);
}

static void
check_again(const Converse* const had, const char* const path)
{
  static Setup again;
  Choices      then;
  Take         take;
  Converse     other;
  ConverseWish wish = {.reports = false};
  good(converse_load_again(&again, &then, &take, path, &faults));
  cr_assert_eq(memcmp(then.sums, again.choices.sums, sizeof(then.sums)), 0);
  good(converse_have(&other, &again, &take, &wish, &fault));
  cr_assert_eq(other.conversation.n_notes, had->conversation.n_notes);
  for (size_t i = 0; i < other.conversation.n_notes; ++i) {
    const PartNote* const a = &other.conversation.notes[i];
    const PartNote* const b = &had->conversation.notes[i];
    cr_assert(a->part == b->part && a->note.tick == b->note.tick &&
              a->note.length == b->note.length &&
              a->note.pitch == b->note.pitch &&
              a->note.velocity == b->note.velocity);
  }
  converse_free(&other);
  take_free(&take);
}

static void
answer_take(const char* const take_path)
{
  Choices      choices = choices_of_ada();
  Practice     practice;
  Take         take;
  Converse     had;
  SmfTake      file;
  unsigned     n_turns = 0;
  ConverseWish wish    = {.reports   = true,
                          .notates   = true,
                          .practice  = &practice,
                          .hear_turn = count_turn,
                          .context   = &n_turns};
  good(take_load(&take, take_path, (TakeChoice){.track = NULL}, &fault));
  choose_take(&choices, &take);
  good(converse_load(&setup, &choices, &take, &faults));
  good(practice_begin(&practice, &ada, &setup, "answer", &fault));
  good(converse_have(&had, &setup, &take, &wish, &fault));
  practice_end(&practice);
  cr_assert_eq(had.kept.status, STATUS_OK);
  // Two choruses of twelve bars, two bars a turn
  cr_assert_eq(n_turns, 12);
  check_report(&had, n_turns);
  good(converse_save(&had, path_of("had.mid"), &fault));
  good(smf_load(&file, path_of("had.mid"), SMF_US_PER_QUARTER, &fault));
  cr_assert_eq(file.n_notes, had.conversation.n_notes);
  smf_free(&file);
  check_again(&had, path_of("had.mid"));
  good(converse_notate(&had, path_of("had.xml"), &fault));
  converse_free(&had);
  take_free(&take);
}

static void
hear_take(const char* const take_path)
{
  Choices  choices = choices_of_ada();
  Take     take;
  unsigned n_turns = 0;
  good(take_load(&take, take_path, (TakeChoice){.track = NULL}, &fault));
  choose_take(&choices, &take);
  good(setup_load(&setup, &choices, &faults));
  listen_to_take(&listening, &setup, &take, NULL, count_turn, &n_turns);
  cr_assert_eq(listening.summary.n_turns, n_turns);
  cr_assert_gt(listening.summary.n_notes, 20);
  take_free(&take);
}

// An idea comes back over its own chart where it stood, has a name, and goes
static void
change_notebook(const JournalIdeas* const notebook)
{
  const JournalIdea* const kept    = &notebook->ideas[0];
  Choices                  choices = choices_plain();
  JournalIdeas             now;
  kept_own(&choices, kept);
  cr_assert_str_eq(choices.chart, choices_of_ada().chart);
  good(setup_load(&desk.setup, &choices, &faults));
  cr_assert(desk_lay_kept(&desk, kept, (OpeningSpan){0, 0}));
  cr_assert_eq(desk.opening.phrase.start_tick /
                 meter_bar_ticks(desk.setup.chart.chart.meter),
               kept->first_bar - 1);
  good(kept_rename(&ada, kept->id, "Häuschen", &fault));
  cr_assert_eq(kept_rename(&ada, kept->id, "two\nlines", &fault),
               STATUS_SYNTAX);
  good(kept_load(&now, &ada, &fault));
  cr_assert_str_eq(now.ideas[0].name, "Häuschen");
  journal_ideas_free(&now);
  good(kept_remove(&ada, kept->id, &fault));
  cr_assert_eq(kept_remove(&ada, kept->id, &fault), STATUS_MISSING);
  good(kept_load(&now, &ada, &fault));
  cr_assert_eq(now.n_ideas, 0);
  journal_ideas_free(&now);
}

// A session is to begin with a phrase, which stands in no notebook for that
static void
begin_with(const Phrase* const phrase)
{
  Journal*     journal = NULL;
  JournalIdeas notebook;
  good(who_journal(&ada, &journal, &fault));
  good(kept_best(journal, &desk.setup, phrase, &fault));
  journal_close(journal);
  good(kept_load(&notebook, &ada, &fault));
  cr_assert_eq(notebook.n_ideas, 0);
  journal_ideas_free(&notebook);
}

// A phrase developed, and one way on kept, be it what a session begins with

static void
develop_phrase(const char* const take_path)
{
  const Choices choices = choices_of_ada();
  Take          take;
  JournalIdeas  notebook;
  size_t        number = 0;
  bool          is_new = false;
  good(take_load(&take, take_path, (TakeChoice){.track = NULL}, &fault));
  good(desk_take(&desk, &choices, &take, (OpeningSpan){1, 2}, &faults));
  take_free(&take);
  desk_develop(&desk, 4);
  cr_assert_geq(desk.found.n, 2);
  begin_with(&desk.found.ways[0].answer.heard);
  good(kept_add(
    &ada, &desk.setup, &desk.found.ways[0].answer, &number, &is_new, &fault));
  cr_assert(is_new);
  cr_assert_eq(number, 1);
  good(kept_load(&notebook, &ada, &fault));
  cr_assert_eq(notebook.n_ideas, 1);
  char* const text = desk_report(&desk);
  cr_assert_not_null(text);
  free(text);
  const IdeasFile file = {&desk.setup, &desk.opening.phrase, &desk.found};
  good(ideas_file_save(&file, path_of("ideas"), &fault));
  cr_assert_eq(access(path_of("ideas/ideas.mid"), F_OK), 0);

  good(desk_kept(&desk, &choices, &notebook, 1, (OpeningSpan){0, 0}, &faults));
  desk_develop(&desk, 2);
  cr_assert_eq(desk.found.n, 2);
  change_notebook(&notebook);
  journal_ideas_free(&notebook);
}

// Tried live: until there is a note of the player's, three times at the most
static void
try_ways(void)
{
  TurnRecord* const record = calloc(1, sizeof(*record));
  good(tries_open(&tries, &desk));
  tries_begin(&tries, 1);
  unsigned n = 0;
  while (tries_next(&tries)) {
    ++n;
  }
  cr_assert_eq(n, 3);
  cr_assert(tries_are_vain(&tries));
  tries_begin(&tries, 1);
  cr_assert(tries_next(&tries));
  record->turn.by_player = true;
  record->phrase.n_notes = 1;
  tries_hear(&tries, record);
  cr_assert_not(tries_next(&tries));
  cr_assert_not(tries_are_vain(&tries));
  cr_assert(tries.session.partner_begins);
  free(record);
}

// The warm-up: a file, and as sessions

static void
warm_up(void)
{
  Choices choices  = choices_of_ada();
  choices.choruses = 1;
  good(setup_load(&setup, &choices, &faults));
  const Warmup warmup = warmup_plan(&setup, "ada", today(), 10.0);
  cr_assert_gt(warmup.n_items, 3);
  good(warmup_save(&warmup, &setup, path_of("warmup.mid"), &fault));
  SmfTake file;
  good(smf_load(&file, path_of("warmup.mid"), SMF_US_PER_QUARTER, &fault));
  cr_assert_gt(file.n_notes, 100);
  smf_free(&file);
  for (unsigned i = 0; i < warmup.n_items; ++i) {
    const WarmupItem* const item = &warmup.items[i];
    unsigned                n    = 0;
    if (!item->trades) {
      drills_begin(&drills, &setup, item);
      while (drills_next(&drills)) {
        n += drills.script.n_turns;
        cr_assert_eq(chart_ticks(drills.session.chart),
                     (Tick)drills.script.n_turns * 2 * item->bars *
                       meter_bar_ticks(setup.chart.chart.meter));
      }
      cr_assert_eq(n, item->rounds);
    }
  }
}

// Trading live, on no ports at all, until the first turn is decided. What steers
// does not end it

static void
trade(void)
{
  const PlayingWish wish    = {.equipment = {.in = "none", .out = "none"},
                               .record    = path_of("sessions"),
                               .steering  = GESTURE_BIT(GESTURE_EASIER)};
  Notices           notices = {.n = 0};
  StageResult       result  = {.end = STAGE_OVER};
  unsigned          n_eased = 0;
  unsigned          n_turns = 0;
  trading.who               = ada;
  trading.choices           = choices_of_ada();
  trading.choices.bars      = 1;
  trading.choices.tempo_bpm = 320.0;
  trading.is_practice       = true;
  good(setup_load(&trading.setup, &trading.choices, &faults));
  trading.choices = trading.setup.choices;
  good(playing_open(&playing, &wish, &trading.choices, &notices, &fault));
  good(trading_begin(&trading, &playing, &fault));
  stage_gesture(playing.stage, GESTURE_EASIER);
  for (bool goes_on = true; goes_on;) {
    goes_on = playing_goes_on(&playing, &result);
    n_eased += stage_take_steering(playing.stage) == GESTURE_EASIER;
    for (const StageNews* news = playing_take_news(&playing, &trading.session);
         news;
         news = playing_take_news(&playing, &trading.session)) {
      n_turns += news->is_turn;
      playing_keep(&trading.session);
    }
    if (n_turns) {
      stage_gesture(playing.stage, GESTURE_STOP);
    }
    monotonic_sleep_ms(5);
  }
  trading_end(&trading, &playing, &result);
  playing_close(&playing);
  cr_assert_eq(n_eased, 1);
  cr_assert_eq(result.end, STAGE_GESTURE);
  cr_assert_eq(result.gesture, GESTURE_STOP);
  cr_assert(result.is_kept);
  cr_assert_eq(trading.session.kept.status, STATUS_OK);
  cr_assert_eq(trading.session.summary.n_turns, (n_turns + 1) / 2);

  Choices then;
  Tick    bar_one = 0;
  good(recorded_choices(&then, &bar_one, trading.session.path, &fault));
  cr_assert_eq(then.tempo_bpm, 320.0);
}

// The way come

static void
look_back(void)
{
  ProgressView view;
  good(progress_view_read(&view, &ada, today(), PROGRESS_RECENT, &fault));
  cr_assert_eq(view.progress.days, 1);
  cr_assert_eq(view.progress.sessions, 1); // Nothing was played in the traded
  cr_assert_eq(view.progress.turns, 6);    // Of the take
  char* const   text = progress_report(&view);
  json_t* const root = json_loads(text, JSON_REJECT_DUPLICATES, NULL);
  cr_assert_str_eq(json_string_value(json_object_get(root, "learner")), "ada");
  json_decref(root);
  free(text);
  good(progress_draw(&view, path_of("progress.svg"), &fault));
  progress_view_free(&view);
}

static void
print_sheet(void)
{
  const Choices choices = choices_of_ada();
  good(setup_load(&setup, &choices, &faults));
  printing_lay(&printing, &setup, &(PrintingWish){SHEET_A4, &ada, 0, 0});
  cr_assert_str_eq(printing.sheet.request.name, ada.learner.name);
  cr_assert_str_eq(printing.sheet.request.date, "1970-01-01");
  cr_assert_geq(printing.pages.n_pages, 1);
  good(printing_save(&printing, path_of("sheet.pdf"), &fault));
}

// Taken along, and brought to another

static LearnersGain
bring_to(const char* const id, const bool is_new)
{
  char           path[PATH_CAPACITY];
  LearnersImport import;
  LearnersGain   gain;
  (void)snprintf(path, sizeof(path), "%s/ada.jsonl", folder);
  good(learners_import_look(&import, path, id, &fault));
  cr_assert_eq(import.is_new, is_new);
  cr_assert_str_eq(import.head.learner, "ada");
  good(learners_import(&import, NULL, &gain, &fault));
  learners_import_free(&import);
  return gain;
}

static void
take_along(void)
{
  Person      bob;
  Progress    progress;
  FILE* const file = fopen(path_of("ada.jsonl"), "wb");
  cr_assert_not_null(file);
  good(learners_export(file, &ada.person, &faults, &fault));
  cr_assert_eq(fclose(file), 0);
  cr_assert_eq(bring_to(NULL, false).gain.sessions_added, 0); // It is hers
  cr_assert_eq(bring_to("bob", true).gain.sessions_added, 1);
  cr_assert_eq(bring_to("bob", false).gain.sessions_added, 0);
  good(people_find(&bob, "bob", &fault));
  good(learners_sum_up(&progress, &bob, today(), &fault));
  cr_assert_eq(progress.sessions, 1);
}

// A chart of her own

static void
write_chart(void)
{
  static ChartFile file;
  Faults           wrong = {.n_faults = 0};
  char             path[PLACE_PATH_CAPACITY];
  const char       text[] = "title = \"Two chords\";\n"
                            "meter = \"4/4\";\n"
                            "key = \"D minor\";\n"
                            "scale = \"dorian\";\n"
                            "bars = [ \"i7\", \"IV7\" ];\n";
  const char       bad[]  = "title = \"Two chords\";\n"
                            "meter = \"4/4\";\n"
                            "key = \"D minor\";\n"
                            "scale = \"dorian\";\n"
                            "bars = [ \"i7\", \"H7\" ];\n";
  cr_assert_eq(charts_check(&file, bad, &wrong), STATUS_SYNTAX);
  cr_assert_eq(wrong.n_faults, 1);
  cr_assert_eq(wrong.faults[0].line, 5);
  good(charts_save("two-chords", text, path, &faults));
  good(charts_load(&file, "two-chords", path, &faults));
  cr_assert_eq(file.chart.n_bars, 2);
  cr_assert_neq(charts_save("../two", text, path, &wrong), STATUS_OK);
}

// Who is put somewhere, be it in part, has as much room there as a place that
// is found; a new learner has the ladder's
Test(place, that_a_teacher_set_has_room, .init = wake_up, .fini = go_to_bed)
{
  add_ada();
  Choices choices = choices_of_ada();
  good(setup_load(&setup, &choices, &faults));
  cr_assert_eq(setup.choices.budget, setup.ladder.budget);
  choices.rung = (Rung){{4, 0, 3, 0}};
  good(setup_load(&setup, &choices, &faults));
  cr_assert_eq(climb_sum(setup.choices.rung), 4 + 1 + 3 + 1);
  cr_assert_eq(setup.choices.budget, 9.5);
}

Test(day, is_done_by_the_lesson_alone, .init = wake_up, .fini = go_to_bed)
{
  char take[PLACE_PATH_CAPACITY];
  good(place_find_file("demo.mid", take, &fault));
  add_ada();
  answer_take(take);
  who_look(&ada);
  cr_assert(ada.has_stand); // What was practised is known
  hear_take(take);
  develop_phrase(take);
  try_ways();
  warm_up();
  trade();
  look_back();
  print_sheet();
  take_along();
  write_chart();
  cr_assert_eq(faults.n_faults, 0);
}
