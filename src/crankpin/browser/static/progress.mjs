/* What a student has done, kept on the device alone: no name, no account, nothing is sent.

   One entry a problem:
     title, page      what it is called and the address of its page, from the site's root
     questions        {name: {state, tries, hints, solution, counted}}
     slips            {name: how often}
     done             whether every question is settled
     step, due        how far the intervals have grown, and the day on which to repeat it (days since 1970)

   A problem that went well comes back after a longer time, one with a slip or an opened solution tomorrow. */

const VERSION = 1;
const INTERVALS = [1, 3, 7, 21, 60]; // days
const DAY = 86_400_000; // milliseconds
const LONGEST_FILE = 2_000_000; // characters

export class Progress extends EventTarget {
  #storage;
  #key;
  #now;
  #problems;

  constructor(storage, key, now = Date.now) {
    super();
    this.#storage = storage;
    this.#key = key;
    this.#now = now;
    this.#problems = this.#kept();
  }

  /** The entry of a problem, or null. */
  of(id) {
    return this.#problems[id] ?? null;
  }

  /** Keeps what happened in a question. `among` are the names of all questions of the problem. */
  record(id, {title, page, among, question, verdict, opened, counted}) {
    const entry = (this.#problems[id] ??= {title, page, questions: {}, slips: {}, done: false, step: 0, due: null});
    Object.assign(entry, {title, page});
    if (verdict && entry.due !== null && entry.due <= this.#today() && entry.done) this.#begin(entry);
    const asked = (entry.questions[question] ??= fresh());
    if (opened === "solution") asked.solution ||= asked.state !== "right" && asked.state !== "compare";
    else if (opened) asked.hints = Math.max(asked.hints, Number(opened));
    if (counted) asked.counted = counted;
    const areSettled = () => among.every((name) => isSettled(entry.questions[name]));
    const before = areSettled();
    if (verdict) this.#mark(entry, asked, verdict);
    if (!before && areSettled()) this.#finish(entry);
    this.#keep();
  }

  /** A problem is begun anew, with the same or other numbers. */
  again(id) {
    const entry = this.#problems[id];
    if (!entry?.done) return;
    this.#begin(entry);
    this.#keep();
  }

  /** Problems to repeat today, those with most slips first: [{id, title, page, slips}]. */
  due() {
    const today = this.#today();
    const some = Object.entries(this.#problems).filter(([, {due}]) => due !== null && due <= today);
    const count = ({slips}) => Object.values(slips).reduce((sum, times) => sum + times, 0);
    return some.map(([id, entry]) => ({id, ...entry})).sort((a, b) => count(b) - count(a) || a.due - b.due);
  }

  /** How often each slip was made, the commonest first: [[name, times]]. */
  slips() {
    const times = {};
    for (const {slips} of Object.values(this.#problems)) {
      for (const [name, count] of Object.entries(slips)) times[name] = (times[name] ?? 0) + count;
    }
    return Object.entries(times).sort((a, b) => b[1] - a[1]);
  }

  clear() {
    this.#problems = {};
    this.#storage?.removeItem(this.#key);
    this.dispatchEvent(new Event("change"));
  }

  /** Everything as the text of a file. */
  text() {
    return JSON.stringify({what: "progress in problems", version: VERSION, problems: this.#problems}, null, 1);
  }

  /** Takes what a file says in the place of what is here; throws an Error in plain words where it is no such file. */
  load(text) {
    this.#problems = readText(text);
    this.#keep();
  }

  #begin(entry) {
    entry.questions = {};
    entry.done = false;
  }

  #mark(entry, asked, {state, slip}) {
    asked.tries += 1;
    if (!isSettled(asked)) asked.state = state;
    if (state === "slip" && slip) entry.slips[slip] = (entry.slips[slip] ?? 0) + 1;
    if (state === "wrong" || state === "slip") asked.missed = true;
  }

  #finish(entry) {
    const clean = Object.values(entry.questions).every(({missed, solution, counted}) => {
      return !missed && !solution && (!counted || counted[0] >= counted[1] / 2);
    });
    entry.step = clean ? Math.min(entry.step + 1, INTERVALS.length) : 1;
    entry.due = this.#today() + INTERVALS[entry.step - 1];
    entry.done = true;
  }

  #today() {
    return Math.floor(this.#now() / DAY);
  }

  #kept() {
    try {
      const text = this.#storage?.getItem(this.#key);
      return text ? readText(text) : {};
    } catch {
      return {}; // what cannot be read is as good as nothing
    }
  }

  #keep() {
    try {
      this.#storage?.setItem(this.#key, this.text());
    } catch {
      // the device is full, or keeps nothing for this page: it lasts until the page is left
    }
    this.dispatchEvent(new Event("change"));
  }
}

/** The device's storage, or null where this page may not use it. */
export function deviceStorage() {
  try {
    return window.localStorage;
  } catch {
    return null;
  }
}

function fresh() {
  return {state: "", tries: 0, hints: 0, solution: false, counted: null, missed: false};
}

function isSettled(asked) {
  return asked?.state === "right" || asked?.state === "compare";
}

function readText(text) {
  const told = new Error("This file holds no progress saved from these pages. Choose the file that was saved here.");
  if (text.length > LONGEST_FILE) throw told;
  let found;
  try {
    found = JSON.parse(text);
  } catch {
    throw told;
  }
  if (found?.version !== VERSION || typeof found.problems !== "object" || found.problems === null) throw told;
  const entries = Object.entries(found.problems).filter(([id]) => /^[a-z][a-z0-9-]*$/.test(id));
  return Object.fromEntries(entries.map(([id, entry]) => [id, readEntry(entry, told)]));
}

function readEntry(entry, told) {
  const {title, page, questions, slips, done, step, due} = entry ?? {};
  const isSound = typeof title === "string" && typeof page === "string" && isPlain(questions) && isPlain(slips);
  if (!isSound || !/^[\w./-]*$/.test(page) || page.includes("//")) throw told;
  const times = Object.fromEntries(Object.entries(slips).filter(([, count]) => Number.isInteger(count)));
  const asked = Object.fromEntries(Object.entries(questions).map(([name, one]) => [name, {...fresh(), ...one}]));
  return {
    title,
    page,
    questions: asked,
    slips: times,
    done: done === true,
    step: Number.isInteger(step) ? Math.min(Math.max(step, 0), INTERVALS.length) : 0,
    due: Number.isInteger(due) ? due : null,
  };
}

function isPlain(value) {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}
