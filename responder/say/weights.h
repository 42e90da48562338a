/// @file responder/say/weights.h Every number that an answer's taste depends
/// on.
///
/// Starting values, tuned against the measures of `tests/bench/musicianship`.

#ifndef RESPONDER_SAY_WEIGHTS_H
#define RESPONDER_SAY_WEIGHTS_H

#include "profiles/ladder/ladder.h"
#include "profiles/ladder/move.h"

#include <stdint.h>

enum {
  THINK_SLICES       = 150, ///< Rhythms tried for one answer
  THINK_WHOLE_SLICES = 24,  ///< ... where a whole phrase is followed
  THINK_LINES        = 4,   ///< Lines drawn for each
  THINK_PATIENCE     = 40,  ///< Without any result, before another move
  THINK_ROOM         = 8,   ///< ... before another cell
  THINK_CELL         = 4,   ///< ... where a piece is to be said
  THINK_INTENT       = 12,  ///< Between intents, where the best line is poor
  THINK_LEAST        = 8,   ///< When there was no time to think
  RHYTHM_TRIES       = 14,
  N_LENGTHS          = 3, ///< Of turns: one bar, two, more
  PLAN_STARTS        = 7, ///< Half beats from the first on
  PLAN_HALVES        = 7,
  N_PICK_UPS         = 3,
  N_GOALS            = 7,
  N_ALL_FORMS        = 6,
  N_ALL_TEXTURES     = 4,
  N_ALL_CONTOURS     = 4,
  N_ALL_READINGS     = 6,
  N_SKELETON_STEPS   = 13,
  N_FIGURE_KINDS     = 5,
  N_END_HALVES       = 6,
  N_FORM_PHASES      = 4, ///< Repeat, repeat, depart, return
  N_PLACES       = 4, ///< First or middle beat, other beat, half beat, finer
  N_SHAPES       = 4, ///< Convex, falling, rising, concave
  N_TAILS        = 4, ///< 1 to 4 half beats
  N_TEMPI        = 5,
  N_ALL_MANNERS  = 4,
  MANNER_HALVES  = 9,
  N_RIFF_PERIODS = 6,
};

typedef struct {
  float least;
  float most;
} Band;

/// A weight where scale tones are free, and one at rungs of chord tones.
typedef struct {
  float free, plain;
} ByRung;

static inline double
by_rung(const ByRung weight, const bool is_plain)
{
  return is_plain ? (double)weight.plain : (double)weight.free;
}

/// Return what stands so far along a band, 0..1.
static inline double
band_at(const Band band, const double along)
{
  return (double)band.least + along * (double)(band.most - band.least);
}

/// What likeness to its source a move must have to be that move.
typedef struct {
  Band  rhythm;
  Band  pitch;
  float whole; ///< The better of the two, at least
} MoveBand;

/// Cells of the call.
typedef struct {
  float  step;  ///< Bits, what a step says
  float  odd;   ///< ... more: neither a quaver nor a beat
  float  mixed; ///< ... of another length than the one before
  float  leap;  ///< ... from a fourth on
  float  repeat;
  float  telling;     ///< The power of their sum, which is a cell's weight
  float  no_room;     ///< That of a cell that nothing came of: times
  float  poor;        ///< ... of one whose lines are poor: times
  float  last_resort; ///< ... no less than that
  float  begins;      ///< That of a cell that begins a phrase: times
  float  ends;
  float  twice;      ///< Said twice by the player
  float  riff;       ///< ... from the beginning
  float  motto;      ///< ... said once, at rungs of chord tones
  float  riff_pitch; ///< What a semitone away from its own pitch leaves
  float  at_start;   ///< Where it stands in the answer
  float  at_end;
  float  inside;
  float  same_place;  ///< Where it stood in the call's bar: times
  float  first_place; ///< ... of what is to begin the answer
  float  other_phase; ///< Elsewhere in the beat: times
  float  bar_apart;   ///< A riff, a bar from its first statement: times
  float  half_apart;  ///< ... any cell, half a bar
  float  twice_plain; ///< Chance to stand twice
  float  twice_free;
  float  fall_plain; ///< What a semitone more or less leaves of an interval
  float  fall_free;
  float  fall_leap;     ///< ... of a leap, which is what the cell is known by
  float  fall_rhythm;   ///< ... where the rhythm is what is taken
  double kept_before;   ///< Clear before a planted cell, of a beat
  double kept_after;    ///< ... after its last note, of half a beat
  double held;          ///< That last note is held where longer than this
  int    parts_briefly; ///< A cell of a riff or talk is one of so many
  int    parts_twice;   ///< ... of the answer at most
  int    parts_across;
} CellWeights;

