/* The page's one worker: starts Python at once, puts the course's calculators on its path, and passes questions on. */

import {boot} from "./boot.mjs";
import manifest from "./manifest.mjs";
import {ANSWER, CONVERT, PROBLEM, START, serialise} from "./messages.mjs";

const COURSE = "/course.zip";
const REST = 2000; // milliseconds without a question
const MUCH = 1 << 26; // bytes; asked for, never touched
const size = Object.values(manifest.files).reduce((sum, file) => sum + file.gzip, 0);

let service = null;
let view = null;
let viewed = null;
let last = null; // the latest word on progress
let resting = 0; // the timer until things are tidied; null when that is done

const started = start();
started.catch(() => {}); // told to whoever asks

async function start() {
  const [python, course] = await Promise.all([
    boot({base: "./", manifest, onProgress: tell}),
    fetchCourse(),
  ]);
  python.FS.writeFile(COURSE, course);
  python.pyimport("sys").path.insert(0, COURSE);
  service = python.pyimport("crankpin.service.service").open_service(COURSE);
  python.pyimport("course_imports").settle();
  performance.mark("service");
  return {value: null};
}

/** Gives back what starting has left, once, when no question has come for a while: some 25 MB of chunks read and of code
    made and replaced. A browser looks for what it can give back when much memory is asked for, and a worker at rest asks
    for none. */
function tidySoon() {
  clearTimeout(resting);
  resting = setTimeout(() => {
    resting = null;
    try {
      new ArrayBuffer(MUCH);
    } catch {
      // There is no room even to ask: the browser has looked already.
    }
  }, REST);
}

/** Passes progress on; the marks stand in a profile of the worker. */
function tell(progress) {
  if (progress.stage !== last?.progress.stage) performance.mark(progress.stage);
  last = {progress, size};
  self.postMessage(last);
}

/** What a page asks for that has come later than the first words. */
function catchUp() {
  if (last) self.postMessage(last);
  return started;
}

async function fetchCourse() {
  const url = new URL("./course.zip", import.meta.url);
  const response = await fetch(url);
  if (!response.ok) throw new Error(`${url.pathname} is not on this host (it answered ${response.status}).`);
  return new Uint8Array(await response.arrayBuffer());
}

function answer({calculator, given, brief}) {
  const value = service.answer(calculator, given, brief);
  return {value, numbers: numbersOf(service.count)};
}

/** A copy of the first numbers in Python's buffer, which is looked up again when it or the memory has moved. */
function numbersOf(count) {
  const array = service.numbers;
  if (view === null || viewed !== service.room || view.data.byteLength === 0) {
    view?.release();
    view = array.getBuffer("f64");
    viewed = service.room;
  }
  array.destroy();
  return view.data.slice(0, count);
}

const DOINGS = {
  [START]: catchUp,
  [ANSWER]: answer,
  [CONVERT]: ({calculator, key, text, unit, wanted}) => ({
    value: service.convert(calculator, key, text, unit, wanted) ?? null,
  }),
  [PROBLEM]: ({problem, asked}) => ({value: service.problem(problem, asked)}),
};

self.addEventListener("message", async ({data}) => {
  try {
    if (service === null && data.ask !== START) await started;
    if (data.ask !== START) self.postMessage({number: data.number, begun: true});
    const {value, numbers} = await DOINGS[data.ask](data);
    self.postMessage({number: data.number, value, numbers}, numbers ? [numbers.buffer] : []);
  } catch (error) {
    self.postMessage({number: data.number, error: serialise(error)});
  }
  if (service !== null && resting !== null) tidySoon();
});
