/**
 * The rhythm of an echo given back on the space bar.
 *
 * @typedef {import("./protocol.js").State} State
 */

import { measure } from "./clock.js";
import { turnOfBar } from "./form.js";
import { lowestOf } from "./keys.js";

const LETTERS = /** @type {Record<string, number>} */ ({
  C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11,
});

/**
 * The key that a tap strikes, the tonic: in an echo, when it is to be given
 * back, or half a beat before.
 *
 * @param {State} state
 * @param {number} tick
 * @returns {number | null} null: the space bar begins and pauses
 */
export function tapPitch({ form, session, choices }, tick) {
  const isEcho = choices.way?.value === "echo" && (session.kind ?? "trade") === "trade";
  if (!form || !isEcho || !["count-in", "plays"].includes(session.stands)) {
    return null;
  }
  const { beat, bar } = measure(form);
  const turn = turnOfBar(form, Math.floor((tick + beat / 2) / bar) + 1);
  const [letter, sign] = form.key;
  const alter = sign === "#" ? 1 : sign === "b" ? -1 : 0;
  return turn?.by === "player" ? lowestOf(4) + ((LETTERS[letter] + alter + 12) % 12) : null;
}
