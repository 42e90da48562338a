// The page's arithmetic, without a browser. PAGE names the folder of the page's
// files, as modules of node.

import assert from "node:assert/strict";
import { test } from "node:test";
import { pathToFileURL } from "node:url";

const page = (name) => import(pathToFileURL(`${process.env.PAGE}/${name}.js`));
const { Clock, measure, tickAt, untilBeat } = await page("clock");
const { ComputerKeys, octaveOf, pitchOf, velocityOf } = await page("keys");
const { change, emptyState } = await page("state");
const { chordsAt, turnOfBar } = await page("form");
const { headline } = await page("headline");
const { tapPitch } = await page("tap");
const { isBlack, toneOf, touchVelocity } = await page("tones");
const { markAt, placeOf, viewBox } = await page("staff");
const { meant, placed } = await page("strip");
const { pairs } = await page("exchange");
const { when } = await page("look-back");
const { readRung, writeRung } = await page("rung");
const { base64 } = await page("file");
const { helpOf, labelOf } = await page("field");
const { apart, bars, count, sign, timing } = await page("words");

test("the offset is that of the quickest round trip", () => {
  const clock = new Clock();
  assert.equal(clock.there(5), 5);
  clock.hear(100, 1160, 120); // 20 ms, 1050 ahead: late on the way there
  clock.hear(200, 1201, 202); // 2 ms, 1000 ahead
  clock.hear(300, 1390, 390);
  assert.equal(clock.there(1000), 2000);
  clock.hear(400, 9999, 390); // Back before it left: not heard
  assert.equal(clock.there(1000), 2000);
});

test("an old quick round trip is forgotten: clocks drift", () => {
  const clock = new Clock();
  clock.hear(0, 1000, 0);
  for (let i = 1; i <= 12; ++i) {
    clock.hear(i * 10, i * 10 + 2001, i * 10 + 2);
  }
  assert.equal(clock.offset, 2000);
});

test("a tick is a share of a minute", () => {
  const place = { tick: 960, at: 5000, tempo: 120, running: true };
  assert.equal(tickAt(place, 5000), 960);
  assert.equal(tickAt(place, 5500), 1920); // 120 quarters a minute
  assert.equal(tickAt({ ...place, running: false }, 5500), 960);
});

test("the next beat is never this one", () => {
  assert.equal(untilBeat(120, 960, 0), 500);
  assert.equal(untilBeat(120, 960, 720), 125);
  assert.equal(untilBeat(60, 960, -240), 250); // Of the count-in
  assert.equal(untilBeat(120, 1440, 960), 250); // Of 6/8: a dotted quarter
});

test("beats of a bar", () => {
  assert.deepEqual(measure(null), { beat: 960, beats: 4, bar: 3840 });
  const compound = measure({ bar_ticks: 2880, beat_ticks: 1440 }); // 6/8
  assert.equal(compound.beats, 2);
});

test("letters are keys by place", () => {
  // MIDI 1.0: 60 is middle C, C4 as octaves are numbered
  const scale = ["A", "S", "D", "F", "G", "H", "J", "K"];
  assert.deepEqual(
    scale.map((letter) => pitchOf(`Key${letter}`, 4)),
    [60, 62, 64, 65, 67, 69, 71, 72],
  );
  const black = ["W", "E", "T", "Y", "U", "O", "P"];
  black.forEach((letter) => assert.ok(isBlack(pitchOf(`Key${letter}`, 4))));
  assert.equal(pitchOf("KeyA", 5), 72);
  assert.equal(pitchOf("KeyQ", 4), null);
  assert.equal(octaveOf("Digit3"), 3);
  assert.equal(octaveOf("Digit9"), null);
});

test("loudness stays a MIDI velocity", () => {
  for (let loudness = 1; loudness <= 127; ++loudness) {
    assert.ok(velocityOf(loudness, false) < velocityOf(loudness, true) ||
      velocityOf(loudness, true) === 127);
    assert.ok(velocityOf(loudness, true) <= 127);
  }
  assert.ok(touchVelocity(0) < touchVelocity(1));
  assert.ok(touchVelocity(-9) >= 1 && touchVelocity(9) <= 127);
});

const press = (code, more = {}) => ({
  code, repeat: false, shiftKey: false, ctrlKey: false, altKey: false,
  metaKey: false, timeStamp: 7, ...more,
});

