#include "responder/page/staves.h"

#include "core/engrave/engrave.h"
#include "responder/record/notation.h"

#include <stdio.h>
#include <stdlib.h>

static const double cm_a_bar = 5.5;
static const double cm_more  = 2.5; ///< For clef, key and meter

typedef struct {
  Job      job;
  unsigned session; ///< Which one, of this start
  unsigned turn;
  char*    abc;
  size_t   n_abc;
  char*    svg;
  size_t   n_svg;
  Status   status;
} Staff;

// On the worker's thread

static void
engrave(Job* const job)
{
  Staff* const       staff = (Staff*)job;
  const EngraveStyle style = {.colour = NULL};
  Fault              fault;
  staff->status = engrave_svg(
    staff->abc, staff->n_abc, &style, &staff->svg, &staff->n_svg, &fault);
}

// On the server's

static void
forget(Job* const job)
{
  Staff* const staff = (Staff*)job;
  free(staff->abc);
  free(staff->svg);
  free(staff);
}

static json_t*
told(const Staff* const staff)
{
  return staff->status == STATUS_MISSING
           ? json_pack("{ss si ss}",
                       "tell",
                       "staff",
                       "turn",
                       (int)staff->turn,
                       "missing",
                       "install the package abcm2ps")
           : json_pack("{ss si ss% s[]}",
                       "tell",
                       "staff",
                       "turn",
                       (int)staff->turn,
                       "svg",
                       staff->svg,
                       staff->n_svg,
                       "marks");
}

static void
tell(void* const context, Job* const job)
{
  Page* const        page  = context;
  const Staff* const staff = (const Staff*)job;
  if ((!staff->status || staff->status == STATUS_MISSING) &&
      staff->session == page->n_begun) {
    json_t* const message = told(staff);
    char          index[16];
    (void)snprintf(index, sizeof(index), "%u", staff->turn);
    (void)json_object_set(page->staves, index, message);
    desk_tell(page, message);
  }
  forget(job);
}

static Status
write_abc(const SessionOptions* const session,
          const TurnRecord* const     record,
          char** const                abc,
          size_t* const               size)
{
  const NotationHead head = {
    .ear         = session_ear(session),
    .swing_ratio = feel_swing_ratio(session->feel, session->tempo_bpm),
    .is_excerpt  = true,
  };
  const Turn      turn   = record->turn;
  const unsigned  n_bars = (unsigned)((turn.end - turn.start) /
                                     meter_bar_ticks(session->chart->meter));
  const AbcLayout layout = {
    .bars_per_line = n_bars + 1, // A pick-up has a bar of its own
    .width_cm      = cm_more + cm_a_bar * n_bars,
  };
  Notation* const notation = notation_open(&head);
  if (!notation) {
    return STATUS_MEMORY;
  }
  notation_add_turn(notation, record);
  const Status status = notation_abc(notation, "", &layout, abc, size);
  notation_close(notation);
  return status;
}

void
staves_give(Page* const                 page,
            const SessionOptions* const session,
            const TurnRecord* const     record)
{
  Staff* const staff =
    record->phrase.n_notes ? calloc(1, sizeof(*staff)) : NULL;
  if (!staff) {
    return;
  }
  staff->job     = (Job){.work = engrave, .finish = tell, .forget = forget};
  staff->session = page->n_begun;
  staff->turn    = record->turn.index;
  if (write_abc(session, record, &staff->abc, &staff->n_abc)) {
    forget(&staff->job);
    return;
  }
  worker_give(page->worker, &staff->job);
}
