// Through all places in headless Chromium, against a program that is not there:
// by clicks and keys, in both themes, at three widths. AXE names the file of
// axe-core, PICTURES a folder for screenshots; without them nothing is checked
// by it and nothing is kept.

import assert from "node:assert/strict";
import { readFile, writeFile } from "node:fs/promises";
import { after, before, test } from "node:test";
import { openBrowser, pause, until } from "./browser.mjs";
import { begin } from "./fake.mjs";
import { FORM, LONG, staff, TURNS } from "./fake-music.mjs";

const PLACES = ["play", "look-back", "ideas", "warm-up", "progress", "people",
  "sheets", "charts"];
// One clear pixel
const DOT = "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNkYPhfDwAChwGA60e6kgAAAABJRU5ErkJggg==";
const SIZES = [[360, 740], [1024, 600], [1920, 1080]];

let browser;
let fake;
const heard = [];

const asked = (name) => heard.filter((message) => message.ask === name);
const text = (selector) =>
  browser.run("return document.querySelector(arguments[0])?.innerText ?? ''", selector);
const click = (words) =>
  browser.run(
    `const found = [...document.querySelectorAll("button, nav a")]
       .find((b) => b.checkVisibility() && b.textContent.startsWith(arguments[0]));
     if (!found) throw new Error("no button " + arguments[0]);
     found.click();`,
    words,
  );

async function open(place, options = {}) {
  fake?.end();
  heard.length = 0;
  fake = await begin({ heard, ...options });
  await browser.go("about:blank");
  await browser.go(`${fake.address}/${place}`);
  await until("it is open", () => text(".set"));
  await pause(150);
}

before(async () => {
  browser = await openBrowser();
});

after(async () => {
  fake?.end();
  await browser?.end();
});

// A theme changes colours alone; pictures are wanted of both
test("each place fits its width", async () => {
  for (const place of PLACES) {
    await open(place, { isMiddle: place === "play" });
    for (const [width, height] of SIZES) {
      for (const isDark of process.env.PICTURES ? [false, true] : [false]) {
        await browser.look(width, height, isDark);
        await pause(process.env.PICTURES ? 150 : 20);
        const wide = await browser.run("return document.documentElement.scrollWidth");
        assert.ok(wide <= width, `${place} at ${width} is ${wide} wide`);
        if (process.env.PICTURES) {
          const name = `${place}-${width}-${isDark ? "dark" : "light"}.png`;
          const bytes = Buffer.from(await browser.picture(), "base64");
          await writeFile(`${process.env.PICTURES}/${name}`, bytes);
        }
      }
    }
  }
});

test("what is outside is told of the key that is held", async () => {
  await browser.look(1024, 600, false);
  await open("play", { isMiddle: true });
  const seen = () => browser.run(
    `return [...document.querySelectorAll(".mark.outside")]
       .filter((mark) => getComputedStyle(mark).visibility === "visible")
       .map((mark) => mark.closest(".key").dataset.pitch)`);
  await until("the tones of a chord", () =>
    browser.run("return document.querySelector('.mark.root') !== null"));
  assert.deepEqual(await seen(), []);
  await browser.down("w"); // C sharp, which is in no chord and no scale of these
  assert.deepEqual(await seen(), ["61"]);
  await browser.up("w");
  await browser.down("a");
  assert.deepEqual(await seen(), []);
  await browser.up("a");
  assert.match(await text(".legend"), /◇ outside/);
});

test("while one plays a staff is a picture by dots", async () => {
  await open("play", { isMiddle: true });
  const source = () => browser.run(
    "return document.querySelector('.turns .staff img')?.src.slice(0, 10) ?? ''");
  await until("lines", async () => (await source()).startsWith("blob:"));
  fake.tell({ tell: "staff", turn: TURNS[0].index, ...staff(TURNS[0]), png: DOT });
  await until("dots", async () => (await source()) === "data:image");
  fake.tell({ tell: "state", set: { session: { stands: "paused", name: null } } });
  await until("lines again", async () => (await source()).startsWith("blob:"));
});

