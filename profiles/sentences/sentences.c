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
  [SENTENCE_PRAISE_RHYTHM]       = {"praise", "rhythm", 2, false, false},
  [SENTENCE_PRAISE_BEGAN]        = {"praise", "began", 2, false, false},
  [SENTENCE_PRAISE_MOVED]        = {"praise", "moved", 2, true, true},
  [SENTENCE_PRAISE_OPEN]         = {"praise", "open", 2, false, false},
  [SENTENCE_PRAISE_SHAPED]       = {"praise", "shaped", 2, false, false},
  [SENTENCE_ADVICE_LEFT]         = {"advice", "left", 2, true, false},
  [SENTENCE_ADVICE_LAST]         = {"advice", "last", 2, false, true},
  [SENTENCE_ADVICE_ROOM]         = {"advice", "room", 2, false, false},
  [SENTENCE_ADVICE_EVEN]         = {"advice", "even", 2, false, false},
  [SENTENCE_ADVICE_LATE]         = {"advice", "late", 2, false, false},
  [SENTENCE_ADVICE_EARLY]        = {"advice", "early", 2, false, false},
  [SENTENCE_ADVICE_CONNECT]      = {"advice", "connect", 2, false, false},
  [SENTENCE_ADVICE_MOVED]        = {"advice", "moved", 2, true, true},
  [SENTENCE_ADVICE_FLAT]         = {"advice", "flat", 2, false, false},
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
  [SENTENCE_WAY_QUESTION]        = {"way", "question", 2, false, false},
  [SENTENCE_WAY_ECHO]            = {"way", "echo", 2, false, false},
  [SENTENCE_WAY_FEW_NOTES]       = {"way", "few_notes", 2, false, false},
  [SENTENCE_WAY_STORY]           = {"way", "story", 2, false, false},
  [SENTENCE_WAY_HANDING_OVER]    = {"way", "handing_over", 2, false, false},
  [SENTENCE_WAY_SING_FIRST]      = {"way", "sing_first", 2, false, false},
  [SENTENCE_TURN_ASK]            = {"turn", "ask", 2, false, false},
  [SENTENCE_TURN_CLOSE]          = {"turn", "close", 2, false, false},
  [SENTENCE_TURN_ECHO_RHYTHM]    = {"turn", "echo_rhythm", 2, false, false},
  [SENTENCE_TURN_ECHO_LANDING]   = {"turn", "echo_landing", 2, false, false},
  [SENTENCE_TURN_ECHO_WHOLE]     = {"turn", "echo_whole", 2, false, false},
  [SENTENCE_TURN_FEW_ONE]        = {"turn", "few_one", 2, false, false},
  [SENTENCE_TURN_FEW_TWO]        = {"turn", "few_two", 2, false, false},
  [SENTENCE_TURN_FEW_THREE]      = {"turn", "few_three", 2, false, false},
  [SENTENCE_TURN_LINE_MINE]      = {"turn", "line_mine", 2, false, false},
  [SENTENCE_TURN_LINE_YOURS]     = {"turn", "line_yours", 2, false, false},
  [SENTENCE_TURN_AGAIN_YOURS]    = {"turn", "again_yours", 2, false, false},
  [SENTENCE_TURN_AGAIN_MINE]     = {"turn", "again_mine", 2, false, false},
  [SENTENCE_TURN_LAST]           = {"turn", "last", 2, false, false},
  [SENTENCE_TURN_SHOW]           = {"turn", "show", 2, false, false},
  [SENTENCE_TURN_ALONG]          = {"turn", "along", 2, false, false},
  [SENTENCE_TURN_ALONE]          = {"turn", "alone", 2, false, false},
  [SENTENCE_MET_ASK]             = {"met", "ask", 2, false, false},
  [SENTENCE_MET_CLOSE]           = {"met", "close", 2, false, false},
  [SENTENCE_MET_RHYTHM]          = {"met", "rhythm", 2, false, false},
  [SENTENCE_MET_LANDING]         = {"met", "landing", 2, false, false},
  [SENTENCE_MET_WHOLE]           = {"met", "whole", 2, false, false},
  [SENTENCE_MET_FEW]             = {"met", "few", 2, false, false},
  [SENTENCE_MET_LINE]            = {"met", "line", 2, false, false},
  [SENTENCE_MET_AGAIN]           = {"met", "again", 2, false, false},
  [SENTENCE_MET_LAST]            = {"met", "last", 2, false, false},
  [SENTENCE_MET_ALONG]           = {"met", "along", 2, false, false},
  [SENTENCE_MET_ALONE]           = {"met", "alone", 2, false, false},
  [SENTENCE_MET_SING]            = {"met", "sing", 2, false, false},
  [SENTENCE_MISSED_ASK]          = {"missed", "ask", 2, false, false},
  [SENTENCE_MISSED_CLOSE]        = {"missed", "close", 2, false, false},
  [SENTENCE_MISSED_RHYTHM]       = {"missed", "rhythm", 2, false, false},
  [SENTENCE_MISSED_LANDING]      = {"missed", "landing", 2, false, false},
  [SENTENCE_MISSED_WHOLE]        = {"missed", "whole", 2, false, false},
  [SENTENCE_MISSED_FEW]          = {"missed", "few", 2, false, false},
  [SENTENCE_MISSED_LINE]         = {"missed", "line", 2, false, false},
  [SENTENCE_MISSED_AGAIN]        = {"missed", "again", 2, false, false},
  [SENTENCE_MISSED_LAST]         = {"missed", "last", 2, false, false},
  [SENTENCE_MISSED_ALONG]        = {"missed", "along", 2, false, false},
  [SENTENCE_MISSED_ALONE]        = {"missed", "alone", 2, false, false},
  [SENTENCE_MISSED_SING]         = {"missed", "sing", 2, false, false},
  [SENTENCE_WAY_WORKED_QUESTION] = {"way_worked", "question", 2, false, false},
  [SENTENCE_WAY_WORKED_ECHO]     = {"way_worked", "echo", 2, false, false},
  [SENTENCE_WAY_WORKED_FEW_NOTES] =
    {"way_worked", "few_notes", 2, false, false},
  [SENTENCE_WAY_WORKED_STORY] = {"way_worked", "story", 2, false, false},
  [SENTENCE_WAY_WORKED_HANDING_OVER] =
    {"way_worked", "handing_over", 2, false, false},
  [SENTENCE_WAY_WORKED_SING_FIRST] =
    {"way_worked", "sing_first", 2, false, false},
  [SENTENCE_WAY_NEXT_QUESTION]  = {"way_next", "question", 2, false, false},
  [SENTENCE_WAY_NEXT_ECHO]      = {"way_next", "echo", 2, false, false},
  [SENTENCE_WAY_NEXT_FEW_NOTES] = {"way_next", "few_notes", 2, false, false},
  [SENTENCE_WAY_NEXT_STORY]     = {"way_next", "story", 2, false, false},
  [SENTENCE_WAY_NEXT_HANDING_OVER] =
    {"way_next", "handing_over", 2, false, false},
  [SENTENCE_WAY_NEXT_SING_FIRST] = {"way_next", "sing_first", 2, false, false},
  [SENTENCE_AIM_LAND]            = {"aim", "land", 2, false, false},
  [SENTENCE_AIM_ROOM]            = {"aim", "room", 2, false, false},
  [SENTENCE_AIM_TAKE_UP]         = {"aim", "take_up", 2, false, false},
  [SENTENCE_AIM_TWICE]           = {"aim", "twice", 2, false, false},
  [SENTENCE_AIM_MET_LAND]        = {"aim_met", "land", 2, false, false},
  [SENTENCE_AIM_MET_ROOM]        = {"aim_met", "room", 2, false, false},
  [SENTENCE_AIM_MET_TAKE_UP]     = {"aim_met", "take_up", 2, false, false},
  [SENTENCE_AIM_MET_TWICE]       = {"aim_met", "twice", 2, false, false},
  [SENTENCE_AIM_MISSED_LAND]     = {"aim_missed", "land", 2, false, false},
  [SENTENCE_AIM_MISSED_ROOM]     = {"aim_missed", "room", 2, false, false},
  [SENTENCE_AIM_MISSED_TAKE_UP]  = {"aim_missed", "take_up", 2, false, false},
  [SENTENCE_AIM_MISSED_TWICE]    = {"aim_missed", "twice", 2, false, false},
};

SentenceRow
sentence_row(const SentenceKind kind)
{
  assert((unsigned)kind < N_SENTENCES);
  return rows[kind];
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
