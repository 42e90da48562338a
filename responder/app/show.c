#include "responder/app/show.h"

#include "core/midi_message.h"
#include "core/time/monotonic.h"
#include "responder/app/command.h"
#include "responder/tell/screen.h"
#include "responder/tell/tell.h"

#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

enum {
  LOOK_MS    = 20, ///< Between two looks at what there is to show
  PATIENCE_S = 600,
};

FILE*
show_hints(void)
{
  return isatty(STDOUT_FILENO) || !isatty(STDERR_FILENO) ? stdout : stderr;
}

int
show_open(Show* const          show,
          const Options* const options,
          const Choices* const choices)
{
  Playing* const    playing = &show->playing;
  const PlayingWish wish    = {
       .equipment = options_equipment(options),
       .record    = options_have(options, OPTION_RECORD) ? options->record : NULL,
       .steering  = show->steering,
       .thru      = options_have(options, OPTION_THRU),
       .click     = options_have(options, OPTION_CLICK),
       .sync      = options_have(options, OPTION_SYNC),
  };
  Notices notices = {.n = 0};
  Fault   fault;
  if (isatty(STDOUT_FILENO)) { // Sounds take their time
    tell_words(stdout, 0, "One moment: ports and sounds are being opened.");
    (void)fflush(stdout);
  }
  const Status status = playing_open(playing, &wish, choices, &notices, &fault);
  command_notice(&notices);
  if (status) {
    return command_fail(&fault);
  }
  const Wiring* const wiring = &playing->equipment.wiring;
  if (!options_have(options, OPTION_IN) &&
      (!wiring->has_in || wiring->awaits_in)) {
    tell_words(stdout,
               0,
               "Without one: barter open has a page that is played by the "
               "computer's keys, too.");
  }
  typed_open(&show->typed);
  tell_words(stdout, 0, stage_text(playing->stage));
  tell_words(show_hints(),
             0,
             !show->typed.is_open ? "Ctrl-C leaves."
             : show->is_course    ? TYPED_HELP_COURSE
                                  : TYPED_HELP);
  (void)fflush(stdout);
  return EXIT_DONE;
}

void
show_close(Show* const show)
{
  typed_close(&show->typed);
  playing_close(&show->playing);
}

// What is typed

static Gesture
gesture_of(const TypedWish wish)
{
  return wish == TYPED_FASTER   ? GESTURE_FASTER
         : wish == TYPED_SLOWER ? GESTURE_SLOWER
         : wish == TYPED_EASIER ? GESTURE_EASIER
                                : GESTURE_HARDER;
}

// What was changed, as what is played next has it
static void
change_words(const Choices* const choices,
             const bool           is_tempo,
             char                 words[SUPERVISOR_LINE])
{
  char rung[RUNG_TEXT_CAPACITY];
  if (is_tempo) {
    (void)snprintf(
      words, SUPERVISOR_LINE, "The tempo is %.0f.", choices->tempo_bpm);
  } else {
    (void)snprintf(
      words, SUPERVISOR_LINE, "Rungs: %s.", rung_words(choices->rung, rung));
  }
}

// From the next turn on
static void
change(Show* const show, Screen* const screen, const Gesture gesture)
{
  Choices* const choices = show->choices;
  const bool is_tempo = gesture == GESTURE_FASTER || gesture == GESTURE_SLOWER;
  char       words[SUPERVISOR_LINE];
  if (!is_tempo && screen->session->script) {
    screen_say(screen, "What is played here is written already.");
    return;
  }
  playing_obey(choices, gesture);
  const SessionChange asked = {
    .tempo_bpm = is_tempo ? choices->tempo_bpm : 0.0,
    .rung      = is_tempo ? (Rung){{0}} : choices->rung,
  };
  stage_change(show->playing.stage, &asked);
  change_words(choices, is_tempo, words);
  screen_say(screen, words);
}

