#include "responder/say/say.h"

void
say_answer(Answer* const           answer,
           Thinking* const         work,
           const SayRequest* const request,
           Rng* const              rng)
{
  think_begin(work, request, *rng);
  while (think_slice(work)) {
  }
  think_end(work, answer);
  (void)rng_next(rng);
}

bool
say_by_move(Answer* const           answer,
            Thinking* const         work,
            const SayRequest* const request,
            const Move              move,
            Rng* const              rng)
{
  const bool is_possible = think_by_move(work, request, move, *rng, answer);
  (void)rng_next(rng);
  return is_possible;
}

void
say_remember(SayHistory* const   history,
             const Answer* const answer,
             const bool          begins_chorus)
{
  if (begins_chorus) {
    history->n_digests = 0;
  }
  history->last_moves[1] = history->last_moves[0];
  history->last_moves[0] = answer->move;
  history->n_plain = answer->is == ANSWER_PLAIN ? history->n_plain + 1 : 0;
  ++history->n_answers;
  if (history->n_digests == SAY_HISTORY_CAPACITY) {
    for (unsigned i = 1; i < SAY_HISTORY_CAPACITY; ++i) {
      history->digests[i - 1] = history->digests[i]; // The oldest is forgotten
    }
    --history->n_digests;
  }
  history->digests[history->n_digests++] = answer->digest;
}
