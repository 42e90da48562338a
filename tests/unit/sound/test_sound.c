#include "core/sound/sound.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>
#include <dirent.h>
#include <fcntl.h>
#include <math.h>
#include <poll.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

enum { HEADER_SIZE = 44, N_LONGEST = 4 << 20 };

typedef struct {
  size_t         size;
  unsigned char* bytes;
} File;

/// A folder of its own for one test.
static char folder[64];

static void
make_folder(void)
{
  strcpy(folder, "/tmp/test_sound.XXXXXX");
  cr_assert_not_null(mkdtemp(folder));
}

static const char*
path_of(const char* const name)
{
  static char path[128];
  snprintf(path, sizeof(path), "%s/%s", folder, name);
  return path;
}

static void
remove_folder(void)
{
  static const char* const names[] = {"a.wav", "a.wav.part", "b.wav", "x.sf2"};
  for (size_t i = 0; i < sizeof(names) / sizeof(*names); ++i) {
    (void)remove(path_of(names[i]));
  }
  (void)rmdir(folder);
}

static unsigned
count_files(void)
{
  DIR* const directory = opendir(folder);
  cr_assert_not_null(directory);
  unsigned n_files = 0;
  for (struct dirent* entry = NULL; (entry = readdir(directory));) {
    n_files += entry->d_name[0] != '.';
  }
  closedir(directory);
  return n_files;
}

TestSuite(sound, .init = make_folder, .fini = remove_folder);

static File
read_file(const char* const path)
{
  FILE* const file = fopen(path, "rb");
  cr_assert_not_null(file, "%s", path);
  File read = {0, malloc(N_LONGEST)};
  read.size = fread(read.bytes, 1, N_LONGEST, file);
  fclose(file);
  return read;
}

static unsigned
u16_at(const File file, const size_t at)
{
  return file.bytes[at] | (unsigned)file.bytes[at + 1] << 8;
}

static uint32_t
u32_at(const File file, const size_t at)
{
  return u16_at(file, at) | (uint32_t)u16_at(file, at + 2) << 16;
}

/// Return the greatest absolute sample of frames from..to - 1.
static int
peak_of(const File file, const uint32_t from, const uint32_t to)
{
  int peak = 0;
  for (size_t at = HEADER_SIZE + 4U * (size_t)from;
       at < HEADER_SIZE + 4U * (size_t)to;
       at += 2) {
    const int sample = (int16_t)u16_at(file, at);
    peak             = abs(sample) > peak ? abs(sample) : peak;
  }
  return peak;
}

/// Half a second of silence, a chord on a piano with a bass and a cymbal below
/// it, half a second long.
static const SoundEvent chord[] = {
  {0, 0xC0, 0, 0},
  {0, 0xC1, 32, 0},
  {0, 0xB0, 7, 100},
  {500000, 0x90, 60, 90},
  {500000, 0x90, 64, 90},
  {500000, 0x90, 67, 90},
  {500000, 0x91, 36, 90},
  {500000, 0x99, 49, 90},
  {1000000, 0x80, 60, 0},
  {1000000, 0x80, 64, 0},
  {1000000, 0x80, 67, 0},
  {1000000, 0x81, 36, 0},
};
enum { N_CHORD = sizeof(chord) / sizeof(*chord) };

/// The one that gives the same on every machine.
static const SoundFont small_font = {NULL, "TimGM6mb.sf2"};

static SoundReport
render(const char* const name, const SoundEvent* const events, const size_t n)
{
  SoundReport  report = {0};
  Fault        fault  = {0};
  const Status status =
    sound_render(path_of(name), events, n, small_font, NULL, &report, &fault);
  cr_assert_eq(status, STATUS_OK, "%s: %s", fault.file, fault.text);
  return report;
}