test("a long turn stands on as many lines as make it larger", async () => {
  // How large the staff is that is shown, and would be on one line and on two
  const sizes = () => browser.run(
    `const turn = document.querySelector(".turn.halved");
     const shown = () => [...turn.querySelectorAll("img")]
       .filter((image) => image.checkVisibility())
       .map((image) => image.getBoundingClientRect().width /
         (image.parentElement.className === "whole" ? 595 : 325));
     const width = (name) => {
       turn.style.cssText += ["wide", "high"].map((side) => "--" + side + ":" +
         turn.style.getPropertyValue("--" + name + "-" + side)).join(";");
       const box = turn.querySelector(".strip").getBoundingClientRect();
       turn.style.removeProperty("--wide");
       turn.style.removeProperty("--high");
       return box.width;
     };
     return { shown: shown(), whole: width("whole") / 595, halves: width("halves") / 325 };`);
  await open("play", { isMiddle: true });
  fake.tell({ tell: "turn", turn: LONG });
  fake.tell({ tell: "staff", turn: LONG.index, ...staff(LONG) });
  await until("it stands there", () =>
    browser.run("return document.querySelector('.turn.halved') !== null"));
  const seen = new Set();
  for (const [width, height] of [...SIZES, [820, 1180], [1024, 700], [1280, 720], [1920, 620]]) {
    await browser.look(width, height, false);
    const { shown, whole, halves } = await sizes();
    assert.equal(shown.length, 1, `at ${width}`);
    assert.ok(shown[0] > 0.85 * Math.max(whole, halves),
      `at ${width} by ${height}: ${shown[0]} of ${whole} and ${halves}`);
    seen.add(Math.abs(shown[0] - whole) < 0.01 ? "whole" : "halves");
  }
  assert.equal(seen.size, 2);
});

test("no chord of a form is cut", async () => {
  await open("play");
  for (const n of [12, 16, 24]) {
    const bars = Array.from({ length: n }, (_, i) => i % 3
      ? [{ beat: 0, symbol: "Ebmaj7" }, { beat: 2, symbol: "Bbm7" }]
      : [{ beat: 0, symbol: "Abm7b5" }]);
    fake.tell({ tell: "state", set: { form: { ...FORM, bars } } });
    await until("the form", async () =>
      await browser.run("return document.querySelectorAll('.bar').length") === n);
    for (const [width, height] of [...SIZES, [1280, 720]]) {
      await browser.look(width, height, false);
      const cut = await browser.run(
        `return [...document.querySelectorAll(".bar b")]
           .filter((b) => b.scrollWidth > b.clientWidth + 1 || b.scrollHeight > b.clientHeight + 2)
           .map((b) => b.innerText);`);
      assert.deepEqual(cut, [], `${n} bars at ${width}`);
    }
  }
});

test("an exercise takes the height that there is", async () => {
  await open("play");
  const exercise = {
    number: 1, of: 3, name: "Scale, right hand", words: "", staff: staff(LONG),
  };
  fake.tell({ tell: "state", set: {
    session: { stands: "plays", name: null, kind: "warm-up", exercise } } });
  await until("it stands there", () => text(".exercise"));
  for (const [width, height] of SIZES) {
    await browser.look(width, height, false);
    const [scale, over] = await browser.run(
      `const image = [...document.querySelectorAll(".exercise img")].find((i) => i.checkVisibility());
       const box = image.getBoundingClientRect();
       return [box.width / 325, box.bottom - document.querySelector(".turns").getBoundingClientRect().bottom];`);
    assert.ok(scale > 0.95, `at ${width}: ${scale}`); // In halves
    assert.ok(over <= 0, `at ${width} it is cut by ${over}`);
  }
});

test("no scrolling while one plays at 1024 by 600", async () => {
  await browser.look(1024, 600, false);
  await open("play", { isMiddle: true });
  const high = await browser.run("return document.documentElement.scrollHeight");
  assert.ok(high <= 600, `it is ${high} high`);
  await browser.run(
    `document.querySelector(".says").textContent = "A sentence of two lines, as it comes " +
       "now and then where much is to be said of a turn that was long.";
     document.querySelectorAll(".turn").forEach((turn) => {
       turn.style.setProperty("--wide", 320);
       turn.querySelector(".foot").textContent = "What it is made of, in so many words " +
         "that they need a second line, too, below the staff.";
     });`);
  const cut = await browser.run(
    `const { bottom } = document.querySelector(".turns").getBoundingClientRect();
     return [...document.querySelectorAll(".turn .foot")]
       .map((foot) => foot.getBoundingClientRect().bottom - bottom);`);
  assert.equal(cut.length, 2);
  assert.ok(cut.every((below) => below <= 0), `cut: ${cut}`);
});

