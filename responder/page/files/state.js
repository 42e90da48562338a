/**
 * What the page knows: one plain object, changed here and nowhere else.
 *
 * @typedef {import("./protocol.js").State} State
 * @typedef {import("./protocol.js").Turn} Turn
 * @typedef {import("./turn.js").Played} Played
 * @typedef {keyof State} Member
 */

/** @returns {State} */
export function emptyState() {
  return {
    me: { plays: true, watchers: 0 },
    people: { chosen: null, list: [] },
    choices: {},
    table: [],
    form: null,
    tones: {},
    session: { stands: "idle", name: null },
    sound: { works: true, text: "" },
    keyboard: { text: "" },
    care: {},
    turns: [],
    staves: {},
    place: { tick: 0, at: 0, tempo: 100, running: false },
    hears: { tick: 0, at: 0, tempo: 100, running: false },
    keys: { on: [], off: [] },
    said: null,
    aside: null,
    cut: false,
  };
}

export class Store {
  constructor() {
    this.state = emptyState();
    /** @type {{members: Member[], look: (state: State) => void}[]} */
    this.views = [];
  }

  /**
   * Call a view now, and whenever one of the members has changed.
   *
   * @param {Member[]} members
   * @param {(state: State) => void} look
   */
  watch(members, look) {
    this.views.push({ members, look });
    look(this.state);
  }

  /** @param {any} message an event of the wire */
  hear(message) {
    const changed = change(this.state, message);
    for (const view of this.views) {
      if (view.members.some((member) => changed.includes(member))) {
        view.look(this.state);
      }
    }
  }
}

/**
 * @param {State} state changed in place
 * @param {any} message
 * @returns {Member[]} what was changed
 */
export function change(state, message) {
  switch (message.tell) {
    case "state":
      return changeWhole(state, message.set);
    case "table":
      state.table = message.rows;
      return ["table"];
    case "place":
      return changePlace(state, message);
    case "turn":
      state.turns = state.turns
        .filter((turn) => turn.index !== message.turn.index)
        .concat(played(state, message.turn))
        .sort((a, b) => a.index - b.index);
      return ["turns"];
    case "staff":
      state.staves = { ...state.staves, [message.turn]: message };
      return ["staves"];
    case "keys":
      state.keys = { on: message.on, off: message.off };
      return ["keys"];
    case "cut":
      state.cut = message.is;
      return ["cut"];
    case "says":
      return changeSaid(state, message);
    default:
      return [];
  }
}

/**
 * The sentence to the player, or what is said beside it.
 *
 * @param {State} state
 * @param {any} message
 * @returns {Member[]}
 */
function changeSaid(state, { text, kind }) {
  if (kind === "care" || kind === "trouble") {
    state.aside = { text, kind };
    return ["aside"];
  }
  state.said = { text, kind };
  return ["said"];
}

/**
 * The place of the session, or of what is heard again.
 *
 * @param {State} state
 * @param {any} message
 * @returns {Member[]}
 */
function changePlace(state, { hears, tick, at, tempo, running }) {
  const place = { tick, at, tempo, running };
  if (hears) {
    state.hears = place;
    return ["hears"];
  }
  state.place = place;
  return ["place"];
}

/**
 * A turn keeps the form that it was played over: another may be chosen after it.
 *
 * @param {State} state
 * @param {Turn} turn
 * @returns {Played}
 */
function played({ form }, turn) {
  return { ...turn, form };
}

/**
 * @param {State} state
 * @param {Partial<State>} set
 * @returns {Member[]}
 */
function changeWhole(state, set) {
  const changed = /** @type {Member[]} */ (Object.keys(set));
  const begins =
    set.session &&
    set.session.stands === "count-in" &&
    state.session.stands !== "count-in";
  const opens = set.me; // It has just been told the turns that there are
  const isOther =
    set.people && !opens && set.people.chosen !== state.people.chosen;
  Object.assign(state, set);
  if (set.turns) {
    state.turns = set.turns.map((turn) => played(state, turn));
  }
  if ((begins || isOther) && !set.turns) {
    state.turns = [];
    state.staves = {};
    state.said = null;
    changed.push("turns", "staves", "said");
  }
  return changed;
}