// The fields: Multimedia Programming Interface and Data Specifications 1.0,
// chapter 3 (from memory).
Test(sound, writes_a_wav_header)
{
  render("a.wav", chord, N_CHORD);
  const File wav = read_file(path_of("a.wav"));

  cr_assert_eq(memcmp(wav.bytes, "RIFF", 4), 0);
  cr_assert_eq(u32_at(wav, 4), wav.size - 8);
  cr_assert_eq(memcmp(wav.bytes + 8, "WAVEfmt ", 8), 0);
  cr_assert_eq(u32_at(wav, 16), 16);
  cr_assert_eq(u16_at(wav, 20), 1, "PCM");
  cr_assert_eq(u16_at(wav, 22), 2, "channels");
  cr_assert_eq(u32_at(wav, 24), 44100, "frames a second");
  cr_assert_eq(u32_at(wav, 28), 176400, "bytes a second");
  cr_assert_eq(u16_at(wav, 32), 4, "bytes a frame");
  cr_assert_eq(u16_at(wav, 34), 16, "bits a sample");
  cr_assert_eq(memcmp(wav.bytes + 36, "data", 4), 0);
  cr_assert_eq(u32_at(wav, 40), wav.size - 44);
  free(wav.bytes);
}

Test(sound, lasts_as_long_as_its_events_and_a_tail)
{
  const SoundReport report = render("a.wav", chord, N_CHORD);
  const File        wav    = read_file(path_of("a.wav"));

  const uint32_t wanted = 44100U * 5U / 2U; // 1 s and 1.5 s
  cr_assert_geq(report.n_frames, wanted);
  cr_assert_lt(report.n_frames, wanted + SOUND_STEP);
  cr_assert_eq(wav.size, 44U + 4U * (size_t)report.n_frames);
  free(wav.bytes);
}

Test(sound, sounds_when_it_should_and_fades_out)
{
  const SoundReport report = render("a.wav", chord, N_CHORD);
  const File        wav    = read_file(path_of("a.wav"));

  const uint32_t onset = 22050;
  cr_assert_eq(peak_of(wav, 0, onset - SOUND_STEP), 0);
  // A cymbal's stroke is loud at once: within 5 ms
  cr_assert_gt(peak_of(wav, onset, onset + 220), 300);
  cr_assert_leq(peak_of(wav, report.n_frames - 44, report.n_frames), 3);
  free(wav.bytes);
}

Test(sound, gives_the_same_bytes_again)
{
  render("a.wav", chord, N_CHORD);
  render("b.wav", chord, N_CHORD);
  const File a = read_file(path_of("a.wav"));
  const File b = read_file(path_of("b.wav"));
  cr_assert_eq(a.size, b.size);
  cr_assert_eq(memcmp(a.bytes, b.bytes, a.size), 0);
  free(a.bytes);
  free(b.bytes);
}

Test(sound, raises_no_warning)
{
  const SoundReport report = render("a.wav", chord, N_CHORD);
  cr_assert_str_empty(report.remark);
}

// A church organ (General MIDI program 20, from memory) sounds on for ever.
Test(sound, lets_go_of_what_was_not_released)
{
  const SoundEvent held[] = {
    {0, 0xC0, 19, 0}, {0, 0x90, 60, 100}, {900000, 0xB0, 1, 0}};
  const SoundReport report = render("a.wav", held, 3);
  const File        wav    = read_file(path_of("a.wav"));
  // 0.9 s in the last event, 0.5 s later the fade alone leaves three quarters
  cr_assert_lt(10 * peak_of(wav, 61740, report.n_frames),
               peak_of(wav, 0, 39690));
  free(wav.bytes);
}

/// Whether at most 4 MiB of what was played is not on the disk yet, whenever
/// one looks; the context is whether it is so.
static bool
look_at_disk(void* const context, const double done)
{
  enum { FRAMES = 120 * SOUND_RATE, BYTES_PER_FRAME = 4, HELD = 4 << 20 };
  bool* const    is_so     = context;
  struct stat    part      = {.st_size = 0};
  DIR* const     directory = opendir(folder);
  struct dirent* entry     = NULL;
  while ((entry = readdir(directory)) && entry->d_name[0] == '.') {
  }
  if (entry) {
    (void)stat(path_of(entry->d_name), &part);
  }
  closedir(directory);
  *is_so = *is_so && (double)part.st_size + HELD >=
                       done * (double)FRAMES * BYTES_PER_FRAME;
  return true;
}

