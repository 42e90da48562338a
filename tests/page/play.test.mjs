// From a start without anything to the first own answered phrase, in headless
// Chromium and by the computer's keys, with the program as it was built.

import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { openBrowser, pause, until } from "./browser.mjs";

let browser;
let program;
let home;
let address;

before(async () => {
  home = await mkdtemp(join(tmpdir(), "barter-page-"));
  program = spawn(process.env.BARTER, ["open", "--no-browser"], {
    env: {
      ...process.env, HOME: home, XDG_DATA_HOME: home, XDG_CONFIG_HOME: home,
      XDG_RUNTIME_DIR: home, JACK_NO_START_SERVER: "1",
    },
    stdio: ["ignore", "pipe", "ignore"],
  });
  address = await new Promise((done, fail) => {
    program.once("exit", () => fail(new Error("barter open ended")));
    program.stdout.once("data", (bytes) => done(String(bytes).split("\n")[0]));
  });
  browser = await openBrowser();
  await browser.look(1024, 600, false);
});

after(async () => {
  await browser?.end();
  program?.kill("SIGINT");
  await rm(home, { recursive: true, force: true, maxRetries: 5 });
});

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
const title = (words) => async () => (await text("h1")).startsWith(words);

test("a phrase by the computer's keys is answered", { timeout: 90000 }, async () => {
  await browser.go(address);
  await until("the form", () => text(".bar b"));
  await browser.down(" ");
  await browser.up(" ");
  await until("my turn", title("Your turn"));
  for (const key of ["a", "d", "g", "d", "a"]) {
    await browser.down(key);
    await pause(200);
    await browser.up(key);
    await pause(80);
  }
  await until("the partner's turn", title("Partner"), 30000);
  await until("my turn again", title("Your turn"), 30000);
  const turns = await until("two turns", async () => {
    const found = await browser.run(
      "return [...document.querySelectorAll('.turn')].map((t) => t.innerText)");
    return found.length === 2 && found;
  });
  assert.match(turns[0], /^You, bars? 1/);
  assert.match(turns[1], /^Partner, bars? \d+/);
  const notes = await browser.run(
    "return document.querySelectorAll('.strip circle.player').length");
  assert.equal(notes, 5);
  const staff = await browser.run(
    "return document.querySelector('.turn .staff img, .turn .missing') !== null");
  assert.ok(staff);
  await browser.down(" ");
  await browser.up(" ");
  await until("a pause", title("Paused"));
  await browser.down(" ");
  await browser.up(" ");
  await until("it goes on", async () => !(await text("h1")).startsWith("Paused"));
  await click("Stop");
  await until("the end", title("The end"));
});

test("a warm-up is played through in the page", { timeout: 60000 }, async () => {
  await click("Warm up");
  await until("the plan", () => text(".items h2"));
  await click("Begin");
  await until("the exercise", async () =>
    /, 1 of \d/.test(await text(".turns figcaption")));
  assert.ok(await browser.run(
    "return document.querySelector('.turns .staff img, .turns .missing') !== null"));
  await click("Skip");
  await until("the next", async () =>
    /, 2 of \d/.test(await text(".turns figcaption")));
  await click("Stop");
  await until("its end", title("That’s it"));
});

test("an idea is tried in the page", { timeout: 60000 }, async () => {
  await click("Ideas");
  await until("ideas", () => text(".items li"), 30000);
  await click("Try");
  await until("it is played", async () =>
    /, 1 of \d/.test(await text(".turns figcaption")));
  await until("my turn", title("Your turn"), 30000);
  await click("Stop");
  await until("its end", title("That’s it"));
});

test("what was played can be looked back on", { timeout: 30000 }, async () => {
  await browser.go("about:blank");
  await browser.go(`${address}/look-back`);
  await until("its turns", () => text(".exchange .turn"));
  assert.match(await text(".exchange .turn"), /^You, bars? 1/);
  assert.deepEqual(await browser.faults(), []);
});
