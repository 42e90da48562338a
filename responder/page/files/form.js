/**
 * What the form says of a bar: its turn, its chords.
 *
 * @typedef {import("./protocol.js").Form} Form
 */

import { measure } from "./clock.js";

/**
 * The turn in which a bar lies.
 *
 * @param {Form} form
 * @param {number} bar from the first of the session, 1
 */
export function turnOfBar(form, bar) {
  return (
    form.turns.find(
      (turn) => bar >= turn.first_bar && bar < turn.first_bar + turn.bars,
    ) ?? null
  );
}

/**
 * The turn before which a bar is kept silent.
 *
 * @param {Form} form
 * @param {number} bar
 */
export function turnAfterSilence(form, bar) {
  return (
    form.turns.find(
      (turn) => bar < turn.first_bar && bar >= turn.first_bar - turn.silent,
    ) ?? null
  );
}

/**
 * @param {Form} form
 * @param {number} at ticks from the form's beginning
 * @returns {{now: string, next: string}} the chord then, and the next other
 */
export function chordsAt(form, at) {
  const { beat, bar } = measure(form);
  const all = form.bars.flatMap((chords, i) =>
    chords.map((c) => ({ tick: i * bar + c.beat * beat, symbol: c.symbol })),
  );
  if (all.length === 0) {
    return { now: "", next: "" };
  }
  const length = form.bars.length * bar;
  const place = ((at % length) + length) % length;
  const i = Math.max(0, all.findLastIndex((c) => c.tick <= place));
  const now = all[i].symbol;
  const after = [...all.slice(i + 1), ...all.slice(0, i)];
  return { now, next: after.find((c) => c.symbol !== now)?.symbol ?? "" };
}
