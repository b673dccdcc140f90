/* The worker client's queue, with workers that answer when told to, and time that is moved on by hand. */

import assert from "node:assert/strict";
import {test} from "node:test";
import {ANSWER, START, serialise} from "../../src/crankpin/browser/static/messages.mjs";
import {WorkerClient} from "../../src/crankpin/browser/static/worker-client.mjs";

const ONE = {asker: "one"};
const OTHER = {asker: "other"};

class Worker extends EventTarget {
  posted = [];
  ended = false;
  postMessage(message) {
    this.posted.push(message);
  }
  terminate() {
    this.ended = true;
  }
  say(data) {
    this.dispatchEvent(Object.assign(new Event("message"), {data}));
  }
  awake() {
    this.say({number: this.posted.find(({ask}) => ask === START).number, value: null});
  }
  begin() {
    this.say({number: this.posted.at(-1).number, begun: true});
  }
  answer(value = this.given()) {
    this.say({number: this.posted.at(-1).number, value: JSON.stringify(value), numbers: []});
  }
  refuse(error) {
    this.say({number: this.posted.at(-1).number, error: serialise(error)});
  }
  given() {
    return JSON.parse(this.posted.at(-1).given);
  }
  asked() {
    return this.posted.filter(({ask}) => ask === ANSWER).map(({given}) => JSON.parse(given));
  }
}

/** A client, its workers in the order of their making, and a way to let time pass. */
function clientOf(t) {
  const timers = new Map();
  t.mock.method(globalThis, "setTimeout", (doing, wait) => {
    const timer = Symbol("timer");
    timers.set(timer, {doing, wait});
    return timer;
  });
  t.mock.method(globalThis, "clearTimeout", (timer) => timers.delete(timer));
  const workers = [];
  const client = new WorkerClient(() => workers[workers.push(new Worker()) - 1]);
  const pass = (time) => {
    for (const [timer, due] of [...timers]) {
      due.wait -= time;
      if (due.wait > 0 || !timers.delete(timer)) continue;
      due.doing();
    }
  };
  return {client, workers, pass, ask: (asker, given) => client.answer(asker, "edge-on", given)};
}

/** What became of a question, once it is settled. */
const found = async (question) => (await question)?.found;

test("the first question lies before the worker while it starts", async (t) => {
  const {client, workers, ask} = clientOf(t);
  assert.equal(client.state, "asleep");
  const question = ask(ONE, 1);
  assert.equal(client.state, "starting");
  assert.deepEqual(workers[0].posted.map((message) => message.ask), [START, ANSWER]);
  workers[0].awake();
  assert.equal(client.state, "awake");
  workers[0].answer();
  assert.equal(await found(question), 1);
});

test("one question is under way at a time, in the order in which they were asked", async (t) => {
  const {workers, ask} = clientOf(t);
  const questions = [ask(ONE, 1), ask(OTHER, 2), ask({asker: "third"}, 3)];
  workers[0].awake();
  assert.deepEqual(workers[0].asked(), [1]);
  for (const question of questions) {
    workers[0].answer();
    await question;
  }
  assert.deepEqual(await Promise.all(questions.map(found)), [1, 2, 3]);
  assert.deepEqual(workers[0].asked(), [1, 2, 3]);
});

test("of one asker's waiting questions only the latest is sent", async (t) => {
  const {workers, ask} = clientOf(t);
  const underWay = ask(ONE, 1);
  workers[0].awake();
  const [older, others, latest] = [ask(ONE, 2), ask(OTHER, 3), ask(ONE, 4)];
  assert.equal(await older, undefined);
  for (let turn = 0; turn < 3; turn++) workers[0].answer();
  assert.deepEqual(await Promise.all([underWay, others, latest].map(found)), [1, 3, 4]);
  assert.deepEqual(workers[0].asked(), [1, 3, 4]);
});

test("a refused question is told to its asker, and the next one is sent", async (t) => {
  const {workers, ask} = clientOf(t);
  const [refused, next] = [ask(ONE, 1), ask(OTHER, 2)];
  workers[0].awake();
  workers[0].refuse(Object.assign(new Error("no such wheel"), {code: "unknown"}));
  await assert.rejects(refused, {message: "no such wheel", code: "unknown"});
  workers[0].answer();
  assert.equal(await found(next), 2);
});

