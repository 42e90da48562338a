#include "responder/session/remark.h"

#include "responder/session/facts.h"
#include "responder/session/wording.h"

#include <assert.h>
#include <math.h>
#include <stddef.h>
#include <stdio.h>
#include <string.h>

// From where on something is worth a word; common practice, no source.
static const float    full_space        = 0.10F;
static const float    uneven_ms         = 45.0F;
static const float    off_centre_ms     = 60.0F;
static const unsigned shaped_velocities = 24;
static const double   leaning           = 6.0; // Velocities
static const unsigned flat_velocities   = 8;
static const unsigned flat_notes        = 8;
static const unsigned said_twice        = 2;

static const FactWords nothing = {"", ""};

// What holds of a turn; the words for it are written where there are any

static bool
came_off(const RemarkView* const view)
{
  return !view->outcome || outcome_succeeds(view->outcome);
}

static bool
landed(const RemarkView* const view)
{
  return view->outcome ? view->outcome->landed : facts_has_landed(view->phrase);
}

static bool
lands_on(const RemarkView* const view, const Role role, FactWords* const words)
{
  const HeardNote at = facts_last(view->phrase);
  facts_name(view->chart, view->phrase, &at, words);
  return landed(view) && at.role == role;
}

static bool
ends_open(const RemarkView* const view)
{
  return view->outcome && view->outcome->landed && !view->is_end &&
         !goal_is_home(view->phrase, view->chart);
}

static bool
was_led(const RemarkView* const view, FactWords* const words)
{
  const HeardNote* const note = facts_led(view->phrase, view->chart->key);
  if (note) {
    facts_name(view->chart, view->phrase, note, words);
  }
  return note && (!view->outcome || view->outcome->is_led);
}

static bool
has_peak(const RemarkView* const view, FactWords* const words)
{
  const HeardNote* const note = facts_peak(view->phrase);
  if (note) {
    facts_name(view->chart, view->phrase, note, words);
  }
  return note;
}

static bool
is_steady(const RemarkView* const view)
{
  const Measures* const measures = &view->phrase->measures;
  return view->phrase->n_notes > 3 &&
         facts_is_steady(measures->spread_ms, measures->offset_ms) &&
         (!view->outcome || view->outcome->in_time);
}

// A pick-up that nothing follows is no phrase with rests
static bool
has_rests(const Phrase* const phrase)
{
  return phrase_last_written(phrase)->grid_tick >= phrase->start_tick &&
         facts_leaves_room(phrase->measures.space);
}

static bool
praise_fits(const SentenceKind      kind,
            const RemarkView* const view,
            FactWords* const        words)
{
  const Phrase* const phrase = view->phrase;
  switch (kind) {
    case SENTENCE_AGAIN_BACK:
      return view->comes_back;
    case SENTENCE_PRAISE_ROOT:
      return lands_on(view, ROLE_ROOT, words);
    case SENTENCE_PRAISE_TONE:
      return lands_on(view, ROLE_CHORD_TONE, words);
    case SENTENCE_PRAISE_RHYTHM:
      return view->said && facts_takes_rhythm(phrase, view->said);
    case SENTENCE_PRAISE_BEGAN:
      return view->said && !view->goes_on &&
             facts_begins_from(phrase, view->said);
    case SENTENCE_PRAISE_MOVED:
      return (!view->outcome || view->outcome->is_led) &&
             facts_moved(phrase, view->chart, words);
    case SENTENCE_PRAISE_LED:
      return was_led(view, words);
    case SENTENCE_PRAISE_OPEN:
      return ends_open(view);
    case SENTENCE_PRAISE_SHAPED:
      return facts_dynamics(phrase) >= shaped_velocities &&
             facts_lean(phrase) >= leaning; // Else by chance
    case SENTENCE_PRAISE_PEAK:
      return has_peak(view, words);
    case SENTENCE_PRAISE_ROOM:
      return has_rests(phrase);
    case SENTENCE_PRAISE_STEADY:
      return is_steady(view);
    default:
      return false;
  }
}

static bool
was_left(const RemarkView* const view, FactWords* const words)
{
  const Phrase* const    phrase = view->phrase;
  const HeardNote* const left   = view->outcome && !view->outcome->is_led
                                    ? facts_left(phrase, view->chart)
                                    : facts_outside(phrase, RESOLUTION_LEFT);
  if (left) {
    facts_name(view->chart, phrase, left, words);
  }
  return left;
}

