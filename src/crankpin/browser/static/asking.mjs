/* An input that is asked: a result is given in its place.

   One button at each input, "Find this", turns the calculator round; the row then shows the value found, and below it
   which result is given and how much. What may be given for which input the page says (`data-from`); which values
   answer, and all words about them, are Python's. */

import {write} from "./fields.mjs";

export class Asking {
  #calculator;
  #changed;
  #printed = null;
  #now = null; // {key, from, row, button, select, number, unit, more, fault}

  /** `changed` is called when the question has become another one. */
  constructor(calculator, changed) {
    this.#calculator = calculator;
    this.#changed = changed;
    const {find, findFrom, wanted, wantedUnit} = calculator.dataset;
    if (find) this.#printed = {key: find, from: findFrom, text: wanted, unit: wantedUnit};
    this.reset();
  }

  get key() {
    return this.#now?.key ?? "";
  }

  /** What is to be sent beside the fields: the key that is asked, and the result that is given. */
  given() {
    return this.#now ? {find: [this.#now.key, ""], [this.#now.select.value]: [this.#now.number.value, this.#now.unit]} : {};
  }

  printedAs() {
    const {key, from, text, unit} = this.#printed ?? {};
    return key ? {find: [key, ""], [from]: [text, unit]} : {};
  }

  /** The same, as pairs of a link. */
  forLink() {
    if (!this.#now) return [];
    const {key, select, number, unit} = this.#now;
    const hasUnit = /[^\d\s.,+−-]/.test(number.value) || unit === "1";
    return [["find", key], [select.value, number.value + (hasUnit ? "" : unit)]];
  }

  /** Takes from a link's pairs what belongs to a question; returns the others. */
  open(pairs) {
    const find = pairs.find(([key]) => key === "find")?.[1];
    const row = find && this.#row(find);
    const from = row && pairs.find(([key]) => this.#choices(row).includes(key));
    if (!from) return pairs;
    this.start(find, {from: from[0], text: from[1]});
    return pairs.filter((pair) => pair !== from && pair[0] !== "find");
  }

  /** Takes up a question of an earlier visit. */
  restore(given) {
    const key = given.find?.[0];
    const row = key && this.#row(key);
    const from = row && this.#choices(row).find((choice) => given[choice]);
    if (from) this.start(key, {from, text: given[from][0], unit: given[from][1]});
  }

  /** Turns the calculator round, or back where this input is asked already. */
  toggle(key) {
    const wasAsked = this.key === key;
    this.stop();
    if (!wasAsked) this.start(key);
    this.#changed();
    if (!wasAsked) this.#now.number.focus();
  }

  start(key, {from, text, unit} = {}) {
    this.stop();
    const row = this.#row(key);
    const choices = this.#choices(row);
    const usual = from ?? (choices.includes("T") ? "T" : choices[0]);
    const panel = document.createElement("div");
    panel.className = "ask-from";
    const select = document.createElement("select");
    select.autocomplete = "off";
    select.setAttribute("aria-label", "the result that is given");
    for (const choice of choices) select.add(new Option(this.#words(choice), choice, choice === usual, choice === usual));
    const number = Object.assign(document.createElement("input"), {type: "text", autocomplete: "off", spellcheck: false});
    number.setAttribute("aria-label", "its value");
    const unitShown = document.createElement("span");
    const more = Object.assign(document.createElement("p"), {className: "ask-more"});
    const fault = Object.assign(document.createElement("p"), {className: "ask-fault"});
    const line = document.createElement("div");
    line.className = "ask-line";
    line.append(number, unitShown);
    panel.append("from ", select, line, more, fault);
    row.append(panel);
    row.toggleAttribute("data-asked", true);
    const button = row.querySelector('[data-do="ask"]');
    button.setAttribute("aria-pressed", "true");
    button.firstElementChild.textContent = "Give this again";
    this.#now = {key, row, button, panel, select, number, unitShown, unit: "", more, fault};
    this.#fill(text, unit);
    select.addEventListener("change", () => {
      this.#fill();
      this.#changed();
    });
    number.addEventListener("input", () => this.#changed());
  }

  stop() {
    if (!this.#now) return;
    const {row, panel, button} = this.#now;
    panel.remove();
    row.removeAttribute("data-asked");
    button.setAttribute("aria-pressed", "false");
    button.firstElementChild.textContent = "Find this";
    this.#now = null;
  }

  /** Back to what was printed. */
  reset() {
    this.stop();
    if (this.#printed) this.start(this.#printed.key, this.#printed);
  }

  /** Says which other values would do, as Python found them. */
  accept(found) {
    if (!this.#now || found.asked !== this.#now.key) return;
    const others = found.solutions.slice(1, 8).map(({text}) => text);
    write(this.#now.more, others.length === 0 ? "" : `Also ${others.join(", ")}${found.solutions.length > 8 ? " and more" : ""}.`);
    this.tell(new Map());
  }

  /** Shows the faults that belong to the question, and takes them from the others. */
  tell(messages) {
    if (!this.#now) return;
    const own = [this.#now.select.value, "find"].filter((key) => messages.has(key));
    write(this.#now.fault, own.map((key) => messages.get(key)).join(" "));
    this.#now.number.toggleAttribute("aria-invalid", own.length > 0);
    for (const key of own) messages.delete(key);
  }

  /** Puts in the result as it stands just now, or a text of its own. */
  #fill(text, unit) {
    const output = this.#output(this.#now.select.value);
    const shown = output.dataset.text ?? output.textContent;
    const [, number = shown] = shown.match(/^([^\s°]+)/) ?? [];
    this.#now.number.value = text ?? number;
    this.#now.unit = unit ?? output.dataset.unit;
    const bringsItsUnit = text !== undefined && unit === undefined;
    write(this.#now.unitShown, bringsItsUnit ? "" : shown.slice(number.length).trim());
  }

  #row(key) {
    const row = this.#calculator.querySelector(`.given-row[data-key="${CSS.escape(key)}"]`);
    return row?.querySelector('[data-do="ask"]') ? row : null;
  }

  #choices(row) {
    return row.querySelector('[data-do="ask"]').dataset.from.split(" ");
  }

  #output(key) {
    return this.#calculator.querySelector(`output[name="${CSS.escape(key)}"]`);
  }

  #words(key) {
    return `${this.#output(key).dataset.meaning}`;
  }
}
