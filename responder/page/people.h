/// @file responder/page/people.h The place of the learners.

#ifndef RESPONDER_PAGE_PEOPLE_H
#define RESPONDER_PAGE_PEOPLE_H

#include "core/attributes.h"
#include "profiles/learner/people.h"
#include "responder/page/face.h"

#include <stdbool.h>

/// Find who a request names; false: the call has the fault.
bool
people_of_call(WireCall* call, Person* person);

/// Find a free ID for a name, and where it is kept.
MUST_USE Status
people_free_place(Person* person, const char* name, Fault* fault);

// Requests

json_t*
people_add(Page* page, WireCall* call);

json_t*
people_edit(Page* page, WireCall* call);

json_t*
people_set(Page* page, WireCall* call);

json_t*
people_export(Page* page, WireCall* call);

json_t*
people_drop(Page* page, WireCall* call);

json_t*
people_undo(Page* page, WireCall* call);

json_t*
people_look(Page* page, WireCall* call);

json_t*
people_import(Page* page, WireCall* call);

json_t*
people_class(Page* page, WireCall* call);

#endif // RESPONDER_PAGE_PEOPLE_H
