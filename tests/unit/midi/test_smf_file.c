#include "bytes.h"
#include "core/files/file.h"
#include "core/midi/smf_reader.h"
#include "core/midi/smf_writer.h"

#include <criterion/criterion.h>
#include <dirent.h>
#include <signal.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

enum { PATH_CAPACITY = 256 };

// A folder of its own for each test, and a path in it.
typedef struct {
  char folder[PATH_CAPACITY];
  char path[PATH_CAPACITY + 16];
} Place;

static Place
place_of(const char* const name)
{
  Place place = {.folder = "/tmp/test_smf_file.XXXXXX"};
  cr_assert_not_null(mkdtemp(place.folder));
  (void)snprintf(place.path, sizeof(place.path), "%s/%s", place.folder, name);
  return place;
}

static unsigned
count_files(const Place* const place)
{
  DIR* const folder = opendir(place->folder);
  unsigned   n      = 0;
  for (const struct dirent* entry = NULL; (entry = readdir(folder));) {
    n += entry->d_name[0] != '.';
  }
  (void)closedir(folder);
  return n;
}

static void
leave(const Place* const place)
{
  (void)remove(place->path);
  (void)rmdir(place->folder);
}

static void
check_refusal(const char* const path,
              const Status      status,
              const char* const text)
{
  SmfTake take = {0};
  Fault   fault;
  char    line[FAULT_TEXT_CAPACITY];
  char    expected[FAULT_TEXT_CAPACITY];
  cr_assert_eq(smf_load(&take, path, SMF_US_PER_QUARTER, &fault), status);
  (void)snprintf(expected, sizeof(expected), "%s: %s", path, text);
  cr_assert_str_eq(fault_text(&fault, line, sizeof(line)), expected);
  cr_assert_null(take.notes);
}

static void
put(const char* const path, const uint8_t* const bytes, const size_t size)
{
  FILE* const file = fopen(path, "wb");
  cr_assert_eq(fwrite(bytes, 1, size, file), size);
  cr_assert_eq(fclose(file), 0);
}

Test(smf_file, names_what_cannot_be_loaded)
{
  const Place place = place_of("take.mid");
  check_refusal(place.path, STATUS_MISSING, "there is no such file");
  check_refusal(place.folder, STATUS_RANGE, "is a directory");
  check_refusal("/dev/null", STATUS_RANGE, "is no plain file");

  put(place.path, (const uint8_t*)"", 0);
  check_refusal(
    place.path, STATUS_RANGE, "is empty; a MIDI file would be right");
  put(place.path, (const uint8_t*)"no MIDI", 7);
  check_refusal(
    place.path, STATUS_SYNTAX, "byte 0: no MIDI file; one begins with MThd");
  leave(&place);
}

Test(smf_file, does_not_wait_for_a_pipe)
{
  const Place place = place_of("pipe.mid");
  cr_assert_eq(mkfifo(place.path, 0600), 0);
  check_refusal(place.path, STATUS_RANGE, "is no plain file");
  leave(&place);
}

Test(smf_file, has_a_limit)
{
  const Place place = place_of("large.mid");
  put(place.path, (const uint8_t*)"", 0);
  cr_assert_eq(truncate(place.path, 64 * 1024 * 1024 + 1), 0);
  check_refusal(
    place.path, STATUS_FULL, "has 67108865 bytes; at most 67108864 are read");
  leave(&place);
}

Test(smf_file, is_read_whole)
{
  const Place place = place_of("take.mid");
  const Bytes bytes = bytes_of(RP001_FORMAT_1);
  put(place.path, bytes.bytes, bytes.size);
  SmfTake take = {0};
  Fault   fault;
  cr_assert_eq(smf_load(&take, place.path, SMF_US_PER_QUARTER, &fault),
               STATUS_OK);
  cr_assert_eq(take.n_notes, 4);
  smf_free(&take);
  leave(&place);
}

static SmfWriter*
song(const unsigned n_notes)
{
  SmfWriter* writer = NULL;
  cr_assert_eq(smf_writer_open(&writer, 0, 960, SMF_PLAIN), STATUS_OK);
  (void)smf_writer_track(writer, NULL);
  for (unsigned i = 0; i < n_notes; ++i) {
    smf_writer_note(writer, (SmfNote){.tick = i, .length = 1, .velocity = 64});
  }
  return writer;
}

Test(smf_file, is_replaced_when_saved)
{
  const Place      place  = place_of("take.mid");
  SmfWriter* const writer = song(3);
  Fault            fault;
  put(place.path, (const uint8_t*)"old", 3);
  cr_assert_eq(smf_writer_save(writer, place.path, &fault), STATUS_OK);
  cr_assert_eq(count_files(&place), 1);

  const uint8_t* bytes   = NULL;
  char*          saved   = NULL;
  size_t         size    = 0;
  size_t         n_saved = 0;
  cr_assert_eq(smf_writer_bytes(writer, &bytes, &size), STATUS_OK);
  cr_assert_eq(file_load(place.path, SMF_FILE_LIMIT, &saved, &n_saved, &fault),
               STATUS_OK);
  cr_assert_eq(n_saved, size);
  cr_assert_arr_eq(saved, bytes, size);
  free(saved);
  smf_writer_close(writer);
  leave(&place);
}

Test(smf_file, is_not_saved_where_there_is_no_folder)
{
  SmfWriter* const writer = song(3);
  Fault            fault;
  cr_assert_eq(smf_writer_save(writer, "/nowhere/take.mid", &fault),
               STATUS_SYSTEM);
  cr_assert_str_eq(fault.file, "/nowhere/take.mid");
  cr_assert_str_eq(fault.text, "cannot be written: No such file or directory");
  smf_writer_close(writer);
}

// A limit on the size of files stands in for a full disk: the write fails after
// some bytes.
Test(smf_file, stays_as_it_was_when_the_disk_is_full)
{
  const Place      place  = place_of("take.mid");
  SmfWriter* const writer = song(20000);
  Fault            fault;
  put(place.path, (const uint8_t*)"old", 3);
  (void)signal(SIGXFSZ, SIG_IGN);
  const struct rlimit limit = {8192, RLIM_INFINITY};
  cr_assert_eq(setrlimit(RLIMIT_FSIZE, &limit), 0);
  cr_assert_eq(smf_writer_save(writer, place.path, &fault), STATUS_SYSTEM);
  const struct rlimit none = {RLIM_INFINITY, RLIM_INFINITY};
  cr_assert_eq(setrlimit(RLIMIT_FSIZE, &none), 0);

  cr_assert_str_eq(fault.text, "cannot be written: File too large");
  cr_assert_eq(count_files(&place), 1, "no part is left behind");
  char*  saved   = NULL;
  size_t n_saved = 0;
  cr_assert_eq(file_load(place.path, SMF_FILE_LIMIT, &saved, &n_saved, &fault),
               STATUS_OK);
  cr_assert_eq(n_saved, 3);
  cr_assert_arr_eq(saved, "old", 3);
  free(saved);
  smf_writer_close(writer);
  leave(&place);
}

Test(smf_file, is_not_touched_by_a_song_that_cannot_be)
{
  const Place      place  = place_of("take.mid");
  SmfWriter* const writer = song(1);
  smf_writer_tempo(writer, (SmfTempo){0, 0});
  Fault fault;
  cr_assert_eq(smf_writer_save(writer, place.path, &fault), STATUS_RANGE);
  cr_assert_eq(count_files(&place), 0);
  smf_writer_close(writer);
  leave(&place);
}
