/**
 * What the places beside Play are made of: a head, a busy line, staves that
 * come later, and a place that moves along them.
 *
 * @typedef {import("./app.js").App} App
 * @typedef {import("./protocol.js").Place} Place
 * @typedef {import("./protocol.js").Staff} Staff
 */

import { tickAt } from "./clock.js";
import { fill, make } from "./dom.js";
import { movePlace } from "./staff.js";

/**
 * @param {string} title
 * @param {string} words
 * @param {...HTMLElement} controls
 */
export function head(title, words, ...controls) {
  return make(
    "div",
    { class: "heading" },
    make("h1", {}, title),
    make("p", {}, words),
    ...controls,
  );
}

/**
 * Ask, and show that it is waited for and what came of it. What was wrong before
 * is said no more; nor is what was done, beside what is wrong now.
 *
 * @param {App} app
 * @param {Element} into where it is shown; what stands there goes
 * @param {Promise<any>} asked
 * @param {(answer: any) => (Node | string)[]} show
 */
export async function showAnswer(app, into, asked, show) {
  fill(into, make("p", { class: "soft" }, "One moment."));
  try {
    fill(into, ...show(await asked));
    app.done();
  } catch (fault) {
    const { message } = /** @type {Error} */ (fault);
    fill(into, make("p", { class: "soft" }, message));
    app.notice("");
    app.tell(message);
  }
}

/** Whether what was made for somebody is still so: who plays, and played last. */
export class Since {
  /** @param {App} app */
  constructor(app) {
    this.app = app;
    /** @type {string | null} */
    this.who = null;
    /** @type {string | null} */
    this.name = null;
  }

  mark() {
    const { people, session } = this.app.store.state;
    this.who = people.chosen;
    this.name = session.name ?? this.name;
  }

  /** What is not recorded changes nothing. */
  isOver() {
    const { people, session } = this.app.store.state;
    return people.chosen !== this.who ||
      (session.name !== null && session.name !== this.name);
  }
}

/**
 * Do something and say what is wrong with it, if something is.
 *
 * @param {App} app
 * @param {Promise<any>} asked
 * @param {string} [done] what is said when it is done
 */
export async function attempt(app, asked, done) {
  try {
    const answer = await asked;
    app.done(done);
    return answer;
  } catch (fault) {
    app.notice(/** @type {Error} */ (fault).message);
    return null;
  }
}

/** A place that moves along staves while they are heard. */
export class Listening {
  /** @param {App} app */
  constructor(app) {
    this.app = app;
    /** @type {Place | null} */
    this.place = null;
    /** @type {{element: Element, staff: Staff, from: number, to: number}[]} */
    this.staves = [];
    this.ended = () => {};
    app.store.watch(["hears"], ({ hears }) => {
      if (hears.running) {
        this.begin(hears);
      } else {
        this.end();
      }
    });
  }

  /** @param {Place} place */
  begin(place) {
    this.place = place;
    const frame = () => {
      if (this.place === place) {
        this.draw();
        requestAnimationFrame(frame);
      }
    };
    requestAnimationFrame(frame);
  }

  end() {
    if (this.place) {
      this.place = null;
      this.staves.forEach((s) => movePlace(s.element, s.staff, null));
      this.ended();
    }
  }

  draw() {
    const { app, place } = this;
    const tick = place
      ? tickAt(place, app.clock.there(performance.now()))
      : -Infinity;
    for (const { element, staff, from, to } of this.staves) {
      movePlace(element, staff, tick >= from && tick < to ? tick : null);
    }
  }
}
