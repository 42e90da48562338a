// A client of JACK that has nothing of ours in it: the player at one port and
// the listener at another.
//
//   jack_peer NAME SECONDS play|listen|flood|steer
//
// Ports: NAME:keys (out) and NAME:ears (in). Connects them to every port of a
// client barter as they appear. Writes what it hears: `time_us status data1
// data2`, times on JACK's own clock.

#include <jack/jack.h>
#include <jack/midiport.h>

#include <stdatomic.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum {
  HEARD_MOST = 200000,
  STEER_S    = 5, // A turn of two bars with its count-in, at 320
};

typedef struct {
  uint64_t time_us;
  uint8_t  bytes[3];
} Heard;

typedef struct {
  jack_client_t* client;
  jack_port_t*   keys;
  jack_port_t*   ears;
  int            plays;
  int            floods;
  int            steers;
  jack_nframes_t next; // Frame of the next key
  unsigned       n_keys;
  atomic_uint    n_heard;
  Heard          heard[HEARD_MOST];
} Peer;

static void
hear(Peer* const peer, const jack_nframes_t n_frames)
{
  void* const          buffer = jack_port_get_buffer(peer->ears, n_frames);
  const uint32_t       n      = jack_midi_get_event_count(buffer);
  const jack_nframes_t start  = jack_last_frame_time(peer->client);
  for (uint32_t i = 0; i < n; ++i) {
    jack_midi_event_t event;
    const unsigned    at = atomic_load(&peer->n_heard);
    if (jack_midi_event_get(&event, buffer, i) || at == HEARD_MOST) {
      continue;
    }
    Heard* const heard = &peer->heard[at];
    heard->time_us     = jack_frames_to_time(peer->client, start + event.time);
    memset(heard->bytes, 0, 3);
    memcpy(heard->bytes, event.buffer, event.size < 3 ? event.size : 3);
    atomic_store(&peer->n_heard, at + 1);
  }
}

static void
put(void* const buffer, const uint8_t* const bytes, const size_t size)
{
  (void)jack_midi_event_write(buffer, 0, bytes, size);
}

// A key every 125 ms, down for 100
static void
play(Peer* const peer, void* const buffer, const jack_nframes_t n_frames)
{
  const jack_nframes_t rate      = jack_get_sample_rate(peer->client);
  const jack_nframes_t now       = jack_last_frame_time(peer->client);
  const uint8_t        pitches[] = {60, 63, 65, 67, 70, 67, 65, 63};
  (void)n_frames;
  if (!peer->next) {
    peer->next = now + rate / 10;
  }
  while ((int32_t)(now - peer->next) >= 0) {
    const uint8_t pitch  = pitches[peer->n_keys / 2 % 8];
    const int     down   = peer->n_keys % 2 == 0;
    const uint8_t key[3] = {down ? 0x90 : 0x80, pitch, down ? 90 : 0};
    put(buffer, key, 3);
    peer->next += down ? rate / 10 : rate / 40;
    ++peer->n_keys;
  }
}

// Over 10,000 messages a second, junk among them
static void
flood(Peer* const peer, void* const buffer, const jack_nframes_t n_frames)
{
  const unsigned n = 1 + 11000 * n_frames / 48000;
  for (unsigned i = 0; i < n; ++i) {
    const uint8_t sensing[1] = {0xFE};
    const uint8_t sysex[5]   = {0xF0, 1, 2, 3, 0xF7};
    const uint8_t key[3]     = {i % 2 ? 0x80 : 0x90, 62, 70};
    switch (peer->n_keys++ % 3) {
      case 0:
        put(buffer, sensing, 1);
        break;
      case 1:
        put(buffer, sysex, 5);
        break;
      default:
        put(buffer, key, 3);
    }
  }
}

// Two taps of the sustain pedal every so often, and keys between them
static void
steer(Peer* const peer, void* const buffer, const jack_nframes_t n_frames)
{
  const jack_nframes_t rate     = jack_get_sample_rate(peer->client);
  const jack_nframes_t now      = jack_last_frame_time(peer->client);
  const unsigned       steps    = 4; // Down, up, down, up
  const unsigned       step     = peer->n_keys % (steps + 1);
  const uint8_t        pedal[3] = {0xB0, 64, step % 2 ? 0 : 127};
  (void)n_frames;
  if (!peer->next) {
    peer->next = now + STEER_S * rate;
  }
  if ((int32_t)(now - peer->next) >= 0) {
    if (step < steps) {
      put(buffer, pedal, 3);
    }
    peer->next += step < steps ? rate / 10 : STEER_S * rate;
    ++peer->n_keys;
  }
}

static int
process(const jack_nframes_t n_frames, void* const context)
{
  Peer* const peer   = context;
  void* const buffer = jack_port_get_buffer(peer->keys, n_frames);
  jack_midi_clear_buffer(buffer);
  hear(peer, n_frames);
  if (peer->floods) {
    flood(peer, buffer, n_frames);
  } else if (peer->steers) {
    steer(peer, buffer, n_frames);
  } else if (peer->plays) {
    play(peer, buffer, n_frames);
  }
  return 0;
}

static void
connect(Peer* const peer, const char* const pattern)
{
  const char** const ins = jack_get_ports(
    peer->client, pattern, JACK_DEFAULT_MIDI_TYPE, JackPortIsInput);
  const char** const outs = jack_get_ports(
    peer->client, pattern, JACK_DEFAULT_MIDI_TYPE, JackPortIsOutput);
  for (const char* const* at = ins; at && *at; ++at) {
    (void)jack_connect(peer->client, jack_port_name(peer->keys), *at);
  }
  for (const char* const* at = outs; at && *at; ++at) {
    (void)jack_connect(peer->client, *at, jack_port_name(peer->ears));
  }
  jack_free(ins);
  jack_free(outs);
}

static void
be_quiet(const char* const words)
{
  (void)words;
}

int
main(const int argc, char** const argv)
{
  static Peer peer;
  if (argc != 4) {
    return 2;
  }
  jack_set_error_function(be_quiet);
  jack_set_info_function(be_quiet);
  peer.plays  = strcmp(argv[3], "play") == 0;
  peer.floods = strcmp(argv[3], "flood") == 0;
  peer.steers = strcmp(argv[3], "steer") == 0;
  peer.client = jack_client_open(argv[1], JackNoStartServer, NULL);
  if (!peer.client) {
    return 1;
  }
  peer.keys = jack_port_register(
    peer.client, "keys", JACK_DEFAULT_MIDI_TYPE, JackPortIsOutput, 0);
  peer.ears = jack_port_register(
    peer.client, "ears", JACK_DEFAULT_MIDI_TYPE, JackPortIsInput, 0);
  if (jack_set_process_callback(peer.client, process, &peer) ||
      jack_activate(peer.client)) {
    return 1;
  }
  const unsigned steps = (unsigned)(atof(argv[2]) * 20.0);
  unsigned       said  = 0;
  for (unsigned i = 0; i < steps; ++i) {
    const struct timespec rest = {0, 50000000};
    connect(&peer, "^barter");
    (void)nanosleep(&rest, NULL);
    for (; said < atomic_load(&peer.n_heard); ++said) {
      const Heard* const heard = &peer.heard[said];
      (void)printf("%llu %02x %u %u\n",
                   (unsigned long long)heard->time_us,
                   heard->bytes[0],
                   heard->bytes[1],
                   heard->bytes[2]);
    }
    (void)fflush(stdout);
  }
  (void)jack_client_close(peer.client);
  return 0;
}
