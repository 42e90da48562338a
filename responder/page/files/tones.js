/**
 * What a key is: black or white, and what its tone is under a chord, in a word
 * and as a shape.
 *
 * @typedef {import("./protocol.js").Tones} Tones
 */

import { draw } from "./dom.js";

const BLACK = [1, 3, 6, 8, 10];
const SOFTEST = 44; // At the far end of a key
const LOUDEST = 116; // At its near end

/** @param {number} pitch */
export function isBlack(pitch) {
  return BLACK.includes(pitch % 12);
}

/**
 * What a tone is under a chord.
 *
 * @param {number} pitch
 * @param {Tones | undefined} tones
 * @returns {"root" | "chord" | "scale" | "outside" | null} null: under none
 */
export function toneOf(pitch, tones) {
  const pc = pitch % 12;
  if (!tones) {
    return null;
  }
  if (pc === tones.root) {
    return "root";
  }
  if (tones.chord.includes(pc)) {
    return "chord";
  }
  return tones.scale.includes(pc) ? "scale" : "outside";
}

/**
 * How loud a key is, from how near its end it was touched.
 *
 * @param {number} share 0 at the far end, 1 at the near end
 */
export function touchVelocity(share) {
  const inside = Math.max(0, Math.min(1, share));
  return Math.round(SOFTEST + (LOUDEST - SOFTEST) * inside);
}

/** A shape that tells what a tone is: the same wherever it stands. */
export const SHAPES = { root: "■", chord: "●", scale: "○", outside: "◇" };

/**
 * @param {"root" | "chord" | "scale" | "outside"} what
 * @param {number} x
 * @param {number} y
 * @param {number} r
 */
export function shape(what, x, y, r) {
  switch (what) {
    case "root":
      return draw("rect", {
        class: "mark root", x: x - r * 0.9, y: y - r * 0.9,
        width: r * 1.8, height: r * 1.8,
      });
    case "outside":
      return draw("path", {
        class: "mark outside", d: `M${x} ${y - r * 1.2}l${r} ${r * 1.2}l${-r} ${r * 1.2}l${-r} ${-r * 1.2}z`,
      });
    default:
      return draw("circle", { class: `mark ${what}`, cx: x, cy: y, r });
  }
}
