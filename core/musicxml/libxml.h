/// @file core/musicxml/libxml.h libxml2, loaded when it is wanted and not
/// before.
///
/// It brings the tables of all writing systems with it. Linked, they would be
/// mapped at every start: half of its time.

#ifndef CORE_MUSICXML_LIBXML_H
#define CORE_MUSICXML_LIBXML_H

#include "core/attributes.h"
#include "core/status.h"

#include <libxml/xmlwriter.h>

/// Those of its functions that we call, under names of ours.
typedef struct {
  xmlBufferPtr (*buffer_create)(void);
  void (*buffer_free)(xmlBufferPtr buffer);
  int (*buffer_length)(const xmlBuffer* buffer);
  const xmlChar* (*buffer_content)(const xmlBuffer* buffer);
  int (*check_utf8)(const xmlChar* words);
  xmlTextWriterPtr (*new_writer)(xmlBufferPtr buffer, int compression);
  void (*free_writer)(xmlTextWriterPtr writer);
  int (*set_indent)(xmlTextWriterPtr writer, int indent);
  int (*set_indent_string)(xmlTextWriterPtr writer, const xmlChar* words);
  int (*start_document)(xmlTextWriterPtr writer,
                        const char*      version,
                        const char*      encoding,
                        const char*      standalone);
  int (*end_document)(xmlTextWriterPtr writer);
  int (*write_dtd)(xmlTextWriterPtr writer,
                   const xmlChar*   name,
                   const xmlChar*   public_id,
                   const xmlChar*   system_id,
                   const xmlChar*   subset);
  int (*start_element)(xmlTextWriterPtr writer, const xmlChar* name);
  int (*end_element)(xmlTextWriterPtr writer);
  int (*write_attribute)(xmlTextWriterPtr writer,
                         const xmlChar*   name,
                         const xmlChar*   value);
  int (*write_string)(xmlTextWriterPtr writer, const xmlChar* words);
  int (*flush)(xmlTextWriterPtr writer);
} LibXml;

/**
   Load libxml2. It stays loaded for as long as the process lives.

   @param[out] library Written on success only.
   @return STATUS_OK; STATUS_MISSING if it is not installed.
*/
MUST_USE Status
libxml_load(LibXml* library);

#endif // CORE_MUSICXML_LIBXML_H
