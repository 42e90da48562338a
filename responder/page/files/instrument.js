/**
 * Everything the page is played by, joined: each key is stamped with the
 * server's clock and sent, and shown as held.
 *
 * @typedef {import("./app.js").App} App
 */

import { makeField } from "./field.js";
import { Keyboard } from "./keyboard.js";
import { ComputerKeys, isTyping, letters } from "./keys.js";

export class Instrument {
  /** @param {App} app */
  constructor(app) {
    this.app = app;
    const struck = this.struck.bind(this);
    this.keys = new ComputerKeys(struck);
    this.keyboard = new Keyboard(struck);
    this.saidNarrow = false;
    app.store.watch(["keys"], ({ keys }) => {
      keys.on.forEach((pitch) => this.keyboard.hold(pitch, true));
      keys.off.forEach((pitch) => this.keyboard.hold(pitch, false));
    });
    letters().then((found) => this.keyboard.label(found));
    window.addEventListener("keydown", (e) => this.down(e));
    window.addEventListener("keyup", (e) => this.keys.up(e));
    window.addEventListener("blur", () => this.release());
    document.addEventListener("visibilitychange", () => this.release());
  }

  /** @type {import("./keys.js").Struck} */
  struck(play, ms, pitch, velocity) {
    if (!this.app.store.state.me.plays) {
      return;
    }
    const at = this.app.clock.there(ms);
    this.app.wire?.key(play, at, pitch, velocity);
    if (pitch !== undefined) {
      this.keyboard.hold(pitch, play === "on");
    }
  }

  /** @param {KeyboardEvent} event */
  down(event) {
    if (isTyping(event.target)) {
      return;
    }
    const was = this.keys.down(event);
    if (was) {
      event.preventDefault();
      this.keyboard.move(this.keys.octave);
    }
    if (this.keys.seemsNarrow && !this.saidNarrow) {
      this.saidNarrow = true;
      this.app.remind(
        "This computer's keyboard seems to report two keys at a time and no " +
          "more. Lines come through; for chords use the mouse, a touch screen " +
          "or a MIDI keyboard.",
      );
    }
  }

  release() {
    const touched = this.keyboard.touches.size > 0;
    this.keys.release();
    this.keyboard.release();
    if (touched) {
      this.struck("none", performance.now());
    }
  }

  /** What is the page's own to choose. */
  ownFields() {
    const { keys } = this;
    /** @type {import("./protocol.js").Row} */
    const number = {
      name: "loudness of the computer's keys", type: "number",
      help: "1 to 127; Shift plays louder", least: 1, most: 127,
    };
    /** @type {import("./protocol.js").Row} */
    const flag = {
      name: "play by the computer's keys", type: "flag",
      help: "off: letters and digits do nothing",
    };
    return [
      makeField(number, keys.loudness, async (value) => {
        keys.loudness = Math.max(1, Math.min(127, Number(value) || 80));
      }),
      makeField(flag, keys.isOn, async (value) => {
        keys.isOn = value === true;
      }),
    ];
  }
}
