#define _DEFAULT_SOURCE // For madvise()

#include "core/midi/smf_memory.h"

#include <stdlib.h>
#include <sys/mman.h>

#ifdef MADV_HUGEPAGE

enum { LARGE_PAGE = 2 * 1024 * 1024 };

void*
smf_memory(const size_t size)
{
  if (size < LARGE_PAGE) {
    return malloc(size);
  }

  const size_t rounded = (size + LARGE_PAGE - 1) / LARGE_PAGE * LARGE_PAGE;
  void* const  memory  = aligned_alloc(LARGE_PAGE, rounded);
  if (memory) {
    (void)madvise(memory, rounded, MADV_HUGEPAGE); // Slower without, no more
  }
  return memory;
}

#else

void*
smf_memory(const size_t size)
{
  return malloc(size);
}

#endif
