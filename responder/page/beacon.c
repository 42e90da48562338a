#include "responder/page/beacon.h"

#include "core/files/file.h"
#include "core/files/folder.h"
#include "core/time/monotonic.h"

#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

enum {
  STEP_MS     = 20,
  SIGNAL_MS   = 400,  ///< Until one that was told to end knows it
  PATIENCE_MS = 15000 ///< For one that is ending
};

typedef enum { DARK, DIM, LIT } Light;

static bool
name_file(char path[FILE_PATH_CAPACITY], const bool makes)
{
  Fault fault;
  return !folder_of_data("", path, &fault) &&
         (!makes || !folder_make(path, &fault)) &&
         !folder_of_data("page-address", path, &fault);
}

// A lock goes with its program, however that ends; a file may stay
static bool
lock(const int file)
{
  struct flock whole = {.l_type = F_WRLCK, .l_whence = SEEK_SET};
  return fcntl(file, F_SETLK, &whole) == 0;
}

static bool
is_locked(const int file)
{
  struct flock whole = {.l_type = F_WRLCK, .l_whence = SEEK_SET};
  return fcntl(file, F_GETLK, &whole) == 0 && whole.l_type != F_UNLCK;
}

int
beacon_light(const char* const address)
{
  char         path[FILE_PATH_CAPACITY];
  const size_t size = strlen(address);
  const int    file =
    name_file(path, true)
         ? open(path, O_RDWR | O_CREAT | O_CLOEXEC | O_NOFOLLOW, S_IRUSR | S_IWUSR)
         : -1;
  if (file >= 0 && lock(file) && ftruncate(file, 0) == 0 &&
      write(file, address, size) == (ssize_t)size) {
    return file;
  }
  if (file >= 0) { // A second start would be a page of its own
    (void)close(file);
  }
  return BEACON_NONE;
}

void
beacon_dim(const int beacon)
{
  if (beacon != BEACON_NONE) {
    (void)!ftruncate(beacon, 0);
  }
}

void
beacon_put_out(const int beacon)
{
  char path[FILE_PATH_CAPACITY];
  if (beacon != BEACON_NONE) {
    if (name_file(path, false)) {
      (void)unlink(path);
    }
    (void)close(beacon);
  }
}

static bool
is_address(const char* const text)
{
  char rest = '\0';
  return sscanf(text, "http://127.0.0.1:%*5u/%c", &rest) == 1 && rest == '#';
}

static Light
look(char address[PAGE_ADDRESS_CAPACITY])
{
  char      path[FILE_PATH_CAPACITY];
  const int file =
    name_file(path, false) ? open(path, O_RDONLY | O_CLOEXEC | O_NOFOLLOW) : -1;
  if (file < 0) {
    return DARK;
  }
  const bool    is_held = is_locked(file);
  const ssize_t n       = read(file, address, PAGE_ADDRESS_CAPACITY - 1);
  (void)close(file);
  address[n > 0 ? n : 0] = '\0';
  return !is_held ? DARK : is_address(address) ? LIT : DIM;
}

bool
beacon_find(char address[PAGE_ADDRESS_CAPACITY])
{
  Light light = look(address);
  if (light == LIT) {
    monotonic_sleep_ms(SIGNAL_MS);
    light = look(address);
  }
  for (unsigned ms = 0; light == DIM && ms < PATIENCE_MS; ms += STEP_MS) {
    monotonic_sleep_ms(STEP_MS);
    light = look(address);
  }
  return light == LIT;
}
