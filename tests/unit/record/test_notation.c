// Conversations made up by chance are written as MusicXML, read back by a
// reader of the test's own, and held against what every measure must be
// (MusicXML 4.0; on hidden beats the handbooks' common practice), and against
// the notes that were heard and said.

#include "responder/record/notation.h"

#include "fixture.h"
#include "responder/record/drive.h"
#include "support/score.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum {
  N_CONVERSATIONS = 500,
  N_BATCHES       = 10,
  KEY_CAPACITY    = 6000,
  TOLD_CAPACITY   = 6000,
  PER_TICK        = 7, // Divisions
  MOST_BARS       = 8,
};

static const char* const meters[] = {"2/4", "3/4", "4/4", "5/4", "6/8", "12/8"};

static const char* const tonics[] = {
  "C major",  "G major",  "D major",  "A major",  "E major",  "B major",
  "F# major", "C# major", "F major",  "Bb major", "Eb major", "Ab major",
  "Db major", "Gb major", "Cb major", "A minor",  "E minor",  "F# minor",
  "C# minor", "G# minor", "D minor",  "G minor",  "C minor",  "F minor",
  "Bb minor", "Eb minor", "D# minor", "Ab minor",
};

static const char* const bars[] = {
  "I7",
  "iv7",
  "ii7 V7b9",
  "IVmaj7",
  "V7alt",
  "bVI7",
  "I6/9",
  "iim7b5",
  "vii",
  "V7sus4",
  "N.C.",
  "bIImaj7",
  "#ivdim7",
  "V13 I/3",
};

static const char* const plain_bars[] = {"I7", "IV7", "V7", "ii7", "vi7"};

enum {
  N_METERS = sizeof(meters) / sizeof(*meters),
  N_TONICS = sizeof(tonics) / sizeof(*tonics),
  N_BARS   = sizeof(bars) / sizeof(*bars),
  N_PLAIN  = sizeof(plain_bars) / sizeof(*plain_bars),
};

// A note of a turn, as it was told
typedef struct {
  int  part;
  Tick tick;
  int  pitch;
  bool is_ornament;
} ToldNote;

static Setup     setup;
static HeardKey  keys[KEY_CAPACITY];
static ToldNote  told[TOLD_CAPACITY];
static unsigned  n_told;
static Notation* notation;
static ReadScore score;
static unsigned  the_case; // For messages

static void
make_chart(Rng* const rng)
{
  Chart* const chart = &setup.chart.chart;
  Meter        meter;
  Key          key;
  char         fault[CHART_FAULT_CAPACITY];
  cr_assert_eq(meter_parse(&meter, meters[the_case % N_METERS]), STATUS_OK);
  cr_assert_eq(key_parse(&key, tonics[rng_below(rng, N_TONICS)]), STATUS_OK);
  chart_begin(chart, "Made by chance", meter, key);
  const unsigned n = 2 + rng_below(rng, MOST_BARS - 1);
  for (unsigned i = 0; i < n; ++i) {
    if (chart_add_bar(chart, bars[rng_below(rng, N_BARS)], fault)) {
      const char* const plain = plain_bars[rng_below(rng, N_PLAIN)];
      cr_assert_eq(chart_add_bar(chart, plain, fault), STATUS_OK, "%s", fault);
    }
  }
}

// The places in a beat that a hand plays, in twelfths of it; -1 ends the list
static const int simple_places[][6] = {
  {-1},
  {0, -1},
  {0, 6, -1},
  {6, -1},
  {0, 4, 8, -1},
  {4, 8, -1},
  {0, 8, -1},
  {0, 3, 6, 9, -1},
  {0, 6, 9, -1},
  {0, 9, -1},
  {3, 6, -1},
};

static const int compound_places[][6] = {
  {-1},
  {0, -1},
  {0, 4, 8, -1},
  {0, 8, -1},
  {4, 8, -1},
  {0, 4, 6, 8, -1},
  {0, 6, -1},
};

static size_t
strike(size_t n, const Tick tick, const Tick length, const unsigned pitch)
{
  keys[n++] = (HeardKey){tick, (uint8_t)pitch, 80};
  keys[n++] = (HeardKey){tick + length, (uint8_t)pitch, 0};
  return n;
}