function played() {
  const all = [];
  const keys = new ComputerKeys((play, ms, pitch) => all.push([play, pitch]));
  return { keys, all };
}

test("a held key sounds once, and ends as what it began", () => {
  const { keys, all } = played();
  keys.down(press("KeyA"));
  keys.down(press("KeyA", { repeat: true }));
  keys.down(press("Digit5"));
  keys.up(press("KeyA"));
  keys.up(press("KeyA"));
  assert.deepEqual(all, [["on", 60], ["off", 60]]);
});

test("a shortcut is no note, and what is let go ends everything", () => {
  const { keys, all } = played();
  assert.equal(keys.down(press("KeyS", { ctrlKey: true })), null);
  keys.down(press("KeyD"));
  keys.release();
  keys.up(press("KeyD"));
  assert.deepEqual(all, [["on", 64], ["none", undefined]]);
});

test("two at a time and never three is noticed", () => {
  const { keys } = played();
  const two = () => ["KeyA", "KeyD"].forEach((code) => keys.down(press(code)));
  for (let i = 0; i < 16; ++i) {
    assert.equal(keys.seemsNarrow, false);
    two();
    keys.release();
  }
  assert.equal(keys.seemsNarrow, true);
  two();
  keys.down(press("KeyG"));
  assert.equal(keys.seemsNarrow, false);
});

const FORM = {
  bar_ticks: 3840, beat_ticks: 960,
  bars: [[{ beat: 0, symbol: "Dm7" }, { beat: 2, symbol: "G7" }],
    [{ beat: 0, symbol: "Cmaj7" }], [], [{ beat: 0, symbol: "Cmaj7" }]],
  turns: [{ by: "player", first_bar: 1, bars: 2, silent: 0 },
    { by: "partner", first_bar: 3, bars: 2, silent: 0 }],
};

test("the chord now, and the next other one", () => {
  assert.deepEqual(chordsAt(FORM, 0), { now: "Dm7", next: "G7" });
  assert.deepEqual(chordsAt(FORM, 1920), { now: "G7", next: "Cmaj7" });
  assert.deepEqual(chordsAt(FORM, 3840 * 3), { now: "Cmaj7", next: "Dm7" });
  assert.deepEqual(chordsAt(FORM, 3840 * 4), { now: "Dm7", next: "G7" });
});

test("whose bar it is", () => {
  assert.equal(turnOfBar(FORM, 2)?.by, "player");
  assert.equal(turnOfBar(FORM, 3)?.by, "partner");
  assert.equal(turnOfBar(FORM, 5), null);
});

test("in an echo the space bar strikes the tonic when it is to be given back", () => {
  const form = { ...FORM, key: "Eb major" };
  const state = { ...emptyState(), form, session: { stands: "plays", name: null },
    choices: { way: { value: "echo", source: "asked" } } };
  assert.equal(tapPitch(state, 0), 63);
  assert.equal(tapPitch(state, -400), 63); // Half a beat early
  assert.equal(tapPitch(state, -500), null);
  assert.equal(tapPitch(state, 7680), null); // The partner's
  assert.equal(tapPitch({ ...state, choices: {} }, 0), null);
});

test("a bar to sing in is said, and whose turn comes", () => {
  const form = { ...FORM, turns: [{ by: "player", first_bar: 2, bars: 1, silent: 1 },
    { by: "partner", first_bar: 4, bars: 1, silent: 1 }] };
  const state = { ...emptyState(), form, session: { stands: "plays", name: null } };
  assert.equal(headline(state, 0).whose, "Sing it first");
  assert.equal(headline(state, 960).left, "three beats, then you");
  assert.equal(headline(state, 3840).whose, "Your turn");
  assert.equal(headline(state, 3840).left, "four beats left, then silence");
  assert.equal(headline(state, 7680).whose, "A silent bar");
});

