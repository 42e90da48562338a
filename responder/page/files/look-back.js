/**
 * Look back: a session turn by turn, heard again, kept and saved.
 *
 * @typedef {import("./app.js").App} App
 * @typedef {import("./protocol.js").Session} Session
 */

import { button, fill, keepFile, make, set } from "./dom.js";
import { Exchanges, pairs } from "./exchange.js";
import { sendFile } from "./file.js";
import { attempt, head, showAnswer } from "./page-parts.js";
import { capital, count, sign } from "./words.js";

const DROPPED = "/"; // No session is called so

const KINDS = { midi: "MIDI", musicxml: "MusicXML", wav: "WAV", pdf: "PDF" };

export class LookBack {
  /** @param {App} app */
  constructor(app) {
    this.app = app;
    this.exchanges = new Exchanges(app);
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
    /** @type {File | undefined} what was brought in last */
    this.dropped = undefined;
    this.element = make(
      "div",
      { class: "page look-back" },
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
        make("option", { value: name }, `${when(name)}: ${chart}${key && ` in ${sign(key)}`}`),
      ),
    );
    this.offerDropped();
    const now = this.app.store.state.session.name;
    const { brought } = this.app;
    if (brought) {
      this.app.brought = undefined;
      this.take(brought);
    } else if (sessions.length > 0) {
      this.list.value = now ?? sessions[0].name;
      this.list.selectedIndex = Math.max(0, this.list.selectedIndex);
      this.open(this.list.value);
    } else {
      fill(this.body, make("p", { class: "soft" },
        "No session yet: what is played stands here afterwards, turn by turn."));
    }
  }

  leave() {
    this.exchanges.hush();
  }

  /** It stands among the sessions, that it can be had again. */
  offerDropped() {
    this.list.querySelector(`[value="${DROPPED}"]`)?.remove();
    if (this.dropped) {
      this.list.prepend(make("option", { value: DROPPED }, this.dropped.name));
    }
    set(this.list, { hidden: this.list.options.length === 0 });
  }

  /** @param {File | undefined} file */
  take(file) {
    if (file) {
      this.exchanges.hush();
      this.dropped = file;
      this.offerDropped();
      this.list.value = DROPPED;
      const asked = sendFile(this.app, file);
      showAnswer(this.app, this.body, asked, (s) => this.show(s));
    }
  }

  /** @param {string} name */
  open(name) {
    if (name === DROPPED) {
      this.take(this.dropped);
      return;
    }
    this.exchanges.hush();
    const asked = this.app.ask("session", { name });
    showAnswer(this.app, this.body, asked, (s) => this.show(s));
  }

  /** @param {Session} session */
  show(session) {
    this.exchanges.listening.staves = [];
    const { form, turns, worked, work_on: work, notices } = session;
    const words = [...worked, work].filter(Boolean).join(" ");
    const hear = this.exchanges.hearing("Hear all", session);
    const save = Object.entries(KINDS).map(([kind, name]) =>
      button(`Save ${name}`, (e) => this.save(session.name, kind, e.currentTarget)),
    );
    return [
      head(
        `${form.title} in ${sign(form.key)}`,
        `${capital(count(turns.length, "turn"))}. ${words}`,
      ),
      ...notices.map((line) => make("p", { class: "soft" }, line)),
      make("div", { class: "row" }, hear, ...save),
      ...pairs(turns).map((pair) => this.exchanges.make(session, pair)),
    ];
  }

  /**
   * @param {string} name
   * @param {string} kind
   * @param {EventTarget | null} by
   */
  async save(name, kind, by) {
    const asked = /** @type {HTMLButtonElement} */ (by);
    asked.disabled = true; // A sound takes a while
    const file = await attempt(this.app, this.app.ask("save", { name, kind }));
    asked.disabled = false;
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
