/* The page's end of the worker: one worker for all calculators of a page, started when first needed.

   States: "asleep", "starting", "awake", "failed". An event of the same name tells each change; "progress" events
   serialise what boot.mjs tells. One question is under way at a time; the first lies before the worker while it starts, so
   that it is answered without another word. Of the questions that one asker has waiting, only the latest is sent, the
   others come to nothing (undefined).

   A question that overran its time or broke the engine is not sent again until its asker has asked another one: it is
   refused at once, with the same error. One that the worker never began on (the system had killed it) is. A worker that
   breaks over and over without answering anything has failed. */

import {ANSWER, CONVERT, PROBLEM, START, uncarry} from "./messages.mjs";

const PATIENCE = 10_000; // milliseconds for one answer
const STARTING_PATIENCE = 60_000; // milliseconds without any word while starting
const MOST_BREAKS = 3; // times that a worker may die or break without an answer in between

export class WorkerClient extends EventTarget {
  state = "asleep";
  error = null;
  #worker = null;
  #count = 0;
  #waiting = [];
  #starting = null;
  #underWay = null;
  #timer = 0;
  #breaks = 0;
  #spoilt = new Map(); // asker to {question, error}: what it asked last where that overran its time or broke the engine
  #makeWorker;

  constructor(makeWorker) {
    super();
    this.#makeWorker = makeWorker;
  }

  /** What a calculator shows for these inputs: {found, numbers}; undefined when a later question took its place.
      A brief answer leaves working and table out. */
  async answer(asker, calculator, given, {brief = false} = {}) {
    const reply = await this.#ask({ask: ANSWER, calculator, given: JSON.stringify(given), brief}, asker);
    return reply && {found: JSON.parse(reply.value), numbers: reply.numbers};
  }

  /** What was typed, as the number to type in another unit; null where there is none. */
  async convert(calculator, key, text, unit, wanted) {
    return (await this.#ask({ask: CONVERT, calculator, key, text, unit, wanted}))?.value ?? null;
  }

  /** What Python says of a problem (see crankpin.problems.respond); undefined when a later question of the same asker took
      its place. */
  async problem(asker, problem, asked) {
    const reply = await this.#ask({ask: PROBLEM, problem, asked: JSON.stringify(asked)}, asker);
    return reply && JSON.parse(reply.value);
  }

  /** Refuses a question with this error until its asker has asked another one, as if it had been sent. */
  spoil(asker, calculator, given, error) {
    this.#spoilt.set(asker, {question: questionOf({ask: ANSWER, calculator, given: JSON.stringify(given)}), error});
  }

  /** Starts the worker unless it is awake or on its way. */
  start() {
    if (this.state === "starting" || this.state === "awake") return
    this.#change("starting");
    try {
      this.#worker = this.#makeWorker();
    } catch (error) {
      this.#fail(error);
      return;
    }
    this.#worker.addEventListener("message", ({data}) => this.#receive(data));
    this.#worker.addEventListener("error", (event) => {
      event.preventDefault();
      this.#fail(new Error(event.message || "the worker's script could not be loaded"))
    });
    this.#starting = this.#post({ask: START});
    this.#watch(STARTING_PATIENCE);
    this.#next();
  }

  /** Ends the worker; the question under way comes to nothing, the next one starts another. */
  end() {
    clearTimeout(this.#timer);
    this.#worker?.terminate();
    this.#underWay?.settle(undefined);
    this.#worker = this.#starting = this.#underWay = null;
    this.#change("asleep");
  }

  #ask(request, asker = null) {
    const question = questionOf(request);
    const spoilt = this.#spoilt.get(asker);
    if (spoilt?.question === question) return Promise.reject(spoilt.error);
    this.#spoilt.delete(asker);
    return new Promise((settle, refuse) => {
      if (asker) {
        const older = this.#waiting.findIndex((one) => one.asker === asker);
        if (older >= 0) this.#waiting.splice(older, 1)[0].settle(undefined);
      }
      this.#waiting.push({request, question, asker, settle, refuse});
      if (this.#worker) this.#next();
      else this.start();
    });
  }

  #next() {
    if (this.#underWay !== null || this.#waiting.length === 0) return;
    const {request, ...asked} = this.#waiting.shift();
    this.#underWay = {...asked, number: this.#post(request)};
    if (this.state === "awake") this.#watch(PATIENCE);
  }

  /** Sends a message to the worker and returns its number. */
  #post(message) {
    const number = ++this.#count;
    this.#worker.postMessage({...message, number});
    return number;
  }

  #watch(patience) {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => this.#overdue(patience), patience);
  }

  #receive({number, progress, size, begun, ...reply}) {
    if (progress) {
      this.#watch(STARTING_PATIENCE);
      this.dispatchEvent(new CustomEvent("progress", {detail: {...progress, size}}));
      return;
    }
    if (begun) {
      if (number === this.#underWay?.number) this.#underWay.begun = true;
      return;
    }
    const error = reply.error && uncarry(reply.error);
    if (number === this.#starting) {
      this.#starting = null;
      if (error) this.#fail(error);
      else this.#wakeUp();
      return;
    }
    if (number !== this.#underWay?.number) return;
    clearTimeout(this.#timer);
    if (error?.fatal) {
      this.#break(error);
      return;
    }
    const {settle, refuse} = this.#underWay;
    this.#underWay = null;
    this.#breaks = 0;
    if (error) refuse(error);
    else settle(reply);
    if (this.state === "awake") this.#next();
  }

  #wakeUp() {
    clearTimeout(this.#timer);
    if (this.#underWay) this.#watch(PATIENCE);
    this.#change("awake");
    this.#next();
  }

  #overdue(patience) {
    const error = Object.assign(new Error(`no answer within ${patience / 1000} s`), {code: "overdue"});
    if (this.state === "starting") this.#fail(error);
    else if (this.#underWay.begun) this.#restart(error);
    else this.#break(error);
  }

  #break(error) {
    this.#breaks += 1;
    if (this.#breaks < MOST_BREAKS) this.#restart(error);
    else this.#fail(error);
  }

  /** A worker that hangs or broke is replaced; the question that did it is refused and remembered, the others are kept. */
  #restart(error) {
    const {asker, question, refuse, begun} = this.#underWay;
    if (asker && (begun || error.fatal)) this.#spoilt.set(asker, {question, error});
    refuse(error);
    this.end();
    this.start();
  }

  #fail(error) {
    const lost = [this.#underWay, ...this.#waiting.splice(0)].filter(Boolean);
    this.#underWay = null;
    this.#breaks = 0;
    this.#spoilt.clear();
    this.end();
    this.error = error;
    this.#change("failed");
    for (const {refuse} of lost) refuse(Object.assign(error, {code: error.code || "failed"}))
  }

  #change(state) {
    this.state = state;
    this.dispatchEvent(new Event(state));
  }
}

/** What makes two requests the same question. */
function questionOf(request) {
  return JSON.stringify({...request, brief: false});
}
