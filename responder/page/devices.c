#include "responder/page/devices.h"

#include <stdio.h>
#include <string.h>

void
devices_no_sound(Page* const page, const Fault* const fault)
{
  char       words[FAULT_TEXT_CAPACITY];
  const bool is_device = fault->status == STATUS_SYSTEM;
  (void)fault_text(fault, words, sizeof(words));
  page->has_sound = false;
  (void)snprintf(page->sound,
                 sizeof(page->sound),
                 "No sound: %.*s.%s",
                 is_device
                   ? (int)strcspn(words, ";") // Then the command's words
                   : (int)strlen(words),
                 words,
                 is_device ? " Connect a device, or end what holds it, and "
                             "start Barter again."
                           : "");
}

static void
look_for_sound(Page* const page)
{
  const Fault* const fault = stage_no_font(page->playing.stage);
  if (page->has_sound && fault) {
    devices_no_sound(page, fault);
    face_tell_state(page, STATE_SOUND);
  }
}

static void
word_keyboard(Page* const page, const char* const there)
{
  (void)snprintf(page->keyboard,
                 sizeof(page->keyboard),
                 "%s",
                 page->hears_keyboard
                   ? there
                   : "No MIDI keyboard is connected: play by the computer's "
                     "keys, by mouse or finger.");
}

// Which one it is the news tell
static void
look_for_keyboard(Page* const page)
{
  const bool hears = stage_hears_keyboard(page->playing.stage);
  if (hears != page->hears_keyboard) {
    page->hears_keyboard = hears;
    word_keyboard(page, "");
    face_tell_state(page, STATE_KEYBOARD);
  }
}

void
devices_word(Page* const page)
{
  const Wiring* const wiring = &page->playing.equipment.wiring;
  page->has_sound = page->has_sound && (wiring->has_sound || wiring->has_out);
  if (!page->sound[0]) {
    (void)snprintf(page->sound,
                   sizeof(page->sound),
                   "%s",
                   page->has_sound ? stage_text(page->playing.stage)
                                   : "No sound was asked for.");
  }
  page->hears_keyboard = stage_hears_keyboard(page->playing.stage);
  word_keyboard(page, stage_text(page->playing.stage));
}

void
devices_look(Page* const page)
{
  look_for_sound(page);
  look_for_keyboard(page);
}
