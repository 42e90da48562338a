/**
 * Charts: those there are, and one that is being written: its bars are drawn as
 * they are typed, and each fault stands at its bar.
 *
 * @typedef {import("./app.js").App} App
 * @typedef {import("./protocol.js").Form} Form
 * @typedef {import("./protocol.js").ChartFault} ChartFault
 */

import { button, fill, make } from "./dom.js";
import { FormStrip } from "./form-strip.js";
import { attempt, head } from "./page-parts.js";

const WAIT_MS = 350; // After the last letter

export class Charts {
  /** @param {App} app */
  constructor(app) {
    this.app = app;
    this.list = make("select", {
      "aria-label": "Chart",
      change: () => this.read(this.list.value),
    });
    this.name = make("input", {
      "aria-label": "Name to save it by", placeholder: "name-of-mine",
      autocomplete: "off", spellcheck: "false",
    });
    this.text = make("textarea", {
      "aria-label": "The chart as text", spellcheck: "false",
      autocapitalize: "off", "aria-describedby": "chart-faults",
      input: () => this.later(),
    });
    this.strip = new FormStrip();
    this.faults = make("ul", { id: "chart-faults", class: "faults", "aria-live": "polite" });
    this.element = make(
      "div",
      { class: "page" },
      head("Charts", "Begin with a copy, change it, save it by a name of your own."),
      make("div", { class: "row" }, this.list),
      this.strip.element,
      this.faults,
      this.text,
      make(
        "div",
        { class: "row" },
        this.name,
        button("Save", () => this.save()),
        button("Save and play", () => this.play(), { class: "main" }),
      ),
    );
    /** @type {{name: string, title: string, is_own: boolean}[]} */
    this.charts = [];
    this.timer = 0;
    this.asked = 0;
  }

  async enter() {
    await this.renew();
    if (this.list.length > 0 && this.text.value === "") {
      const now = this.app.store.state.choices.chart?.value;
      this.list.value = String(now);
      this.list.selectedIndex = Math.max(0, this.list.selectedIndex);
      this.read(this.list.value);
    }
  }

  /** Read the list again. @param {string} shown the chart that the text is of */
  async renew(shown = this.list.value) {
    const found = await attempt(this.app, this.app.ask("charts"));
    this.charts = found?.charts ?? [];
    fill(
      this.list,
      ...this.charts.map(({ name, title, is_own: isOwn }) =>
        make("option", { value: name }, `${title}${isOwn ? ", yours" : ""} (${name})`),
      ),
    );
    this.list.value = shown;
  }

  leave() {
    clearTimeout(this.timer);
  }

  /** @param {string} name */
  async read(name) {
    const chart = await attempt(this.app, this.app.ask("chart read", { name }));
    if (chart) {
      this.text.value = chart.text;
      this.check();
    }
  }

  later() {
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.check(), WAIT_MS);
  }

  async check() {
    const asked = ++this.asked;
    const text = this.text.value;
    const found = await attempt(this.app, this.app.ask("chart check", { text }));
    if (found && asked === this.asked) {
      this.show(found.form ?? null, found.faults ?? []);
    }
  }

  /**
   * @param {Form | null} form none: what was drawn stays
   * @param {ChartFault[]} faults
   */
  show(form, faults) {
    if (form) {
      this.strip.show(form);
    }
    this.strip.bars.forEach((bar, i) => {
      bar.classList.toggle("at-fault", faults.some((f) => f.bar === i + 1));
    });
    fill(
      this.faults,
      ...faults.map(({ line, bar, text }) => {
        const where = bar ? `Bar ${bar}, line ${line}: ` : `Line ${line}: `;
        return make("li", {}, line > 0 && make("b", {}, where), text);
      }),
    );
  }

  /** A name as files have it. */
  called() {
    return this.name.value.trim().toLowerCase().replace(/\s+/g, "-");
  }

  /** What is said when it is saved, and what it takes the place of. @param {string} name */
  saved(name) {
    const there = this.charts.find((chart) => chart.name === name);
    if (!there) {
      return `${name} is saved.`;
    }
    return there.is_own
      ? `${name} is saved over the one of yours that was there.`
      : `${name} is saved as yours: from now on it stands in place of the one that came with Barter.`;
  }

  async save() {
    const name = this.called();
    if (!name) {
      this.app.notice("Give it a name of your own first.");
      this.name.focus();
      return null;
    }
    const fields = { name, text: this.text.value };
    const saved = await attempt(
      this.app,
      this.app.ask("chart save", fields),
      this.saved(name),
    );
    if (saved) {
      this.renew(name);
    }
    return saved;
  }

  async play() {
    if (await this.save()) {
      const value = this.called();
      const chosen = this.app.ask("choose", { name: "chart", value });
      if (await attempt(this.app, chosen)) {
        this.app.go("play");
      }
    }
  }
}
