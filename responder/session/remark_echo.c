#include "responder/session/remark.h"

#include "responder/hear/ideas.h"
#include "responder/session/wording.h"

// Likeness of what is an echo; common practice, no source.
static const float came_again = 0.9F;

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
  wording_say(remarks, sentences, kind, &(FactWords){"", ""}, text);
  ++remarks->n_said;
}
