/* Start-up: registers the element and gives all calculators of the page one worker. It is started when the page is at
   rest, at once at the first touch, and again when the network is back; a reader who saves data starts it by touching.
   It ends when the page has long been out of sight. */

import {CalculatorElement} from "./calculator.mjs";
import {Courier} from "./courier.mjs";
import {SceneElement} from "./scene.mjs";

const LONG_HIDDEN = 5 * 60_000; // milliseconds

customElements.define("crankpin-calculator", CalculatorElement);
customElements.define("crankpin-scene", SceneElement);

const calculators = document.querySelectorAll("crankpin-calculator, crankpin-scene");
if (calculators.length > 0) {
  const courier = new Courier(() => new Worker(new URL("./worker.mjs", import.meta.url), {type: "module"}));
  for (const calculator of calculators) calculator.courier = courier;
  startAtRest(courier);
  endWhenForgotten(courier);
  window.addEventListener("online", () => courier.state === "failed" && courier.start());
}

function startAtRest(courier) {
  if (navigator.connection?.saveData) return;
  const atRest = window.requestIdleCallback ?? ((work) => setTimeout(work, 200));
  const start = () => atRest(() => courier.start());
  if (document.readyState === "complete") start();
  else window.addEventListener("load", start, {once: true});
}

function endWhenForgotten(courier) {
  let timer = 0;
  document.addEventListener("visibilitychange", () => {
    clearTimeout(timer);
    if (document.hidden) timer = setTimeout(() => courier.end(), LONG_HIDDEN);
  });
}