test("beats left are said in words", () => {
  const state = { ...emptyState(), form: FORM };
  const at = (tick, stands = "plays") =>
    headline({ ...state, session: { stands, name: null } }, tick);
  assert.equal(at(0).left, "eight beats left, then your partner");
  assert.equal(at(3840 + 2880).left, "one beat left, then your partner");
  assert.equal(at(7680).whose, "Partner’s turn");
  assert.equal(at(-1920, "count-in").left, "two beats, then you begin");
  assert.equal(at(0, "idle").whose, "Ready when you are");
  assert.equal(headline(emptyState(), 0).whose, "One moment");
  assert.equal(headline({ ...state, cut: true }, 0).whose, "Not connected");
  const echo = { ...state, form: { ...FORM, key: "C" }, session: { stands: "plays", name: null },
    choices: { way: { value: "echo", source: "asked" } } };
  assert.equal(headline(echo, 0).left, "eight beats left, then your partner; Space taps");
  assert.equal(headline(echo, 7680).left.includes("Space"), false);
});

test("a tone by its place in the chord", () => {
  const tones = { root: 0, chord: [0, 4, 7, 10], scale: [0, 2, 4, 5, 7, 9, 10] };
  assert.equal(toneOf(60, tones), "root");
  assert.equal(toneOf(70, tones), "chord");
  assert.equal(toneOf(62, tones), "scale");
  assert.equal(toneOf(61, tones), "outside");
  assert.equal(toneOf(61, undefined), null);
});

test("a swung off-beat is meant later than it is written", () => {
  const note = (grid_tick) => ({ grid_tick, tick: grid_tick, length: 100 });
  const rhythm = { grid: "swung eighth", swing_ratio: 2 };
  assert.equal(meant(note(480), rhythm), 640); // 2 : 1 of 960
  assert.equal(meant(note(960), rhythm), 960);
  assert.equal(meant(note(480), { ...rhythm, swing_ratio: 1 }), 480);
  assert.equal(meant(note(480), { grid: "eighth", swing_ratio: 2 }), 480);
});

test("late is to the right of its line, and inside the strip", () => {
  const turn = {
    by: "player", start_tick: 0, end_tick: 3840, rhythm: { grid: "beat" },
    notes: [
      { tick: 990, grid_tick: 960, length: 400 },
      { tick: 1900, grid_tick: 1920, length: 400 },
      { tick: 3000, grid_tick: 2880, length: 4000 },
    ],
  };
  const [late, early, long] = placed(turn);
  assert.ok(late.from > late.line);
  assert.ok(early.from < early.line);
  assert.ok(long.to <= 464);
});

test("the place on a staff is the note that sounds", () => {
  const marks = [{ tick: 0, x: 1 }, { tick: 960, x: 2 }, { tick: 480, x: 3 }];
  assert.equal(markAt(marks, -1), null);
  assert.equal(markAt(marks, 500)?.x, 3);
  assert.equal(markAt(marks, 5000)?.x, 2);
  assert.deepEqual(viewBox('<svg viewBox="0 0 325.08 76">'),
    { x: 0, y: 0, w: 325.08, h: 76 });
});

test("the place reaches over its own line of a staff", () => {
  const mark = { tick: 0, x: 155, y: 60, w: 10, h: 50 };
  assert.deepEqual(placeOf('<svg viewBox="10 10 200 100">', mark),
    { at: 0.75, from: 0.5, to: 1 });
});

test("turns two by two", () => {
  const by = (...all) => all.map((who) => ({ by: who }));
  const lengths = (turns) => pairs(turns).map((pair) => pair.length);
  assert.deepEqual(lengths(by("player", "partner", "player")), [2, 1]);
  assert.deepEqual(lengths(by("partner", "player", "partner")), [1, 2]);
});

test("a state begins anew with a session", () => {
  const state = emptyState();
  change(state, { tell: "turn", turn: { index: 2 } });
  change(state, { tell: "turn", turn: { index: 1 } });
  change(state, { tell: "turn", turn: { index: 2, says: "x" } });
  assert.deepEqual(state.turns.map((t) => t.index), [1, 2]);
  const changed = change(state, {
    tell: "state", set: { session: { stands: "count-in", name: null } },
  });
  assert.ok(changed.includes("turns"));
  assert.deepEqual(state.turns, []);
  assert.deepEqual(change(state, { tell: "of another version" }), []);
});