static int
compare_keys(const void* const a, const void* const b)
{
  const HeardKey* const x = a;
  const HeardKey* const y = b;
  return x->tick != y->tick ? (x->tick < y->tick ? -1 : 1)
                            : (int)x->velocity - (int)y->velocity;
}

// Playing on grids, with crushed notes and a left hand; so that no key is
// struck while it is down, neighbours differ and notes are short
static size_t
play_on_grids(Rng* const rng, const Tick end)
{
  const Meter meter       = setup.chart.chart.meter;
  const bool  is_compound = meter_is_compound(meter);
  const Tick  beat        = meter_beat_ticks(meter);
  size_t      n           = 0;
  unsigned    pitch       = 67;
  for (Tick at = rng_below(rng, 2) ? -beat / 2 : 0; at < end; at += beat) {
    const int* const places =
      is_compound ? compound_places[rng_below(
                      rng, sizeof(compound_places) / sizeof(*compound_places))]
                  : simple_places[rng_below(
                      rng, sizeof(simple_places) / sizeof(*simple_places))];
    for (unsigned i = 0; places[i] >= 0 && n + 16 < KEY_CAPACITY; ++i) {
      const Tick on = at + places[i] * beat / 12 + (Tick)rng_below(rng, 15);
      pitch         = 60 + (pitch - 60 + 1 + rng_below(rng, 15)) % 17;
      if (places[i] == 0 && rng_below(rng, 8) == 0) {
        n = strike(n, on - 95, 85, pitch - 1);
      }
      n = strike(n, on, beat / 12 + (Tick)rng_below(rng, 700), pitch);
    }
    for (unsigned k = 0; k < 3 && rng_below(rng, 4) == 0; ++k) {
      n = strike(n, at + (Tick)rng_below(rng, 20), beat / 2, 43 + 4 * k);
    }
  }
  qsort(keys, n, sizeof(*keys), compare_keys);
  return n;
}

static void
hear_turn(void* const context, const TurnRecord* const record)
{
  (void)context;
  notation_add_turn(notation, record);
  for (unsigned i = 0; i < record->phrase.n_notes; ++i) {
    const HeardNote* const note = &record->phrase.notes[i];
    cr_assert_lt(n_told, TOLD_CAPACITY);
    told[n_told++] = (ToldNote){record->turn.by_player ? 0 : 1,
                                note->grid_tick,
                                note->note.pitch,
                                note->is_ornament};
  }
}

static void
converse(Rng* const rng)
{
  static const char* const feels[] = {"swing", "straight"};
  Choices                  choices = fixture_choices();
  (void)snprintf(
    choices.feel, sizeof(choices.feel), "%s", feels[the_case / 2 % 2]);
  fixture_load(&setup, &choices);
  make_chart(rng);
  setup.choices.bars           = 1U << rng_below(rng, 3);
  setup.choices.choruses       = 1 + rng_below(rng, 2);
  setup.choices.tempo_bpm      = 60.0 + rng_below(rng, 160);
  setup.choices.partner_begins = rng_below(rng, 4) == 0;
  setup.choices.rung.level[0]  = (uint8_t)(1 + rng_below(rng, 8));
  setup.choices.rung.level[1]  = (uint8_t)(1 + rng_below(rng, 7));
  setup.choices.seed           = rng_next(rng);

  SessionOptions     options = setup_session(&setup);
  const Tick         end     = chart_ticks(options.chart) * options.choruses;
  const size_t       n_keys  = the_case % 3
                                 ? play_on_grids(rng, end)
                                 : fixture_keys(keys, KEY_CAPACITY, rng, -300, end);
  const NotationHead head    = {
       .ear         = session_ear(&options),
       .swing_ratio = feel_swing_ratio(options.feel, options.tempo_bpm),
  };
  Conversation conversation;
  n_told   = 0;
  notation = notation_open(&head);
  cr_assert_not_null(notation);
  cr_assert_eq(
    drive_session(
      &conversation,
      &options,
      &(DrivePlayer){.keys = keys, .n_keys = n_keys, .hear_turn = hear_turn}),
    STATUS_OK);
  notation_add_rest(notation, &conversation);
  conversation_free(&conversation);
}