static void
pause_or_tap(Show* const show, Screen* const screen)
{
  Stage* const                stage   = show->playing.stage;
  const SessionOptions* const session = screen->session;
  const Tick                  now     = stage_now(stage);
  if (!show->is_paused && tap_counts(session, now)) {
    const uint8_t pitch = tap_strike(&show->tap, stage, session->chart);
    screen_key(screen, (HeardKey){now, pitch, 1});
    return;
  }
  show->is_paused = !show->is_paused;
  stage_pause(stage, show->is_paused);
  screen_say(screen,
             show->is_paused ? "Paused. Space goes on."
                             : "On we go, after a bar.");
}

static void
look_at_keys(Show* const show, Screen* const screen)
{
  const TypedWish wish = typed_take(&show->typed);
  switch (wish) {
    case TYPED_NOTHING:
      break;
    case TYPED_BEGIN:
      pause_or_tap(show, screen);
      break;
    case TYPED_LEAVE:
      show->leaves = true;
      stage_gesture(show->playing.stage, GESTURE_STOP);
      break;
    case TYPED_AGAIN:
    case TYPED_NEXT:
      if (show->is_course) { // As one tap does, and two
        stage_gesture(show->playing.stage,
                      wish == TYPED_AGAIN ? GESTURE_AGAIN : GESTURE_EASIER);
      }
      break;
    case TYPED_FASTER:
    case TYPED_SLOWER:
    case TYPED_EASIER:
    case TYPED_HARDER:
      change(show, screen, gesture_of(wish));
      break;
  }
}

// Between sessions

bool
show_can_wait(const Show* const show)
{
  return show->typed.is_open || show->playing.equipment.control.kind;
}

static void
tell_words_of_ports(const Show* const show)
{
  char words[SUPERVISOR_LINE];
  while (stage_take_words(show->playing.stage, words)) {
    tell_words(stdout, 0, words);
    (void)fflush(stdout);
  }
}

static bool
steers(const Show* const show, const Gesture gesture)
{
  return gesture && show->steering & GESTURE_BIT(gesture);
}

static void
change_next(Choices* const choices, const Gesture gesture)
{
  char words[SUPERVISOR_LINE];
  playing_obey(choices, gesture);
  change_words(
    choices, gesture == GESTURE_FASTER || gesture == GESTURE_SLOWER, words);
  tell_words(stdout, 0, words);
  (void)fflush(stdout);
}

bool
show_wait(Show* const show, Choices* const choices)
{
  Stage* const  stage   = show->playing.stage;
  const int64_t until   = monotonic_ns() + PATIENCE_S * NS_PER_S;
  Gesture       gesture = GESTURE_NONE;
  while (!show->leaves && monotonic_ns() < until) {
    const TypedWish wish = typed_take(&show->typed);
    if (wish == TYPED_BEGIN || wish == TYPED_LEAVE) {
      return wish == TYPED_BEGIN;
    }
    if (wish && wish != TYPED_AGAIN && wish != TYPED_NEXT) {
      change_next(choices, gesture_of(wish));
    }
    switch (stage_wait(stage, LOOK_MS, &gesture)) {
      case STAGE_GESTURE:
        if (!steers(show, gesture)) {
          return gesture != GESTURE_STOP;
        }
        change_next(choices, gesture);
        break;
      case STAGE_SIGNAL:
        return false;
      case STAGE_OVER:
        break;
    }
    tell_words_of_ports(show);
  }
  return false;
}

// One session

static void
show_keys(Screen* const screen, Stage* const stage)
{
  MidiMessage message;
  while (stage_see(stage, &message)) {
    if ((message.bytes[0] & 0xF0U) == MIDI_NOTE_ON && message.bytes[2]) {
      screen_key(
        screen,
        (HeardKey){stage_now(stage), message.bytes[1], message.bytes[2]});
    }
  }
}

// Says once that the journal took no more
static void
tell_of_journal(const PlayingSession* const kept, bool* const is_told)
{
  if (kept && kept->kept.status && !*is_told) {
    (void)command_fail(&kept->kept);
    *is_told = true;
  }
}