static bool
advice_fits(const SentenceKind      kind,
            const RemarkView* const view,
            FactWords* const        words)
{
  const Measures* const measures = &view->phrase->measures;
  const HeardNote       last     = facts_last(view->phrase);
  switch (kind) {
    case SENTENCE_ADVICE_MOVED:
      return facts_should_move(view->phrase, view->chart, words);
    case SENTENCE_ADVICE_LEFT:
      return was_left(view, words);
    case SENTENCE_ADVICE_LAST:
      facts_name_landings(view->chart, &last, words);
      return last.role >= ROLE_SCALE_TONE;
    case SENTENCE_ADVICE_ROOM:
      return measures->space < full_space;
    case SENTENCE_ADVICE_EVEN:
      return measures->spread_ms > uneven_ms;
    case SENTENCE_ADVICE_LATE:
      return measures->offset_ms > off_centre_ms;
    case SENTENCE_ADVICE_EARLY:
      return measures->offset_ms < -off_centre_ms;
    case SENTENCE_ADVICE_FLAT:
      return view->phrase->n_notes >= flat_notes &&
             facts_dynamics(view->phrase) <= flat_velocities;
    default:
      return false;
  }
}

// Choosing

enum { NOTHING = N_SENTENCES };

// Of what fits, what was not said for longest; of equals the first
static unsigned
choose(const Remarks* const      remarks,
       const SentenceKind* const order,
       const unsigned            n,
       bool (*const fits)(SentenceKind, const RemarkView*, FactWords*),
       const RemarkView* const view)
{
  unsigned found = NOTHING;
  for (unsigned i = 0; i < n; ++i) {
    FactWords words;
    if ((found == NOTHING ||
         remarks->said_at[order[i]] < remarks->said_at[found]) &&
        fits(order[i], view, &words)) {
      found = order[i];
    }
  }
  return found;
}

static unsigned
choose_praise(const Remarks* const remarks, const RemarkView* const view)
{
  static const SentenceKind order[] = {
    SENTENCE_AGAIN_BACK,
    SENTENCE_PRAISE_ROOT,
    SENTENCE_PRAISE_TONE,
    SENTENCE_PRAISE_RHYTHM,
    SENTENCE_PRAISE_MOVED,
    SENTENCE_PRAISE_LED,
    SENTENCE_PRAISE_BEGAN,
    SENTENCE_PRAISE_OPEN,
    SENTENCE_PRAISE_SHAPED,
    SENTENCE_PRAISE_PEAK,
    SENTENCE_PRAISE_ROOM,
    SENTENCE_PRAISE_STEADY,
  };
  if (view->times_said == said_twice) {
    return view->is_rhythm ? SENTENCE_AGAIN_RHYTHM : SENTENCE_AGAIN_TWICE;
  }
  const unsigned found =
    choose(remarks, order, sizeof(order) / sizeof(*order), praise_fits, view);
  return found == NOTHING ? SENTENCE_PRAISE_PLAYED : found;
}

static SentenceKind
why_not_in_time(const RemarkView* const view)
{
  FactWords words;
  return advice_fits(SENTENCE_ADVICE_LATE, view, &words) ? SENTENCE_ADVICE_LATE
         : advice_fits(SENTENCE_ADVICE_EARLY, view, &words)
           ? SENTENCE_ADVICE_EARLY
           : SENTENCE_ADVICE_EVEN;
}

// Why a turn did not come off
static SentenceKind
why_not(const RemarkView* const view)
{
  const Outcome* const outcome = view->outcome;
  FactWords            words;
  if (!outcome->landed || !outcome->is_led) {
    return facts_should_move(view->phrase, view->chart, &words)
             ? SENTENCE_ADVICE_MOVED
           : !outcome->landed ? SENTENCE_ADVICE_LAST
                              : SENTENCE_ADVICE_LEFT;
  }
  return !outcome->in_time     ? why_not_in_time(view)
         : !outcome->has_space ? SENTENCE_ADVICE_ROOM
                               : SENTENCE_ADVICE_CONNECT;
}

// Every other time, so that there is time to try it
static unsigned
advice_for_again(const RemarkView* const view)
{
  const unsigned times = view->times_said;
  return times <= said_twice || times % 2 == 0 ? NOTHING
         : times == said_twice + 1             ? SENTENCE_AGAIN_THIRD
                                               : SENTENCE_AGAIN_MORE;
}