static void
write_and_read(void)
{
  char  path[FIXTURE_PATH_CAPACITY];
  Fault fault;
  fixture_path(path, "score.abc");
  cr_assert_eq(notation_engrave(notation, "A \"title\" <&>", path, &fault),
               STATUS_OK,
               "%s",
               fault.text);
  fixture_path(path, "score.musicxml");
  cr_assert_eq(notation_save(notation, "A \"title\" <&>", path, &fault),
               STATUS_OK,
               "%s",
               fault.text);
  notation_close(notation);
  cr_assert(score_read(&score, path), "case %u is no score", the_case);
  (void)unlink(path);
}

// What every measure must be

static long
bar_length(void)
{
  return 4 * score.divisions * score.beats / score.beat_type;
}

static long
beat_length(void)
{
  return score.beat_type == 8 ? 3 * score.divisions / 2 : score.divisions;
}

static long
type_length(const char* const type)
{
  static const struct {
    const char* name;
    long        sixty_fourths;
  } types[] = {
    {"64th", 1},
    {"32nd", 2},
    {"16th", 4},
    {"eighth", 8},
    {"quarter", 16},
    {"half", 32},
    {"whole", 64},
  };
  for (unsigned i = 0; i < sizeof(types) / sizeof(*types); ++i) {
    if (strcmp(types[i].name, type) == 0) {
      return types[i].sixty_fourths * score.divisions / 16;
    }
  }
  return 0;
}

// The measures are whole bars, but for a pick-up of whole beats
static void
check_measures(void)
{
  for (size_t i = 0; i < score.n_measures; ++i) {
    const ReadMeasure* const measure = &score.measures[i];
    if (measure->number == 0) {
      cr_assert(measure->length % beat_length() == 0 &&
                measure->length < bar_length());
    } else {
      cr_assert_eq(measure->length,
                   bar_length(),
                   "case %u, part %d, measure %d lasts %ld",
                   the_case,
                   measure->part,
                   measure->number,
                   measure->length);
    }
  }
}

static long
measure_length(const ReadNote* const note)
{
  for (size_t i = 0; i < score.n_measures; ++i) {
    if (score.measures[i].part == note->part &&
        score.measures[i].number == note->measure) {
      return score.measures[i].length;
    }
  }
  return 0;
}

// The notes of a voice follow each other and fill the measure
static void
check_voices(void)
{
  for (size_t i = 0; i < score.n_notes;) {
    const ReadNote* const first = &score.notes[i];
    long                  at    = 0;
    for (; i < score.n_notes && score.notes[i].measure == first->measure &&
           score.notes[i].part == first->part &&
           score.notes[i].voice == first->voice;
         ++i) {
      const ReadNote* const note = &score.notes[i];
      if (!note->is_chord) {
        cr_assert_eq(note->onset, at);
        at += note->duration;
      }
    }
    cr_assert_eq(at,
                 measure_length(first),
                 "case %u, part %d, measure %d, voice %d lasts %ld",
                 the_case,
                 first->part,
                 first->measure,
                 first->voice,
                 at);
  }
}

// What is drawn lasts as long as it is said to
static void
check_values(void)
{
  for (size_t i = 0; i < score.n_notes; ++i) {
    const ReadNote* const note  = &score.notes[i];
    long                  drawn = type_length(note->type);
    cr_assert(!note->is_chord || note[-1].pitch < note->pitch,
              "case %u: a chord is not from low to high",
              the_case);
    if (note->is_whole_rest) {
      cr_assert_eq(note->duration, measure_length(note));
      continue;
    }
    cr_assert_gt(drawn, 0, "case %u: a note is a %s", the_case, note->type);
    if (note->is_grace) {
      cr_assert_eq(note->duration, 0);
      continue;
    }
    drawn = note->dots ? drawn + drawn / 2 : drawn;
    cr_assert_leq(note->dots, 1);
    if (note->actual) {
      drawn = drawn * note->normal / note->actual;
    }
    cr_assert_eq(note->duration,
                 drawn,
                 "case %u, measure %d: a %s lasts %ld",
                 the_case,
                 note->measure,
                 note->type,
                 note->duration);
  }
}

