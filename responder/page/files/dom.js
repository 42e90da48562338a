/** Elements, made briefly; text is always text. */

const SVG = "http://www.w3.org/2000/svg";

/**
 * @typedef {Node | string | null | undefined | false} Child
 * @typedef {Record<string, any>} Attributes `class`, attributes by their
 * names, and listeners as functions: `click`, `change`
 */

/**
 * @param {Element} element
 * @param {Attributes} attributes
 */
export function set(element, attributes) {
  for (const [name, value] of Object.entries(attributes)) {
    if (typeof value === "function") {
      element.addEventListener(name, value);
    } else if (value === true) {
      element.setAttribute(name, "");
    } else if (value === false || value === null || value === undefined) {
      element.removeAttribute(name);
    } else {
      element.setAttribute(name, String(value));
    }
  }
}

/**
 * @template {keyof HTMLElementTagNameMap} K
 * @param {K} tag
 * @param {Attributes | null} [attributes]
 * @param {...Child} children
 * @returns {HTMLElementTagNameMap[K]}
 */
export function make(tag, attributes, ...children) {
  const element = document.createElement(tag);
  set(element, attributes ?? {});
  fill(element, ...children);
  return element;
}

/**
 * @param {string} tag
 * @param {Attributes} attributes
 * @param {...Child} children
 * @returns {SVGElement}
 */
export function draw(tag, attributes, ...children) {
  const element = document.createElementNS(SVG, tag);
  set(element, attributes);
  fill(element, ...children);
  return element;
}

/**
 * Put these in, and nothing else.
 *
 * @param {Element} element
 * @param {...Child} children
 */
export function fill(element, ...children) {
  element.replaceChildren(
    .../** @type {(Node | string)[]} */ (children.filter(Boolean)),
  );
}

/**
 * Write a text, if it is another.
 *
 * @param {Element} element
 * @param {string} text
 */
export function write(element, text) {
  if (element.textContent !== text) {
    element.textContent = text;
  }
}

/**
 * @param {string} text
 * @param {(event: Event) => void} click
 * @param {Attributes} [attributes]
 */
export function button(text, click, attributes = {}) {
  return make("button", { type: "button", click, ...attributes }, text);
}

/**
 * Let someone keep a file.
 *
 * @param {{file: string, type: string, base64: string}} answer
 */
export function keepFile({ file, type, base64 }) {
  const bytes = Uint8Array.from(atob(base64), (c) => c.charCodeAt(0));
  const address = URL.createObjectURL(new Blob([bytes], { type }));
  const link = make("a", { href: address, download: file });
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 60000);
}
