// Headless Chromium at the page of bench_page: plays keys through a session and
// prints, as JSON and in milliseconds of the machine's clock, when each key was
// pressed and what the page stamped it with, when each turn's remark and staff
// stood on the page, and how long the channel's own round trips took.

import { openBrowser, pause, until } from "../page/browser.mjs";

const [address, wanted] = process.argv.slice(2);
const LETTERS = "asdfghjk";
const monotonic = () => Number(process.hrtime.bigint()) / 1e6;

// In the page: what is sent and told, by the page's own clock
const LISTEN = `
  window.seen = { sent: [], turns: {}, trips: [], draws: performance.now() };
  const { seen } = window;
  const send = WebSocket.prototype.send;
  let line = null;
  WebSocket.prototype.send = function (text) {
    const message = JSON.parse(text);
    if (message.play === "on") {
      seen.sent.push({ at: message.at, sent: performance.now() });
    }
    if (line !== this) {
      line = this;
      this.addEventListener("message", hear);
    }
    return send.call(this, text);
  };
  function hear(event) {
    const now = performance.now();
    const message = JSON.parse(event.data);
    if (message.answer?.here) {
      const { sent, here } = message.answer;
      seen.trips.push({ took: now - sent, ahead: here - (sent + now) / 2 });
    } else if (message.tell === "turn" && message.turn.by === "player") {
      seen.turns[message.turn.index] = { says: seen.says };
      seen.says = undefined;
    } else if (message.tell === "says" && message.kind === "remark") {
      seen.says ??= now; // Of the turn that comes next
    } else if (message.tell === "staff" && seen.turns[message.turn]) {
      const image = document.querySelector(".turns .turn .staff img");
      const stands = () => { seen.turns[message.turn].staff = performance.now(); };
      if (image && !image.complete) {
        image.addEventListener("load", stands);
      } else if (image) {
        stands();
      }
    }
  }`;

const browser = await openBrowser();
try {
  await browser.look(1024, 600, false);
  await browser.go(address);
  await until("the form", () =>
    browser.run("return document.querySelector('.bar b')?.innerText"));
  const paint = await browser.run(
    "return performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? null");
  await browser.run(LISTEN);
  await browser.run(
    "[...document.querySelectorAll('button')].find((b) => b.innerText.startsWith('Begin')).click()");
  await until("my turn", async () =>
    (await browser.run("return document.querySelector('h1').innerText")) === "Your turn");
  const keys = [];
  for (let i = 0; i < Number(wanted); ++i) {
    const before = monotonic();
    await browser.down(LETTERS[i % LETTERS.length]);
    keys.push({ before, after: monotonic() });
    await browser.up(LETTERS[i % LETTERS.length]);
    await pause(i % 8);
  }
  await pause(500);
  const seen = await browser.run("return window.seen");
  const best = seen.trips.reduce((a, b) => (b.took < a.took ? b : a));
  const there = (ms) => (ms === undefined ? null : ms + best.ahead);
  console.log(JSON.stringify({
    paint,
    trips: seen.trips.map(({ took }) => took),
    keys: keys.map((key, i) => ({
      ...key, at: seen.sent[i]?.at ?? null, sent: there(seen.sent[i]?.sent),
    })),
    turns: Object.entries(seen.turns).map(([index, { says, staff }]) => ({
      index: Number(index), says: there(says), staff: there(staff),
    })),
  }));
  await browser.run(
    "[...document.querySelectorAll('button')].find((b) => b.innerText.startsWith('Stop')).click()");
  await pause(300);
} finally {
  await browser.end();
}
