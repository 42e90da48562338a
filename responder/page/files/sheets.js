/**
 * Sheets: a page to practise from, as it will be printed, for one or for all.
 *
 * @typedef {import("./app.js").App} App
 */

import { button, fill, keepFile, make } from "./dom.js";
import { makeField } from "./field.js";
import { attempt, head, showAnswer } from "./page-parts.js";
import { makeRungField } from "./rung.js";
import { svgImage } from "./staff.js";
import { apart } from "./words.js";

const RHYTHMS = 10;

export class Sheets {
  /** @param {App} app */
  constructor(app) {
    this.app = app;
    /** @type {Record<string, any>} */
    this.wanted = {};
    this.fields = make("div", { class: "fields" });
    this.rung = make("div", { class: "whole" });
    this.others = button("Other rhythms", () => this.draw());
    this.pages = make("div", { class: "session" });
    this.element = make(
      "div",
      { class: "page" },
      head("Sheets", "Form, chord tones, scale and fingering on paper."),
      this.fields,
      make(
        "div",
        { class: "row" },
        button("Print", () => print(), { class: "main" }),
        button("Save PDF", () => this.save(this.who())),
        button("Save for everybody", () => this.save(null, "all")),
        this.others,
      ),
      this.pages,
    );
  }

  enter() {
    const { table, choices, people } = this.app.store.state;
    const rows = table.filter((row) => ["chart", "key"].includes(row.name));
    /** @type {import("./protocol.js").Row} */
    const who = {
      name: "for", type: "text", help: "whose rungs it follows",
      among: people.list.map(({ id }) => ({ value: id, words: apart(people.list, id) })),
    };
    /** @type {import("./protocol.js").Row} */
    const page = {
      name: "page", type: "text", help: "what stands on it",
      among: [
        { value: "sheet", words: "form, tones and scales" },
        { value: "rhythms", words: "ten rhythms of the rung" },
      ],
    };
    const want = (/** @type {string} */ name) => async (/** @type {any} */ value) => {
      this.wanted[name] = value;
      await this.show();
    };
    const value = (/** @type {string} */ name) =>
      this.wanted[name] ?? choices[name]?.value ?? "";
    fill(
      this.fields,
      ...rows.map((row) => makeField(row, value(row.name), want(row.name))),
      people.list.length > 0 &&
        makeField(who, this.wanted.who ?? people.chosen ?? "", want("who")),
      makeField(page, this.wanted.page ?? "sheet", want("page")),
      this.rung,
    );
    this.show();
  }

  /** Whose rungs the sheet follows, unless another is wanted. @param {string} text */
  showRung(text) {
    const row = this.app.store.state.table.find(({ name }) => name === "rung");
    const want = async (/** @type {any} */ value) => {
      this.wanted.rung = value;
      await this.show();
    };
    fill(this.rung, row && makeRungField(row, text, want));
  }

  who() {
    return this.wanted.who ?? this.app.store.state.people.chosen;
  }

  /**
   * @param {string} kind
   * @param {string | null} who
   */
  ask(kind, who) {
    const { chart, key, rung, page, seed } = this.wanted;
    const drawn = page === "rhythms" ? { rhythms: RHYTHMS, seed: seed ?? 1 } : {};
    return this.app.ask("sheet", { kind, chart, key, rung, who: who ?? undefined, ...drawn });
  }

  /** Rhythms that are others. */
  async draw() {
    this.wanted.seed = (this.wanted.seed ?? 1) + 1;
    await this.show();
  }

  async show() {
    this.others.hidden = this.wanted.page !== "rhythms";
    await showAnswer(this.app, this.pages, this.ask("svg", this.who()), ({ pages, rung }) => {
      if (!this.wanted.rung) {
        this.showRung(rung);
      }
      return pages.map((/** @type {string} */ svg, /** @type {number} */ i) =>
        svgImage(svg, `Page ${i + 1} of the sheet`, "sheet"),
      );
    });
  }

  /**
   * @param {string | null} who
   * @param {string} kind
   */
  async save(who, kind = "pdf") {
    const file = await attempt(this.app, this.ask(kind, who));
    if (file) {
      keepFile(file);
    }
  }
}
