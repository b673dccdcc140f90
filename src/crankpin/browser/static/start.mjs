/* Start-up: registers the elements and gives all calculators of the page one worker, which head.js has started; a reader
   who saves data starts it by touching a calculator. It is started again when the network is back, and ends when the
   page has long been out of sight.

   This runs while the page is still being read: a calculator is tied to the worker as soon as all of it is there, so that
   the first question waits for Python, and not Python for the question. */

import {CalculatorElement} from "./calculator.mjs";
import {WorkerClient} from "./worker-client.mjs";
import {SceneElement} from "./scene.mjs";
import "./typed-foot.mjs";

const LONG_HIDDEN = 5 * 60_000; // milliseconds
const LOOK_EVERY = 30; // milliseconds, while the page is read

const tied = new WeakSet();

customElements.define("crankpin-calculator", CalculatorElement);
customElements.define("crankpin-scene", SceneElement);

export const client = new WorkerClient(() => earlyWorker() ?? new Worker(new URL("./worker.mjs", import.meta.url), {type: "module"}));
if (!navigator.connection?.saveData) client.start();
tieAll();
endWhenForgotten();
window.addEventListener("online", () => client.state === "failed" && client.start());

/** Ties what is there to the client, scenes when all has been read, and looks again until then. */
function tieAll() {
  const read = document.readyState !== "loading";
  for (const element of document.querySelectorAll(read ? "crankpin-calculator, crankpin-scene" : "crankpin-calculator")) {
    if (tied.has(element) || !(read || isWhole(element))) continue;
    tied.add(element);
    element.client = client;
  }
  if (!read) setTimeout(tieAll, LOOK_EVERY);
}

/** Whether all of an element has been read while the page has not: something stands behind it. */
function isWhole(element) {
  for (let part = element; part; part = part.parentNode) if (part.nextSibling) return true;
  return false;
}

/** The worker that head.js has started, once; null where it did not, or where its script did not load. */
function earlyWorker() {
  const worker = window.crankpinEarly?.worker ?? null;
  window.crankpinEarly = null;
  return worker;
}

function endWhenForgotten() {
  let timer = 0;
  document.addEventListener("visibilitychange", () => {
    clearTimeout(timer);
    if (document.hidden) timer = setTimeout(() => client.end(), LONG_HIDDEN);
  });
}
