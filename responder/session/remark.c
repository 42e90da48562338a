#include "responder/session/remark.h"

#include "core/music/spelling.h"
#include "responder/hear/ideas.h"

#include <assert.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>
#include <string.h>

// From where on something is worth a word; common practice, no source.
static const float    roomy_space       = 0.25F;
static const float    full_space        = 0.10F;
static const float    steady_ms         = 25.0F;
static const float    uneven_ms         = 45.0F;
static const float    off_centre_ms     = 60.0F;
static const unsigned silent_for_asking = 4;
static const unsigned said_twice        = 2;
static const float    came_again        = 0.9F; // Likeness of what is an echo

typedef enum {
  PRAISE_ROOT,
  PRAISE_TONE,
  PRAISE_LED,
  PRAISE_ROOM,
  PRAISE_STEADY,
  PRAISE_PLAYED,
  PRAISE_AGAIN, ///< Said twice
} Praise;

typedef enum {
  ADVICE_LEFT,
  ADVICE_LAST,
  ADVICE_ROOM,
  ADVICE_EVEN,
  ADVICE_LATE,
  ADVICE_EARLY,
  ADVICE_NONE,
  ADVICE_AGAIN, ///< Said a third time
  ADVICE_MORE,  ///< ... or more often
} Advice;

static SentenceKind
praise_kind(const Praise praise)
{
  if (praise == PRAISE_AGAIN) {
    return SENTENCE_AGAIN_TWICE;
  }
  return (SentenceKind)(SENTENCE_PRAISE_ROOT + (unsigned)praise);
}

static SentenceKind
advice_kind(const Advice advice)
{
  if (advice > ADVICE_NONE) {
    return advice == ADVICE_AGAIN ? SENTENCE_AGAIN_THIRD : SENTENCE_AGAIN_MORE;
  }
  return (SentenceKind)(SENTENCE_ADVICE_LEFT + (unsigned)advice);
}

// What a sentence may speak of
typedef struct {
  char note[SPELLING_TEXT_CAPACITY];
  char tone[48];
} Words;

// Appends a sentence, or nothing if the whole of it has no room
static void
fill(char* const text, const char* words_of, const Words* const words)
{
  const size_t begin = strlen(text);
  size_t       n     = begin;
  while (*words_of && n < REMARK_CAPACITY) {
    const bool  is_note = strncmp(words_of, "{note}", 6) == 0;
    const bool  is_tone = strncmp(words_of, "{tone}", 6) == 0;
    const char* word    = is_note ? words->note : words->tone;
    if (is_note || is_tone) {
      n += (size_t)snprintf(text + n, REMARK_CAPACITY - n, "%s", word);
      words_of += 6;
    } else {
      text[n++] = *words_of++;
    }
  }
  text[n < REMARK_CAPACITY ? n : begin] = '\0';
}

// What the phrase came to, be it after the line
static HeardNote
last_note(const Phrase* const phrase)
{
  const Landing* const landing = &phrase->landing;
  return landing->is_there ? (HeardNote){.note        = landing->note,
                                         .grid_tick   = landing->grid_tick,
                                         .grid_length = landing->note.length,
                                         .role        = landing->role}
                           : *phrase_last_written(phrase);
}

// Where the phrase was going; a pick-up to the next may follow
static HeardNote
landing(const Phrase* const phrase)
{
  return phrase->landing.is_there || phrase->target == PHRASE_NO_TARGET
           ? last_note(phrase)
           : phrase->notes[phrase->target];
}

static const HeardNote*
first_outside(const Phrase* const phrase, const Resolution resolution)
{
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const HeardNote* const note = &phrase->notes[i];
    if (!note->is_ornament && note->role == ROLE_OUTSIDE &&
        note->resolution == resolution) {
      return note;
    }
  }
  return NULL;
}

static const char*
ordinal(const unsigned number)
{
  static const char* const names[] = {
    "root",
    "second",
    "third",
    "fourth",
    "fifth",
    "sixth",
    "seventh",
  };
  return number >= 1 && number <= 7 ? names[number - 1] : "colour";
}

static void
name_tone(const Chart* const chart, const HeardNote* const note, char tone[48])
{
  const Chord* const chord =
    chart_chord_at(chart, heard_note_chord_tick(note, chart));
  char symbol[CHORD_TEXT_CAPACITY];
  for (unsigned i = 0; i < chord->n_tones; ++i) {
    const unsigned above =
      (unsigned)chord->tones[i].semitones + spelling_pitch_class(chord->root);
    if (above % 12 == note->note.pitch % 12U) {
      (void)snprintf(tone,
                     48,
                     "the %s of %s",
                     ordinal(chord->tones[i].number),
                     chord_text(chord, symbol));
      return;
    }
  }
  (void)snprintf(tone, 48, "a tone of %s", chord_text(chord, symbol));
}