test("an independent checker finds nothing, in both themes", async (t) => {
  if (!process.env.AXE) {
    t.skip("there is no axe-core");
    return;
  }
  const axe = await readFile(process.env.AXE, "utf8");
  const check = async (where) => {
    await browser.run(`${axe}; window.axe = axe;`);
    const found = await browser.runLater(
      `const done = arguments[arguments.length - 1];
       axe.run(document, { resultTypes: ["violations"] }).then((result) =>
         done(result.violations.flatMap(({ id, nodes }) =>
           nodes.map((node) => id + " " + node.html.slice(0, 120)))));`,
    );
    assert.deepEqual(found, [], where);
  };
  for (const isDark of [false, true]) {
    await browser.look(1024, 600, isDark);
    for (const place of PLACES) {
      await open(place, { isMiddle: place === "play" });
      await check(`${place}, ${isDark ? "dark" : "light"}`);
    }
    await open("play");
    await click("Choose");
    await check("the panel");
  }
});

test("keys are played by place, and let go when the page is left", async () => {
  await browser.look(1024, 600, false);
  await open("play");
  for (const key of ["a", "d"]) {
    await browser.down(key);
    await pause(30);
    await browser.up(key);
  }
  await browser.down("g");
  await browser.run("window.dispatchEvent(new Event('blur'))");
  await until("the last is let go", () => heard.some((m) => m.play === "none"));
  await browser.up("g");
  const played = heard.filter((message) => message.play);
  assert.deepEqual(
    played.map(({ play, pitch }) => [play, pitch]),
    [["on", 60], ["off", 60], ["on", 64], ["off", 64], ["on", 67],
      ["none", undefined]],
  );
  // Stamped with the other clock, before it came, and not long before
  for (const { at, came } of played) {
    assert.ok(at <= came + 2 && came - at < 1000, `${at}, came ${came}`);
  }
});

test("a finger plays, and where it touches is how loud", async () => {
  await open("play");
  const touch = (share) =>
    browser.run(
      `const box = document.querySelector("[data-pitch='62']").getBoundingClientRect();
       const at = { bubbles: true, cancelable: true, pointerId: 1, button: 0,
         clientX: box.left + box.width / 2, clientY: box.top + box.height * arguments[0] };
       const keyboard = document.querySelector(".keyboard");
       keyboard.setPointerCapture = () => {};
       keyboard.dispatchEvent(new PointerEvent("pointerdown", at));
       keyboard.dispatchEvent(new PointerEvent("pointerup", at));`,
      share,
    );
  await touch(0.7);
  await touch(0.95);
  const on = () => heard.filter((message) => message.play === "on");
  await until("both are heard", () => on().length === 2);
  assert.deepEqual(on().map((m) => m.pitch), [62, 62]);
  assert.ok(on()[0].velocity < on()[1].velocity);
});

