#include "core/files/file.h"
#include "core/files/folder.h"
#include "support/practice.h"

#include <criterion/criterion.h>
#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

static char folder[PRACTICE_PATH_CAPACITY];
static char path[PRACTICE_PATH_CAPACITY];

static void
set_up(void)
{
  practice_folder(folder);
  practice_path(path, folder, "f");
}

static void
tear_down(void)
{
  practice_remove(folder);
}

static void
check_holds(const char* const text)
{
  char*  bytes = NULL;
  size_t size  = 0;
  Fault  fault;
  cr_assert_eq(file_load(path, 100, &bytes, &size, &fault), STATUS_OK);
  cr_assert_eq(size, strlen(text));
  cr_assert_str_eq(bytes, text);
  free(bytes);
}

/// Return how many files there are.
static unsigned
count_files(void)
{
  DIR* const           opened = opendir(folder);
  unsigned             n      = 0;
  const struct dirent* entry  = NULL;
  while ((entry = readdir(opened))) {
    n += entry->d_name[0] != '.';
  }
  (void)closedir(opened);
  return n;
}

Test(file, is_loaded_as_it_was_saved, .init = set_up, .fini = tear_down)
{
  Fault fault;
  cr_assert_eq(file_save(path, "abc", 3, FILE_PRIVATE, &fault), STATUS_OK);
  check_holds("abc");
  cr_assert_eq(file_save(path, "", 0, FILE_PRIVATE, &fault), STATUS_OK);
  check_holds("");
  cr_assert_eq(count_files(), 1);
}

Test(file, keeps_the_old_one_until_the_end, .init = set_up, .fini = tear_down)
{
  FileSaving saving;
  Fault      fault;
  cr_assert_eq(file_save(path, "old", 3, FILE_OPEN, &fault), STATUS_OK);
  cr_assert_eq(file_begin(&saving, path, FILE_OPEN, &fault), STATUS_OK);
  cr_assert_geq(fputs("new", saving.stream), 0);
  check_holds("old");
  cr_assert_eq(file_end(&saving, &fault), STATUS_OK);
  check_holds("new");
  cr_assert_eq(file_begin(&saving, path, FILE_OPEN, &fault), STATUS_OK);
  cr_assert_geq(fputs("newer", saving.stream), 0);
  file_abandon(&saving);
  check_holds("new");
  cr_assert_eq(count_files(), 1);
}

Test(file, rights_are_as_asked_for, .init = set_up, .fini = tear_down)
{
  struct stat about;
  Fault       fault;
  (void)umask(022);
  cr_assert_eq(file_save(path, "x", 1, FILE_PRIVATE, &fault), STATUS_OK);
  cr_assert_eq(stat(path, &about), 0);
  cr_assert_eq(about.st_mode & 0777, 0600);
  cr_assert_eq(file_save(path, "x", 1, FILE_OPEN, &fault), STATUS_OK);
  cr_assert_eq(stat(path, &about), 0);
  cr_assert_eq(about.st_mode & 0777, 0644);
}

// A device is written to, not replaced; a full one is told of
// A link to a link, one by its whole path and one by its name alone
Test(file, a_link_stays_one, .init = set_up, .fini = tear_down)
{
  char        near[PRACTICE_PATH_CAPACITY];
  char        far[PRACTICE_PATH_CAPACITY];
  struct stat about;
  Fault       fault;
  practice_path(near, folder, "near");
  practice_path(far, folder, "far");
  cr_assert_eq(file_save(path, "old", 3, FILE_OPEN, &fault), STATUS_OK);
  cr_assert_eq(symlink(strrchr(path, '/') + 1, near), 0);
  cr_assert_eq(symlink(near, far), 0);
  cr_assert_eq(file_save(far, "new", 3, FILE_OPEN, &fault), STATUS_OK);
  check_holds("new");
  cr_assert(lstat(far, &about) == 0 && S_ISLNK(about.st_mode));
  cr_assert(lstat(near, &about) == 0 && S_ISLNK(about.st_mode));
  cr_assert_eq(count_files(), 3);
}

Test(file, a_device_stays_one)
{
  struct stat about;
  Fault       fault;
  cr_assert_eq(file_save("/dev/null", "x", 1, FILE_OPEN, &fault), STATUS_OK);
  cr_assert_eq(stat("/dev/null", &about), 0);
  cr_assert(S_ISCHR(about.st_mode));
  cr_assert_eq(file_save("/dev/full", "x", 1, FILE_OPEN, &fault),
               STATUS_SYSTEM);
  cr_assert_not_null(strstr(fault.text, "No space left"), "%s", fault.text);
  // More than is gathered before it is written: the first of it is lost
  static char much[100001];
  cr_assert_eq(file_save("/dev/full", much, sizeof(much), FILE_OPEN, &fault),
               STATUS_SYSTEM);
}

