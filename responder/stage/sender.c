#include "responder/stage/sender.h"

#include "core/midi_message.h"

#include <string.h>

enum {
  LOOK_NS            = 1000000,
  PRIORITY_OF_SENDER = 70,
  LEVELS             = 128,
};

static void
send(Sender* const  sender,
     const uint8_t  status,
     const uint8_t  data1,
     const uint8_t  data2,
     const unsigned size)
{
  const uint8_t bytes[3] = {status, data1, data2};
  outlet_send(sender->outlet, bytes, size);
}

static void
end_key(Sender* const sender, const unsigned channel, const unsigned key)
{
  send(sender, (uint8_t)(MIDI_NOTE_OFF | channel), (uint8_t)key, 0, 3);
}

static uint32_t
begin_key(Sender* const sender, const uint8_t bytes[3])
{
  const unsigned channel = bytes[0] & 0x0FU;
  if (ledger_end(&sender->ledger, channel, bytes[1], 0)) {
    end_key(sender, channel, bytes[1]);
  }
  send(sender, bytes[0], bytes[1], bytes[2], 3);
  return ledger_begin(&sender->ledger, channel, bytes[1]);
}

// A lost end of a note must not last: say that a silent channel is silent
static void
tidy(Sender* const sender, const uint8_t channel)
{
  if (!sender->ledger.n_sounding[channel]) {
    send(sender, (uint8_t)(MIDI_CONTROL | channel), MIDI_ALL_NOTES_OFF, 0, 3);
  }
}

static void
wait_for(Sender* const sender, const Due due)
{
  if (sender->n_due == SENDER_DUE) {
    return; // More than a ring can bring at once; what sounds can be hushed
  }
  unsigned i = sender->n_due++;
  while (i > 0 && sender->due[i - 1].outgoing.due_ns <= due.outgoing.due_ns) {
    sender->due[i] = sender->due[i - 1];
    --i;
  }
  sender->due[i] = due;
}

static void
note_lateness(Sender* const sender, const int64_t late_ns)
{
  const int64_t bin = late_ns < 0 ? 0 : late_ns / SENDER_BIN_NS;
  ++sender->n_late[bin < SENDER_BINS ? bin : SENDER_BINS - 1];
}

static void
strike(Sender* const sender, const Outgoing* const outgoing)
{
  const int64_t late_ns =
    (pace_ns(sender->pace) - outgoing->due_ns) / sender->pace->speed;
  if (late_ns > SENDER_LATE_NS) {
    atomic_fetch_add(&sender->n_dropped, 1);
    return;
  }
  const uint8_t  off = (uint8_t)(MIDI_NOTE_OFF | (outgoing->bytes[0] & 0x0FU));
  const uint32_t begun = begin_key(sender, outgoing->bytes);
  note_lateness(sender, late_ns);
  wait_for(
    sender,
    (Due){{outgoing->off_ns, 0, 3, {off, outgoing->bytes[1], 0}}, begun});
}

static void
do_due(Sender* const sender, const Due* const due)
{
  const uint8_t* const bytes   = due->outgoing.bytes;
  const unsigned       kind    = bytes[0] & 0xF0U;
  const unsigned       channel = bytes[0] & 0x0FU;
  if (!due->outgoing.size) {
    tidy(sender, bytes[0]);
  } else if (kind == MIDI_NOTE_ON) {
    strike(sender, &due->outgoing);
  } else if (kind != MIDI_NOTE_OFF) {
    send(sender, bytes[0], bytes[1], bytes[2], due->outgoing.size);
  } else if (ledger_end(&sender->ledger, channel, bytes[1], due->begun)) {
    end_key(sender, channel, bytes[1]);
  }
}

// The player's own keys, on the player's channel

static void
pass_on(Sender* const sender, const MidiMessage* const message)
{
  const unsigned channel = sender->voices[PART_PLAYER].channel;
  const unsigned kind    = message->bytes[0] & 0xF0U;
  uint8_t        bytes[3];
  memcpy(bytes, message->bytes, sizeof(bytes));
  bytes[0] = (uint8_t)(kind | channel);
  if (kind == MIDI_NOTE_ON) {
    (void)begin_key(sender, bytes);
  } else if (kind == MIDI_NOTE_OFF) {
    if (ledger_end(&sender->ledger, channel, bytes[1], 0)) {
      end_key(sender, channel, bytes[1]);
    }
  } else if (kind != MIDI_PROGRAM) { // The sounds are chosen here
    send(sender, bytes[0], bytes[1], bytes[2], message->size);
  }
}

static void
tell_voices(Sender* const sender)
{
  for (unsigned i = 0; i < N_PARTS; ++i) {
    const unsigned channel = sender->voices[i].channel;
    const unsigned sound   = atomic_load(&sender->sounds[i]);
    const uint8_t  program = (uint8_t)(sound / LEVELS);
    const uint8_t  level   = (uint8_t)(sound % LEVELS);
    send(sender, (uint8_t)(MIDI_CONTROL | channel), MIDI_VOLUME, level, 3);
    send(sender, (uint8_t)(MIDI_PROGRAM | channel), program, 0, 2);
  }
}

// Of what is still to come only a stop counts: a drum machine waits for it
static void
drop_outgoing(Sender* const sender, const Outgoing* const outgoing)
{
  if (outgoing->bytes[0] == MIDI_STOP) {
    send(sender, MIDI_STOP, 0, 0, 1);
  }
}