test("a question that overran is refused, its worker replaced, and the others are kept", async (t) => {
  const {workers, pass, ask} = clientOf(t);
  const [slow, next] = [ask(ONE, 1), ask(OTHER, 2)];
  workers[0].awake();
  workers[0].begin();
  pass(9_999);
  assert.equal(workers.length, 1);
  pass(1);
  await assert.rejects(slow, {code: "overdue"});
  assert.ok(workers[0].ended);
  workers[1].awake();
  workers[1].answer();
  assert.equal(await found(next), 2);
});

test("what overran is not sent again until its asker has asked something else", async (t) => {
  const {workers, pass, ask} = clientOf(t);
  const slow = ask(ONE, 1);
  workers[0].awake();
  workers[0].begin();
  pass(10_000);
  await assert.rejects(slow, {code: "overdue"});
  workers[1].awake();
  await assert.rejects(ask(ONE, 1), {code: "overdue"});
  assert.deepEqual(workers[1].asked(), []);
  const others = ask(OTHER, 1);
  workers[1].answer();
  assert.equal(await found(others), 1);
  const changed = ask(ONE, 2);
  workers[1].answer();
  assert.equal(await found(changed), 2);
  const again = ask(ONE, 1);
  workers[1].answer();
  assert.equal(await found(again), 1);
});

test("what a killed worker never began on may be asked again", async (t) => {
  const {workers, pass, ask} = clientOf(t);
  const lost = ask(ONE, 1);
  workers[0].awake();
  pass(10_000);
  await assert.rejects(lost, {code: "overdue"});
  const again = ask(ONE, 1);
  workers[1].awake();
  workers[1].answer();
  assert.equal(await found(again), 1);
});

test("a worker that breaks three times without an answer has failed, and every question is told", async (t) => {
  const {client, workers, ask} = clientOf(t);
  const broken = Object.assign(new Error("out of memory"), {pyodide_fatal_error: true});
  const questions = [1, 2, 3, 4].map((given) => ask({asker: given}, given));
  const told = Promise.all(questions.map((question) => assert.rejects(question, {message: "out of memory"})));
  for (let turn = 0; turn < 3; turn++) {
    workers[turn].awake();
    workers[turn].refuse(broken);
  }
  await told;
  assert.equal(client.state, "failed");
  assert.equal(workers.length, 3);
  assert.ok(workers.every(({ended}) => ended));
});

test("an answer in between starts the count of breaks again", async (t) => {
  const {client, workers, ask} = clientOf(t);
  const broken = Object.assign(new Error("out of memory"), {pyodide_fatal_error: true});
  for (let given = 0; given < 4; given++) {
    const question = ask(ONE, `breaks ${given}`);
    workers.at(-1).awake();
    workers.at(-1).refuse(broken);
    await assert.rejects(question, {message: "out of memory"});
    workers.at(-1).awake();
    const answered = ask(ONE, given);
    workers.at(-1).answer();
    assert.equal(await found(answered), given);
  }
  assert.equal(client.state, "awake");
});

test("a start that says nothing for a minute has failed", async (t) => {
  const {client, workers, pass, ask} = clientOf(t);
  const question = ask(ONE, 1);
  pass(59_999);
  assert.equal(client.state, "starting");
  pass(1);
  await assert.rejects(question, {code: "overdue"});
  assert.equal(client.state, "failed");
  assert.ok(workers[0].ended);
});

test("where no worker can be made, the question is refused and the reason kept", async () => {
  const reason = new Error("workers are switched off");
  const client = new WorkerClient(() => {
    throw reason;
  });
  await assert.rejects(client.answer(ONE, "edge-on", 1), {message: reason.message, code: "failed"});
  assert.equal(client.state, "failed");
  assert.equal(client.error, reason);
});

test("a client that was ended starts another worker for the next question", async (t) => {
  const {client, workers, ask} = clientOf(t);
  const dropped = ask(ONE, 1);
  workers[0].awake();
  client.end();
  assert.equal(await dropped, undefined);
  assert.equal(client.state, "asleep");
  const next = ask(ONE, 2);
  workers[1].awake();
  workers[1].answer();
  assert.equal(await found(next), 2);
});
