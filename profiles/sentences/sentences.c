#include "profiles/sentences/sentences.h"

#include <assert.h>
#include <string.h>

static const SentenceRow rows[N_SENTENCES] = {
  [SENTENCE_PRAISE_ROOT]         = {"praise", "root", 2, true, true},
  [SENTENCE_PRAISE_TONE]         = {"praise", "tone", 2, true, true},
  [SENTENCE_PRAISE_LED]          = {"praise", "led", 2, true, false},
  [SENTENCE_PRAISE_ROOM]         = {"praise", "room", 2, false, false},
  [SENTENCE_PRAISE_STEADY]       = {"praise", "steady", 2, false, false},
  [SENTENCE_PRAISE_PLAYED]       = {"praise", "played", 2, false, false},
  [SENTENCE_ADVICE_LEFT]         = {"advice", "left", 2, true, false},
  [SENTENCE_ADVICE_LAST]         = {"advice", "last", 2, false, true},
  [SENTENCE_ADVICE_ROOM]         = {"advice", "room", 2, false, false},
  [SENTENCE_ADVICE_EVEN]         = {"advice", "even", 2, false, false},
  [SENTENCE_ADVICE_LATE]         = {"advice", "late", 2, false, false},
  [SENTENCE_ADVICE_EARLY]        = {"advice", "early", 2, false, false},
  [SENTENCE_SILENCE_WAITING]     = {"silence", "waiting", 2, false, false},
  [SENTENCE_SILENCE_ASKING]      = {"silence", "asking", 2, false, false},
  [SENTENCE_AGAIN_TWICE]         = {"again", "twice", 2, false, false},
  [SENTENCE_AGAIN_THIRD]         = {"again", "third", 2, false, false},
  [SENTENCE_AGAIN_MORE]          = {"again", "more", 2, false, false},
  [SENTENCE_ECHO_WHOLE]          = {"echo", "whole", 2, false, false},
  [SENTENCE_ECHO_RHYTHM]         = {"echo", "rhythm", 2, false, false},
  [SENTENCE_ECHO_NOTES]          = {"echo", "notes", 2, false, false},
  [SENTENCE_ECHO_OTHER]          = {"echo", "other", 2, false, false},
  [SENTENCE_ECHO_SILENT]         = {"echo", "silent", 2, false, false},
  [SENTENCE_PRACTISE_REPEAT]     = {"practise", "repeat", 1, false, false},
  [SENTENCE_PRACTISE_NEW_NOTES]  = {"practise", "new_notes", 1, false, false},
  [SENTENCE_PRACTISE_NEW_RHYTHM] = {"practise", "new_rhythm", 1, false, false},
  [SENTENCE_PRACTISE_SEQUENCE]   = {"practise", "sequence", 1, false, false},
  [SENTENCE_PRACTISE_QUESTION]   = {"practise", "question", 1, false, false},
  [SENTENCE_PRACTISE_FRAGMENT]   = {"practise", "fragment", 1, false, false},
  [SENTENCE_PRACTISE_THIN_OUT]   = {"practise", "thin_out", 1, false, false},
  [SENTENCE_PRACTISE_FILL_IN]    = {"practise", "fill_in", 1, false, false},
  [SENTENCE_PRACTISE_TURN_OVER]  = {"practise", "turn_over", 1, false, false},
  [SENTENCE_PRACTISE_SHIFT]      = {"practise", "shift", 1, false, false},
  [SENTENCE_PRACTISE_RETURN]     = {"practise", "return", 1, false, false},
  [SENTENCE_PRACTISE_ORNAMENT]   = {"practise", "ornament", 1, false, false},
  [SENTENCE_WORKED_LANDING]      = {"worked", "landing", 2, false, false},
  [SENTENCE_WORKED_ROOM]         = {"worked", "room", 2, false, false},
  [SENTENCE_WORKED_TIME]         = {"worked", "time", 2, false, false},
  [SENTENCE_WORKED_LED]          = {"worked", "led", 2, false, false},
  [SENTENCE_WORKED_HOME]         = {"worked", "home", 2, false, false},
  [SENTENCE_WORKED_TURNS]        = {"worked", "turns", 2, false, false},
  [SENTENCE_WORKED_FORM]         = {"worked", "form", 2, false, false},
  [SENTENCE_WORK_ON_LANDING]     = {"work_on", "landing", 2, false, false},
  [SENTENCE_WORK_ON_LEADING]     = {"work_on", "leading", 2, false, false},
  [SENTENCE_WORK_ON_ROOM]        = {"work_on", "room", 2, false, false},
  [SENTENCE_WORK_ON_TIME]        = {"work_on", "time", 2, false, false},
  [SENTENCE_WORK_ON_BAND]        = {"work_on", "band", 2, false, false},
  [SENTENCE_WORK_ON_IDEA]        = {"work_on", "idea", 2, false, false},
  [SENTENCE_NEXT_LANDING]        = {"next", "landing", 2, false, false},
  [SENTENCE_NEXT_ROOM]           = {"next", "room", 2, false, false},
  [SENTENCE_NEXT_SLOWER]         = {"next", "slower", 2, false, false},
  [SENTENCE_NEXT_LIKED]          = {"next", "liked", 2, false, false},
  [SENTENCE_NEXT_ONE_NOTE]       = {"next", "one_note", 2, false, false},
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
    {3,
     {"Shall we stop here, or shall I wait a little longer?",
      "Is that enough for today? I can wait, too.",
      "Stop here, or one more time round? I am listening."}},
  [SENTENCE_AGAIN_TWICE] = {4,
                            {"You said it twice: now it is an idea.",
                             "Said again, and now it is yours.",
                             "Twice the same: that makes it an idea.",
                             "The second time made a theme of it."}},
  [SENTENCE_AGAIN_THIRD] = {4,
                            {"A third time: change the ending.",
                             "Keep how it begins, and end it another way.",
                             "Next time let the end go somewhere else.",
                             "Once more, and leave one note of it out."}},
  [SENTENCE_AGAIN_MORE] =
    {4,
     {"Leave it now, and come back to it later.",
      "Say half of it, and let the rest be new.",
      "Move it: begin it on another beat, or on another note.",
      "Let something new come, and keep this for the end."}},
  [SENTENCE_ECHO_WHOLE] = {3,
                           {"All of it, just as it was played.",
                            "That was it, note for note.",
                            "You have it; once more, as easily."}},
  [SENTENCE_ECHO_RHYTHM] =
    {2,
     {"The rhythm was there; listen once more to the notes.",
      "In time as it was played; the notes will follow."}},
  [SENTENCE_ECHO_NOTES] =
    {2,
     {"The notes were there; listen once more to the rhythm.",
      "The right notes; now place them where you heard them."}},
  [SENTENCE_ECHO_OTHER] =
    {2,
     {"Listen once more; a part of it is enough to begin with.",
      "Take the first half of it only, and let the rest go."}},
  [SENTENCE_ECHO_SILENT] =
    {2,
     {"Just listen this time, and come in when you like.",
      "No hurry: it is played again."}},
  [SENTENCE_PRACTISE_REPEAT] =
    {1, {"Play it until it is yours, then once without looking at the keys."}},
  [SENTENCE_PRACTISE_NEW_NOTES] =
    {1, {"Clap the rhythm first; then find notes of your own for it."}},
  [SENTENCE_PRACTISE_NEW_RHYTHM] =
    {1, {"Sing the notes in a rhythm of your own, then play what you sang."}},
  [SENTENCE_PRACTISE_SEQUENCE] = {1,
                                  {"Say which note it starts from; then take "
                                   "it one step further yourself."}},
  [SENTENCE_PRACTISE_QUESTION] =
    {1, {"Keep the question, and answer it three times, never the same way."}},
  [SENTENCE_PRACTISE_FRAGMENT] = {1,
                                  {"Play the piece alone, over and over, and "
                                   "move it as the chords change."}},
  [SENTENCE_PRACTISE_THIN_OUT] =
    {1, {"Play only these notes, and hear in your head the ones left out."}},
  [SENTENCE_PRACTISE_FILL_IN] =
    {1,
     {"Play the chord tones first; then slip the steps in between, evenly."}},
  [SENTENCE_PRACTISE_TURN_OVER] =
    {1, {"Play your phrase, then this one: each rise becomes a fall."}},
  [SENTENCE_PRACTISE_SHIFT] =
    {1,
     {"Count aloud while you play: the notes stay, only their place moves."}},
  [SENTENCE_PRACTISE_RETURN] =
    {1, {"Play two other ideas first, and then come back to this one."}},
  [SENTENCE_PRACTISE_ORNAMENT] =
    {1, {"Play it plain; then crush the short notes in, light and late."}},
  [SENTENCE_WORKED_LANDING] =
    {3,
     {"Most of your phrases landed on a chord tone.",
      "You knew where your phrases were going: most of them landed.",
      "Your endings fitted the chords."}},
  [SENTENCE_WORKED_ROOM] = {3,
                            {"You left room, and the phrases could be heard.",
                             "The rests were yours as much as the notes.",
                             "There was air in what you played."}},
  [SENTENCE_WORKED_TIME] = {3,
                            {"Your time was steady.",
                             "You and the band stayed together.",
                             "Your notes sat where they belonged."}},
  [SENTENCE_WORKED_LED] =
    {3,
     {"Every note from outside was led home.",
      "You went outside and found your way back each time.",
      "No note from outside was left behind."}},
  [SENTENCE_WORKED_HOME]  = {3,
                             {"You found the root to end on.",
                              "You came home to the root.",
                              "The root was where you looked for it."}},
  [SENTENCE_WORKED_TURNS] = {3,
                             {"You played in every turn of yours.",
                              "You had something to say in every turn.",
                              "No turn of yours went by unused."}},
  [SENTENCE_WORKED_FORM]  = {3,
                             {"You kept going to the end of the form.",
                              "You stayed with the form all the way.",
                              "You played it through."}},
  [SENTENCE_WORK_ON_LANDING] =
    {3,
     {"Aim the last note of each phrase at a chord tone.",
      "Choose the note you will end on before you begin.",
      "Let each phrase end on a note of the chord."}},
  [SENTENCE_WORK_ON_LEADING] =
    {3,
     {"Lead notes from outside on by step to a chord tone.",
      "After a note from outside, take one step to the chord.",
      "Let no note from outside be the last one."}},
  [SENTENCE_WORK_ON_ROOM] =
    {3,
     {"Stop earlier: leave a rest at the end of each turn.",
      "Play less of each turn, and let the band be heard.",
      "Leave a gap after each idea."}},
  [SENTENCE_WORK_ON_TIME] =
    {3,
     {"Play fewer notes and place each one on the beat.",
      "Count along, and let each note meet the count.",
      "Clap the rhythm before you play it."}},
  [SENTENCE_WORK_ON_BAND] =
    {3,
     {"Listen to the drums and sit with them.",
      "Let the bass tell you where the beat is.",
      "Play with the band, neither ahead of it nor behind."}},
  [SENTENCE_WORK_ON_IDEA] =
    {3,
     {"Say one short idea twice before you leave it.",
      "Keep one rhythm for a whole chorus.",
      "Take up what you have just heard, and change one thing."}},
  [SENTENCE_NEXT_LANDING] =
    {3,
     {"Next time begin with two notes: the root and the third.",
      "Next time begin with phrases of three notes that end on the root.",
      "Begin next time with the chord tones alone."}},
  [SENTENCE_NEXT_ROOM] =
    {3,
     {"Next time begin with a bar played, a bar of rest.",
      "Next time begin with half as many notes.",
      "Begin next time with one short phrase in each turn."}},
  [SENTENCE_NEXT_SLOWER] =
    {3,
     {"Next time begin a little slower.",
      "Next time take a few beats a minute off the tempo.",
      "Begin next time at a tempo that feels easy."}},
  [SENTENCE_NEXT_LIKED] =
    {3,
     {"Next time begin with the phrase you liked best today.",
      "Next time begin with today's last phrase, in another key.",
      "Begin next time where it went best today."}},
  [SENTENCE_NEXT_ONE_NOTE] =
    {3,
     {"Begin with one note, the root, anywhere in the bar.",
      "Begin with the root alone, once in a bar.",
      "One note is enough to begin: the root, on the first beat."}},
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