/// What an answer is to be.
typedef struct {
  float  close_open; ///< Chance to close after a call that asks
  float  close_closed;
  float  close_plain;   ///< ... at rungs of chord tones
  float  contrast;      ///< Notes in a 4/4 bar that call and answer sum to
  float  follows;       ///< How far the call's own density counts instead
  float  follows_plain; ///< ... at rungs of chord tones
  float  denser;
  double usual_compass; ///< Semitones, unless range is to be shown
  float
    usual_onsets; ///< Of a rung whose answers are as dense as that; others
                  ///< by the power of `fuller`, with scale tones and triplets
  double fuller;
  float  plain_fuller; ///< At rungs of chord tones, or without triplets: times
                       ///< the square
  float notes_spread;  ///< Of a lognormal
  float notes_least;   ///< Of the rung's most
  float notes_most;
  float newest;               ///< Chance of the rung's newest division
  float newest_sixteenths[2]; ///< ... and in two bars, below notes outside
  float newest_across;        ///< ... of groups across the bar
  float more_notes[N_ALL_TEXTURES]; ///< That a division adds
  float older;
  float quickest_ms;    ///< What is quicker comes less, or in no cell
  float quick_triplets; ///< ... times
  float quick_sixteenths;
  float fine; ///< Where the call is in sixteenths, and they are not too quick
  float triplet_ms; ///< What is quicker still does not come at all
  float sixteenth_ms;
  float shows;         ///< Chance to show what the rung adds
  float shows_wide;    ///< ... two octaves
  float appoggiaturas; ///< ... to lean, where there are notes outside
  float forms[N_LENGTHS][N_ALL_FORMS];
  float plain_forms[N_LENGTHS][N_ALL_FORMS]; ///< At rungs of chord tones
  float contours[N_ALL_CONTOURS];
  float pick_up;
  float pick_ups[N_PICK_UPS];
  float starts[PLAN_STARTS];
  float plain_on_beat;   ///< Starts on the beat, at rungs of chord tones: times
  float same_start;      ///< Where the call began: times
  float riff_start;      ///< ... a riff at rungs of chord tones
  float late_start;      ///< After the second beat of a short turn: times
  float late_start_long; ///< ... of a longer one
  float goals[2][N_GOALS];
  float short_ones[PLAN_HALVES]; ///< Lengths of short phrases, half beats
  float rests[PLAN_HALVES];
  float slips[PLAN_HALVES];
  float breath;
  float run_forms[N_ALL_FORMS]; ///< Of lines that run on, in long turns
  float run_breath;
  float longest_rest; ///< Beats between phrases, or the thread breaks
  float uneven_goal;  ///< The third goal, in bars without a half: times
} PlanWeights;

/// How free answers speak: a line, a talk, a riff, few notes.
typedef struct {
  float thin_call; ///< Notes a bar: what is thinner is answered thinly
  float shares[N_ALL_MANNERS];     ///< Of answers
  float after_thin[N_ALL_MANNERS]; ///< ... to a thin call
  float brief_line;                ///< A line, in turns of two bars: times
  float stayed;               ///< A talk after a pitch said three times: times
  float riffed;               ///< A riff after a riff: times
  float notes[N_ALL_MANNERS]; ///< Of those that would be aimed at
  float periods[N_RIFF_PERIODS];      ///< By half beats from one to the next
  float release_rests[MANNER_HALVES]; ///< Before a riff is let go, half beats
  float bare; ///< Share of the turn that has few notes, before the gesture
  float bare_lengths[MANNER_HALVES]; ///< Of a phrase there, half beats
  float holes[MANNER_HALVES];        ///< After each, half beats
  float again_root; ///< A pitch that comes again, by what it is each time
  float again_scale;
  float again_outside; ///< And a scale tone that clashes
  float again_width;   ///< Semitones about the call's
  float again_fall;    ///< What a semitone away from it leaves
} MannerWeights;

/// Rhythm, beat by beat.
typedef struct {
  float    few; ///< Notes a bar of the plainest rung
  float    many;
  Band     gains[N_ALL_READINGS]; ///< From there to there: times
  float    before_goal[N_ALL_READINGS];
  float    over_bar;  ///< No note on a bar's first beat, in free lines: times
  double   slow_ms;   ///< A beat so long that a third one may be divided
  unsigned fine_more; ///< Beats more, where sixteenths answer sixteenths
  float    across[2][3];  ///< One note in a group across the beat, two, three:
                          ///< in long turns, in turns of two bars
  int8_t across_on;       ///< Of three, semitones from one to the next
  int8_t across_back;     ///< ... and from group to group, the other way
  float  across_fall;     ///< For each semitone more or less: times
  double count_by_chance; ///< Notes that a rhythm's count may be off
} BeatWeights;

