/**
 * One row of controls: begin and stop, slower and faster, easier and harder,
 * and what else can be chosen.
 *
 * @typedef {import("./app.js").App} App
 * @typedef {import("./choose.js").ChoosePanel} ChoosePanel
 */

import { button, make, set, write } from "./dom.js";
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
    this.again = button("Once more", ask("again"));
    this.tempo = make("output", { class: "tempo", "aria-label": "Tempo" });
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
      this.again,
      ...this.steps,
      this.legend(),
      button("Choose", () => panel.open()),
      button("Band", () => panel.open("Band")),
      button("Sound", () => panel.open("Sound")),
    );
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
    return this.ask(this.isOn() ? "stop" : "begin");
  }

  show() {
    const { me, place, choices } = this.app.store.state;
    const chosen = Number(choices.tempo?.value ?? place.tempo);
    const tempo = Math.round(this.isOn() ? place.tempo : chosen);
    this.main.replaceChildren(
      this.isOn() ? "Stop" : "Begin",
      make("kbd", {}, "Space"),
    );
    write(this.tempo, `♩ = ${tempo}`);
    set(this.again, { hidden: this.stands() !== "over" });
    this.element.querySelectorAll("button").forEach((b) => {
      b.disabled = !me.plays;
    });
  }
}
