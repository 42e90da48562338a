#include "core/settings/places.h"

#include <criterion/criterion.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/// Two folders of our own, `home` for the person's and `shipped`.
static char root[] = "/tmp/barter-test-XXXXXX";

static void
make_folder(const char* const name)
{
  char path[256];
  (void)snprintf(path, sizeof(path), "%s/%s", root, name);
  cr_assert_eq(mkdir(path, 0700), 0);
}

static void
make_file(const char* const name)
{
  char path[256];
  (void)snprintf(path, sizeof(path), "%s/%s", root, name);
  FILE* const file = fopen(path, "w");
  cr_assert_not_null(file);
  cr_assert_eq(fclose(file), 0);
}

static void
set_folder(const char* const variable, const char* const name)
{
  char path[256];
  (void)snprintf(path, sizeof(path), "%s/%s", root, name);
  cr_assert_eq(setenv(variable, path, 1), 0);
}

static void
lay_out(void)
{
  static const char* const folders[] = {"home",
                                        "home/barter",
                                        "home/barter/charts",
                                        "shipped",
                                        "shipped/charts",
                                        "shipped/feels"};
  static const char* const files[]   = {"home/barter/charts/blues.cfg",
                                        "home/barter/charts/mine.cfg",
                                        "home/barter/charts/notes.txt",
                                        "home/barter/charts/.hidden.cfg",
                                        "home/barter/barter.cfg",
                                        "shipped/charts/blues.cfg",
                                        "shipped/charts/waltz.cfg",
                                        "shipped/feels/swing.cfg",
                                        "shipped/barter.cfg",
                                        "shipped/ladder.cfg"};
  cr_assert_not_null(mkdtemp(root));
  for (unsigned i = 0; i < sizeof(folders) / sizeof(*folders); ++i) {
    make_folder(folders[i]);
  }
  for (unsigned i = 0; i < sizeof(files) / sizeof(*files); ++i) {
    make_file(files[i]);
  }
  set_folder("XDG_CONFIG_HOME", "home");
  set_folder("BARTER_CONFIG", "shipped");
}

static void
clear_away(void)
{
  char command[128];
  (void)snprintf(command, sizeof(command), "rm -r '%s'", root);
  cr_assert_eq(system(command), 0);
}

TestSuite(places, .init = lay_out, .fini = clear_away);

/// Whether a path is that of a file of ours.
static bool
is_ours(const char* const path, const char* const name)
{
  const size_t length = strlen(root);
  return strncmp(path, root, length) == 0 && path[length] == '/' &&
         strcmp(path + length + 1, name) == 0;
}

static void
check_found(const PlaceKind   kind,
            const char* const name,
            const char* const expected)
{
  char  path[PLACE_PATH_CAPACITY];
  Fault fault;
  cr_assert_eq(place_find(kind, name, path, &fault), STATUS_OK, "%s", name);
  cr_assert(is_ours(path, expected), "%s", path);
}

Test(places, looks_at_the_persons_folder_first)
{
  check_found(PLACE_CHARTS, "blues", "home/barter/charts/blues.cfg");
  check_found(PLACE_CHARTS, "mine", "home/barter/charts/mine.cfg");
  check_found(PLACE_CHARTS, "waltz", "shipped/charts/waltz.cfg");
  check_found(PLACE_FEELS, "swing", "shipped/feels/swing.cfg");
}

Test(places, looks_under_home_without_the_variable)
{
  make_folder("home/.config");
  make_folder("home/.config/barter");
  make_folder("home/.config/barter/feels");
  make_file("home/.config/barter/feels/swing.cfg");
  set_folder("HOME", "home");
  cr_assert_eq(unsetenv("XDG_CONFIG_HOME"), 0);
  check_found(PLACE_FEELS, "swing", "home/.config/barter/feels/swing.cfg");
  check_found(PLACE_CHARTS, "blues", "shipped/charts/blues.cfg");

  // A relative path is none, XDG Base Directory Specification
  cr_assert_eq(setenv("XDG_CONFIG_HOME", "barter", 1), 0);
  check_found(PLACE_FEELS, "swing", "home/.config/barter/feels/swing.cfg");
}

Test(places, does_without_a_home)
{
  cr_assert_eq(unsetenv("XDG_CONFIG_HOME"), 0);
  cr_assert_eq(unsetenv("HOME"), 0);
  check_found(PLACE_CHARTS, "blues", "shipped/charts/blues.cfg");
}

Test(places, takes_a_path_as_it_is)
{
  char  path[PLACE_PATH_CAPACITY];
  Fault fault;
  cr_assert_eq(place_find(PLACE_CHARTS, "blues.cfg", path, &fault), STATUS_OK);
  cr_assert_str_eq(path, "blues.cfg");
  cr_assert_eq(place_find(PLACE_CHARTS, "./blues", path, &fault), STATUS_OK);
  cr_assert_str_eq(path, "./blues");

  // A file without the ending, where there is no such name
  cr_assert_eq(chdir(root), 0);
  make_file("tune");
  make_file("waltz");
  cr_assert_eq(place_find(PLACE_CHARTS, "tune", path, &fault), STATUS_OK);
  cr_assert_str_eq(path, "tune");
  check_found(PLACE_CHARTS, "waltz", "shipped/charts/waltz.cfg");
}

