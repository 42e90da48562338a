#include "responder/lesson/printing.h"

#include "profiles/ladder/climb.h"
#include "profiles/sheet/print.h"

#include <stdio.h>

static SheetRequest
request_of(const Setup* const setup)
{
  const Choices* const choices = &setup->choices;
  const Climb          climb =
    climb_begin(&choices->plan, choices->rung, choices->budget, choices->skill);
  SheetRequest request = {
    .chart          = &setup->chart.chart,
    .ladder         = &setup->ladder,
    .rung           = choices->rung,
    .task           = climb_weakest(&climb, &choices->plan),
    .tempo_bpm      = choices->tempo_bpm,
    .swing_ratio    = feel_swing_ratio(&setup->feel, choices->tempo_bpm),
    .bars_per_turn  = choices->bars,
    .partner_begins = choices->partner_begins,
  };
  (void)snprintf(request.feel, sizeof(request.feel), "%.31s", setup->feel.name);
  return request;
}

static void
name_owner(SheetRequest* const request, const Who* const who)
{
  const Learner* const learner = &who->learner;
  request->name                = who->is_there ? learner->name : NULL;
  for (unsigned i = 0; i < learner->n_goals && i < SHEET_GOALS; ++i) {
    request->goals[request->n_goals++] = learner->goals[i];
  }
}

void
printing_lay(Printing* const           printing,
             const Setup* const        setup,
             const PrintingWish* const wish)
{
  SheetRequest request = request_of(setup);
  name_owner(&request, wish->who);
  request.date      = day_text(wish->day, printing->date);
  request.n_rhythms = wish->n_rhythms;
  request.seed      = setup->choices.seed;
  sheet_make(&printing->sheet, &request);
  sheet_pages(&printing->pages, &printing->sheet, wish->size);
}

Status
printing_save(const Printing* const printing,
              const char* const     path,
              Fault* const          fault)
{
  return sheet_save(&printing->sheet, &printing->pages, path, fault);
}

/// Whether a text has a letter of Hebrew, Arabic and their like: U+0590 to
/// U+08FF.
static bool
runs_from_right(const char* const text)
{
  for (const unsigned char* at = (const unsigned char*)text; *at; ++at) {
    if ((*at == 0xD6 && at[1] >= 0x90) || (*at >= 0xD7 && *at <= 0xDF) ||
        (*at == 0xE0 && at[1] < 0xA4)) {
      return true;
    }
  }
  return false;
}

static void
warn_of(Notices* const notices, Paper* const paper, const char* const text)
{
  if (text && !paper_has_letters(paper, text)) {
    notices_add(notices,
                "\"%s\" has letters that the page's face lacks; they are "
                "drawn as boxes",
                text);
  } else if (text && runs_from_right(text)) {
    notices_add(notices,
                "\"%s\" runs from right to left; on paper its letters stand "
                "in the wrong order",
                text);
  }
}

void
printing_warn(const Printing* const printing, Notices* const notices)
{
  const SheetRequest* const request = &printing->sheet.request;
  Paper*                    paper   = NULL;
  if (!paper_open(&paper, PAPER_PDF, 1.0, 1.0)) {
    warn_of(notices, paper, request->name);
    warn_of(notices, paper, request->chart->title);
    for (unsigned i = 0; i < request->n_goals; ++i) {
      warn_of(notices, paper, request->goals[i]);
    }
  }
  paper_close(paper);
}
