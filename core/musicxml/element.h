/// @file core/musicxml/element.h Elements of XML, one after the other.
///
/// Its source is the only file that knows libxml2. The first failure is kept,
/// and what follows does nothing.

#ifndef CORE_MUSICXML_ELEMENT_H
#define CORE_MUSICXML_ELEMENT_H

#include "core/attributes.h"
#include "core/status.h"

#include <stddef.h>
#include <stdint.h>

/// A document in the making; opaque.
typedef struct Xml Xml;

/**
   Begin a document with its type.

   @param[out] xml Written on success only; give it to xml_free().
   @return STATUS_OK or STATUS_MEMORY.
*/
MUST_USE Status
xml_begin(Xml**       xml,
          const char* root,
          const char* public_id,
          const char* system_id);

/// Release; NULL does nothing.
void
xml_free(Xml* xml);

/// Begin an element; every one is ended with xml_close().
void
xml_open(Xml* xml, const char* name);

/// Give the element just begun an attribute.
void
xml_attribute(Xml* xml, const char* name, const char* value);

void
xml_attribute_number(Xml* xml, const char* name, int64_t number);

void
xml_close(Xml* xml);

/// An element without content.
void
xml_empty(Xml* xml, const char* name);

/// Words in the element at hand. Bytes that are no UTF-8 become ?.
void
xml_words(Xml* xml, const char* words);

/// An element of words.
void
xml_text(Xml* xml, const char* name, const char* words);

/// An element of a number.
void
xml_number(Xml* xml, const char* name, int64_t number);

/// End the document; `bytes` are owned by the caller: free(), and written on
/// success only. STATUS_OK or STATUS_MEMORY.
MUST_USE Status
xml_end(Xml* xml, char** bytes, size_t* size);

#endif // CORE_MUSICXML_ELEMENT_H
