#include "responder/app/learner_change.h"

#include "profiles/choices/choices_file.h"
#include "responder/app/command.h"
#include "responder/lesson/learners.h"
#include "responder/lesson/who.h"
#include "responder/tell/learners_tell.h"

#include <stdio.h>
#include <string.h>

/// Tell who has played already that a rung is where one begins.
static void
tell_begun(const Options* const options,
           const char* const    id,
           const Who* const     who)
{
  bool is_rung = false;
  char text[RUNG_TEXT_CAPACITY];
  for (unsigned i = 1; i < options->n_operands; ++i) {
    is_rung = is_rung || strncmp(options->operands[i], "rung=", 5) == 0;
  }
  if (is_rung && who->has_stand) {
    (void)printf("That is where one begins; by now %s stands on\n%s.\n"
                 "To hold them elsewhere: barter learner set %s "
                 "pins=\"notes=3 rhythm=3\"\n",
                 id,
                 rung_words(learner_hold(&who->learner, who->stand.rung), text),
                 id);
  }
}

/// Say what is so now.
static void
tell_set(const Options* const options,
         const char* const    id,
         const Who* const     who)
{
  for (unsigned i = 1; i < options->n_operands; ++i) {
    char name[64];
    (void)snprintf(name,
                   sizeof(name),
                   "%.*s",
                   (int)strcspn(options->operands[i], "="),
                   options->operands[i]);
    const bool are = name[strcspn(name, ".")] == '\0' &&
                     name[strlen(name) - 1] == 's'; // Goals, caps, pins
    (void)printf("%s: %s %s now ", id, name, are ? "are" : "is");
    learners_tell_value(stdout, &who->learner, name);
    (void)printf("\n");
  }
}

int
learner_change(const Options* const options, const Person* const person)
{
  Faults  faults = {.n_faults = 0};
  Who     who    = {.has_stand = false};
  Choices choices;
  if (options->n_operands < 2) {
    return command_misuse("write barter learner set ID tempo=90 ...");
  }
  if (learners_set(person,
                   (const char* const*)options->operands + 1,
                   options->n_operands - 1,
                   &faults)) {
    const int code = command_fail_all(&faults);
    command_say("nothing is changed");
    return code;
  }
  if (!choices_load(&choices, &faults) &&
      !who_find(&who, person->id, &choices, &faults)) {
    tell_set(options, person->id, &who);
    tell_begun(options, person->id, &who);
  }
  return EXIT_DONE;
}
