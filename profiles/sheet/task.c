#include "profiles/sheet/task.h"

#include "core/music/text.h"

static const char*
words_of(const Ladder* const ladder,
         const Dimension     dimension,
         const unsigned      level)
{
  switch (dimension) {
    case DIMENSION_NOTES:
      return ladder->notes[level - 1].words;
    case DIMENSION_RHYTHM:
      return ladder->rhythm[level - 1].words;
    case DIMENSION_SHAPE:
      return ladder->shape[level - 1].words;
    case DIMENSION_ORNAMENT:
      return ladder->ornament[level - 1].words;
  }
  return "";
}

// As the warm-up's drills have it; common practice, no source
static const char*
practice_of(const Dimension dimension)
{
  switch (dimension) {
    case DIMENSION_NOTES:
      return "End each phrase on a chord tone and let it stand.";
    case DIMENSION_RHYTHM:
      return "Play the rhythm on the root alone, then on two chord tones.";
    case DIMENSION_SHAPE:
      return "Play a rhythm twice, and let it end at home the second time.";
    case DIMENSION_ORNAMENT:
      return "Let a crushed note fall into a long one, once or twice a chorus.";
  }
  return "";
}

/// The lowest rung of ornament asks for nothing: there the next one is the aim.
static unsigned
aim_of(const Rung rung, const Dimension dimension)
{
  const unsigned level = rung.level[dimension];
  return dimension == DIMENSION_ORNAMENT && level == 1 ? 2 : level;
}

const char*
sheet_task(const Ladder* const ladder,
           const Rung          rung,
           const Dimension     dimension,
           char                text[TASK_TEXT_CAPACITY])
{
  Text line = text_begin(text, TASK_TEXT_CAPACITY);
  text_add(&line, "Today's aim, ");
  text_add(&line, dimension_name(dimension));
  text_add(&line, ": ");
  text_add(&line, words_of(ladder, dimension, aim_of(rung, dimension)));
  text_add(&line, ". ");
  text_add(&line, practice_of(dimension));
  return text;
}
