/// @file core/time/ring.h Fixed slots from one thread to another, without
/// locks.
///
/// Threads: one writer, one reader, no other. Each call is wait-free.
/// Memory: the slots are the caller's; nothing is allocated.

#ifndef CORE_TIME_RING_H
#define CORE_TIME_RING_H

#include <stdatomic.h>
#include <stdbool.h>
#include <stddef.h>

/// A ring, made by ring_setup(); it stays where it is.
typedef struct {
  size_t         slot_size;
  size_t         mask; ///< Slots less one
  unsigned char* slots;
  atomic_size_t  n_pushed;  ///< The writer's
  atomic_uint    n_refused; ///< The writer's: a full ring
  unsigned char  apart[64]; ///< So that the counts share no cache line
  atomic_size_t  n_popped;  ///< The reader's
} Ring;

/**
   Make a ring ready, before either thread uses it.

   @param slots `n_slots` times `slot_size` bytes; they must outlive the ring.
   @param n_slots A power of two.
*/
void
ring_setup(Ring* ring, void* slots, size_t slot_size, size_t n_slots);

/// Copy an item in; false, and counted, if the ring is full. Thread: writer.
bool
ring_push(Ring* ring, const void* item);

/// Copy the oldest item out; false if there is none. Thread: reader.
bool
ring_pop(Ring* ring, void* item);

/// Return how many items did not fit since the beginning. Thread: any.
unsigned
ring_refused(const Ring* ring);

#endif // CORE_TIME_RING_H
