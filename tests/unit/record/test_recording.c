#include "responder/record/recording.h"

#include "core/files/file.h"
#include "core/midi/smf_reader.h"
#include "core/midi/smf_writer.h"
#include "fixture.h"
#include "responder/record/changes.h"
#include "responder/record/drive.h"
#include "responder/record/recorded.h"
#include "responder/record/take.h"
#include "responder/setup/choices_text.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { BAR = 3840, KEY_CAPACITY = 4000 };

static Setup        setup;
static Recorded     recorded;
static HeardKey     keys[KEY_CAPACITY];
static Conversation conversation;
static SmfTake      file;
static Fault        fault;
static char         path[FIXTURE_PATH_CAPACITY];

static void
ignore_turn(void* const context, const TurnRecord* const record)
{
  (void)context;
  (void)record;
}

// What is changed while a session goes on: at lines of turns
static const SessionChange changes[] = {
  {.from = 4 * BAR, .tempo_bpm = 97.3},
  {.from = 8 * BAR, .tempo_bpm = 133.0, .rung = {{2, 3, 1, 1}}},
  {.from = 16 * BAR, .rung = {{6, 5, 4, 2}}},
};
static unsigned n_changes;
static Tick     left; // Where it is left; 0: to its end

static void
save(const Choices* const choices)
{
  fixture_load(&setup, choices);
  const SessionOptions options = setup_session(&setup);
  Rng                  rng     = rng_seed(2, 3);
  const size_t n_keys = fixture_keys(keys, KEY_CAPACITY, &rng, -400, 24 * BAR);
  DrivePlayer  player = {.keys      = keys,
                         .n_keys    = n_keys,
                         .hear_turn = ignore_turn,
                         .changes   = changes,
                         .n_changes = n_changes,
                         .left      = left};
  cr_assert_eq(drive_session(&conversation, &options, &player), STATUS_OK);
  fixture_path(path, "recording.mid");
  cr_assert_eq(
    recording_save(&conversation, recorded_of(&recorded, &setup, path), &fault),
    STATUS_OK,
    "%s",
    fault.text);
}

static void
clean(void)
{
  smf_free(&file);
  conversation_free(&conversation);
  (void)remove(path);
}

static void
load(void)
{
  cr_assert_eq(smf_load(&file, path, SMF_US_PER_QUARTER, &fault), STATUS_OK);
  cr_assert_eq(file.warnings.n_found, 0);
}

// Design, section 4: type 1, 960 ppq; track 0, then one for each part
Test(recording, has_a_track_for_each_part, .fini = clean)
{
  static const char* const names[] = {
    "Twelve-bar blues", "player", "partner", "chords", "bass", "drums"};
  const Choices choices = fixture_choices();
  save(&choices);
  load();
  cr_assert_eq(file.format, 1);
  cr_assert_eq(file.ticks_per_quarter, 960);
  cr_assert_eq(file.n_tracks, 6);
  for (unsigned i = 0; i < 6; ++i) {
    cr_assert_str_eq(smf_track_name(&file, i), names[i]);
    cr_assert_eq(file.tracks[i].end, 26 * BAR); // Count-in, 24 bars, closing
  }
}

Test(recording, holds_every_note_in_its_place, .fini = clean)
{
  const Choices choices = fixture_choices();
  save(&choices);
  load();
  cr_assert_eq(file.n_notes, conversation.n_notes);
  for (size_t i = 0; i < conversation.n_notes; ++i) {
    const PartNote* const part  = &conversation.notes[i];
    unsigned              found = 0;
    for (size_t n = 0; n < file.n_notes; ++n) {
      const SmfNote* const note = &file.notes[n];
      found +=
        note->track == part->part + 1U &&
        note->tick == part->note.tick - conversation.first &&
        note->length == part->note.length && note->pitch == part->note.pitch &&
        note->velocity == part->note.velocity &&
        (note->channel == SMF_DRUM_CHANNEL) == (part->part == PART_DRUMS);
    }
    cr_assert_eq(found, 1, "note %zu", i);
  }
}

