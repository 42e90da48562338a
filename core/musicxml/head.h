/// @file core/musicxml/head.h What stands before the notes: title, parts, key,
/// meter, tempo, swing; and chord symbols.

#ifndef CORE_MUSICXML_HEAD_H
#define CORE_MUSICXML_HEAD_H

#include "core/musicxml/element.h"
#include "core/musicxml/musicxml.h"
#include "core/notation/value.h"

/// Write the title, the writer's name and the list of parts.
void
head_write(Xml* xml, const Score* score);

/// Write the attributes of a part's first measure.
void
head_write_attributes(Xml* xml, const Score* score, const ScorePart* part);

/// Write tempo and feel as a direction.
void
head_write_tempo(Xml* xml, const Score* score);

/// Write words over the staff, `offset` moments from where the notes are.
void
head_write_words(Xml* xml, const char* words, Moment offset);

/// Write a chord symbol, `offset` moments from where the notes are.
void
head_write_chord(Xml* xml, const Chord* chord, Moment offset);

/// Write the `id` of a part, `P1` for part 0; return `id`.
const char*
head_part_id(char id[16], unsigned part);

#endif // CORE_MUSICXML_HEAD_H
