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
import { capital, count, sign } from "./words.js";

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
    /** @type {import("./protocol.js").SessionName[]} */
    const sessions = found?.list ?? [];
    fill(
      this.list,
      ...sessions.map(({ name, chart, key }) =>
        make("option", { value: name }, `${when(name)}: ${chart} in ${sign(key)}`),
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
    const { form, turns, worked, work_on: work, notices } = session;
    const words = [...worked, work].filter(Boolean).join(" ");
    const hear = this.hearing("Hear all", session);
    const save = Object.entries(KINDS).map(([kind, name]) =>
      button(`Save ${name}`, () => this.save(session.name, kind)),
    );
    return [
      head(
        `${form.title} in ${sign(form.key)}`,
        `${capital(count(turns.length, "turn"))}. ${words}`,
      ),
      ...notices.map((line) => make("p", { class: "soft" }, line)),
      make("div", { class: "row" }, hear, ...save),
      ...pairs(turns).map((pair) => this.pair(session, pair)),
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
    const hear = pair.map((turn) =>
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
        ...hear, develop, keep,
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
    const figure = makeTurn(turn, undefined, session.form);
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
 * When a recording was made, as its name tells: the day and the hour, if they
 * stand in it.
 *
 * @param {string} name
 */
export function when(name) {
  const [, day, hour, minute] =
    /(\d{4}-\d\d-\d\d)[T_-]?(\d\d)?[:.-]?(\d\d)?/.exec(name) ?? [];
  return day ? [day, hour && `${hour}:${minute ?? "00"}`].filter(Boolean).join(" ") : name;
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
