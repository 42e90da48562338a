// Memory is refused at each request in turn, and counted. The linker sends the
// program's own requests here (--wrap), those of the libraries not.

#include "bytes.h"
#include "core/midi/smf_reader.h"
#include "core/midi/smf_writer.h"
#include "core/rng.h"

#include <criterion/criterion.h>
#include <unistd.h>

enum { N_PIECES = 64, NEVER = 1000000 };

void*
__real_malloc(size_t size);
void*
__real_calloc(size_t n, size_t size);
void*
__real_realloc(void* memory, size_t size);
void
__real_free(void* memory);
void*
__wrap_malloc(size_t size);
void*
__wrap_calloc(size_t n, size_t size);
void*
__wrap_realloc(void* memory, size_t size);
void
__wrap_free(void* memory);

// One process runs one test, so that these may stand here.
static struct {
  void*  memory;
  size_t size;
} pieces[N_PIECES];
static unsigned n_until_failure = NEVER;
static unsigned n_requests;
static size_t   n_bytes;
static size_t   n_bytes_most;

static bool
is_refused(void)
{
  ++n_requests;
  return n_requests > n_until_failure;
}

static void
forget(const void* const memory)
{
  for (unsigned i = 0; memory && i < N_PIECES; ++i) {
    if (pieces[i].memory == memory) {
      n_bytes -= pieces[i].size;
      pieces[i].memory = NULL;
    }
  }
}

static void*
remember(void* const memory, const size_t size)
{
  for (unsigned i = 0; memory && i < N_PIECES; ++i) {
    if (!pieces[i].memory) {
      pieces[i].memory = memory;
      pieces[i].size   = size;
      n_bytes += size;
      n_bytes_most = n_bytes > n_bytes_most ? n_bytes : n_bytes_most;
      return memory;
    }
  }
  return memory;
}

void*
__wrap_malloc(const size_t size)
{
  return is_refused() ? NULL : remember(__real_malloc(size), size);
}

void*
__wrap_calloc(const size_t n, const size_t size)
{
  return is_refused() ? NULL : remember(__real_calloc(n, size), n * size);
}

void*
__wrap_realloc(void* const memory, const size_t size)
{
  if (is_refused()) {
    return NULL;
  }
  forget(memory);
  return remember(__real_realloc(memory, size), size);
}

void
__wrap_free(void* const memory)
{
  forget(memory);
  __real_free(memory);
}

static void
refuse_after(const unsigned n)
{
  n_until_failure = n;
  n_requests      = 0;
  n_bytes_most    = n_bytes;
}

// Two tracks whose notes have to be sorted into each other.
static SmfWriter*
make_song(Status* const status, const unsigned n_notes)
{
  SmfWriter* writer = NULL;
  *status           = smf_writer_open(&writer, 1, 480, SMF_RUNNING_STATUS);
  if (*status) {
    return NULL;
  }
  for (unsigned track = 0; track < 2; ++track) {
    (void)smf_writer_track(writer, track ? "partner" : "player");
    for (unsigned i = 0; i < n_notes; ++i) {
      smf_writer_note(writer,
                      (SmfNote){.tick     = i * 100 + track * 10,
                                .length   = 90,
                                .pitch    = (i % 128) & 0x7FU,
                                .velocity = 64,
                                .track    = track & 1U});
    }
  }
  return writer;
}

Test(smf_memory, is_not_needed_without_end)
{
  Status           status = STATUS_OK;
  SmfWriter* const writer = make_song(&status, 3000);
  const uint8_t*   bytes  = NULL;
  size_t           size   = 0;
  cr_assert_eq(smf_writer_bytes(writer, &bytes, &size), STATUS_OK);

  SmfTake      take = {0};
  Fault        fault;
  const size_t before = n_bytes;
  refuse_after(NEVER);
  cr_assert_eq(smf_read(&take, bytes, size, SMF_US_PER_QUARTER, &fault),
               STATUS_OK);
  cr_assert_eq(take.n_notes, 6000);
  cr_assert_leq(n_bytes_most - before, 16 * take.n_events + size);
  smf_free(&take);
  cr_assert_eq(n_bytes, before);
  smf_writer_close(writer);
  cr_assert_eq(n_bytes, 0);
}

