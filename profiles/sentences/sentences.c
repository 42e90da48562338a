#include "profiles/sentences/sentences.h"

#include <assert.h>
#include <string.h>

static const SentenceRow rows[N_SENTENCES] = {
  [SENTENCE_PRAISE_ROOT]     = {"praise", "root", 2, true, true},
  [SENTENCE_PRAISE_TONE]     = {"praise", "tone", 2, true, true},
  [SENTENCE_PRAISE_LED]      = {"praise", "led", 2, true, false},
  [SENTENCE_PRAISE_ROOM]     = {"praise", "room", 2, false, false},
  [SENTENCE_PRAISE_STEADY]   = {"praise", "steady", 2, false, false},
  [SENTENCE_PRAISE_PLAYED]   = {"praise", "played", 2, false, false},
  [SENTENCE_ADVICE_LEFT]     = {"advice", "left", 2, true, false},
  [SENTENCE_ADVICE_LAST]     = {"advice", "last", 2, false, true},
  [SENTENCE_ADVICE_ROOM]     = {"advice", "room", 2, false, false},
  [SENTENCE_ADVICE_EVEN]     = {"advice", "even", 2, false, false},
  [SENTENCE_ADVICE_LATE]     = {"advice", "late", 2, false, false},
  [SENTENCE_ADVICE_EARLY]    = {"advice", "early", 2, false, false},
  [SENTENCE_SILENCE_WAITING] = {"silence", "waiting", 2, false, false},
  [SENTENCE_SILENCE_ASKING]  = {"silence", "asking", 1, false, false},
  [SENTENCE_WORKED_LANDING]  = {"worked", "landing", 1, false, false},
  [SENTENCE_WORKED_ROOM]     = {"worked", "room", 1, false, false},
  [SENTENCE_WORKED_TIME]     = {"worked", "time", 1, false, false},
  [SENTENCE_WORKED_LED]      = {"worked", "led", 1, false, false},
  [SENTENCE_WORKED_HOME]     = {"worked", "home", 1, false, false},
  [SENTENCE_WORKED_TURNS]    = {"worked", "turns", 1, false, false},
  [SENTENCE_WORKED_FORM]     = {"worked", "form", 1, false, false},
  [SENTENCE_WORK_ON_LANDING] = {"work_on", "landing", 1, false, false},
  [SENTENCE_WORK_ON_LEADING] = {"work_on", "leading", 1, false, false},
  [SENTENCE_WORK_ON_ROOM]    = {"work_on", "room", 1, false, false},
  [SENTENCE_WORK_ON_TIME]    = {"work_on", "time", 1, false, false},
  [SENTENCE_WORK_ON_BAND]    = {"work_on", "band", 1, false, false},
  [SENTENCE_WORK_ON_IDEA]    = {"work_on", "idea", 1, false, false},
  [SENTENCE_NEXT_LANDING]    = {"next", "landing", 1, false, false},
  [SENTENCE_NEXT_ROOM]       = {"next", "room", 1, false, false},
  [SENTENCE_NEXT_SLOWER]     = {"next", "slower", 1, false, false},
  [SENTENCE_NEXT_LIKED]      = {"next", "liked", 1, false, false},
  [SENTENCE_NEXT_ONE_NOTE]   = {"next", "one_note", 1, false, false},
};

