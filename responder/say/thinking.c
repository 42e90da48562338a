#include "responder/say/thinking.h"

#include "responder/say/say.h"

void
think_begin(Thinking* const         thinking,
            const SayRequest* const request,
            const Rng               rng)
{
  thinking->request = *request;
  thinking->rng     = rng;
  thinking->any     = false;
}

bool
think_slice(Thinking* const thinking)
{
  if (!thinking->any) {
    say_answer(
      &thinking->best, &thinking->work, &thinking->request, &thinking->rng);
    thinking->any = true;
  }
  return false;
}

void
think_end(Thinking* const thinking, Answer* const answer)
{
  (void)think_slice(thinking);
  *answer = thinking->best;
}
