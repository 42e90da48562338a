/**
 * A staff, engraved: its picture comes as text and is shown as an image of its
 * own, with a place that can move along it. What is long comes in halves, too;
 * which of the two is larger, and shown, the style knows.
 *
 * @typedef {import("./protocol.js").Staff} StaffValue
 * @typedef {import("./protocol.js").Mark} Mark
 */

import { make } from "./dom.js";

/**
 * @param {string} svg
 * @returns {{x: number, y: number, w: number, h: number}}
 */
export function viewBox(svg) {
  const found = /<svg[^>]*\bviewBox="([^"]+)"/.exec(svg);
  const [x, y, w, h] = (found?.[1] ?? "0 0 480 80").trim().split(/[\s,]+/);
  return { x: Number(x), y: Number(y), w: Number(w), h: Number(h) };
}

/**
 * The mark that sounds at a tick: the last that has begun.
 *
 * @param {Mark[]} marks
 * @param {number} tick
 */
export function markAt(marks, tick) {
  /** @type {Mark | null} */
  let found = null;
  for (const mark of marks) {
    if (mark.tick <= tick && (!found || mark.tick >= found.tick)) {
      found = mark;
    }
  }
  return found;
}

/**
 * Where a mark is: how far along its line, and from where to where that reaches,
 * as shares of the picture.
 *
 * @param {string} svg
 * @param {Mark} mark
 */
export function placeOf(svg, mark) {
  const { x, y, w, h } = viewBox(svg);
  return {
    at: (mark.x + mark.w / 2 - x) / w,
    from: (mark.y - y) / h,
    to: (mark.y + mark.h - y) / h,
  };
}

/**
 * A picture as an image of its own.
 *
 * @param {string} svg
 * @param {string} words
 * @param {string} [name] its class
 */
export function svgImage(svg, words, name) {
  const address = URL.createObjectURL(
    new Blob([svg], { type: "image/svg+xml" }),
  );
  const free = () => URL.revokeObjectURL(address);
  return make("img", {
    src: address, alt: words, class: name, load: free, error: free,
  });
}

/** A picture by dots. @param {string} png in base64 @param {string} words */
function pngImage(png, words) {
  const src = `data:image/png;base64,${png}`;
  return make("img", { alt: words, decoding: "async", src });
}

/**
 * The shapes a staff comes in, by name.
 *
 * @param {StaffValue} staff
 * @returns {[string, StaffValue][]}
 */
function shapes(staff) {
  const { halves } = staff;
  return halves ? [["whole", staff], ["halves", halves]] : [["whole", staff]];
}

/**
 * @param {StaffValue} staff
 * @param {string} words what a reader that cannot see it is told
 * @param {boolean} [plays] then lines and letters would take time from the keys
 */
export function makeStaff(staff, words, plays) {
  if (!staff.svg) {
    return make("p", { class: "missing" }, staff.missing ?? "");
  }
  return make(
    "div",
    { class: "staff" },
    ...shapes(staff).map(([name, { svg = "", png }]) => make(
      "div",
      { class: name },
      plays && png ? pngImage(png, words) : svgImage(svg, words),
      make("span", { class: "place", hidden: true }),
    )),
  );
}

/**
 * A staff that stands by itself.
 *
 * @param {StaffValue} staff
 * @param {string} words
 */
export function sizedStaff(staff, words) {
  const element = makeStaff(staff, words);
  size(element, staff);
  return element;
}

/**
 * Tell an element the size of its pictures.
 *
 * @param {HTMLElement} element
 * @param {StaffValue} staff
 */
export function size(element, staff) {
  for (const [name, { svg = "" }] of shapes(staff)) {
    const { w, h } = viewBox(svg);
    element.style.setProperty(`--${name}-wide`, String(w));
    element.style.setProperty(`--${name}-high`, String(h));
  }
  element.classList.add("sized");
  element.classList.toggle("halved", Boolean(staff.halves));
}

/**
 * Move the place along a staff; null takes it away.
 *
 * @param {Element} element of makeStaff()
 * @param {StaffValue} staff
 * @param {number | null} tick
 */
export function movePlace(element, staff, tick) {
  for (const [name, shape] of shapes(staff)) {
    const place = /** @type {HTMLElement | null} */ (
      element.querySelector(`.${name} .place`)
    );
    const { svg = "", marks = [] } = shape;
    const mark = tick === null ? null : markAt(marks, tick);
    if (place) {
      place.hidden = !mark;
    }
    if (place && mark) {
      const { at, from, to } = placeOf(svg, mark);
      place.style.setProperty("--at", `${at * 100}%`);
      place.style.setProperty("--from", `${from * 100}%`);
      place.style.setProperty("--to", `${to * 100}%`);
    }
  }
}
