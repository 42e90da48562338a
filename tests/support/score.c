#include "support/score.h"

#include <libxml/parser.h>
#include <libxml/tree.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

// Where the reader is
typedef struct {
  ReadScore* score;
  int        part;
  int        measure;
  long       measure_from;
  long       at; // In the measure
  long       farthest;
  long       last_onset; // Of the note that a chord's others join
} Reader;

static bool
is_named(const xmlNode* const node, const char* const name)
{
  return node->type == XML_ELEMENT_NODE &&
         strcmp((const char*)node->name, name) == 0;
}

static xmlNode*
child(const xmlNode* const node, const char* const name)
{
  for (xmlNode* at = node->children; at; at = at->next) {
    if (is_named(at, name)) {
      return at;
    }
  }
  return NULL;
}

static void
text_of(const xmlNode* const node, char* const text, const size_t capacity)
{
  text[0] = '\0';
  if (node && node->children && node->children->content) {
    (void)snprintf(text, capacity, "%s", (const char*)node->children->content);
  }
}

static long
number_of(const xmlNode* const node, const char* const name, const long without)
{
  char                 text[32];
  const xmlNode* const found = child(node, name);
  text_of(found, text, sizeof(text));
  return found ? strtol(text, NULL, 10) : without;
}

static bool
has_value(xmlNode* const    node,
          const char* const attribute,
          const char* const value)
{
  xmlChar* const text  = xmlGetProp(node, (const xmlChar*)attribute);
  const bool     equal = text && strcmp((const char*)text, value) == 0;
  xmlFree(text);
  return equal;
}

// Whether an element of a name and type stands in another
static bool
has_marked(const xmlNode* const node,
           const char* const    name,
           const char* const    type)
{
  for (xmlNode* at = node ? node->children : NULL; at; at = at->next) {
    if (is_named(at, name) && has_value(at, "type", type)) {
      return true;
    }
  }
  return false;
}

static void*
one_more(void* const items, const size_t n, const size_t size)
{
  // Doubling, whenever a power of two is full
  if (n & (n - 1)) {
    return items;
  }
  void* const more = realloc(items, (n ? 2 * n : 1) * size);
  if (!more) {
    exit(3);
  }
  return more;
}

static void
read_pitch(ReadNote* const note, const xmlNode* const pitch)
{
  static const char letters[]  = "CDEFGAB";
  static const int  naturals[] = {0, 2, 4, 5, 7, 9, 11};
  char              step[4];
  text_of(child(pitch, "step"), step, sizeof(step));
  note->step   = (int)(strchr(letters, step[0]) - letters);
  note->alter  = (int)number_of(pitch, "alter", 0);
  note->octave = (int)number_of(pitch, "octave", 0);
  note->pitch  = 12 * (note->octave + 1) + naturals[note->step] + note->alter;
}

static void
read_beams(ReadNote* const note, const xmlNode* const node)
{
  memset(note->beams, ' ', SCORE_BEAMS_READ);
  for (xmlNode* at = node->children; at; at = at->next) {
    if (is_named(at, "beam")) {
      char     text[24];
      xmlChar* number = xmlGetProp(at, (const xmlChar*)"number");
      text_of(at, text, sizeof(text));
      const long level = strtol((const char*)number, NULL, 10);
      // "forward hook" and "backward hook" are told by f and h
      note->beams[level - 1] =
        strcmp(text, "backward hook") == 0 ? 'h' : text[0];
      xmlFree(number);
    }
  }
}

static void
read_signs(ReadNote* const note, const xmlNode* const node)
{
  const xmlNode* const time      = child(node, "time-modification");
  const xmlNode* const notations = child(node, "notations");
  xmlNode* const       grace     = child(node, "grace");
  xmlNode* const       rest      = child(node, "rest");
  xmlNode* const       sign      = child(node, "accidental");
  note->is_grace                 = grace != NULL;
  note->is_slashed               = grace && has_value(grace, "slash", "yes");
  note->is_courtesy              = sign && has_value(sign, "cautionary", "yes");
  note->is_chord                 = child(node, "chord") != NULL;
  note->is_whole_rest            = rest && has_value(rest, "measure", "yes");
  note->tie_start                = has_marked(node, "tie", "start");
  note->tie_stop                 = has_marked(node, "tie", "stop");
  note->tied_start               = has_marked(notations, "tied", "start");
  note->tied_stop                = has_marked(notations, "tied", "stop");
  note->tuplet_start             = has_marked(notations, "tuplet", "start");
  note->tuplet_stop              = has_marked(notations, "tuplet", "stop");
  note->actual = time ? (int)number_of(time, "actual-notes", 0) : 0;
  note->normal = time ? (int)number_of(time, "normal-notes", 0) : 0;
  for (const xmlNode* at = node->children; at; at = at->next) {
    note->dots += is_named(at, "dot");
  }
  text_of(child(node, "type"), note->type, sizeof(note->type));
  text_of(sign, note->accidental, sizeof(note->accidental));
}