Test(recording, has_the_tempo_meter_key_and_turns, .fini = clean)
{
  Choices choices = fixture_choices();
  (void)snprintf(choices.chart, sizeof(choices.chart), "waltz");
  (void)snprintf(choices.feel, sizeof(choices.feel), "waltz");
  (void)snprintf(choices.key, sizeof(choices.key), "Eb");
  choices.tempo_bpm      = 90.0;
  choices.partner_begins = true;
  save(&choices);
  load();
  cr_assert_eq(smf_tempo_at(&file, 0), 666667);
  cr_assert_eq(file.n_meters, 1);
  cr_assert_eq(file.meters[0].beats, 3);
  cr_assert_eq(file.meters[0].unit, 4);
  cr_assert_eq(file.n_keys, 1);
  cr_assert_eq(file.keys[0].sharps, -3);
  cr_assert_eq(file.keys[0].is_minor, 0);

  // At 90 a bar of three lasts 2 s: one bar of count-in
  unsigned n_markers = 0;
  for (size_t i = 0; i < file.n_texts; ++i) {
    if (file.texts[i].kind == SMF_MARKER) {
      char marker[32];
      ++n_markers;
      (void)snprintf(marker,
                     sizeof(marker),
                     "turn %u %s",
                     n_markers,
                     n_markers % 2 ? "partner" : "player");
      cr_assert_str_eq(smf_text(&file, &file.texts[i]), marker);
      cr_assert_eq(file.texts[i].tick, (1 + (n_markers - 1) * 4) * 2880);
      cr_assert_eq(file.texts[i].track, 0);
    }
  }
  cr_assert_eq(n_markers, 8);
}

// What is written of the choices is what was chosen, with what was left open
// filled in
Test(recording, gives_its_choices_back, .fini = clean)
{
  Choices choices = fixture_choices();
  choices.feel[0] = '\0';
  choices.bars    = 2;
  save(&choices);
  Choices read;
  Tick    bar_one = 0;
  cr_assert_eq(recorded_choices(&read, &bar_one, path, &fault),
               STATUS_OK,
               "%s",
               fault.text);
  cr_assert_eq(bar_one, BAR);
  cr_assert_str_eq(read.chart, "blues");
  cr_assert_str_eq(read.feel, "swing"); // The chart's suggestion
  cr_assert_eq(read.bars, 2);
  cr_assert_eq(read.seed, 7);
  for (unsigned i = 0; i < 3; ++i) {
    cr_assert_neq(read.sums[i], 0);
    cr_assert_eq(read.sums[i], setup.choices.sums[i]);
  }
}

static void
check_again(void)
{
  Choices read;
  Tick    bar_one = 0;
  Take    take;
  cr_assert_eq(recorded_choices(&read, &bar_one, path, &fault), STATUS_OK);
  cr_assert_eq(take_load(&take, path, (TakeChoice){"player", 0.0}, &fault), 0);
  cr_assert_eq(take_changes(&take, path, &fault), STATUS_OK);
  cr_assert_eq(take.n_changes, n_changes);
  take_shift(&take, -bar_one);

  HeardKey*    heard   = NULL;
  size_t       n_heard = 0;
  Conversation again;
  char         other[FIXTURE_PATH_CAPACITY];
  cr_assert_eq(take_keys(&take, &heard, &n_heard), STATUS_OK);
  fixture_load(&setup, &read);
  const SessionOptions options = setup_session(&setup);
  DrivePlayer          player  = {.keys      = heard,
                                  .n_keys    = n_heard,
                                  .hear_turn = ignore_turn,
                                  .changes   = take.changes,
                                  .n_changes = take.n_changes,
                                  .left      = take.left};
  cr_assert_eq(drive_session(&again, &options, &player), 0);
  fixture_path(other, "again.mid");
  cr_assert_eq(
    recording_save(&again, recorded_of(&recorded, &setup, other), &fault),
    STATUS_OK);

  char*  bytes[2];
  size_t sizes[2];
  cr_assert_eq(file_load(path, SMF_FILE_LIMIT, &bytes[0], &sizes[0], &fault),
               STATUS_OK);
  cr_assert_eq(file_load(other, SMF_FILE_LIMIT, &bytes[1], &sizes[1], &fault),
               STATUS_OK);
  cr_assert_eq(sizes[0], sizes[1]);
  cr_assert_eq(memcmp(bytes[0], bytes[1], sizes[0]), 0);
  free(bytes[0]);
  free(bytes[1]);
  free(heard);
  take_free(&take);
  conversation_free(&again);
  (void)remove(other);
}

// In mid-form: in a bar of the player's, of the partner's, on a line
Test(recording, plays_again_to_where_it_was_left)
{
  static const Tick ends[]  = {3 * BAR + 1234, 6 * BAR + 77, 8 * BAR};
  const Choices     choices = fixture_choices();
  for (unsigned i = 0; i < 3; ++i) {
    left = ends[i];
    save(&choices);
    check_again();
    load();
    cr_assert_gt(file.n_notes, 40);
    for (size_t n = 0; n < file.n_notes; ++n) {
      cr_assert_leq(file.notes[n].tick + file.notes[n].length, left + BAR);
    }
    for (unsigned track = 0; track < 6; ++track) {
      cr_assert_eq(file.tracks[track].end, left + BAR); // And the count-in
    }
    clean();
  }
}

