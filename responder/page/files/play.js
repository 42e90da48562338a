/**
 * Play: the form, whose turn it is, what was played, the keys and one row of
 * controls.
 *
 * @typedef {import("./app.js").App} App
 * @typedef {import("./protocol.js").State} State
 */

import { measure, tickAt, untilBeat } from "./clock.js";
import { ChoosePanel } from "./choose.js";
import { Controls } from "./controls.js";
import { make, write } from "./dom.js";
import { FormStrip } from "./form-strip.js";
import { chordsAt } from "./form.js";
import { Instrument } from "./instrument.js";
import { isTyping } from "./keys.js";
import { LastTurns } from "./last-turns.js";
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
    this.timer = 0;
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
    this.turns = new LastTurns();
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
      this.turns.element,
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
    store.watch(["said", "session", "form"], (state) => this.say(state));
    store.watch(["turns", "staves", "form", "session"], (state) => this.turns.show(state));
    store.watch(["form", "place", "session", "tones", "choices", "cut"], () =>
      this.draw(),
    );
    store.watch(["form", "place", "session"], () => this.run());
  }

  enter() {
    this.isHere = true;
    this.run();
  }

  leave() {
    this.isHere = false;
    clearTimeout(this.timer);
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

  /**
   * Draw at each beat as long as the session goes on and the page is seen. All
   * that is shown changes with the beats: between them the keys have the page.
   */
  run() {
    clearTimeout(this.timer);
    const { place, form } = this.app.store.state;
    if (!place.running || !this.isHere) {
      return;
    }
    const tick = tickAt(place, this.app.clock.there(performance.now()));
    const wait = untilBeat(place.tempo, measure(form).beat, tick);
    this.timer = setTimeout(() => {
      this.draw();
      this.run();
    }, wait + 1);
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
  say({ said, session, form }) {
    const last = [session.worked?.[0], session.work_on].filter(Boolean);
    const isOver = session.stands === "over" && last.length > 0;
    const isRead = session.kind === "warm-up" && session.exercise?.staff?.svg;
    const words = !form ? "" : isRead ? LISTEN : (session.exercise?.words ?? FIRST);
    const text = isOver ? last.join(" ") : (said?.text ?? words);
    write(this.says, text);
    this.says.classList.toggle("long", text.length > 56);
  }
}