test("who comes after another does not see what that one played", () => {
  const list = [{ id: "ada", name: "Ada" }, { id: "ben", name: "Ben" }];
  const people = (chosen) => change(state, { tell: "state", set: { people: { chosen, list } } });
  const state = emptyState();
  change(state, { tell: "state", set: { turns: [{ index: 1 }], staves: { 1: {} } } });
  change(state, { tell: "state", set: { me: { plays: true }, people: { chosen: "ada", list } } });
  assert.equal(state.turns.length, 1); // A page that was opened after it
  change(state, { tell: "says", text: "You came home.", kind: "remark" });
  assert.deepEqual(people("ada"), ["people"]); // Somebody was added, say
  assert.equal(state.said.text, "You came home.");
  assert.deepEqual(people("ben").sort(), ["people", "said", "staves", "turns"]);
  assert.deepEqual([state.turns, state.staves, state.said], [[], {}, null]);
});

test("a turn keeps the form that it was played over", () => {
  const bars = () => state.turns.map(({ form }) => form.bar_ticks);
  const state = emptyState();
  const form = (bar_ticks) =>
    change(state, { tell: "state", set: { form: { bar_ticks, beat_ticks: 960 } } });
  form(3840);
  change(state, { tell: "state", set: { turns: [{ index: 1 }], staves: {} } });
  change(state, { tell: "turn", turn: { index: 2 } });
  form(2880);
  assert.deepEqual(bars(), [3840, 3840]);
  change(state, { tell: "turn", turn: { index: 3 } });
  assert.deepEqual(bars(), [3840, 3840, 2880]);
  const over = { bar_ticks: 3840, beat_ticks: 960 };
  change(state, { tell: "state", set: { turns: [{ index: 1 }], staves: {}, form: over } });
  form(2880);
  assert.deepEqual(bars(), [3840]); // A page that was opened after it
});

test("rungs are read and written", () => {
  const rung = readRung("notes=2,rhythm=1,shape=3,ornament=1");
  assert.deepEqual(rung, { notes: 2, rhythm: 1, shape: 3, ornament: 1 });
  assert.deepEqual(readRung(writeRung(rung)), rung);
  assert.deepEqual(readRung("8"), { notes: 8, rhythm: 7, shape: 6, ornament: 4 });
});

test("words", () => {
  assert.equal(count(1, "beat"), "one beat");
  assert.equal(count(13, "beat"), "13 beats");
  assert.equal(bars(3, 2), "bars 3 and 4");
  assert.equal(bars(5, 4), "bars 5 to 8");
  assert.equal(sign("Bbmaj7"), "B♭maj7");
  assert.equal(sign("F#m7b5"), "F♯m7♭5");
  assert.equal(sign("Eb/Bb"), "E♭/B♭");
  assert.equal(when("trade-2026-11-28-132927.mid"), "2026-11-28 13:29");
  assert.equal(when("mine.mid"), "mine.mid");
  const late = { offset_ms: 12.4, spread_ms: 9.6 };
  assert.equal(timing({ notes: [1], rhythm: late, space: 0.333 }),
    "12 ms late on average, give or take 10 ms; 33 % of it silent");
  const beside = { landing: { name: "Eb5" }, early: { name: "F#4" } };
  assert.equal(timing({ notes: [], ...beside }), "silent; F♯4 in the bar to sing in; landed on E♭5 after it");
  assert.equal(timing({ notes: [], landing: null, early: null }), "silent");
});

test("two of one name are told apart", () => {
  const people = [{ id: "ada", name: "Ada" }, { id: "ada-2", name: "Ada" }, { id: "me", name: "me" }];
  assert.deepEqual(people.map(({ id }) => apart(people, id)), ["Ada (ada)", "Ada (ada-2)", "me"]);
});

test("a choice is called as a musician would", () => {
  assert.equal(labelOf("sounds.bass.level"), "Loudness of the bass");
  assert.equal(labelOf("caps.notes"), "Highest rung of notes");
  const help = (name, text) => helpOf({ name, type: "text", help: text });
  assert.equal(help("sounds.chords.level", "how loud the chords is, 0 to 127"), "0 to 127");
  assert.equal(help("sounds.bass.program", "the sound of the bass"), "");
  assert.equal(help("bars", "bars in a turn: 1, 2 or 4"), "bars in a turn: 1, 2 or 4");
  assert.doesNotMatch(help("way", "how to play together; barter trade --help has all"), /--/);
});

test("base64 as in RFC 4648, 10", () => {
  const text = (words) => base64(new TextEncoder().encode(words));
  assert.equal(text("foobar"), "Zm9vYmFy");
  assert.equal(text("foob"), "Zm9vYg==");
});
