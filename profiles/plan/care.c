#include "profiles/plan/care.h"

const char*
care_text(void)
{
  return "Take five minutes off in every half hour, keep it moderately loud, "
         "and stop if anything hurts: pain is for a doctor or therapist who "
         "treats musicians.";
}
