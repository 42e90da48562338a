/**
 * Whose turn it is and how long, in words.
 *
 * @typedef {import("./protocol.js").State} State
 */

import { measure } from "./clock.js";
import { turnAfterSilence, turnOfBar } from "./form.js";
import { tapPitch } from "./tap.js";
import { count } from "./words.js";

const BY = {
  player: { whose: "Your turn", then: "you" },
  partner: { whose: "Partner’s turn", then: "your partner" },
};

/** @type {Record<string, {whose: string, left: string}>} */
const STILL = {
  idle: { whose: "Ready when you are", left: "Space begins" },
  paused: { whose: "Paused", left: "Space goes on, after a bar of clicks" },
  over: { whose: "The end", left: "look back at it, or once more" },
};

const DONE = { whose: "That’s it", left: "Space begins to trade" };

/**
 * @param {State} state
 * @param {number} tick
 * @returns {{whose: string, left: string, told: string}} `told`: for those who
 * listen to the page, once a turn
 */
export function headline(state, tick) {
  const { form, session, cut } = state;
  const isDone = session.stands === "over" && (session.kind ?? "trade") !== "trade";
  const still = isDone ? DONE : STILL[session.stands];
  if (!form) {
    return { whose: "One moment", left: "", told: "" };
  }
  if (cut) {
    return { whose: "Not connected", left: "", told: "Not connected" };
  }
  if (still) {
    const { whose, left } = still;
    return { whose, left, told: session.stands === "idle" ? "" : whose };
  }
  const { beat, bar } = measure(form);
  if (tick < 0) {
    const first = turnOfBar(form, 1)?.by ?? "player";
    const beats = Math.max(1, Math.ceil(-tick / beat));
    const begin = first === "player" ? "then you begin" : "then your partner begins";
    return {
      whose: "Count-in",
      left: `${count(beats, "beat")}, ${begin}`,
      told: `Count-in, ${begin}`,
    };
  }
  const turn = turnOfBar(form, Math.floor(tick / bar) + 1);
  const coming = turnAfterSilence(form, Math.floor(tick / bar) + 1);
  if (coming) {
    const beats = Math.max(1, Math.ceil(((coming.first_bar - 1) * bar - tick) / beat));
    const whose = coming.by === "player" ? "Sing it first" : "A silent bar";
    return { whose, left: `${count(beats, "beat")}, then ${BY[coming.by].then}`, told: whose };
  }
  if (!turn) {
    return { whose: "Listen", left: "", told: "" };
  }
  const end = (turn.first_bar + turn.bars - 1) * bar;
  const beats = Math.max(1, Math.ceil((end - tick) / beat));
  const after = turn.first_bar + turn.bars;
  const next = turnOfBar(form, after);
  const { whose } = BY[turn.by];
  const tapped = tapPitch(state, tick) !== null && turn.by === "player" ? "; Space taps" : "";
  const then = next
    ? `, then ${BY[next.by].then}`
    : turnAfterSilence(form, after) ? ", then silence" : "";
  return { whose, left: `${count(beats, "beat")} left${then}${tapped}`, told: whose };
}
