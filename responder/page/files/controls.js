/**
 * One row of controls: begin and stop, slower and faster, easier and harder,
 * and what else can be chosen.
 *
 * @typedef {import("./app.js").App} App
 * @typedef {import("./choose.js").ChoosePanel} ChoosePanel
 */

import { button, make, write } from "./dom.js";
import { SHAPES } from "./form.js";

export class Controls {
  /**
   * @param {App} app
   * @param {ChoosePanel} panel
   */
  constructor(app, panel) {
    this.app = app;
    const ask = (/** @type {string} */ name) => () => this.ask(name);
    this.main = button("Begin", () => this.beginOrStop(), { class: "main" });
    this.tempo = make("output", { class: "tempo", "aria-label": "Tempo" });
    this.sound = button("Sound", () => panel.open("Sound"));
    this.steps = [
      button("Slower", ask("slower")),
      this.tempo,
      button("Faster", ask("faster")),
      button("Easier", ask("easier")),
      button("Harder", ask("harder")),
    ];
    this.element = make(
      "div",
      { class: "controls", role: "toolbar", "aria-label": "Controls" },
      this.main,
      ...this.steps,
      this.legend(),
      button("Choose", () => panel.open()),
      button("Band", () => panel.open("Band")),
      this.sound,
    );
    app.store.watch(["sound"], ({ sound }) => {
      write(this.sound, sound.works ? "Sound" : "No sound");
    });
    app.store.watch(["session", "me", "place", "choices"], () => this.show());
  }

  legend() {
    return make(
      "p",
      { class: "legend", "aria-hidden": "true" },
      ...[`${SHAPES.root} root`, `${SHAPES.chord} chord`, `${SHAPES.scale} scale`]
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
    return ["count-in", "plays"].includes(this.stands());
  }

  beginOrStop() {
    const next = this.stands() === "over" ? "again" : "begin";
    return this.ask(this.isOn() ? "stop" : next);
  }

  show() {
    const { me, place, choices } = this.app.store.state;
    const chosen = Number(choices.tempo?.value ?? place.tempo);
    const tempo = Math.round(this.isOn() ? place.tempo : chosen);
    this.main.replaceChildren(
      this.isOn() ? "Stop" : this.stands() === "over" ? "Once more" : "Begin",
      make("kbd", {}, "Space"),
    );
    write(this.tempo, `♩ = ${tempo}`);
    this.element.querySelectorAll("button").forEach((b) => {
      b.disabled = !me.plays;
    });
  }
}
