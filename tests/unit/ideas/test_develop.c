// What holds for all developments, over many calls, charts, rungs and seeds:
// the musts of every answer, no two alike, from near to far.

#include "responder/ideas/develop.h"

#include "fixture.h"
#include "responder/ideas/notebook.h"

#include <criterion/criterion.h>
#include <string.h>

enum { COUNT = 12, N_RUNGS = 5 };

static const Rung rungs[N_RUNGS] = {
  {{1, 1, 1, 1}},
  {{2, 2, 2, 1}},
  {{4, 3, 3, 2}},
  {{6, 5, 5, 3}},
  {{8, 7, 6, 4}},
};

static Fixture      fixture;
static DevelopWork  work;
static Developments found;

/// Over the bars of the call itself, as ideas are.
static void
develop_call(const unsigned chart,
             const unsigned style,
             const Rung     rung,
             const uint64_t seed)
{
  fixture_open(&fixture, chart, style, 2, rung, seed);
  fixture.request.end -= fixture.request.start;
  fixture.request.start = 0;
  develop(&found, &work, &fixture.request, COUNT, seed);
}

/// Return the share of the turn with nothing sounding, breaths of less than an
/// eighth not counted; from the notes alone.
static double
space_of(const Answer* const answer)
{
  Tick silent = 0;
  Tick sounds = fixture.request.start;
  for (unsigned i = 0; i <= answer->n_notes; ++i) {
    const bool is_last = i == answer->n_notes;
    const Tick next    = is_last ? fixture.request.end : answer->notes[i].tick;
    silent += next - sounds >= TICKS_PER_EIGHTH ? next - sounds : 0;
    if (!is_last) {
      sounds = next + answer->notes[i].length;
    }
  }
  return (double)silent / (double)(fixture.request.end - fixture.request.start);
}

static void
check_musts(void)
{
  const SayRequest* const request = &fixture.request;
  const Tick              half    = TICKS_PER_EIGHTH;
  for (unsigned i = 0; i < found.n; ++i) {
    const Answer* const answer = &found.ways[i].answer;
    cr_assert_gt(answer->n_notes, 0);
    const Note*            last  = &answer->notes[answer->n_notes - 1];
    const HeardNote* const heard = phrase_last_written(&answer->heard);
    const Role here = hear_role(&fixture.chart, heard->grid_tick, last->pitch);
    const Role soon =
      hear_role(&fixture.chart, heard->grid_tick + half, last->pitch);
    cr_assert(here <= ROLE_CHORD_TONE || soon <= ROLE_CHORD_TONE);
    cr_assert_eq(last->pitch, heard->note.pitch);
    cr_assert_geq(space_of(answer), 0.15, "%s", move_name(answer->move));
    cr_assert_geq(answer->notes[0].tick, request->start);
    cr_assert_leq(last->tick + last->length, request->end);
    for (unsigned n = 0; n < answer->n_notes; ++n) {
      const HeardNote* const note = &answer->heard.notes[n];
      cr_assert(note->is_ornament || note->role != ROLE_OUTSIDE ||
                note->resolution == RESOLUTION_LED);
      cr_assert_geq(answer->notes[n].pitch + 3U, request->lowest);
      cr_assert_leq(answer->notes[n].pitch, request->highest + 3U);
      cr_assert(note->is_ornament || (note->note.pitch >= request->lowest &&
                                      note->note.pitch <= request->highest));
    }
    cr_assert_gt(strlen(answer->why), 10);

    // It can be kept, and read again
    const Idea idea = idea_of(&answer->heard, true);
    char       text[NOTEBOOK_TEXT_CAPACITY];
    Idea       again;
    cr_assert(notebook_parse(&again, notebook_text(&idea, text)), "%s", text);
  }
}

static bool
have_same_notes(const Phrase* const a, const Phrase* const b)
{
  if (a->n_notes != b->n_notes) {
    return false;
  }
  for (unsigned i = 0; i < a->n_notes; ++i) {
    if (a->notes[i].grid_tick - a->start_tick !=
          b->notes[i].grid_tick - b->start_tick ||
        a->notes[i].note.pitch != b->notes[i].note.pitch) {
      return false;
    }
  }
  return true;
}

// Another beat to begin on is no other idea, unless it is called a shift
static bool
is_same_line(const Development* const a, const Development* const b)
{
  const Phrase* const one   = &a->answer.heard;
  const Phrase* const other = &b->answer.heard;
  bool is = one->n_notes == other->n_notes && a->answer.move != MOVE_SHIFT &&
            b->answer.move != MOVE_SHIFT;
  for (unsigned i = 0; is && i < one->n_notes; ++i) {
    is = one->notes[i].note.pitch % 12 == other->notes[i].note.pitch % 12 &&
         one->notes[i].grid_tick - one->notes[0].grid_tick ==
           other->notes[i].grid_tick - other->notes[0].grid_tick;
  }
  return is;
}

