/**
 * The last turn of each who plays, as it stands in Play, or what is to be played
 * again and the player's last.
 *
 * @typedef {import("./protocol.js").State} State
 * @typedef {import("./turn.js").Played} Played
 */

import { fill, make } from "./dom.js";
import { makeExercise, makeTurn, putStaff } from "./turn.js";

export class LastTurns {
  constructor() {
    this.element = make("div", { class: "turns" });
    /** @type {Map<string, {of: any[], figure: HTMLElement}>} */
    this.figures = new Map();
  }

  /** The last turn of each, and its staff. @param {State} state */
  show({ turns, staves, session }) {
    const plays = session.stands === "plays" || session.stands === "count-in";
    const show = (/** @type {string} */ by) => {
      const turn = /** @type {Played | undefined} */ (
        turns.filter((t) => t.by === by).at(-1));
      const staff = turn && staves[turn.index];
      const figure = this.figure(by, [turn], () =>
        turn ? makeTurn(turn, turn.form ?? null) : make("figure", {}));
      if (turn) {
        this.figure(`${by}'s staff`, [figure, staff, plays], () => {
          putStaff(figure, turn, staff, plays);
          return figure;
        });
      }
      return figure;
    };
    const { exercise } = session;
    this.element.classList.toggle("written", Boolean(exercise));
    const shown = exercise
      ? [this.figure("exercise", [exercise.number, exercise.name, exercise.staff?.svg],
          () => makeExercise(exercise)), show("player")]
      : [show("player"), show("partner")];
    if (shown.some((figure, i) => figure !== this.element.children[i])) {
      fill(this.element, ...shown);
    }
  }

  /**
   * Made anew only where something is new in it: a picture takes time, and the
   * keys would wait.
   *
   * @param {string} place
   * @param {any[]} of what it is made of
   * @param {() => HTMLElement} made
   */
  figure(place, of, made) {
    const before = this.figures.get(place);
    if (before && of.every((one, i) => one === before.of[i])) {
      return before.figure;
    }
    const figure = made();
    this.figures.set(place, { of, figure });
    return figure;
  }
}
