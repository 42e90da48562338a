/**
 * The form as one strip: a bar each, whose turn it is below, and the beats in
 * the bar that sounds.
 *
 * @typedef {import("./protocol.js").Form} Form
 */

import { measure } from "./clock.js";
import { fill, make, set } from "./dom.js";
import { turnAfterSilence, turnOfBar } from "./form.js";
import { sign } from "./words.js";

const LONG = 16;

/** @type {Record<string, string>} */
const WHOSE = {
  player: ", yours", partner: ", your partner's", silence: ", silent", nobody: "",
};

/**
 * The chords of a bar, as they are written in it; a chord that goes on is not
 * written again.
 *
 * @param {Form} form
 * @param {number} i
 */
function written(form, i) {
  const symbols = form.bars[i].map((chord) => chord.symbol);
  const before = form.bars.slice(0, i).flat().at(-1)?.symbol;
  const goesOn = symbols.every((symbol) => symbol === before);
  return goesOn ? "·" : symbols.map(sign).join("  ");
}

/** The strip. */
export class FormStrip {
  constructor() {
    this.element = make("ol", { class: "form", "aria-label": "The form" });
    /** @type {Form | null} */
    this.form = null;
    /** @type {HTMLElement[]} */
    this.bars = [];
    this.now = "";
    this.round = -1;
    this.side = 1;
  }

  /**
   * @param {Form | null} form
   * @param {boolean} [isShort] of a long one only the round that sounds is shown
   */
  show(form, isShort = false) {
    this.form = form;
    this.now = "";
    this.round = -1;
    this.bars = (form?.bars ?? []).map((_, i) => this.bar(i));
    const n = this.bars.length;
    this.side = isShort && n > LONG ? rounds(form) : n;
    this.element.style.setProperty("--bars", String(columns(this.side)));
    fill(this.element, ...this.bars);
    this.showRound(0);
  }

  /** @param {number} i */
  bar(i) {
    const form = /** @type {Form} */ (this.form);
    const beats = Array.from({ length: measure(form).beats }, () => make("i"));
    return make(
      "li",
      { class: "bar" },
      make("span", { class: "no" }, String(i + 1), make("i", { "aria-hidden": "true" })),
      chordsOf(written(form, i)),
      make("span", { class: "beats", "aria-hidden": "true" }, ...beats),
      make("span", { class: "unseen" }),
    );
  }

  /**
   * Whose turns they are, this time through the form.
   *
   * @param {number} round
   */
  showRound(round) {
    const form = this.form;
    if (!form || round === this.round) {
      return;
    }
    this.round = round;
    this.bars.forEach((bar, i) => {
      const n = round * form.bars.length + i + 1;
      const turn = turnOfBar(form, n);
      const by = turn?.by ?? (turnAfterSilence(form, n) ? "silence" : "nobody");
      bar.dataset.by = by;
      const begins = turn?.first_bar === n;
      bar.dataset.begins = String(begins);
      const label = begins ? (by === "player" ? "you" : "partner") : "";
      /** @type {Element} */ (bar.querySelector(".no i")).textContent = label;
      /** @type {Element} */ (bar.lastChild).textContent = WHOSE[by];
    });
  }

  /**
   * Show the place.
   *
   * @param {number} tick from the first beat of the session
   * @param {boolean} sounds
   */
  place(tick, sounds) {
    const form = this.form;
    if (!form || form.bars.length === 0) {
      return;
    }
    const { beat, beats, bar } = measure(form);
    const isIn = sounds && tick >= 0;
    const n = isIn ? Math.floor(tick / bar) : -1;
    const on = isIn ? Math.floor((tick - n * bar) / beat) + 1 : 0;
    const now = `${n}.${on}`;
    if (now === this.now) {
      return;
    }
    this.now = now;
    this.showRound(n < 0 ? 0 : Math.floor(n / form.bars.length));
    const within = n < 0 ? -1 : n % form.bars.length;
    const line = Math.floor(Math.max(within, 0) / this.side);
    this.bars.forEach((element, i) => {
      const isNow = i === within;
      set(element, { "aria-current": isNow ? "true" : null });
      element.classList.toggle("past", i < within);
      element.hidden = Math.floor(i / this.side) !== line;
      element.querySelectorAll(".beats i").forEach((dot, b) => {
        dot.classList.toggle("on", isNow && b < on && b < beats);
      });
    });
  }
}

/**
 * The bars of turns and their answers: eight, or a few more.
 *
 * @param {Form | null} form
 */
function rounds(form) {
  const [one, other] = form?.turns ?? [];
  const round = (one?.bars ?? 1) + (other?.bars ?? 0);
  return round * Math.ceil(8 / round);
}

/**
 * The chords of a bar, with how many letters there are to find room for.
 *
 * @param {string} words
 */
function chordsOf(words) {
  const element = make("b", {}, words);
  const lengths = words.split("  ").map((chord) => chord.length);
  element.style.setProperty("--longest", String(Math.max(...lengths)));
  element.style.setProperty("--all", String(words.length));
  return element;
}

/**
 * How many bars stand side by side.
 *
 * @param {number} n
 */
function columns(n) {
  const rows = n <= 12 ? 1 : n <= 16 ? 2 : Math.ceil(n / 16);
  return n % 8 === 0 && rows > 2 ? 16 : Math.max(Math.ceil(n / rows), 1);
}