Test(places, refuses_what_is_too_long_for_a_path)
{
  char  path[PLACE_PATH_CAPACITY] = "as it was";
  char  name[2 * PLACE_PATH_CAPACITY];
  Fault fault;
  memset(name, 'a', sizeof(name) - 1);
  name[sizeof(name) - 1] = '\0';
  cr_assert_eq(place_find(PLACE_CHARTS, name, path, &fault), STATUS_MISSING);
  name[0] = '/';
  cr_assert_eq(place_find(PLACE_CHARTS, name, path, &fault), STATUS_MISSING);
  name[PLACE_PATH_CAPACITY] = '\0';
  cr_assert_eq(place_find(PLACE_CHARTS, name, path, &fault), STATUS_MISSING);
  cr_assert_str_eq(path, "as it was");
  name[PLACE_PATH_CAPACITY - 1] = '\0';
  cr_assert_eq(place_find(PLACE_CHARTS, name, path, &fault), STATUS_OK);
  cr_assert_str_eq(path, name);
}

Test(places, names_the_nearest_name)
{
  char  path[PLACE_PATH_CAPACITY];
  Fault fault;
  cr_assert_eq(place_find(PLACE_CHARTS, "wlatz", path, &fault), STATUS_MISSING);
  cr_assert_str_eq(fault.text,
                   "there is no chart \"wlatz\"; the nearest is waltz");
  cr_assert_eq(place_find(PLACE_FEELS, "blues", path, &fault), STATUS_MISSING);
  cr_assert_not_null(strstr(fault.text, "there is no feel \"blues\""));
  cr_assert_not_null(strstr(fault.text, "the path of a file"));
}

Test(places, lists_each_name_once)
{
  PlaceList list;
  cr_assert_eq(place_list(PLACE_CHARTS, &list), STATUS_OK);
  cr_assert_eq(list.n_entries, 3);
  cr_assert_str_eq(list.entries[0].name, "blues");
  cr_assert(list.entries[0].is_own);
  cr_assert_str_eq(list.entries[1].name, "mine");
  cr_assert(list.entries[1].is_own);
  cr_assert_str_eq(list.entries[2].name, "waltz");
  cr_assert_not(list.entries[2].is_own);
  place_list_free(&list);

  cr_assert_eq(place_list(PLACE_FEELS, &list), STATUS_OK);
  cr_assert_eq(list.n_entries, 1);
  place_list_free(&list);
}

Test(places, lists_any_number_in_order)
{
  for (unsigned i = 0; i < 100; ++i) {
    char name[64];
    (void)snprintf(
      name, sizeof(name), "shipped/feels/feel-%02u.cfg", i * 37 % 100);
    make_file(name);
  }
  PlaceList list;
  cr_assert_eq(place_list(PLACE_FEELS, &list), STATUS_OK);
  cr_assert_eq(list.n_entries, 101);
  for (size_t i = 1; i < list.n_entries; ++i) {
    cr_assert_lt(strcmp(list.entries[i - 1].name, list.entries[i].name), 0);
  }
  place_list_free(&list);
}

Test(places, finds_single_files)
{
  char  path[PLACE_PATH_CAPACITY];
  Fault fault;
  cr_assert_eq(place_find_file("barter.cfg", path, &fault), STATUS_OK);
  cr_assert(is_ours(path, "home/barter/barter.cfg"));
  cr_assert_eq(place_find_file("ladder.cfg", path, &fault), STATUS_OK);
  cr_assert(is_ours(path, "shipped/ladder.cfg"));
  cr_assert_eq(place_find_file("other.cfg", path, &fault), STATUS_MISSING);
  cr_assert_not_null(strstr(fault.text, "BARTER_CONFIG"));
}

// XDG Base Directory Specification 0.8: the first folder goes before the
// others, and a relative path is to be ignored. Beside this program lies none.
Test(places, looks_among_the_folders_of_data)
{
  char  path[PLACE_PATH_CAPACITY];
  char  folders[256];
  Fault fault;
  make_folder("none");
  make_folder("data");
  make_folder("data/barter");
  make_file("data/barter/ladder.cfg");
  make_folder("later");
  make_folder("later/barter");
  make_file("later/barter/ladder.cfg");
  (void)snprintf(folders,
                 sizeof(folders),
                 "data:%s/none:%s/data:%s/later",
                 root,
                 root,
                 root);
  cr_assert_eq(setenv("XDG_DATA_DIRS", folders, 1), 0);

  cr_assert_eq(chdir(root), 0);
  cr_assert_eq(place_find_file("ladder.cfg", path, &fault), STATUS_OK);
  cr_assert(is_ours(path, "shipped/ladder.cfg"));
  cr_assert_eq(unsetenv("BARTER_CONFIG"), 0);
  cr_assert_eq(place_find_file("ladder.cfg", path, &fault), STATUS_OK);
  cr_assert(is_ours(path, "data/barter/ladder.cfg"));
  cr_assert_eq(setenv("BARTER_CONFIG", "", 1), 0);
  cr_assert_eq(place_find_file("ladder.cfg", path, &fault), STATUS_OK);
  cr_assert(is_ours(path, "data/barter/ladder.cfg"));
}

// What is missing where nothing was installed is said of a folder beside
Test(places, tells_where_it_should_have_been)
{
  char  path[PLACE_PATH_CAPACITY];
  Fault fault;
  set_folder("XDG_DATA_DIRS", "nowhere");
  cr_assert_eq(unsetenv("BARTER_CONFIG"), 0);
  cr_assert_eq(place_find_file("other.cfg", path, &fault), STATUS_MISSING);
  cr_assert_not_null(strstr(fault.file, "/share/barter"), "%s", fault.file);
  cr_assert_not_null(strstr(fault.text, "BARTER_CONFIG"));
}

Test(places, takes_the_name_from_a_path)
{
  char name[PLACE_NAME_CAPACITY];
  cr_assert_str_eq(place_name("/a/b/blues.cfg", name), "blues");
  cr_assert_str_eq(place_name("blues.cfg", name), "blues");
  cr_assert_str_eq(place_name("a.b/blues", name), "blues");
  cr_assert_str_eq(place_name(".cfg", name), ".cfg");
}
