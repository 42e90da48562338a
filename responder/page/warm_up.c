#include "responder/page/warm_up.h"

#include "core/engrave/engrave.h"
#include "responder/lesson/choosing.h"
#include "responder/lesson/today.h"
#include "responder/lesson/warmup_plan.h"
#include "responder/lesson/warmup_play.h"
#include "responder/page/errand.h"

#include <math.h>
#include <stdlib.h>

// The first round of one exercise; NULL if it could not be engraved
static json_t*
staff_of(const Setup* const      setup,
         const WarmupItem* const item,
         const char* const       folder)
{
  const Warmup alone = {.n_items = 1, .items = {*item}};
  char         path[PLACE_PATH_CAPACITY];
  size_t       size = 0;
  Fault        fault;
  if (item->trades) {
    return NULL;
  }
  (void)snprintf(path, sizeof(path), "%s/exercise.svg", folder);
  const Status status = warmup_engrave(&alone, setup, path, &fault);
  char* const  svg    = status ? NULL : errand_read(path, &size);
  json_t*      staff  = NULL;
  if (svg) {
    staff = json_pack("{ss% s[]}", "svg", svg, size, "marks");
  } else if (status == STATUS_MISSING) {
    staff = json_pack("{ss}", "missing", "install the package abcm2ps");
  }
  free(svg);
  return staff;
}

static void
describe(const Setup* const      setup,
         const WarmupItem* const item,
         char                    words[WARMUP_WORDS_CAPACITY])
{
  DrillRoom room = warmup_room(setup);
  Rng       rng  = rng_seed(item->seed, 1);
  Drill     drill;
  words[0]    = '\0';
  room.rhythm = item->rhythm;
  if (!item->trades) {
    drill_make(&drill, item->kind, &room, 0, &rng);
    (void)warmup_drill_text(item, setup, &drill, words);
  }
}

static json_t*
item_of(const Setup* const      setup,
        const WarmupItem* const item,
        const unsigned          number,
        const char* const       folder)
{
  char name[WARMUP_NAME_CAPACITY];
  char words[WARMUP_WORDS_CAPACITY];
  describe(setup, item, words);
  return json_pack("{si ss ss sf so*}",
                   "number",
                   (int)number,
                   "name",
                   warmup_item_name(item, name),
                   "words",
                   words,
                   "minutes",
                   round(item->seconds / 6.0) / 10.0,
                   "staff",
                   staff_of(setup, item, folder));
}

static json_t*
lay(Errand* const errand, Setup* const setup, const char* const folder)
{
  const Who* const who     = &errand->who;
  Choices          choices = choose(who, &errand->said);
  choose_climb(&choices, who);
  choices.choruses = 1;
  if (setup_load(setup, &choices, &errand->faults)) {
    return NULL;
  }
  const Warmup warmup =
    warmup_plan(setup,
                who->has_place ? who->person.id : PEOPLE_USUAL_ID,
                today(),
                errand->amount);
  json_t* const items = json_array();
  for (unsigned i = 0; i < warmup.n_items; ++i) {
    (void)json_array_append_new(
      items, item_of(setup, &warmup.items[i], i + 1, folder));
  }
  return json_pack(
    "{sf so}", "minutes", round(warmup.seconds / 6.0) / 10.0, "items", items);
}

static json_t*
make_plan(Errand* const errand, const char* const folder)
{
  Setup* const  setup = calloc(1, sizeof(*setup));
  json_t* const made  = setup ? lay(errand, setup, folder) : NULL;
  free(setup);
  return made;
}

json_t*
warm_up_plan(Page* const page, WireCall* const call)
{
  Errand* const errand = errand_begin(page, call, make_plan);
  if (!errand) {
    return NULL;
  }
  errand->amount = call->values[0].number;
  return errand_give(page, errand, call);
}
