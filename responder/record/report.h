/// @file responder/record/report.h The report: a conversation as JSON.
///
/// `"format": "barter-report", "version": 1`. DEVELOPERS.md lists its fields.
/// All ticks count from the first beat of bar 1.

#ifndef RESPONDER_RECORD_REPORT_H
#define RESPONDER_RECORD_REPORT_H

#include "core/attributes.h"
#include "core/music/chart.h"
#include "responder/session/session.h"
#include "responder/session/summary.h"

/// A report in the making; opaque.
typedef struct Report Report;

/// What stands at the head of a report.
typedef struct {
  const Chart* chart;
  const char*  feel;
  double       tempo_bpm;
  uint64_t     seed;
  unsigned     bars_per_turn;
} ReportHead;

/// Begin; NULL when there is no memory. The chart must outlive it.
Report*
report_open(const ReportHead* head);

/// Release; NULL does nothing.
void
report_close(Report* report);

/// Add a turn; what it holds is copied.
void
report_add_turn(Report* report, const TurnRecord* record);

/// Add a development of a phrase as a turn of the partner's, with its likeness
/// to the phrase and how to practise it.
void
report_add_idea(Report*           report,
                const TurnRecord* record,
                Likeness          likeness,
                const char*       practise);

/// Return a turn as its object in a report; Jansson's, owned by the caller.
/// NULL when there is no memory.
MUST_USE struct json_t*
report_turn(const Chart* chart, const TurnRecord* record);

/// Add the summary.
void
report_add_summary(Report* report, const Summary* summary);

/// Return the report as text without a line's end, to be freed; NULL when there
/// is no memory.
MUST_USE char*
report_text(const Report* report);

#endif // RESPONDER_RECORD_REPORT_H