/// The last note of all.
typedef struct {
  float root;
  float third;
  float fifth;
  float seventh;
} EndWeights;

typedef struct {
  float      root;
  float      third;
  float      fifth;
  float      seventh;
  float      colour; ///< Ninth and thirteenth
  float      guide_at_change;
  float      other_at_change;
  float      dropped;    ///< Share left free at the top
  double     slow_ms;    ///< A beat so long that every one of them bears
  double     margin;     ///< Semitones from the edges of the compass
  double     turn_least; ///< Where the contour turns, at the soonest
  double     turn_wide;
  float      contour_width;
  float      steps[N_SKELETON_STEPS];
  EndWeights closing;
  EndWeights plain_closing;
  EndWeights opening;
  EndWeights plain_opening; ///< ... up to rungs of scale tones
} SkeletonWeights;

/// The path; bands: from rungs of scale tones to those with notes outside.
typedef struct {
  Band  habit;       ///< Power of the counts of intervals
  float scale_whole; ///< The share of scale tones at which they are free
  Band  scale_strong;
  Band  scale_beat;
  Band  scale_off;
  float avoid_on_beat; ///< A semitone above a chord tone; none on strong beats
  float avoid_off;
  float outside;
  float shown; ///< ... where it is to be shown: times
  float blue;
  float blue_on_beat;
  float blue_fifth;
  float called; ///< What the player used, up to rungs of scale tones
  float called_on_beat;
  float strong_home;
  Band  off_bone; ///< Any other pitch than the skeleton's
  float first_width;
  Band  repeat;
  float third_time; ///< One pitch three times running: times
  Band  fifth;
  Band  sixth;
  Band  ninth;
  float plain_semitone; ///< At rungs of chord tones: b3 to 3, say
  float tritone;
  float wished;
  float other_way;
  float off_figure;
  float no_step_home; ///< Any way but a step to the last note of the piece
  // How pitches of their own kind are left and entered: what is left of
  float  near_third;      ///< a third, beside a semitone
  float  blue_third_up;   ///< the blue third to the third
  float  blue_third_away; ///< ... to where it does not go
  float  led_repeated;    ///< a tone that is to be led
  float  led_by_third;
  float  led_by_leap;
  float  sixth_by_leap;
  double habit_rise; ///< Of the power, to a rung that is wholly free
  // Over dominants of a blues
  double blue_long;
  double colour_long; ///< The second and the sixth
  Band   colour_short;
  double fourth_long; ///< And on the beat
  double fourth_short;
  double natural_seven;
  double long_scale;         ///< A scale tone, long: times
  double colour_end;         ///< A colour at the end of a phrase: times
  double first_same;         ///< To begin on the call's last pitch
  Band   new_width;          ///< Semitones over which a new phrase begins away
  double new_same;           ///< ... on the pitch that the last one ended on
  double new_far;            ///< ... beyond a sixth: times
  float  appoggiatura;       ///< Chance to lean of a strong beat that may
  float  appoggiatura_falls; ///< ... from above
  float  off_arpeggio;
  float  off_run;
  float  figures[N_FIGURE_KINDS]; ///< None, enclosure, arpeggio, run, approach
} PathWeights;

