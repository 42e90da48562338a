/**
 * The rung, a number for each of its four dimensions.
 *
 * @typedef {import("./protocol.js").Row} Row
 * @typedef {import("./protocol.js").Value} Value
 */

import { make, write } from "./dom.js";
import { explain } from "./help.js";
import { capital } from "./words.js";

const MOST = { notes: 8, rhythm: 7, shape: 6, ornament: 4 };

/** @typedef {keyof typeof MOST} Dimension */

const DIMENSIONS = /** @type {Dimension[]} */ (Object.keys(MOST));

/**
 * @param {string} text `3`, or `notes=2,rhythm=1,...`
 * @returns {Record<Dimension, number>}
 */
export function readRung(text) {
  const all = Number(text);
  const rung = { notes: 1, rhythm: 1, shape: 1, ornament: 1 };
  for (const name of DIMENSIONS) {
    const found = new RegExp(`\\b${name}=(\\d+)`).exec(text);
    const level = found ? Number(found[1]) : all || 1;
    rung[name] = Math.min(MOST[name], level);
  }
  return rung;
}

/** @param {Record<Dimension, number>} rung */
export function writeRung(rung) {
  return DIMENSIONS.map((name) => `${name}=${rung[name]}`).join(",");
}

/**
 * @param {Row} _row
 * @param {Value} value
 * @param {(value: Value) => Promise<any>} choose rejects with what is wrong
 */
export function makeRungField(_row, value, choose) {
  const rung = readRung(String(value));
  const wrong = make("p", { class: "wrong", role: "alert" });
  const change = async (/** @type {Dimension} */ name, /** @type {string} */ to) => {
    rung[name] = Number(to);
    try {
      await choose(writeRung(rung));
      write(wrong, "");
    } catch (fault) {
      write(wrong, /** @type {Error} */ (fault).message);
    }
  };
  const one = (/** @type {Dimension} */ name) => {
    const select = make(
      "select",
      {
        change: (/** @type {Event} */ e) =>
          change(name, /** @type {HTMLSelectElement} */ (e.target).value),
      },
      ...Array.from({ length: MOST[name] }, (_, i) =>
        make("option", { value: i + 1 }, `${i + 1} of ${MOST[name]}`),
      ),
    );
    select.value = String(rung[name]);
    return make("label", {}, `${capital(name)} `, select);
  };
  return make(
    "div",
    { class: "rung whole", role: "group", "aria-label": "Rung" },
    make("span", {}, "Rung ", explain("rung", "what is it?")),
    ...DIMENSIONS.map(one),
    wrong,
  );
}
