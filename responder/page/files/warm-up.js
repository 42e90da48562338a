/**
 * Warm up: today's plan, each exercise as music, played through.
 *
 * @typedef {import("./app.js").App} App
 * @typedef {import("./protocol.js").Exercise} Exercise
 * @typedef {import("./protocol.js").WarmUp} Plan
 */

import { button, fill, make, set, write } from "./dom.js";
import { attempt, head, showAnswer } from "./page-parts.js";
import { sizedStaff } from "./staff.js";

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
    this.says = make("output", { class: "remark" });
    this.items = make("div", {});
    this.controls = make("div", { class: "row" });
    this.element = make(
      "div",
      { class: "page" },
      head("Warm up", "Today’s plan, from easy to where you stand."),
      make("div", { class: "row" }, this.minutes),
      this.controls,
      this.says,
      this.items,
    );
    app.store.watch(["warmup"], ({ warmup }) => {
      write(this.says, warmup.words);
      this.current(warmup.number);
    });
  }

  enter() {
    if (!this.items.hasChildNodes() || !this.element.querySelector("li")) {
      this.plan();
    }
  }

  plan() {
    const asked = this.app.ask("warmup", { minutes: Number(this.minutes.value) });
    showAnswer(this.app, this.items, asked, (/** @type {Plan} */ plan) => [
      make(
        "ol",
        { class: "items" },
        ...plan.items.map((item) => this.item(item)),
      ),
    ]).then(() => this.current(this.app.store.state.warmup.number));
  }

  /** @param {Exercise} item */
  item({ number, name, words, minutes, staff }) {
    return make(
      "li",
      { "data-number": number },
      make("h2", {}, name),
      make("p", { class: "soft" }, `${minutes} min. ${words}`),
      staff && sizedStaff(staff, `${name}, as music`),
      make("div", { class: "row" }, button("From here", () => this.begin(number))),
    );
  }

  /** @param {number} number */
  begin(number) {
    const minutes = Number(this.minutes.value);
    attempt(this.app, this.app.ask("warmup begin", { number, minutes }));
  }

  /** @param {number | null} number the exercise under way */
  current(number) {
    const ask = (/** @type {string} */ name) => () =>
      attempt(this.app, this.app.ask(`warmup ${name}`));
    fill(
      this.controls,
      ...(number === null
        ? [button("Begin", () => this.begin(1), { class: "main" })]
        : [
            button("Stop", ask("stop"), { class: "main" }),
            button("Again", ask("again")),
            button("Skip", ask("skip")),
            button("Shorter", ask("shorter")),
          ]),
    );
    this.items.querySelectorAll("li").forEach((item) => {
      const isNow = number !== null && item.dataset.number === String(number);
      set(item, { "aria-current": isNow ? "step" : null });
      if (isNow) {
        item.scrollIntoView({ block: "nearest" });
      }
    });
  }
}
