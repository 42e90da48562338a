#include "profiles/sheet/letters.h"

#include "core/music/text.h"

#define SHARP "\u266f"
#define FLAT "\u266d"

static void
add_note(Text* const text, const Spelling spelling)
{
  text_add_part(text, &"CDEFGAB"[spelling.letter], 1);
  int alter = spelling.alter;
  for (; alter >= 2; alter -= 2) {
    text_add(text, "x");
  }
  for (; alter > 0; --alter) {
    text_add(text, SHARP);
  }
  for (; alter < 0; ++alter) {
    text_add(text, FLAT);
  }
}

const char*
letters_note(const Spelling spelling, char text[LETTERS_CAPACITY])
{
  Text line = text_begin(text, LETTERS_CAPACITY);
  add_note(&line, spelling);
  return text;
}

// No word of a symbol has a b in it, and notes are upper case: each b is a flat
const char*
letters_chord(const Chord* const chord, char text[LETTERS_CAPACITY])
{
  char symbol[CHORD_TEXT_CAPACITY];
  Text line = text_begin(text, LETTERS_CAPACITY);
  for (const char* at = chord_text(chord, symbol); *at; ++at) {
    if (*at == 'b' || *at == '#') {
      text_add(&line, *at == 'b' ? FLAT : SHARP);
    } else {
      text_add_part(&line, at, 1);
    }
  }
  return text;
}

const char*
letters_scale(const Scale scale, char text[LETTERS_CAPACITY])
{
  Text line = text_begin(text, LETTERS_CAPACITY);
  add_note(&line, scale.tonic);
  text_add(&line, " ");
  text_add(&line, scale_kind_name(scale.kind));
  return text;
}

const char*
letters_key(const Key key, char text[LETTERS_CAPACITY])
{
  Text line = text_begin(text, LETTERS_CAPACITY);
  add_note(&line, key.tonic);
  text_add(&line, key.is_minor ? " minor" : " major");
  return text;
}

const char*
letters_tones(const Chord* const chord, char text[LETTERS_CAPACITY])
{
  Text line = text_begin(text, LETTERS_CAPACITY);
  for (unsigned i = 0; i < chord->n_tones; ++i) {
    text_add(&line, i ? " " : "");
    add_note(&line, spelling_above(chord->root, chord->tones[i]));
  }
  return text;
}

const char*
letters_shape(const Chord* const     chord,
              const HandShape* const shape,
              char                   text[LETTERS_CAPACITY])
{
  Text line = text_begin(text, LETTERS_CAPACITY);
  for (unsigned i = 0; i < shape->n; ++i) {
    Spelling spelling = chord->root;
    (void)chord_spell(chord, shape->pitches[i], &spelling);
    text_add(&line, i ? " " : "");
    add_note(&line, spelling);
  }
  text_add(&line, "  ");
  for (unsigned i = 0; i < shape->n; ++i) {
    const char finger[] = {' ', (char)('0' + shape->fingers[i])};
    text_add_part(&line, finger, sizeof(finger));
  }
  return text;
}
