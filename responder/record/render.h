/// @file responder/record/render.h A conversation as sound.

#ifndef RESPONDER_RECORD_RENDER_H
#define RESPONDER_RECORD_RENDER_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/sound/soundfont.h"
#include "core/status.h"
#include "core/watch.h"
#include "profiles/choices/choices.h"
#include "responder/record/conversation.h"

/// How a conversation is to sound.
typedef struct {
  double             tempo_bpm;
  const ChoiceSound* sounds; ///< By Part
  SoundFont          font;
  const Watch*       watch; ///< NULL: nobody looks on
} Rendering;

/**
   Render a conversation to a WAV file.

   @return As sound_render(); STATUS_RANGE if it would be longer than that can
   be.
*/
MUST_USE Status
render_conversation(const Conversation* conversation,
                    const Rendering*    rendering,
                    const char*         path,
                    Fault*              fault);

#endif // RESPONDER_RECORD_RENDER_H