static unsigned
choose_advice(const Remarks* const remarks, const RemarkView* const view)
{
  static const SentenceKind order[] = {
    SENTENCE_ADVICE_MOVED,
    SENTENCE_ADVICE_LEFT,
    SENTENCE_ADVICE_LAST,
    SENTENCE_ADVICE_ROOM,
    SENTENCE_ADVICE_EVEN,
    SENTENCE_ADVICE_LATE,
    SENTENCE_ADVICE_EARLY,
    SENTENCE_ADVICE_FLAT,
  };
  const unsigned again = advice_for_again(view);
  if (again != NOTHING) {
    return again;
  }
  const unsigned found =
    choose(remarks, order, sizeof(order) / sizeof(*order), advice_fits, view);
  const bool is_new =
    found != NOTHING &&
    (!remarks->said_at[found] || remarks->said_at[found] < remarks->n_said);
  return is_new ? found : NOTHING;
}

// Saying

static FactWords
praise_words(const unsigned kind, const RemarkView* const view)
{
  FactWords words = nothing;
  (void)praise_fits((SentenceKind)kind, view, &words);
  return words;
}

static FactWords
advice_words(const unsigned kind, const RemarkView* const view)
{
  FactWords words = nothing;
  (void)advice_fits((SentenceKind)kind, view, &words);
  return words;
}

// Whoever played, if too soon, neither rested nor listened
static SentenceKind
silence_kind(const RemarkView* const view)
{
  return view->is_early  ? SENTENCE_MISSED_SING
         : view->is_last ? SENTENCE_SILENCE_LAST
         : view->silent_turns == FACTS_SILENT_FOR_ASKING
           ? SENTENCE_SILENCE_ASKING
         : view->silence ? view->silence
                         : SENTENCE_SILENCE_WAITING;
}

// Whoever was asked whether to stop, and plays nothing on, is left in peace but
// now and then
static bool
breaks_silence(const RemarkView* const view)
{
  return view->silent_turns <= FACTS_SILENT_FOR_ASKING || view->is_last ||
         view->is_early || view->silent_turns % FACTS_SILENT_FOR_ASKING == 0;
}

static bool
begins_with(const char* const words, const char* const note)
{
  const size_t n = strlen(note);
  return n && strncmp(words, note, n) == 0 &&
         (words[n] == '\0' || words[n] == ' ');
}

// No note is praised and corrected, or praised and asked for, in one line
static bool
contradicts(const FactWords* const advice, const FactWords* const praise)
{
  return begins_with(advice->note, praise->note) ||
         begins_with(advice->tone, praise->note) ||
         begins_with(praise->tone, advice->note);
}

// What worked, and what to try; where the turn did not come off as a whole, why
static void
say_of_phrase(Remarks* const          remarks,
              const Sentences* const  sentences,
              const RemarkView* const view,
              char                    text[REMARK_CAPACITY])
{
  const bool      fails  = !came_off(view);
  const unsigned  again  = advice_for_again(view);
  const unsigned  praise = choose_praise(remarks, view);
  const unsigned  why    = fails ? why_not(view) : NOTHING;
  const unsigned  try    = view->is_last ? NOTHING // No turn to try it in
                           : fails       ? again
                                         : choose_advice(remarks, view);
  const FactWords good   = praise_words(praise, view);
  const FactWords bad    = advice_words(why, view);
  const FactWords next   = advice_words(try, view);
  if (!fails || (again == NOTHING && !contradicts(&bad, &good))) {
    wording_say(remarks, sentences, (SentenceKind)praise, &good, text);
  }
  if (why != NOTHING) {
    wording_say(remarks, sentences, (SentenceKind)why, &bad, text);
  }
  if (try != NOTHING && (fails || !contradicts(&next, &good))) {
    wording_say(remarks, sentences, (SentenceKind)try, &next, text);
  }
}

void
remark_turn(Remarks* const          remarks,
            const Sentences* const  sentences,
            const RemarkView* const view,
            char                    text[REMARK_CAPACITY])
{
  text[0] = '\0';
  if (!view->phrase->n_notes && !breaks_silence(view)) {
    return;
  }
  if (!view->phrase->n_notes) {
    wording_say(remarks, sentences, silence_kind(view), &nothing, text);
  } else {
    say_of_phrase(remarks, sentences, view, text);
  }
  ++remarks->n_said;
}