static void
check_differ(void)
{
  for (unsigned i = 0; i < found.n; ++i) {
    const Phrase* const own = &found.ways[i].answer.heard;
    cr_assert_not(have_same_notes(own, &fixture.call));
    for (unsigned j = 0; j < i; ++j) {
      const Phrase* const other = &found.ways[j].answer.heard;
      cr_assert_not(have_same_notes(own, other));
      cr_assert_not(is_same_line(&found.ways[i], &found.ways[j]));
      cr_assert_lt(develop_shared(own, other), 0.6F);
    }
  }
}

// Another octave is no other idea
static bool
have_same_steps(const Phrase* const a, const Phrase* const b)
{
  bool is_same = a->n_notes == b->n_notes;
  for (unsigned i = 0; is_same && i < a->n_notes; ++i) {
    const int step = a->notes[i].note.pitch - b->notes[i].note.pitch;
    is_same        = a->notes[i].grid_tick - a->start_tick ==
                b->notes[i].grid_tick - b->start_tick &&
              step % 12 == 0 &&
              step == a->notes[0].note.pitch - b->notes[0].note.pitch;
  }
  return is_same;
}

static void
check_octaves(void)
{
  for (unsigned i = 0; i < found.n; ++i) {
    const Phrase* const own = &found.ways[i].answer.heard;
    cr_assert_not(have_same_steps(own, &fixture.call));
    for (unsigned j = 0; j < i; ++j) {
      cr_assert_not(have_same_steps(own, &found.ways[j].answer.heard));
    }
  }
}

/// Write the pitch classes of what is written from the first beat on; return
/// how many there are.
static unsigned
classes_of(const Phrase* const phrase, unsigned classes[])
{
  unsigned n = 0;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const HeardNote* const note = &phrase->notes[i];
    if (!note->is_ornament && note->grid_tick >= phrase->start_tick) {
      classes[n++] = note->note.pitch % 12U;
    }
  }
  return n;
}

// Whose notes are said to be the phrase's has these and no others
static void
check_words(unsigned* const n_said)
{
  unsigned of_call[PHRASE_CAPACITY];
  unsigned of_own[PHRASE_CAPACITY];
  for (unsigned i = 0; i < found.n; ++i) {
    const Answer* const answer = &found.ways[i].answer;
    if (answer->move != MOVE_NEW_RHYTHM) {
      continue;
    }
    const unsigned n        = classes_of(&fixture.call, of_call);
    const bool     has_same = n == classes_of(&answer->heard, of_own) &&
                          memcmp(of_call, of_own, n * sizeof(*of_own)) == 0;
    const bool says_so = strstr(answer->why, "Your notes in their order");
    cr_assert_eq(says_so, has_same, "%s", answer->why);
    cr_assert(says_so || strstr(answer->why, "fitted to the chords"));
    ++*n_said;
  }
}

static bool
has_class(const Phrase* const phrase, const unsigned pitch)
{
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    if (phrase->notes[i].note.pitch % 12U == pitch % 12U) {
      return true;
    }
  }
  return false;
}

/// Count the notes that are neither the call's own nor the root.
static void
count_strange(unsigned* const n_strange, unsigned* const n_all)
{
  for (unsigned i = 0; i < found.n; ++i) {
    const Phrase* const own = &found.ways[i].answer.heard;
    for (unsigned n = 0; n < own->n_notes; ++n) {
      *n_strange += !has_class(&fixture.call, own->notes[n].note.pitch) &&
                    own->notes[n].role != ROLE_ROOT;
    }
    *n_all += own->n_notes;
  }
}

// Where the ladder gives the root alone, the phrase's own notes are what ideas
// are made of
Test(develop, takes_the_phrase_s_own_notes_on_low_rungs)
{
  unsigned n_strange = 0;
  unsigned n_all     = 0;
  unsigned n_own     = 0;
  for (unsigned chart = 0; chart < N_FIXTURE_CHARTS; ++chart) {
    for (unsigned style = 0; style < N_FIXTURE_CALLS; ++style) {
      develop_call(chart, style, rungs[0], 3);
      count_strange(&n_strange, &n_all);
      for (unsigned i = 0; i < found.n; ++i) {
        const Phrase* const own = &found.ways[i].answer.heard;
        for (unsigned n = 0; n < own->n_notes; ++n) {
          n_own += own->notes[n].role != ROLE_ROOT;
        }
      }
    }
  }
  cr_assert_eq(n_strange, 0, "%u of %u", n_strange, n_all);
  cr_assert_gt(n_own, n_all / 4, "%u of %u", n_own, n_all);
}

