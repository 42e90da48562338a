#include "core/picture/picture.h"

#include <librsvg/rsvg.h>

Status
picture_draw(void* const       pen,
             const char* const svg,
             const size_t      n_svg,
             const double      box[4])
{
  RsvgHandle* const handle =
    rsvg_handle_new_from_data((const guint8*)svg, n_svg, NULL);
  if (!handle) {
    return STATUS_SYNTAX;
  }
  const RsvgRectangle place = {box[0], box[1], box[2], box[3]};
  const gboolean      is_drawn =
    rsvg_handle_render_document(handle, pen, &place, NULL);
  g_object_unref(handle);
  return is_drawn ? STATUS_OK : STATUS_SYNTAX;
}
