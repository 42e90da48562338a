#include "profiles/exchange/exchange.h"

#include "core/files/file.h"
#include "core/settings/settings.h"
#include "profiles/exchange/stamp.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

// Looking

static Status
read_file(const char* const           path,
          const ExchangeReader* const reader,
          Fault* const                fault)
{
  FILE* const file = fopen(path, "rb");
  if (!file) {
    return fault_in(fault,
                    errno == ENOENT ? STATUS_MISSING : STATUS_SYSTEM,
                    path,
                    "cannot be read: %s",
                    strerror(errno));
  }
  const Status status = exchange_read(file, path, reader, fault);
  (void)fclose(file);
  return status;
}

/// Copy a head, which is the reader's, to keep it.
static Status
keep_head(void* const               context,
          const ExchangeHead* const head,
          Fault* const              fault)
{
  ExchangeHead* const kept = context;
  const size_t        size = head->n_persons * sizeof(*head->persons);
  *kept                    = *head;
  kept->persons            = malloc(size);
  kept->settings           = NULL;
  if (head->settings) {
    kept->settings = malloc(strlen(head->settings) + 1);
  }
  if (!kept->persons || (head->settings && !kept->settings)) {
    exchange_head_free(kept);
    return fault_memory(fault, NULL);
  }
  memcpy(kept->persons, head->persons, size);
  if (head->settings) {
    memcpy(kept->settings, head->settings, strlen(head->settings) + 1);
  }
  return STATUS_OK;
}

Status
exchange_look(ExchangeHead* const head,
              const char* const   path,
              Fault* const        fault)
{
  ExchangeHead         kept   = {.n_persons = 0};
  const ExchangeReader reader = {
    .head = keep_head, .context = &kept, .head_only = true};
  const Status status = read_file(path, &reader, fault);
  if (status) {
    exchange_head_free(&kept);
    return status;
  }
  *head = kept;
  return STATUS_OK;
}

// The journal

enum { TURNS_A_LOOK = 256, TURN_BYTES = 600 };

/// A file being merged.
typedef struct {
  Journal*     journal;
  const Watch* watch;
  size_t       n_turns; ///< So far
  size_t       n_most;  ///< About, by the file's size
} Merging;

/// Return about how many turns a file holds.
static size_t
turns_in(const char* const path)
{
  struct stat about;
  return stat(path, &about) == 0 ? (size_t)about.st_size / TURN_BYTES + 1 : 1;
}

static Status
merge_head(void* const               context,
           const ExchangeHead* const head,
           Fault* const              fault)
{
  const Merging* const merging = context;
  Status               status  = STATUS_OK;
  for (size_t i = 0; !status && i < head->n_persons; ++i) {
    status = journal_merge_person(merging->journal, head->persons[i], fault);
  }
  return status;
}

static Status
merge_session(void* const                 context,
              const JournalSession* const session,
              Fault* const                fault)
{
  const Merging* const merging = context;
  return journal_merge_session(merging->journal, session, fault);
}

static Status
merge_turn(void* const              context,
           const JournalTurn* const turn,
           Fault* const             fault)
{
  Merging* const merging = context;
  const double   done    = (double)merging->n_turns / (double)merging->n_most;
  if (merging->n_turns++ % TURNS_A_LOOK == 0 &&
      !watch_goes_on(merging->watch, done < 1.0 ? done : 1.0)) {
    return fault_say(fault, STATUS_STOPPED, "stopped; nothing is changed");
  }
  return journal_merge_turn(merging->journal, turn, fault);
}

static Status
merge_idea(void* const              context,
           const JournalIdea* const idea,
           Fault* const             fault)
{
  const Merging* const merging = context;
  return journal_merge_idea(merging->journal, idea, fault);
}

Status
exchange_merge(Journal* const     journal,
               const char* const  path,
               const Watch* const watch,
               JournalGain* const gain,
               Fault* const       fault)
{
  Merging              merging = {journal, watch, 0, turns_in(path)};
  const ExchangeReader reader  = {
     merge_head, merge_session, merge_turn, merge_idea, &merging, false};
  Status status = journal_merge_begin(journal, fault);
  if (status) {
    return status;
  }
  status = read_file(path, &reader, fault);
  if (status) {
    journal_merge_abandon(journal);
    return status;
  }
  return journal_merge_end(journal, gain, fault);
}

// The settings

/// Whether the settings of a file come after those that are there.
static bool
comes_after(const ExchangeHead* const head, const Person* const person)
{
  char*         own     = NULL;
  size_t        size    = 0;
  const int64_t changed = stamp_of(person->settings);
  Fault         ignored;
  if (file_load(person->settings, SETTINGS_SIZE_MAX, &own, &size, &ignored)) {
    return true;
  }
  const bool comes = head->changed_us != changed
                       ? head->changed_us > changed
                       : strcmp(head->settings, own) > 0;
  free(own);
  return comes;
}

Status
exchange_take_settings(const Person* const       person,
                       const ExchangeHead* const head,
                       bool* const               is_taken,
                       Fault* const              fault)
{
  if (!head->settings || !comes_after(head, person)) {
    *is_taken = false;
    return STATUS_OK;
  }
  Status status = file_save(person->settings,
                            head->settings,
                            strlen(head->settings),
                            FILE_PRIVATE,
                            fault);
  if (!status) {
    status = exchange_stamp(person, head->changed_us, fault);
  }
  if (!status) {
    *is_taken = true;
  }
  return status;
}

Status
exchange_stamp(const Person* const person,
               const int64_t       changed_us,
               Fault* const        fault)
{
  return stamp_set(person->settings, changed_us)
           ? STATUS_OK
           : file_fault(fault, person->settings, "its time cannot be set");
}