// Near and far by the listener's own measures of rhythm and pitch
static void
check_order(void)
{
  const Idea call = idea_of(&fixture.call, true);
  float      last = 1.0F;
  for (unsigned i = 0; i < found.n; ++i) {
    const Idea     own  = idea_of(&found.ways[i].answer.heard, false);
    const Likeness is   = idea_likeness(&own, &call);
    const float    near = (is.rhythm + is.pitch) / 2.0F;
    cr_assert_leq(near, last + 1e-6F);
    cr_assert_float_eq(near, found.ways[i].nearness, 1e-6);
    cr_assert(is.rhythm >= 0.2F || is.pitch >= 0.2F);
    last = near;
  }
}

// A learner without crushed notes is given none as the idea itself
static void
check_ornament(void)
{
  for (unsigned i = 0; i < found.n; ++i) {
    cr_assert(found.ways[i].answer.move != MOVE_ORNAMENT ||
              (fixture.request.rung.level[DIMENSION_ORNAMENT] > 1 &&
               found.ways[i].answer.heard.measures.n_ornaments > 0));
  }
}

Test(develop, holds_for_many_calls)
{
  static const unsigned tenths[N_RUNGS]  = {2, 6, 8, 9, 9};
  unsigned              n_found[N_RUNGS] = {0};
  unsigned              n_asked          = 0;
  unsigned              n_said           = 0;
  for (unsigned chart = 0; chart < N_FIXTURE_CHARTS; ++chart) {
    for (unsigned style = 0; style < N_FIXTURE_CALLS; ++style) {
      if ((chart + style) % 2 == 1) {
        continue; // Each chart and each style is there; a half is enough
      }
      n_asked += COUNT;
      for (unsigned i = 0; i < N_RUNGS; ++i) {
        develop_call(chart, style, rungs[i], 1 + chart);
        check_musts();
        check_differ();
        check_octaves();
        check_order();
        check_ornament();
        check_words(&n_said);
        cr_assert_leq(found.n, COUNT);
        n_found[i] += found.n;
      }
    }
  }
  cr_assert_gt(n_said, 20);
  for (unsigned i = 0; i < N_RUNGS; ++i) {
    cr_assert_gt(n_found[i],
                 n_asked / 10 * tenths[i],
                 "rung %u: %u of %u",
                 i,
                 n_found[i],
                 n_asked);
  }
}

Test(develop, the_seed_alone_makes_the_difference)
{
  static Developments again;
  unsigned            n_same = 0;
  develop_call(0, 1, rungs[3], 7);
  again = found;
  develop(&found, &work, &fixture.request, COUNT, 7);
  cr_assert_eq(found.n, again.n);
  for (unsigned i = 0; i < found.n; ++i) {
    cr_assert(have_same_notes(&found.ways[i].answer.heard,
                              &again.ways[i].answer.heard));
  }
  develop(&found, &work, &fixture.request, COUNT, 8);
  for (unsigned i = 0; i < found.n && i < again.n; ++i) {
    n_same +=
      have_same_notes(&found.ways[i].answer.heard, &again.ways[i].answer.heard);
  }
  cr_assert_lt(n_same, COUNT / 2);
}

Test(develop, fewer_may_be_asked_for)
{
  fixture_open(&fixture, 0, 1, 2, rungs[3], 5);
  for (unsigned count = 1; count <= 6; ++count) {
    develop(&found, &work, &fixture.request, count, 5);
    cr_assert_eq(found.n, count);
  }
}

Test(develop, shared_notes_are_counted_against_the_longer)
{
  static Phrase a;
  static Phrase b;
  a = (Phrase){.n_notes = 4};
  b = (Phrase){.n_notes = 2};
  for (unsigned i = 0; i < 4; ++i) {
    a.notes[i] =
      (HeardNote){.note.pitch = (uint8_t)(60 + i), .grid_tick = 480 * (Tick)i};
  }
  b.notes[0] = a.notes[1];
  b.notes[1] = a.notes[2];
  cr_assert_float_eq(develop_shared(&a, &b), 0.5F, 1e-6);
  b.notes[1].note.pitch = 70;
  cr_assert_float_eq(develop_shared(&b, &a), 0.25F, 1e-6);
  // All of one an octave higher is the same; some of it is not
  b.notes[0].note.pitch = 73;
  b.notes[1].note.pitch = 74;
  cr_assert_float_eq(develop_shared(&b, &a), 0.5F, 1e-6);
  b.notes[1].note.pitch = 62;
  cr_assert_float_eq(develop_shared(&b, &a), 0.25F, 1e-6);
}
