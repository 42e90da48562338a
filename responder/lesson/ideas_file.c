#include "responder/lesson/ideas_file.h"

#include "core/band/band.h"
#include "core/files/file.h"
#include "core/files/folder.h"
#include "core/midi/smf_writer.h"
#include "responder/record/recorded.h"

#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { STREAM_BAND = 1, NAME_CAPACITY = 64, ALL_OF_THEM = DEVELOP_MOST };

/// One file in the making: bars of the form over and over, some of them spoken
/// in.
typedef struct {
  const IdeasFile* file;
  unsigned         n_bars; ///< Of the phrase
  Tick             bar;
  Chart            chart; ///< These bars alone
  Band             band;
  BandBar          played;
  Conversation     conversation;
  Tick             end; ///< Of what is laid so far
} Layout;

// Laying out

static Status
add_bar(Layout* const layout)
{
  Status status = STATUS_OK;
  for (unsigned i = 0; i < layout->played.n_notes && !status; ++i) {
    status = conversation_add(&layout->conversation, layout->played.notes[i]);
  }
  return status;
}

static Status
begin_layout(Layout* const layout, const IdeasFile* const file)
{
  const Setup* const  setup  = file->setup;
  const Phrase* const phrase = file->phrase;
  const Tick          bar    = meter_bar_ticks(setup->chart.chart.meter);
  *layout                    = (Layout){
                       .file   = file,
                       .n_bars = (unsigned)((phrase->end_tick - phrase->start_tick) / bar),
                       .bar    = bar,
  };
  Status status = chart_part(&layout->chart,
                             &setup->chart.chart,
                             (unsigned)(phrase->start_tick / bar),
                             layout->n_bars);
  if (status) {
    return status;
  }
  band_begin(&layout->band,
             &layout->chart,
             &setup->feel,
             setup->choices.tempo_bpm,
             rng_seed(setup->choices.seed, STREAM_BAND));
  const unsigned bars        = band_count_in(&layout->band, 0, &layout->played);
  layout->conversation.first = -(Tick)bars * bar;
  return add_bar(layout);
}

/// Lay a phrase over the band, or leave its bars free for the player.
static Status
lay(Layout* const layout, const Phrase* const says, const Part part)
{
  Status status = STATUS_OK;
  for (unsigned i = 0; i < layout->n_bars && !status; ++i) {
    band_play_bar(&layout->band,
                  layout->end + (Tick)i * layout->bar,
                  says ? BAND_FULL : BAND_THIN,
                  &layout->played);
    status = add_bar(layout);
  }
  for (unsigned i = 0; says && i < says->n_notes && !status; ++i) {
    Note note = says->notes[i].note;
    note.tick += layout->end - says->start_tick;
    status =
      conversation_add(&layout->conversation, (PartNote){note, (uint8_t)part});
  }
  layout->end += (Tick)layout->n_bars * layout->bar;
  return status;
}

static Status
end_layout(Layout* const layout)
{
  band_end(&layout->band, layout->end, &layout->played);
  const Status status       = add_bar(layout);
  layout->conversation.last = layout->end + layout->bar;
  for (size_t i = 0; i < layout->conversation.n_notes; ++i) {
    Note* const note = &layout->conversation.notes[i].note;
    const Tick  left = layout->conversation.last - note->tick;
    note->length     = note->length < left ? note->length : left;
  }
  conversation_sort(&layout->conversation);
  return status;
}

static Status
lay_with_gap(Layout* const layout, const Phrase* const says, const Part part)
{
  const Status status = lay(layout, says, part);
  return status ? status : lay(layout, NULL, part);
}

static Status
lay_all(Layout* const layout)
{
  const Developments* const found = layout->file->found;
  Status status = lay_with_gap(layout, layout->file->phrase, PART_PLAYER);
  for (unsigned i = 0; i < found->n && !status; ++i) {
    status = lay_with_gap(layout, &found->ways[i].answer.heard, PART_PARTNER);
  }
  return status;
}

/// Lay out one development, or all of them with the phrase before.
static Status
lay_out(Layout* const layout, const IdeasFile* const file, const unsigned which)
{
  Status status = begin_layout(layout, file);
  if (!status) {
    status =
      which == ALL_OF_THEM
        ? lay_all(layout)
        : lay(layout, &file->found->ways[which].answer.heard, PART_PARTNER);
  }
  return status ? status : end_layout(layout);
}

// Writing

