/**
 * A turn: a caption, a staff, a strip and what can be said of its time.
 *
 * @typedef {import("./protocol.js").Turn} Turn
 * @typedef {import("./protocol.js").Staff} Staff
 *
 * A turn as the state keeps it.
 * @typedef {Turn & {form?: import("./protocol.js").Form | null}} Played
 */

import { measure } from "./clock.js";
import { make } from "./dom.js";
import { makeStaff, size } from "./staff.js";
import { makeStrip } from "./strip.js";
import { bars, capital, sign, timing } from "./words.js";

/**
 * @param {Turn} turn
 * @param {import("./clock.js").Measured | null} form
 */
function caption(turn, form) {
  const n = Math.round((turn.end_tick - turn.start_tick) / measure(form).bar);
  const where = bars(turn.first_bar, Math.max(n, 1));
  const move = turn.by === "partner" && turn.move ? `: ${turn.move}` : "";
  return make(
    "figcaption",
    {},
    make("b", {}, turn.by === "player" ? "You" : "Partner"),
    `, ${where}${move}`,
  );
}

/**
 * Put the staff of a turn into its figure, in place of the one before.
 *
 * @param {HTMLElement} figure of makeTurn()
 * @param {Turn} turn
 * @param {Staff | undefined} staff
 * @param {boolean} [plays]
 */
export function putStaff(figure, turn, staff, plays) {
  const place = figure.querySelector(".staff, .missing");
  if (!place || !staff) {
    return;
  }
  const chords = turn.chords.map((c) => sign(c.symbol)).join(", ");
  const who = turn.by === "player" ? "Your" : "The partner's";
  const words = `${who} turn as music: ${turn.notes.length} notes over ${chords}`;
  place.replaceWith(makeStaff(staff, words, plays));
  if (staff.svg) {
    size(figure, staff);
  }
}

/**
 * Its staff is put in when it comes.
 *
 * @param {Turn} turn
 * @param {import("./clock.js").Measured | null} form
 */
export function makeTurn(turn, form) {
  const { beat, beats } = measure(form);
  if (turn.notes.length === 0) {
    const silent = turn.by === "player" ? "Silent: no note was played." : turn.why;
    return make("figure", { class: "turn" }, caption(turn, form), make("p", { class: "foot" }, silent));
  }
  return make(
    "figure",
    { class: "turn" },
    caption(turn, form),
    make("div", { class: "staff" }),
    makeStrip(turn, beat, beats),
    make("p", { class: "foot" }, turn.by === "player" ? timing(turn) : turn.why),
  );
}

/** What is to be played again. @param {import("./protocol.js").Live} exercise */
export function makeExercise({ number, of, name, words, staff }) {
  const figure = make(
    "figure",
    { class: "turn exercise" },
    make("figcaption", {}, make("b", {}, capital(name)), `, ${number} of ${of}`),
    staff ? makeStaff(staff, `${name}, as music`) : make("div", { class: "staff" }),
    !staff?.svg && make("p", { class: "foot" }, words),
  );
  if (staff?.svg) {
    size(figure, staff);
  }
  return figure;
}
