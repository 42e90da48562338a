/**
 * People: the learners, what a teacher sets for each, and moving one from
 * machine to machine.
 *
 * @typedef {import("./app.js").App} App
 * @typedef {import("./protocol.js").Member} Member
 * @typedef {import("./protocol.js").Person} Person
 * @typedef {import("./protocol.js").Value} Value
 */

import { button, fill, keepFile, make } from "./dom.js";
import { labelOf, makeField } from "./field.js";
import { attempt, head, showAnswer } from "./page-parts.js";
import { bringIn, remove } from "./people-moves.js";

/** As a person would look for it. @type {(a: Member, b: Member) => number} */
const byName = (a, b) => a.name.localeCompare(b.name) || a.id.localeCompare(b.id);

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
      change: () => bringIn(this, this.file),
    });
    /** @type {import("./protocol.js").Member[]} */
    this.members = [];
    this.sort = make(
      "select",
      { change: () => this.lookOver() },
      make("option", { value: "id" }, "by name"),
      make("option", { value: "last" }, "by last practice"),
      make("option", { value: "look" }, "who needs a look"),
      make("option", { value: "only" }, "only who needs a look"),
    );
    this.list = make("ul", { class: "items" });
    this.body = make("div", { class: "session" });
    this.element = make(
      "div",
      { class: "page", click: (/** @type {Event} */ e) => this.begin(e) },
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

  /** What was said of the last deed goes with the next. @param {Event} event */
  begin({ target }) {
    if (target instanceof Element && target.closest("button")) {
      this.app.notice("");
    }
  }

  /** Who practised when, and who needs a look. */
  async lookOver() {
    if (this.app.wire) {
      const { value } = this.sort;
      const only = value === "only";
      const asked = this.app.ask("people class", { sort: only ? "look" : value });
      const list = (await attempt(this.app, asked))?.list ?? [];
      this.members = list.filter((/** @type {Member} */ { look }) => look || !only);
      if (value === "id") {
        this.members.sort(byName);
      }
      this.show();
    }
  }

  show() {
    const { chosen } = this.app.store.state.people;
    fill(
      this.list,
      ...this.members.map(({ id, name, look, last, is_known }) =>
        make(
          "li",
          { "aria-current": id === chosen ? "true" : null },
          make("b", {}, name),
          make("span", { class: "soft" }, ` ${id}`),
          make(
            "p",
            { class: "soft" },
            !is_known ? "what was practised cannot be read"
              : last ? `last practised ${last}` : "has not practised yet",
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
            button("Remove", () => remove(this, id, name)),
          ),
        ),
      ),
      this.members.length === 0 &&
        make("li", { class: "soft" },
          this.sort.value === "only" ? "Nobody needs a look." : "Nobody yet."),
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
    const isFirst = this.app.store.state.people.list.length === 0;
    const name = this.name.value.trim();
    const same = this.members.find((member) => member.name === name);
    const added = this.app.ask("people add", { name });
    const answer = await attempt(this.app, added,
      same && `There is another ${name} here: ${same.id}. The two differ by what stands behind their names.`);
    if (answer) {
      this.name.value = "";
      if (isFirst) {
        await this.ask("people choose", { id: answer.id });
      }
      this.edit(answer.id);
    }
  }

  /** @param {string} id */
  async edit(id) {
    const asked = this.app.ask("people edit", { id });
    const show = (/** @type {Person} */ { rows, values }) => [
      make("h2", {}, String(values.name ?? id)),
      make(
        "div",
        { class: "fields" },
        ...rows.map((row) =>
          makeField(row, held(row.name, values[row.name]), async (value) => {
            await this.app.ask("people set", { id, key: row.name, value });
            this.app.done(`${labelOf(row.name)}: saved.`);
          }),
        ),
      ),
    ];
    await showAnswer(this.app, this.body, asked, show);
    this.face();
  }

  /** Bring what was asked for into view, however long the list is. */
  face() {
    this.body.scrollIntoView({ block: "start" });
    const first = this.body.querySelector("input, select, button");
    if (first instanceof HTMLElement) {
      first.focus({ preventScroll: true });
    }
  }

  /** @param {string} id */
  async keep(id) {
    const file = await this.ask("people export", { id });
    if (file) {
      keepFile(file);
    }
  }
}
