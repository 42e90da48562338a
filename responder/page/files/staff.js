/**
 * A staff, engraved: its picture comes as text and is shown as an image of its
 * own, with a place that can move along it.
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
 * @param {StaffValue} staff
 * @param {string} words what a reader that cannot see it is told
 * @param {boolean} [plays] then lines and letters would take time from the keys
 */
export function makeStaff(staff, words, plays) {
  if (!staff.svg) {
    return make("p", { class: "missing" }, staff.missing ?? "");
  }
  const { svg, png } = staff;
  const picture = plays && png ? pngImage(png, words) : svgImage(svg, words);
  const place = make("span", { class: "place", hidden: true });
  return make("div", { class: "staff" }, picture, place);
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
 * Tell an element the size of its picture.
 *
 * @param {HTMLElement} element
 * @param {StaffValue} staff
 */
export function size(element, staff) {
  const { w, h } = viewBox(staff.svg ?? "");
  element.style.setProperty("--wide", String(w));
  element.style.setProperty("--high", String(h));
}

/**
 * Move the place along a staff; null takes it away.
 *
 * @param {Element} element of makeStaff()
 * @param {StaffValue} staff
 * @param {number | null} tick
 */
export function movePlace(element, staff, tick) {
  const place = /** @type {HTMLElement | null} */ (
    element.querySelector(".place")
  );
  const mark = tick === null ? null : markAt(staff.marks ?? [], tick);
  if (!place || !staff.svg) {
    return;
  }
  place.hidden = !mark;
  if (mark) {
    const box = viewBox(staff.svg);
    const middle = (mark.x + mark.w / 2 - box.x) / box.w;
    place.style.setProperty("--at", `${middle * 100}%`);
  }
}
