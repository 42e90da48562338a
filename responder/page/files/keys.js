/**
 * Playing by the computer's keys, by place and not by letter: the home row is
 * the white keys from C, the row above it the black ones, and digits choose the
 * octave.
 *
 * @typedef {(play: "on" | "off" | "none", ms: number, pitch?: number,
 *   velocity?: number) => void} Struck
 */

/** Semitones above the C of the octave. */
export const PLACES = /** @type {Record<string, number>} */ ({
  KeyA: 0, KeyW: 1, KeyS: 2, KeyE: 3, KeyD: 4, KeyF: 5, KeyT: 6, KeyG: 7,
  KeyY: 8, KeyH: 9, KeyU: 10, KeyJ: 11, KeyK: 12, KeyO: 13, KeyL: 14, KeyP: 15,
  Semicolon: 16, Quote: 17,
});

const US_LETTERS = /** @type {Record<string, string>} */ ({
  Semicolon: ";",
  Quote: "'",
});

const SHIFT_LOUDER = 28;
const TWOS_UNTIL_SURE = 16; // Pairs of keys, and never three at a time

/**
 * The octave that a digit chooses, as octaves are numbered: 4 begins at middle
 * C.
 *
 * @param {string} code
 * @returns {number | null}
 */
export function octaveOf(code) {
  const found = /^(?:Digit|Numpad)([1-7])$/.exec(code);
  return found ? Number(found[1]) : null;
}

/** @param {number} octave */
export function lowestOf(octave) {
  return 12 * (octave + 1);
}

/**
 * @param {string} code
 * @param {number} octave
 * @returns {number | null} a MIDI key
 */
export function pitchOf(code, octave) {
  const place = PLACES[code];
  return place === undefined ? null : lowestOf(octave) + place;
}

/**
 * @param {number} loudness 1..127
 * @param {boolean} shift
 */
export function velocityOf(loudness, shift) {
  return Math.max(1, Math.min(127, loudness + (shift ? SHIFT_LOUDER : 0)));
}

/**
 * The letters on the keys here.
 *
 * @returns {Promise<Record<string, string>>} by code
 */
export async function letters() {
  /** @type {Record<string, string>} */
  const found = {};
  /** @type {Map<string, string> | undefined} */
  let layout;
  try {
    const keyboard = /** @type {any} */ (navigator).keyboard;
    layout = await keyboard?.getLayoutMap?.();
  } catch {
    layout = undefined;
  }
  for (const code of Object.keys(PLACES)) {
    const usual = US_LETTERS[code] ?? code.slice(3);
    found[code] = (layout?.get(code) ?? usual).toUpperCase();
  }
  return found;
}

/** Whether an event is meant for something that is typed into. */
export function isTyping(/** @type {EventTarget | null} */ target) {
  return (
    target instanceof Element &&
    target.closest("input, select, textarea, dialog") !== null
  );
}

/** The computer's keys as an instrument. */
export class ComputerKeys {
  /** @param {Struck} struck */
  constructor(struck) {
    this.struck = struck;
    this.octave = 4;
    this.loudness = 80;
    this.isOn = true;
    /** @type {Map<string, number>} the pitch each key sounds */
    this.held = new Map();
    this.twos = 0;
    this.threes = 0;
  }

  /**
   * @param {{code: string, repeat: boolean, shiftKey: boolean,
   *   ctrlKey: boolean, altKey: boolean, metaKey: boolean,
   *   timeStamp: number}} event
   * @returns {"note" | "octave" | null} what it was
   */
  down(event) {
    if (!this.isOn || event.ctrlKey || event.altKey || event.metaKey) {
      return null;
    }
    const octave = octaveOf(event.code);
    if (octave !== null) {
      this.octave = octave;
      return "octave";
    }
    const pitch = pitchOf(event.code, this.octave);
    if (pitch === null || pitch > 127) {
      return null;
    }
    if (!event.repeat && !this.held.has(event.code)) {
      this.held.set(event.code, pitch);
      this.twos += this.held.size === 2 ? 1 : 0;
      this.threes += this.held.size >= 3 ? 1 : 0;
      const velocity = velocityOf(this.loudness, event.shiftKey);
      this.struck("on", event.timeStamp, pitch, velocity);
    }
    return "note";
  }

  /** @param {{code: string, timeStamp: number}} event */
  up(event) {
    const pitch = this.held.get(event.code);
    if (pitch === undefined) {
      return;
    }
    this.held.delete(event.code);
    if (![...this.held.values()].includes(pitch)) {
      this.struck("off", event.timeStamp, pitch);
    }
  }

  /** Let everything go. */
  release() {
    if (this.held.size > 0) {
      this.held.clear();
      this.struck("none", performance.now());
    }
  }

  /** Whether this keyboard seems to report two keys at a time and no more. */
  get seemsNarrow() {
    return this.threes === 0 && this.twos >= TWOS_UNTIL_SURE;
  }
}
