// What the places beside Play are answered by the program that is not there.

import { FORM, TABLE, TURNS, choices, staff } from "./fake-music.mjs";

const session = {
  name: "2026-01-02-1.mid", tempo: 100, answered: true, form: FORM, tones: {},
  turns: TURNS, notices: [], worked: ["Most of your phrases came home.", ""],
  work_on: "Leave the first beat empty.", next_time: "",
};

const IDEAS = [
  ["repeat", "the same once more, so that it is remembered", "Play it twice, the second time softer."],
  ["new ending", "its last beat goes elsewhere", "Play the beginning alike, and find a third ending."],
  ["upside down", "what rose falls", "Sing it first."],
].map(([move, why, practise], i) => ({
  number: i + 1, move, why, practise, staff: staff(TURNS[i]),
}));

const pc = (name, form) => ({ name, title: form, is_own: name === "mine" });

let charts = [
  pc("blues", "Twelve-bar blues, with a turnaround of two-five-one in its last two bars"),
  pc("mine", "Four bars of mine"),
];

const CHART = 'title = "Twelve bars";\nmeter = "4/4";\nkey   = "C major";\nbars  = [ "C7", "%", "%", "%" ];\n';

/** A long list. */
const CROWD = Array.from({ length: 20 }, (_, i) => ({ id: `pupil-${i}`, name: `Pupil ${i}` }));
let sent = ""; // The last part of a file
let people = [
  { id: "ada", name: "Ada" }, { id: "ben", name: "Ben" }, { id: "zoe", name: "Amélie" },
];

const SHEET =
  '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 595 842" width="595" height="842"><rect width="595" height="842" fill="#fff"/><text x="60" y="80" font-size="24">Twelve bars in C</text></svg>';

export const OTHERS = {
  sessions: () => ({
    list: [{ name: session.name, chart: "blues", key: "C", tempo: 100 }],
  }),
  session: () => session,
  staff: ({ turn }) => staff(TURNS[turn - 1]),
  save: ({ kind }) => ({ file: `take.${kind}`, type: "text/plain", base64: "aGk=" }),
  "file end": () => session,
  ideas: () => ({ words: "Your last phrase", staff: staff(TURNS[0]), ideas: IDEAS }),
  notebook: () => ({
    ideas: [{ number: 1, name: "the one that turns", from: "sequence, over Twelve-bar blues in C major", when: "2 January", staff: staff(TURNS[1]) }],
  }),
  warmup: ({ minutes }) => ({
    minutes,
    items: [
      { number: 1, name: "Scale, right hand", words: "C 1 D 2 E 3 F 1 G 2", minutes: 3, staff: staff(TURNS[0]) },
      { number: 2, name: "Chord tones", words: "C E G Bb", minutes: 3, staff: { missing: "install the package abcm2ps" } },
      { number: 3, name: "Trading", words: "two bars each", minutes: 4 },
    ],
  }),
  progress: ({ days }) => ({
    words: [`Practice on six of ${days} days, 80 minutes in all, in 7 sessions.`,
      "3 days in a row now, 5 at the longest; a day missed in a week does not count.",
      "Ada stands on rung notes 3, rhythm 2, shape 2, ornament 1."],
    table: {
      grain: "week of",
      rows: [12, 19, 26].map((day, i) => ({
        from: `2026-01-${day}`, days: 2 + i, minutes: 25 + i, landed: 70 + 5 * i,
        success: 60 + 4 * i, spread_ms: 30 - i, space: 40, swing: i ? 1.7 : null,
        rung: [3, 2, 2, 1],
      })),
    },
    moves: [{ when: "2026-01-26", text: "Up in notes: more scale tones, because 9 of 11 turns came off." }],
    goals: ["Leave the first beat empty"],
    svg: '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 400 100"><path d="M10 90l100-20 100-10 180-40" fill="none" stroke="#1d1c1a" stroke-width="2"/></svg>',
  }),
  "people edit": ({ id }) => ({
    id, rows: [{ name: "name", type: "text", help: "the name to show" }, ...TABLE.slice(3, 5)],
    values: { name: people.find((p) => p.id === id)?.name ?? id, tempo: choices().tempo.value, bars: "2" },
  }),
  "people set": ({ key, value }) => {
    if (key === "tempo" && !(value >= 30)) {
      throw Object.assign(new Error("tempo is 30 to 320 bpm"), { field: "tempo" });
    }
    return {};
  },
  "people add": ({ name }) => {
    const plain = name.toLowerCase();
    const id = people.some((p) => p.id === plain) ? `${plain}2` : plain;
    people = [...people, { id, name }];
    return { id };
  },
  "people export": ({ id }) => ({ file: `${id}.json`, type: "application/json", base64: "e30=" }),
  "file part": ({ base64 }) => {
    sent = base64;
    return {};
  },
  "people import look": () => {
    if (atob(sent) !== "{}") {
      throw new Error("This is no exported learner.");
    }
    return { words: ["ada, but the one who is here is somebody else."], is_other: true };
  },
  "people import": () => ({ id: "ada2" }),
  "people remove": ({ id }) => ({ days: 30, path: `/home/me/.local/share/barter/removed/${id}-2026-02-03.json` }),
  "people undo": () => ({ id: "ada" }),
  "people class": () => ({
    list: [...people, ...CROWD].map((p, i) => ({ ...p, look: i ? "not practised for 9 days" : "", last: "2026-02-03", is_known: true })),
  }),
  sheet: ({ kind }) =>
    kind !== "svg"
      ? { file: "sheet.pdf", type: "application/pdf", base64: "JVBERi0=" }
      : { pages: [SHEET], rung: "notes=3,rhythm=3,shape=3,ornament=3" },
  charts: () => ({ charts }),
  "chart save": ({ name }) => {
    charts = [...charts.filter((c) => c.name !== name), { ...pc(name, "Twelve bars"), is_own: true }];
    return {};
  },
  "chart read": ({ name }) => ({ name, text: CHART }),
  "chart check": ({ text }) =>
    /H7/.test(text)
      ? { faults: [{ line: 4, bar: 2, text: "H7 is no chord; a root is A to G" },
          { line: 0, bar: null, text: "scale is missing" }] }
      : { faults: [], form: FORM },
};