static_assert(SENTENCE_MET_SING - SENTENCE_MET_ASK == GOAL_SING - GOAL_ASK &&
                SENTENCE_MISSED_SING_LANDING - SENTENCE_MISSED_ASK ==
                  MISS_SING_LANDING - MISS_ASK,
              "each goal has its sentences, and each miss, in their order");

// Whether what misses a goal is about the end, or says itself what was good
static bool
tells_of_end(const Miss miss)
{
  return miss == MISS_ASK || miss == MISS_ASK_OUTSIDE || miss == MISS_CLOSE ||
         miss == MISS_LINE || miss == MISS_LAST;
}

static bool
tells_what_was_good(const RemarkView* const view)
{
  const Miss miss = view->outcome->miss;
  return (miss == MISS_FEW && view->is_fewer) || miss == MISS_LANDING ||
         miss == MISS_WHOLE || miss == MISS_MORE || miss == MISS_SOME ||
         miss == MISS_MOST || miss == MISS_NEAR || miss == MISS_FEW_ROOT ||
         miss == MISS_SING_LANDING;
}

static bool
tells_of_notes(const SentenceKind kind)
{
  return kind == SENTENCE_PRAISE_ROOT || kind == SENTENCE_PRAISE_TONE ||
         kind == SENTENCE_PRAISE_MOVED || kind == SENTENCE_PRAISE_LED ||
         kind == SENTENCE_PRAISE_PEAK;
}

// Whoever filled the bar to sing in left no room, and came in too soon; what is
// given back, or played along, is not to begin where the partner ended, nor in
// time where it was in another time; where a rhythm alone is asked for the
// notes are of no matter
static bool
part_fits(const SentenceKind      kind,
          const RemarkView* const view,
          FactWords* const        words)
{
  const Goal goal    = view->outcome->goal;
  const bool filled  = view->outcome->miss == MISS_SING;
  const bool repeats = (goal >= GOAL_RHYTHM && goal <= GOAL_WHOLE) ||
                       goal == GOAL_ALONG || goal == GOAL_ALONE;
  return praise_fits(kind, view, words) &&
         !(filled &&
           (kind == SENTENCE_PRAISE_ROOM || kind == SENTENCE_PRAISE_STEADY)) &&
         !(goal == GOAL_RHYTHM && tells_of_notes(kind)) &&
         !(repeats &&
           (kind == SENTENCE_PRAISE_BEGAN || kind == SENTENCE_PRAISE_STEADY));
}

// Of what was good though a goal was missed
static unsigned
choose_part(const Remarks* const remarks, const RemarkView* const view)
{
  static const SentenceKind order[] = {
    SENTENCE_PRAISE_ROOT, // These two tell of the end
    SENTENCE_PRAISE_TONE,
    SENTENCE_PRAISE_MOVED,
    SENTENCE_PRAISE_LED,
    SENTENCE_PRAISE_BEGAN,
    SENTENCE_PRAISE_ROOM,
    SENTENCE_PRAISE_SHAPED,
    SENTENCE_PRAISE_PEAK,
    SENTENCE_PRAISE_STEADY,
  };
  const Miss miss = view->outcome->miss;
  if (miss == MISS_NOTHING || tells_what_was_good(view)) {
    return NOTHING;
  }
  const unsigned first = tells_of_end(miss) ? 2 : 0;
  const unsigned found = choose(remarks,
                                order + first,
                                sizeof(order) / sizeof(*order) - first,
                                part_fits,
                                view);
  return found == NOTHING ? SENTENCE_PRAISE_PLAYED : found;
}

void
remark_goal(Remarks* const          remarks,
            const Sentences* const  sentences,
            const RemarkView* const view,
            char                    text[REMARK_CAPACITY])
{
  const Goal goal = view->outcome->goal;
  const Miss miss = view->outcome->miss;
  assert(goal > GOAL_NONE);
  const unsigned part = choose_part(remarks, view);
  const unsigned kind = miss == MISS_NOTHING
                          ? SENTENCE_MET_ASK + (unsigned)(goal - GOAL_ASK)
                        : miss == MISS_FEW && view->is_fewer
                          ? SENTENCE_MISSED_FEW_YET
                          : SENTENCE_MISSED_ASK + (unsigned)(miss - MISS_ASK);
  text[0]             = '\0';
  if (part != NOTHING) {
    const FactWords words = praise_words(part, view);
    wording_say(remarks, sentences, (SentenceKind)part, &words, text);
  }
  wording_say(remarks, sentences, (SentenceKind)kind, &nothing, text);
  ++remarks->n_said;
}
