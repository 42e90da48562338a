#include "responder/lesson/class.h"

#include "profiles/exchange/stamp.h"
#include "profiles/learner/learner_file.h"
#include "responder/lesson/practised.h"
#include "responder/lesson/today.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

// One of them

/// Look at what was practised.
static Status
look_back(ClassMember* const  member,
          const Person* const person,
          const int32_t       day,
          Fault* const        fault)
{
  JournalTotals totals;
  JournalMoves  moves;
  const Status  status = practised_read(&totals, &moves, person, fault);
  if (status) {
    return status;
  }
  const LookView view = {
    &totals, &moves, day_at(stamp_of(person->settings) / 1000), day};
  member->progress = progress_of(&totals, day);
  member->look     = look_at(&view);
  member->is_known = true;
  journal_totals_free(&totals);
  journal_moves_free(&moves);
  return STATUS_OK;
}

static void
read_member(ClassMember* const member,
            const char* const  id,
            const int32_t      day,
            Faults* const      faults)
{
  Person  person;
  Learner learner = learner_plain(id);
  Faults  ignored = {.n_faults = 0}; // Other commands tell of settings
  Fault   fault;
  *member = (ClassMember){.days_away = -1};
  (void)snprintf(member->id, sizeof(member->id), "%s", id);
  if (people_find(&person, id, &fault)) {
    (void)faults_note(faults, &fault);
    return;
  }
  (void)!learner_file_load(&learner, person.settings, &ignored);
  (void)snprintf(member->name, sizeof(member->name), "%s", learner.name);
  if (look_back(member, &person, day, &fault)) {
    (void)faults_note(faults, &fault);
    return;
  }
  member->days_away =
    member->progress.days ? day - member->progress.last_day : -1;
}

// All of them

static int
by_id(const void* const a, const void* const b)
{
  return strcmp(((const ClassMember*)a)->id, ((const ClassMember*)b)->id);
}

/// The longest ago first; who never practised before all.
static int
by_last(const void* const a, const void* const b)
{
  const int32_t left  = ((const ClassMember*)a)->days_away;
  const int32_t right = ((const ClassMember*)b)->days_away;
  const int64_t one   = left < 0 ? INT64_MAX : left;
  const int64_t other = right < 0 ? INT64_MAX : right;
  return one != other ? (one < other) - (one > other) : by_id(a, b);
}

/// Who has the most reasons first, of these who is away longest.
static int
by_look(const void* const a, const void* const b)
{
  const unsigned left  = ((const ClassMember*)a)->look.n_reasons;
  const unsigned right = ((const ClassMember*)b)->look.n_reasons;
  return left != right ? (left < right) - (left > right)
         : left        ? by_last(a, b)
                       : by_id(a, b);
}

static void
sort(Class* const class_of, const ClassOrder order)
{
  static int (*const orders[])(const void*, const void*) = {
    [CLASS_BY_ID]   = by_id,
    [CLASS_BY_LAST] = by_last,
    [CLASS_BY_LOOK] = by_look,
  };
  if (class_of->n) {
    qsort(class_of->members,
          class_of->n,
          sizeof(*class_of->members),
          orders[order]);
  }
}

Status
class_read(Class* const           class_of,
           const ClassWish* const wish,
           const int32_t          day,
           Faults* const          faults)
{
  PeopleList people;
  Fault      fault;
  if (people_list(&people, &fault)) {
    return faults_note(faults, &fault);
  }
  Class read = {.members = calloc(people.n_ids + 1, sizeof(*read.members))};
  for (size_t i = 0; read.members && i < people.n_ids; ++i) {
    ClassMember* const member = &read.members[read.n];
    read_member(member, people.ids[i], day, faults);
    read.n += !wish->only_looks || member->look.n_reasons || !member->is_known;
  }
  people_list_free(&people);
  if (!read.members) {
    (void)fault_memory(&fault, NULL);
    return faults_note(faults, &fault);
  }
  sort(&read, wish->order);
  *class_of = read;
  return STATUS_OK;
}

void
class_free(Class* const class_of)
{
  free(class_of->members);
  *class_of = (Class){.n = 0};
}
