/* What a moving picture shows between the samples that Python sends. The circle's values are common practice, no source. */

import assert from "node:assert/strict";
import {test} from "node:test";
import {Tracks} from "../../src/crankpin/browser/static/scene-tracks.mjs";

const STEPS = 72; // samples a turn, as crankpin.calculator.tracks sends them
const PERIOD = 4; // seconds
const AMPLITUDE = 0.12; // metres

/** Tracks from samples as Python sends them: of each curve all of the first row, then all of the second. */
function tracksOf(curves, steps = STEPS) {
  const numbers = Object.values(curves).flat(2);
  let start = 0;
  const panels = Object.entries(curves).map(([key, [row]]) => {
    const panel = {curves: [{key, start, count: row.length}]};
    start += 2 * row.length;
    return panel;
  });
  return new Tracks({panels}, Float64Array.from(numbers), steps);
}

/** A point that goes round `turns` times from an angle, its radius a function of the time. */
function round({turns = 1, from = 0, radius = () => AMPLITUDE} = {}) {
  const times = Array.from({length: turns * STEPS + 1}, (_, index) => (index * PERIOD) / STEPS);
  const angles = times.map((time) => from + (2 * Math.PI * time) / PERIOD);
  const pin = [Math.cos, Math.sin].map((part) => times.map((time, index) => radius(time) * part(angles[index])));
  return tracksOf({pin, angle: [times, angles]});
}

const near = (found, wanted, room = 1e-12) =>
  assert.ok(Math.abs(found - wanted) <= room, `${found} is not within ${room} of ${wanted}`);

test("at a sample the point is the sample", () => {
  const tracks = round();
  const [x, y] = tracks.at("pin", PERIOD / 4);
  near(x, 0);
  near(y, AMPLITUDE);
});

/* A cubic whose slopes are taken from the neighbours strays along the curve by step^3 / 6 x sqrt(3) / 18 at most. */
test("between samples the point stays on the circle and keeps its time, to about 1e-5 of its radius", () => {
  const room = 1.01 * AMPLITUDE * ((2 * Math.PI) / STEPS) ** 3 * (Math.sqrt(3) / 108);
  assert.ok(room < 1.1e-5 * AMPLITUDE);
  const tracks = round({from: 0.3});
  for (let time = 0; time < PERIOD; time += 0.0137) {
    const [x, y] = tracks.at("pin", time);
    near(x, AMPLITUDE * Math.cos(0.3 + (2 * Math.PI * time) / PERIOD), room);
    near(y, AMPLITUDE * Math.sin(0.3 + (2 * Math.PI * time) / PERIOD), room);
  }
});

test("a circle comes again: the next turn is the first, without a jump", () => {
  const tracks = round();
  assert.ok(tracks.turning && tracks.closes);
  const [next, first] = [PERIOD + 0.1, 0.1].map((time) => tracks.at("pin", time));
  next.forEach((part, row) => near(part, first[row]));
  const [before, after] = [-1e-9, 1e-9].map((step) => tracks.at("pin", PERIOD + step));
  near(before[1], after[1], 1e-8);
});

test("two turns of a circle are shown, and a time beyond them is one within", () => {
  const tracks = round();
  assert.equal(tracks.span, 2 * PERIOD);
  near(tracks.within(2 * PERIOD + 0.5), 0.5);
  near(tracks.within(-0.5), 2 * PERIOD - 0.5);
});

test("a spiral is a run that ends: neither turning nor closed, and time stops at its ends", () => {
  const tracks = round({turns: 3, radius: (time) => AMPLITUDE * Math.exp(-time / 10)});
  assert.ok(!tracks.turning && !tracks.closes);
  assert.equal(tracks.span, 3 * PERIOD);
  assert.equal(tracks.within(-1), 0);
  assert.equal(tracks.within(100), 3 * PERIOD);
  near(tracks.at("pin", 3 * PERIOD)[0], AMPLITUDE * Math.exp(-1.2));
});

test("a parabola is met exactly, from the first interval of a run to its last", () => {
  const times = Array.from({length: 9}, (_, index) => index / 8);
  const parabola = (time) => 3 * time * time - time + 2;
  const tracks = tracksOf({pin: [times.map(parabola), times], angle: [times, times]}, 4);
  assert.ok(!tracks.turning);
  for (let time = 0; time <= 1; time += 1 / 64) {
    near(tracks.at("pin", time)[0], parabola(time));
    near(tracks.at("pin", time)[1], time);
  }
});

test("angle, turns and time lead to one another", () => {
  const tracks = round({from: Math.PI / 2});
  near(tracks.turns(0), 0.25);
  near(tracks.turns(PERIOD), 1.25);
  near(tracks.angle(PERIOD / 2), 1.5 * Math.PI);
  near(tracks.timeAt(tracks.turns(1.7)), 1.7);
  near(tracks.timeAt(0), 2 * PERIOD - PERIOD / 4);
});

test("of a clockwise motion the turns still count up", () => {
  const times = [0, 1, 2, 3, 4];
  const angles = times.map((time) => (-Math.PI * time) / 2);
  const tracks = tracksOf({pin: [angles.map(Math.cos), angles.map(Math.sin)], angle: [times, angles]}, 4);
  near(tracks.turns(2), 0.5);
  near(tracks.angle(2), -Math.PI);
});

test("the greatest distance of each track that is there is known", () => {
  const times = [0, 1, 2];
  const tracks = tracksOf({pin: [[3, 0, 1], [4, 0, 1]], velocity: [[0, -2, 0], [0, 0, 1]], angle: [times, times]}, 2);
  assert.deepEqual(tracks.greatest, {pin: 5, velocity: 2});
});
