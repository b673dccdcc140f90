/* Ties the problems of a page to the page's Python and to what is kept on the device. */

import {OverviewElement} from "./overview.mjs";
import {ProblemElement} from "./problem.mjs";
import {Progress, deviceStorage} from "./progress.mjs";
import {client} from "./start.mjs";

const ROOT = new URL("../../../", import.meta.url);

customElements.define("crankpin-problem", ProblemElement);
customElements.define("crankpin-overview", OverviewElement);

const progress = new Progress(deviceStorage(), `crankpin progress ${ROOT.pathname}`);

if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", tie);
else tie();

function tie() {
  const page = location.pathname.slice(ROOT.pathname.length).replace(/index\.html$/, "");
  for (const overview of document.querySelectorAll("crankpin-overview")) overview.tie(progress, ROOT.pathname);
  for (const problem of document.querySelectorAll("crankpin-problem")) {
    problem.addEventListener("progress", ({detail}) => {
      progress.record(problem.id, {title: problem.dataset.title, page, among: problem.questions, ...detail});
    });
    problem.addEventListener("drawn", () => progress.again(problem.id));
    problem.client = client;
  }
}