// The note of the same pitch that begins where another ends, NULL if none does
static const ReadNote*
follower(const ReadNote* const note)
{
  for (const ReadNote* at = note; at < score.notes + score.n_notes; ++at) {
    if (at->part == note->part && at->voice == note->voice && !at->is_grace &&
        at->from == note->from + note->duration && at->pitch == note->pitch) {
      return at;
    }
  }
  return NULL;
}

static void
check_ties(void)
{
  int n_started = 0;
  int n_stopped = 0;
  for (size_t i = 0; i < score.n_notes; ++i) {
    const ReadNote* const note = &score.notes[i];
    cr_assert_eq(note->tie_start, note->tied_start);
    cr_assert_eq(note->tie_stop, note->tied_stop);
    n_started += note->tie_start;
    n_stopped += note->tie_stop;
    if (note->tie_start) {
      const ReadNote* const next = follower(note);
      cr_assert(next && next->tie_stop && next->step == note->step &&
                  next->alter == note->alter,
                "case %u, measure %d: a tie goes nowhere",
                the_case,
                note->measure);
    }
  }
  cr_assert_eq(n_started, n_stopped);
}

static int
signature_alter(const int step)
{
  static const int sharps[] = {3, 0, 4, 1, 5, 2, 6}; // F C G D A E B
  for (int i = 0; i < 7; ++i) {
    if (sharps[i] == step) {
      return score.fifths > i ? 1 : -score.fifths > 6 - i ? -1 : 0;
    }
  }
  return 0;
}

// What a reader takes each note for is what it is, and no sign says what is
// known
static void
check_accidentals(void)
{
  int known[7][12];
  for (size_t i = 0; i < score.n_notes; ++i) {
    const ReadNote* const note   = &score.notes[i];
    const ReadNote* const before = i ? &score.notes[i - 1] : NULL;
    if (!before || before->measure != note->measure ||
        before->part != note->part || before->staff != note->staff) {
      for (int step = 0; step < 7; ++step) {
        for (int octave = 0; octave < 12; ++octave) {
          known[step][octave] = signature_alter(step);
        }
      }
    }
    if (note->pitch < 0 || note->tie_stop) {
      cr_assert_str_empty(note->accidental);
      continue;
    }
    int* const now = &known[note->step][note->octave];
    if (note->accidental[0]) {
      const int said = strcmp(note->accidental, "sharp") == 0  ? 1
                       : strcmp(note->accidental, "flat") == 0 ? -1
                                                               : 0;
      cr_assert_eq(
        said == *now, note->is_courtesy, "case %u: a sign too many", the_case);
      *now = said;
    }
    cr_assert_eq(note->alter,
                 *now,
                 "case %u, part %d, measure %d: a sign is missing",
                 the_case,
                 note->part,
                 note->measure);
  }
}

// Brackets open and close, and hold a whole number of beats; beams begin and
// end
static void
check_groups(void)
{
  long from      = -1;
  bool is_beamed = false;
  for (size_t i = 0; i < score.n_notes; ++i) {
    const ReadNote* const note = &score.notes[i];
    if (note->is_chord || note->is_grace) {
      continue;
    }
    if (note->tuplet_start) {
      cr_assert_lt(from, 0);
      from = note->onset;
    }
    cr_assert_eq(from >= 0, note->actual != 0);
    if (note->tuplet_stop) {
      const long end = note->onset + note->duration;
      cr_assert(from % beat_length() == 0 && end % beat_length() == 0);
      from = -1;
    }
    const char beam = note->beams[0];
    cr_assert_eq(beam == 'c' || beam == 'e', is_beamed);
    is_beamed = beam == 'b' || beam == 'c';
  }
  cr_assert_lt(from, 0);
  cr_assert_not(is_beamed);
}

