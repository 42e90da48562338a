/**
 * Progress: what changed over days and weeks, in words and as a picture.
 *
 * @typedef {import("./app.js").App} App
 * @typedef {import("./protocol.js").Way} Way
 * @typedef {import("./protocol.js").WayRow} Row
 */

import { make } from "./dom.js";
import { explain } from "./help.js";
import { head, showAnswer } from "./page-parts.js";
import { svgImage } from "./staff.js";
import { capital } from "./words.js";

const SPANS = { 7: "a week", 30: "a month", 90: "three months", 365: "a year", 36500: "all" };

export class Progress {
  /** @param {App} app */
  constructor(app) {
    this.app = app;
    this.span = make(
      "select",
      { "aria-label": "Span", change: () => this.enter() },
      ...Object.entries(SPANS).map(([days, words]) =>
        make("option", { value: days },
          words === "all" ? "all there is" : `the last ${words.replace(/^a /, "")}`),
      ),
    );
    this.span.value = "30";
    this.body = make("div", { class: "session" });
    this.element = make(
      "div",
      { class: "page" },
      head("Progress", "What changed, and how much was practised."),
      make("div", { class: "row" }, this.span, explain("landed"), explain("came off"), explain("space"), explain("swing ratio"), explain("rung")),
      this.body,
    );
  }

  enter() {
    const asked = this.app.ask("progress", { days: Number(this.span.value) });
    showAnswer(this.app, this.body, asked, (/** @type {Way} */ way) => [
      list(way.words),
      ...(way.svg ? [wide("The same as a picture",
        svgImage(way.svg, "The same as a picture", "picture"))] : []),
      ...(way.table.rows.length > 0 ? [tableOf(way.table)] : []),
      ...part("The ladder", way.moves.map(({ when, text }) => `${when}: ${text}`)),
      ...part("Goals", way.goals),
    ]);
  }
}

/** @param {string[]} lines */
function list(lines) {
  return make("ul", { class: "lines" }, ...lines.map((line) => make("li", {}, line)));
}

/** @param {string} title @param {string[]} lines */
function part(title, lines) {
  return lines.length > 0 ? [make("h2", {}, title), list(lines)] : [];
}

/** What each row tells, and how it is written. @type {[string, (row: Row) => string][]} */
const COLUMNS = [
  ["Days", (row) => String(row.days)],
  ["Minutes", (row) => String(row.minutes ?? "")],
  ["Landed", (row) => unit(row.landed, " %")],
  ["Came off", (row) => unit(row.success, " %")],
  ["Give or take", (row) => unit(row.spread_ms, " ms")],
  ["Space", (row) => unit(row.space, " %")],
  ["Swing", (row) => unit(row.swing, " : 1")],
  ["Rung", (row) => (row.rung ?? []).join(" ")],
];

/** @param {number | null} value @param {string} sign */
function unit(value, sign) {
  return value === null ? "–" : `${value}${sign}`;
}

/** What may be scrolled along. @param {string} words @param {HTMLElement} child */
function wide(words, child) {
  return make(
    "div", { class: "wide", tabindex: "0", role: "region", "aria-label": words }, child);
}

/** @param {Way["table"]} table */
function tableOf({ grain, rows }) {
  // Of a day there is one
  const columns = COLUMNS.slice(grain === "day" ? 1 : 0);
  const heads = [capital(grain), ...columns.map(([name]) => name)];
  return wide(
    "By day, week or month",
    make(
      "table",
      {},
      make("thead", {}, make("tr", {}, ...heads.map((h) => make("th", { scope: "col" }, h)))),
      make(
        "tbody",
        {},
        ...rows.map((row) =>
          make(
            "tr",
            {},
            make("th", { scope: "row" }, row.from),
            ...columns.map(([, write]) => make("td", {}, write(row))),
          ),
        ),
      ),
    ),
  );
}
