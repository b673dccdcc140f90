/* Start-up: registers the element and gives all calculators of the page one worker. It is started at the first touch,
   or when the page is at rest and a calculator is near; again when the network is back; it ends when the page has
   long been out of sight. */

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
  startWhenNear(courier);
  endWhenForgotten(courier);
  window.addEventListener("online", () => courier.state === "failed" && courier.start());
}

function startWhenNear(courier) {
  if (navigator.connection?.saveData) return;
  const atRest = window.requestIdleCallback ?? ((work) => setTimeout(work, 200));
  const near = new IntersectionObserver((entries) => {
    if (!entries.some((entry) => entry.isIntersecting)) return;
    near.disconnect();
    atRest(() => courier.start());
  }, {rootMargin: "100% 0px"});
  const watch = () => calculators.forEach((calculator) => near.observe(calculator));
  if (document.readyState === "complete") watch();
  else window.addEventListener("load", watch, {once: true});
}

function endWhenForgotten(courier) {
  let timer = 0;
  document.addEventListener("visibilitychange", () => {
    clearTimeout(timer);
    if (document.hidden) timer = setTimeout(() => courier.end(), LONG_HIDDEN);
  });
}
