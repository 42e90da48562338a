/// @file core/musicxml/note.h The `note` elements of a staff.

#ifndef CORE_MUSICXML_NOTE_H
#define CORE_MUSICXML_NOTE_H

#include "core/musicxml/element.h"
#include "core/musicxml/musicxml.h"
#include "core/notation/accidentals.h"
#include "core/notation/measure.h"

/// A staff under the pen.
typedef struct {
  Xml*              xml;
  const Chart*      chart;
  const ScoreStaff* staff;
  unsigned          voice;
  unsigned          number; ///< Of the staff, from 1; 0: the part has one only
  Accidentals*      accidentals; ///< Of the measure, begun
} NotePen;

/// Write a symbol: grace notes, then a note, a chord or a rest.
void
note_write(NotePen* pen, const Symbol* symbol);

#endif // CORE_MUSICXML_NOTE_H
