/**
 * What a key is: black or white, and what its tone is under a chord.
 *
 * @typedef {import("./protocol.js").Tones} Tones
 */

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
 * @returns {"root" | "chord" | "scale" | null}
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
  return tones.scale.includes(pc) ? "scale" : null;
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
