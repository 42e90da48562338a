#include "responder/lesson/recall.h"

#include "responder/lesson/choosing.h"
#include "responder/lesson/converse.h"
#include "responder/lesson/listen.h"
#include "responder/lesson/warn.h"

#include <stdlib.h>
#include <string.h>

static Status
no_memory(Faults* const faults)
{
  return faults_add(
    faults, STATUS_MEMORY, NULL, 0, "%s", status_text(STATUS_MEMORY));
}

// What there is no memory for is left out
static void
hear_turn(void* const context, const TurnRecord* const record)
{
  Recall* const recall = context;
  if (recall->n_turns == recall->capacity) {
    const unsigned    capacity = 2 * recall->capacity + 16;
    TurnRecord* const larger =
      realloc(recall->turns, capacity * sizeof(*larger));
    if (!larger) {
      return;
    }
    recall->turns    = larger;
    recall->capacity = capacity;
  }
  recall->turns[recall->n_turns++] = *record;
}

// A recorded session

static Status
have_again(Recall* const recall, const Take* const take, Faults* const faults)
{
  const ConverseWish wish = {.hear_turn = hear_turn, .context = recall};
  Converse           had;
  Fault              fault;
  if (converse_have(&had, &recall->setup, take, &wish, &fault)) {
    converse_free(&had);
    return faults_note(faults, &fault);
  }
  recall->summary      = had.summary;
  recall->conversation = had.conversation;
  recall->session      = setup_session(&recall->setup);
  recall->is_answered  = true;
  had.conversation     = (Conversation){.notes = NULL};
  converse_free(&had);
  return STATUS_OK;
}

Status
recall_session(Recall** const    recall,
               const char* const path,
               Faults* const     faults)
{
  Choices       then;
  Take          take;
  Recall* const made = calloc(1, sizeof(*made));
  if (!made) {
    return no_memory(faults);
  }
  Status status = converse_load_again(&made->setup, &then, &take, path, faults);
  if (!status) {
    warn_of_changes(&made->notices, &then, &made->setup.choices);
    status = have_again(made, &take, faults);
    take_free(&take);
  }
  if (status) {
    recall_free(made);
    return status;
  }
  *recall = made;
  return STATUS_OK;
}

// A take

static Status
take_notes(Recall* const recall, const Take* const take)
{
  Conversation* const all = &recall->conversation;
  for (size_t i = 0; i < take->n_notes; ++i) {
    const PartNote note = {.part = PART_PLAYER, .note = take->notes[i]};
    if (conversation_add(all, note)) {
      return STATUS_MEMORY;
    }
    const Tick end = note.note.tick + note.note.length;
    all->last      = end > all->last ? end : all->last;
  }
  conversation_sort(all);
  return STATUS_OK;
}

static Status
listen(Recall* const recall, const Take* const take, Faults* const faults)
{
  Listening* const listening = calloc(1, sizeof(*listening));
  if (!listening || take_notes(recall, take)) {
    free(listening);
    return no_memory(faults);
  }
  listen_to_take(listening, &recall->setup, take, NULL, hear_turn, recall);
  recall->summary = listening->summary;
  recall->session = setup_session(&recall->setup);
  free(listening);
  return STATUS_OK;
}

Status
recall_take(Recall** const       recall,
            const char* const    path,
            const Choices* const choices,
            Faults* const        faults)
{
  Choices       chosen = *choices;
  Take          take;
  Fault         fault;
  Recall* const made = calloc(1, sizeof(*made));
  if (!made) {
    return no_memory(faults);
  }
  if (take_load(&take, path, (TakeChoice){.track = NULL}, &fault)) {
    recall_free(made);
    return faults_note(faults, &fault);
  }
  warn_of_take(&made->notices, "the file", &take);
  choose_take(&chosen, &take);
  chosen.choruses = 1; // As many as there are
  Status status   = setup_load(&made->setup, &chosen, faults);
  if (!status) {
    status = listen(made, &take, faults);
  }
  take_free(&take);
  if (status) {
    recall_free(made);
    return status;
  }
  *recall = made;
  return STATUS_OK;
}

void
recall_free(Recall* const recall)
{
  if (recall) {
    conversation_free(&recall->conversation);
    free(recall->turns);
    free(recall);
  }
}

// Files of it

static Status
save_had(Converse* const had, const char* const path, Faults* const faults)
{
  const char* const ending = strrchr(path, '.');
  Fault             fault;
  const Status      status =
    strcmp(ending, ".wav") == 0 ? converse_render(had, path, NULL, NULL, &fault)
         : strcmp(ending, ".xml") == 0 ? converse_notate(had, path, &fault)
                                       : converse_engrave(had, path, &fault);
  return status ? faults_note(faults, &fault) : STATUS_OK;
}

static Status
save(Setup* const      setup,
     const char* const recording,
     const char* const path,
     Faults* const     faults)
{
  const ConverseWish wish = {.notates = true};
  Choices            then;
  Take               take;
  Converse           had;
  Fault              fault;
  Status status = converse_load_again(setup, &then, &take, recording, faults);
  if (status) {
    return status;
  }
  status = converse_have(&had, setup, &take, &wish, &fault)
             ? faults_note(faults, &fault)
             : save_had(&had, path, faults);
  converse_free(&had);
  take_free(&take);
  return status;
}

Status
recall_save(const char* const recording,
            const char* const path,
            Faults* const     faults)
{
  Setup* const setup = calloc(1, sizeof(*setup));
  if (!setup) {
    return no_memory(faults);
  }
  const Status status = save(setup, recording, path, faults);
  free(setup);
  return status;
}
