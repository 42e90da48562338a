#include "responder/page/drop.h"

#include "responder/page/base64.h"
#include "responder/page/look_back.h"

#include <stdlib.h>
#include <unistd.h>

void
drop_forget(Page* const page)
{
  if (page->dropped) {
    (void)fclose(page->dropped);
    (void)unlink(page->dropped_path);
    page->dropped = NULL;
  }
}

json_t*
drop_begin(Page* const page, WireCall* const call)
{
  drop_forget(page);
  const int file  = scratch_file(page->scratch, page->dropped_path);
  page->dropped   = file >= 0 ? fdopen(file, "wb") : NULL;
  page->n_dropped = 0;
  return page->dropped
           ? json_object()
           : face_refuse(call, NULL, "there is no room in /tmp for the file");
}

json_t*
drop_part(Page* const page, WireCall* const call)
{
  size_t      size  = 0;
  char* const bytes = base64_bytes(call->values[0].text, &size);
  if (!page->dropped) {
    free(bytes);
    return face_refuse(call, NULL, "no file was begun");
  }
  page->n_dropped += size;
  const bool is_right = bytes && page->n_dropped <= DROP_MOST;
  const bool is_kept =
    is_right && fwrite(bytes, 1, size, page->dropped) == size;
  free(bytes);
  if (!is_kept) {
    drop_forget(page);
    return face_refuse(call,
                       "base64",
                       is_right ? "there is no room in /tmp for the file"
                       : bytes  ? "a file has 4 MiB at most"
                                : "a part is bytes in base64");
  }
  return json_object();
}

bool
drop_take(Page* const page, char path[FACE_NAME], WireCall* const call)
{
  if (!page->dropped) {
    (void)face_refuse(call, NULL, "no file was begun");
    return false;
  }
  const bool is_whole = fclose(page->dropped) == 0;
  page->dropped       = NULL;
  if (!is_whole) {
    (void)unlink(page->dropped_path);
    (void)face_refuse(call, NULL, "there is no room in /tmp for the file");
    return false;
  }
  (void)snprintf(path, FACE_NAME, "%s", page->dropped_path);
  return true;
}

json_t*
drop_end(Page* const page, WireCall* const call)
{
  char path[FACE_NAME];
  return drop_take(page, path, call) ? look_back_take(page, path, call) : NULL;
}
