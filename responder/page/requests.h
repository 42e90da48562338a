/// @file responder/page/requests.h What a page can ask for: one table.

#ifndef RESPONDER_PAGE_REQUESTS_H
#define RESPONDER_PAGE_REQUESTS_H

#include "responder/page/wire.h"

/// Return the table.
const WireRow*
requests_table(unsigned* n_rows);

#endif // RESPONDER_PAGE_REQUESTS_H
