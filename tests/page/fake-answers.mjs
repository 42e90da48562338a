// What the program that is not there answers and tells.

import { FORM, TABLE, TONES, TURNS, choices, staff } from "./fake-music.mjs";
import { OTHERS } from "./fake-places.mjs";

const BEAT_MS = 600; // 100 quarters a minute
const now = () => performance.now() + 12345; // Not the page's clock

export function answers(send, key, { heard, isMiddle }) {
  const set = (members) => send({ tell: "state", set: members });
  const chosen = choices();
  let timers = [];
  const later = (ms, what) => timers.push(setTimeout(what, ms));

  function tell(turn) {
    send({ tell: "turn", turn });
    send({ tell: "staff", turn: turn.index, ...staff(turn) });
    if (turn.says) {
      send({ tell: "says", text: turn.says, kind: "remark" });
    }
  }

  function stop(stands = "over") {
    timers.forEach(clearTimeout);
    timers = [];
    send({ tell: "place", tick: 0, at: now(), tempo: 100, running: false });
    set({
      session: {
        stands, name: "2026-01-02-1", worked: ["The rests were yours."],
        work_on: "Leave the first beat empty.", next_time: "",
      },
    });
  }

  function begin() {
    stop("idle");
    set({ session: { stands: "count-in", name: null } });
    send({ tell: "place", tick: -3840, at: now(), tempo: 100, running: true });
    later(4 * BEAT_MS, () => set({ session: { stands: "plays", name: null } }));
    TURNS.forEach((turn) =>
      later((4 + turn.end_tick / 960) * BEAT_MS, () => tell(turn)),
    );
    later((4 + 48) * BEAT_MS, () => stop());
  }

  function warmUp(kind = "warm-up") {
    stop("idle");
    const exercise = {
      number: 1, of: 3, name: "Scale, right hand", words: "C 1 D 2 E 3 F 1 G 2",
      staff: staff(TURNS[0]),
    };
    set({ session: { stands: "plays", name: null, kind, exercise } });
    send({ tell: "place", tick: 0, at: now(), tempo: 100, running: true });
  }

  function open() {
    set({
      me: { plays: true, watchers: 0 },
      people: { chosen: "ada", list: [{ id: "ada", name: "Ada" }, { id: "ben", name: "Ben" }] },
      table: TABLE,
      choices: chosen,
      form: FORM,
      tones: TONES,
      session: { stands: "idle", name: null },
      sound: { works: false, text: "Nothing sounds here: no sound device was found. Plug one in, then begin again." },
      keyboard: { text: "" },
      care: { text: "Rest now and then, stop where it hurts, keep the level moderate." },
    });
    if (isMiddle) {
      TURNS.slice(0, 2).forEach(tell);
      set({ session: { stands: "plays", name: null } });
      send({ tell: "place", tick: 16000, at: now(), tempo: 100, running: true });
    }
    return { version: 1 };
  }

  function choose({ name, value }) {
    if (name === "tempo" && !(value >= 30 && value <= 320)) {
      throw Object.assign(new Error("tempo is 30 to 320 bpm"), { field: "value" });
    }
    chosen[name] = { value, source: "asked" };
    set({ choices: chosen });
    return {};
  }

  const PLAY = {
    open: (m) => {
      if (m.key !== key) {
        throw new Error("this is not the key of this page");
      }
      return open();
    },
    clock: (m) => ({ sent: m.sent, here: now() }),
    choose,
    begin: () => (begin(), {}),
    pause: () => (set({ session: { stands: "paused", name: null } }), {}),
    "go on": () => (set({ session: { stands: "plays", name: null } }), {}),
    "warmup begin": () => (warmUp(), {}),
    "idea try": () => (warmUp("idea"), {}),
    stop: () => (stop(), {}),
    hear: ({ name, turn = 1 }) => {
      const tick = (turn - 1) * 7680;
      send({ tell: "place", hears: name, tick, at: now(), tempo: 100, running: true });
      return {};
    },
    hush: () => {
      send({ tell: "place", hears: "", tick: 0, at: now(), tempo: 100, running: false });
      return {};
    },
  };

  return (message) => {
    heard.push({ ...message, came: now() });
    if (message.play) {
      return;
    }
    try {
      const found = PLAY[message.ask] ?? OTHERS[message.ask] ?? (() => ({}));
      send({ n: message.n, answer: found(message) });
    } catch (fault) {
      const { message: text, field = null } = fault;
      send({ n: message.n, fault: { text, field } });
    }
  };
}