Test(smf_memory, refused_while_reading_leaves_nothing)
{
  Status           status = STATUS_OK;
  SmfWriter* const writer = make_song(&status, 50);
  char             path[] = "/tmp/test_smf_memory.XXXXXX";
  Fault            fault;
  (void)close(mkstemp(path));
  cr_assert_eq(smf_writer_save(writer, path, &fault), STATUS_OK);
  smf_writer_close(writer);
  cr_assert_eq(n_bytes, 0);

  unsigned n = 0;
  status     = STATUS_MEMORY;
  for (; status; ++n) {
    SmfTake take = {0};
    refuse_after(n);
    status = smf_load(&take, path, SMF_US_PER_QUARTER, &fault);
    if (status) {
      cr_assert_eq(status, STATUS_MEMORY);
      cr_assert_str_eq(fault.file, path);
      cr_assert_null(take.notes);
    } else {
      cr_assert_eq(take.n_notes, 100);
      smf_free(&take);
    }
    cr_assert_eq(n_bytes, 0, "after %u requests", n);
  }
  cr_assert_gt(n, 4, "the file, the lists, room to sort; then none is refused");
  (void)remove(path);
}

Test(smf_memory, refused_while_writing_leaves_nothing)
{
  unsigned n      = 0;
  Status   status = STATUS_MEMORY;
  for (; status; ++n) {
    refuse_after(n);
    SmfWriter* const writer = make_song(&status, 300);
    const uint8_t*   bytes  = NULL;
    size_t           size   = 0;
    if (writer) {
      status = smf_writer_bytes(writer, &bytes, &size);
      smf_writer_close(writer);
    }
    cr_assert(status == STATUS_OK || status == STATUS_MEMORY);
    cr_assert_eq(n_bytes, 0, "after %u requests", n);
  }
  cr_assert_gt(n, 5);
}

// The most for the bytes: an event of two bytes takes 16, half of that again
// while its list grows or is sorted, and a text its own bytes; a short list has
// room for some records more.
static void
check_bound(const uint8_t* const bytes, const size_t size)
{
  SmfTake take = {0};
  Fault   fault;
  refuse_after(NEVER);
  if (!smf_read(&take, bytes, size, SMF_US_PER_QUARTER, &fault)) {
    smf_free(&take);
  }
  cr_assert_leq(n_bytes_most, 13 * size + 1024);
  cr_assert_eq(n_bytes, 0);
}

Test(smf_memory, does_not_believe_lies)
{
  static const char* const lies[] = {
    // 65535 tracks
    "4D 54 68 64 00 00 00 06 00 01 FF FF 00 60 4D 54 72 6B 00 00 00 04 "
    "00 FF 2F 00",
    // A track of 4 GiB
    "4D 54 68 64 00 00 00 06 00 00 00 01 00 60 4D 54 72 6B FF FF FF FF "
    "00 FF 2F 00",
    // A text of 256 MiB, and sysex
    "4D 54 68 64 00 00 00 06 00 00 00 01 00 60 4D 54 72 6B 00 00 00 0C "
    "00 C0 00 00 FF 01 FF FF FF 7F 61 62",
    "4D 54 68 64 00 00 00 06 00 00 00 01 00 60 4D 54 72 6B 00 00 00 0A "
    "00 C0 00 00 F0 FF FF FF 7F 61",
  };
  for (size_t i = 0; i < sizeof(lies) / sizeof(*lies); ++i) {
    const Bytes bytes = bytes_of(lies[i]);
    check_bound(bytes.bytes, bytes.size);
  }
}

Test(smf_memory, is_bounded_for_any_bytes)
{
  const Bytes whole = bytes_of(RP001_FORMAT_1);
  Rng         rng   = rng_seed(99, 1);
  for (unsigned i = 0; i < 2000; ++i) {
    Bytes bytes = whole;
    for (unsigned change = 0; change < 4; ++change) {
      const uint32_t at = 12 + rng_below(&rng, (uint32_t)whole.size - 12);
      bytes.bytes[at]   = (uint8_t)rng_next(&rng);
    }
    check_bound(bytes.bytes, bytes.size);
  }
}
