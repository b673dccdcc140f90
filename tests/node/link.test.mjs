/* Links that open a page with a calculator's inputs, on a page of which only ids and names are there. */

import assert from "node:assert/strict";
import {beforeEach, test} from "node:test";
import {copy, leadsTo, linkedInputs, linkTo} from "../../src/crankpin/browser/static/link.mjs";

const PAGE = "http://127.0.0.1/course/motion/";
let shown = [];

/** Opens a page with these calculators: pairs of id and name. */
function open(address, ...calculators) {
  globalThis.location = new URL(address, PAGE);
  shown = calculators.map(([id, calculator]) => ({id, dataset: {calculator}}));
  return shown;
}

beforeEach(() => {
  globalThis.document = {
    getElementById: (id) => shown.find((element) => element.id === id) ?? null,
    querySelector: (selector) =>
      shown.find(({dataset}) => selector === `[data-calculator="${dataset.calculator}"]`) ?? null,
  };
});

test("each calculator takes what the address gives to its id, in order", () => {
  const [first, second] = open("?a.A=12cm&b.A=3cm&a.t=0.4s", ["a", "edge-on"], ["b", "edge-on"]);
  assert.deepEqual(linkedInputs(first), [["A", "12cm"], ["t", "0.4s"]]);
  assert.deepEqual(linkedInputs(second), [["A", "3cm"]]);
});

test("a calculator's own name means the first of its kind, unless it is somebody's id", () => {
  const [first, second] = open("?edge-on.A=12cm", ["a", "edge-on"], ["b", "edge-on"]);
  assert.deepEqual(linkedInputs(first), [["A", "12cm"]]);
  assert.deepEqual(linkedInputs(second), []);
  const [other, own] = open("?edge-on.A=12cm", ["a", "edge-on"], ["edge-on", "edge-on"]);
  assert.deepEqual(linkedInputs(other), []);
  assert.deepEqual(linkedInputs(own), [["A", "12cm"]]);
});

test("what is meant for nobody here is left alone", () => {
  const [only] = open("?A=12cm&.A=1cm&other.A=2cm&edge.on=3", ["edge-on", "edge-on"]);
  assert.deepEqual(linkedInputs(only), []);
});

test("an address leads to a calculator by its name where no element has that id", () => {
  assert.equal(leadsTo(open("#edge-on", ["a", "edge-on"])[0]), true);
  assert.equal(leadsTo(open("#edge-on", ["edge-on", "edge-on"])[0]), false);
  assert.equal(leadsTo(open("#pump", ["a", "edge-on"])[0]), false);
});

test("a link holds what was typed, and only that, whatever was in the address", () => {
  const fields = [["A", "12 cm"], ["omega", "18 rpm"], ["phi", "25 %&=+µ"]];
  const typed = fields.map(([key, text]) => ({key, forLink: () => text}));
  const [calculator] = open("?old.x=1#elsewhere", ["edge-on", "edge-on"]);
  const link = linkTo(calculator, typed);
  assert.ok(link.startsWith(`${PAGE}?edge-on.A=`));
  assert.ok(link.endsWith("#edge-on"));
  const [again] = open(link, ["edge-on", "edge-on"]);
  assert.deepEqual(linkedInputs(again), fields);
});

/** A field and a browser with these ways to copy. */
function browser(t, {clipboard, older = false}) {
  const field = {value: "", selected: false, select: () => (field.selected = true)};
  Object.defineProperty(globalThis, "navigator", {value: {clipboard}, configurable: true});
  globalThis.document.execCommand = (command) => command === "copy" && field.selected && older;
  t.after(() => delete globalThis.navigator);
  return field;
}

test("a text is copied by the clipboard where there is one", async (t) => {
  const copied = [];
  const field = browser(t, {clipboard: {writeText: async (text) => copied.push(text)}});
  assert.equal(await copy("a link", field), true);
  assert.deepEqual(copied, ["a link"]);
});

test("the older way is tried where the clipboard is missing or says no", async (t) => {
  const refusing = {writeText: async () => Promise.reject(new Error("not allowed"))};
  for (const clipboard of [undefined, refusing]) {
    const field = browser(t, {clipboard, older: true});
    assert.equal(await copy("a link", field), true);
    assert.equal(field.value, "a link");
  }
  assert.equal(await copy("a link", browser(t, {clipboard: refusing})), false);
});
