/* One calculator in a page: the printed element comes alive. Attributes are its state:

   data-state   printed, starting, live or failed
   data-stale   the results stand for other inputs than those in the fields;
                on working, table or picture: it stands for other inputs than the results
   data-held    on the list of results: it keeps its height while numbers move
   aria-busy    an answer to the fields as they stand is on its way

   What changes with the numbers arrives written by Python; this file only puts it in place. */

import {Asking} from "./asking.mjs";
import {fieldsOf, write} from "./fields.mjs";
import {copy, dropLink, leadsTo, linkTo, linkedInputs} from "./link.mjs";
import {Typed} from "./typed.mjs";

const WORDS = {
  printed: "The numbers as printed.",
  live: "Live numbers.",
  restored: "Live numbers, as you left them on this device.",
  stale: "These results are for the previous numbers.",
  waiting: "Results will follow as soon as they are ready.",
  failed: "Live numbers are not available just now; everything printed here is still valid.",
  overdue: "That took too long and was stopped. Change a number to try again.",
  printedPicture: "The picture shows the printed numbers; the live one could not be fetched.",
  broken: "These numbers could not be worked out. Change one to try again.",
  unworked: "The results are for these numbers; their working took too long, and the one shown is for the previous numbers.",
};
const FAULT_DELAY = 600; // milliseconds of rest before a fault is shown to someone typing
const WAITING_DELAY = 1000; // milliseconds without an answer before that is said
const SPEAKING_DELAY = 900; // milliseconds of rest before results are read out
const LONG = ["working", "table"]; // much to write and to lay out, read at rest
const LONG_DELAY = 150; // milliseconds of rest before they are asked for

