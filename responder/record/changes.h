/// @file responder/record/changes.h What was changed while a session went on,
/// as it stands in a recording: a tempo of the file where it holds from, and
/// beside it one text, `barter-change tempo=96 rung=4,4,3,2`; a 0 stays.

#ifndef RESPONDER_RECORD_CHANGES_H
#define RESPONDER_RECORD_CHANGES_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/midi/smf_reader.h"
#include "core/midi/smf_writer.h"
#include "core/status.h"
#include "responder/record/conversation.h"

/// Write the changes of a conversation to track 0, which is there.
void
changes_write(SmfWriter* writer, const Conversation* conversation);

/**
   Read them out of a file.

   @param[out] changes `n` of them, by the ticks of the file; owned by the
   caller: free(). Written on success only.
   @return STATUS_OK; STATUS_SYNTAX if one is damaged; STATUS_MEMORY.
*/
MUST_USE Status
changes_read(SessionChange** changes,
             size_t*         n,
             const SmfTake*  take,
             Fault*          fault);

/// Return the microseconds from the first tick of a conversation to another.
/// @param tempo_bpm That it began at.
double
changes_us(const Conversation* conversation, double tempo_bpm, Tick tick);

#endif // RESPONDER_RECORD_CHANGES_H
