#include "responder/app/learner_edit.h"

#include "core/files/file.h"
#include "profiles/exchange/stamp.h"
#include "profiles/learner/learner_file.h"
#include "responder/app/command.h"

#include <stdio.h>
#include <stdlib.h>
#include <sys/wait.h>
#include <unistd.h>

/// Let the person's own editor change a file; its exit status, or -1.
static int
run_editor(const char* const path)
{
  const pid_t child = fork();
  if (child == 0) {
    // An editor may be named with options of its own: let the shell read them
    (void)execl("/bin/sh",
                "sh",
                "-c",
                "exec ${VISUAL:-${EDITOR:-vi}} \"$1\"",
                "sh",
                path,
                (char*)NULL);
    _exit(127);
  }
  int status = 0;
  if (child < 0 || waitpid(child, &status, 0) != child || !WIFEXITED(status)) {
    return -1;
  }
  return WEXITSTATUS(status);
}

/// Make a draft to be edited; one that is there was left when it was at fault.
static Status
begin_draft(const Person* const person, const char* const draft, Fault* fault)
{
  const Learner learner = learner_plain(person->id);
  char*         text    = NULL;
  size_t        size    = 0;
  if (access(draft, F_OK) == 0) {
    return STATUS_OK;
  }
  if (access(person->settings, F_OK)) {
    return learner_file_save(&learner, draft, fault);
  }
  Status status =
    file_load(person->settings, SETTINGS_SIZE_MAX, &text, &size, fault);
  if (!status) {
    status = file_save(draft, text, size, FILE_PRIVATE, fault);
    free(text);
  }
  return status;
}

/// Whether who sits at the terminal wants to mend what is wrong now.
static bool
goes_on_editing(void)
{
  if (!isatty(STDIN_FILENO)) {
    return false;
  }
  (void)fprintf(stderr, "Return opens it again, anything else leaves it: ");
  char line[64];
  return fgets(line, sizeof(line), stdin) && line[0] == '\n';
}

/// Let a draft be edited until it is good or given up.
static int
edit_draft(const char* const draft)
{
  do {
    Faults  faults  = {.n_faults = 0};
    Learner learner = learner_plain("");
    if (run_editor(draft)) {
      command_say("no editor could be run; set EDITOR to one, or use barter "
                  "learner set");
      return EXIT_SYSTEM;
    }
    if (!learner_file_load(&learner, draft, &faults)) {
      return EXIT_DONE;
    }
    (void)command_fail_all(&faults);
  } while (goes_on_editing());
  return EXIT_USE;
}

// A draft that was left

/// Put a draft out of the way, where nothing is lost.
static int
set_aside(const Person* const person, const char* const draft)
{
  char aside[PEOPLE_PATH_CAPACITY + 24];
  (void)snprintf(aside, sizeof(aside), "%s.aside", draft);
  for (unsigned i = 2; access(aside, F_OK) == 0; ++i) {
    (void)snprintf(aside, sizeof(aside), "%s.aside-%u", draft, i);
  }
  if (rename(draft, aside)) {
    command_say("%s cannot be set aside", draft);
    return EXIT_SYSTEM;
  }
  command_say("what is set for %s was changed after the draft was begun; the "
              "draft is set aside in %s",
              person->id,
              aside);
  return EXIT_DONE;
}

/// Say that a draft is opened and not what holds, or set it aside if what
/// holds was changed after it.
static int
take_up(const Person* const person, const char* const draft)
{
  if (access(draft, F_OK)) {
    return EXIT_DONE;
  }
  if (stamp_of(person->settings) > stamp_of(draft)) {
    return set_aside(person, draft);
  }
  command_say("a draft that was left is opened, and not what holds; to begin "
              "from that, remove %s",
              draft);
  return EXIT_DONE;
}

static void
tell_left(const Person* const person, const char* const draft)
{
  command_say(access(draft, F_OK) == 0
                ? "what holds is as it was; the draft waits for the next "
                  "barter learner edit %s"
                : "what holds for %s is as it was",
              person->id);
}

int
learner_edit(const Options* const options, const Person* const person)
{
  (void)options;
  char  draft[PEOPLE_PATH_CAPACITY + 8];
  Fault fault;
  (void)snprintf(draft, sizeof(draft), "%s.draft", person->settings);
  int code = take_up(person, draft);
  if (code) {
    return code;
  }
  const bool    waited = access(draft, F_OK) == 0; // Since an earlier time
  const int64_t before = stamp_of(person->settings);
  if (begin_draft(person, draft, &fault)) {
    return command_fail(&fault);
  }
  code = edit_draft(draft);
  if (code == EXIT_USE || (code && waited)) {
    tell_left(person, draft);
  } else if (code) {
    (void)unlink(draft);
  }
  if (code) {
    return code;
  }
  if (stamp_of(person->settings) != before) { // By another, meanwhile
    code = set_aside(person, draft);
    return code ? code : EXIT_USE;
  }
  if (rename(draft, person->settings)) {
    command_say("%s cannot be written", person->settings);
    return EXIT_SYSTEM;
  }
  (void)printf("%s: good\n", person->settings);
  return EXIT_DONE;
}