/** HTML with its characters written as themselves and its elements closed, as browsers and Python do not agree on either. */
function plain(html) {
  return html
    .replaceAll("&nbsp;", "\u00a0")
    .replace(/&#x(\w+);/g, (_, code) => String.fromCodePoint(parseInt(code, 16)))
    .replace(/<(\w+)([^<>]*)\/>/g, "<$1$2></$1>");
}

/** Whether two sets of inputs are the same. */
function same(a, b) {
  return JSON.stringify(a) === JSON.stringify(b);
}

export class CalculatorElement extends HTMLElement {
  #client = null;
  #fields = null;
  #asking = null;
  #extra = [];
  #parts = {};
  #outputs = [];
  #list = null;
  #room = null; // how long each result may be while the list of results is held
  #strip = new Map();
  #stripped = {field: null, keys: []};
  #lastField = null;
  #html = {};
  #longFor = null; // the inputs that the long parts stand for
  #shownFor = null; // the inputs that the results stand for
  #said = new Map();
  #chart = null;
  #allDigits = false;
  #turn = 0;
  #faultTimer = 0;
  #speakTimer = 0;
  #restTimer = 0;
  #waitTimer = 0;
  #typed = null;
  #isRestored = false;
  #stop = null;

  /** Ties the element to the page's client; called once, by start.mjs. */
  set client(client) {
    this.#client = client;
    if (this.isConnected) this.#listen();
  }

  connectedCallback() {
    if (this.#client && !this.#stop) this.#listen();
  }

  disconnectedCallback() {
    this.#stop?.abort();
    this.#stop = null;
    clearTimeout(this.#faultTimer);
    clearTimeout(this.#speakTimer);
    clearTimeout(this.#restTimer);
    clearTimeout(this.#waitTimer);
    this.#release();
    this.#chart?.destroy();
    this.#chart = null;
  }

  #listen() {
    this.#stop = new AbortController();
    const {signal} = this.#stop;
    this.#fields ??= this.#find();
    this.#longFor ??= this.#printed();
    this.#shownFor ??= this.#printed();
    const wake = () => this.#client.state === "asleep" && this.#client.start();
    for (const event of ["pointerdown", "focusin"]) this.addEventListener(event, wake, {signal});
    this.addEventListener("click", (event) => this.#press(event), {signal});
    for (const state of ["starting", "progress", "awake", "failed"]) {
      this.#client.addEventListener(state, (event) => this.#follow(event), {signal});
    }
    window.addEventListener("typed-forgotten", () => this.#reset(), {signal});
    window.addEventListener("pagehide", () => this.#typed.note({trying: false}), {signal});
    this.#typed ??= new Typed(this.id);
    const entry = this.#typed.read();
    const linked = linkedInputs(this);
    if (linked.length > 0) this.#open(linked);
    else if (entry) this.#restore(entry);
    else if (!this.#fields.every((field) => field.isAsPrinted())) this.#calculate();
    const {state} = this.#client;
    if (state !== "asleep") this.#follow({type: state}); // told before this element listened
  }

  #find() {
    for (const part of this.querySelectorAll("[data-part]")) this.#parts[part.dataset.part] ??= part;
    for (const item of this.querySelectorAll("[data-strip]")) this.#strip.set(item.dataset.strip, item);
    this.#outputs = [...this.querySelectorAll("output")];
    for (const output of this.#outputs) output.dataset.text = output.textContent;
    this.#list = this.querySelector(".calculator-find dl");
    for (const part of ["cautions", ...LONG]) this.#html[part] = plain(this.#parts[part]?.innerHTML ?? "");
    this.#asking = new Asking(this, () => this.#asked());
    return fieldsOf(this, {
      changed: (field) => this.#changed(field),
      settled: () => this.#showFaults(),
      waiting: () => this.#mark("waiting"),
      convert: (...given) => this.#client.convert(this.dataset.calculator, ...given).catch(() => null),
    });
  }

  /** Shows the inputs that a link brought, at once, and asks for their results. */
  #open(linked) {
    for (const [key, text] of this.#asking.open(linked)) {
      const field = this.#fields.find((one) => one.key === key);
      if (field) field.put(text);
      else this.#extra.push([key, [text, ""]]);
    }
    if (leadsTo(this)) this.scrollIntoView();
    const own = this.#typed.read()?.given;
    this.#button("mine").hidden = !own || same(own, this.#typedNow());
    this.#mark("waiting");
    this.#calculate();
  }

  /** Shows what was typed at an earlier visit and asks for its results, unless they could not be had. */
  #restore({given, before, spoilt, trying}) {
    for (const field of this.#fields) if (given[field.key]) field.restore(given[field.key]);
    this.#asking.restore(given);
    this.#button("mine").hidden = !before;
    if (spoilt || trying) {
      const error = Object.assign(new Error("not worked out again"), {code: spoilt ? "overdue" : "crashed"});
      this.#client.spoil(this, this.dataset.calculator, this.#given(), error);
    } else this.#typed.note({trying: true});
    this.#isRestored = true;
    this.#mark("waiting");
    this.#calculate();
  }

  /** What differs from the page as printed. */
  #typedNow() {
    const changed = this.#fields.filter((field) => !field.isAsPrinted() && !this.#isAsked(field));
    return {...Object.fromEntries(changed.map((field) => [field.key, field.given()])), ...this.#asking.given()};
  }

  /** Keeps what stands in the fields; what stood there before a link was opened, beside it. */
  #keepTyped() {
    const {given, before} = this.#typed.read() ?? {};
    const wasLinked = linkedInputs(this).length > 0;
    dropLink(this);
    this.#typed.keep({given: this.#typedNow(), before: wasLinked ? given : before});
  }

  /** Goes back to what was typed before a link was opened. */
  #takeOwn() {
    const {given, before} = this.#typed.read() ?? {};
    const own = linkedInputs(this).length > 0 ? given : before;
    dropLink(this);
    this.#extra = [];
    for (const field of this.#fields) field.reset();
    this.#typed.keep({given: own ?? {}});
    this.#restore({given: own ?? {}});
  }

  /** Puts texts into its fields, by their keys, and asks for the results. */
  put(texts) {
    if (!this.#fields) return;
    for (const [key, text] of texts) this.#fields.find((one) => one.key === key)?.put(text);
    this.#mark("waiting");
    this.#calculate();
  }

  #changed(field) {
    if (this.#stripped.field !== field) this.#stripped = {field, keys: []};
    this.#lastField = field;
    this.#extra = [];
    this.#isRestored = false;
    this.#keepTyped();
    clearTimeout(this.#restTimer);
    this.#hold();
    if (this.#client.state !== "awake") this.#mark("waiting");
    this.#calculate({brief: true});
  }

  #given() {
    const fields = this.#fields.map((field) => [field.key, this.#isAsked(field) ? field.unitAlone() : field.given()]);
    return {...Object.fromEntries([...this.#extra, ...fields]), ...this.#asking.given()};
  }

  /** The inputs that the page was printed with. */
  #printed() {
    const asked = this.#asking.printedAs();
    const isAsked = (field) => asked.find?.[0] === field.key;
    const fields = this.#fields.map((field) => [field.key, isAsked(field) ? field.unitAlone() : field.printedAs()]);
    return {...Object.fromEntries(fields), ...asked};
  }

  #isAsked(field) {
    return field.key === this.#asking.key;
  }

  /** Another input is asked, or another result is given in its place. */
  #asked() {
    this.#extra = [];
    this.#isRestored = false;
    this.#keepTyped();
    this.#stripped = {field: null, keys: []};
    clearTimeout(this.#restTimer);
    if (this.#client.state !== "awake") this.#mark("waiting");
    this.#calculate();
  }

  async #calculate({brief = false} = {}) {
    const given = this.#given();
    const turn = ++this.#turn;
    const tooMuch = this.#fields.map((field) => ({key: field.key, message: field.tooMuch()})).filter(({message}) => message);
    if (tooMuch.length > 0) {
      this.#fault(tooMuch);
      this.removeAttribute("aria-busy");
      return;
    }
    this.setAttribute("aria-busy", "true");
    clearTimeout(this.#waitTimer);
    this.#waitTimer = setTimeout(() => this.#sayWaiting(), WAITING_DELAY);
    try {
      const reply = await this.#client.answer(this, this.dataset.calculator, given, {brief});
      if (reply !== undefined && this.#stop) this.#take(reply, given);
    } catch (error) {
      this.#excuse(error, given);
    }
    if (turn !== this.#turn) return;
    clearTimeout(this.#waitTimer);
    this.removeAttribute("aria-busy");
  }

  #sayWaiting() {
    if (this.#client.state !== "awake") return;
    this.#mark("waiting");
    write(this.#parts.state, WORDS.waiting);
  }

  #take({found, numbers}, given) {
    this.dataset.state = "live";
    if (this.#isRestored) this.#typed.note({trying: false});
    if (found.faults) this.#fault(found.faults);
    else this.#show(found, numbers, given);
  }

  /** A question came to nothing; where the worker could not start at all, `failed` says so. */
  #excuse(error, given) {
    this.#release();
    if (this.#client.state === "failed" || !same(given, this.#given())) return;
    this.#mark(error.code === "overdue" ? "overdue" : "broken");
    if (error.code === "overdue" || error.fatal) this.#typed.note({spoilt: true});
    if (same(given, this.#shownFor)) this.#mark("unworked");
    if (!["overdue", "crashed"].includes(error.code)) console.error(error);
  }

  /* Results. */

  #show(found, numbers, given) {
    this.#faults = [];
    this.#showFaults();
    for (const field of this.#fields) {
      const now = this.#isAsked(field) ? field.unitAlone() : field.given();
      if (String(now) !== String(given[field.key])) continue;
      if (this.#isAsked(field)) field.put(found.inputs[field.key].typed);
      field.accept(found.inputs[field.key]);
    }
    this.#asking.accept(found);
    for (const output of this.#outputs) this.#showResult(output, found.outputs[output.name]);
    this.#showStrip();
    if (found.picture) this.#draw(found.picture, numbers, same(given, this.#printed()));
    this.#shownFor = given;
    this.#showParts(found.parts, given);
    this.#mark("");
    this.#speakSoon();
  }

  /** Puts the parts of an answer in place. A brief one has none of the long parts: they are marked as behind the results,
      and asked for when the thumb rests. */
  #showParts(parts, given) {
    for (const [part, html] of Object.entries(parts)) this.#putPart(part, plain(html));
    if (LONG[0] in parts) this.#longFor = given;
    const isBehind = !same(given, this.#longFor);
    for (const part of LONG) this.#parts[part]?.toggleAttribute("data-stale", isBehind);
    clearTimeout(this.#restTimer);
    if (!isBehind) this.#release();
    if (isBehind) this.#restTimer = setTimeout(() => this.#followUp(), LONG_DELAY);
  }

  #putPart(part, html) {
    if (!this.#parts[part] || this.#html[part] === html) return;
    this.#parts[part].innerHTML = html;
    this.#html[part] = html;
  }

  /** Asks for the long parts of what is shown; the next change asks anew where that comes to nothing. */
  async #followUp() {
    this.#release();
    const given = this.#given();
    const reply = await this.#client.answer(this, this.dataset.calculator, given).catch((error) => this.#excuse(error, given));
    if (!reply?.found.parts || !this.#stop || !same(given, this.#given())) return;
    this.#showParts(reply.found.parts, given);
  }

  #showResult(output, result) {
    const absent = result.value === null;
    const text = absent ? result.reason : result.text;
    if (output.dataset.text !== text) {
      this.#said.set(output.dataset.meaning, text);
      if (this.#stripped.field && !this.#stripped.keys.includes(output.name)) this.#stripped.keys.push(output.name);
    }
    const data = {value: absent ? "" : String(result.value), text, full: absent ? text : result.full};
    for (const [name, one] of Object.entries(data)) if (output.dataset[name] !== one) output.dataset[name] = one;
    output.toggleAttribute("data-absent", absent);
    this.#writeResult(output);
    const item = this.#strip.get(output.name)?.querySelector("b");
    if (item) write(item, absent ? "none" : text);
  }

  #writeResult(output) {
    const text = this.#allDigits ? output.dataset.full : output.dataset.text;
    if (text.length > this.#room?.get(output)) this.#release();
    write(output, text);
  }

  /** While numbers move, the list of results keeps its height, so that nothing around it is laid out for each of them;
      until the thumb rests, or a result needs more room than it has. */
  #hold() {
    if (this.#room) return;
    this.#room = new Map(this.#outputs.map((output) => [output, output.textContent.length]));
    this.#list.style.blockSize = `${this.#list.getBoundingClientRect().height}px`;
    this.#list.toggleAttribute("data-held", true);
  }

  #release() {
    this.#room = null;
    this.#list.style.blockSize = "";
    this.#list.removeAttribute("data-held");
  }

  /** The strip holds what changes with the field in hand; until something has changed, the first results. */
  #showStrip() {
    if (this.#stripped.keys.length === 0) return;
    const kept = [...this.#strip.keys()].filter((key) => this.#stripped.keys.includes(key)).slice(0, 6);
    for (const [key, item] of this.#strip) item.hidden = !kept.includes(key);
  }

  async #draw(picture, numbers, asPrinted) {
    if (this.#chart) {
      this.#chart.show(picture, numbers, {asPrinted});
      return;
    }
    this.#waitingPicture = [picture, numbers, {asPrinted}];
    this.#parts.picture.toggleAttribute("data-stale", !asPrinted);
    let Chart;
    try {
      ({Chart} = await import("./chart.mjs"));
    } catch {
      this.#parts.readout.textContent = WORDS.printedPicture;
      return;
    }
    if (!this.#stop || !this.#waitingPicture) return;
    this.#chart = new Chart(this.#parts.picture, this.#parts.readout);
    this.#chart.show(...this.#waitingPicture);
    this.#parts.picture.removeAttribute("data-stale");
    this.#waitingPicture = null;
  }

  #waitingPicture = null;

  #speakSoon() {
    clearTimeout(this.#speakTimer);
    this.#speakTimer = setTimeout(() => {
      this.#parts.said.textContent = [...this.#said].map(([meaning, text]) => `${meaning} ${text}`).join("; ");
      this.#said.clear();
    }, SPEAKING_DELAY);
  }

  /* Faults. */

  #faults = [];

  #fault(faults) {
    this.#faults = faults;
    this.#release();
    this.#mark("stale");
    clearTimeout(this.#faultTimer);
    const typing = this.#lastField?.control === document.activeElement;
    if (typing && !this.querySelector("[aria-invalid]")) this.#faultTimer = setTimeout(() => this.#showFaults(), FAULT_DELAY);
    else this.#showFaults();
  }

  #showFaults() {
    clearTimeout(this.#faultTimer);
    const messages = new Map(this.#faults.map(({key, message}) => [key, message]));
    this.#asking.tell(messages);
    for (const field of this.#fields) {
      field.tell(messages.get(field.key) ?? "");
      messages.delete(field.key);
    }
    write(this.#parts.fault, [...messages.values()].join(" "));
    if (this.#faults.length === 0) return;
    this.#said.clear();
    clearTimeout(this.#speakTimer);
    this.#parts.said.textContent = this.#faults.map(({message}) => message).join(" ");
  }

  /* State, in attributes and a few quiet words. */

  #follow({type, detail}) {
    if (type === "awake") this.#catchUp();
    else if (type === "starting") this.#begin();
    else if (type === "progress") this.#tellProgress(detail);
    else this.#fail();
  }

  #begin() {
    if (this.dataset.state !== "live") this.dataset.state = "starting";
    this.#parts.state.textContent = "Getting ready to calculate.";
    if (this.#parts.picture) import("./chart.mjs").catch(() => {}); // on its way while Python starts
    this.#button("again").hidden = true;
    this.#catchUp();
  }

  /** Asks, unless an answer is on its way. */
  #catchUp() {
    if (!this.hasAttribute("aria-busy")) this.#calculate();
  }

  #tellProgress({stage, loaded, total, size}) {
    const percent = Math.floor((100 * loaded) / total);
    const megabytes = (size / 1e6).toFixed(1);
    this.#parts.state.textContent =
      stage === "fetching"
        ? `Getting ready to calculate: ${percent} % of ${megabytes} MB.`
        : "Getting ready to calculate: nearly done.";
  }

  #fail() {
    this.dataset.state = "failed";
    this.#parts.state.textContent = WORDS.failed;
    this.#button("again").hidden = false;
    this.toggleAttribute("data-stale", !this.#fields.every((field) => field.isAsPrinted()));
  }

  /** Says how the results stand to the fields: "" when they belong together. */
  #mark(how) {
    this.toggleAttribute("data-stale", how !== "" && how !== "unworked");
    if (how === "waiting") return;
    write(this.#parts.state, WORDS[how || (this.#isRestored ? "restored" : "live")]);
  }

  /* Buttons. */

  #button(name) {
    return this.querySelector(`[data-do="${name}"]`);
  }

  #press({target}) {
    const button = target.closest("[data-do]");
    const doing = {
      again: () => this.#calculate(),
      reset: () => this.#reset(),
      digits: () => this.#toggleDigits(button),
      link: () => this.#giveLink(),
      mine: () => this.#takeOwn(),
      ask: () => this.#asking.toggle(button.closest(".given-row").dataset.key),
    }[button?.dataset.do];
    doing?.();
  }

  #reset() {
    for (const field of this.#fields) field.reset();
    this.#asking.reset();
    this.#extra = [];
    this.#isRestored = false;
    this.#typed.forget();
    dropLink(this);
    this.#button("mine").hidden = true;
    this.#stripped = {field: null, keys: []};
    this.#calculate();
  }

  #toggleDigits(button) {
    this.#allDigits = !this.#allDigits;
    button.setAttribute("aria-pressed", String(this.#allDigits));
    this.#release();
    for (const output of this.#outputs) this.#writeResult(output);
  }

  async #giveLink() {
    const field = this.#parts.link;
    field.closest("label").hidden = false;
    const copied = await copy(linkTo(this, this.#fields.filter((field) => !this.#isAsked(field)), this.#asking.forLink()), field);
    this.#parts["link-words"].textContent = copied ? "Copied:" : "Copy this:";
    this.#parts.said.textContent = copied ? "The link is copied." : "The link is in the field below.";
  }
}
