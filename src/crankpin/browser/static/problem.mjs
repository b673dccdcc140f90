/* A problem that marks what is typed. Python draws the numbers, marks and finds the words; this file takes what a student
   does to it and puts the answer in its place. The printed numbers are those of the set that stands in the page.

   Progress is told as it happens, with an event "progress" whose detail is {question, verdict, opened, counted}. */

import {answerOf, forget, place, unplace} from "./answers.mjs";
import {Chart} from "./chart.mjs";

const WORDS = {
  asleep: "Answers are checked as soon as Python is here.",
  starting: "Python is on its way; an answer given now is checked when it is here.",
  awake: "",
  failed: "Answers cannot be checked just now; hints and solutions are here all the same.",
};
const SETTLED = ["right", "compare"];

export class ProblemElement extends HTMLElement {
  #client = null;
  #data = "";
  #variant = 1;
  #values = {}; // the student's own numbers, by part, on which later parts go on
  #charts = new Map();
  #stop = null;

  get client() {
    return this.#client;
  }

  set client(client) {
    if (this.#client === client) return;
    this.#stop?.abort();
    this.#client = client;
    if (client && this.isConnected) this.#enliven();
  }

  connectedCallback() {
    if (this.#client && !this.#stop) this.#enliven();
  }

  disconnectedCallback() {
    this.#stop?.abort();
    this.#stop = null;
    for (const chart of this.#charts.values()) chart.destroy();
    this.#charts.clear();
  }

  /** The number of the set that is shown. */
  get variant() {
    return this.#variant;
  }

  /** The names of the questions: "" alone, or a, b, c. */
  get questions() {
    return [...this.querySelectorAll(".problem-part")].map((part) => part.dataset.question);
  }

  /** The names of the slips that Python can tell in this problem. */
  get slips() {
    return JSON.parse(this.#data).questions.flatMap(({slips = []}) => slips.map(([name]) => name));
  }

  #enliven() {
    this.#stop = new AbortController();
    const {signal} = this.#stop;
    this.#data ||= this.#part("data").textContent;
    this.addEventListener("submit", (event) => this.#submit(event), {signal});
    this.addEventListener("click", (event) => this.#click(event), {signal});
    this.addEventListener("toggle", (event) => this.#toggle(event), {signal, capture: true});
    this.addEventListener("change", (event) => this.#count(event), {signal});
    for (const state of Object.keys(WORDS)) this.#client.addEventListener(state, () => this.#follow(), {signal});
    this.#follow();
    const asked = Number(new URLSearchParams(location.search).get(`${this.id}.variant`));
    if (!Number.isInteger(asked) || asked < 1) return;
    this.draw(asked);
    if (!location.hash) this.scrollIntoView();
  }

  #part(name, within = this) {
    return within.querySelector(`[data-part="${name}"]`);
  }

  #question(name) {
    return this.querySelector(`.problem-part[data-question="${name}"]`);
  }

  #follow() {
    const {state} = this.#client;
    this.dataset.state = {asleep: "printed", awake: "live"}[state] ?? state;
    this.#part("state").textContent = WORDS[state] ?? "";
  }

  /* What a student does. */

  #submit(event) {
    event.preventDefault();
    const form = event.target;
    if (form.matches(".problem-numbers")) {
      if (form.reportValidity()) this.draw(Number(form.elements.variant.value));
    } else if (form.matches(".problem-answer")) this.#mark(form.closest(".problem-part"));
  }

  #click({target}) {
    const button = target.closest("button[data-do]");
    if (!button || button.closest("crankpin-calculator, crankpin-scene")) return;
    if (button.dataset.do === "other") this.draw(this.#another(button.form));
    if (button.dataset.do === "place") place(button);
    if (button.dataset.do === "unplace") unplace(button.form);
  }

  #another(form) {
    const most = Number(form.elements.variant.max);
    const other = 1 + Math.floor(Math.random() * (most - 1));
    return other < this.#variant ? other : other + 1;
  }

  #toggle({target}) {
    if (!target.open || !target.matches(".problem-hint, .problem-solution")) return;
    const part = target.closest(".problem-part");
    this.#tell(part, {opened: target.dataset.hint ?? "solution"});
  }

  /** Counts the marks that a student gives to an answer in words. */
  #count({target}) {
    if (!target.matches(".problem-points input")) return;
    const part = target.closest(".problem-part");
    const boxes = [...part.querySelectorAll(".problem-points input")];
    const worth = (some) => some.reduce((sum, box) => sum + Number(box.dataset.worth), 0);
    const [got, of] = [worth(boxes.filter((box) => box.checked)), worth(boxes)];
    this.#part("counted", part).textContent = `${got} of ${of} marks`;
    this.#tell(part, {counted: [got, of]});
  }

