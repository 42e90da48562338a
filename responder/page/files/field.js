/**
 * A field for a value that has a row: what it may be, and where what is wrong
 * with it is said.
 *
 * @typedef {import("./protocol.js").Row} Row
 * @typedef {import("./protocol.js").Value} Value
 * @typedef {import("./protocol.js").Choosable} Choosable
 */

import { make, write } from "./dom.js";
import { capital, sign } from "./words.js";

/** @type {Record<string, string>} */
const LABELS = {
  bars: "Bars a turn",
  choruses: "Times through",
  first: "Who begins",
  "layer.chords": "Chords",
  "layer.bass": "Bass",
  "layer.drums": "Drums",
  thins: "Band thinner while",
  thru: "Hear my keys",
  lag_ms: "Heard late by",
  "make-room": "Make room",
  hand_span: "Widest stretch",
  who: "Who practises",
  way: "Way of playing",
  split: "Melody hand from",
  lowest: "Answers from",
  highest: "Answers up to",
};

/** What is told of a choice here, where the terminal's words do not fit. */
const HELPS = /** @type {Record<string, string>} */ ({
  key: "the chart is moved to it",
  rung:
    "where to begin, before anything was practised: 3, or notes=2,rhythm=1; " +
    "empty: it is found; from then on \"only rung\" holds a place",
  target: "how many turns of a hundred are meant to come off, 50 to 95 %",
  way: "each has a goal of its own, said before it",
});

let n = 0;

/** @param {string} name */
export function labelOf(name) {
  const plain = name
    .replace(/^sounds\.(\w+)\.program$/, "sound of the $1")
    .replace(/^sounds\.(\w+)\.level$/, "loudness of the $1")
    .replace(/^caps\.(\w+)$/, "highest rung of $1")
    .replace(/^pins\.(\w+)$/, "only rung of $1")
    .replace(/[._-]/g, " ");
  return LABELS[name] ?? capital(plain);
}

/**
 * Where it would say no more than the label, nothing is said.
 *
 * @param {Row} row
 */
export function helpOf(row) {
  if (/^(caps|pins)/.test(row.name)) {
    return "empty: none";
  }
  const help = (HELPS[row.name] ?? row.help ?? "").replace(/^how loud the \w+ is(, )?/, "");
  return help.replace(/^the /, "") === labelOf(row.name).toLowerCase() ? "" : help;
}

/** @param {Choosable} choosable */
function option(choosable) {
  const { value, words } =
    typeof choosable === "object"
      ? choosable
      : { value: choosable, words: sign(choosable) };
  return make("option", { value }, words);
}

/**
 * @param {Row} row
 * @param {Value} value
 * @param {string} id
 */
function makeInput(row, value, id) {
  const among = row.among ?? row.words;
  if (among && among.length > 0) {
    const select = make("select", { id }, ...among.map(option));
    select.value = String(value);
    if (select.selectedIndex < 0) {
      select.prepend(option(String(value)));
      select.selectedIndex = 0;
    }
    return select;
  }
  if (row.type === "flag" || typeof value === "boolean") {
    const box = make("input", { id, type: "checkbox" });
    box.checked = value === true || value === "true";
    return box;
  }
  const isNumber = typeof value === "number";
  return make("input", {
    id,
    type: isNumber ? "number" : "text",
    min: isNumber ? row.least : null,
    max: isNumber ? row.most : null,
    step: isNumber ? (row.type === "number" ? "any" : 1) : null,
    value,
    autocomplete: "off",
    spellcheck: "false",
  });
}

/**
 * @param {HTMLInputElement | HTMLSelectElement} input
 * @param {Value} was
 * @param {Row} row
 * @returns {Value} of the kind it was
 */
function valueOf(input, was, row) {
  if (input instanceof HTMLInputElement && input.type === "checkbox") {
    return input.checked;
  }
  const isNumber =
    typeof was === "number" || /^(number|whole)$/.test(row.type);
  return isNumber && input.value !== "" && isFinite(Number(input.value))
    ? Number(input.value)
    : input.value;
}

/**
 * @param {Row} row
 * @param {Value} value
 * @param {(value: Value) => Promise<any>} choose rejects with what is wrong
 */
export function makeField(row, value, choose) {
  const id = `field-${++n}`;
  const input = makeInput(row, value, id);
  const wrong = make("p", { class: "wrong", id: `${id}-wrong`, role: "alert" });
  const help = make("p", { class: "help", id: `${id}-help` }, helpOf(row));
  input.setAttribute("aria-describedby", `${id}-help ${id}-wrong`);
  input.addEventListener("change", async () => {
    try {
      await choose(valueOf(input, value, row));
      write(wrong, "");
      input.removeAttribute("aria-invalid");
    } catch (fault) {
      write(wrong, /** @type {Error} */ (fault).message);
      input.setAttribute("aria-invalid", "true");
    }
  });
  return make(
    "div",
    { class: "field", "data-name": row.name },
    make("label", { for: id }, labelOf(row.name)),
    input,
    row.unit === "bpm" && make("span", { class: "unit" }, row.unit),
    help,
    wrong,
  );
}
