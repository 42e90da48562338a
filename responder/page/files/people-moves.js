/**
 * Who leaves, and who is brought in, on the place People.
 *
 * @typedef {import("./app.js").App} App
 * @typedef {{app: App, body: HTMLElement, face: () => void}} Place
 */

import { button, fill, make } from "./dom.js";
import { sendFile } from "./file.js";
import { attempt, showAnswer } from "./page-parts.js";

/**
 * A button that asks for something, and says what came of it.
 *
 * @param {Place} place
 * @param {string} words
 * @param {() => Promise<any>} ask
 * @param {string} done
 */
const asking = ({ app, body }, words, ask, done) =>
  button(words, async () => {
    if (await attempt(app, ask(), done)) {
      fill(body);
    }
  });

/**
 * @param {Place} place
 * @param {string} id
 * @param {string} name
 */
export async function remove(place, id, name) {
  const { app, body } = place;
  const removed = await attempt(app, app.ask("people remove", { id }));
  if (!removed) {
    return;
  }
  fill(
    body,
    make("p", {}, `${name} is removed. All of it is kept for ${removed.days} days ` +
      "in case it is wanted back, then it goes. Bring in a file brings it back " +
      "from there:"),
    make("p", { class: "soft path" }, removed.path),
    make(
      "div",
      { class: "row" },
      asking(place, "Undo", () => app.ask("people undo"), `${name} is here again.`),
      asking(
        place,
        "Remove for good, recordings too",
        () => app.ask("people remove", { id, for_good: true }),
        `Nothing is left of ${name}.`,
      ),
    ),
  );
  place.face();
}

/**
 * Look at what an exported learner would change, and bring it in.
 *
 * @param {Place} place
 * @param {HTMLInputElement} input
 */
export async function bringIn(place, input) {
  const { app, body } = place;
  const file = input.files?.[0];
  if (!file) {
    return;
  }
  input.value = ""; // The same file may be chosen again
  const bring = (/** @type {string} */ words, fields = {}) =>
    asking(place, words, () => app.ask("people import", fields), "It is here now.");
  const looked = sendFile(app, file, "people import look");
  await showAnswer(app, body, looked, ({ words, is_other }) => [
    make("h2", {}, "This would come in"),
    ...words.map((/** @type {string} */ line) => make("p", {}, line)),
    make(
      "div",
      { class: "row" },
      ...(is_other
        ? [
          bring("Bring it in as a new person", { apart: true }),
          bring("They are the same: make one of both", { same: true }),
        ]
        : [bring("Bring it in")]),
      button("Leave it", () => fill(body)),
    ),
  ]);
  place.face();
}
