/* Pages made by chance, for the worker client: askers that change their minds, questions that overrun, break the engine or
   are refused, and the policy of calculator.mjs that each asks again when the worker starts or wakes. Prints one line of
   JSON: how many pages, questions sent, and those sent again although their asker had asked nothing else. */

import {ANSWER, START} from "../../src/crankpin/browser/static/messages.mjs";
import {WorkerClient} from "../../src/crankpin/browser/static/worker-client.mjs";

const PAGES = Number(process.argv[2]);
const FATES = ["answered", "answered", "refused", "overdue", "fatal", "killed"];
const MOST_SENT = 400; // in one page: more is a loop

let dice = 20260;
const upTo = (limit) => (dice = (dice * 1103515245 + 12345) % 2147483648) % limit;

/** Time that a test moves on by hand. */
let timers = new Map();
let lastTimer = 0;
globalThis.setTimeout = (doing) => (timers.set(++lastTimer, doing), lastTimer);
globalThis.clearTimeout = (timer) => timers.delete(timer);
const settle = async () => {
  for (let turn = 0; turn < 20; turn++) await null;
};

class Worker extends EventTarget {
  ended = false;
  constructor(page) {
    super();
    this.page = page;
  }
  postMessage(message) {
    this.page.receive(this, message);
  }
  terminate() {
    this.ended = true;
  }
  say(data) {
    if (!this.ended) this.dispatchEvent(Object.assign(new Event("message"), {data}));
  }
}

class Page {
  sent = [];
  again = [];
  waiting = []; // what the worker has to do: functions
  constructor() {
    this.fates = Array.from({length: 4}, () => Array.from({length: 4}, () => FATES[upTo(FATES.length)]));
    this.askers = Array.from({length: 1 + upTo(4)}, (_, kind) => ({kind, given: upTo(4), busy: false, spoilt: null}));
    this.client = new WorkerClient(() => new Worker(this));
    for (const state of ["starting", "awake"]) {
      this.client.addEventListener(state, () => this.askers.forEach((asker) => asker.busy || this.ask(asker)));
    }
  }
  async ask(asker) {
    asker.busy = true;
    const {given} = asker;
    await this.client.answer(asker, `kind-${asker.kind}`, given, {brief: upTo(2) === 0}).catch(() => {});
    asker.busy = false;
  }
  change(asker) {
    asker.given = (asker.given + 1 + upTo(3)) % 4;
    asker.spoilt = null;
    this.ask(asker);
  }
  receive(worker, message) {
    if (message.ask === START) this.waiting.push(() => worker.say({number: message.number, value: null}));
    if (message.ask !== ANSWER) return;
    const kind = Number(message.calculator.slice(5));
    const given = JSON.parse(message.given);
    this.sent.push(message);
    if (this.askers[kind].spoilt === given) this.again.push([kind, given]);
    this.waiting.push(() => this.answer(worker, message.number, kind, given));
  }
  answer(worker, number, kind, given) {
    const fate = this.fates[kind][given];
    const asker = this.askers[kind];
    if (worker.ended) return;
    if (fate !== "killed") worker.say({number, begun: true});
    if ((fate === "overdue" || fate === "fatal") && asker.given === given) asker.spoilt = given;
    if (fate === "answered") worker.say({number, value: "{}"});
    if (fate === "refused") worker.say({number, error: {name: "E", message: "no"}});
    if (fate === "fatal") worker.say({number, error: {name: "E", message: "broke", fatal: true}});
    if (fate === "overdue" || fate === "killed") for (const [timer, doing] of [...timers]) if (timers.delete(timer)) doing();
  }
  /** Lets the worker do what it has, until nothing more is asked. */
  async rest() {
    await settle();
    while (this.waiting.length > 0 && this.sent.length < MOST_SENT) {
      this.waiting.shift()();
      await settle();
    }
  }
}

let sent = 0;
const faults = [];
for (let number = 0; number < PAGES; number++) {
  timers = new Map();
  const page = new Page();
  page.client.start();
  await page.rest();
  for (let change = 0; change < 6; change++) {
    page.change(page.askers[upTo(page.askers.length)]);
    await page.rest();
  }
  sent += page.sent.length;
  // An engine that broke too often has failed, and starting it anew asks all again: that is a change of its own.
  if (page.again.length > 0 || page.sent.length >= MOST_SENT) faults.push({number, again: page.again.length, sent: page.sent.length});
}
console.log(JSON.stringify({pages: PAGES, sent, faults: faults.slice(0, 3), count: faults.length}));
