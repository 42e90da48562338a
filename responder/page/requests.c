#include "responder/page/requests.h"

#include "core/time/monotonic.h"
#include "profiles/sheet/sheet.h"
#include "responder/page/charts.h"
#include "responder/page/choosing.h"
#include "responder/page/controls.h"
#include "responder/page/drop.h"
#include "responder/page/face.h"
#include "responder/page/hear.h"
#include "responder/page/ideas.h"
#include "responder/page/keys.h"
#include "responder/page/look_back.h"
#include "responder/page/notebook.h"
#include "responder/page/people.h"
#include "responder/page/play.h"
#include "responder/page/progress.h"
#include "responder/page/save.h"
#include "responder/page/tries.h"
#include "responder/page/warm_up.h"
#include "responder/page/welcome.h"

#include <string.h>

enum { ID_MOST = 64, NAME_MOST = 1023, VERSION = 1 };

// Coming and going

static bool
is_key(const Page* const page, const char* const key)
{
  unsigned differs = strlen(key) != strlen(page->key);
  for (size_t i = 0; !differs && page->key[i]; ++i) {
    differs |= (unsigned char)(key[i] ^ page->key[i]);
  }
  return !differs;
}

static json_t*
open_page(Page* const page, WireCall* const call)
{
  Guest* const guest = &page->guests[call->client];
  if (!is_key(page, call->values[0].text)) {
    return face_refuse(
      call,
      "key",
      "This is not the key of this page: open the address that "
      "barter printed last.");
  }
  if ((int)call->values[1].number != VERSION) {
    return face_refuse(call,
                       "version",
                       "this is barter-page version %d; load the page again",
                       VERSION);
  }
  if (guest->is_open) {
    return face_refuse(call, NULL, "this page is open already");
  }
  guest->is_open = true;
  page->empty_ns = 0;
  page->player   = page->player == FACE_NOBODY ? call->client : page->player;
  welcome_send(page, call->client);
  face_tell_state(page, STATE_ME);
  play_place(page, call->client);
  return json_pack("{si}", "version", VERSION);
}

static json_t*
take_over(Page* const page, WireCall* const call)
{
  if (page->player != call->client) {
    keys_release(page);
    page->player = call->client;
    face_tell_state(page, STATE_ME);
  }
  return json_object();
}

static json_t*
close_page(Page* const page, WireCall* const call)
{
  (void)call;
  page->ends = true;
  return json_object();
}

static json_t*
tell_clock(Page* const page, WireCall* const call)
{
  (void)page;
  return json_pack("{sf sf}",
                   "sent",
                   call->values[0].number,
                   "here",
                   (double)monotonic_ns() / (double)NS_PER_MS);
}

#define TEXT(name, most)                                                       \
  {                                                                            \
    name, WIRE_TEXT, 0, most, false                                            \
  }

