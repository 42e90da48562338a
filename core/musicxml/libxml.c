#include "core/musicxml/libxml.h"

#include <dlfcn.h>
#include <stddef.h>
#include <string.h>

// The name that goes with the headers of version 2
static const char library_name[] = "libxml2.so.2";

typedef struct {
  const char* name;
  size_t      offset; ///< Of the pointer in LibXml
} Function;

// The second operand is nothing, but does not compile if the pointer's type is
// another than the function's in libxml2's header.
#define ROW(member, function)                                                  \
  {                                                                            \
#function, offsetof(LibXml, member) +                                      \
                 0 * sizeof(1 ? ((LibXml*)0)->member : (function))             \
  }

static const Function functions[] = {
  ROW(buffer_create, xmlBufferCreate),
  ROW(buffer_free, xmlBufferFree),
  ROW(buffer_length, xmlBufferLength),
  ROW(buffer_content, xmlBufferContent),
  ROW(check_utf8, xmlCheckUTF8),
  ROW(new_writer, xmlNewTextWriterMemory),
  ROW(free_writer, xmlFreeTextWriter),
  ROW(set_indent, xmlTextWriterSetIndent),
  ROW(set_indent_string, xmlTextWriterSetIndentString),
  ROW(start_document, xmlTextWriterStartDocument),
  ROW(end_document, xmlTextWriterEndDocument),
  ROW(write_dtd, xmlTextWriterWriteDTD),
  ROW(start_element, xmlTextWriterStartElement),
  ROW(end_element, xmlTextWriterEndElement),
  ROW(write_attribute, xmlTextWriterWriteAttribute),
  ROW(write_string, xmlTextWriterWriteString),
  ROW(flush, xmlTextWriterFlush),
};

Status
libxml_load(LibXml* const library)
{
  void* const handle = dlopen(library_name, RTLD_NOW | RTLD_LOCAL);
  if (!handle) {
    return STATUS_MISSING;
  }

  LibXml loaded;
  for (size_t i = 0; i < sizeof(functions) / sizeof(*functions); ++i) {
    void* const address = dlsym(handle, functions[i].name);
    if (!address) {
      return STATUS_MISSING;
    }
    memcpy((char*)&loaded + functions[i].offset, &address, sizeof(address));
  }
  *library = loaded;
  return STATUS_OK;
}