static void
read_note(Reader* const reader, const xmlNode* const node)
{
  ReadScore* const score = reader->score;
  ReadNote         note  = {
             .part     = reader->part,
             .measure  = reader->measure,
             .voice    = (int)number_of(node, "voice", 0),
             .staff    = (int)number_of(node, "staff", 1),
             .duration = number_of(node, "duration", 0),
             .pitch    = -1,
  };
  const xmlNode* const pitch = child(node, "pitch");
  if (pitch) {
    read_pitch(&note, pitch);
  }
  read_signs(&note, node);
  read_beams(&note, node);
  note.onset = note.is_chord ? reader->last_onset : reader->at;
  note.from  = reader->measure_from + note.onset;
  if (!note.is_chord) {
    reader->last_onset = reader->at;
    reader->at += note.duration;
  }
  reader->farthest =
    reader->at > reader->farthest ? reader->at : reader->farthest;
  score->notes = one_more(score->notes, score->n_notes, sizeof(note));
  score->notes[score->n_notes++] = note;
}

static void
read_harmony(Reader* const reader, const xmlNode* const node)
{
  ReadScore* const     score   = reader->score;
  const xmlNode* const root    = child(node, "root");
  ReadHarmony          harmony = {.from = reader->measure_from + reader->at +
                                          number_of(node, "offset", 0)};
  const long           alter   = number_of(root, "root-alter", 0);
  text_of(child(root, "root-step"), harmony.root, 4);
  (void)strncat(harmony.root, alter < 0 ? "bbb" : "###", (size_t)labs(alter));
  text_of(child(node, "kind"), harmony.kind, sizeof(harmony.kind));
  score->harmonies =
    one_more(score->harmonies, score->n_harmonies, sizeof(harmony));
  score->harmonies[score->n_harmonies++] = harmony;
}

static void
read_attributes(ReadScore* const score, const xmlNode* const node)
{
  const xmlNode* const key  = child(node, "key");
  const xmlNode* const time = child(node, "time");
  score->divisions          = number_of(node, "divisions", 0);
  score->fifths             = (int)number_of(key, "fifths", 0);
  score->beats              = (int)number_of(time, "beats", 0);
  score->beat_type          = (int)number_of(time, "beat-type", 0);
}

static void
read_measure(Reader* const reader, xmlNode* const measure)
{
  ReadScore* const score  = reader->score;
  xmlChar* const   number = xmlGetProp(measure, (const xmlChar*)"number");
  reader->measure         = (int)strtol((const char*)number, NULL, 10);
  xmlFree(number);
  reader->at = reader->farthest = 0;
  for (xmlNode* at = measure->children; at; at = at->next) {
    if (is_named(at, "note")) {
      read_note(reader, at);
    } else if (is_named(at, "backup")) {
      reader->at -= number_of(at, "duration", 0);
    } else if (is_named(at, "forward")) {
      reader->at += number_of(at, "duration", 0);
    } else if (is_named(at, "harmony")) {
      read_harmony(reader, at);
    } else if (is_named(at, "attributes")) {
      read_attributes(score, at);
    }
  }
  score->measures =
    one_more(score->measures, score->n_measures, sizeof(*score->measures));
  score->measures[score->n_measures++] = (ReadMeasure){
    .part   = reader->part,
    .number = reader->measure,
    .from   = reader->measure_from,
    .length = reader->farthest,
  };
  reader->measure_from += reader->farthest;
}

bool
score_read(ReadScore* const score, const char* const path)
{
  *score            = (ReadScore){.n_parts = 0};
  xmlDoc* const doc = xmlReadFile(path, NULL, XML_PARSE_NONET);
  if (!doc) {
    return false;
  }
  const xmlNode* const root   = xmlDocGetRootElement(doc);
  Reader               reader = {.score = score};
  for (const xmlNode* part = root->children; part; part = part->next) {
    if (is_named(part, "part")) {
      reader.part         = score->n_parts++;
      reader.measure_from = 0;
      for (xmlNode* at = part->children; at; at = at->next) {
        if (is_named(at, "measure")) {
          read_measure(&reader, at);
        }
      }
    }
  }
  xmlFreeDoc(doc);
  return score->n_parts > 0;
}

void
score_read_free(ReadScore* const score)
{
  free(score->notes);
  free(score->measures);
  free(score->harmonies);
  xmlCleanupParser();
}
