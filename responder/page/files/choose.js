/**
 * What can be chosen, as a panel made from the rows of the table: each choice
 * is made at once, and what is wrong is said at its field.
 *
 * @typedef {import("./app.js").App} App
 * @typedef {import("./protocol.js").Row} Row
 */

import { button, fill, make } from "./dom.js";
import { makeField } from "./field.js";
import { makeRungField } from "./rung.js";
import { apart } from "./words.js";

/** @type {Record<string, RegExp>} */
const GROUPS = {
  "What to play": /^(chart|key|tempo|feel|choruses|scale)$/,
  "The conversation": /^(way|bars|first|rung|notes|rhythm|shape|ornament|make-room)$/,
  Band: /^(layer\.|thins)/,
  Sound: /^(sounds\.|click|thru)/,
  "Your hands": /^(split|lowest|highest|hand_span|lag_ms|control|in)$/,
};

/** @param {string} name */
function groupOf(name) {
  const found = Object.entries(GROUPS).find(([, names]) => names.test(name));
  return found ? found[0] : "More";
}

export class ChoosePanel {
  /**
   * @param {App} app
   * @param {() => HTMLElement[]} more fields of the page's own, for Sound
   */
  constructor(app, more) {
    this.app = app;
    this.more = more;
    this.body = make("div", { class: "choices" });
    this.title = make("h2", { id: "choose-title" }, "Choose");
    this.element = make(
      "dialog",
      { class: "panel", "aria-labelledby": "choose-title" },
      make(
        "form",
        { method: "dialog" },
        make(
          "div",
          { class: "head" },
          this.title,
          button("Done", () => this.close(), { class: "main" }),
        ),
        this.body,
      ),
    );
    app.store.watch(["choices", "table", "people"], () => {
      if (this.element.open && !this.isBusy()) {
        this.build();
      }
    });
  }

  /** The next key is for Play: the browser lets go of the panel a moment later. */
  close() {
    this.element.close();
    const left = document.activeElement;
    if (left instanceof HTMLElement && this.element.contains(left)) {
      left.blur();
    }
  }

  /** A field that is being written in is not written over. */
  isBusy() {
    return this.body.contains(document.activeElement);
  }

  /** @param {string} [group] which to begin at */
  open(group) {
    this.build();
    this.element.showModal();
    this.element.scrollTop = 0;
    const first = group ? this.body.querySelector(`[data-group="${group}"]`) : null;
    const field = first?.querySelector("select, input");
    if (field instanceof HTMLElement) {
      field.focus({ preventScroll: true });
    }
    first?.scrollIntoView({ block: "start" });
  }

  build() {
    const { table, choices } = this.app.store.state;
    /** @type {Map<string, HTMLElement[]>} */
    const groups = new Map([["Who", this.who()]]);
    Object.keys(GROUPS).forEach((name) => groups.set(name, []));
    for (const row of table) {
      const choice = choices[row.name];
      if (choice) {
        const name = groupOf(row.name);
        const make = row.name === "rung" ? makeRungField : makeField;
        const field = make(row, choice.value, (value) =>
          this.app.ask("choose", { name: row.name, value }),
        );
        groups.set(name, [...(groups.get(name) ?? []), field]);
      }
    }
    const { sound } = this.app.store.state;
    groups.get("Sound")?.unshift(
      ...(sound.works ? [] : [make("p", { class: "whole" }, sound.text)]),
    );
    groups.get("Sound")?.push(...this.more());
    groups.set("Barter", this.ending());
    fill(
      this.body,
      ...[...groups]
        .filter(([, fields]) => fields.length > 0)
        .map(([name, fields]) =>
          make(
            "fieldset",
            { "data-group": name },
            make("legend", {}, name),
            ...fields,
          ),
        ),
    );
  }

  /** Who began it by an icon has no terminal to end it in. */
  ending() {
    const end = button("End Barter", () => {
      this.close();
      this.app.ask("close").catch((fault) => this.app.notice(fault.message));
    });
    return [
      make("p", { class: "whole" }, end, " here and in every page. What was played is kept."),
    ];
  }

  who() {
    const { chosen, list } = this.app.store.state.people;
    if (list.length === 0) {
      return [];
    }
    const row = {
      name: "who",
      type: /** @type {const} */ ("text"),
      help: "it is their rungs and journal",
      among: [
        ...(chosen ? [] : [{ value: "", words: "nobody in particular" }]),
        ...list.map(({ id }) => ({ value: id, words: apart(list, id) })),
      ],
    };
    return [
      makeField(row, chosen ?? "", (id) =>
        this.app.ask("people choose", { id: String(id) }),
      ),
    ];
  }
}
