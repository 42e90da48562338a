// Files that others made: test files of general MIDI libraries with what their
// sources say of them, real playing, and the music of a Debian package. They
// lie outside the project, in the folder that BARTER_TAKES names.

#include "core/midi/smf_reader.h"
#include "support/table.h"

#include <criterion/criterion.h>
#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>

#define OPENMSX "/usr/share/games/openttd/baseset/openmsx"

enum { ANY_NUMBER = -1, PATH_CAPACITY = 1024 };

typedef enum {
  IS_READ,    // Read, with the right number of notes
  IS_NOT_OK,  // Read with a warning, or refused
  IS_REFUSED, // Refused
} Treatment;

// Of the files made for the index: what good sense asks for. The number of
// notes, and how long each lasts if all last equally long.
static const struct {
  const char* name;
  Treatment   treatment;
  int         n_notes;
  unsigned    length;
} made[] = {
  {"smpte-24x40.mid", IS_READ, 8, 960},
  {"smpte-25x40.mid", IS_READ, 8, 960},
  {"smpte-29x80.mid", IS_READ, 8, 929}, // 0.4838 s at 120 bpm
  {"smpte-30x80.mid", IS_READ, 8, 960},
  {"smpte-25x40-with-tempo.mid", IS_READ, 8, 960},
  {"smpte-res0.mid", IS_REFUSED, 0, 0},
  {"division-0.mid", IS_REFUSED, 0, 0},
  {"division-32767.mid", IS_READ, 8, 960},
  {"varlen-5-bytes.mid", IS_NOT_OK, 0, 0},
  {"varlen-endless.mid", IS_NOT_OK, 0, 0},
  {"track-length-ffffffff.mid", IS_NOT_OK, 8, 960},
  {"tracks-65535-one-present.mid", IS_NOT_OK, 8, 960},
  {"meta-runs-past-end.mid", IS_NOT_OK, 8, 960},
  {"tempo-0.mid", IS_NOT_OK, 8, 960},
  {"tempo-length-2.mid", IS_NOT_OK, 8, 960},
  {"timesig-0-over-2pow255.mid", IS_NOT_OK, 8, 960},
  {"note-on-velocity-0.mid", IS_READ, 3, 960},
  {"note-hanging.mid", IS_NOT_OK, 2, 0},
  {"note-off-without-on.mid", IS_NOT_OK, 1, 960},
  {"note-same-pitch-twice.mid", IS_READ, 2, 960},
  {"all-at-tick-0.mid", IS_READ, 128, 1},
  {"delta-max-sum-overflow.mid", IS_READ, 16, 2684354550}, // 0FFFFFFF hex of 96
  {"running-status-across-tracks.mid", IS_NOT_OK, 1, 960},
  {"format-2-two-patterns.mid", IS_REFUSED, 0, 0},
  {"header-length-10.mid", IS_READ, 8, 960},
  {"crlf-damaged.mid", IS_NOT_OK, ANY_NUMBER, 0},
};

// Files whose sources have them read, and which are warned of all the same, or
// treated otherwise, for a reason.
static const struct {
  const char* name;
  Treatment   treatment;
  const char* reason;
} exceptions[] = {
  {"Unknown-Chunk-Id-189.mid", IS_REFUSED, "its one chunk is no track"},
  {"Extra-Track-Chunk-091.mid", IS_NOT_OK, "a track, and none announced"},
  {"valid-MultiTrack-Small-211.mid", IS_NOT_OK, "it has no track at all"},
  {"valid-SingleTrack-Middle-216.mid", IS_NOT_OK, "2 ends without a note"},
  {"valid-SingleTrack-Middle-217.mid", IS_NOT_OK, "72 ends without a note"},
  {"test-running-status-metaevent.mid", IS_NOT_OK, "forbidden by RP-001"},
  {"test-running-status-sysex.mid", IS_NOT_OK, "forbidden by RP-001"},
  {"test-corrupt-file-extra-byte.mid", IS_NOT_OK, "a byte too many"},
  {"test-corrupt-file-missing-byte.mid", IS_NOT_OK, "a byte too few"},
  {"track-events--0x08-NoteOff.mid", IS_NOT_OK, "an end without a note"},
  {"Levels.mid", IS_NOT_OK, "a meter of 0 bytes"},
  {"test04.mid", IS_NOT_OK, "19 tracks, 18 announced"},
};

