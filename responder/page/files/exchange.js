/**
 * What was said and what was answered, as it stands in a session that is looked
 * back on.
 *
 * @typedef {import("./app.js").App} App
 * @typedef {import("./protocol.js").Session} Session
 * @typedef {import("./protocol.js").Turn} Turn
 */

import { button, make, set } from "./dom.js";
import { explain } from "./help.js";
import { attempt, Listening } from "./page-parts.js";
import { makeStaff, size } from "./staff.js";
import { makeTurn } from "./turn.js";

/**
 * Turns, two by two: what was said and what was answered.
 *
 * @param {Turn[]} turns
 */
export function pairs(turns) {
  /** @type {Turn[][]} */
  const all = [];
  for (const turn of turns) {
    const last = all.at(-1);
    if (turn.by === "partner" && last?.length === 1 && last[0].by === "player") {
      last.push(turn);
    } else {
      all.push([turn]);
    }
  }
  return all;
}

export class Exchanges {
  /** @param {App} app */
  constructor(app) {
    this.app = app;
    this.listening = new Listening(app);
  }

  /**
   * A turn of the player's and what was answered.
   *
   * @param {Session} session
   * @param {Turn[]} pair
   */
  make(session, pair) {
    const says = pair.map((turn) => turn.says).find(Boolean);
    const first = pair[0];
    const hear = pair.filter((turn) => turn.notes.length > 0).map((turn) =>
      this.hearing(turn.by === "player" ? "Hear yours" : "Hear the answer", session, turn),
    );
    const develop = button("Develop", () =>
      this.app.go(`ideas/${session.name}/${first.index}`),
    );
    const keep = button("Keep", () =>
      attempt(
        this.app,
        this.app.ask("keep", { name: session.name, turn: first.index }),
        "It is in the notebook now.",
      ),
    );
    const off = first.success;
    return make(
      "section",
      { class: "exchange", "aria-label": `Turn ${first.index}` },
      says && make("p", { class: "remark" }, says),
      make("div", { class: "turns" }, ...pair.map((t) => this.turn(session, t))),
      make(
        "div",
        { class: "row" },
        ...hear,
        ...(first.notes.length > 0 ? [develop, keep] : []),
        typeof off === "boolean" &&
          make("span", { class: "soft" }, off ? "It " : "Not all of it ",
            explain("came off", off ? "came off" : "came off yet")),
      ),
    );
  }

  /**
   * @param {Session} session
   * @param {Turn} turn
   */
  turn(session, turn) {
    const figure = makeTurn(turn, session.form);
    if (turn.notes.length > 0) {
      const seen = new IntersectionObserver(async (entries) => {
        if (entries.some((entry) => entry.isIntersecting)) {
          seen.disconnect();
          await this.engrave(session, turn, figure);
        }
      });
      seen.observe(figure);
    }
    return figure;
  }

  /**
   * @param {Session} session
   * @param {Turn} turn
   * @param {HTMLElement} figure
   */
  async engrave(session, turn, figure) {
    const fields = { name: session.name, turn: turn.index };
    const staff = await this.app.ask("staff", fields).catch(() => null);
    if (staff) {
      const words = `Turn ${turn.index} as music: ${turn.notes.length} notes`;
      const element = makeStaff(staff, words);
      figure.querySelector(".staff")?.replaceWith(element);
      size(figure, staff);
      const { start_tick: from, end_tick: to } = turn;
      this.listening.staves.push({ element, staff, from, to });
    }
  }

  /**
   * A button by which a turn or all of it is heard, and no more.
   *
   * @param {string} words
   * @param {Session} session
   * @param {Turn} [turn]
   */
  hearing(words, { name }, turn) {
    const by = button(words, async () => {
      const isOn = by.getAttribute("aria-pressed") === "true";
      await this.hush();
      if (!isOn) {
        const asked = this.app.ask("hear", { name, turn: turn?.index });
        const isHeard = await attempt(this.app, asked);
        set(by, { "aria-pressed": String(isHeard !== null) });
        this.listening.ended = () => set(by, { "aria-pressed": "false" });
      }
    }, { "aria-pressed": "false" });
    return by;
  }

  async hush() {
    if (this.listening.place) {
      await this.app.ask("hush").catch(() => {});
    }
    this.listening.ended();
  }
}
