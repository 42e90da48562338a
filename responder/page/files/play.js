/**
 * Play: the form, whose turn it is, what was played, the keys and one row of
 * controls.
 *
 * @typedef {import("./app.js").App} App
 * @typedef {import("./protocol.js").State} State
 */

import { tickAt } from "./clock.js";
import { ChoosePanel } from "./choose.js";
import { Controls } from "./controls.js";
import { fill, make, write } from "./dom.js";
import { chordsAt, FormStrip } from "./form.js";
import { Instrument } from "./instrument.js";
import { isTyping } from "./keys.js";
import { makeExercise, makeTurn } from "./turn.js";
import { tapPitch } from "./tap.js";
import { headline } from "./headline.js";
import { sign } from "./words.js";

const FIRST =
  "Press Begin, wait for your turn and play a few notes: your partner answers.";

const LISTEN = "Listen to it first, then play it again.";

const TAP_MS = 150;

export class Play {
  /** @param {App} app */
  constructor(app) {
    this.app = app;
    this.isHere = false;
    this.isRunning = false;
    this.told = "";
    this.form = new FormStrip();
    this.instrument = new Instrument(app);
    this.panel = new ChoosePanel(app, () => this.instrument.ownFields());
    this.controls = new Controls(app, this.panel);
    this.whose = make("h1", {});
    this.left = make("span", { class: "left" });
    this.chord = make("b", {});
    this.then = make("small", {});
    this.says = make("output", { class: "says" });
    this.turns = make("div", { class: "turns" });
    this.element = make(
      "div",
      { class: "play" },
      this.form.element,
      make(
        "div",
        { class: "now" },
        this.whose,
        this.left,
        make("p", { class: "chord" }, this.chord, " ", this.then),
      ),
      this.says,
      this.turns,
      this.instrument.keyboard.element,
      this.controls.element,
      this.panel.element,
    );
    this.watch();
    window.addEventListener("keydown", (e) => this.key(e));
  }

  watch() {
    const { store } = this.app;
    store.watch(["form"], ({ form, session }) =>
      this.form.show(form, Boolean(session.exercise)),
    );
    store.watch(["said", "session"], (state) => this.say(state));
    store.watch(["turns", "staves", "form", "session"], (state) => this.showTurns(state));
    store.watch(["form", "place", "session", "tones", "choices"], () =>
      this.draw(),
    );
    store.watch(["place", "session"], () => this.run());
  }

  enter() {
    this.isHere = true;
    this.run();
  }

  leave() {
    this.isHere = false;
    this.isRunning = false;
    this.told = "";
    this.instrument.release();
  }

  /**
   * Space begins, pauses and goes on, wherever no button has the focus by Tab;
   * the other keys are those of the terminal.
   */
  key(/** @type {KeyboardEvent} */ event) {
    if (!this.isHere || isTyping(event.target) || event.repeat || event.defaultPrevented) {
      return;
    }
    if (event.code !== "Space") {
      this.controls.key(event);
    } else if (!(event.target instanceof Element && event.target.closest("button, a"))) {
      event.preventDefault();
      this.beginOrTap(event.timeStamp);
    }
  }

  /** @param {number} ms when the space bar was pressed */
  beginOrTap(ms) {
    const { state } = this.app.store;
    const pitch = tapPitch(state, tickAt(state.place, this.app.clock.there(ms)));
    if (pitch === null) {
      this.controls.beginOrPause();
      return;
    }
    this.instrument.struck("on", ms, pitch, this.instrument.keys.loudness);
    setTimeout(() => this.instrument.struck("off", performance.now(), pitch), TAP_MS);
  }

  /** Draw as long as the session goes on and the page is seen. */
  run() {
    if (this.isRunning || !this.app.store.state.place.running || !this.isHere) {
      return;
    }
    this.isRunning = true;
    const frame = () => {
      this.draw();
      this.isRunning = this.isHere && this.app.store.state.place.running;
      if (this.isRunning) {
        requestAnimationFrame(frame);
      }
    };
    requestAnimationFrame(frame);
  }

  draw() {
    const { app } = this;
    const { state } = app.store;
    const tick = tickAt(state.place, app.clock.there(performance.now()));
    const sounds = this.controls.isOn();
    const { whose, left, told } = headline(state, tick);
    this.form.place(tick, sounds);
    write(this.whose, whose);
    write(this.left, left);
    if (told && told !== this.told) {
      app.tell(told);
    }
    this.told = told;
    this.showChord(state, sounds ? Math.max(tick, 0) : 0);
  }

  /**
   * @param {State} state
   * @param {number} tick
   */
  showChord(state, tick) {
    const { form } = state;
    const { now, next } = form ? chordsAt(form, tick) : { now: "", next: "" };
    write(this.chord, sign(now));
    write(this.then, next ? `then ${sign(next)}` : "");
    this.instrument.keyboard.tell(state.tones[now]);
  }

  /** @param {State} state */
  say({ said, session }) {
    if (said?.kind === "care") {
      this.app.remind(said.text);
      return;
    }
    const last = [session.worked?.[0], session.work_on].filter(Boolean);
    const isOver = session.stands === "over" && last.length > 0;
    const isRead = session.kind === "warm-up" && session.exercise?.staff?.svg;
    const words = isRead ? LISTEN : (session.exercise?.words ?? FIRST);
    const text = isOver ? last.join(" ") : (said?.text ?? words);
    write(this.says, text);
    this.says.classList.toggle("long", text.length > 56);
  }

  /** The last turn of each, and its staff. @param {State} state */
  showTurns({ turns, staves, form, session }) {
    const last = (/** @type {string} */ by) =>
      turns.filter((turn) => turn.by === by).at(-1);
    const show = (/** @type {import("./protocol.js").Turn | undefined} */ turn) =>
      turn ? makeTurn(turn, staves[turn.index], form) : make("figure", {});
    const { exercise } = session;
    this.turns.classList.toggle("written", Boolean(exercise));
    const [mine, others] = [show(last("player")), last("partner")];
    fill(
      this.turns,
      ...(exercise ? [makeExercise(exercise), mine] : [mine, show(others)]),
    );
  }
}
