/**
 * Ideas: a phrase developed, from near to far, and the notebook of those that
 * were kept.
 *
 * @typedef {import("./app.js").App} App
 * @typedef {import("./protocol.js").Idea} Idea
 * @typedef {import("./protocol.js").Kept} Kept
 * @typedef {import("./protocol.js").Ideas} Answer
 */

import { button, make } from "./dom.js";
import { explain } from "./help.js";
import { attempt, head, showAnswer } from "./page-parts.js";
import { sizedStaff } from "./staff.js";
import { capital } from "./words.js";

export class Ideas {
  /** @param {App} app */
  constructor(app) {
    this.app = app;
    this.found = make("div", { class: "page-part" });
    this.notebook = make("div", { class: "page-part" });
    this.element = make(
      "div",
      { class: "page" },
      head("Ideas", "Other ways on from a phrase, from near to far."),
      make(
        "div",
        { class: "row" },
        button("From my last phrase", () => this.develop({ from: "last" })),
        button("From a new phrase", () => this.develop({ from: "new" })),
        explain("move", "what is a move?"),
      ),
      this.found,
      make("h2", {}, "Notebook"),
      this.notebook,
    );
  }

  /**
   * @param {string} [name] a session
   * @param {string} [turn] of it
   */
  enter(name, turn) {
    if (name && turn) {
      this.develop({ from: "turn", name, turn: Number(turn) });
    } else if (!this.found.hasChildNodes()) {
      this.develop({ from: "last" });
    }
    this.read();
  }

  /** @param {object} from */
  develop(from) {
    showAnswer(this.app, this.found, this.app.ask("ideas", from), (answer) =>
      this.show(answer),
    );
  }

  /** @param {Answer} answer */
  show({ words, staff, ideas }) {
    return [
      make("p", { class: "remark" }, words),
      ...(staff ? [sizedStaff(staff, "The phrase as music")] : []),
      make("ol", { class: "items" }, ...ideas.map((idea) => this.idea(idea))),
    ];
  }

  /** @param {Idea} idea */
  idea(idea) {
    const { number } = idea;
    const ask = (/** @type {string} */ name, /** @type {string} */ done) => () =>
      attempt(this.app, this.app.ask(name, { number }), done);
    const keep = async () => {
      await ask("idea keep", "It is in the notebook now.")();
      this.read();
    };
    return make(
      "li",
      {},
      make("p", {}, make("b", {}, capital(idea.move)), `: ${idea.why}`),
      idea.staff && sizedStaff(idea.staff, `${idea.move}, as music`),
      idea.practise && make("p", { class: "soft" }, idea.practise),
      make(
        "div",
        { class: "row" },
        button("Hear", ask("idea hear", "")),
        button("Try", () => this.attemptIdea(number)),
        button("Keep", keep),
      ),
    );
  }

  /** It is played, and what comes of it is answered. @param {number} number */
  async attemptIdea(number) {
    if (await attempt(this.app, this.app.ask("idea try", { number }))) {
      this.app.go("play");
    }
  }

  read() {
    showAnswer(this.app, this.notebook, this.app.ask("notebook"), ({ ideas }) =>
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
  kept({ number, name, when, staff }) {
    return make(
      "li",
      {},
      make("div", { class: "row" }, make("h3", {}, name), make("span", { class: "soft" }, when ?? "")),
      staff && sizedStaff(staff, `${name}, as music`),
      make(
        "div",
        { class: "row" },
        button("Go on from it", () => this.develop({ from: "kept", number })),
      ),
    );
  }
}
