/**
 * Ideas: a phrase developed, from near to far.
 *
 * @typedef {import("./app.js").App} App
 * @typedef {import("./protocol.js").Idea} Idea
 * @typedef {import("./protocol.js").Ideas} Answer
 */

import { button, make } from "./dom.js";
import { explain } from "./help.js";
import { when } from "./look-back.js";
import { Notebook } from "./notebook.js";
import { attempt, head, showAnswer, Since } from "./page-parts.js";
import { sizedStaff } from "./staff.js";
import { capital } from "./words.js";

const RUNGS = [1, 2, 3, 4, 5, 6, 7, 8];
const COUNTS = [4, 8, 12];

export class Ideas {
  /** @param {App} app */
  constructor(app) {
    this.app = app;
    this.found = make("div", { class: "page-part" });
    this.notebook = new Notebook(app, (number) =>
      this.develop({ from: "kept", number }),
    );
    /** @type {{from: string}} */
    this.from = { from: "last" };
    this.since = new Since(app);
    const again = () => this.develop(this.from);
    this.rung = choice("Rung", ["", ...RUNGS], (n) => (n ? `on rung ${n}` : "on my rung"), again);
    this.count = choice("How many", COUNTS, (n) => `${n} of them`, again);
    this.count.value = "8";
    this.element = make(
      "div",
      { class: "page" },
      head("Ideas", "Other ways on from a phrase, from near to far."),
      make(
        "div",
        { class: "row" },
        button("From my last phrase", () => this.develop({ from: "last" })),
        button("From a new phrase", () => this.develop({ from: "new" })),
        this.rung,
        this.count,
        explain("move", "what is a move?"),
      ),
      this.found,
      this.notebook.element,
    );
  }

  /**
   * @param {string} [name] a session
   * @param {string} [turn] of it
   */
  enter(name, turn) {
    if (name && turn) {
      this.develop({ from: "turn", name, turn: Number(turn) });
    } else if (
      !this.found.hasChildNodes() ||
      (this.from.from === "last" && this.since.isOver())
    ) {
      this.develop({ from: "last" });
    }
    this.notebook.read();
  }

  /** @param {{from: string} & Record<string, any>} from */
  develop(from) {
    this.from = from;
    this.since.mark();
    const count = Number(this.count.value);
    const fields = { ...from, count, rung: this.rung.value || undefined };
    showAnswer(this.app, this.found, this.app.ask("ideas", fields), (answer) =>
      this.show(answer),
    );
  }

  /** @param {Answer} answer */
  show({ words, staff, ideas }) {
    return [
      make("p", { class: "remark" }, words.replace(/\S+\.mid$/, when)),
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
      this.notebook.read();
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
}

/**
 * @param {string} label
 * @param {(string | number)[]} values
 * @param {(value: string | number) => string} words
 * @param {() => void} change
 */
function choice(label, values, words, change) {
  return make(
    "select",
    { "aria-label": label, change },
    ...values.map((value) => make("option", { value }, words(value))),
  );
}