/// What a line gains and loses; see worth.c and its parts.
typedef struct {
  float  weak_end, no_room, leap_into_end, repeat_into_end, unled_end;
  float  worn_end, no_step_home;
  float  strong_led, strong_clash, strong_outside_led, strong_outside;
  float  outside_on_beat, long_clash, phrase_end, left_by_leap, outside_by_tone;
  float  free_blame; ///< Of scale tones, where lines are wholly free: times
  float  change_heard, change_by_step, change_missed;
  float  bugle, no_seventh;
  float  range_least, range_most, narrow, wide, top_again, peak;
  float  range_spoken; ///< In place of range_least, of what is no line
  float  two_tones;    ///< Of what bores, at a rung of two tones
  float  repeats, stalls, three_running, aba, idle, abab, hovering, zigzag;
  ByRung wavering, wavers;
  float  own_leap; ///< Beyond a fourth, up to rungs of scale tones
  float  big_leap, tritone, fast_leap, leap_on, two_leaps, leap_to_off_beat;
  float  leapy, leapy_plain;
  float  standing, same_often, few_classes;
  float  enclosed, thirds_back, blue_third, idioms_most, shown, chromatic;
  float  long_run;
  float  semitone;        ///< At rungs of chord tones,
  uint8_t semitones_most; ///< ... up to so many
  float   quick_skip;     ///< Up to rungs of scale tones, but chord tones alone
  float   quick_turns, sudden;
  ByRung  late;
  float   lone_off_beats, breathless, no_syncopation, all_on_beat, plain_rhythm;
  float   bars_alike;    ///< Bars running, by the share of their onsets
  float   begun_bars;    ///< With a note on the first beat, beyond one
  double  bars_free;     ///< Share of onsets that bars running may share
  double  late_free;     ///< Beats that one may wait
  double  begins_within; ///< Semitones from the call's last pitch that are near
  double  begins_beyond; ///< ... beyond which it is far
  double  parroted_free; ///< Notes running that may be the call's
  double  peak_from;     ///< Where a line is highest, of its notes
  double  peak_to;
  double  traced_free; ///< Share of onsets that may stand where the call's do
  ByRung  kin;         ///< A note of the call's rhythm and direction,
  Band    kin_beyond;  ///< ... beyond so many running, up to so many
  float   alike;       ///< For all the call's gaps in their order,
  double  alike_free;  ///< ... beyond such a share
  double  zigzag_free; ///< Share of notes that may
  double  often_free;  ///< Share of notes that one pitch may have
  double  often_plain;
  double  thirds_up;
  double  wide_shown; ///< Semitones, where range is to be shown
  double  slow_ms;    ///< A beat; where it is longer, quavers run less long
  float   count_run;  ///< Of a line that runs on, in place of count_off
  float   traced, begins_near, begins_far, colour_taken, count_off, said_twice,
    parroted;
  // At rungs of chord tones
  float same_again, same_to_the_end, leap_left, tritone_left;
  float plain_sixth, plain_tritone, third_undone, plain_leap, far_apart,
    skips_back, plain_repeat, ends_by_third;
  float   even_run;  ///< A note of one length more, beyond
  double  even_free; ///< ... so many
  float   circles;   ///< Back to the note before the last
  float   all_bars;  ///< Every bar in one rhythm
  float   falls_home, known, stepwise;
  float   lifeless, blue_taken, ends_by_step;
  float   hardly;   ///< A note less than a sentence, at rungs of chord tones
  double  sentence; ///< Notes that make one
  float   left_out; ///< A pitch class of the call, up to rungs of scale tones,
  uint8_t taken_most; ///< ... until so many are taken
  float   along;      ///< For each step running one way, up to rungs of scale
                      ///< tones
  double along_most;  ///< ... so many
  double life_least;  ///< What happens in a rhythm, a note, at the least
} WorthWeights;

typedef struct {
  float  inner_ends[N_END_HALVES]; ///< Lengths of last notes, half beats
  float  plain_inner_ends[N_END_HALVES];
  float  plain_ends[N_END_HALVES];
  float  free_ends[N_END_HALVES];
  float  bare_ends[N_END_HALVES]; ///< Where little is said
  double held; ///< Chance that an inner note lasts to the next, however long
} FinishWeights;

/// What soloists do at a tempo.
typedef struct {
  double bpm;
  double late_ms;   ///< On-beat notes behind the beat
  double spread_ms; ///< About that, within four bars
} TempoHabit;

/// Timing and touch.
typedef struct {
  double     steady_rung; ///< Of rhythm: up to here
  double     widest_swing;
  TempoHabit habits[N_TEMPI];
  float      steady_ms;  ///< Either way, at plain rungs
  float      share;      ///< Of soloists' lateness and spread, at the last rung
  float      after_beat; ///< How far a note's lateness goes on in the next one
  float      after_off_beat;
  float      phrase_ms;    ///< How far phrases differ
  float      reach;        ///< At most: of the way to the nearest neighbour
  float      touch_spread; ///< Of the share of its slot that a note sounds
  float      shortest;
  float      longest;
  float      long_off_beat; ///< That share off the beat, a beat long and more
} TimeWeights;

