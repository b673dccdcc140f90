/* Start-up: registers the elements and gives all calculators of the page one worker, which head.js has started; a reader
   who saves data starts it by touching a calculator. It is started again when the network is back, and ends when the
   page has long been out of sight. */

import {CalculatorElement} from "./calculator.mjs";
import {Courier} from "./courier.mjs";
import {SceneElement} from "./scene.mjs";

const LONG_HIDDEN = 5 * 60_000; // milliseconds

customElements.define("crankpin-calculator", CalculatorElement);
customElements.define("crankpin-scene", SceneElement);

const calculators = document.querySelectorAll("crankpin-calculator, crankpin-scene");
if (calculators.length > 0) {
  const courier = new Courier(() => earlyWorker() ?? new Worker(new URL("./worker.mjs", import.meta.url), {type: "module"}));
  for (const calculator of calculators) calculator.courier = courier;
  if (!navigator.connection?.saveData) courier.start();
  endWhenForgotten(courier);
  window.addEventListener("online", () => courier.state === "failed" && courier.start());
}

/** The worker that head.js has started, once; null where it did not, or where its script did not load. */
function earlyWorker() {
  const worker = window.crankpinEarly?.worker ?? null;
  window.crankpinEarly = null;
  return worker;
}

function endWhenForgotten(courier) {
  let timer = 0;
  document.addEventListener("visibilitychange", () => {
    clearTimeout(timer);
    if (document.hidden) timer = setTimeout(() => courier.end(), LONG_HIDDEN);
  });
}