static void
write_markers(SmfWriter* const writer, const Layout* const layout)
{
  const Developments* const found = layout->file->found;
  const Tick                turn  = (Tick)layout->n_bars * layout->bar;
  const Tick                first = layout->conversation.first;
  smf_writer_text(writer, 0, -first, SMF_MARKER, "the phrase");
  for (unsigned i = 0; i <= found->n; ++i) {
    char       marker[NAME_CAPACITY];
    const Tick tick = 2 * (Tick)i * turn - first;
    if (i) {
      (void)snprintf(marker,
                     sizeof(marker),
                     "idea %u, %s",
                     i,
                     move_name(found->ways[i - 1].answer.move));
      smf_writer_text(writer, 0, tick, SMF_MARKER, marker);
    }
    smf_writer_text(writer, 0, tick + turn, SMF_MARKER, "your turn");
  }
}

static Status
write_file(const Layout* const layout,
           const bool          is_all,
           const char* const   path,
           Fault* const        fault)
{
  const Setup* const     setup  = layout->file->setup;
  SmfWriter*             writer = NULL;
  Recorded               recorded;
  const Recording* const recording = recorded_of(&recorded, setup, path);
  Status status = smf_writer_open(&writer, 1, TICKS_PER_QUARTER, SMF_PLAIN);
  if (status) {
    return fault_in(fault, status, path, "%s", status_text(status));
  }
  (void)smf_writer_track(writer, setup->chart.chart.title);
  recording_write_head(writer, recording, &layout->conversation);
  if (is_all) {
    write_markers(writer, layout);
  }
  recording_write_parts(writer, recording, &layout->conversation);
  status = smf_writer_save(writer, path, fault);
  smf_writer_close(writer);
  return status;
}

static Status
save_one(Layout* const          layout,
         const IdeasFile* const file,
         const unsigned         which,
         const char* const      path,
         Fault* const           fault)
{
  const Status status =
    lay_out(layout, file, which)
      ? fault_memory(fault, NULL)
      : write_file(layout, which == ALL_OF_THEM, path, fault);
  conversation_free(&layout->conversation);
  return status;
}

/// Write `same-rhythm-new-notes`.
static const char*
file_name(const Move move, char name[NAME_CAPACITY])
{
  size_t n = 0;
  for (const char* from = move_name(move); *from; ++from) {
    if (*from != ',') {
      name[n++] = *from == ' ' ? '-' : *from;
    }
  }
  name[n] = '\0';
  return name;
}

const char*
ideas_file_path(const char* const folder, char path[IDEAS_PATH_CAPACITY])
{
  (void)snprintf(path, IDEAS_PATH_CAPACITY, "%s/ideas.mid", folder);
  return path;
}

Status
ideas_file_save(const IdeasFile* const file,
                const char* const      folder,
                Fault* const           fault)
{
  char path[IDEAS_PATH_CAPACITY];
  char name[NAME_CAPACITY];
  if (strlen(folder) + NAME_CAPACITY >= sizeof(path)) {
    return fault_say(fault, STATUS_RANGE, "the path of the folder is too long");
  }
  Status status = folder_make(folder, fault);
  if (status) {
    return status;
  }
  Layout* const layout = calloc(1, sizeof(*layout));
  if (!layout) {
    return fault_memory(fault, NULL);
  }
  status =
    save_one(layout, file, ALL_OF_THEM, ideas_file_path(folder, path), fault);
  for (unsigned i = 0; i < file->found->n && !status; ++i) {
    (void)snprintf(path,
                   sizeof(path),
                   "%s/idea-%02u-%s.mid",
                   folder,
                   i + 1,
                   file_name(file->found->ways[i].answer.move, name));
    status = save_one(layout, file, i, path, fault);
  }
  free(layout);
  return status;
}

Status
ideas_file_render(const IdeasFile* const file,
                  const char* const      path,
                  const char* const      soundfont,
                  const Watch* const     watch,
                  Fault* const           fault)
{
  Layout* const layout = calloc(1, sizeof(*layout));
  if (!layout) {
    return fault_memory(fault, NULL);
  }
  const Rendering sound = recorded_sound(file->setup, soundfont, watch);
  const Status    status =
    lay_out(layout, file, ALL_OF_THEM)
         ? fault_memory(fault, NULL)
         : render_conversation(&layout->conversation, &sound, path, fault);
  conversation_free(&layout->conversation);
  free(layout);
  return status;
}
