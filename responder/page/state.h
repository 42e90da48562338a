/// @file responder/page/state.h The state of a page as JSON. Its members:
///
///   me        `plays`: whether this page does; `watchers`: how many others
///   people    `chosen`: an ID or null; `list`: `id`, `name`
///   table     what can be chosen, a list: `name`, `type` (`flag`, `words`,
///             `whole`, `number`, `pitch`, `sound`, `text`), `unit`, `least`,
///             `most`, `words`, `among` (names that there are), `help`, `when`
///             (`now`, or `next` session)
///   choices   by name: `value`, and `source`, where it comes from
///   form      `title`, `key`, `meter`: two numbers; `bar_ticks`, `beat_ticks`;
///             `bars`: of each its chords, `beat` (from 0) and `symbol`;
///             `scale`; `choruses`; `turns`: `by`, `first_bar` (from 1),
///             `bars`; `tempo`
///   tones     by chord symbol: `root`, `chord`, `scale`, pitch classes
///   session   `stands`: `idle`, `count-in`, `plays`, `paused` or `over`;
///             `name`: the recording; `kind`: `trade`, `warm-up` or `idea`;
///             while one is played `exercise`: `number`, `of` how many,
///             `name`, `words`, `staff`; when over `worked`, `work_on`,
///             `next_time`
///   sound     `works`, `text`
///   keyboard  `text`
///   care      `text`, for the first start
///   turns     the last turns of the session, as they were told; only at first,
///             and with the `form` that they were played over
///   staves    their staves by index, as they were told; only at first

#ifndef RESPONDER_PAGE_STATE_H
#define RESPONDER_PAGE_STATE_H

#include "responder/page/face.h"

/// Return parts of the state, as it is for one page.
json_t*
state_of(const Page* page, unsigned client, unsigned parts);

/// Return the member `form` of a session.
json_t*
state_form(const SessionOptions* session);

/// Return the member `tones` of a chart.
json_t*
state_tones(const Chart* chart);

/// Return a row of the member `table` for a row of any settings.
json_t*
state_row(const Row* row);

#endif // RESPONDER_PAGE_STATE_H
