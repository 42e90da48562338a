// Headless Chromium, driven by the WebDriver protocol of the W3C through
// chromedriver, which is started here and ended here.

import { spawn } from "node:child_process";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";

const FLAGS = [
  "--headless=new", "--no-sandbox", "--disable-gpu", "--disable-quic",
  "--no-first-run", "--disable-background-networking", "--disable-sync",
  "--disable-component-update", "--disable-dev-shm-usage",
];

export const pause = (ms) => new Promise((done) => setTimeout(done, ms));

/** Wait until something is so; an error with `words` after a while. */
export async function until(words, is, ms = 20000) {
  const end = performance.now() + ms;
  for (;;) {
    const value = await is();
    if (value) {
      return value;
    }
    if (performance.now() > end) {
      throw new Error(`never: ${words}`);
    }
    await pause(50);
  }
}

function startDriver() {
  const driver = spawn("chromedriver", ["--port=0"], {
    stdio: ["ignore", "pipe", "ignore"],
  });
  return new Promise((done, fail) => {
    let text = "";
    driver.on("error", fail);
    driver.once("exit", () => fail(new Error("chromedriver ended")));
    driver.stdout.on("data", (bytes) => {
      text += bytes;
      const port = /successfully on port (\d+)/.exec(text)?.[1];
      if (port) {
        done({ driver, base: `http://127.0.0.1:${port}` });
      }
    });
  });
}

/** A session, or no driver either. */
async function begun(driver, call, wanted) {
  try {
    return await call("POST", "/session", wanted);
  } catch (fault) {
    driver.kill();
    throw fault;
  }
}

export async function openBrowser() {
  const { driver, base } = await startDriver();
  const folder = await mkdtemp(join(tmpdir(), "barter-browser-"));
  const call = async (method, path, body) => {
    const response = await fetch(base + path, {
      method,
      body: body && JSON.stringify(body),
    });
    const { value } = await response.json();
    if (!response.ok) {
      throw new Error(`${path}: ${value.message}`);
    }
    return value;
  };
  const chrome = { args: [...FLAGS, `--user-data-dir=${folder}`] };
  if (process.env.CHROMIUM) {
    chrome.binary = process.env.CHROMIUM;
  }
  const { sessionId } = await begun(driver, call, {
    capabilities: {
      alwaysMatch: {
        "goog:chromeOptions": chrome,
        "goog:loggingPrefs": { browser: "ALL" },
      },
    },
  });
  const path = `/session/${sessionId}`;
  const protocol = (cmd, params) =>
    call("POST", `${path}/goog/cdp/execute`, { cmd, params });
  const press = (type, value) =>
    call("POST", `${path}/actions`, {
      actions: [{ type: "key", id: "keys", actions: [{ type, value }] }],
    });
  return {
    go: (url) => call("POST", `${path}/url`, { url }),
    run: (script, ...args) =>
      call("POST", `${path}/execute/sync`, { script, args }),
    runLater: (script, ...args) =>
      call("POST", `${path}/execute/async`, { script, args }),
    down: (key) => press("keyDown", key),
    up: (key) => press("keyUp", key),
    clickAt: async (x, y) => {
      for (const type of ["mousePressed", "mouseReleased"]) {
        await protocol("Input.dispatchMouseEvent", { type, x, y, button: "left", clickCount: 1 });
      }
    },
    print: () => call("POST", `${path}/print`, {}),
    picture: () => call("GET", `${path}/screenshot`),
    look: async (width, height, isDark) => {
      await protocol("Emulation.setDeviceMetricsOverride", {
        width, height, deviceScaleFactor: 1, mobile: false,
      });
      const value = isDark ? "dark" : "light";
      await protocol("Emulation.setEmulatedMedia", {
        features: [{ name: "prefers-color-scheme", value }],
      });
    },
    faults: async () =>
      (await call("POST", `${path}/se/log`, { type: "browser" }))
        .filter(({ level }) => level === "SEVERE")
        .map(({ message }) => message),
    end: async () => {
      await call("DELETE", path).catch(() => {});
      driver.kill();
      await rm(folder, { recursive: true, force: true, maxRetries: 5 });
    },
  };
}
