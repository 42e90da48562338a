// Nothing is allocated while an answer is made: the linker sends every call
// from the rooms to the counters here.

#include "fixture.h"

#include <criterion/criterion.h>

#include <stddef.h>
#include <stdlib.h>

void*
__wrap_malloc(size_t size);
void*
__wrap_calloc(size_t count, size_t size);
void*
__wrap_realloc(void* pointer, size_t size);
void*
__real_malloc(size_t size);
void*
__real_calloc(size_t count, size_t size);
void*
__real_realloc(void* pointer, size_t size);

static unsigned n_calls;
static Fixture  fixture;

void*
__wrap_malloc(const size_t size)
{
  ++n_calls;
  return __real_malloc(size);
}

void*
__wrap_calloc(const size_t count, const size_t size)
{
  ++n_calls;
  return __real_calloc(count, size);
}

void*
__wrap_realloc(void* const pointer, const size_t size)
{
  ++n_calls;
  return __real_realloc(pointer, size);
}

Test(say_memory, answers_allocate_nothing)
{
  void* volatile probe = malloc(1); // The counting itself works
  cr_assert_eq(n_calls, 1);
  free(probe);

  for (unsigned seed = 0; seed < 60; ++seed) {
    const Rung top = {{8, 7, 6, 4}};
    fixture_open(&fixture, seed % 4, seed % N_FIXTURE_CALLS, 4, top, seed);
    Rng rng = rng_seed(seed, 1);
    n_calls = 0;
    say_answer(&fixture.answer, &fixture.work, &fixture.request, &rng);
    say_remember(&fixture.history, &fixture.answer, false);
    cr_assert_eq(n_calls, 0);
  }
}

Test(say_memory, work_is_as_large_as_it_says)
{
  cr_assert_lt(sizeof(Thinking), 600U * 1024U);
}
