/* The page's end of the worker: one worker for all calculators of a page, started when first needed.

   States: "asleep", "starting", "awake", "failed". An event of the same name tells each change; "progress" events
   carry what boot.mjs tells. Questions asked before the worker is awake wait. One question is under way at a time;
   of the questions that one asker has waiting, only the latest is sent, the others come to nothing (undefined). */

import {ANSWER, CONVERT, START, uncarry} from "./messages.mjs";

const PATIENCE = 10_000; // milliseconds for one answer
const STARTING_PATIENCE = 60_000; // milliseconds without any word while starting

export class Courier extends EventTarget {
  state = "asleep";
  error = null;
  #worker = null;
  #count = 0;
  #waiting = [];
  #underWay = null;
  #timer = 0;
  #makeWorker;

  constructor(makeWorker) {
    super();
    this.#makeWorker = makeWorker;
  }

  /** What a calculator shows for these inputs: {found, numbers}; undefined when a later question took its place. */
  async answer(asker, calculator, given) {
    const reply = await this.#ask({ask: ANSWER, calculator, given: JSON.stringify(given)}, asker);
    return reply && {found: JSON.parse(reply.value), numbers: reply.numbers};
  }

  /** What was typed, as the number to type in another unit; null where there is none. */
  async convert(calculator, key, text, unit, wanted) {
    return (await this.#ask({ask: CONVERT, calculator, key, text, unit, wanted})).value;
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
    this.#send({ask: START, settle: () => this.#change("awake"), refuse: (error) => this.#fail(error)});
  }

  /** Ends the worker; the next question starts another. */
  end() {
    clearTimeout(this.#timer);
    this.#worker?.terminate();
    this.#worker = this.#underWay = null;
    this.#change("asleep");
  }

  #ask(request, asker = null) {
    return new Promise((settle, refuse) => {
      if (asker) {
        const older = this.#waiting.findIndex((one) => one.asker === asker);
        if (older >= 0) this.#waiting.splice(older, 1)[0].settle(undefined);
      }
      this.#waiting.push({...request, asker, settle, refuse});
      if (this.state === "awake") this.#next();
      else this.start();
    });
  }

  #next() {
    if (this.#underWay === null && this.#waiting.length > 0) this.#send(this.#waiting.shift());
  }

  #send(request) {
    const {asker, settle, refuse, ...message} = request;
    message.number = ++this.#count;
    this.#underWay = {number: message.number, asker, settle, refuse};
    this.#watch(message.ask === START ? STARTING_PATIENCE : PATIENCE);
    this.#worker.postMessage(message);
  }

  #watch(patience) {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => this.#overdue(patience), patience);
  }

  #receive({number, progress, size, ...reply}) {
    if (progress) {
      this.#watch(STARTING_PATIENCE);
      this.dispatchEvent(new CustomEvent("progress", {detail: {...progress, size}}));
      return;
    }
    if (number !== this.#underWay?.number) return;
    clearTimeout(this.#timer);
    const {settle, refuse} = this.#underWay;
    this.#underWay = null;
    const error = reply.error && uncarry(reply.error);
    if (error?.fatal) this.#restart(refuse, error);
    else if (error) refuse(error);
    else settle(reply);
    if (this.state === "awake") this.#next();
  }

  #overdue(patience) {
    const error = Object.assign(new Error(`no answer within ${patience / 1000} s`), {code: "overdue"});
    if (this.state === "starting") this.#fail(error);
    else this.#restart(this.#underWay.refuse, error);
  }

  /** A worker that hangs or broke is replaced; the question that did it is refused, the others are kept. */
  #restart(refuse, error) {
    this.end();
    refuse(error);
    this.start();
  }

  #fail(error) {
    this.end();
    this.error = error;
    this.#change("failed");
    for (const {refuse} of this.#waiting.splice(0)) refuse(Object.assign(error, {code: error.code || "failed"}))
  }

  #change(state) {
    this.state = state;
    this.dispatchEvent(new Event(state));
    if (state === "awake") this.#next();
  }
}
