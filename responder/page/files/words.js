/** How things are said: numbers, chords, turns. */

const NUMBERS = [
  "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine",
  "ten", "eleven", "twelve",
];

/** @param {number} n */
export function number(n) {
  return NUMBERS[n] ?? String(n);
}

/**
 * @param {number} n
 * @param {string} one
 * @param {string} [many]
 */
export function count(n, one, many = `${one}s`) {
  return `${number(n)} ${n === 1 ? one : many}`;
}

/** @param {string} text */
export function capital(text) {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/**
 * A chord or a key with its accidentals as they are written.
 *
 * @param {string} symbol
 */
export function sign(symbol) {
  return symbol
    .replace(/\b([A-G])b/g, "$1♭")
    .replace(/b(?=\d|[IV])/g, "♭")
    .replace(/#/g, "♯");
}

/**
 * @param {number} first
 * @param {number} n
 */
export function bars(first, n) {
  const last = first + n - 1;
  return n === 1
    ? `bar ${first}`
    : `bars ${first} ${n === 2 ? "and" : "to"} ${last}`;
}

/**
 * What was struck beside the turn's own bars.
 *
 * @param {import("./protocol.js").Turn} turn
 */
function beside(turn) {
  const early = turn.early ? `; ${sign(turn.early.name)} in the bar to sing in` : "";
  return turn.landing ? `${early}; landed on ${sign(turn.landing.name)} after it` : early;
}

/**
 * When a turn's notes came, in words.
 *
 * @param {import("./protocol.js").Turn} turn
 */
export function timing(turn) {
  return `${inside(turn)}${beside(turn)}`;
}

/** @param {import("./protocol.js").Turn} turn */
function inside(turn) {
  const { offset_ms: offset, spread_ms: spread } = turn.rhythm ?? {};
  if (turn.notes.length === 0) {
    return "silent";
  }
  const ms = Math.round(Math.abs(offset ?? 0));
  /** @type {string[]} */
  const said = [];
  if (typeof offset === "number") {
    said.push(
      ms < 5
        ? "on the beat on average"
        : `${ms} ms ${offset > 0 ? "late" : "early"} on average`,
    );
  }
  if (typeof spread === "number") {
    said.push(`give or take ${Math.round(spread)} ms`);
  }
  const silent = `${Math.round((turn.space ?? 0) * 100)} % of it silent`;
  return `${said.join(", ")}${said.length ? "; " : ""}${silent}`;
}

/**
 * Somebody's name; two of one name are told apart.
 *
 * @param {{id: string, name: string}[]} people
 * @param {string} id
 */
export function apart(people, id) {
  const name = people.find((p) => p.id === id)?.name ?? id;
  return people.some((p) => p.name === name && p.id !== id) ? `${name} (${id})` : name;
}

/** What a word means, where it stands. */
export const MEANINGS = {
  rung:
    "A rung is how much may be in the music, counted from easy to free: one " +
    "number each for notes, rhythm, shape and ornament.",
  move:
    "A move is what the partner did with your phrase: said it again, changed " +
    "its ending, turned it upside down.",
  space: "Space is how much of your turn was left silent.",
  "swing ratio":
    "The swing ratio tells how long the first of two eighths is: 1 : 1 is " +
    "even, 2 : 1 is the long-short of a triplet.",
  landed: "A phrase landed when the tone that it ended on was of the chord.",
  "came off":
    "A turn came off when it ended on a tone of its chord, was in time for " +
    "you, led its notes on, left some space, and had to do with what the " +
    "partner said.",
};