void
show_session(Show* const                 show,
             const SessionOptions* const session,
             PlayingSession* const       kept,
             const TurnListener          hear_turn,
             void* const                 context,
             StageResult* const          result)
{
  Playing* const playing = &show->playing;
  Stage* const   stage   = playing->stage;
  Screen         screen  = screen_begin(stdout, session, stage_first(stage));
  screen.has_next        = show->has_next;
  bool is_told           = false;
  bool goes_on           = true;
  show->is_paused        = false;
  if (session->way == WAY_ECHO && show->typed.is_open) {
    screen_say(&screen, "In your turns the space bar is a key: tap on it.");
  }
  while (goes_on) {
    look_at_keys(show, &screen);
    tap_look(&show->tap, stage);
    show_keys(&screen, stage);
    goes_on               = playing_goes_on(playing, result);
    const Gesture steered = stage_take_steering(stage);
    if (steered) {
      change(show, &screen, steered);
    }
    const StageNews* news = NULL;
    while ((news = playing_take_news(playing, kept))) {
      if (news->is_turn) {
        screen_turn(&screen, &news->turn);
        if (kept) {
          playing_keep(kept);
        }
        tell_of_journal(kept, &is_told);
      } else if (!news->is_time_change) { // Else who pressed was told already
        screen_say(&screen, news->words);
      }
      if (news->is_turn && hear_turn) {
        hear_turn(context, &news->turn);
      }
    }
    if (goes_on) {
      screen_beat(&screen, stage_now(stage));
      monotonic_sleep_ms(LOOK_MS);
    }
  }
  screen_end(&screen);
}

int
show_drill(Show* const                 show,
           const SessionOptions* const session,
           StageResult* const          result)
{
  Fault fault;
  if (playing_begin_drill(&show->playing, session, &fault)) {
    return command_fail(&fault);
  }
  show_session(show, session, NULL, NULL, NULL, result);
  playing_end(&show->playing, NULL, result);
  return EXIT_DONE;
}

void
show_kept(Show* const           show,
          PlayingSession* const session,
          StageResult* const    result)
{
  tell_chart(stdout, &session->recorded.session);
  (void)fflush(stdout);
  show_session(show, &session->recorded.session, session, NULL, NULL, result);
}

int
show_result(const PlayingSession* const session,
            const StageResult* const    result)
{
  (void)printf("\n");
  if (session->summary.n_turns) {
    tell_summary(stdout, &session->summary);
  }
  if (result->is_kept) {
    (void)printf("Kept as %s\n", session->path);
  }
  (void)fflush(stdout);
  if (result->n_lost) {
    command_say("%u keys or notes came too thick and were lost",
                result->n_lost);
  }
  return result->fault.status ? command_fail(&result->fault) : EXIT_DONE;
}

// One after the other

// Whether it goes on after one that ended so
static bool
goes_on(const Course* const      course,
        Show* const              show,
        const StageResult* const result,
        unsigned* const          index)
{
  *index = playing_next(*index, course->n, result);
  return !show->leaves;
}

static int
play_all(const Course* const course, Show* const show)
{
  bool is_over = false;
  for (unsigned i = 0; i < course->n && !is_over;) {
    StageResult result = {.end = STAGE_OVER};
    show->has_next     = i + 1 < course->n;
    course->tell(course->context, i);
    (void)putchar('\n');
    (void)fflush(stdout);
    const int code = course->play(course->context, show, i, &result);
    if (code) {
      return code;
    }
    is_over = !goes_on(course, show, &result, &i);
  }
  return EXIT_DONE;
}

static bool
begins(Show* const show, Choices* const choices)
{
  if (!show->typed.is_open) {
    return true;
  }
  tell_words(show_hints(), 0, "Space begins.");
  (void)fflush(stdout);
  return show_wait(show, choices);
}

int
show_course(const Course* const course)
{
  Show* const show = calloc(1, sizeof(*show));
  if (!show) {
    return command_fail_memory();
  }
  show->choices   = course->choices;
  show->is_course = true;
  show->steering  = GESTURE_BIT(GESTURE_SLOWER) | GESTURE_BIT(GESTURE_FASTER);
  int code        = show_open(show, course->options, course->choices);
  if (!code) {
    if (show->playing.equipment.control.kind) {
      tell_words(stdout,
                 0,
                 "Tap to play one again, two taps to go on, hold to leave; tap "
                 "and hold slower, twice and hold faster.");
    }
    if (begins(show, course->choices)) {
      code = play_all(course, show);
    }
    show_close(show);
  }
  free(show);
  return code;
}