static void
name_note(const Chart* const     chart,
          const HeardNote* const note,
          Words* const           words)
{
  const Tick tick = heard_note_chord_tick(note, chart);
  (void)spelling_text(chart_spell(chart, tick, note->note.pitch), words->note);
  name_tone(chart, note, words->tone);
}

// The two surest landings at a note's place: "C or E"
static void
name_landings(const Chart* const     chart,
              const HeardNote* const note,
              Words* const           words)
{
  const Chord* const chord =
    chart_chord_at(chart, heard_note_chord_tick(note, chart));
  char root[SPELLING_TEXT_CAPACITY];
  char third[SPELLING_TEXT_CAPACITY];
  if (chord->n_tones < 2) {
    (void)snprintf(words->tone, sizeof(words->tone), "a chord tone");
    return;
  }
  (void)snprintf(
    words->tone,
    sizeof(words->tone),
    "%s or %s",
    spelling_text(chord->root, root),
    spelling_text(spelling_above(chord->root, chord->tones[1]), third));
}

static bool
praise_fits(const Praise praise, const Phrase* const phrase)
{
  const Measures* const measures = &phrase->measures;
  switch (praise) {
    case PRAISE_ROOT:
      return landing(phrase).role == ROLE_ROOT;
    case PRAISE_TONE:
      return landing(phrase).role == ROLE_CHORD_TONE;
    case PRAISE_LED:
      return first_outside(phrase, RESOLUTION_LED) != NULL;
    case PRAISE_ROOM:
      return measures->space >= roomy_space;
    case PRAISE_STEADY:
      return phrase->n_notes > 3 && measures->spread_ms <= steady_ms;
    case PRAISE_PLAYED:
      return true;
    case PRAISE_AGAIN:
      return false; // Not the phrase alone tells
  }
  return false;
}

static bool
advice_fits(const Advice advice, const Phrase* const phrase)
{
  const Measures* const measures = &phrase->measures;
  switch (advice) {
    case ADVICE_LEFT:
      return first_outside(phrase, RESOLUTION_LEFT) != NULL;
    case ADVICE_LAST:
      return last_note(phrase).role >= ROLE_SCALE_TONE;
    case ADVICE_ROOM:
      return measures->space < full_space;
    case ADVICE_EVEN:
      return measures->spread_ms > uneven_ms;
    case ADVICE_LATE:
      return measures->offset_ms > off_centre_ms;
    case ADVICE_EARLY:
      return measures->offset_ms < -off_centre_ms;
    case ADVICE_NONE:
      return true;
    case ADVICE_AGAIN:
    case ADVICE_MORE:
      return false; // Not the phrase alone tells
  }
  return false;
}

// The first that fits, or the next that fits when it was said last time
static Praise
choose_praise(const Remarks* const remarks,
              const Phrase* const  phrase,
              const unsigned       times_said)
{
  Praise fallback = PRAISE_PLAYED;
  if (times_said == said_twice) {
    return PRAISE_AGAIN;
  }
  for (Praise praise = PRAISE_ROOT; praise < PRAISE_PLAYED; ++praise) {
    if (praise_fits(praise, phrase)) {
      if (!remarks->n_said || (unsigned)praise != remarks->last_praise) {
        return praise;
      }
      fallback = praise;
    }
  }
  return fallback;
}

static Advice
choose_advice(const Remarks* const remarks,
              const Phrase* const  phrase,
              const unsigned       times_said)
{
  // Every other time, so that there is time to try it
  if (times_said > said_twice && times_said % 2 == 1) {
    return times_said == said_twice + 1 ? ADVICE_AGAIN : ADVICE_MORE;
  }
  for (Advice advice = ADVICE_LEFT; advice < ADVICE_NONE; ++advice) {
    const bool is_new =
      !remarks->n_said || (unsigned)advice != remarks->last_advice;
    if (is_new && advice_fits(advice, phrase)) {
      return advice;
    }
  }
  return ADVICE_NONE;
}

