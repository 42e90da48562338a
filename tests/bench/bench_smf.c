// How fast a MIDI file of 5 MiB is read, and how much memory that takes, beside
// other readers on the same file in the same run. Each reading is a fresh
// process with a time limit.

#include "beside_smf.h"
#include "core/midi/smf_reader.h"
#include "core/midi/smf_writer.h"
#include "core/rng.h"

#include <fcntl.h>
#include <stdbool.h>
#include <sys/wait.h>
#include <unistd.h>

#define MIB (1024.0 * 1024.0)

enum {
  N_TRACKS      = 8,      // With notes; the tempo track comes before them
  N_TRACK_NOTES = 102400, // On each, for the file of 5 MiB
  N_RUNS        = 5,
  LIMIT_S       = 30,
  DIVISION      = 480,
  TICKS_A_TEMPO = 64 * 4 * DIVISION, // 64 bars
  NOTES_A_PEDAL = 24,
  WARM_READS    = 7,
  SEED          = 5,
};

typedef struct {
  double seconds;
  double busy_seconds; // Of them, those that the processor worked
  double kib;
  double n_events;
} Reading;

static Tick
add_notes(SmfWriter* const song, const unsigned track, const unsigned n_notes)
{
  Rng  rng  = rng_seed(SEED, track);
  Tick tick = 0;
  for (unsigned i = 0; i < n_notes; ++i) {
    const uint32_t length = 20 + rng_below(&rng, 160);
    smf_writer_note(song,
                    (SmfNote){
                      .tick     = tick,
                      .length   = length,
                      .pitch    = (36 + rng_below(&rng, 60)) & 0x7FU,
                      .velocity = (40 + rng_below(&rng, 80)) & 0x7FU,
                      .channel  = (track - 1U) & 0xFU,
                      .track    = track & 0x3FFFU,
                    });
    if (i % NOTES_A_PEDAL == 0) {
      smf_writer_control(song,
                         (SmfControl){
                           .tick   = tick,
                           .track  = (uint16_t)track,
                           .status = (uint8_t)(SMF_CONTROL | (track - 1U)),
                           .data   = {64, i % 2 ? 127 : 0},
                         });
    }
    tick += rng_below(&rng, 4) ? length + rng_below(&rng, 20) : length / 2;
  }
  return tick;
}

static int
make_song(const char* const path, const unsigned n_notes)
{
  SmfWriter* song = NULL;
  if (smf_writer_open(
        &song, 1, DIVISION, SMF_RUNNING_STATUS | SMF_ENDS_AT_VELOCITY_0)) {
    return 1;
  }

  (void)smf_writer_track(song, "tempo");
  Tick end = 0;
  for (unsigned i = 0; i < N_TRACKS; ++i) {
    const unsigned track = smf_writer_track(song, "part");
    const Tick     last  = add_notes(song, track, n_notes);
    end                  = last > end ? last : end;
  }
  for (Tick tick = 0; tick < end; tick += TICKS_A_TEMPO) {
    const uint32_t drift = (uint32_t)(tick / TICKS_A_TEMPO % 7) * 1000;
    smf_writer_tempo(song, (SmfTempo){tick, SMF_US_PER_QUARTER + drift});
  }

  Fault        fault;
  const Status status = smf_writer_save(song, path, &fault);
  smf_writer_close(song);
  return status ? 1 : 0;
}

static int
read_once(const char* const path)
{
  SmfTake      take = {0};
  Fault        fault;
  Stopwatch    watch  = stopwatch_start();
  const Status status = smf_load(&take, path, SMF_US_PER_QUARTER, &fault);
  stopwatch_stop(&watch);
  if (status || take.warnings.n_found) {
    return 1;
  }
  stopwatch_print(&watch, take.n_events);
  smf_free(&take);
  return 0;
}

