/**
 * Look back: a session turn by turn, heard again, kept and saved.
 *
 * @typedef {import("./app.js").App} App
 * @typedef {import("./protocol.js").Session} Session
 * @typedef {import("./protocol.js").Turn} Turn
 */

import { button, fill, keepFile, make, set } from "./dom.js";
import { sendFile } from "./file.js";
import { explain } from "./help.js";
import { attempt, head, Listening, showAnswer } from "./page-parts.js";
import { makeStaff, size } from "./staff.js";
import { makeTurn } from "./turn.js";
import { count, capital } from "./words.js";

const KINDS = { midi: "MIDI", musicxml: "MusicXML", wav: "WAV", pdf: "PDF" };

export class LookBack {
  /** @param {App} app */
  constructor(app) {
    this.app = app;
    this.listening = new Listening(app);
    this.list = make("select", {
      "aria-label": "Session",
      change: () => this.open(this.list.value),
    });
    this.file = make("input", {
      type: "file", accept: ".mid,.midi", class: "unseen", tabindex: "-1",
      "aria-label": "A MIDI file",
      change: () => this.take(this.file.files?.[0]),
    });
    this.body = make("div", { class: "session" });
    this.element = make(
      "div",
      {
        class: "page look-back",
        dragover: (/** @type {Event} */ e) => e.preventDefault(),
        drop: (/** @type {DragEvent} */ e) => this.drop(e),
      },
      make(
        "div",
        { class: "row" },
        this.list,
        button("Open a MIDI file", () => this.file.click()),
        this.file,
        make("span", { class: "soft" }, "or drop one here"),
      ),
      this.body,
    );
  }

  async enter() {
    const found = await attempt(this.app, this.app.ask("sessions"));
    const sessions = found?.sessions ?? [];
    fill(
      this.list,
      ...sessions.map((/** @type {any} */ s) =>
        make("option", { value: s.name }, `${s.when}, ${s.title}`),
      ),
    );
    set(this.list, { hidden: sessions.length === 0 });
    const now = this.app.store.state.session.name;
    if (sessions.length > 0) {
      this.list.value = now ?? sessions[0].name;
      this.list.selectedIndex = Math.max(0, this.list.selectedIndex);
      this.open(this.list.value);
    } else {
      fill(this.body, make("p", { class: "soft" },
        "No session yet: what is played stands here afterwards, turn by turn."));
    }
  }

  leave() {
    this.hush();
  }

  /** @param {DragEvent} event */
  drop(event) {
    event.preventDefault();
    this.take(event.dataTransfer?.files[0]);
  }

  /** @param {File | undefined} file */
  take(file) {
    if (file) {
      const asked = sendFile(this.app, file);
      showAnswer(this.app, this.body, asked, (s) => this.show(s));
    }
  }

  /** @param {string} name */
  open(name) {
    this.hush();
    const asked = this.app.ask("session", { name });
    showAnswer(this.app, this.body, asked, (s) => this.show(s));
  }

  /** @param {Session} session */
  show(session) {
    this.listening.staves = [];
    const { worked = [], work_on: work = "" } = session.summary ?? {};
    const words = [...worked, work].filter(Boolean).join(" ");
    const hear = button("Hear all", () => this.hear(session, null, hear));
    const save = Object.entries(KINDS).map(([kind, name]) =>
      button(`Save ${name}`, () => this.save(session.name, kind)),
    );
    return [
      head(session.title, `${capital(count(session.turns.length, "turn"))}. ${words}`),
      make("div", { class: "row" }, hear, ...save),
      ...pairs(session.turns).map((pair) => this.pair(session, pair)),
    ];
  }

  /**
   * A turn of the player's and what was answered.
   *
   * @param {Session} session
   * @param {Turn[]} pair
   */
  pair(session, pair) {
    const says = pair.map((turn) => turn.says).find(Boolean);
    const first = pair[0];
    const hear = button("Hear", () => this.hear(session, first.index, hear));
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
        hear, develop, keep,
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
    const figure = makeTurn(turn, undefined, session);
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
   * @param {Session} session
   * @param {number | null} turn
   * @param {HTMLButtonElement} by
   */
  async hear(session, turn, by) {
    const isOn = by.getAttribute("aria-pressed") === "true";
    this.hush();
    if (isOn) {
      return;
    }
    const asked = this.app.ask("hear", { name: session.name, turn });
    const answer = await attempt(this.app, asked);
    if (answer) {
      set(by, { "aria-pressed": "true" });
      this.listening.begin(answer.place, () =>
        set(by, { "aria-pressed": null }),
      );
    }
  }

  hush() {
    if (this.listening.place) {
      this.listening.end();
      this.app.ask("hush").catch(() => {});
    }
  }

  /**
   * @param {string} name
   * @param {string} kind
   */
  async save(name, kind) {
    const file = await attempt(this.app, this.app.ask("save", { name, kind }));
    if (file) {
      keepFile(file);
    }
  }
}

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