static const Sentences plain = {{
  [SENTENCE_PRAISE_ROOT]   = {2,
                              {"You came home to {note}, the root.",
                               "Landed on {note}, right on the root."}},
  [SENTENCE_PRAISE_TONE]   = {2,
                              {"You landed on {note}, {tone}.",
                               "Good landing: {note}, {tone}."}},
  [SENTENCE_PRAISE_LED]    = {2,
                              {"You led the {note} from outside home by step.",
                               "The {note} from outside found its way home."}},
  [SENTENCE_PRAISE_ROOM]   = {2,
                              {"You left room to breathe.",
                               "The rests made the phrase."}},
  [SENTENCE_PRAISE_STEADY] = {2,
                              {"That sat well in the time.",
                               "Steady time there."}},
  [SENTENCE_PRAISE_PLAYED] = {2,
                              {"I heard you.",
                               "You put something there to answer."}},
  [SENTENCE_ADVICE_LEFT] =
    {2,
     {"Take the {note} one step on, to a chord tone.",
      "The {note} wants to move by step to a chord tone."}},
  [SENTENCE_ADVICE_LAST] = {2,
                            {"Try to let the last note be {tone}.",
                             "Next time aim the end at {tone}."}},
  [SENTENCE_ADVICE_ROOM] =
    {2,
     {"Next time stop a little earlier and leave a rest.",
      "Leave a gap somewhere; it will say more."}},
  [SENTENCE_ADVICE_EVEN] = {2,
                            {"Fewer notes, each one right on its place.",
                             "Feel the beat first, then play half as much."}},
  [SENTENCE_ADVICE_LATE] = {2,
                            {"You lay back a good deal; lean forward a little.",
                             "Let the notes come a shade sooner."}},
  [SENTENCE_ADVICE_EARLY] =
    {2,
     {"You run ahead of the band; let each beat come to you.",
      "Wait for the beat a shade longer."}},
  [SENTENCE_SILENCE_WAITING] = {3,
                                {"Take your time; here is something short.",
                                 "No hurry. One note is enough to begin with.",
                                 "I will keep it small and wait for you."}},
  [SENTENCE_SILENCE_ASKING] =
    {1, {"Shall we stop here, or shall I wait a little longer?"}},
  [SENTENCE_WORKED_LANDING] =
    {1, {"Most of your phrases landed on a chord tone."}},
  [SENTENCE_WORKED_ROOM]  = {1,
                             {"You left room, and the phrases could be heard."}},
  [SENTENCE_WORKED_TIME]  = {1, {"Your time was steady."}},
  [SENTENCE_WORKED_LED]   = {1, {"Every note from outside was led home."}},
  [SENTENCE_WORKED_HOME]  = {1, {"You found the root to end on."}},
  [SENTENCE_WORKED_TURNS] = {1, {"You played in every turn of yours."}},
  [SENTENCE_WORKED_FORM]  = {1, {"You kept going to the end of the form."}},
  [SENTENCE_WORK_ON_LANDING] =
    {1, {"Aim the last note of each phrase at a chord tone."}},
  [SENTENCE_WORK_ON_LEADING] =
    {1, {"Lead notes from outside on by step to a chord tone."}},
  [SENTENCE_WORK_ON_ROOM] =
    {1, {"Stop earlier: leave a rest at the end of each turn."}},
  [SENTENCE_WORK_ON_TIME] =
    {1, {"Play fewer notes and place each one on the beat."}},
  [SENTENCE_WORK_ON_BAND] = {1, {"Listen to the drums and sit with them."}},
  [SENTENCE_WORK_ON_IDEA] = {1,
                             {"Say one short idea twice before you leave it."}},
  [SENTENCE_NEXT_LANDING] =
    {1, {"Next time begin with two notes: the root and the third."}},
  [SENTENCE_NEXT_ROOM] =
    {1, {"Next time begin with a bar played, a bar of rest."}},
  [SENTENCE_NEXT_SLOWER] = {1, {"Next time begin a little slower."}},
  [SENTENCE_NEXT_LIKED] =
    {1, {"Next time begin with the phrase you liked best today."}},
  [SENTENCE_NEXT_ONE_NOTE] =
    {1, {"Begin with one note, the root, anywhere in the bar."}},
}};

SentenceRow
sentence_row(const SentenceKind kind)
{
  assert((unsigned)kind < N_SENTENCES);
  return rows[kind];
}

const Sentences*
sentences_plain(void)
{
  return &plain;
}

const char*
sentence(const Sentences* const sentences,
         const SentenceKind     kind,
         const unsigned         turn)
{
  const Wordings* const wordings = &sentences->of[kind];
  return wordings->words[turn % wordings->n];
}

bool
sentence_fits(const SentenceKind kind, const char* text)
{
  const SentenceRow row = sentence_row(kind);
  for (; (text = strpbrk(text, "{}")); text += strlen("{note}")) {
    const bool is_note = row.has_note && strncmp(text, "{note}", 6) == 0;
    const bool is_tone = row.has_tone && strncmp(text, "{tone}", 6) == 0;
    if (!is_note && !is_tone) {
      return false;
    }
  }
  return true;
}