static void
say_praise(const Praise        praise,
           const char* const   wording,
           const Chart* const  chart,
           const Phrase* const phrase,
           char* const         text)
{
  Words                  words   = {"", ""};
  const HeardNote        landed  = landing(phrase);
  const HeardNote* const outside = first_outside(phrase, RESOLUTION_LED);
  name_note(chart, praise == PRAISE_LED && outside ? outside : &landed, &words);
  fill(text, wording, &words);
}

static void
say_advice(const Advice        advice,
           const char* const   wording,
           const Chart* const  chart,
           const Phrase* const phrase,
           char* const         text)
{
  Words                  words                         = {"", ""};
  char                   spaced[SENTENCE_CAPACITY + 1] = " ";
  const HeardNote* const left = first_outside(phrase, RESOLUTION_LEFT);
  if (advice == ADVICE_LEFT && left) {
    name_note(chart, left, &words);
  } else {
    const HeardNote last = last_note(phrase);
    name_landings(chart, &last, &words);
  }
  (void)snprintf(spaced, sizeof(spaced), " %s", wording);
  fill(text, spaced, &words);
}

static SentenceKind
silence_kind(const unsigned silent_turns)
{
  return silent_turns >= silent_for_asking && silent_turns % 2 == 0
           ? SENTENCE_SILENCE_ASKING
           : SENTENCE_SILENCE_WAITING;
}

void
remark_turn(Remarks* const         remarks,
            const Sentences* const sentences,
            const Chart* const     chart,
            const Phrase* const    phrase,
            const unsigned         silent_turns,
            const unsigned         times_said,
            char                   text[REMARK_CAPACITY])
{
  const unsigned turn   = remarks->n_said;
  Praise         praise = PRAISE_PLAYED;
  Advice         advice = ADVICE_NONE;
  text[0]               = '\0';
  if (!phrase->n_notes) {
    const SentenceKind kind = silence_kind(silent_turns);
    fill(text, sentence(sentences, kind, turn), &(Words){"", ""});
  } else {
    praise = choose_praise(remarks, phrase, times_said);
    advice = choose_advice(remarks, phrase, times_said);
    say_praise(praise,
               sentence(sentences, praise_kind(praise), turn),
               chart,
               phrase,
               text);
    if (advice != ADVICE_NONE) {
      say_advice(advice,
                 sentence(sentences, advice_kind(advice), turn),
                 chart,
                 phrase,
                 text);
    }
  }
  remarks->last_praise = praise;
  remarks->last_advice = advice;
  ++remarks->n_said;
}

// Which part of what was played before came again
static SentenceKind
echo_kind(const Phrase* const phrase, const Phrase* const said)
{
  if (!phrase->n_notes) {
    return SENTENCE_ECHO_SILENT;
  }
  const Idea     mine     = idea_of(phrase, true);
  const Idea     theirs   = idea_of(said, false);
  const Likeness likeness = idea_likeness(&mine, &theirs);
  const bool     rhythm   = likeness.rhythm >= came_again;
  const bool     notes    = likeness.pitch >= came_again;
  return rhythm && notes ? SENTENCE_ECHO_WHOLE
         : rhythm        ? SENTENCE_ECHO_RHYTHM
         : notes         ? SENTENCE_ECHO_NOTES
                         : SENTENCE_ECHO_OTHER;
}

void
remark_echo(Remarks* const         remarks,
            const Sentences* const sentences,
            const Phrase* const    phrase,
            const Phrase* const    said,
            char                   text[REMARK_CAPACITY])
{
  const SentenceKind kind = echo_kind(phrase, said);
  text[0]                 = '\0';
  fill(text, sentence(sentences, kind, remarks->n_said), &(Words){"", ""});
  ++remarks->n_said;
}

static_assert(SENTENCE_MET_SING - SENTENCE_MET_ASK == GOAL_SING - GOAL_ASK &&
                SENTENCE_MISSED_SING - SENTENCE_MISSED_ASK ==
                  GOAL_SING - GOAL_ASK,
              "each goal has its sentences, in their order");

void
remark_goal(Remarks* const         remarks,
            const Sentences* const sentences,
            const Goal             goal,
            const bool             is_met,
            char                   text[REMARK_CAPACITY])
{
  assert(goal > GOAL_NONE);
  const SentenceKind first = is_met ? SENTENCE_MET_ASK : SENTENCE_MISSED_ASK;
  const SentenceKind kind  = (SentenceKind)(first + (goal - GOAL_ASK));
  text[0]                  = '\0';
  fill(text, sentence(sentences, kind, remarks->n_said), &(Words){"", ""});
  ++remarks->n_said;
}