// The fastest of several readings, for comparing sizes with each other.
static int
read_warm(const char* const path)
{
  Stopwatch fastest  = {.busy_seconds = 1e9};
  size_t    n_events = 0;
  for (unsigned i = 0; i < WARM_READS; ++i) {
    SmfTake   take = {0};
    Fault     fault;
    Stopwatch watch = stopwatch_start();
    if (smf_load(&take, path, SMF_US_PER_QUARTER, &fault)) {
      return 1;
    }
    stopwatch_stop(&watch);
    fastest  = watch.busy_seconds < fastest.busy_seconds ? watch : fastest;
    n_events = take.n_events;
    smf_free(&take);
  }
  stopwatch_print(&fastest, n_events);
  return 0;
}

// Run a program in its own process; what it prints goes to `output`.
static bool
run(char* const* const argv, char* const output, const size_t size)
{
  int ends[2];
  if (pipe(ends)) {
    return false;
  }
  const pid_t child = fork();
  if (!child) {
    const int silent = open("/dev/null", O_WRONLY);
    (void)dup2(output ? ends[1] : silent, STDOUT_FILENO);
    (void)dup2(silent, STDERR_FILENO);
    (void)close(ends[0]);
    (void)alarm(LIMIT_S);
    (void)execvp(argv[0], argv);
    _exit(127);
  }

  (void)close(ends[1]);
  size_t n = 0;
  if (output) {
    for (ssize_t got = 1; got > 0 && n + 1 < size;
         n += got > 0 ? (size_t)got : 0) {
      got = read(ends[0], output + n, size - 1 - n);
    }
    output[n] = '\0';
  }
  (void)close(ends[0]);
  int status = 0;
  return child > 0 && waitpid(child, &status, 0) == child && status == 0;
}

static bool
measure(char* const* const argv, Reading* const reading)
{
  char text[128];
  return run(argv, text, sizeof(text)) && sscanf(text,
                                                 "%lf %lf %lf %lf",
                                                 &reading->seconds,
                                                 &reading->busy_seconds,
                                                 &reading->kib,
                                                 &reading->n_events) == 4;
}

// A program that knows nothing of being measured: its whole run counts.
static bool
measure_whole(char* const* const argv, Reading* const reading)
{
  const double start = seconds_of(CLOCK_MONOTONIC);
  const bool   done  = run(argv, NULL, 0);
  reading->seconds   = seconds_of(CLOCK_MONOTONIC) - start;
  return done;
}

static int
by_seconds(const void* const left, const void* const right)
{
  const Reading* const a = left;
  const Reading* const b = right;
  return (a->seconds > b->seconds) - (a->seconds < b->seconds);
}

// Sort the readings; the one in the middle speaks for them.
static bool
measure_all(char* const* const argv,
            const bool         is_whole,
            Reading* const     readings)
{
  for (unsigned i = 0; i < N_RUNS; ++i) {
    readings[i] = (Reading){0};
    if (!(is_whole ? measure_whole : measure)(argv, &readings[i])) {
      return false;
    }
  }
  qsort(readings, N_RUNS, sizeof(*readings), by_seconds);
  return true;
}

static void
print_row(const char* const row,
          const double      value,
          const char* const unit,
          const char* const must,
          const char* const beside)
{
  (void)printf("%s %.2f %s\n", row, value, unit);
  (void)printf("BENCH {\"row\":\"%s\",\"value\":%.3f,\"unit\":\"%s\","
               "\"must\":\"%s\",\"beside\":\"%s\"}\n",
               row,
               value,
               unit,
               must,
               beside);
}

// Add what another reader reaches to a text; say so if it is not there.
static void
add_other(char* const        beside,
          const size_t       size,
          const char* const  name,
          char* const* const argv,
          const double       mib)
{
  Reading      readings[N_RUNS];
  const bool   is_whole = !strcmp(name, "midicsv");
  const size_t n        = strlen(beside);
  if (measure_all(argv, is_whole, readings)) {
    const double speed = mib / readings[N_RUNS / 2].seconds;
    (void)snprintf(
      beside + n, size - n, "%s%s %.1f", n ? ", " : "", name, speed);
    (void)printf("smf-read-by-%s %.2f MiB/s\n", name, speed);
    if (!is_whole) {
      (void)printf("smf-read-busy-by-%s %.2f MiB/s\n",
                   name,
                   mib / readings[N_RUNS / 2].busy_seconds);
      (void)printf(
        "smf-memory-of-%s %.1f MiB\n", name, readings[N_RUNS / 2].kib / 1024.0);
    }
  } else {
    (void)snprintf(beside + n, size - n, "%s%s not here", n ? ", " : "", name);
  }
}