static const char*
base_name(const char* const path)
{
  const char* const slash = strrchr(path, '/');
  return slash ? slash + 1 : path;
}

static bool
holds(const char* const text, const char* const word)
{
  return strstr(text, word) != NULL;
}

// Format 2 is refused by design; a source that reads it is no objection.
static Treatment
treatment_of(const char* const name,
             const char* const structure,
             const char* const expected)
{
  for (size_t i = 0; i < sizeof(made) / sizeof(*made); ++i) {
    if (!strcmp(made[i].name, name)) {
      return made[i].treatment;
    }
  }
  for (size_t i = 0; i < sizeof(exceptions) / sizeof(*exceptions); ++i) {
    if (!strcmp(exceptions[i].name, name)) {
      return exceptions[i].treatment;
    }
  }
  if (holds(structure, "format 2;") || holds(structure, "no MThd") ||
      holds(structure, "not an SMF") || holds(structure, "zero bytes")) {
    return IS_REFUSED;
  }
  if (holds(expected, "without error")) {
    return IS_READ;
  }
  static const char* const words[] = {
    "error", "fail", "refuse", "invalid", "illegal", "not allowed"};
  for (size_t i = 0; i < sizeof(words) / sizeof(*words); ++i) {
    if (holds(expected, words[i])) {
      return IS_NOT_OK;
    }
  }
  return IS_READ;
}

// The number of notes to be found, if there is anything to go by. The general
// library's count is taken where the source has the file read.
static int
notes_of(const char* const name,
         const char* const expected,
         const char* const observed)
{
  for (size_t i = 0; i < sizeof(made) / sizeof(*made); ++i) {
    if (!strcmp(made[i].name, name)) {
      return made[i].n_notes;
    }
  }
  int n = ANY_NUMBER;
  if (holds(expected, "C-Major scale") && holds(observed, "raises")) {
    return 8; // One octave
  }
  if (!holds(observed, "reads: 0 tracks") &&
      (treatment_of(name, "", expected) == IS_READ ||
       !strncmp(expected, "reads", 5))) {
    (void)sscanf(observed, "reads: %*d tracks, %d note-ons", &n);
  }
  return n;
}

// Both ends are rounded, so that a length may be one tick off.
static void
check_lengths(const char* const name, const SmfTake* const take)
{
  for (size_t i = 0; i < sizeof(made) / sizeof(*made); ++i) {
    if (!strcmp(made[i].name, name) && made[i].length) {
      for (size_t note = 0; note < take->n_notes; ++note) {
        const long off = (long)take->notes[note].length - (long)made[i].length;
        cr_expect_leq(labs(off), 1, "%s: %ld too long", name, off);
      }
    }
  }
}

static void
check_file(const char* const path, const Treatment treatment, const int n_notes)
{
  SmfTake      take = {0};
  Fault        fault;
  char         line[FAULT_TEXT_CAPACITY];
  const Status status = smf_load(&take, path, SMF_US_PER_QUARTER, &fault);
  if (status) {
    cr_expect_neq(treatment,
                  IS_READ,
                  "refused: %s",
                  fault_text(&fault, line, sizeof(line)));
    return;
  }

  cr_expect_neq(treatment, IS_REFUSED, "%s: is read", path);
  cr_expect_eq(take.warnings.n_found > 0,
               treatment == IS_NOT_OK,
               "%s: %zu warnings: %s",
               path,
               take.warnings.n_found,
               take.warnings.items[0].text);
  if (n_notes != ANY_NUMBER) {
    cr_expect_eq(take.n_notes,
                 (size_t)n_notes,
                 "%s: %zu notes, not %d",
                 path,
                 take.n_notes,
                 n_notes);
  }
  check_lengths(base_name(path), &take);
  smf_free(&take);
}