static void
check_beat_shows(const ReadNote* const note, const long offset)
{
  const long beat       = beat_length();
  const long on         = offset + note->onset;
  const long end        = on + note->duration;
  const long line       = (on / beat + 1) * beat; // The next beat
  const bool off_eighth = on % (score.divisions / 2) != 0;
  const bool is_rest    = note->pitch < 0;
  const bool crosses    = on % beat != 0 && end > line;
  cr_assert_not(crosses && (is_rest || off_eighth || score.beat_type == 8),
                "case %u, part %d, measure %d: a beat is hidden at %ld",
                the_case,
                note->part,
                note->measure,
                on);
  // The middle of 4/4: only what begins on a beat before it may go over
  const long middle = 2 * score.divisions;
  if (score.beats == 4 && score.beat_type == 4 && on < middle && end > middle) {
    cr_assert(on == 0 || (on == score.divisions && !is_rest),
              "case %u, part %d, measure %d: the middle is hidden",
              the_case,
              note->part,
              note->measure);
  }
}

static void
check_beats(void)
{
  for (size_t i = 0; i < score.n_notes; ++i) {
    const ReadNote* const note = &score.notes[i];
    if (!note->is_whole_rest && !note->is_grace && !note->actual) {
      check_beat_shows(note,
                       note->measure ? 0 : bar_length() - measure_length(note));
    }
  }
}

// Against what was told

static long
pick_up(void)
{
  return score.measures[0].number == 0 ? score.measures[0].length : 0;
}

static bool
is_written(const ToldNote* const note)
{
  const long from = (long)(PER_TICK * note->tick) + pick_up();
  for (size_t i = 0; i < score.n_notes; ++i) {
    const ReadNote* const read = &score.notes[i];
    if (read->part == note->part && read->pitch == note->pitch &&
        !read->tie_stop && labs(read->from - from) <= PER_TICK &&
        (note->is_ornament || !read->is_grace)) {
      return true;
    }
  }
  return false;
}

static void
check_notes(void)
{
  int n_partner = 0;
  for (unsigned i = 0; i < n_told; ++i) {
    n_partner += told[i].part;
    cr_assert(is_written(&told[i]),
              "case %u: %d at %ld of part %d is not there",
              the_case,
              told[i].pitch,
              (long)told[i].tick,
              told[i].part);
  }
  for (size_t i = 0; i < score.n_notes; ++i) {
    const ReadNote* const read = &score.notes[i];
    n_partner -= read->part == 1 && read->pitch >= 0 && !read->tie_stop;
  }
  cr_assert_eq(n_partner, 0, "case %u: notes of the partner", the_case);
}

// Where the next symbol stands: a form begins with its chord's name
static Tick
next_symbol(const Chart* const chart, const Tick tick)
{
  const Tick form   = (tick / chart_ticks(chart) + 1) * chart_ticks(chart);
  const Tick change = chart_next_change(chart, tick);
  return change < form ? change : form;
}

// Every change of the chart's chords has its symbol, at its place
static void
check_chords(void)
{
  const Chart* const chart = &setup.chart.chart;
  long               last  = 0;
  for (size_t i = 0; i < score.n_measures; ++i) {
    const ReadMeasure* const measure = &score.measures[i];
    last = measure->part == 0 ? measure->from + measure->length : last;
  }
  size_t n = 0;
  for (Tick tick = 0; PER_TICK * tick + pick_up() < last;
       tick      = next_symbol(chart, tick), ++n) {
    const Chord* const chord = chart_chord_at(chart, tick);
    char               root[SPELLING_TEXT_CAPACITY];
    cr_assert_lt(n, score.n_harmonies, "case %u: a chord is missing", the_case);
    cr_assert_eq(score.harmonies[n].from, PER_TICK * tick + pick_up());
    if (chord_is_silence(chord)) {
      cr_assert_str_eq(score.harmonies[n].kind, "none");
    } else {
      cr_assert_str_eq(score.harmonies[n].root,
                       spelling_text(chord->root, root));
    }
  }
  cr_assert_eq(n, score.n_harmonies);
}

// What another program makes of the same score as ABC: abc2midi (of abcMIDI),
// whose MIDI midicsv reads

enum { MIDI_QUARTER = 480, NEAR = 10, MOST_SOUNDS = 20000 };

typedef struct {
  long tick; // Of 480 a quarter
  int  pitch;
} Sound;

