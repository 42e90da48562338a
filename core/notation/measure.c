#include "core/notation/measure.h"

#include "core/notation/beams.h"
#include "core/notation/split.h"

#include <assert.h>

// Beats that are divided alike: one, or two under a triplet of quarters
typedef struct {
  Moment          start; // From the bar's beginning, as all below
  Moment          end;
  const Division* division;
} Span;

typedef struct {
  Measure*      measure;
  Meter         meter;
  const Column* columns; // Those of the measure
  size_t        n_columns;
  Moment        bar;    // Where the bar begins
  Moment        offset; // Of the measure in the bar: 0, but in a pick-up
  Moment        end;    // Of the measure
  unsigned      n_spans;
  Span          spans[METER_BEATS_PER_BAR_MAX];
} Writing;

static Moment
beat_of(const Meter meter)
{
  return MOMENTS_PER_TICK * meter_beat_ticks(meter);
}

// The first column that ends after a moment
static size_t
first_after(const Column* const columns, const size_t n, const Moment moment)
{
  size_t low  = 0;
  size_t high = n;
  while (low < high) {
    const size_t middle = low + (high - low) / 2;
    if (columns[middle].end > moment) {
      high = middle;
    } else {
      low = middle + 1;
    }
  }
  return low;
}

// Spans

static const Division*
division_of(const Writing* const writing, const Moment start, const Moment end)
{
  for (size_t i = 0; i < writing->n_columns; ++i) {
    const Moment at = writing->columns[i].start - writing->bar;
    if (at >= start && at < end) {
      return writing->columns[i].division;
    }
  }
  return division_none(writing->meter);
}

// Whether all that happens in two beats stands on a triplet of quarters
static bool
is_quarter_triplet(const Writing* const writing, const Span* const first)
{
  const Moment beat    = beat_of(writing->meter);
  bool         divides = false;
  for (size_t i = 0; i < writing->n_columns; ++i) {
    const Moment places[] = {writing->columns[i].start - writing->bar,
                             writing->columns[i].end - writing->bar};
    for (unsigned k = 0; k < 2; ++k) {
      const Moment at = places[k] - first->start;
      if (at > 0 && at < 2 * beat) {
        if (3 * at % (2 * beat) != 0) {
          return false;
        }
        divides = true;
      }
    }
  }
  return divides;
}

// Where two beats may be under one bracket: in half bars, and at the beginning
static bool
begins_pair(const Writing* const writing, const Span* const first)
{
  const Moment beat   = beat_of(writing->meter);
  const Moment number = first->start / beat;
  const Moment group  = writing->meter.numerator == 5 ? 3 : 2;
  return number % group == 0 && first->start + 2 * beat <= writing->end &&
         (writing->meter.numerator != 3 || number == 0);
}

static void
list_spans(Writing* const writing)
{
  const Moment beat = beat_of(writing->meter);
  for (Moment at = writing->offset; at < writing->end;) {
    Span span = {at, at + beat, division_of(writing, at, at + beat)};
    if (!meter_is_compound(writing->meter) && begins_pair(writing, &span) &&
        is_quarter_triplet(writing, &span)) {
      span.end += beat;
      span.division = division_of_two_beats();
    }
    writing->spans[writing->n_spans++] = span;
    at                                 = span.end;
  }
}

// The end of the span of a moment, or of all the plain ones from there on
static Moment
span_end(const Writing* const writing, const Moment at, const Span** const span)
{
  unsigned i = 0;
  while (writing->spans[i].end <= at) {
    ++i;
  }
  *span      = &writing->spans[i];
  Moment end = writing->spans[i].end;
  while (!division_is_tuplet((*span)->division) && ++i < writing->n_spans &&
         !division_is_tuplet(writing->spans[i].division)) {
    end = writing->spans[i].end;
  }
  return end;
}

// Symbols