test("without the key there is nothing to press", async () => {
  await open("play");
  await browser.go("about:blank");
  await browser.go(fake.address.replace(/#.*/, "#another"));
  await until("it is said", async () => /not the key/.test(await text(".notices")));
  assert.equal(await text("h1"), "One moment");
  assert.equal(await text(".says"), "");
  assert.equal(await browser.run("return document.querySelectorAll('.controls button:enabled').length"), 0);
});

test("a session, by keys alone", async () => {
  await open("play");
  await browser.down(" ");
  await browser.up(" ");
  await until("the count-in", async () => (await text("h1")) === "Count-in");
  await until("my turn", async () => (await text("h1")) === "Your turn");
  assert.match(await text(".left"), /beats left, then your partner/);
  await until("it is told", async () =>
    (await browser.run("return document.querySelector('.told').textContent")) ===
    "Your turn");
  await until("the turn stands there", () => text(".turn figcaption"));
  assert.match(await text(".says"), /came home/);
  await browser.down(" ");
  await browser.up(" ");
  await until("a pause", async () => (await text("h1")) === "Paused");
  await browser.down(" ");
  await browser.up(" ");
  await until("it goes on", async () => (await text("h1")) !== "Paused");
  await click("Stop");
  await until("the end", async () => (await text("h1")) === "The end");
  for (const name of ["begin", "pause", "go on", "stop"]) {
    assert.equal(asked(name).length, 1);
  }
});

test("a choice is made, and what is wrong is said at its field", async () => {
  await open("play");
  await click("Choose");
  const choose = (value) =>
    browser.run(
      `const input = document.querySelector("[data-name=tempo] input");
       input.value = arguments[0];
       input.dispatchEvent(new Event("change"));`,
      value,
    );
  await choose("140");
  await until("it was asked", () => asked("choose").length === 1);
  assert.equal(asked("choose")[0].name, "tempo");
  assert.equal(asked("choose")[0].value, 140);
  await choose("900");
  await until("it is said", () => text("[data-name=tempo] .wrong"));
  assert.match(await text("[data-name=tempo] .wrong"), /30 to 320/);
  await click("Done");
  assert.equal(await browser.run("return document.querySelector('dialog').open"), false);
});

test("look back: staves, hearing, keeping, developing", async () => {
  await open("look-back");
  await until("a staff", () => browser.run("return !!document.querySelector('.staff img')"));
  await click("Hear yours");
  await until("the place moves", () =>
    browser.run("return !!document.querySelector('.staff .place:not([hidden])')"));
  await click("Hear yours");
  await until("it is hushed", () => asked("hush").length === 1);
  await click("Keep");
  await until("it is kept", () => asked("keep").length === 1);
  await click("Develop");
  await until("ideas from it", () => asked("ideas").some((m) => m.turn === 1));
});

/** Whether an element stands in view. @param {string} which */
const seen = (which) =>
  browser.run(`const box = document.querySelector("${which}")?.getBoundingClientRect();
    return !!box && box.top >= 0 && box.bottom <= innerHeight;`);

/** Look at a file, on the place People. */
const choosePerson = (content) =>
  browser.run(
    `const data = new DataTransfer();
     data.items.add(new File([arguments[0]], "ada.jsonl"));
     const input = document.querySelector("input[type=file]");
     input.files = data.files;
     input.dispatchEvent(new Event("change"));`,
    content,
  );

/** Somebody else's file is brought in as a new person. */
async function bringInOther() {
  await choosePerson("{}");
  await until("it is asked", async () => /somebody else/.test(await text(".session")));
  assert.doesNotMatch(await text(".session"), /--/); // No terminal's options
  assert.match(await text(".session"), /make one of both/);
  await click("Bring it in as a new person");
  await until("it is brought in", () => asked("people import").length === 1);
  assert.equal(asked("people import")[0].apart, true);
}

test("ideas, warm up, progress, people, sheets, charts", async () => {
  await open("ideas");
  await until("ideas", () => text(".items"));
  await click("Keep");
  await until("kept", () => asked("idea keep").length === 1);
  await until("it is said", async () => /in the notebook/.test(await text(".notices")));
  await until("it stands in the notebook", () => text(".page-part h3"));
  await click("Name");
  await click("Save");
  await until("it is named", () => asked("idea rename").length === 1);
  assert.equal(asked("idea rename")[0].name, "the one that turns");
  await until("it is read again", () => text(".page-part h3"));
  await click("Remove");
  await click("Yes");
  await until("it is taken out", () => asked("idea remove").length === 1);
  await click("Warm up");
  await until("the plan", () => text(".items h2"));
  assert.doesNotMatch(await text(".notices"), /in the notebook/); // Elsewhere now
  assert.match(await text(".items"), /About 3 min/);
  assert.match(await text(".items"), /C E G Bb\s+install the package abcm2ps/);
  assert.doesNotMatch(await text(".items"), /C 1 D 2/); // On a staff
  await click("From here");
  await until("it is played", () => text(".turns figcaption b"));
  assert.equal(asked("warmup begin")[0].number, 1);
  assert.match(await text(".turns figcaption"), /Scale, right hand, 1 of 3/);
  await click("Skip");
  await until("it is skipped", () => asked("skip").length === 1);
  await click("Progress");
  await until("a picture", () => browser.run("return !!document.querySelector('.picture')"));
  await click("People");
  await until("who needs a look", async () =>
    /needs a look: not practised for 9 days/.test(await text(".items")));
  const choose = (value) => browser.run(
    `const sort = document.querySelector("select");
     sort.value = arguments[0];
     sort.dispatchEvent(new Event("change"));`, value);
  await choose("only");
  await until("no other", async () => !/practised now|Ada/.test(await text(".items")));
  assert.match(await text(".items"), /Ben/);
  await choose("id");
  await until("everybody", async () => /Ada/.test(await text(".items")));
  // By name, as people order names, and with what tells two of a name apart
  assert.match(await text(".items"), /Ada\s+ada\s[^]*Amélie\s+zoe\s[^]*Ben\s+ben\s/);
  await browser.run(
    `const name = document.querySelector("[aria-label=Name]");
     name.value = "Ada";
     name.form.requestSubmit();`);
  await until("another Ada is told of", async () =>
    /another Ada here: ada\./.test(await text(".notices")));
  await browser.run(
    `const tempo = document.querySelector(".fields [data-name=tempo] input");
     tempo.value = "90";
     tempo.dispatchEvent(new Event("change"));`);
  await until("it is saved", async () =>
    /Tempo: saved/.test(await text(".notices")));
  await click("Edit");
  await until("a form", () => text(".fields"));
  await until("one may write at once", () =>
    browser.run("return document.activeElement?.closest('.fields') !== null"));
  await until("where it is seen", () => seen(".fields input"));
  await click("Remove");
  await until("an undo", () => text(".session button"));
  await until("it is seen, too", () => seen(".session button"));
  assert.match(await text(".session"), /ada-2026-02-03\.json/); // Where it lies
  await click("Undo");
  await until("undone", () => asked("people undo").length === 1);
  await until("it is said", async () => /is here again/.test(await text(".notices")));
  await bringInOther();
  await click("Sheets");
  await until("a page", () => browser.run("return !!document.querySelector('.sheet')"));
  await browser.run(
    `const page = document.querySelector("[data-name=page] select");
     page.value = "rhythms";
     page.dispatchEvent(new Event("change"));`);
  await until("rhythms", () => asked("sheet").at(-1).rhythms === 10);
  const { seed } = asked("sheet").at(-1);
  await until("a button", () => text(".sheet") !== null);
  await click("Other rhythms");
  await until("other ones", () => asked("sheet").at(-1).seed === seed + 1);
  await click("Charts");
  await until("its bars", () => text(".bar"));
  await browser.run(
    `const area = document.querySelector("textarea");
     area.value = area.value.replace("%", "H7");
     area.dispatchEvent(new Event("input"));`,
  );
  await until("a fault", () => text(".faults li"));
  assert.match(await text(".faults li"), /^Bar 2, line 4: /);
  assert.match(await text(".faults li:last-child"), /^scale is missing/);
  assert.equal(await browser.run("return document.querySelectorAll('.at-fault').length"), 1);
  await click("Save");
  assert.equal(asked("chart save").length, 0);
  assert.match(await text(".notices"), /name of your own/);
  await browser.run("document.querySelector('.row input').value = 'My blues'");
  await click("Save");
  await until("it is saved", () => asked("chart save").length === 1);
  assert.equal(asked("chart save")[0].name, "my-blues");
  await until("it is said, and what was wrong no more", async () =>
    /^my-blues is saved/.test(await text(".notices p:last-child")));
  await until("it stays", () => asked("charts").length === 2);
  assert.doesNotMatch(await text(".notices"), /name of your own/);
  assert.match(await text(".notices"), /is saved/);
});

test("the list of charts shows the one whose text is there", async () => {
  await open("charts");
  await until("its bars", () => text(".bar"));
  const shown = () => browser.run("return document.querySelector('main select').value");
  assert.equal(await shown(), "blues");
  await browser.run(
    `const list = document.querySelector("main select");
     list.value = "mine";
     list.dispatchEvent(new Event("change"));`);
  await until("it is read", () => asked("chart read").length === 2);
  await click("Progress");
  await click("Charts");
  await until("the list is read again", () => asked("charts").length === 2);
  await pause(100);
  assert.equal(await shown(), "mine");
  await browser.run("document.querySelector('.row input').value = 'another'");
  await click("Save");
  await until("the new one", async () => (await shown()) === "another");
});

test("it is said what a saved chart takes the place of", async () => {
  await open("charts");
  await until("its bars", () => text(".bar"));
  const save = async (name, words) => {
    const lists = asked("charts").length;
    await browser.run("document.querySelector('.row input').value = arguments[0]", name);
    await click("Save");
    await until(name, async () => words.test(await text(".notices")));
    await until("the list", () => asked("charts").length > lists);
    await pause(100);
  };
  await save("of nobody", /^of-nobody is saved\.$/m);
  await save("blues", /^blues is saved as yours: .* in place of the one that came with Barter/m);
  await save("blues", /^blues is saved over the one of yours/m);
  await save("mine", /^mine is saved over the one of yours/m);
});

test("after a click the space bar is still the player's", async () => {
  await browser.look(1024, 600, false);
  await open("play");
  const { x, y } = await browser.run(
    `const found = [...document.querySelectorAll(".controls button")]
       .find((b) => b.textContent.startsWith("Slower"));
     const box = found.getBoundingClientRect();
     return { x: box.left + box.width / 2, y: box.top + box.height / 2 };`);
  await browser.clickAt(x, y);
  await until("slower", () => asked("slower").length === 1);
  await browser.down(" ");
  await browser.up(" ");
  await until("it begins", () => asked("begin").length === 1);
  assert.equal(asked("slower").length, 1);
  await browser.run("document.querySelector('.controls button').focus()");
  await browser.down("+");
  await browser.up("+");
  await until("faster, from a button", () => asked("faster").length === 1);
});

test("the panel is left, and the next key is the player's", async () => {
  await open("play");
  await click("Choose");
  await browser.run(
    `[...document.querySelectorAll(".panel button")].find((b) => b.textContent === "Done").click();
     document.activeElement.dispatchEvent(
       new KeyboardEvent("keydown", { code: "Space", key: " ", bubbles: true }));`);
  await until("it begins", () => asked("begin").length === 1);
});

test("the program is ended from its page", async () => {
  await open("play");
  await click("Choose");
  await click("End Barter");
  await until("it is asked", () => asked("close").length === 1);
  fake.tell({ tell: "close", why: "Barter has ended." });
  fake.drop();
  await until("it is said", async () => /Barter has ended/.test(await text(".notices")));
});

test("the panel opens where it was asked for", async () => {
  const tops = () => browser.run(
    `const head = document.querySelector(".panel .head").getBoundingClientRect();
     const top = (name) => document.querySelector(name).getBoundingClientRect().top;
     return { head: head.bottom, band: top('.panel [data-group="Band"] label'),
       first: top(".panel fieldset legend") };`);
  await open("play");
  await click("Band");
  const at = await tops();
  assert.ok(at.band >= at.head, "no field lies below the head");
  await click("Done");
  await click("Choose");
  const above = await tops();
  assert.ok(above.first >= above.head - 20 && above.first < above.head + 60);
  await click("Done");
});

test("nothing is drawn of a silent turn", async () => {
  await open("play");
  const drawn = await browser.runLater(
    `const done = arguments[arguments.length - 1];
     const turn = { by: "player", index: 1, first_bar: 1, start_tick: 0, end_tick: 3840,
       chords: [], notes: [], rhythm: {}, space: 1 };
     import("./turn.js").then(({ makeTurn }) => {
       const made = makeTurn(turn, null);
       done([made.innerText ?? made.textContent, made.querySelectorAll("svg, .staff").length]);
     });`);
  assert.match(drawn[0], /^You, bar 1.*no note was played/);
  assert.equal(drawn[1], 0);
});

test("what was played over one form is not measured by the next", async () => {
  await open("play", { isMiddle: true });
  const shown = () => browser.run(
    `return [...document.querySelectorAll(".turn")].map((turn) =>
       [turn.querySelector("figcaption").innerText, turn.querySelector(".strip").innerHTML]);`);
  await until("two turns", async () => (await shown()).length === 2);
  const before = await shown();
  assert.match(before[0][0], /^You, bars 1 and 2/);
  fake.tell({ tell: "state", set: {
    form: { ...FORM, title: "A waltz", meter: [3, 4], bar_ticks: 2880 },
    session: { stands: "over", name: null },
  } });
  await until("the other form", async () => /A waltz/.test(await text(".set")));
  assert.deepEqual(await shown(), before);
});

test("the keys of a terminal", async () => {
  await open("play");
  for (const [key, name] of [[" ", "begin"], ["-", "slower"], ["+", "faster"], ["<", "easier"],
    [">", "harder"], ["q", "stop"]]) {
    await browser.down(key);
    await browser.up(key);
    await until(name, () => asked(name).length > 0);
  }
});

test("a channel that was cut is opened again, whatever else is said", async () => {
  await browser.look(1024, 600, false);
  await open("play", { isMiddle: true });
  fake.drop();
  await until("it is seen", async () => (await text("h1")) === "Not connected");
  assert.match(await text(".notices"), /does not run any more/);
  assert.equal(await browser.run(
    "return document.querySelectorAll('.controls button:enabled').length"), 0);
  await browser.down("q");
  await browser.up("q");
  await click("Look again");
  await until("it goes on", async () => (await text("h1")) !== "Not connected");
  assert.doesNotMatch(await text(".notices"), /Look again/);
  assert.ok(await browser.run(
    "return document.querySelectorAll('.controls button:enabled').length > 0"));
});

test("ideas and a warm-up are of who plays, and of what was played last", async () => {
  const session = (name) => ({ stands: "over", name });
  const people = (chosen) => ({ chosen, list: [{ id: "ada", name: "Ada" }, { id: "ben", name: "Ben" }] });
  const again = async (words, selector) => {
    await click("Play");
    await click(words);
    await until(words, () => text(selector));
    await pause(100);
  };
  for (const [words, selector, ask] of [["Ideas", ".items", "ideas"], ["Warm up", ".items h2", "warmup"]]) {
    await open("play");
    await again(words, selector);
    await again(words, selector);
    assert.equal(asked(ask).length, 1);
    fake.tell({ tell: "state", set: { session: session("first") } });
    await again(words, selector);
    assert.equal(asked(ask).length, 2);
    fake.tell({ tell: "state", set: { session: session(null) } }); // Not recorded
    await again(words, selector);
    fake.tell({ tell: "state", set: { session: session("first") } });
    await again(words, selector);
    assert.equal(asked(ask).length, 2);
    fake.tell({ tell: "state", set: { people: people("ben") } });
    await again(words, selector);
    assert.equal(asked(ask).length, 3);
  }
});

test("what was done is said until the next thing is", async () => {
  await open("people");
  await until("the list", () => text(".items"));
  const bringIn = async () => {
    await bringInOther();
    await until("it is said", async () => /It is here now/.test(await text(".notices")));
    heard.length = 0;
  };
  await bringIn();
  await click("Remove");
  await until("it is removed", async () => /is removed/.test(await text(".session")));
  assert.doesNotMatch(await text(".notices"), /here now/);
  await bringIn();
  await choosePerson("no learner");
  await until("it is refused", async () => /no exported learner/.test(await text(".session")));
  assert.doesNotMatch(await text(".notices"), /here now/);
  await click("Remove");
  await until("it is removed", async () => /is removed/.test(await text(".session")));
  await click("Undo");
  await until("it is back", async () => /is here again/.test(await text(".notices")));
});

test("the first who is added plays", async () => {
  await open("people");
  const add = (name) => browser.run(
    `document.querySelector("main form input").value = arguments[0];
     [...document.querySelectorAll("main form button")][0].click();`, name);
  await until("the list", () => text(".items"));
  await add("Cleo");
  await until("added", () => asked("people edit").length === 1);
  assert.equal(asked("people choose").length, 0);
  fake.tell({ tell: "state", set: { people: { chosen: null, list: [] } } });
  await add("Dora");
  await until("chosen", () => asked("people choose").length === 1);
  assert.equal(asked("people choose")[0].id, "dora");
});

test("what is too long is not sent, and nothing is cut", async () => {
  await open("charts");
  await until("its bars", () => text(".bar"));
  const type = (letters) => browser.run(
    `const area = document.querySelector("textarea");
     area.value = "#" + "\u00e9".repeat(arguments[0]);
     area.dispatchEvent(new Event("input"));`, letters);
  const checks = asked("chart check").length;
  await type(33000); // Two bytes each
  await until("it is said", async () => /too long/.test(await text(".notices")));
  await type(32000);
  await until("a shorter one is sent", () => asked("chart check").length === checks + 1);
  await until("... and nothing is wrong", async () =>
    !/too long/.test(await text(".notices")));
});

test("what is told after the end is read, too", async () => {
  await open("play", { isMiddle: true });
  await click("Stop");
  await until("the end", async () => (await text("h1")) === "The end");
  fake.tell({ tell: "says", kind: "news", text: "The keyboard is gone." });
  await until("it is read", async () => /keyboard is gone/.test(await text(".notices")));
  fake.tell({ tell: "says", kind: "trouble", text: "Nothing was kept." });
  await until("... so is this", async () => /was kept/.test(await text(".notices")));
  assert.match(await text(".says"), /first beat empty/);
});

test("an explanation is not cut off", async () => {
  for (const [place, width] of [["ideas", 1024], ["progress", 360]]) {
    await browser.look(width, 740, false);
    await open(place);
    const seen = await browser.run(
      `return [...document.querySelectorAll(".explained")].map((asked) => {
         asked.dispatchEvent(new MouseEvent("mouseenter"));
         const { left, right, width } = asked.querySelector(".meaning").getBoundingClientRect();
         asked.dispatchEvent(new MouseEvent("mouseleave"));
         return { left, right, width };
       });`);
    assert.ok(seen.length > 0);
    for (const { left, right, width: wide } of seen) {
      assert.ok(wide > 100 && left >= 0 && right <= width, `${place}: ${left} to ${right}`);
    }
  }
  assert.match(await text(".session, .page"), /swing ratio/);
});

test("a sheet is printed, and nothing but the sheet", async () => {
  await browser.look(1024, 600, false);
  await open("sheets");
  await until("a page", () => browser.run("return !!document.querySelector('.sheet')"));
  const pages = Buffer.from(await browser.print(), "base64").toString("latin1")
    .match(/\/Type\s*\/Page\b/g);
  assert.equal(pages?.length, await browser.run(
    "return document.querySelectorAll('.sheet').length"));
});

test("a file that was brought in is not taken for a session", async () => {
  await open("look-back");
  await until("a staff", () => browser.run("return !!document.querySelector('.staff img')"));
  await browser.run(
    `const data = new DataTransfer();
     data.items.add(new File(["MThd"], "own take.mid"));
     document.querySelector(".look-back").dispatchEvent(
       new DragEvent("drop", { dataTransfer: data, bubbles: true, cancelable: true }));`);
  await until("it is sent", () => asked("file end").length === 1);
  const chosen = () => browser.run(
    "return document.querySelector('.look-back select').selectedOptions[0].textContent");
  assert.equal(await chosen(), "own take.mid");
  const choose = (index) => browser.run(
    `const list = document.querySelector(".look-back select");
     list.selectedIndex = arguments[0];
     list.dispatchEvent(new Event("change"));`, index);
  await choose(1);
  await until("a session again", () => asked("session").length === 2);
  await choose(0);
  await until("the file again", () => asked("file end").length === 2);
});

test("a file that is dropped anywhere is looked back on", async () => {
  await open("play");
  const stays = await browser.run(
    `const data = new DataTransfer();
     data.items.add(new File(["MThd"], "other take.mid"));
     return ["dragover", "drop"].map((type) => !document.querySelector("header").dispatchEvent(
       new DragEvent(type, { dataTransfer: data, bubbles: true, cancelable: true })));`);
  assert.deepEqual(stays, [true, true]); // The browser does nothing of its own
  await until("it is sent", () => asked("file end").length === 1);
  assert.equal(await browser.run("return document.body.dataset.place"), "look-back");
});

test("a name is written at once", async () => {
  await open("ideas");
  await until("it stands in the notebook", () => text(".page-part h3"));
  await click("Name");
  assert.equal(await browser.run("return document.activeElement.tagName"), "INPUT");
});

test("nothing was refused by the policy, and no script failed", async () => {
  assert.deepEqual(await browser.faults(), []);
});
