#include "responder/say/why_end.h"

#include "core/music/chord.h"
#include "core/music/interval.h"
#include "core/music/spelling.h"

enum {
  N_DEGREES     = 14,
  OCTAVE        = 12,
  NOTABLE_DRIFT = 3, // Semitones from the first note to the last
};

static const char* const degrees[N_DEGREES] = {
  "",
  "root",
  "second",
  "third",
  "fourth",
  "fifth",
  "sixth",
  "seventh",
  "octave",
  "ninth",
  "tenth",
  "eleventh",
  "twelfth",
  "thirteenth",
};

int
why_end_last(const Answer* const answer)
{
  int last = (int)answer->n_notes - 1;
  while (last >= 0 && answer->is_ornament[last]) {
    --last;
  }
  return last;
}

int
why_end_first_pitch(const Answer* const answer)
{
  unsigned first = 0;
  while (answer->is_ornament[first]) {
    ++first;
  }
  return answer->notes[first].pitch;
}

/// Return how the line comes to its last note: led there, where the last move
/// goes the way that the whole has gone.
static const char*
arrival(const Answer* const answer, const int last)
{
  const int to     = answer->notes[last].pitch;
  const int drift  = to - why_end_first_pitch(answer);
  int       before = last - 1;
  while (before >= 0 &&
         (answer->is_ornament[before] || answer->notes[before].pitch == to)) {
    --before;
  }
  const int move = before >= 0 ? to - answer->notes[before].pitch : 0;
  return drift >= NOTABLE_DRIFT && move > 0    ? ", leading up to "
         : drift <= -NOTABLE_DRIFT && move < 0 ? ", leading down to "
                                               : ", landing on ";
}

/// Whether a chord has a tone of another size at an interval's number: of
/// C#m7 the Bb is not the seventh.
static bool
has_another(const Chord* const chord, const unsigned degree, const int pitch)
{
  const unsigned root = spelling_pitch_class(chord->root);
  const unsigned over = ((unsigned)pitch + OCTAVE - root) % OCTAVE;
  bool           has  = false;
  for (unsigned i = 0; i < chord->n_tones; ++i) {
    const unsigned size = (unsigned)chord->tones[i].semitones % OCTAVE;
    if (chord->tones[i].number == degree) {
      if (size == over) {
        return false;
      }
      has = true;
    }
  }
  return has;
}

void
why_end_add(Text* const         text,
            const Answer* const answer,
            const Chart* const  chart,
            const Tick          home)
{
  const int last = why_end_last(answer);
  if (last < 0) {
    return;
  }
  const HeardNote* const heard    = &answer->heard.notes[last];
  const Tick             tick     = heard->is_anticipation
                                      ? chart_next_change(chart, heard->grid_tick)
                                      : heard->grid_tick;
  const Chord* const     chord    = chart_chord_at(chart, tick);
  const Spelling         spelling = chart_spell(chart, tick, heard->note.pitch);
  char                   name[SPELLING_TEXT_CAPACITY];
  text_add(text, arrival(answer, last));
  text_add(text,
           spelling_text(
             chart_spell_leading(chart, tick, heard->note.pitch, CHART_NOTHING),
             name));
  if (tick >= home) {
    char           key[KEY_TEXT_CAPACITY];
    const Interval from = spelling_interval(chart->key.tonic, spelling);
    text_add(text, ", the ");
    text_add(text,
             from.number == 1          ? "tonic"
             : from.number < N_DEGREES ? degrees[from.number]
                                       : degrees[0]);
    text_add(text, " of ");
    text_add(text, key_text(chart->key, key));
    return;
  }
  if (chord_is_silence(chord)) {
    return;
  }
  char           symbol[CHORD_TEXT_CAPACITY];
  const Interval interval = spelling_interval(chord->root, spelling);
  const unsigned degree   = interval.number < N_DEGREES ? interval.number : 0;
  if (has_another(chord, degree, heard->note.pitch)) {
    text_add(text, ", over ");
  } else {
    text_add(text, ", the ");
    text_add(text, degrees[degree]);
    text_add(text, " of ");
  }
  text_add(text, chord_text(chord, symbol));
}