static const char*
takes_folder(void)
{
  const char* const folder = getenv("BARTER_TAKES");
  if (!folder) {
    cr_skip_test("BARTER_TAKES is not set: it names the folder of takes");
  }
  return folder;
}

Test(smf_takes,
     of_general_libraries_are_treated_as_their_sources_say,
     .timeout = 300)
{
  const char* const folder = takes_folder();
  char              path[PATH_CAPACITY];
  static Table      table;
  (void)snprintf(path, sizeof(path), "%s/parser/index.csv", folder);
  cr_assert(table_open(&table, path));
  unsigned n_files = 0;
  for (; table_next(&table); ++n_files) {
    const char* const file     = table_field(&table, "file");
    const char* const name     = base_name(file);
    const char* const expected = table_field(&table, "expected treatment");
    (void)snprintf(path, sizeof(path), "%s/%s", folder, file);
    check_file(
      path,
      treatment_of(name, table_field(&table, "structure (own scan)"), expected),
      notes_of(
        name, expected, table_field(&table, "observed with mido 1.2.10")));
  }
  table_close(&table);
  cr_assert_gt(n_files, 200);
}

static bool
is_midi(const char* const name)
{
  const char* const dot = strrchr(name, '.');
  return dot && !strcmp(dot, ".mid");
}

// Check every file of a folder; return how many there are, 0 without a folder.
static unsigned
check_folder(const char* const folder,
             void (*check)(const char* path, const char* name))
{
  DIR* const all = opendir(folder);
  unsigned   n   = 0;
  if (!all) {
    return 0;
  }
  for (const struct dirent* entry = NULL; (entry = readdir(all));) {
    if (is_midi(entry->d_name)) {
      char      path[PATH_CAPACITY];
      const int length =
        snprintf(path, sizeof(path), "%s/%s", folder, entry->d_name);
      cr_assert_lt(length, PATH_CAPACITY);
      check(path, entry->d_name);
      ++n;
    }
  }
  (void)closedir(all);
  return n;
}

static void
check_playing(const char* const path, const char* const name)
{
  (void)name;
  check_file(path, IS_READ, ANY_NUMBER);
}

Test(smf_takes, of_real_playing_are_read_without_a_warning, .timeout = 300)
{
  static const char* const kinds[] = {
    "fours", "solos", "hands", "rolls", "pop"};
  const char* const folder = takes_folder();
  for (size_t i = 0; i < sizeof(kinds) / sizeof(*kinds); ++i) {
    char path[PATH_CAPACITY];
    (void)snprintf(path, sizeof(path), "%s/%s", folder, kinds[i]);
    cr_assert_gt(check_folder(path, check_playing), 0, "%s is empty", path);
  }
}

// Count the notes that midicsv sees begin; -1 if it is not here.
static int
count_by_midicsv(const char* const path)
{
  char command[PATH_CAPACITY + 64];
  char line[4096];
  int  n = 0;
  (void)snprintf(command, sizeof(command), "timeout 10 midicsv '%s'", path);
  FILE* const output = popen(command, "r");
  cr_assert_not_null(output);
  while (fgets(line, sizeof(line), output)) {
    int velocity = 0;
    if (sscanf(line, "%*d, %*d, Note_on_c, %*d, %*d, %d", &velocity) == 1) {
      n += velocity > 0;
    }
  }
  const int status = pclose(output);
  return WIFEXITED(status) && WEXITSTATUS(status) == 127 ? ANY_NUMBER : n;
}

// Two files of the package are at fault: an end on the key beside the one
// struck, and ends before anything has been struck (as midicsv shows them).
static void
check_openmsx(const char* const path, const char* const name)
{
  const bool is_faulty =
    !strcmp(name, "chuggachugga.mid") || !strcmp(name, "keep_on_rolling.mid");
  check_file(path, is_faulty ? IS_NOT_OK : IS_READ, count_by_midicsv(path));
}

Test(smf_takes, of_openmsx_are_read, .timeout = 300)
{
  if (!check_folder(OPENMSX, check_openmsx)) {
    cr_skip_test("the package openttd-openmsx is not here");
  }
}
