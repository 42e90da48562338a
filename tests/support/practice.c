#include "support/practice.h"

#include "core/files/folder.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static void
give_up(const char* const what)
{
  (void)fprintf(stderr, "practice: %s\n", what);
  exit(EXIT_FAILURE);
}

void
practice_folder(char folder[PRACTICE_PATH_CAPACITY])
{
  // In memory, where there is such a folder: there is no disk to wait for, and
  // what a killed program has written is there as it is on a disk
  const char* const place  = getenv("TMPDIR");
  const char* const memory = access("/dev/shm", W_OK) ? "/tmp" : "/dev/shm";
  (void)snprintf(folder,
                 PRACTICE_PATH_CAPACITY,
                 "%s/barter-test-XXXXXX",
                 place ? place : memory);
  if (!mkdtemp(folder)) {
    give_up("no folder can be made");
  }
}

void
practice_remove(const char* const folder)
{
  Fault fault;
  if (folder_remove(folder, &fault)) {
    give_up(fault.text);
  }
}

const char*
practice_path(char              path[PRACTICE_PATH_CAPACITY],
              const char* const folder,
              const char* const name)
{
  (void)snprintf(path, PRACTICE_PATH_CAPACITY, "%s/%s", folder, name);
  return path;
}

/// Draw a text with what is awkward in quotes, tables and lists.
static void
draw_text(Rng* const rng, char* const text, const size_t capacity)
{
  static const char* const bits[] = {
    "a", "Bb", " ", ",", "\"", "\\", "\u00e9", "\u266d", "'", "{", "]", ";"};
  size_t         n     = 0;
  const unsigned count = rng_below(rng, 12);
  text[0]              = '\0';
  for (unsigned i = 0; i < count; ++i) {
    const char* const bit = bits[rng_below(rng, sizeof(bits) / sizeof(*bits))];
    if (n + strlen(bit) < capacity) {
      n += (size_t)snprintf(text + n, capacity - n, "%s", bit);
    }
  }
}

static int64_t
draw_number(Rng* const rng, const JournalField* const field)
{
  if (field->may_be_none && rng_below(rng, 3) == 0) {
    return JOURNAL_NONE;
  }
  switch (rng_below(rng, 8)) {
    case 0:
      return field->least;
    case 1:
      return field->most;
    default:
      break;
  }
  // Mostly small numbers, so that two records often agree in most
  const uint64_t room = (uint64_t)field->most - (uint64_t)field->least;
  const uint32_t most = room < 8 ? (uint32_t)room : 8;
  return field->least + rng_below(rng, most + 1);
}

static void
draw_fields(Rng* const rng, const JournalFields fields, void* const record)
{
  for (unsigned i = 0; i < fields.n_fields; ++i) {
    const JournalField* const field = &fields.fields[i];
    if (field->kind == JOURNAL_TEXT) {
      draw_text(rng, (char*)record + field->offset, (size_t)field->most);
    } else {
      journal_field_set(field, record, draw_number(rng, field));
    }
  }
}

JournalSession
practice_session(Rng* const rng)
{
  JournalSession session = {.day = 0};
  draw_fields(rng, journal_session_fields(), &session);
  for (unsigned i = 0; i < JOURNAL_ID_BYTES; ++i) {
    session.id.bytes[i] = (uint8_t)rng_below(rng, 256);
  }
  return session;
}

JournalTurn
practice_turn(Rng* const rng, const int32_t number)
{
  JournalTurn turn = {.number = 0};
  draw_fields(rng, journal_turn_fields(), &turn);
  turn.number = number;
  return turn;
}

Journal*
practice_open(const char* const path)
{
  Journal* journal = NULL;
  Fault    fault;
  if (journal_open(&journal, path, JOURNAL_MAY_CREATE, &fault)) {
    give_up(fault.text);
  }
  return journal;
}

void
practice_fill(Journal* const journal,
              Rng* const     rng,
              const unsigned n_sessions,
              const unsigned turns_max)
{
  Fault fault;
  for (unsigned i = 0; i < n_sessions; ++i) {
    const JournalSession session = practice_session(rng);
    if (journal_add_session(journal, &session, &fault)) {
      give_up(fault.text);
    }
    const unsigned n_turns = rng_below(rng, turns_max + 1);
    for (unsigned number = 1; number <= n_turns; ++number) {
      const JournalTurn turn = practice_turn(rng, (int32_t)number);
      if (journal_add_turn(journal, session.id, &turn, &fault)) {
        give_up(fault.text);
      }
    }
  }
}
