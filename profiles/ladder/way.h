/// @file profiles/ladder/way.h The named ways of playing together.

#ifndef PROFILES_LADDER_WAY_H
#define PROFILES_LADDER_WAY_H

typedef enum {
  WAY_ANSWER,       ///< The partner answers what the player says, in turns
  WAY_QUESTION,     ///< One asks, the other closes; then the other way round
  WAY_ECHO,         ///< A cell is given back, longer as it comes
  WAY_FEW_NOTES,    ///< One note, then two, then three, for both
  WAY_STORY,        ///< A A B, the B is the player's
  WAY_HANDING_OVER, ///< The partner plays, then both, then the player alone
  WAY_SING_FIRST,   ///< A bar of silence to sing in before each turn
} Way;

enum { N_WAYS = 7 };

/// All names in their order, and NULL after the last.
extern const char* const way_names[N_WAYS + 1];

/// Return how often the form goes by, 0: as often as is chosen.
unsigned
way_choruses(Way way);

/// Return the bars of a turn, 0: as many as are chosen.
unsigned
way_bars(Way way);

#endif // PROFILES_LADDER_WAY_H