  async #mark(part) {
    const {question, follows} = part.dataset;
    const followed = follows.split(" ").filter((name) => name in this.#values);
    const asked = {
      do: "mark",
      variant: this.#variant,
      part: question,
      given: answerOf(part),
      earlier: Object.fromEntries(followed.map((name) => [name, this.#values[name]])),
    };
    this.#say(part, {state: "waiting", says: this.#client.state === "awake" ? "…" : WORDS.starting, comments: []});
    let verdict;
    try {
      verdict = await this.#client.problem(part, this.#data, asked);
    } catch {
      verdict = {state: "unread", says: WORDS.failed, comments: [], reasons: []};
    }
    if (!verdict || asked.variant !== this.#variant) return;
    if (verdict.value !== null && verdict.value !== undefined) this.#values[question] = verdict.value;
    this.#say(part, verdict);
    if (verdict.state !== "unread") this.#tell(part, {verdict});
  }

  #tell(part, detail) {
    const {question} = part.dataset;
    this.dispatchEvent(new CustomEvent("progress", {bubbles: true, detail: {question, ...detail}}));
  }

  /* What is shown. */

  #say(part, {state, says, comments, reasons = []}) {
    const box = this.#part("verdict", part);
    const rows = [says, ...comments].map((text) => Object.assign(document.createElement("p"), {textContent: text}));
    box.replaceChildren(...rows.filter((row) => row.textContent));
    box.dataset.verdict = state;
    for (const reason of part.querySelectorAll(".problem-reason")) {
      reason.hidden = !reasons.includes(Number(reason.dataset.reason));
    }
    if (SETTLED.includes(state)) part.dataset.settled = "";
    if (state === "compare") this.#part("solution", part).open = true;
    const look = this.#part("look", part);
    if (look && !["unread", "waiting"].includes(state)) delete look.dataset.closed;
  }

  /** Shows another set of numbers; what was answered is cleared. */
  async draw(variant) {
    const asked = {do: "draw", variant};
    this.#part("state").textContent = this.#client.state === "awake" ? "" : WORDS.starting;
    let drawn;
    try {
      drawn = await this.#client.problem(this, this.#data, asked);
    } catch {
      this.#part("state").textContent = "This set of numbers cannot be shown just now.";
      return;
    }
    if (!drawn) return;
    this.#variant = variant;
    this.#values = {};
    this.#part("state").textContent = "";
    const number = this.querySelector(".problem-numbers input");
    if (number) number.value = variant;
    for (const slot of this.querySelectorAll("[data-slot]")) slot.textContent = drawn.slots[slot.dataset.slot];
    for (const part of this.querySelectorAll(".problem-part")) this.#clear(part);
    for (const [name, order] of Object.entries(drawn.orders)) this.#arrange(this.#question(name), order);
    for (const [name, picture] of Object.entries(drawn.graphs)) this.#plot(this.#question(name), picture);
    for (const look of this.querySelectorAll(".problem-look")) this.#give(look, drawn.slots);
    this.dispatchEvent(new CustomEvent("drawn", {bubbles: true}));
  }

  #clear(part) {
    forget(part);
    this.#say(part, {state: "", says: "", comments: []});
    delete part.dataset.settled;
    for (const shut of part.querySelectorAll("details[open]")) shut.open = false;
    const look = this.#part("look", part);
    if (look) look.dataset.closed = "";
  }

  #arrange(part, order) {
    const list = part.querySelector(".problem-items");
    list.append(...order.map((at) => list.querySelector(`:scope > [data-place="${at}"]`)));
  }

  #plot(part, picture) {
    const figure = part.querySelector(".problem-graph");
    if (!this.#charts.has(part)) {
      const [box, pointed] = [this.#part("picture", figure), this.#part("pointed", figure)];
      this.#charts.set(part, new Chart(box, pointed));
    }
    this.#charts.get(part).show(picture, Float64Array.from(picture.numbers));
  }

  /** Puts the numbers of a set into the calculators that open after a guess. */
  #give(look, slots) {
    for (const [id, given] of Object.entries(JSON.parse(look.dataset.given || "{}"))) {
      const texts = Object.entries(given).map(([key, slot]) => [key, slots[slot]]);
      document.getElementById(id)?.put?.(texts);
    }
  }
}