// The longest value in a tuplet; its slots may not be too many for one
static Moment
split_tuplet(const Span* const span,
             const Moment      start,
             const Moment      end,
             const bool        is_rest,
             Value* const      value)
{
  const Moment slot = (span->end - span->start) /
                      (span->division->slots ? span->division->slots : 1);
  const Moment drawn = value_length((Value){span->division->type, 0});
  for (Moment n = (end - start) / slot; n > 1; --n) {
    if (value_find(value, n * drawn) && !(is_rest && value->dots)) {
      return start + n * slot;
    }
  }
  *value = (Value){span->division->type, 0};
  return start + slot;
}

static Moment
split_plain(const Writing* const writing,
            const Moment         start,
            const Moment         end,
            const bool           is_rest,
            Value* const         value)
{
  const Moment to       = is_rest ? split_rest(writing->meter, start, end)
                                  : split_note(writing->meter, start, end);
  const bool   is_value = value_find(value, to - start);
  assert(is_value);
  (void)is_value;
  return to;
}

// Adds the first symbol of a span of time; returns where it ends
static Moment
add_symbol(Writing* const      writing,
           const Column* const column,
           const Moment        start,
           const Moment        limit)
{
  const Span*  span   = NULL;
  const Moment whole  = span_end(writing, start, &span);
  const Moment end    = limit < whole ? limit : whole;
  const bool   tuplet = division_is_tuplet(span->division);
  Symbol       symbol = {.start = start - writing->offset, .column = column};
  const Moment to =
    tuplet ? split_tuplet(span, start, end, !column, &symbol.value)
           : split_plain(writing, start, end, !column, &symbol.value);
  symbol.length = to - start;
  if (tuplet) {
    symbol.actual        = span->division->actual;
    symbol.normal        = span->division->normal;
    symbol.tuplet_type   = span->division->type;
    symbol.begins_tuplet = start == span->start;
    symbol.ends_tuplet   = to == span->end;
  }
  if (column) {
    symbol.ties_in  = column->start < writing->bar + start;
    symbol.ties_out = column->end > writing->bar + to;
  }
  assert(writing->measure->n_symbols < MEASURE_CAPACITY);
  writing->measure->symbols[writing->measure->n_symbols++] = symbol;
  return to;
}

// Whether nothing sounds in the measure
static bool
add_whole_rest(Writing* const writing)
{
  if (writing->n_columns) {
    return false;
  }
  writing->measure->n_symbols  = 1;
  writing->measure->symbols[0] = (Symbol){
    .length        = writing->end - writing->offset,
    .value         = {VALUE_WHOLE, 0},
    .is_whole_rest = true,
  };
  return true;
}

static void
add_symbols(Writing* const writing)
{
  size_t i = 0;
  for (Moment at = writing->offset; at < writing->end;) {
    while (i < writing->n_columns &&
           writing->columns[i].end - writing->bar <= at) {
      ++i;
    }
    const Column* const next =
      i < writing->n_columns ? &writing->columns[i] : NULL;
    const bool   sounds = next && next->start - writing->bar <= at;
    const Moment limit  = !next    ? writing->end
                          : sounds ? next->end - writing->bar
                                   : next->start - writing->bar;
    at                  = add_symbol(writing,
                    sounds ? next : NULL,
                    at,
                    limit < writing->end ? limit : writing->end);
  }
}

void
measure_write(Measure* const      measure,
              const Meter         meter,
              const Column* const columns,
              const size_t        n_columns,
              const Moment        start,
              const Moment        length)
{
  const Moment bar     = MOMENTS_PER_TICK * meter_bar_ticks(meter);
  const size_t first   = first_after(columns, n_columns, start);
  const Moment offset  = start - tick_floor(start, bar);
  Writing      writing = {
         .measure = measure,
         .meter   = meter,
         .columns = columns + first,
         .bar     = start - offset,
         .offset  = offset,
         .end     = offset + length,
  };
  while (first + writing.n_columns < n_columns &&
         writing.columns[writing.n_columns].start < start + length) {
    ++writing.n_columns;
  }
  measure->n_symbols = 0;
  if (!add_whole_rest(&writing)) {
    list_spans(&writing);
    add_symbols(&writing);
    beams_write(measure, meter, offset);
  }
}
