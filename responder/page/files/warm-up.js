/**
 * Warm up: today's plan, each exercise as music.
 *
 * @typedef {import("./app.js").App} App
 * @typedef {import("./protocol.js").Exercise} Exercise
 * @typedef {import("./protocol.js").WarmUp} Plan
 */

import { button, make } from "./dom.js";
import { attempt, head, showAnswer, Since } from "./page-parts.js";
import { sizedStaff } from "./staff.js";

const OVER = "With your partner, over the form.";

/** How long it takes. @param {number} minutes */
const long = (minutes) =>
  minutes < 0.75 ? "Half a minute" : `About ${Math.round(minutes)} min`;

const LENGTHS = [5, 10, 15, 20, 30];

export class WarmUp {
  /** @param {App} app */
  constructor(app) {
    this.app = app;
    this.minutes = make(
      "select",
      { "aria-label": "Minutes", change: () => this.plan() },
      ...LENGTHS.map((n) => make("option", { value: n }, `${n} minutes`)),
    );
    this.minutes.value = "10";
    this.items = make("div", {});
    this.since = new Since(app);
    this.element = make(
      "div",
      { class: "page" },
      head("Warm up", "Today’s plan, from easy to where you stand. Each exercise is played to you, and you play it again."),
      make(
        "div",
        { class: "row" },
        button("Begin", () => this.begin(), { class: "main" }),
        this.minutes,
      ),
      this.items,
    );
  }

  enter() {
    const { kind, stands } = this.app.store.state.session;
    const isPlayed = kind === "warm-up" && /count-in|plays|paused/.test(stands);
    if (!this.element.querySelector("li") || (this.since.isOver() && !isPlayed)) {
      this.plan();
    }
  }

  plan() {
    this.since.mark();
    const asked = this.app.ask("warmup", { minutes: Number(this.minutes.value) });
    showAnswer(this.app, this.items, asked, (/** @type {Plan} */ plan) => [
      make(
        "ol",
        { class: "items" },
        ...plan.items.map((item) => this.item(item)),
      ),
    ]);
  }

  /** Play lives in one place. @param {number} [number] */
  async begin(number) {
    const fields = number ? { number } : {};
    if (await attempt(this.app, this.app.ask("warmup begin", fields))) {
      this.app.go("play");
    }
  }

  /** @param {Exercise} item */
  item({ number, name, words, minutes, staff }) {
    return make(
      "li",
      { "data-number": number },
      make("h2", {}, name),
      make("p", { class: "soft" }, `${long(minutes)}${staff?.svg ? "" : `. ${words || OVER}`}`),
      staff && sizedStaff(staff, `${name}, as music`),
      make(
        "div",
        { class: "row" },
        button("From here", () => this.begin(number), {
          "aria-label": `Begin from ${name}`,
        }),
      ),
    );
  }
}
