// A form and turns of our own invention, and pictures in place of staves.

export const FORM = {
  title: "Twelve-bar blues", key: "C", meter: [4, 4],
  bar_ticks: 3840, beat_ticks: 960, scale: "blues", choruses: 1, tempo: 100,
  bars: ["C7", "", "", "", "F7", "", "C7", "", "G7", "F7", "C7", "G7"].map(
    (symbol) => (symbol ? [{ beat: 0, symbol }] : []),
  ),
  turns: [1, 3, 5, 7, 9, 11].map((first_bar, i) => ({
    by: i % 2 ? "partner" : "player", first_bar, bars: 2, silent: 0,
  })),
};

export const TONES = {
  C7: { root: 0, chord: [0, 4, 7, 10], scale: [0, 3, 5, 6, 7, 10] },
  F7: { root: 5, chord: [5, 9, 0, 3], scale: [0, 3, 5, 6, 7, 10] },
  G7: { root: 7, chord: [7, 11, 2, 5], scale: [0, 3, 5, 6, 7, 10] },
};

function note(tick, length, pitch, late, role = "chord tone") {
  return {
    tick: tick + late, length, pitch, velocity: 80, grid_tick: tick, role,
    ornament: false, resolved: null,
  };
}

function turn(index, by, more) {
  const start = (index - 1) * 7680;
  const at = (beat, length, pitch, late) =>
    note(start + beat * 960, length, pitch, late);
  return {
    index, by, start_tick: start, end_tick: start + 7680,
    first_bar: 1 + (index - 1) * 2,
    chords: [{ tick: start, symbol: index === 3 ? "F7" : "C7" }],
    notes: by === "player"
      ? [at(0, 900, 67, 30), at(1, 420, 64, -40), at(1.5, 380, 64, 10),
         at(2.5, 430, 67, 60), at(3, 900, 69, 25), at(4, 930, 67, 20),
         at(5, 900, 64, -15), at(6, 1700, 60, 40)]
      : [at(1, 930, 67, 12), at(2, 450, 70, 10), at(2.5, 440, 67, 14),
         at(3, 930, 64, 8), at(4.5, 450, 62, 6), at(5, 470, 63, 9),
         at(5.5, 460, 63, 11), at(6, 1800, 60, 10)],
    rhythm: { grid: "eighth", swing_ratio: null, offset_ms: 12, spread_ms: 10 },
    space: 0.33,
    ...more,
  };
}

const SAYS = [
  "You came home to C, the root. Now leave the first beat empty.",
  "You said it twice: now it is an idea.",
  "Your phrase ended on F, the root of its chord.",
];
const MOVES = [
  ["say it again, leading down", "your rhythm again, leading down to C"],
  ["new ending", "what you said, with a new ending"],
  ["thin out", "what you said, with fewer notes"],
];

export const TURNS = [1, 2, 3, 4, 5, 6].map((i) =>
  i % 2
    ? turn(i, "player", { says: SAYS[(i - 1) / 2], success: true })
    : turn(i, "partner", { move: MOVES[i / 2 - 1][0], why: MOVES[i / 2 - 1][1] }),
);

/** Not engraved: heads where the notes are, on lines of so many bars. */
function drawn(of, bars) {
  const ticks = bars * 3840;
  const wide = 55 + 135 * bars;
  const high = 76 * Math.ceil((of.end_tick - of.start_tick) / ticks);
  const into = (tick) => tick - of.start_tick;
  const x = (tick) => 40 + ((into(tick) % ticks) / ticks) * (wide - 55);
  const y = (tick, pitch) =>
    56 + 76 * Math.floor(into(tick) / ticks) - (pitch - 60) * 1.75;
  const lines = [];
  for (let top = 29; top < high; top += 76) {
    lines.push(...[0, 1, 2, 3, 4].map((i) => `M0 ${top + 6 * i}h${wide}`));
  }
  const heads = of.notes.map(({ grid_tick: tick, pitch }) =>
    `<ellipse cx="${x(tick)}" cy="${y(tick, pitch)}" rx="4" ry="3"/>` +
    `<path d="M${x(tick) + 3.6} ${y(tick, pitch)}v-21" stroke="currentColor"/>`);
  return {
    svg: `<svg xmlns="http://www.w3.org/2000/svg" color="black" viewBox="0 0 ${wide} ${high}"><path d="${lines.join("")}" stroke="currentColor" stroke-width=".7"/><text x="42" y="18" font-size="13">${of.chords[0].symbol}</text>${heads.join("")}</svg>`,
    marks: of.notes.map(({ grid_tick: tick }) => ({
      tick, x: x(tick) - 4, w: 8, y: 76 * Math.floor(into(tick) / ticks), h: 76,
    })),
  };
}

/** A long turn in halves, too. */
export function staff(of) {
  const bars = (of.end_tick - of.start_tick) / 3840;
  const halves = bars >= 4 ? { halves: drawn(of, bars / 2) } : {};
  return { ...drawn(of, bars), ...halves };
}

/** The first turns as one, of four bars. */
export const LONG = {
  ...TURNS[0], end_tick: 15360,
  notes: [...TURNS[0].notes, ...TURNS[1].notes],
};

const row = (name, type, more = {}) => ({ name, type, when: "next", ...more });

export const TABLE = [
  row("chart", "text", { among: ["blues", "blues-minor", "modal-vamp"], help: "the form to play over" }),
  row("feel", "text", { among: ["swing", "straight"], help: "how the band plays" }),
  row("key", "text", { among: ["C", "Db", "F#", "Bb"], help: "move the chart to this key" }),
  row("tempo", "number", { least: 30, most: 320, unit: "bpm", help: "quarters a minute, 30 to 320" }),
  row("bars", "words", { words: ["1", "2", "4"], unit: "bars", help: "bars in a turn" }),
  row("choruses", "whole", { least: 1, most: 99, unit: "times", help: "times through the form" }),
  row("first", "words", { words: ["player", "partner"], help: "who begins" }),
  row("rung", "text", { help: "how much may be in the music" }),
  row("sounds.bass.level", "whole", { least: 0, most: 127, when: "now", help: "how loud the bass is" }),
  ...["thru", "click", "layer.chords", "layer.bass", "layer.drums"].map((name) =>
    row(name, "flag", { when: "now", help: `${name.replace("layer.", "")}: on or off` })),
];

export const choices = () => ({
  chart: { value: "blues", source: "barter.cfg" },
  feel: { value: "swing", source: "barter.cfg" },
  key: { value: "C", source: "chart" },
  tempo: { value: 100, source: "barter.cfg" },
  bars: { value: 2, source: "barter.cfg" },
  choruses: { value: 1, source: "barter.cfg" },
  first: { value: "player", source: "barter.cfg" },
  rung: { value: "3", source: "ladder" },
  "sounds.bass.level": { value: 66, source: "barter.cfg" },
  ...Object.fromEntries(["thru", "click", "layer.chords", "layer.bass", "layer.drums"].map(
    (name) => [name, { value: true, source: "asked" }])),
});
