/**
 * Progress: what changed over days and weeks, in words and as a picture.
 *
 * @typedef {import("./app.js").App} App
 */

import { make } from "./dom.js";
import { explain } from "./help.js";
import { head, showAnswer } from "./page-parts.js";
import { svgImage } from "./staff.js";

const SPANS = { 7: "a week", 30: "a month", 90: "three months", 365: "a year" };

export class Progress {
  /** @param {App} app */
  constructor(app) {
    this.app = app;
    this.span = make(
      "select",
      { "aria-label": "Span", change: () => this.enter() },
      ...Object.entries(SPANS).map(([days, words]) =>
        make("option", { value: days }, `the last ${words.replace(/^a /, "")}`),
      ),
    );
    this.span.value = "30";
    this.body = make("div", { class: "session" });
    this.element = make(
      "div",
      { class: "page" },
      head("Progress", "What changed."),
      make("div", { class: "row" }, this.span, explain("came off"), explain("rung")),
      this.body,
    );
  }

  enter() {
    const asked = this.app.ask("progress", { days: Number(this.span.value) });
    showAnswer(this.app, this.body, asked, ({ words, svg }) => [
      ...(svg ? [svgImage(svg, "The same as a picture", "picture")] : []),
      make("pre", { tabindex: "0" }, words.join("\n")),
    ]);
  }
}
