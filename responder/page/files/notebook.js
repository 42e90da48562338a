/**
 * The notebook: the ideas that were kept, to go on from, to name, to take out.
 *
 * @typedef {import("./app.js").App} App
 * @typedef {import("./protocol.js").Kept} Kept
 */

import { button, fill, make } from "./dom.js";
import { attempt, showAnswer } from "./page-parts.js";
import { sizedStaff } from "./staff.js";
import { capital, sign } from "./words.js";

export class Notebook {
  /**
   * @param {App} app
   * @param {(number: number) => void} goOn
   */
  constructor(app, goOn) {
    this.app = app;
    this.goOn = goOn;
    this.list = make("div", {});
    this.element = make(
      "div",
      { class: "page-part" },
      make("h2", {}, "Notebook"),
      this.list,
    );
  }

  read() {
    showAnswer(this.app, this.list, this.app.ask("notebook"), ({ ideas }) =>
      ideas.length === 0
        ? [make("p", { class: "soft" }, "Nothing is kept yet.")]
        : [
            make(
              "ol",
              { class: "items" },
              ...ideas.map((/** @type {Kept} */ kept) => this.kept(kept)),
            ),
          ],
    );
  }

  /** @param {Kept} kept */
  kept(kept) {
    const { number, name, from, when, staff } = kept;
    const title = name || capital(sign(from));
    const row = make("div", { class: "row" });
    const show = (/** @type {HTMLElement[]} */ elements) => {
      fill(row, ...elements); // And one may go on by the keyboard
      elements.find((e) => e.matches("input, button"))?.focus();
    };
    const one = (/** @type {string} */ words, /** @type {() => void} */ click) =>
      button(words, click, { "aria-label": `${words}: ${title}` });
    const usual = [
      one("Go on from it", () => this.goOn(number)),
      one("Name", () => show(this.naming(kept))),
      one("Remove", () => {
        show([...this.sure(number), button("No", () => show(usual))]);
      }),
    ];
    fill(row, ...usual);
    return make(
      "li",
      {},
      make(
        "div",
        { class: "row" },
        make("h3", {}, title),
        make("span", { class: "soft" }, `${name ? `${sign(from)}, ` : ""}${when ?? ""}`),
      ),
      staff && sizedStaff(staff, `${title}, as music`),
      row,
    );
  }

  /** @param {Kept} kept */
  naming({ number, name }) {
    const input = make("input", {
      "aria-label": "Its name", autocomplete: "off", maxlength: 60,
    });
    input.value = name;
    const save = () => {
      this.change("idea rename", { number, name: input.value.trim() });
    };
    return [input, button("Save", save)];
  }

  /** @param {number} number */
  sure(number) {
    return [
      make("span", {}, "Take it out for good?"),
      button("Yes", () => this.change("idea remove", { number })),
    ];
  }

  /** @param {string} ask @param {object} fields */
  async change(ask, fields) {
    if (await attempt(this.app, this.app.ask(ask, fields))) {
      this.read();
    }
  }
}