typedef struct {
  CellWeights     cell;
  PlanWeights     plan;
  MannerWeights   manner;
  BeatWeights     beat;
  SkeletonWeights skeleton;
  PathWeights     path;
  WorthWeights    worth;
  FinishWeights   finish;
  // Rhythm
  Band   space;         ///< Share of the turn left silent, aimed at
  float  space_enough;  ///< So much before the end: the end may be late
  float  space_must;    ///< Never less is taken
  float  spare_space;   ///< Where the treatment asks for room
  float  sparse_onsets; ///< Share of the rung's onsets, there
  Band   cut;           ///< Share of the turn that a full call loses at its end
  float  tails[N_TAILS]; ///< Half beats kept free at the end of the turn
  float  cell_density;   ///< How sharply a beat keeps to the density aimed at
  float  cell_again;     ///< Chance to take the cell of two beats before
  float  cross_chance;   ///< Chance of groups across the bar, where allowed
  double unhurried_ms;   ///< The quickest notes made up, not quoted
  // Pitches
  float  second_tone_is_third;  ///< Chance; else the seventh
  float  third_tone_is_seventh; ///< Chance; else the fifth
  double fast_ms;               ///< Between neighbours at speed
  double very_fast_ms; ///< So fast that a leap beyond a fifth is unhandy
  float  unhandy;      ///< What is left of it
  // Wishes: what a semitone away leaves
  float pitch_bound;      ///< The note asked for
  float opening;          ///< The root that an opening begins with
  float again;            ///< The answer before, note for note
  float pitch_beside;     ///< ... and what any other note loses at once
  float pitch_loose;      ///< Thereabouts
  float curve;            ///< A line drawn by a curve
  float interval_bound;   ///< The interval asked for
  float shapes[N_SHAPES]; ///< Shares of the curves
  // Ornaments
  double crushed_ms;          ///< How long one note of an ornament lasts
  double ornament_room_ms[2]; ///< What the note before must keep, or both are
                              ///< heard as sixteenths; where the rung has them
  float    approach_share;    ///< Of ornaments, where the rung allows them
  float    turn_share;
  float    richer_ornament; ///< More of them for each rung above the crushed
  float    graced;          ///< Chance that an answer has any, at most
  double   graced_end;      ///< ... that its last note may be the one
  unsigned graced_twice;    ///< One in so many has two, where turns are allowed
  float    ornament_move;   ///< Ornaments a note where they are the move
  // Performance
  float    legato;        ///< Share of its slot that an inner note sounds
  float    group_end;     ///< ... and one before a rest
  float    toward_player; ///< How far the feel's swing gives way
  unsigned soft;          ///< Velocities where there is no call
  unsigned loud;
  unsigned dynamic_least;         ///< Narrowest range used
  float    stress_beat[N_PLACES]; ///< Share of the range, by place
  float    stress_height;         ///< From the lowest to the highest note
  float    stress_arch;           ///< From the ends to the middle of the phrase
  float    stress_end;            ///< Before a rest
  float    stress_by_chance;
  // Choice
  float    form[N_FORM_PHASES][N_MOVES]; ///< Moves by place in the chorus
  float    form_least;                   ///< What every move on offer has
  float    unlike;     ///< For a whole phrase with none of its pitches left
  float    copying;    ///< What is left of moves that trace the call's rhythm
  float    tracing;    ///< ... or its notes, from rungs of scale tones on
  float    dense_call; ///< Notes a bar from which a call is thinned
  float    thin_call;  ///< ... up to which it is filled
  float    unfit;      ///< What is left of those moves elsewhere
  float    thinned;    ///< A dense call: times
  float    riffed;     ///< A fragment said twice, of a riff: times
  float    unriffed;   ///< Its rhythm alone, at rungs of chord tones
  MoveBand bands[N_MOVES];
  double   poor_line;     ///< Worth under which another intent is drawn
  double   poor_whole;    ///< Worth under which a whole phrase is let go
  double   fault_worth;   ///< What a fault takes from a candidate's worth
  double   undeparted;    ///< The rhythm of what is to be left
  double   scale_freedom; ///< Freedom of a rung, for its share of scale tones
  double   scale_freest;
  float    fault_likeness; ///< Faults, for 0.1 beyond a band
  float blame_simplified; ///< ... where the rung made the rhythm plainer: times
  float related;          ///< Likeness below this is none
  float fault_unrelated;
  float fault_space;
  float fault_complexity; ///< For 10 points beyond the band
  float fault_pendulum;   ///< For each note to and fro
  float fault_repeats;    ///< For each third equal note running
  float fault_end_leap;   ///< A leap beyond a third to the last note
  float fault_square_end; ///< Ending on the first beat of the last bar
  float fault_hanging_scale;
  float fault_wide;      ///< For each octave of compass beyond one
  Band  complexity_base; ///< At the lowest rungs
  float complexity_step[N_DIMENSIONS]; ///< For each rung above
} SayWeights;

extern const SayWeights  say_weights;
extern const TimeWeights time_weights;

#endif // RESPONDER_SAY_WEIGHTS_H
