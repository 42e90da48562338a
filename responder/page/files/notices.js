/**
 * Lines that stand above the places until they are closed.
 *
 * @typedef {import("./app.js").App} App
 */

import { button, make } from "./dom.js";

export class Notices {
  /** @param {HTMLElement} element */
  constructor(element) {
    this.element = element;
    /** @type {Record<string, HTMLElement | null>} */
    this.lines = {};
    /** @type {HTMLElement | undefined} */
    this.passing = undefined;
    this.isWrong = false;
  }

  /**
   * @param {string} text said once, however often it comes
   * @param {HTMLElement} [act] in place of a button that closes it
   */
  say(text, act) {
    const same = [...this.element.children].find(
      (there) => there.firstChild?.textContent === text,
    );
    if (same instanceof HTMLElement) {
      return same;
    }
    const line = make("p", {}, make("span", {}, text));
    line.append(act ?? button("Close", () => line.remove()));
    line.classList.toggle("acts", act !== undefined);
    this.element.append(line);
    return line;
  }

  /**
   * A line that goes when another one of its kind comes, or one goes elsewhere.
   *
   * @param {string} text an empty one only ends the last
   * @param {boolean} [isWrong] it goes when something is done, too
   */
  pass(text, isWrong = false) {
    this.leave();
    this.passing = text ? this.say(text) : undefined;
    this.isWrong = isWrong;
  }

  leave() {
    this.passing?.remove();
  }

  done() {
    if (this.isWrong) {
      this.leave();
    }
  }

  /**
   * A line that comes and goes with what it says.
   *
   * @param {string} name
   * @param {string | null | undefined} text
   * @param {HTMLElement} [act]
   */
  renew(name, text, act) {
    const was = this.lines[name];
    if (was?.firstChild?.textContent !== (text ?? "")) {
      was?.remove();
      this.lines[name] = text ? this.say(text, act) : null;
    }
  }

  /**
   * Say what the state holds that is to be known.
   *
   * @param {App} app
   */
  watch(app) {
    const { store } = app;
    store.watch(["sound"], ({ sound }) =>
      this.renew("sound", sound.works ? null : sound.text),
    );
    store.watch(["keyboard"], ({ keyboard }) =>
      this.renew("keyboard", document.body.dataset.plays === "true" ? null : keyboard.text),
    );
    store.watch(["said"], (state) => this.hear(state));
    store.watch(["aside"], ({ aside }) => aside && this.say(aside.text));
    store.watch(["care"], ({ care }) => this.renew("care", care.text));
    store.watch(["me"], ({ me }) => {
      const here = button("Play here", () =>
        app.ask("take over").catch((fault) => this.say(fault.message)),
      );
      const words = "Another page plays; this one watches.";
      this.renew("me", me.plays ? null : words, here);
    });
    store.watch(["session"], ({ session }) => {
      const { stands } = session;
      this.fold(stands === "count-in" || stands === "plays");
    });
  }

  /**
   * News that the sentence in Play does not show.
   *
   * @param {import("./state.js").State} state
   */
  hear({ said, session }) {
    const isElsewhere = document.body.dataset.place !== "play";
    if (said?.kind === "news" && (isElsewhere || session.stands === "over")) {
      this.pass(said.text);
    }
  }

  /**
   * When one begins to play, what was read makes room.
   *
   * @param {boolean} plays
   */
  fold(plays) {
    if (plays && document.body.dataset.plays !== "true") {
      ["sound", "keyboard", "care"].forEach((name) =>
        this.lines[name]?.remove(),
      );
      this.leave();
    }
    document.body.dataset.plays = String(plays);
  }
}