// Two minutes: 20 MiB of sound.
Test(sound, is_written_as_it_is_played)
{
  const SoundEvent far_apart[] = {{0, 0x90, 60, 90}, {118500000, 0x80, 60, 0}};
  bool             is_so       = true;
  const Watch      watch       = {look_at_disk, &is_so};
  SoundReport      report;
  Fault            fault;
  cr_assert_eq(
    sound_render(
      path_of("a.wav"), far_apart, 2, small_font, &watch, &report, &fault),
    STATUS_OK);
  cr_assert(is_so);
}

// As loud as it gets: every key of every channel at once.
Test(sound, never_clips)
{
  static SoundEvent wall[16 * 128];
  for (unsigned i = 0; i < 16 * 128; ++i) {
    wall[i] =
      (SoundEvent){0, (uint8_t)(0x90 | i / 128), (uint8_t)(i % 128), 127};
  }
  const SoundReport report = render("a.wav", wall, 16 * 128);
  const File        wav    = read_file(path_of("a.wav"));
  cr_assert_gt(report.peak, 0.8F, "this would have clipped");
  cr_assert_lt(peak_of(wav, 0, report.n_frames), 0.891 * 32767.0, "1 dB below");
  free(wav.bytes);
}

Test(sound, keeps_a_hush_a_hush)
{
  const SoundEvent hush[] = {
    {0, 0xB0, 7, 50}, {0, 0x90, 60, 30}, {500000, 0x90, 60, 0}};
  const SoundReport report = render("a.wav", hush, 3);
  const File        wav    = read_file(path_of("a.wav"));
  cr_assert_gt(peak_of(wav, 0, report.n_frames), 3);
  cr_assert_lt(peak_of(wav, 0, report.n_frames), 3000);
  free(wav.bytes);
}

Test(sound, gives_silence_for_no_events)
{
  const SoundReport report = render("a.wav", NULL, 0);
  const File        wav    = read_file(path_of("a.wav"));
  cr_assert_geq(report.n_frames, 66150U, "the tail");
  cr_assert_eq(peak_of(wav, 0, report.n_frames), 0);
  free(wav.bytes);
}

/// The loudness of one note after controller 7; GM level 1 (from memory):
/// amplitude goes with the square of the controller, so 64 of 127 is -12 dB.
static double
level_at(const uint8_t volume)
{
  const SoundEvent events[] = {
    {0, 0xB0, 7, volume}, {0, 0x90, 60, 64}, {400000, 0x80, 60, 0}};
  return render("a.wav", events, 3).peak;
}

Test(sound, obeys_the_volume_controller)
{
  cr_assert_float_eq(20.0 * log10(level_at(64) / level_at(127)), -12.0, 1.0);
}

Test(sound, plays_drums_on_channel_ten_only)
{
  // Key 42 is the closed hi-hat there (General MIDI level 1, from memory)
  const SoundEvent drum[]  = {{0, 0x99, 42, 100}, {200000, 0x89, 42, 0}};
  const SoundEvent piano[] = {{0, 0x90, 42, 100}, {200000, 0x80, 42, 0}};
  render("a.wav", drum, 2);
  render("b.wav", piano, 2);
  const File a = read_file(path_of("a.wav"));
  const File b = read_file(path_of("b.wav"));

  // In 0.15 s of noise the sign changes far more often than in a low tone's
  unsigned crossings[2] = {0, 0};
  for (size_t at = HEADER_SIZE; at < HEADER_SIZE + 4U * 6615U; at += 4) {
    crossings[0] += (u16_at(a, at) ^ u16_at(a, at + 4)) >> 15 & 1U;
    crossings[1] += (u16_at(b, at) ^ u16_at(b, at + 4)) >> 15 & 1U;
  }
  cr_assert_gt(crossings[0], 4 * crossings[1]);
  free(a.bytes);
  free(b.bytes);
}

typedef struct {
  char       name[40];
  SoundEvent events[2];
  char       says[40];
} WrongRow;

