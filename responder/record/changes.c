#include "responder/record/changes.h"

#include "core/settings/chart_file.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char heading[] = "barter-change ";

enum { TEXT_CAPACITY = 96 };

void
changes_write(SmfWriter* const writer, const Conversation* const conversation)
{
  for (size_t i = 0; i < conversation->n_changes; ++i) {
    const SessionChange* const change = &conversation->changes[i];
    const uint8_t* const       level  = change->rung.level;
    const Tick                 tick   = change->from - conversation->first;
    char                       text[TEXT_CAPACITY];
    (void)snprintf(text,
                   sizeof(text),
                   "%stempo=%.17g rung=%u,%u,%u,%u",
                   heading,
                   change->tempo_bpm,
                   level[0],
                   level[1],
                   level[2],
                   level[3]);
    smf_writer_text(writer, 0, tick, SMF_TEXT, text);
    if (change->tempo_bpm > 0.0) {
      smf_writer_tempo(
        writer, (SmfTempo){tick, (uint32_t)lround(60e6 / change->tempo_bpm)});
    }
  }
}

static bool
is_right(const SessionChange* const change, const unsigned level[N_DIMENSIONS])
{
  bool is = change->tempo_bpm == 0.0 || (change->tempo_bpm >= TEMPO_LEAST_BPM &&
                                         change->tempo_bpm <= TEMPO_MOST_BPM);
  for (unsigned i = 0; i < N_DIMENSIONS; ++i) {
    is =
      is && level[i] <= dimension_rungs((Dimension)i) && !level[i] == !level[0];
  }
  return is;
}

static bool
parse(SessionChange* const change, const char* const text)
{
  unsigned level[N_DIMENSIONS];
  char     rest = '\0';
  if (sscanf(text,
             "tempo=%lf rung=%2u,%2u,%2u,%2u%c",
             &change->tempo_bpm,
             &level[0],
             &level[1],
             &level[2],
             &level[3],
             &rest) != 5 ||
      !is_right(change, level)) {
    return false;
  }
  for (unsigned i = 0; i < N_DIMENSIONS; ++i) {
    change->rung.level[i] = (uint8_t)level[i];
  }
  return true;
}

Status
changes_read(SessionChange** const changes,
             size_t* const         n,
             const SmfTake* const  take,
             Fault* const          fault)
{
  SessionChange* const read   = calloc(take->n_texts + 1, sizeof(*read));
  size_t               n_read = 0;
  if (!read) {
    return fault_memory(fault, NULL);
  }
  for (size_t i = 0; i < take->n_texts; ++i) {
    const SmfText* const text  = &take->texts[i];
    const char* const    words = smf_text(take, text);
    if (text->kind != SMF_TEXT ||
        strncmp(words, heading, strlen(heading)) != 0) {
      continue;
    }
    if (!parse(&read[n_read], words + strlen(heading))) {
      free(read);
      return fault_say(fault,
                       STATUS_SYNTAX,
                       "the session is damaged: %.60s is no change of it",
                       words);
    }
    read[n_read++].from = text->tick;
  }
  *changes = read;
  *n       = n_read;
  return STATUS_OK;
}

static double
us_per_tick(const double tempo_bpm)
{
  return 60e6 / tempo_bpm / TICKS_PER_QUARTER;
}

double
changes_us(const Conversation* const conversation,
           const double              tempo_bpm,
           const Tick                tick)
{
  double us    = 0.0;
  double each  = us_per_tick(tempo_bpm);
  Tick   since = conversation->first;
  for (size_t i = 0; i < conversation->n_changes; ++i) {
    const SessionChange* const change = &conversation->changes[i];
    if (change->tempo_bpm > 0.0 && change->from <= tick) {
      us += (double)(change->from - since) * each;
      each  = us_per_tick(change->tempo_bpm);
      since = change->from;
    }
  }
  return us + (double)(tick - since) * each;
}
