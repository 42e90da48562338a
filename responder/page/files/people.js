/**
 * People: the learners, what a teacher sets for each, and moving one from
 * machine to machine.
 *
 * @typedef {import("./app.js").App} App
 * @typedef {import("./protocol.js").Person} Person
 * @typedef {import("./protocol.js").Value} Value
 */

import { button, fill, keepFile, make } from "./dom.js";
import { makeField } from "./field.js";
import { sendFile } from "./file.js";
import { attempt, head, showAnswer } from "./page-parts.js";
import { apart } from "./words.js";

/** A cap or pin of 0 is none. @type {(name: string, value?: Value) => Value} */
const held = (name, value = "") =>
  /^(caps|pins)/.test(name) && value === "0" ? "" : value;

export class People {
  /** @param {App} app */
  constructor(app) {
    this.app = app;
    this.name = make("input", { "aria-label": "Name", placeholder: "Name", required: true });
    this.file = make("input", {
      type: "file", class: "unseen", tabindex: "-1",
      "aria-label": "An exported learner",
      change: () => this.look(this.file.files?.[0]),
    });
    /** @type {import("./protocol.js").Member[]} */
    this.members = [];
    this.sort = make(
      "select",
      { change: () => this.lookOver() },
      make("option", { value: "id" }, "by name"),
      make("option", { value: "last" }, "by last practice"),
      make("option", { value: "look" }, "who needs a look"),
    );
    this.list = make("ul", { class: "items" });
    this.body = make("div", { class: "session" });
    this.element = make(
      "div",
      { class: "page" },
      head("People", "Who practises here. All of it stays on this machine."),
      make(
        "form",
        { class: "row", submit: (/** @type {Event} */ e) => this.add(e) },
        this.name,
        make("button", {}, "Add"),
        button("Bring in a file", () => this.file.click()),
        this.file,
        make("label", {}, "Sorted ", this.sort),
      ),
      make("div", { class: "columns" }, this.list, this.body),
    );
    app.store.watch(["people"], () => this.lookOver());
  }

  enter() {
    this.lookOver();
  }

  /** Who practised when, and who needs a look. */
  async lookOver() {
    if (this.app.wire) {
      const asked = this.app.ask("people class", { sort: this.sort.value });
      this.members = (await attempt(this.app, asked))?.list ?? [];
      this.show();
    }
  }

  show() {
    const { chosen } = this.app.store.state.people;
    fill(
      this.list,
      ...this.members.map(({ id, name, look, last }) =>
        make(
          "li",
          { "aria-current": id === chosen ? "true" : null },
          make("b", {}, apart(this.members, id)),
          make(
            "p",
            { class: "soft" },
            last ? `last practised ${last}` : "has not practised yet",
            look && make("b", {}, `; needs a look: ${look}`),
          ),
          make(
            "div",
            { class: "row" },
            id === chosen
              ? make("span", { class: "soft" }, "practises now")
              : button("Choose", () => this.ask("people choose", { id })),
            button("Edit", () => this.edit(id)),
            button("Export", () => this.keep(id)),
            button("Remove", () => this.remove(id, name)),
          ),
        ),
      ),
      this.members.length === 0 && make("li", { class: "soft" }, "Nobody yet."),
    );
  }

  /**
   * @param {string} name
   * @param {object} fields
   */
  ask(name, fields) {
    return attempt(this.app, this.app.ask(name, fields));
  }

  /** @param {Event} event */
  async add(event) {
    event.preventDefault();
    const answer = await this.ask("people add", { name: this.name.value });
    if (answer) {
      this.name.value = "";
      this.edit(answer.id);
    }
  }

  /** @param {string} id */
  edit(id) {
    const asked = this.app.ask("people edit", { id });
    const show = (/** @type {Person} */ { rows, values }) => [
      make("h2", {}, String(values.name ?? id)),
      make(
        "div",
        { class: "fields" },
        ...rows.map((row) =>
          makeField(row, held(row.name, values[row.name]), (value) =>
            this.app.ask("people set", { id, key: row.name, value }),
          ),
        ),
      ),
    ];
    showAnswer(this.app, this.body, asked, show);
  }

  /** @param {string} id */
  async keep(id) {
    const file = await this.ask("people export", { id });
    if (file) {
      keepFile(file);
    }
  }

  /**
   * @param {string} id
   * @param {string} name
   */
  async remove(id, name) {
    const removed = await this.ask("people remove", { id });
    if (!removed) {
      return;
    }
    const undo = async () => {
      await this.ask("people undo", {});
      fill(this.body);
    };
    const forGood = async () => {
      if (await this.ask("people remove", { id, for_good: true })) {
        fill(this.body, make("p", {}, `Nothing is left of ${name}.`));
      }
    };
    fill(
      this.body,
      make("p", {}, `${name} is removed. It is kept for ${removed.days} days ` +
        "in case it is wanted back, then it goes."),
      make(
        "div",
        { class: "row" },
        button("Undo", undo),
        button("Remove for good, recordings too", forGood),
      ),
    );
  }

  /** @param {File | undefined} file */
  async look(file) {
    if (!file) {
      return;
    }
    const looked = sendFile(this.app, file, "people import look");
    await showAnswer(this.app, this.body, looked, ({ words, is_other }) => [
      make("h2", {}, "This would come in"),
      ...words.map((/** @type {string} */ line) => make("p", {}, line)),
      make(
        "div",
        { class: "row" },
        button(is_other ? "They are the same: bring it in" : "Bring it in", async () => {
          if (await this.ask("people import", { same: is_other })) {
            fill(this.body, make("p", {}, "It is here now."));
          }
        }, { class: "main" }),
        button("Leave it", () => fill(this.body)),
      ),
    ]);
  }
}
