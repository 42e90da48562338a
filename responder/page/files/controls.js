/**
 * One row of controls: begin, pause and stop, slower and faster, easier and
 * harder, and what else can be chosen or, in a warm-up, left out.
 *
 * @typedef {import("./app.js").App} App
 * @typedef {import("./choose.js").ChoosePanel} ChoosePanel
 */

import { button, make, write } from "./dom.js";
import { SHAPES } from "./tones.js";

/** What a key asks for, as in the terminal. @type {Record<string, string>} */
const KEYS = {
  "+": "faster", "=": "faster", "-": "slower", "<": "easier", ",": "easier",
  ">": "harder", ".": "harder", q: "stop",
};

export class Controls {
  /**
   * @param {App} app
   * @param {ChoosePanel} panel
   */
  constructor(app, panel) {
    this.app = app;
    /** @type {[string, HTMLElement][]} what is there only at times */
    this.times = [];
    const ask = (/** @type {string} */ name) => () => this.ask(name);
    const by = (/** @type {string} */ key, /** @type {string} */ words,
      /** @type {string} */ name) => {
      const made = button(words, ask(name), { "aria-keyshortcuts": key });
      made.append(make("kbd", { "aria-hidden": "true" }, key));
      return made;
    };
    this.main = button("Begin", () => this.beginOrPause(), { class: "main" });
    this.tempo = make("output", { class: "tempo", "aria-label": "Tempo" });
    this.sound = button("Sound", () => panel.open("Sound"));
    this.element = make(
      "div",
      {
        class: "controls", role: "toolbar", "aria-label": "Controls",
        // The space bar stays the player's after a click
        mousedown: (/** @type {Event} */ e) => e.preventDefault(),
      },
      this.main,
      this.when("on", by("q", "Stop", "stop")),
      this.when("written", button("Again", ask("again"))),
      this.when("warm-up", button("Skip", ask("skip"))),
      this.when("warm-up", button("Shorter", ask("warmup shorter"))),
      by("-", "Slower", "slower"),
      this.tempo,
      by("+", "Faster", "faster"),
      this.when("free", by("<", "Easier", "easier")),
      this.when("free", by(">", "Harder", "harder")),
      this.legend(),
      this.when("still", button("Choose", () => panel.open())),
      this.when("free", button("Band", () => panel.open("Band"))),
      this.sound,
    );
    app.store.watch(["sound"], ({ sound }) => {
      write(this.sound, sound.works ? "Sound" : "No sound");
    });
    app.store.watch(["session", "me", "form", "place", "choices", "cut"], () => this.show());
  }

  legend() {
    return make(
      "p",
      { class: "legend", "aria-hidden": "true" },
      ...[`${SHAPES.root} root`, `${SHAPES.chord} chord`, `${SHAPES.scale} scale`, `${SHAPES.outside} outside`]
        .map((words) => make("span", {}, words)),
    );
  }

  /** @param {string} name */
  async ask(name) {
    try {
      await this.app.ask(name);
    } catch (fault) {
      this.app.notice(/** @type {Error} */ (fault).message);
    }
  }

  stands() {
    return this.app.store.state.session.stands;
  }

  isOn() {
    return ["count-in", "plays", "paused"].includes(this.stands());
  }

  /**
   * @param {string} time
   * @param {HTMLElement} element
   */
  when(time, element) {
    this.times.push([time, element]);
    return element;
  }

  beginOrPause() {
    const next = /** @type {Record<string, string>} */ ({
      "count-in": "pause", plays: "pause", paused: "go on",
    });
    return this.ask(next[this.stands()] ?? "begin");
  }

  /** @param {KeyboardEvent} event */
  key({ key, ctrlKey, altKey, metaKey }) {
    const name = KEYS[key];
    if (name && !ctrlKey && !altKey && !metaKey && this.app.store.state.me.plays &&
        (name !== "stop" || this.isOn())) {
      this.ask(name);
    }
  }

  show() {
    const { me, form, place, choices, session, cut } = this.app.store.state;
    const isOn = this.isOn();
    const kind = isOn ? (session.kind ?? "trade") : "trade";
    const chosen = Number(choices.tempo?.value ?? place.tempo);
    const tempo = Math.round(isOn ? place.tempo : chosen);
    const words = /** @type {Record<string, string>} */ ({
      idle: "Begin", over: (session.kind ?? "trade") === "trade" ? "Once more" : "Begin",
      paused: "Go on",
    });
    this.main.replaceChildren(
      words[session.stands] ?? "Pause",
      make("kbd", {}, "Space"),
    );
    const now = [kind, isOn ? "on" : "still", kind === "trade" ? "free" : "written"];
    this.times.forEach(([time, element]) => {
      element.hidden = !now.includes(time);
    });
    write(this.tempo, `♩ = ${tempo}`);
    this.element.querySelectorAll("button").forEach((b) => {
      b.disabled = !me.plays || !form || cut;
    });
  }
}