static const WireRow rows[] = {
  {.ask      = "open",
   .fields   = {TEXT("key", ID_MOST), {"version", WIRE_WHOLE, 0, 1000, false}},
   .answer   = open_page,
   .is_first = true},
  {.ask          = "clock",
   .fields       = {{"sent", WIRE_NUMBER, -1e15, 1e15, false}},
   .answer       = tell_clock,
   .is_read_only = true},
  {.ask = "take over", .answer = take_over, .is_read_only = true},
  {.ask = "close", .answer = close_page},
  {.ask    = "choose",
   .fields = {TEXT("name", ID_MOST), {"value", WIRE_ANY, 0, 0, false}},
   .answer = choosing_choose},
  {.ask = "begin", .answer = play_begin},
  {.ask = "stop", .answer = controls_stop},
  {.ask = "again", .answer = controls_again},
  {.ask = "skip", .answer = controls_skip},
  {.ask = "pause", .answer = controls_pause},
  {.ask = "go on", .answer = controls_go_on},
  {.ask = "slower", .answer = controls_slower},
  {.ask = "faster", .answer = controls_faster},
  {.ask = "easier", .answer = controls_easier},
  {.ask = "harder", .answer = controls_harder},
  // Look back
  {.ask = "sessions", .answer = look_back_list, .is_read_only = true},
  {.ask    = "session",
   .fields = {TEXT("name", ID_MOST)},
   .answer = look_back_open},
  {.ask    = "staff",
   .fields = {TEXT("name", ID_MOST), {"turn", WIRE_WHOLE, 1, 1e6, false}},
   .answer = look_back_staff},
  {.ask    = "hear",
   .fields = {TEXT("name", ID_MOST), {"turn", WIRE_WHOLE, 1, 1e6, true}},
   .answer = hear_begin},
  {.ask = "hush", .answer = hear_hush},
  {.ask    = "keep",
   .fields = {TEXT("name", ID_MOST), {"turn", WIRE_WHOLE, 1, 1e6, false}},
   .answer = look_back_keep},
  {.ask    = "save",
   .fields = {TEXT("name", ID_MOST), TEXT("kind", ID_MOST)},
   .answer = save_session},
  {.ask    = "file begin",
   .fields = {{"name", WIRE_TEXT, 0, NAME_MOST, true},
              {"size", WIRE_WHOLE, 1, DROP_MOST, true}},
   .answer = drop_begin},
  {.ask    = "file part",
   .fields = {TEXT("base64", SERVER_MESSAGE)},
   .answer = drop_part},
  {.ask = "file end", .answer = drop_end},
  // Ideas
  {.ask    = "ideas",
   .fields = {TEXT("from", ID_MOST),
              {"name", WIRE_TEXT, 0, ID_MOST, true},
              {"turn", WIRE_WHOLE, 1, 1e6, true},
              {"number", WIRE_WHOLE, 1, 1e6, true},
              {"rung", WIRE_TEXT, 0, ID_MOST, true},
              {"count", WIRE_WHOLE, 1, DEVELOP_MOST, true}},
   .answer = ideas_develop},
  {.ask    = "idea keep",
   .fields = {{"number", WIRE_WHOLE, 1, 1e6, false}},
   .answer = ideas_keep},
  {.ask    = "idea hear",
   .fields = {{"number", WIRE_WHOLE, 1, 1e6, false}},
   .answer = ideas_hear},
  {.ask    = "idea try",
   .fields = {{"number", WIRE_WHOLE, 1, 1e6, false}},
   .answer = tries_try},
  {.ask = "notebook", .answer = notebook_list, .is_read_only = true},
  {.ask    = "idea rename",
   .fields = {{"number", WIRE_WHOLE, 1, 1e6, false}, TEXT("name", ID_MOST)},
   .answer = notebook_rename},
  {.ask    = "idea remove",
   .fields = {{"number", WIRE_WHOLE, 1, 1e6, false}},
   .answer = notebook_remove},
  // Warm up
  {.ask    = "warmup",
   .fields = {{"minutes", WIRE_NUMBER, 3, 60, false}},
   .answer = warm_up_plan},
  {.ask    = "warmup begin",
   .fields = {{"number", WIRE_WHOLE, 1, 1e6, true}},
   .answer = warm_up_begin},
  {.ask = "warmup shorter", .answer = warm_up_shorter},
  // Progress, sheets
  {.ask          = "progress",
   .fields       = {{"days", WIRE_WHOLE, 1, 1e5, true}},
   .answer       = progress_show,
   .is_read_only = true},
  {.ask    = "sheet",
   .fields = {TEXT("kind", ID_MOST),
              {"chart", WIRE_TEXT, 0, ID_MOST, true},
              {"key", WIRE_TEXT, 0, ID_MOST, true},
              {"rung", WIRE_TEXT, 0, ID_MOST, true},
              {"who", WIRE_TEXT, 0, ID_MOST, true},
              {"rhythms", WIRE_WHOLE, 1, SHEET_RHYTHMS_MOST, true},
              {"seed", WIRE_ANY, 0, 0, true}},
   .answer = save_sheet},
  // Charts
  {.ask = "charts", .answer = charts_list, .is_read_only = true},
  {.ask    = "chart read",
   .fields = {TEXT("name", ID_MOST)},
   .answer = charts_read},
  {.ask    = "chart check",
   .fields = {TEXT("text", SERVER_MESSAGE)},
   .answer = charts_look},
  {.ask    = "chart save",
   .fields = {TEXT("name", ID_MOST), TEXT("text", SERVER_MESSAGE)},
   .answer = charts_keep},
  // People
  {.ask    = "people add",
   .fields = {TEXT("name", ID_MOST)},
   .answer = people_add},
  {.ask    = "people edit",
   .fields = {TEXT("id", ID_MOST)},
   .answer = people_edit},
  {.ask    = "people set",
   .fields = {TEXT("id", ID_MOST),
              TEXT("key", ID_MOST),
              {"value", WIRE_ANY, 0, 0, false}},
   .answer = people_set},
  {.ask    = "people export",
   .fields = {TEXT("id", ID_MOST)},
   .answer = people_export},
  {.ask    = "people remove",
   .fields = {TEXT("id", ID_MOST), {"for_good", WIRE_FLAG, 0, 0, true}},
   .answer = people_drop},
  {.ask = "people undo", .answer = people_undo},
  {.ask = "people import look", .answer = people_look},
  {.ask    = "people import",
   .fields = {{"same", WIRE_FLAG, 0, 0, true},
              {"apart", WIRE_FLAG, 0, 0, true}},
   .answer = people_import},
  {.ask          = "people class",
   .fields       = {TEXT("sort", ID_MOST)},
   .answer       = people_class,
   .is_read_only = true},
  {.ask    = "people choose",
   .fields = {TEXT("id", ID_MOST)},
   .answer = choosing_who},
};

const WireRow*
requests_table(unsigned* const n_rows)
{
  *n_rows = sizeof(rows) / sizeof(*rows);
  return rows;
}
