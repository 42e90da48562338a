/**
 * Two clocks and a place: what the server's clock says now, and where the
 * session stands by it.
 *
 * @typedef {import("./protocol.js").Place} Place
 */

export const TICKS_A_QUARTER = 960;

const KEPT = 12; // Round trips that are remembered

/** The offset between two clocks, by the quickest of the last round trips. */
export class Clock {
  constructor() {
    /** @type {{offset: number, took: number}[]} */
    this.trips = [];
  }

  /**
   * @param {number} sent when the question left, by this clock, in ms
   * @param {number} here what the other clock said
   * @param {number} got when the answer came, by this clock
   */
  hear(sent, here, got) {
    const took = got - sent;
    if (!(took >= 0)) {
      return;
    }
    this.trips.push({ offset: here - (sent + got) / 2, took });
    this.trips.splice(0, Math.max(0, this.trips.length - KEPT));
  }

  /** How far the other clock is ahead of this one, in ms. */
  get offset() {
    let best = { offset: 0, took: Infinity };
    for (const trip of this.trips) {
      best = trip.took <= best.took ? trip : best;
    }
    return best.offset;
  }

  /**
   * @param {number} ms by this clock
   * @returns {number} the same moment by the other clock
   */
  there(ms) {
    return ms + this.offset;
  }
}

/**
 * @param {Place} place
 * @param {number} at ms by the server's clock
 * @returns {number} the tick then
 */
export function tickAt(place, at) {
  if (!place.running) {
    return place.tick;
  }
  const quarters = ((at - place.at) * place.tempo) / 60000;
  return place.tick + quarters * TICKS_A_QUARTER;
}

/**
 * How long it takes until the next beat.
 *
 * @param {number} tempo
 * @param {number} beat ticks
 * @param {number} tick
 * @returns {number} ms
 */
export function untilBeat(tempo, beat, tick) {
  const left = (Math.floor(tick / beat) + 1) * beat - tick;
  return (left * 60000) / (tempo * TICKS_A_QUARTER);
}

/**
 * @typedef {{bar_ticks: number, beat_ticks: number}} Measured
 * @param {Measured | null} form none: four quarters
 * @returns {{beat: number, beats: number, bar: number}} ticks a beat, beats a
 * bar, ticks a bar
 */
export function measure(form) {
  const beat = form?.beat_ticks ?? TICKS_A_QUARTER;
  const bar = form?.bar_ticks ?? TICKS_A_QUARTER * 4;
  return { beat, beats: Math.max(1, Math.round(bar / beat)), bar };
}
