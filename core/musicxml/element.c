#include "core/musicxml/element.h"

#include <libxml/xmlwriter.h>

#include <inttypes.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { NUMBER_CAPACITY = 24 };

// The letters as libxml2 has them: bytes of UTF-8
static const xmlChar*
letters(const char* const words)
{
  return (const xmlChar*)words;
}

struct Xml {
  xmlBufferPtr     buffer;
  xmlTextWriterPtr writer;
  bool             has_failed;
};

static void
keep(Xml* const xml, const int result)
{
  xml->has_failed = xml->has_failed || result < 0;
}

void
xml_free(Xml* const xml)
{
  if (!xml) {
    return;
  }
  if (xml->writer) {
    xmlFreeTextWriter(xml->writer);
  }
  if (xml->buffer) {
    xmlBufferFree(xml->buffer);
  }
  free(xml);
}

Status
xml_begin(Xml** const       xml,
          const char* const root,
          const char* const public_id,
          const char* const system_id)
{
  Xml* const made = calloc(1, sizeof(*made));
  if (!made) {
    return STATUS_MEMORY;
  }
  made->buffer = xmlBufferCreate();
  made->writer = made->buffer ? xmlNewTextWriterMemory(made->buffer, 0) : NULL;
  if (!made->writer) {
    xml_free(made);
    return STATUS_MEMORY;
  }
  keep(made, xmlTextWriterSetIndent(made->writer, 1));
  keep(made, xmlTextWriterSetIndentString(made->writer, letters(" ")));
  keep(made, xmlTextWriterStartDocument(made->writer, NULL, "UTF-8", "no"));
  keep(made,
       xmlTextWriterWriteDTD(made->writer,
                             letters(root),
                             letters(public_id),
                             letters(system_id),
                             NULL));
  *xml = made;
  return STATUS_OK;
}

void
xml_open(Xml* const xml, const char* const name)
{
  keep(xml, xmlTextWriterStartElement(xml->writer, letters(name)));
}

void
xml_attribute(Xml* const xml, const char* const name, const char* const value)
{
  keep(xml,
       xmlTextWriterWriteAttribute(xml->writer, letters(name), letters(value)));
}

static const char*
number_text(const int64_t number, char text[NUMBER_CAPACITY])
{
  (void)snprintf(text, NUMBER_CAPACITY, "%" PRId64, number);
  return text;
}

void
xml_attribute_number(Xml* const        xml,
                     const char* const name,
                     const int64_t     number)
{
  char text[NUMBER_CAPACITY];
  xml_attribute(xml, name, number_text(number, text));
}

void
xml_close(Xml* const xml)
{
  keep(xml, xmlTextWriterEndElement(xml->writer));
}

void
xml_empty(Xml* const xml, const char* const name)
{
  xml_open(xml, name);
  xml_close(xml);
}

// What XML cannot hold is replaced byte by byte
static bool
is_plain(const char* const words)
{
  for (const char* at = words; *at; ++at) {
    if ((unsigned char)*at < ' ' || *at == 0x7F) {
      return false;
    }
  }
  return xmlCheckUTF8(letters(words));
}

void
xml_words(Xml* const xml, const char* const words)
{
  if (is_plain(words)) {
    keep(xml, xmlTextWriterWriteString(xml->writer, letters(words)));
    return;
  }
  for (const char* at = words; *at; ++at) {
    const char one[] = {*at >= ' ' && *at < 0x7F ? *at : '?', '\0'};
    keep(xml, xmlTextWriterWriteString(xml->writer, letters(one)));
  }
}

void
xml_text(Xml* const xml, const char* const name, const char* const words)
{
  xml_open(xml, name);
  xml_words(xml, words);
  xml_close(xml);
}

void
xml_number(Xml* const xml, const char* const name, const int64_t number)
{
  char text[NUMBER_CAPACITY];
  xml_text(xml, name, number_text(number, text));
}

Status
xml_end(Xml* const xml, char** const bytes, size_t* const size)
{
  keep(xml, xmlTextWriterEndDocument(xml->writer));
  keep(xml, xmlTextWriterFlush(xml->writer));
  const size_t n    = (size_t)xmlBufferLength(xml->buffer);
  char* const  copy = xml->has_failed ? NULL : malloc(n + 1);
  if (!copy) {
    return STATUS_MEMORY;
  }
  memcpy(copy, xmlBufferContent(xml->buffer), n);
  copy[n] = '\0';
  *bytes  = copy;
  *size   = n;
  return STATUS_OK;
}
