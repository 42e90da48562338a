/// @file core/midi/smf_reader.h A Standard MIDI File, read into a SmfTake.
///
/// A SmfTake holds what was played, sorted by time, in ticks of 960 to the
/// quarter note whatever the file counts in. It owns its lists: smf_read() or
/// smf_load() fills it, smf_free() empties it.
///
/// Formats 0 and 1 are read. What is wrong with a file is a warning with its
/// byte offset if the rest can be made use of, and else a refusal:
///
/// | found                                    | treatment                   |
/// | ---------------------------------------- | --------------------------- |
/// | no MThd (a RIFF file is looked into)     | refused                     |
/// | format 2, or above                       | refused                     |
/// | a header under 6 bytes, or cut off       | refused                     |
/// | a header over 6 bytes                    | read, the rest skipped      |
/// | division 0, or no known frame rate       | refused                     |
/// | no track where the header announces one  | refused                     |
/// | no track, and none announced             | read as empty, warning      |
/// | damage before the first event of all     | refused                     |
/// | more or fewer tracks than announced      | read, warning               |
/// | several tracks in format 0               | read together, warning      |
/// | tracks beyond SMF_TRACK_CAPACITY         | left out, warning           |
/// | a track cut off, or whose length lies    | read to its end, warning    |
/// | no End of Track                          | read, warning               |
/// | bytes after an End of Track              | left out, warning           |
/// | a chunk of an unknown name               | skipped                     |
/// | bytes that are no chunk                  | left out, warning (1)       |
/// | running status after a meta event, sysex | read, warning               |
/// | a system message (F1-F6, F8-FE)          | left out, warning           |
/// | a first data byte above 127              | message left out, warning   |
/// | a second data byte above 127             | taken as 127, warning       |
/// | a data byte before any status            | track ends there, warning   |
/// | a time or length over 4 bytes            | track ends there, warning   |
/// | an event that passes its track's end     | track ends there, warning   |
/// | a time beyond SMF_LAST_TICK              | track ends there, warning   |
/// | a note without an end                    | lasts as its track, warning |
/// | an end without a note                    | left out, warning           |
/// | the same key struck twice                | two notes (2)               |
/// | a note-on of velocity 0                  | is a note-off               |
/// | a note of no length                      | lasts 1 tick                |
/// | a tempo of 0                             | left out, warning           |
/// | an impossible meter, key, SMPTE offset   | left out, warning           |
/// | one of these with too few bytes          | left out, warning           |
/// | one of these with too many bytes         | read, the rest skipped      |
/// | a text that holds a zero byte            | ends there                  |
///
/// (1) The next MTrk is looked for if there are fewer tracks than announced.
/// (2) The first struck is the first that ends.
///
/// Left out without a word, for no take has a use for them: sysex, sequence
/// numbers, channel prefixes, SMPTE offsets and meta events without a name
/// here. A sustain pedal lengthens no note: it is among the controls.
///
/// Memory: at most 16 bytes for each event, and the bytes of the file again
/// while it is read.

#ifndef CORE_MIDI_SMF_READER_H
#define CORE_MIDI_SMF_READER_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/midi/smf.h"

#include <stddef.h>

/// The largest file that is read.
#define SMF_FILE_LIMIT ((size_t)64 * 1024 * 1024)

/// A track's time stops here: in ticks of 960, it still fits 64 bits.
#define SMF_LAST_TICK ((uint64_t)1 << 48U)

enum { SMF_WARNINGS_CAPACITY = 16 };

/// What was wrong with a file that was read all the same.
typedef struct {
  uint32_t offset; ///< Byte in the file, from 0
  char     text[124];
} SmfWarning;

/// The first warnings, and how many there were; those of the file as a whole
/// come last.
typedef struct {
  SmfWarning items[SMF_WARNINGS_CAPACITY];
  size_t     n;       ///< Items that are filled in
  size_t     n_found; ///< All, with those that found no room
} SmfWarnings;

/// A text; smf_text() gives its characters.
typedef struct {
  Tick     tick;
  uint32_t at; ///< In the strings of the take
  uint16_t track;
  uint8_t  kind; ///< A SmfTextKind; up to 15 for kinds without a name
} SmfText;

typedef struct {
  Tick     end;  ///< Where its End of Track is
  uint32_t name; ///< In the strings of the take
  uint32_t n_notes;
} SmfTrack;

/// All lists are sorted by tick; at one tick in the order of tracks, and within
/// a track in that of the file. A zeroed take is an empty one.
typedef struct {
  unsigned    format;            ///< 0 or 1
  unsigned    ticks_per_quarter; ///< As in the file; 0: frames, seconds
  Tick        end;               ///< The last track's
  SmfNote*    notes;
  size_t      n_notes;
  SmfControl* controls;
  size_t      n_controls;
  SmfTempo*   tempos;
  size_t      n_tempos;
  SmfMeter*   meters;
  size_t      n_meters;
  SmfKey*     keys;
  size_t      n_keys;
  SmfText*    texts;
  size_t      n_texts;
  SmfTrack*   tracks;
  size_t      n_tracks;
  size_t      n_events; ///< All in the file, those left out as well
  char*       strings;
  SmfWarnings warnings;
} SmfTake;

/**
   Read a file from memory.

   @param[out] take Written in full on success, left untouched on failure.
   @param us_per_quarter The tempo, in microseconds, at which a file that counts
   frames and seconds is laid on ticks; its own tempos are left out then. Of no
   effect on other files. SMF_US_PER_QUARTER if in doubt; not 0.
   @param[out] fault Filled on failure, its file left empty; the text begins
   with `byte N:`.
   @return STATUS_OK; STATUS_SYNTAX if the file is refused; STATUS_RANGE if it
   is larger than SMF_FILE_LIMIT; STATUS_MEMORY.
*/
MUST_USE Status
smf_read(SmfTake*       take,
         const uint8_t* bytes,
         size_t         size,
         unsigned       us_per_quarter,
         Fault*         fault);

/**
   Read a file by its path, as smf_read() does.

   @return As smf_read(); STATUS_RANGE also if it is empty; and as file_load()
   if it cannot be loaded.
*/
MUST_USE Status
smf_load(SmfTake*    take,
         const char* path,
         unsigned    us_per_quarter,
         Fault*      fault);

/// Give back a take's memory and empty it; an empty one may be freed again.
void
smf_free(SmfTake* take);

/// Return the characters of a text of the take; they live as long as it does.
const char*
smf_text(const SmfTake* take, const SmfText* text);

/// Return the name of a track, 0..n_tracks - 1; "" if it has none.
const char*
smf_track_name(const SmfTake* take, size_t track);

/// Return the microseconds per quarter in force at a tick; 120 bpm before any.
unsigned
smf_tempo_at(const SmfTake* take, Tick tick);

/// Return the seconds from tick 0 to a tick, 0 or later, by the tempos.
double
smf_seconds(const SmfTake* take, Tick tick);

#endif // CORE_MIDI_SMF_READER_H