ParameterizedTestParameters(sound, refuses_wrong_events)
{
  static WrongRow rows[] = {
    {"before the start", {{-1, 0x90, 60, 64}, {0, 0x80, 60, 0}}, "event 0"},
    {"out of order", {{10, 0x90, 60, 64}, {9, 0x80, 60, 0}}, "outside 10.."},
    {"beyond six hours",
     {{0, 0x90, 60, 64}, {21600000001, 0x80, 60, 0}},
     "event 1"},
    {"no status", {{0, 0x90, 60, 64}, {1, 0x40, 60, 0}}, "40 3c 00"},
    {"a system message", {{0, 0xF8, 0, 0}, {1, 0x80, 60, 0}}, "f8"},
    {"a key too high", {{0, 0x90, 128, 64}, {1, 0x80, 60, 0}}, "90 80 40"},
    {"too hard", {{0, 0x90, 60, 128}, {1, 0x80, 60, 0}}, "90 3c 80"},
  };
  return cr_make_param_array(WrongRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(WrongRow* row, sound, refuses_wrong_events)
{
  SoundReport report;
  Fault       fault;
  cr_assert_eq(
    sound_render(
      path_of("a.wav"), row->events, 2, small_font, NULL, &report, &fault),
    STATUS_RANGE,
    "%s",
    row->name);
  cr_assert_not_null(
    strstr(fault.text, row->says), "%s: %s", row->name, fault.text);
  cr_assert_neq(access(path_of("a.wav"), F_OK), 0);
}

static Fault
refused(const Status status, const char* const wav, const char* const font)
{
  SoundReport report;
  Fault       fault = {0};
  cr_assert_eq(sound_render(wav,
                            chord,
                            N_CHORD,
                            (SoundFont){font, "TimGM6mb.sf2"},
                            NULL,
                            &report,
                            &fault),
               status);
  cr_assert_eq(fault.status, status);
  return fault;
}

Test(sound, says_what_to_install)
{
  setenv("XDG_DATA_HOME", folder, 1);
  setenv("XDG_DATA_DIRS", folder, 1);
  char wav[128];
  strcpy(wav, path_of("a.wav"));
  const Fault fault = refused(STATUS_MISSING, wav, NULL);
  cr_assert_not_null(strstr(fault.text, "TimGM6mb.sf2"));
  cr_assert_not_null(strstr(fault.text, "timgm6mb-soundfont"));
  cr_assert_not_null(strstr(fault.text, "--soundfont"));
}

/// Put a whole font of no sounds into a folder below the test's.
static void
put_font(const char* const name)
{
  static const char head[] = "RIFF\x04\x00\x00\x00sfbk";
  FILE* const       file   = fopen(path_of(name), "wb");
  cr_assert_not_null(file);
  fwrite(head, 1, 12, file);
  fclose(file);
}

Test(sound, takes_the_first_font_of_a_list)
{
  char  path[SOUNDFONT_PATH_CAPACITY];
  char  wanted[128];
  Fault fault;
  setenv("XDG_DATA_HOME", folder, 1);
  setenv("XDG_DATA_DIRS", folder, 1);
  cr_assert_eq(mkdir(path_of("soundfonts"), 0700), 0);
  put_font("soundfonts/b.sf2");
  put_font("soundfonts/c.sf3");
  strcpy(wanted, path_of("soundfonts/b.sf2"));
  const SoundFont fonts[] = {{NULL, "a.sf2,b.sf2,c.sf3"}, {wanted, "c.sf3"}};
  for (unsigned i = 0; i < 2; ++i) {
    cr_assert_eq(soundfont_find(fonts[i], path, &fault), STATUS_OK);
    cr_assert_str_eq(path, wanted);
  }
  remove(path_of("soundfonts/b.sf2"));
  cr_assert_eq(soundfont_find(fonts[0], path, &fault), STATUS_OK);
  cr_assert_str_eq(path, path_of("soundfonts/c.sf3"));
  remove(path_of("soundfonts/c.sf3"));
  rmdir(path_of("soundfonts"));
}

Test(sound, names_the_font_that_is_not_there)
{
  const Fault fault = refused(STATUS_MISSING, "never.wav", "no/such.sf2");
  cr_assert_str_eq(fault.file, "no/such.sf2");
}

/// Copy the first bytes of a font that is good, the head written over.
static void
make_font(const char* const head, const size_t size)
{
  FILE* const file = fopen(path_of("x.sf2"), "wb");
  cr_assert_not_null(file);
  fwrite(head, 1, size, file);
  fclose(file);
}

Test(sound, refuses_what_is_no_sound_font)
{
  make_font("MThd....whatever", 16);
  char font[128];
  strcpy(font, path_of("x.sf2"));
  const Fault fault = refused(STATUS_SYNTAX, "never.wav", font);
  cr_assert_not_null(strstr(fault.text, "not a sound font"));
}

Test(sound, refuses_half_a_sound_font)
{
  make_font("RIFF\x00\x10\x00\x00sfbkLIST", 16);
  char font[128];
  strcpy(font, path_of("x.sf2"));
  const Fault fault = refused(STATUS_SYNTAX, "never.wav", font);
  cr_assert_not_null(strstr(fault.text, "cut short"));
}

Test(sound, names_the_file_it_cannot_write)
{
  const Fault fault = refused(STATUS_SYSTEM, "no/such/folder/a.wav", NULL);
  cr_assert_str_eq(fault.file, "no/such/folder/a.wav");
  cr_assert_not_null(strstr(fault.text, "No such file"));
}

// A pipe or a device is written to, not replaced by a file of its name.
Test(sound, writes_into_a_pipe)
{
  const char* const path = path_of("a.wav");
  cr_assert_eq(mkfifo(path, 0600), 0);
  struct pollfd pipe = {open(path, O_RDONLY | O_NONBLOCK), POLLIN, 0};
  cr_assert_geq(pipe.fd, 0);
  const pid_t writer = fork();
  if (!writer) {
    render("a.wav", chord, N_CHORD);
    _exit(0);
  }

  size_t  n_bytes = 0;
  ssize_t n_read  = 0;
  char    bytes[4096];
  while (poll(&pipe, 1, 20000) == 1 &&
         (n_read = read(pipe.fd, bytes, sizeof(bytes))) > 0) {
    n_bytes += (size_t)n_read;
  }
  cr_assert_gt(n_bytes, 44U + 4U * 110250U);
  cr_assert_eq(waitpid(writer, NULL, 0), writer);
  close(pipe.fd);
}

// A full disk, by a limit on the size of files.
Test(sound, keeps_the_old_file_when_the_disk_is_full)
{
  render("a.wav", chord, N_CHORD);
  const File before = read_file(path_of("a.wav"));

  signal(SIGXFSZ, SIG_IGN);
  const struct rlimit limit = {100000, 100000};
  cr_assert_eq(setrlimit(RLIMIT_FSIZE, &limit), 0);
  char wav[128];
  strcpy(wav, path_of("a.wav"));
  const Fault fault = refused(STATUS_SYSTEM, wav, NULL);
  cr_assert_not_null(strstr(fault.text, "cannot be written"));

  cr_assert_eq(count_files(), 1, "something was left behind");

  const File after = read_file(wav);
  cr_assert_eq(before.size, after.size);
  cr_assert_eq(memcmp(before.bytes, after.bytes, before.size), 0);
  free(before.bytes);
  free(after.bytes);
}

// Who looks on, and stops it at some look

typedef struct {
  unsigned n_looks;
  unsigned stops_at;
  double   done;
} Onlooker;

static bool
look_on(void* const context, const double done)
{
  Onlooker* const onlooker = context;
  cr_assert(done >= onlooker->done && done <= 1.0, "%g", done);
  onlooker->done = done;
  return ++onlooker->n_looks != onlooker->stops_at;
}

Test(sound, can_be_stopped)
{
  Onlooker    onlooker = {.stops_at = 2};
  const Watch watch    = {look_on, &onlooker};
  SoundReport report;
  Fault       fault = {0};
  char        wav[128];
  (void)snprintf(wav, sizeof(wav), "%s", path_of("stopped.wav"));
  cr_assert_eq(
    sound_render(wav, chord, N_CHORD, small_font, &watch, &report, &fault),
    STATUS_STOPPED);
  cr_assert_eq(onlooker.n_looks, 2);
  cr_assert_neq(access(wav, F_OK), 0);

  onlooker = (Onlooker){.stops_at = 0};
  cr_assert_eq(
    sound_render(wav, chord, N_CHORD, small_font, &watch, &report, &fault),
    STATUS_OK);
  cr_assert_gt(onlooker.done, 0.5);
  cr_assert_eq(access(wav, F_OK), 0);
}