static void
drop_all(Sender* const sender)
{
  Outgoing    outgoing;
  MidiMessage message;
  while (sender->n_due) {
    drop_outgoing(sender, &sender->due[--sender->n_due].outgoing);
  }
  while (ring_pop(&sender->notes, &outgoing)) {
    drop_outgoing(sender, &outgoing);
  }
  while (ring_pop(&sender->keys, &message) ||
         ring_pop(&sender->typed, &message)) {
  }
}

static void
hush(Sender* const sender)
{
  drop_all(sender);
  for (unsigned i = 0; i < N_PARTS; ++i) {
    const unsigned channel = sender->voices[i].channel;
    for (unsigned key = 0; key < LEDGER_KEYS; ++key) {
      if (ledger_end(&sender->ledger, channel, key, 0)) {
        end_key(sender, channel, key);
      }
    }
    send(sender, (uint8_t)(MIDI_CONTROL | channel), MIDI_SUSTAIN, 0, 3);
    send(sender, (uint8_t)(MIDI_CONTROL | channel), MIDI_ALL_NOTES_OFF, 0, 3);
  }
}

static void
obey(Sender* const sender)
{
  if (atomic_exchange(&sender->outlet->is_new, false)) {
    tell_voices(sender);
  }
  if (atomic_exchange(&sender->hushes, false)) {
    hush(sender);
    atomic_fetch_add(&sender->n_hushes, 1);
  }
}

static void
send_due(Sender* const sender)
{
  while (sender->n_due && sender->due[sender->n_due - 1].outgoing.due_ns <=
                            pace_ns(sender->pace)) {
    const Due due = sender->due[--sender->n_due];
    do_due(sender, &due);
  }
}

static void
take_all(Sender* const sender)
{
  MidiMessage message;
  Outgoing    outgoing;
  while (ring_pop(&sender->keys, &message) ||
         ring_pop(&sender->typed, &message)) {
    pass_on(sender, &message);
  }
  while (ring_pop(&sender->notes, &outgoing)) {
    wait_for(sender, (Due){outgoing, 0});
  }
}

static void*
run(void* const context)
{
  Sender* const sender = context;
  thread_hurry(PRIORITY_OF_SENDER);
  while (!atomic_load(&sender->stops)) {
    obey(sender);
    take_all(sender);
    send_due(sender);
    int64_t wake = pace_ns(sender->pace) +
                   atomic_load(&sender->look_ns) * sender->pace->speed;
    if (sender->n_due &&
        sender->due[sender->n_due - 1].outgoing.due_ns < wake) {
      wake = sender->due[sender->n_due - 1].outgoing.due_ns;
    }
    bell_sleep_until(&sender->bell, sender->pace, wake);
  }
  hush(sender);
  return NULL;
}

void
sender_setup(Sender* const sender)
{
  memset(sender, 0, sizeof(*sender));
  ring_setup(&sender->notes,
             sender->note_slots,
             sizeof(*sender->note_slots),
             SENDER_NOTES);
  ring_setup(
    &sender->keys, sender->key_slots, sizeof(*sender->key_slots), SENDER_KEYS);
  ring_setup(&sender->typed,
             sender->typed_slots,
             sizeof(*sender->typed_slots),
             SENDER_KEYS);
  bell_setup(&sender->bell);
  atomic_init(&sender->look_ns, LOOK_NS);
  atomic_init(&sender->stops, false);
  atomic_init(&sender->hushes, false);
  atomic_init(&sender->n_hushes, 0);
  atomic_init(&sender->n_dropped, 0);
}

Status
sender_begin(Sender* const     sender,
             const Pace* const pace,
             Outlet* const     outlet,
             const Voice       voices[N_PARTS])
{
  sender->pace   = pace;
  sender->outlet = outlet;
  memcpy(sender->voices, voices, sizeof(sender->voices));
  for (unsigned i = 0; i < N_PARTS; ++i) {
    atomic_init(&sender->sounds[i],
                (unsigned)voices[i].program * LEVELS + voices[i].level);
  }
  return thread_begin(&sender->thread, run, sender);
}

void
sender_look_every(Sender* const sender, const int64_t ns)
{
  atomic_store(&sender->look_ns, ns);
}

void
sender_key(Sender* const sender, const MidiMessage* const message)
{
  (void)ring_push(&sender->typed, message);
  bell_ring(&sender->bell);
}

void
sender_voice(Sender* const sender,
             const Part    part,
             const uint8_t program,
             const uint8_t level)
{
  atomic_store(&sender->sounds[part], (unsigned)program * LEVELS + level);
  atomic_store(&sender->outlet->is_new, true);
}

void
sender_hush(Sender* const sender)
{
  const unsigned before = atomic_load(&sender->n_hushes);
  atomic_store(&sender->hushes, true);
  while (atomic_load(&sender->n_hushes) == before) {
    monotonic_sleep_ms(1);
  }
}

void
sender_end(Sender* const sender)
{
  atomic_store(&sender->stops, true);
  (void)pthread_join(sender->thread, NULL);
}

double
sender_lateness_us(const Sender* const sender, const double share)
{
  uint64_t all = 0;
  for (unsigned i = 0; i < SENDER_BINS; ++i) {
    all += sender->n_late[i];
  }
  uint64_t so_far = 0;
  for (unsigned i = 0; i < SENDER_BINS; ++i) {
    so_far += sender->n_late[i];
    if (all && (double)so_far >= share * (double)all) {
      return (double)(i + 1) * SENDER_BIN_NS / 1000.0;
    }
  }
  return 0.0;
}
