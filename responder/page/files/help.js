/** A word that explains itself when it is pointed at or chosen. */

import { make } from "./dom.js";
import { MEANINGS } from "./words.js";

const EDGE = 8; // Pixels that are left free beside it

let n = 0;

/** All of it is to be read: it begins further left where the page ends. @param {HTMLElement} box */
function keepInside(box) {
  box.style.insetInlineStart = "0";
  const over = box.getBoundingClientRect().right - document.documentElement.clientWidth + EDGE;
  if (over > 0) {
    box.style.insetInlineStart = `${-over}px`;
  }
}

/**
 * @param {keyof typeof MEANINGS} word
 * @param {string} [text] as it stands here
 */
export function explain(word, text = word) {
  const id = `meaning-${++n}`;
  const meaning = make(
    "span",
    { class: "meaning", role: "tooltip", id, hidden: true },
    MEANINGS[word],
  );
  const shown = (/** @type {boolean} */ is) => () => {
    meaning.hidden = !is;
    keepInside(meaning);
  };
  const asked = make(
    "button",
    {
      type: "button",
      class: "word",
      "aria-describedby": id,
      focus: shown(true),
      blur: shown(false),
      keydown: (/** @type {KeyboardEvent} */ e) => {
        meaning.hidden = e.key === "Escape" || meaning.hidden;
      },
    },
    text,
  );
  return make(
    "span",
    { class: "explained", mouseenter: shown(true), mouseleave: shown(false) },
    asked,
    meaning,
  );
}
