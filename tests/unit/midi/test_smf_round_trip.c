// What is written is read back: by our reader, and by midicsv, which is another
// program's view of the same file.

#include "core/midi/smf_reader.h"
#include "core/midi/smf_writer.h"
#include "core/rng.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

enum {
  N_SONGS        = 60,
  NOTES_CAPACITY = 400,
  LIMIT_S        = 10, // midicsv goes on for ever over some files
};

typedef struct {
  SmfNote    notes[NOTES_CAPACITY];
  unsigned   n_notes;
  unsigned   n_tracks;
  unsigned   format;
  SmfTempo   tempo;
  SmfMeter   meter;
  SmfKey     key;
  SmfControl control;
} Song;

// Notes of one key follow each other: a file cannot tell them apart otherwise.
static Song
random_song(Rng* const rng)
{
  Song song     = {.format = rng_below(rng, 2)};
  song.n_tracks = song.format ? 1 + rng_below(rng, 6) : 1;
  song.tempo    = (SmfTempo){rng_below(rng, 1000), 1 + rng_below(rng, 999999)};
  song.meter    = (SmfMeter){rng_below(rng, 1000),
                             (uint16_t)(1 + rng_below(rng, 12)),
                             (uint16_t)(1U << rng_below(rng, 5)),
                             24,
                             8};
  song.key      = (SmfKey){rng_below(rng, 1000),
                           (int8_t)((int)rng_below(rng, 15) - 7),
                           (uint8_t)rng_below(rng, 2)};
  song.control  = (SmfControl){rng_below(rng, 1000),
                               (uint16_t)rng_below(rng, song.n_tracks),
                               (uint8_t)(MIDI_CONTROL | rng_below(rng, 16)),
                               {64, (uint8_t)rng_below(rng, 128)}};

  Tick free_from[6][16][128] = {0};
  song.n_notes               = rng_below(rng, NOTES_CAPACITY);
  for (unsigned i = 0; i < song.n_notes; ++i) {
    const unsigned track   = rng_below(rng, song.n_tracks);
    const unsigned channel = rng_below(rng, 16);
    const unsigned pitch   = rng_below(rng, 128);
    Tick* const    from    = &free_from[track][channel][pitch];
    const Tick     tick    = *from + rng_below(rng, 3000);
    const uint32_t length  = 1 + rng_below(rng, 1U << rng_below(rng, 16));
    song.notes[i]          = (SmfNote){
               .tick     = tick,
               .length   = length,
               .pitch    = pitch & 0x7FU,
               .velocity = (1 + rng_below(rng, 127)) & 0x7FU,
               .channel  = channel & 0xFU,
               .track    = track & 0x3FFFU,
    };
    *from = tick + length;
  }
  return song;
}

static SmfWriter*
written(const Song* const song, const unsigned style)
{
  SmfWriter* writer = NULL;
  cr_assert_eq(smf_writer_open(&writer, song->format, 960, style), STATUS_OK);
  for (unsigned i = 0; i < song->n_tracks; ++i) {
    char name[24];
    (void)snprintf(name, sizeof(name), "track %u", i);
    (void)smf_writer_track(writer, name);
  }
  for (unsigned i = song->n_notes; i-- > 0;) {
    smf_writer_note(writer, song->notes[i]);
  }
  smf_writer_tempo(writer, song->tempo);
  smf_writer_meter(writer, song->meter);
  smf_writer_key(writer, song->key);
  smf_writer_control(writer, song->control);
  smf_writer_text(writer, 0, 7, SMF_TEXT, "options --seed 1");
  return writer;
}

static int
by_place(const void* const left, const void* const right)
{
  const SmfNote* const a = left;
  const SmfNote* const b = right;
  if (a->tick != b->tick) {
    return a->tick < b->tick ? -1 : 1;
  }
  if (a->track != b->track) {
    return a->track < b->track ? -1 : 1;
  }
  if (a->channel != b->channel) {
    return a->channel < b->channel ? -1 : 1;
  }
  return (int)a->pitch - (int)b->pitch;
}

static void
check_notes(const Song* const song, const SmfTake* const take)
{
  SmfNote expected[NOTES_CAPACITY];
  SmfNote found[NOTES_CAPACITY];
  cr_assert_eq(take->n_notes, song->n_notes);
  for (size_t i = 0; i < take->n_notes; ++i) {
    expected[i] = song->notes[i];
    found[i]    = take->notes[i];
  }
  qsort(expected, song->n_notes, sizeof(*expected), by_place);
  qsort(found, song->n_notes, sizeof(*found), by_place);
  for (size_t i = 0; i < take->n_notes; ++i) {
    cr_assert_eq(by_place(&found[i], &expected[i]), 0);
    cr_assert_eq(found[i].length, expected[i].length);
    cr_assert_eq(found[i].velocity, expected[i].velocity);
  }
}

