#include "core/files/file.h"

#include <errno.h>
#include <fcntl.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { LINKS_MOST = 8 }; ///< One after another

Status
file_fault(Fault* const fault, const char* const file, const char* const what)
{
  return fault_in(fault, STATUS_SYSTEM, file, "%s: %s", what, strerror(errno));
}

// Saving

/// Whether a path is there and must not be replaced by a plain file.
static bool
is_special(const char* const path)
{
  struct stat about;
  return stat(path, &about) == 0 && !S_ISREG(about.st_mode);
}

/// Go on to what a symbolic link names, so that it is not the link that is
/// replaced; stay where there is none, or none that fits.
static void
follow_links(char path[FILE_PATH_CAPACITY])
{
  for (unsigned i = 0; i < LINKS_MOST; ++i) {
    char          target[FILE_PATH_CAPACITY];
    char          next[FILE_PATH_CAPACITY];
    const ssize_t length = readlink(path, target, sizeof(target) - 1);
    if (length < 0) {
      return;
    }
    target[length]            = '\0';
    const char* const slash   = strrchr(path, '/');
    const bool        is_near = target[0] != '/' && slash;
    const int         whole   = snprintf(next,
                               sizeof(next),
                               "%.*s%s",
                               is_near ? (int)(slash - path) + 1 : 0,
                               path,
                               target);
    if (whole >= FILE_PATH_CAPACITY) {
      return;
    }
    (void)snprintf(path, FILE_PATH_CAPACITY, "%s", next);
  }
}

/// Write the name that a file has while it is written: in the same folder, and
/// no other process uses it.
static bool
name_part(FileSaving* const saving, const char* const path)
{
  const int  whole = snprintf(saving->path, sizeof(saving->path), "%s", path);
  const bool has_part = !is_special(path);
  if (has_part) {
    follow_links(saving->path);
  }
  const int part = !has_part ? 0
                             : snprintf(saving->part,
                                        sizeof(saving->part),
                                        "%s.%ld.part",
                                        saving->path,
                                        (long)getpid());
  return whole < FILE_PATH_CAPACITY && part < FILE_PATH_CAPACITY;
}

Status
file_begin(FileSaving* const saving,
           const char* const path,
           const FilePrivacy privacy,
           Fault* const      fault)
{
  FileSaving begun = {.stream = NULL};
  if (!name_part(&begun, path)) {
    return fault_say(fault, STATUS_SYSTEM, "the path is too long");
  }
  const char* const place = begun.part[0] ? begun.part : begun.path;
  const mode_t      mode  = privacy == FILE_PRIVATE ? 0600 : 0666;
  const int descriptor    = open(place, O_WRONLY | O_CREAT | O_TRUNC, mode);
  if (descriptor < 0) {
    return file_fault(fault, path, "cannot be written");
  }
  begun.stream = fdopen(descriptor, "wb");
  if (!begun.stream) {
    const int error = errno;
    (void)close(descriptor);
    return fault_in(
      fault, STATUS_SYSTEM, path, "cannot be written: %s", strerror(error));
  }
  errno   = 0; // What goes wrong with the stream from now on sets it
  *saving = begun;
  return STATUS_OK;
}

/// Bring what was written to the disk and close; 0 or what went wrong.
static int
finish(FileSaving* const saving)
{
  FILE* const stream  = saving->stream;
  const bool  is_good = !ferror(stream) && !fflush(stream) &&
                       (!saving->part[0] || !fsync(fileno(stream)));
  const int late  = errno ? errno : EIO;
  const int error = is_good ? 0 : saving->error ? saving->error : late;
  saving->stream  = NULL;
  return fclose(stream) && !error ? errno : error;
}

/// Bring the names of a folder to the disk; a file system that cannot is as
/// good as it gets.
static void
sync_folder_of(const char* const path)
{
  char              folder[FILE_PATH_CAPACITY];
  const char* const slash = strrchr(path, '/');
  (void)snprintf(folder,
                 sizeof(folder),
                 "%.*s",
                 slash ? (int)(slash - path) + 1 : 1,
                 slash ? path : ".");
  const int descriptor = open(folder, O_RDONLY);
  if (descriptor >= 0) {
    (void)fsync(descriptor);
    (void)close(descriptor);
  }
}

Status
file_end(FileSaving* const saving, Fault* const fault)
{
  int error = finish(saving);
  if (!error && saving->part[0] && rename(saving->part, saving->path)) {
    error = errno;
  }
  if (error) {
    if (saving->part[0]) {
      (void)remove(saving->part);
    }
    return fault_in(fault,
                    STATUS_SYSTEM,
                    saving->path,
                    "cannot be written: %s",
                    strerror(error));
  }
  sync_folder_of(saving->path);
  return STATUS_OK;
}

void
file_abandon(FileSaving* const saving)
{
  (void)fclose(saving->stream);
  saving->stream = NULL;
  if (saving->part[0]) {
    (void)remove(saving->part);
  }
}

Status
file_save(const char* const path,
          const void* const bytes,
          const size_t      size,
          const FilePrivacy privacy,
          Fault* const      fault)
{
  FileSaving   saving;
  const Status status = file_begin(&saving, path, privacy, fault);
  if (status) {
    return status;
  }
  // A short write marks the stream, which file_end() looks at
  (void)fwrite(bytes, 1, size, saving.stream);
  return file_end(&saving, fault);
}

// Loading

// Look before opening: to open a pipe would wait for its writer.
static Status
measure(const char* const path,
        const size_t      most,
        size_t* const     size,
        Fault* const      fault)
{
  struct stat about;
  if (stat(path, &about)) {
    return errno == ENOENT || errno == ENOTDIR
             ? fault_in(fault, STATUS_MISSING, path, "there is no such file")
             : file_fault(fault, path, "cannot be read");
  }
  if (!S_ISREG(about.st_mode)) {
    return fault_in(fault,
                    STATUS_RANGE,
                    path,
                    "is %s",
                    S_ISDIR(about.st_mode) ? "a directory" : "no plain file");
  }
  if ((uintmax_t)about.st_size > most) {
    return fault_in(fault,
                    STATUS_FULL,
                    path,
                    "has %jd bytes; at most %zu are read",
                    (intmax_t)about.st_size,
                    most);
  }
  *size = (size_t)about.st_size;
  return STATUS_OK;
}

Status
file_load(const char* const path,
          const size_t      most,
          char** const      bytes,
          size_t* const     size,
          Fault* const      fault)
{
  size_t       room   = 0;
  const Status status = measure(path, most, &room, fault);
  if (status) {
    return status;
  }
  FILE* const file = fopen(path, "rb");
  if (!file) {
    return file_fault(fault, path, "cannot be read");
  }
  char* const  read  = malloc(room + 1);
  const size_t n     = read ? fread(read, 1, room, file) : 0;
  const int    error = ferror(file) ? errno : 0;
  (void)fclose(file);
  if (!read || error) {
    free(read);
    return read ? fault_in(fault,
                           STATUS_SYSTEM,
                           path,
                           "cannot be read: %s",
                           strerror(error))
                : fault_memory(fault, path);
  }
  read[n] = '\0';
  *bytes  = read;
  *size   = n; // Fewer if it has shrunk meanwhile
  return STATUS_OK;
}
