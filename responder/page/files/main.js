/** The page, put together. */

import { Clock } from "./clock.js";
import { Charts } from "./charts.js";
import { button, fill, make, set, write } from "./dom.js";
import { Ideas } from "./ideas.js";
import { LookBack } from "./look-back.js";
import { Notices } from "./notices.js";
import { People } from "./people.js";
import { Play } from "./play.js";
import { Progress } from "./progress.js";
import { Sheets } from "./sheets.js";
import { Store } from "./state.js";
import { WarmUp } from "./warm-up.js";
import { CUT, Wire } from "./wire.js";
import { sign } from "./words.js";

/**
 * @typedef {import("./app.js").App} App
 * @typedef {import("./app.js").PlaceView} PlaceView
 */

/** @type {{name: string, words: string, make: (app: App) => PlaceView}[]} */
const PLACES = [
  { name: "play", words: "Play", make: (app) => new Play(app) },
  { name: "look-back", words: "Look back", make: (app) => new LookBack(app) },
  { name: "ideas", words: "Ideas", make: (app) => new Ideas(app) },
  { name: "warm-up", words: "Warm up", make: (app) => new WarmUp(app) },
  { name: "progress", words: "Progress", make: (app) => new Progress(app) },
  { name: "people", words: "People", make: (app) => new People(app) },
  { name: "sheets", words: "Sheets", make: (app) => new Sheets(app) },
  { name: "charts", words: "Charts", make: (app) => new Charts(app) },
];

const CLOCK_FIRST = 6; // Round trips at once
const CLOCK_EVERY_MS = 4000;

const key = location.hash.slice(1).split("/")[0];
const one = (/** @type {string} */ name) =>
  /** @type {HTMLElement} */ (document.querySelector(name));

const notices = new Notices(one(".notices"));
/** @type {Map<string, PlaceView>} */
const views = new Map();
let here = "";

/** @type {App} */
const app = {
  wire: null,
  clock: new Clock(),
  store: new Store(),
  notice: (text) => notices.pass(text, true),
  done: (text) => (text ? notices.pass(text) : notices.done()),
  remind: (text) => notices.say(text),
  tell: (text) => write(one(".told"), text),
  go: (place) => {
    location.hash = `${key}/${place}`;
  },
  brought: undefined,
  ask: async (name, fields, progress) => {
    if (!app.wire) {
      throw new Error(CUT);
    }
    return app.wire.ask(name, fields, progress);
  },
};

// Places

/** The place of the address, and its details. @returns {[string, ...string[]]} */
function address() {
  const [, place = "play", ...details] = location.hash.split("/");
  return [place, ...details.map(decodeURIComponent)];
}

/**
 * @param {string} name
 * @param {...string} details of the address
 */
function show(name, ...details) {
  const place = PLACES.find((p) => p.name === name) ?? PLACES[0];
  if (place.name === here && details.length === 0) {
    return;
  }
  views.get(here)?.leave?.();
  notices.leave();
  const view = views.get(place.name) ?? place.make(app);
  views.set(place.name, view);
  const from = here;
  here = place.name;
  fill(one("main"), view.element);
  document.body.dataset.place = here;
  document.title = `Barter: ${place.words}`;
  one("nav").querySelectorAll("a").forEach((link, i) => {
    set(link, { "aria-current": PLACES[i] === place ? "page" : null });
  });
  if (app.wire || view instanceof Play) {
    view.enter?.(...details);
  }
  if (from) {
    one("main").focus({ preventScroll: true });
    scrollTo(0, 0);
  }
}

fill(
  one("nav"),
  ...PLACES.map((p) => make("a", { href: `#${key}/${p.name}` }, p.words)),
);
window.addEventListener("hashchange", () =>
  show(...address()),
);

// Else the browser would leave the page for what is dropped on it
window.addEventListener("dragover", (e) => e.preventDefault());
window.addEventListener("drop", (event) => {
  event.preventDefault();
  const file = event.dataTransfer?.files[0];
  if (file && (here === "look-back" || /\.midi?$/i.test(file.name))) {
    app.brought = file;
    if (here === "look-back") {
      views.get(here)?.enter?.();
    } else {
      app.go("look-back");
    }
  }
});

notices.watch(app);
app.store.watch(["people", "form"], ({ people, form }) => {
  const who = people.list.find((p) => p.id === people.chosen)?.name;
  fill(
    one(".set"),
    who && make("b", {}, who),
    who && form ? ", " : "",
    form && `${form.title} in `,
    form && make("b", {}, sign(form.key)),
  );
});

// The channel

async function keepTime() {
  const sent = performance.now();
  const { here: said } = await app.ask("clock", { sent });
  app.clock.hear(sent, said, performance.now());
}

/** @param {string} why */
function closed(why) {
  app.wire = null;
  const words = why || "Barter does not run any more. Start it again to go on.";
  app.store.hear({ tell: "place", ...app.store.state.place, running: false });
  app.store.hear({ tell: "cut", is: true });
  const again = button("Look again", () => {
    line.remove();
    connect();
  });
  const line = notices.say(words, again);
}

async function connect() {
  const wire = new Wire(
    `ws://${location.host}/wire`,
    (message) => app.store.hear(message),
    closed,
  );
  await wire.ready();
  app.wire = wire;
  try {
    await wire.ask("open", { key: key ?? "", version: 1 });
    app.store.hear({ tell: "cut", is: false });
    for (let i = 0; i < CLOCK_FIRST; ++i) {
      await keepTime();
    }
  } catch (fault) {
    notices.say(/** @type {Error} */ (fault).message);
  }
}

setInterval(() => {
  if (app.wire) {
    keepTime().catch(() => {});
  }
}, CLOCK_EVERY_MS);

show(address()[0]);
if (key) {
  connect().then(() => views.get(here)?.enter?.(...address().slice(1)));
} else {
  notices.say(
    "Open the whole address that barter printed: its last part is the key to " +
      "this page.",
  );
}
