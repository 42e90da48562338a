/**
 * The strip below a staff: where each note fell, a little before or behind its
 * line. How far is drawn larger than it was, so that it can be seen.
 *
 * @typedef {import("./protocol.js").Turn} Turn
 * @typedef {import("./protocol.js").Note} Note
 */

import { TICKS_A_QUARTER } from "./clock.js";
import { draw } from "./dom.js";
import { timing } from "./words.js";

const LARGER = 3; // Times what is early or late
const MARGIN = 8; // Left and right, of WIDE
const WIDE = 472;

/**
 * Where a note was meant to sound: a swung off-beat is written at the half
 * beat and sounds later.
 *
 * @param {Note} note
 * @param {Turn["rhythm"]} rhythm
 */
export function meant(note, rhythm) {
  const into = ((note.grid_tick % TICKS_A_QUARTER) + TICKS_A_QUARTER) %
    TICKS_A_QUARTER;
  const ratio = rhythm?.swing_ratio;
  const isSwung =
    rhythm?.grid === "swung eighth" &&
    into === TICKS_A_QUARTER / 2 &&
    typeof ratio === "number";
  // A share of the beat, or how many times the second eighth
  const share = !isSwung ? 0 : ratio < 1 ? ratio : ratio / (1 + ratio);
  return isSwung
    ? note.grid_tick - into + share * TICKS_A_QUARTER
    : note.grid_tick;
}

/**
 * Where the notes stand in the strip.
 *
 * @param {Turn} turn
 * @returns {{line: number, from: number, to: number}[]} of WIDE; the first is
 * where it should be, the others where it was
 */
export function placed(turn) {
  const first = Math.min(turn.start_tick, ...turn.notes.map((n) => n.tick));
  const all = turn.end_tick - first;
  const wide = WIDE - 2 * MARGIN;
  const at = (/** @type {number} */ tick) =>
    MARGIN + ((tick - first) / all) * wide;
  return turn.notes.map((note) => {
    const line = note.ornament ? note.tick : meant(note, turn.rhythm);
    const late = Math.max(-240, Math.min(240, note.tick - line)) * LARGER;
    const from = line + Math.max(-320, Math.min(320, late));
    const end = Math.min(note.tick + note.length, turn.end_tick);
    return { line: at(line), from: at(from), to: at(Math.max(end, from)) };
  });
}

/**
 * @param {Turn} turn
 * @param {number} beat ticks
 * @param {number} beats a bar
 */
export function makeStrip(turn, beat, beats) {
  const strip = draw("svg", {
    class: "strip",
    viewBox: `0 0 ${WIDE} 34`,
    role: "img",
    "aria-label": `How early or late each note was: ${timing(turn)}`,
  });
  const first = Math.min(turn.start_tick, ...turn.notes.map((n) => n.tick));
  const scale = (WIDE - 2 * MARGIN) / (turn.end_tick - first);
  const lines = { "line": "", "line first": "" };
  for (let t = turn.start_tick, n = 0; t <= turn.end_tick; t += beat, n++) {
    const x = MARGIN + (t - first) * scale;
    lines[n % beats === 0 ? "line first" : "line"] += `M${x} 2v30`;
  }
  const notes = placed(turn);
  const held = notes.map(({ from, to }) => `M${from} 17H${to}`).join("");
  const meant = notes.map(({ line }) => `M${line} 8v18`).join("");
  // One path of a kind: each element takes time from the keys
  strip.append(
    ...Object.entries({ ...lines, held, meant })
      .map(([name, d]) => draw("path", { class: name, d })),
    ...notes.map(({ from }) =>
      draw("circle", { class: turn.by, cx: from, cy: 17, r: 5 })),
  );
  return strip;
}
