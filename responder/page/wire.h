/// @file responder/page/wire.h The messages of a page, read: `barter-page`,
/// version 1. JSON is parsed here and nowhere else.
///
/// A page sends requests, `{"n": 7, "ask": NAME, ...}` with `n` rising, which
/// are answered once each, by `{"n": 7, "answer": {...}}` or `{"n": 7, "fault":
/// {"text": "...", "field": "tempo" or null}}`; and keys that are played,
/// `{"play": "on" or "off", "pitch", "velocity", "at"}` or `{"play": "none"}`,
/// which are not. The requests are the rows of a table: requests.h.

#ifndef RESPONDER_PAGE_WIRE_H
#define RESPONDER_PAGE_WIRE_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/status.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct json_t;
struct Page;

enum { WIRE_FIELDS = 8, WIRE_VALUE_CAPACITY = 1088 };

/// What the value of a field is.
typedef enum {
  WIRE_TEXT,   ///< At most `most` bytes
  WIRE_WHOLE,  ///< A whole number, `least`..`most`
  WIRE_NUMBER, ///< A number, `least`..`most`
  WIRE_FLAG,
  WIRE_ANY, ///< A text, number or flag, read as a text: `true`, `120`
} WireKind;

typedef struct {
  const char* name; ///< NULL ends the fields
  WireKind    kind;
  double      least;
  double      most;
  bool        may_lack;
} WireField;

/// The value of a field, in the order of the table.
typedef struct {
  bool        is_there;
  const char* text; ///< Of TEXT and ANY
  double      number;
  bool        flag;
  char        own[WIRE_VALUE_CAPACITY]; ///< Of ANY
} WireValue;

/// A request that is being answered.
typedef struct {
  unsigned         client;
  int64_t          n;
  int64_t          visit;    ///< Of the client: another may have its number
  const WireValue* values;   ///< In the order of the fields; not later
  bool             is_later; ///< Set: it will be answered when work is done
  const char*      field;    ///< Set on failure: which is at fault; may be NULL
  Fault            fault;    ///< Written on failure
} WireCall;

/// What can be asked for.
typedef struct {
  const char* ask;
  WireField   fields[WIRE_FIELDS + 1];
  /// Return the answer; NULL with the fault written, or if it comes later.
  struct json_t* (*answer)(struct Page* page, WireCall* call);
  bool is_read_only; ///< A page that watches may ask it, too
  bool is_first;     ///< ... and one that has not opened yet
} WireRow;

typedef enum { WIRE_REQUEST, WIRE_ON, WIRE_OFF, WIRE_NONE } WireWhat;

/// A message; give it to wire_free().
typedef struct {
  WireWhat       what;
  int64_t        n;
  unsigned       row; ///< Of the table
  WireValue      values[WIRE_FIELDS];
  uint8_t        pitch;
  uint8_t        velocity; ///< 1..127
  double         at_ms;    ///< Of the server's clock
  struct json_t* root;
} WireMessage;

/**
   Read a message.

   @param rows `n_rows` of them.
   @param[out] message Give it to wire_free(), whatever comes back.
   @param[out] field Of a fault: which field; NULL: none. It lives as the table.
   @return STATUS_OK; STATUS_RANGE if it is a request, numbered, that asks for
   nothing there is or has a field at fault; STATUS_SYNTAX if it is not of the
   protocol; with the fault written.
*/
MUST_USE Status
wire_read(const WireRow* rows,
          unsigned       n_rows,
          const char*    text,
          size_t         size,
          WireMessage*   message,
          const char**   field,
          Fault*         fault);

void
wire_free(WireMessage* message);

#endif // RESPONDER_PAGE_WIRE_H