static void
other_readers(char* const  path,
              const double mib,
              char* const  beside,
              const size_t size)
{
  char* const csv[] = {"midicsv", path, "/dev/null", NULL};
#ifdef BESIDE_LIBSMF
  char* const libsmf[] = {BESIDE_LIBSMF, path, NULL};
  add_other(beside, size, "libsmf", libsmf, mib);
#endif
  char* const player[] = {BESIDE_FLUIDSYNTH, path, NULL};
  add_other(beside, size, "midicsv", csv, mib);
  add_other(beside, size, "fluidsynth", player, mib);
}

static double
ns_an_event(char* const program, char* const path, const unsigned n_notes)
{
  char        count[16];
  char* const make[] = {program, "make", path, count, NULL};
  char* const warm[] = {program, "warm", path, NULL};
  Reading     reading;
  (void)snprintf(count, sizeof(count), "%u", n_notes);
  return run(make, NULL, 0) && measure(warm, &reading)
           ? 1e9 * reading.busy_seconds / reading.n_events
           : -1.0;
}

static int
bench(char* const program, char* const path)
{
  char text[256];
  (void)snprintf(text,
                 sizeof(text),
                 "%.1f at a hundredth of the notes, %.1f at a tenth",
                 ns_an_event(program, path, N_TRACK_NOTES / 100),
                 ns_an_event(program, path, N_TRACK_NOTES / 10));
  print_row("smf-read-busy-an-event",
            ns_an_event(program, path, N_TRACK_NOTES),
            "ns",
            "grows linearly",
            text);

  FILE* const file  = fopen(path, "rb");
  char* const own[] = {program, "read", path, NULL};
  Reading     readings[N_RUNS];
  if (!file || fseek(file, 0, SEEK_END) || !measure_all(own, false, readings)) {
    (void)fprintf(stderr, "%s: cannot be measured\n", path);
    return 1;
  }
  const double   size = (double)ftell(file);
  const Reading* mid  = &readings[N_RUNS / 2];
  (void)fclose(file);

  char beside[256] = "";
  other_readers(path, size / MIB, beside, sizeof(beside));
  print_row("smf-read", size / MIB / mid->seconds, "MiB/s", ">= fluidsynth", beside);
  print_row("smf-read-slowest",
            size / MIB / readings[N_RUNS - 1].seconds,
            "MiB/s",
            "",
            "slowest of 5");
  print_row("smf-read-busy",
            size / MIB / mid->busy_seconds,
            "MiB/s",
            "",
            "by the time that the processor worked: for busy machines");
  (void)snprintf(text,
                 sizeof(text),
                 "the peak over what the process began with; the file's own "
                 "%.1f are in it",
                 size / mid->n_events);
  print_row("smf-read-memory",
            mid->kib * 1024.0 / mid->n_events,
            "bytes an event",
            "<= 16",
            text);
  (void)printf("smf-read-events %.0f events\n", mid->n_events);
  return 0;
}

int
main(const int argc, char** const argv)
{
  if (argc == 4 && !strcmp(argv[1], "make")) {
    return make_song(argv[2], (unsigned)strtoul(argv[3], NULL, 10));
  }
  if (argc == 3) {
    return !strcmp(argv[1], "warm") ? read_warm(argv[2]) : read_once(argv[2]);
  }

  char folder[] = "/tmp/bench_smf.XXXXXX";
  char path[sizeof(folder) + 16];
  if (!mkdtemp(folder)) {
    return 1;
  }
  (void)snprintf(path, sizeof(path), "%s/song.mid", folder);
  const int result = bench(argv[0], path);
  (void)remove(path);
  (void)rmdir(folder);
  return result;
}