static void
check_rest(const Song* const song, const SmfTake* const take)
{
  cr_assert_eq(take->format, song->format);
  cr_assert_eq(take->n_tracks, song->n_tracks);
  cr_assert_str_eq(smf_track_name(take, 0), "track 0");
  cr_assert_eq(take->n_tempos, 1);
  cr_assert_eq(take->tempos[0].tick, song->tempo.tick);
  cr_assert_eq(take->tempos[0].us_per_quarter, song->tempo.us_per_quarter);
  cr_assert_eq(take->n_meters, 1);
  cr_assert_eq(take->meters[0].tick, song->meter.tick);
  cr_assert_eq(take->meters[0].beats, song->meter.beats);
  cr_assert_eq(take->meters[0].unit, song->meter.unit);
  cr_assert_eq(take->n_keys, 1);
  cr_assert_eq(take->keys[0].sharps, song->key.sharps);
  cr_assert_eq(take->keys[0].is_minor, song->key.is_minor);
  cr_assert_eq(take->n_controls, 1);
  cr_assert_eq(take->controls[0].tick, song->control.tick);
  cr_assert_eq(take->controls[0].track, song->control.track);
  cr_assert_eq(take->controls[0].status, song->control.status);
  cr_assert_eq(take->controls[0].data[1], song->control.data[1]);
}

Test(smf_round_trip, gives_back_any_song_in_any_style)
{
  Rng rng = rng_seed(41, 3);
  for (unsigned i = 0; i < N_SONGS; ++i) {
    const Song song = random_song(&rng);
    for (unsigned style = 0; style < 4; ++style) {
      SmfWriter* const writer = written(&song, style);
      const uint8_t*   bytes  = NULL;
      size_t           size   = 0;
      SmfTake          take   = {0};
      Fault            fault;
      cr_assert_eq(smf_writer_bytes(writer, &bytes, &size), STATUS_OK);
      cr_assert_eq(smf_read(&take, bytes, size, SMF_US_PER_QUARTER, &fault),
                   STATUS_OK);
      cr_assert_eq(take.warnings.n_found, 0, "%s", take.warnings.items[0].text);
      check_notes(&song, &take);
      check_rest(&song, &take);
      smf_free(&take);
      smf_writer_close(writer);
    }
  }
}

// Count lines of midicsv's output that hold a text; -1 if it is not here.
static int
count_lines(const char* const path, const char* const text)
{
  char command[256];
  char line[512];
  int  n = 0;
  (void)snprintf(
    command, sizeof(command), "timeout %d midicsv '%s'", LIMIT_S, path);
  FILE* const output = popen(command, "r");
  cr_assert_not_null(output);
  while (fgets(line, sizeof(line), output)) {
    n += strstr(line, text) != NULL;
  }
  const int status = pclose(output);
  if (WIFEXITED(status) && WEXITSTATUS(status) == 127) {
    return -1;
  }
  cr_assert_eq(status, 0, "midicsv refuses %s", path);
  return n;
}

Test(smf_round_trip, is_read_by_midicsv, .timeout = 120)
{
  char      path[] = "/tmp/test_smf_round_trip.XXXXXX";
  const int file   = mkstemp(path);
  cr_assert_geq(file, 0);
  (void)close(file);

  Rng rng = rng_seed(42, 3);
  for (unsigned i = 0; i < 12; ++i) {
    const Song       song   = random_song(&rng);
    SmfWriter* const writer = written(&song, i % 4);
    Fault            fault;
    cr_assert_eq(smf_writer_save(writer, path, &fault), STATUS_OK);
    smf_writer_close(writer);

    const int n_on = count_lines(path, ", Note_on_c,");
    if (n_on < 0) {
      cr_skip_test("midicsv is not here");
    }
    const int n_off    = count_lines(path, ", Note_off_c,");
    const int expected = (int)song.n_notes * 2;
    cr_assert_eq(n_on + n_off, expected, "a beginning and an end a note");
    if (!(i % 4 & SMF_ENDS_AT_VELOCITY_0)) {
      cr_assert_eq(n_on, n_off);
    }
    cr_assert_eq(count_lines(path, ", Title_t,"), (int)song.n_tracks);
    cr_assert_eq(count_lines(path, ", Tempo,"), 1);
    cr_assert_eq(count_lines(path, ", Time_signature,"), 1);
    cr_assert_eq(count_lines(path, ", End_track"), (int)song.n_tracks);
  }
  (void)remove(path);
}
