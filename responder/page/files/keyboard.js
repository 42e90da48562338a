/**
 * The picture of a keyboard: the tones of the chord by shape, the letters that
 * play it, and what is held. It is played by mouse and by finger, too.
 *
 * @typedef {import("./protocol.js").Tones} Tones
 * @typedef {import("./keys.js").Struck} Struck
 */

import { draw, fill, make } from "./dom.js";
import { lowestOf, PLACES } from "./keys.js";
import { isBlack, toneOf, touchVelocity, shape } from "./tones.js";

export class Keyboard {
  /** @param {Struck} struck */
  constructor(struck) {
    this.struck = struck;
    this.element = make("div", {
      class: "keyboard",
      role: "img",
      "aria-label": "",
    });
    /** @type {Map<number, HTMLElement>} */
    this.keys = new Map();
    /** @type {Map<number, number>} pitch by pointer */
    this.touches = new Map();
    /** @type {Record<string, string>} */
    this.letters = {};
    this.octave = 4;
    /** @type {Tones | undefined} */
    this.tones = undefined;
    this.whites = 15;
    const on = (/** @type {string} */ name, /** @type {any} */ what) =>
      this.element.addEventListener(name, what.bind(this));
    on("pointerdown", this.touch);
    on("pointermove", this.glide);
    on("pointerup", this.lift);
    on("pointercancel", this.lift);
    new ResizeObserver(() => this.fit()).observe(this.element);
    this.build();
  }

  /** As many keys as are wide enough for a finger. */
  fit() {
    const wide = this.element.clientWidth;
    const whites = wide < 560 ? 8 : wide < 1360 ? 15 : 22;
    if (wide > 0 && whites !== this.whites) {
      this.whites = whites;
      this.build();
    }
  }

  build() {
    this.keys.clear();
    this.element.style.setProperty("--whites", String(this.whites));
    // On a wide page an octave below the letters, too
    let pitch = lowestOf(this.octave) - (this.whites > 15 ? 12 : 0);
    for (let white = 0; white < this.whites; ++pitch) {
      const black = isBlack(pitch);
      const key = make("span", {
        class: black ? "key black" : "key white",
        "data-pitch": pitch,
      });
      key.style.setProperty("--place", String(white));
      white += black ? 0 : 1;
      if (pitch <= 127) {
        this.keys.set(pitch, key);
      }
    }
    fill(this.element, ...this.keys.values());
    this.keys.forEach((_, p) => this.mark(p));
  }

  /** @param {Record<string, string>} letters */
  label(letters) {
    this.letters = letters;
    const all = Object.values(letters);
    const words = `A piano keyboard. ${all[0]} plays C; the digits choose the octave.`;
    this.element.setAttribute("aria-label", words);
    this.keys.forEach((_, p) => this.mark(p));
  }

  /** @param {number} octave */
  move(octave) {
    if (octave !== this.octave) {
      this.octave = octave;
      this.build();
    }
  }

  /** @param {Tones | undefined} tones */
  tell(tones) {
    if (tones !== this.tones) {
      this.tones = tones;
      this.keys.forEach((_, p) => this.mark(p));
    }
  }

  /** @param {number} pitch */
  mark(pitch) {
    const key = this.keys.get(pitch);
    const tone = toneOf(pitch, this.tones);
    const from = lowestOf(this.octave);
    const code = Object.keys(PLACES).find((c) => PLACES[c] === pitch - from);
    const letter = code ? this.letters[code] : "";
    const marked = `${tone ?? ""} ${letter}`;
    if (key && key.dataset.marked !== marked) {
      key.dataset.marked = marked;
      fill(
        key,
        tone &&
          draw("svg", { viewBox: "0 0 20 20" }, shape(tone, 10, 10, 7)),
        make("span", { class: "letter" }, letter),
      );
    }
  }

  /**
   * @param {number} pitch
   * @param {boolean} isHeld
   */
  hold(pitch, isHeld) {
    this.keys.get(pitch)?.classList.toggle("held", isHeld);
  }

  release() {
    this.touches.clear();
    this.keys.forEach((key) => key.classList.remove("held"));
  }

  /** @param {PointerEvent} event */
  under(event) {
    const key = document
      .elementFromPoint(event.clientX, event.clientY)
      ?.closest(".key");
    if (!(key instanceof HTMLElement) || !this.element.contains(key)) {
      return null;
    }
    const box = key.getBoundingClientRect();
    const velocity = touchVelocity((event.clientY - box.top) / box.height);
    return { pitch: Number(key.dataset.pitch), velocity };
  }

  /** @param {PointerEvent} event */
  touch(event) {
    if (event.button === 0) {
      event.preventDefault();
      this.element.setPointerCapture(event.pointerId);
      this.play(event);
    }
  }

  /** @param {PointerEvent} event */
  glide(event) {
    const before = this.touches.get(event.pointerId);
    if (before !== undefined && this.under(event)?.pitch !== before) {
      this.lift(event);
      this.play(event);
    }
  }

  /** @param {PointerEvent} event */
  play(event) {
    const found = this.under(event);
    this.touches.set(event.pointerId, found ? found.pitch : -1);
    if (found) {
      this.struck("on", event.timeStamp, found.pitch, found.velocity);
    }
  }

  /** @param {PointerEvent} event */
  lift(event) {
    const pitch = this.touches.get(event.pointerId);
    this.touches.delete(event.pointerId);
    if (pitch !== undefined && pitch >= 0) {
      this.struck("off", event.timeStamp, pitch);
    }
  }
}