Test(file, what_cannot_be_is_told, .init = set_up, .fini = tear_down)
{
  char*  bytes = NULL;
  size_t size  = 0;
  Fault  fault;
  cr_assert_eq(file_load(path, 9, &bytes, &size, &fault), STATUS_MISSING);
  cr_assert_eq(file_load(folder, 9, &bytes, &size, &fault), STATUS_RANGE);
  cr_assert_eq(file_save(path, "0123456789", 10, FILE_OPEN, &fault), STATUS_OK);
  cr_assert_eq(file_load(path, 9, &bytes, &size, &fault), STATUS_FULL);
  cr_assert_eq(file_save("/nowhere/f", "x", 1, FILE_OPEN, &fault),
               STATUS_SYSTEM);
  cr_assert_str_eq(fault.file, "/nowhere/f");
  cr_assert_null(bytes);
}

Test(folder, is_made_with_those_above, .init = set_up, .fini = tear_down)
{
  char        deep[PRACTICE_PATH_CAPACITY];
  struct stat about;
  Fault       fault;
  practice_path(deep, folder, "a/b/c");
  cr_assert_eq(folder_make(deep, &fault), STATUS_OK);
  cr_assert_eq(folder_make(deep, &fault), STATUS_OK); // And is left as it is
  cr_assert_eq(stat(deep, &about), 0);
  cr_assert_eq(about.st_mode & 0777, 0700);
  cr_assert_eq(folder_claim(deep, &fault), STATUS_RANGE);
  practice_path(deep, folder, "x/y");
  cr_assert_eq(folder_claim(deep, &fault), STATUS_SYSTEM);
  practice_path(deep, folder, "f/y"); // A file is in the way
  cr_assert_eq(file_save(path, "x", 1, FILE_OPEN, &fault), STATUS_OK);
  cr_assert_eq(folder_make(deep, &fault), STATUS_SYSTEM);
  cr_assert(strstr(fault.text, "is no folder"), "%s", fault.text);
}

// Several starts at once on a fresh account: whoever comes second finds it made
Test(folder, is_made_by_several_at_once, .init = set_up, .fini = tear_down)
{
  enum { STARTS = 4, FOLDERS = 400 };
  for (unsigned start = 0; start < STARTS; ++start) {
    const pid_t child = fork();
    cr_assert_geq(child, 0);
    for (unsigned i = 0; child == 0 && i < FOLDERS; ++i) {
      char  deep[PRACTICE_PATH_CAPACITY];
      char  name[32];
      Fault fault;
      (void)snprintf(name, sizeof(name), "%u/a/b", i);
      practice_path(deep, folder, name);
      if (folder_make(deep, &fault)) {
        _exit(1);
      }
    }
    if (child == 0) {
      _exit(0);
    }
  }
  for (unsigned start = 0; start < STARTS; ++start) {
    int ended = 0;
    cr_assert_gt(wait(&ended), 0);
    cr_assert(WIFEXITED(ended) && WEXITSTATUS(ended) == 0);
  }
}

// XDG Base Directory Specification 0.8: unset, empty or relative is the default
Test(folder, of_data_is_where_the_environment_says)
{
  static const struct {
    const char* data;
    const char* home;
    const char* path; // NULL: nowhere
  } rows[] = {
    {"/data", "/home/ada", "/data/barter/sessions"},
    {"", "/home/ada", "/home/ada/.local/share/barter/sessions"},
    {"data", "/home/ada", "/home/ada/.local/share/barter/sessions"},
    {"", "", NULL},
    {"", "ada", NULL},
  };
  for (size_t i = 0; i < sizeof(rows) / sizeof(*rows); ++i) {
    char  found[FILE_PATH_CAPACITY] = "untouched";
    Fault fault_found;
    cr_assert_eq(setenv("XDG_DATA_HOME", rows[i].data, 1), 0);
    cr_assert_eq(setenv("HOME", rows[i].home, 1), 0);
    const Status status = folder_of_data("sessions", found, &fault_found);
    cr_assert_eq(status, rows[i].path ? STATUS_OK : STATUS_MISSING);
    cr_assert_str_eq(found, rows[i].path ? rows[i].path : "untouched");
  }
}
