#include "profiles/learner/people.h"

#include "support/practice.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static char folder[PRACTICE_PATH_CAPACITY];

static void
set_up(void)
{
  practice_folder(folder);
  (void)setenv("XDG_DATA_HOME", folder, 1);
}

static void
tear_down(void)
{
  practice_remove(folder);
}

static Person
make(const char* const id)
{
  const Learner learner = learner_plain(id);
  Person        person;
  Fault         fault;
  cr_assert_eq(people_place(&person, id, &fault), STATUS_OK);
  cr_assert_eq(people_make(&person, &learner, &fault), STATUS_OK);
  return person;
}

typedef struct {
  char id[48];
  bool is_good;
} IdRow;

ParameterizedTestParameters(people, id)
{
  static IdRow rows[] = {
    {"me", true},
    {"a", true},
    {"pupil-3", true},
    {"ada.b_2", true},
    {"7", true},
    {"12345678901234567890123456789012", true},
    {"123456789012345678901234567890123", false},
    {"", false},
    {".", false},
    {"..", false},
    {".hidden", false},
    {"-rf", false},
    {"_x", false},
    {"a/b", false},
    {"../x", false},
    {"Ada", false},
    {"a b", false},
    {"a\nb", false},
    {"\u00e9", false},
    {"a~", false},
  };
  return cr_make_param_array(IdRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(IdRow* row, people, id, .init = set_up, .fini = tear_down)
{
  Person person;
  Fault  fault;
  cr_assert_eq(people_is_id(row->id), row->is_good);
  cr_assert_eq(people_place(&person, row->id, &fault),
               row->is_good ? STATUS_OK : STATUS_RANGE);
}

Test(people, are_made_for_their_owner_alone, .init = set_up, .fini = tear_down)
{
  const Person ada = make("ada");
  struct stat  about;
  for (char* slash = strrchr(ada.settings, '/'); slash;) {
    char path[PEOPLE_PATH_CAPACITY];
    (void)snprintf(
      path, sizeof(path), "%.*s", (int)(slash - ada.settings), ada.settings);
    if (strcmp(path, folder) == 0) {
      break;
    }
    cr_assert_eq(stat(path, &about), 0);
    cr_assert_eq(about.st_mode & 0777, 0700, "%s", path);
    while (slash > ada.settings && *--slash != '/') {
    }
  }
  cr_assert_eq(stat(ada.settings, &about), 0);
  cr_assert_eq(about.st_mode & 0777, 0600);
}

Test(people, are_found_and_listed, .init = set_up, .fini = tear_down)
{
  PeopleList list;
  Person     person;
  Fault      fault;
  cr_assert_eq(people_list(&list, &fault), STATUS_OK);
  cr_assert_eq(list.n_ids, 0);
  (void)make("carl");
  (void)make("ada");
  (void)make("bob");
  cr_assert_eq(people_list(&list, &fault), STATUS_OK);
  cr_assert_eq(list.n_ids, 3);
  cr_assert_str_eq(list.ids[0], "ada");
  cr_assert_str_eq(list.ids[1], "bob");
  cr_assert_str_eq(list.ids[2], "carl");
  people_list_free(&list);

  cr_assert_eq(people_find(&person, "bob", &fault), STATUS_OK);
  cr_assert_str_eq(person.id, "bob");
  cr_assert_eq(people_find(&person, "bbo", &fault), STATUS_MISSING);
  cr_assert_not_null(strstr(fault.text, "did you mean bob"), "%s", fault.text);
  cr_assert_eq(people_find(&person, "zebedee", &fault), STATUS_MISSING);
  cr_assert_not_null(strstr(fault.text, "learner add"), "%s", fault.text);
}

Test(people, are_made_once, .init = set_up, .fini = tear_down)
{
  const Person  ada     = make("ada");
  const Learner learner = learner_plain("Another");
  Fault         fault;
  cr_assert_eq(people_make(&ada, &learner, &fault), STATUS_RANGE);
  cr_assert_not_null(strstr(fault.text, "a learner ada already"));
}

Test(people, are_removed_wholly_and_alone, .init = set_up, .fini = tear_down)
{
  const Person ada = make("ada");
  const Person bob = make("bob");
  char         path[PEOPLE_PATH_CAPACITY + 32];
  Fault        fault;
  // Whatever was put there; a link goes, what it points to stays
  (void)snprintf(path, sizeof(path), "%s/takes", ada.folder);
  cr_assert_eq(mkdir(path, 0700), 0);
  (void)snprintf(path, sizeof(path), "%s/takes/friend", ada.folder);
  cr_assert_eq(symlink(bob.folder, path), 0);
  cr_assert_eq(people_remove(&ada, &fault), STATUS_OK, "%s", fault.text);
  cr_assert_not(people_is_there(&ada));
  cr_assert(people_is_there(&bob));
  cr_assert_eq(access(bob.settings, F_OK), 0);
  cr_assert_eq(people_remove(&ada, &fault), STATUS_MISSING);
}

Test(people, a_linked_folder_is_not_removed, .init = set_up, .fini = tear_down)
{
  const Person bob = make("bob");
  Person       link;
  Fault        fault;
  cr_assert_eq(people_place(&link, "link", &fault), STATUS_OK);
  cr_assert_eq(symlink(bob.folder, link.folder), 0);
  cr_assert_eq(people_remove(&link, &fault), STATUS_RANGE);
  cr_assert_eq(access(bob.settings, F_OK), 0);
}

// XDG Base Directory Specification 0.8: ~/.local/share without XDG_DATA_HOME,
// and a relative path counts as none
Test(people, are_kept_where_the_desktop_says, .init = set_up, .fini = tear_down)
{
  Person person;
  Fault  fault;
  char   path[PEOPLE_PATH_CAPACITY];
  (void)setenv("HOME", folder, 1);
  static const char* const others[] = {"relative/path", "", NULL};
  for (unsigned i = 0; i < 3; ++i) {
    if (others[i]) {
      (void)setenv("XDG_DATA_HOME", others[i], 1);
    } else {
      (void)unsetenv("XDG_DATA_HOME");
    }
    cr_assert_eq(people_place(&person, "ada", &fault), STATUS_OK);
    (void)snprintf(path,
                   sizeof(path),
                   "%s/.local/share/barter/learners/ada/journal.db",
                   folder);
    cr_assert_str_eq(person.journal, path);
  }
  (void)unsetenv("HOME");
  cr_assert_eq(people_place(&person, "ada", &fault), STATUS_MISSING);
}