static Sound written[MOST_SOUNDS];
static Sound played[MOST_SOUNDS];

static int
compare_sounds(const void* const a, const void* const b)
{
  const Sound* const x = a;
  const Sound* const y = b;
  return x->pitch != y->pitch ? x->pitch - y->pitch
                              : (x->tick > y->tick) - (x->tick < y->tick);
}

static bool
has_abc2midi(void)
{
  return system("command -v abc2midi >/dev/null && command -v midicsv "
                ">/dev/null") == 0;
}

// Grace notes take their time from what they stand before: they are made short.
// Of the chord symbols it is to make nothing
static size_t
read_played(void)
{
  char   path[FIXTURE_PATH_CAPACITY];
  char   command[8 * FIXTURE_PATH_CAPACITY];
  char   line[256];
  size_t n = 0;
  fixture_path(path, "score.abc");
  (void)snprintf(command,
                 sizeof(command),
                 "sed -i 's/^K:/%%%%MIDI chordattack 0\\n%%%%MIDI gracedivider "
                 "60\\n&/' '%s' &&"
                 " abc2midi '%s' -o '%s.mid' -NGUI >/dev/null &&"
                 " midicsv '%s.mid' && rm '%s' '%s.mid'",
                 path,
                 path,
                 path,
                 path,
                 path,
                 path);
  FILE* const pipe = popen(command, "r");
  while (fgets(line, sizeof(line), pipe)) {
    long tick     = 0;
    int  pitch    = 0;
    int  velocity = 0;
    if (sscanf(
          line, "%*d, %ld, Note_on_c, %*d, %d, %d", &tick, &pitch, &velocity) ==
          3 &&
        velocity > 0 && n < MOST_SOUNDS) {
      played[n++] = (Sound){tick, pitch};
    }
  }
  cr_assert_eq(pclose(pipe), 0, "case %u", the_case);
  return n;
}

static size_t
list_written(void)
{
  size_t n = 0;
  for (size_t i = 0; i < score.n_notes; ++i) {
    const ReadNote* const note = &score.notes[i];
    if (note->pitch >= 0 && !note->tie_stop) {
      written[n++] = (Sound){(long)lround((double)note->from * MIDI_QUARTER /
                                          (double)score.divisions),
                             note->pitch};
    }
  }
  return n;
}

// Onsets and pitches are the same; it counts from tick 1, and rounds each
// length in itself
static void
check_abc(void)
{
  const size_t n      = list_written();
  const size_t n_here = read_played();
  cr_assert_eq(n_here, n, "case %u: %zu notes for %zu", the_case, n_here, n);
  qsort(written, n, sizeof(*written), compare_sounds);
  qsort(played, n, sizeof(*played), compare_sounds);
  for (size_t i = 0; i < n; ++i) {
    cr_assert(written[i].pitch == played[i].pitch &&
                labs(written[i].tick + 1 - played[i].tick) <= NEAR,
              "case %u, note %zu: %d at %ld, not %d at %ld",
              the_case,
              i,
              played[i].pitch,
              played[i].tick,
              written[i].pitch,
              written[i].tick + 1);
  }
}

typedef struct {
  unsigned number;
} Batch;

ParameterizedTestParameters(notation, conversations)
{
  static Batch batches[N_BATCHES];
  for (unsigned i = 0; i < N_BATCHES; ++i) {
    batches[i].number = i;
  }
  return cr_make_param_array(Batch, batches, N_BATCHES);
}

ParameterizedTest(Batch* batch, notation, conversations)
{
  const bool is_checked_by_abc = has_abc2midi();
  for (unsigned i = 0; i < N_CONVERSATIONS / N_BATCHES; ++i) {
    the_case = batch->number * (N_CONVERSATIONS / N_BATCHES) + i;
    Rng rng  = rng_seed(20, the_case);
    converse(&rng);
    write_and_read();
    check_measures();
    check_voices();
    check_values();
    check_ties();
    check_accidentals();
    check_groups();
    check_beats();
    check_notes();
    check_chords();
    if (is_checked_by_abc) {
      check_abc();
    }
    score_read_free(&score);
  }
}