Test(recording, plays_again_to_the_same_bytes, .fini = clean)
{
  const Choices choices = fixture_choices();
  save(&choices);
  check_again();
}

Test(recording, plays_again_what_was_changed_meanwhile, .fini = clean)
{
  const Choices choices = fixture_choices();
  n_changes             = 3;
  save(&choices);
  cr_assert_eq(conversation.n_changes, 3);
  cr_assert_eq(smf_load(&file, path, SMF_US_PER_QUARTER, &fault), STATUS_OK);
  cr_assert_eq(file.n_tempos, 3); // A rung alone is none
  for (unsigned i = 0; i < 2; ++i) {
    const SmfTempo tempo = file.tempos[i + 1];
    cr_assert_eq(tempo.tick, changes[i].from - conversation.first);
    cr_assert_eq(tempo.us_per_quarter, llround(60e6 / changes[i].tempo_bpm));
  }
  // A file's tempos are the times that its notes are heard at
  const Tick bar = 20 * BAR;
  cr_assert_float_eq(changes_us(&conversation, choices.tempo_bpm, bar) / 1e6,
                     smf_seconds(&file, bar - conversation.first),
                     1e-3);
  check_again();
}

// A file with one text and one marker
static void
write_texts(const char* const text, const char* const marker)
{
  SmfWriter* writer = NULL;
  fixture_path(path, "texts.mid");
  cr_assert_eq(smf_writer_open(&writer, 1, TICKS_PER_QUARTER, SMF_PLAIN), 0);
  (void)smf_writer_track(writer, "");
  smf_writer_text(writer, 0, 0, SMF_TEXT, text);
  smf_writer_text(writer, 0, BAR, SMF_MARKER, marker);
  cr_assert_eq(smf_writer_save(writer, path, &fault), STATUS_OK);
  smf_writer_close(writer);
}

// Texts of changes, damaged

static const char* const damaged[] = {
  "barter-change tempo=nan rung=1,1,1,1",
  "barter-change tempo=96 rung=1,1,1",
  "barter-change tempo=96 rung=1,1,1,1,1",
  "barter-change tempo=9e9 rung=0,0,0,0",
  "barter-change tempo=29 rung=0,0,0,0",
  "barter-change tempo=96 rung=99,1,1,1",
  "barter-change tempo=96 rung=1,0,1,1",
  "barter-change ",
};

Test(recording, refuses_a_change_that_is_none, .fini = clean)
{
  for (unsigned i = 0; i < sizeof(damaged) / sizeof(*damaged); ++i) {
    Take take;
    write_texts(damaged[i], "turn 1 player");
    cr_assert_eq(take_load(&take, path, (TakeChoice){NULL, 0.0}, &fault), 0);
    cr_assert_eq(
      take_changes(&take, path, &fault), STATUS_SYNTAX, "%s", damaged[i]);
    cr_assert_str_eq(fault.file, path);
    take_free(&take);
  }
}

// Files that are no recordings

static Status
read_choices(void)
{
  Choices choices;
  Tick    bar_one = 0;
  fault           = (Fault){.status = STATUS_OK};
  return recorded_choices(&choices, &bar_one, path, &fault);
}

Test(recording, is_not_found_in_other_files, .fini = clean)
{
  write_texts("for the lesson on Tuesday", "turn 1 player");
  cr_assert_eq(read_choices(), STATUS_MISSING);
  cr_assert_str_eq(fault.file, path);

  static char   text[CHOICES_TEXT_CAPACITY];
  const Choices choices = fixture_choices();
  choices_write(&choices, text);
  write_texts(text, "chorus 1");
  cr_assert_eq(read_choices(), STATUS_MISSING);
  write_texts(text, "turn 1 player");
  cr_assert_eq(read_choices(), STATUS_OK);
}

Test(recording, says_in_which_file_it_is_damaged, .fini = clean)
{
  write_texts(CHOICES_HEADING "chart=blues\n", "turn 1 player");
  cr_assert_eq(read_choices(), STATUS_SYNTAX);
  cr_assert_str_eq(fault.file, path);
  cr_assert_not_null(strstr(fault.text, "feel"));
}

Test(recording, leaves_what_it_cannot_replace, .fini = clean)
{
  const Choices choices = fixture_choices();
  save(&choices);
  cr_assert_eq(recording_save(&conversation,
                              recorded_of(&recorded, &setup, "no/such/a.mid"),
                              &fault),
               STATUS_SYSTEM);
  cr_assert_str_eq(fault.file, "no/such/a.mid");
}
