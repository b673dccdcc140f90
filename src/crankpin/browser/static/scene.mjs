/* One moving picture in a page. It stands still until the reader starts it, and is drawn only while it can be seen.

   data-state   printed (the still), ready (drawn, at rest) or moving
   data-stale   the picture stands for other inputs than those in the fields
   data-drawn   it moves or is held: numbers and slider are drawn, the page's own are transparent

   The angle is kept when a number changes: what Python sends anew is taken up at the angle reached. */

import {fieldsOf} from "./fields.mjs";
import {copy, linkTo, linkedInputs} from "./link.mjs";
import {Drawing, tick} from "./scene-drawing.mjs";
import {MovingNumbers, MovingRing} from "./scene-meters.mjs";
import {Tracks} from "./scene-tracks.mjs";

const MOST_TURNS = 3; // a second; faster would flicker
const WRITING_DELAY = 125; // milliseconds between two rewrites of the numbers while it moves
const SEEN = 0.3; // share of the stage on screen from which on it runs
const REACH = 34; // CSS pixels from the point to where a thumb still takes hold of it, and leaves it in sight
const MARK_REACH = 22; // the same from the mark on a curve
const SWIPE = 8; // CSS pixels along a curve from which on a touch means the time, and not the page
const SLOW = 10; // seconds a turn: so slowly it must go round for the words to keep up
const NEAR = 0.05; // share of the greatest size below which a quantity counts as none in words
const LONGEST_FRAME = 100; // milliseconds; after a longer one the clock goes on as if it had lasted this
const KEYS = {ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1, PageUp: 6, PageDown: -6};
const TRACK = {x: "pin", v: "velocity", a: "acceleration"};
const WAYS = {vertical: ["upwards", "downwards"], horizontal: ["to the right", "to the left"]};
const FLICKER =
  "At this speed it would go round more than three times per second, and flicker. Choose a slower speed. " +
  "Flickering pictures can harm people who are sensitive to light.";

export class SceneElement extends HTMLElement {
  #client = null;
  #stop = null;
  #parts = {};
  #prerendered = null;
  #fields = [];
  #outputs = [];
  #readings = [];
  #printed = [];
  #tracks = null;
  #drawing = null;
  #handle = null;
  #numbers = null;
  #ring = null;
  #time = 0;
  #pace = 1;
  #moving = false;
  #held = false;
  #seen = false;
  #frame = 0;
  #last = 0;
  #written = 0;
  #watchers = [];

  /** Ties the element to the page's client; called once, by start.mjs. */
  set client(client) {
    this.#client = client;
    if (this.isConnected) this.#listen();
  }

  connectedCallback() {
    if (this.#client && !this.#stop) this.#listen();
  }

  disconnectedCallback() {
    this.#rest();
    this.#stop?.abort();
    this.#stop = null;
    for (const watcher of this.#watchers.splice(0)) watcher.disconnect();
    for (const part of [this.#drawing, this.#numbers, this.#ring]) part?.destroy();
    this.#handle?.remove();
    this.#drawing = null;
    this.dataset.state = "printed";
  }

  /** The time shown, in s, and what is shown at it; for those who look from outside. */
  get now() {
    const {pin, velocity, acceleration} = Object.fromEntries(this.#tracks.keys.map((key) => [key, this.#tracks.at(key, this.#time)]));
    return {time: this.#time, angle: this.#tracks.angle(this.#time), pin, velocity, acceleration, at: this.#drawing?.pinAt(this.#time)};
  }

  #listen() {
    this.#stop = new AbortController();
    const {signal} = this.#stop;
    this.#find();
    this.addEventListener("click", (event) => this.#press(event), {signal});
    this.#parts.pace.addEventListener("change", () => this.#choosePace(), {signal});
    this.#parts.time.addEventListener("input", () => this.#goTo(this.#parts.time.value * this.#tracks.span), {signal});
    const redraw = () => {
      if (!this.#drawing || this.#parts.stage.clientWidth === 0) return;
      this.#drawing.fit();
      this.#drawing.draw(this.#time);
      this.#placeHandle();
      if (this.#isDrawn) this.#drawMeters();
    };
    document.addEventListener("visibilitychange", () => this.#run(), {signal});
    window.addEventListener("beforeprint", () => this.#swapPrinted(), {signal});
    window.addEventListener("afterprint", () => this.#swapPrinted(), {signal});
    for (const sign of ["pointerdown", "focusin"]) this.addEventListener(sign, () => this.#prepare(), {capture: true, signal});
    for (const wish of ["prefers-color-scheme: dark", "prefers-contrast: more", "forced-colors: active"]) {
      matchMedia(`(${wish})`).addEventListener("change", redraw, {signal});
    }
    document.fonts.addEventListener("loadingdone", redraw, {signal});
    const theme = new MutationObserver(redraw);
    theme.observe(document.body, {attributes: true, attributeFilter: ["data-md-color-scheme"]});
    const size = new ResizeObserver(redraw);
    size.observe(this.#parts.stage);
    const near = new IntersectionObserver((entries) => this.#see(entries.at(-1).intersectionRatio), {threshold: [0, SEEN]});
    near.observe(this.#parts.stage);
    this.#watchers = [theme, size, near];
    this.#open(new Map(linkedInputs(this)));
  }

  /** Shows what a link set: the pace, the place, the inputs; these are asked for, and the place is kept. */
  #open(linked) {
    const pace = linked.get("pace");
    const offered = [...this.#parts.pace.options].some(({value}) => value === pace);
    if (offered) {
      this.#parts.pace.value = pace;
      this.#choosePace();
    }
    const turn = Number.parseFloat(linked.get("turn"));
    if (Number.isFinite(turn)) this.#goTo(this.#tracks.timeAt(turn));
    const given = this.#fields.filter((field) => linked.has(field.key));
    for (const field of given) field.put(linked.get(field.key));
    if (given.length > 0) this.#ask();
  }

  async #giveLink() {
    const turn = this.#tracks.turns(this.#time).toFixed(4);
    const more = Object.entries({turn, pace: this.#parts.pace.value}).map(([key, text]) => ({key, forLink: () => text}));
    const field = this.#parts.link;
    field.closest("label").hidden = false;
    const copied = await copy(linkTo(this, [...this.#fields, ...more]), field);
    this.#parts["link-words"].textContent = copied ? "Copied:" : "Copy this:";
    this.#parts.said.textContent = copied ? "The link is copied." : "The link is in the field below.";
  }

  #find() {
    for (const part of this.querySelectorAll("[data-part]")) this.#parts[part.dataset.part] ??= part;
    this.#prerendered = JSON.parse(this.#parts.samples.textContent);
    this.#outputs = [...this.querySelectorAll("output")];
    this.#readings = [...this.querySelectorAll("[data-reading]")];
    const numbers = [...this.#outputs, ...this.#readings.map((reading) => reading.querySelector("dd"))];
    this.#printed = numbers.map((number) => [number, number.textContent]);
    this.#tracks = this.#tracksOf(this.#prerendered.picture, this.#prerendered.numbers);
    this.#time = this.#tracks.timeOfTurn * this.#prerendered.at;
    this.#fields = fieldsOf(this, {
      changed: () => this.#ask(),
      settled: () => {},
      waiting: () => {},
      convert: (...given) => this.#client.convert(this.#name, ...given).catch(() => null),
    });
    this.#parts.time.value = this.#time / this.#tracks.span;
  }

  get #name() {
    return `scenes/${this.dataset.scene}`;
  }

  #tracksOf(picture, numbers) {
    return new Tracks(picture, numbers, this.#prerendered.steps);
  }

  /* Seeing. */

  #see(share) {
    this.#seen = share >= SEEN;
    if (share > 0 && !matchMedia("(prefers-reduced-motion: reduce)").matches) this.#prepare();
    this.#run();
  }

  /** Puts the drawing in the place of the still. */
  #prepare() {
    if (this.#drawing) return;
    const look = {line: this.dataset.line, arrows: this.dataset.arrows.split(" ").filter(Boolean), radius: this.dataset.radius};
    this.#drawing = new Drawing(this.#parts.stage, this.#prerendered.stage, look);
    this.#drawing.show(this.#tracks);
    this.#handle = this.#makeHandle();
    this.#parts.stage.append(this.#handle);
    this.#numbers = new MovingNumbers(this.#parts.readings);
    this.#ring = new MovingRing(this.#parts.time);
    this.#numbers.fit();
    this.#ring.fit();
    this.#listenToStage();
    this.dataset.state = "ready";
    this.#drawing.draw(this.#time);
    this.#tellHandle();
    this.#tellMoment();
  }

  /* Numbers and slider: drawn while it moves or is held, else the page's own. */

  get #isDrawn() {
    return "drawn" in this.dataset;
  }

  #drawMeters() {
    this.#numbers.fit();
    this.#ring.fit();
    this.toggleAttribute("data-drawn", true);
    this.#write();
  }

  #settle() {
    if (this.#moving || this.#held || !this.#isDrawn) return;
    this.#numbers.clear();
    this.#ring.clear();
    this.toggleAttribute("data-drawn", false);
    this.#write();
    this.#tellHandle();
    this.#tellMoment();
  }

  /* Moving. */

  #run() {
    const runs = this.#moving && !this.#held && this.#seen && !document.hidden;
    if (runs && this.#frame === 0) {
      this.#last = performance.now();
      this.#frame = requestAnimationFrame((now) => this.#step(now));
    } else if (!runs && this.#frame !== 0) {
      cancelAnimationFrame(this.#frame);
      this.#frame = 0;
    }
  }

  #step(now) {
    this.#frame = 0;
    const passed = Math.min(Math.max(now - this.#last, 0), LONGEST_FRAME) / 1000;
    this.#last = now;
    const next = this.#time + passed * this.#pace;
    this.#time = this.#tracks.within(next);
    this.#drawing.draw(this.#time);
    if (now - this.#written > WRITING_DELAY) {
      this.#written = now;
      this.#write();
      this.#tellMoment();
    }
    if (!this.#tracks.turning && next >= this.#tracks.span) this.#rest();
    else this.#frame = requestAnimationFrame((then) => this.#step(then));
  }

  #start() {
    this.#prepare();
    if (this.#flickers()) return;
    if (!this.#tracks.turning && this.#time >= this.#tracks.span) this.#time = 0;
    this.#moving = true;
    this.dataset.state = "moving";
    this.#button("go").textContent = "Stop";
    this.#drawMeters();
    this.#tellMoment();
    this.#run();
  }

  #rest() {
    this.#moving = false;
    this.#run();
    if (this.dataset.state === "moving") this.dataset.state = "ready";
    this.#button("go").textContent = "Start";
    this.#settle();
  }

  #flickers() {
    const flickers = this.#pace / this.#tracks.timeOfTurn > MOST_TURNS;
    this.#say(flickers ? FLICKER : "");
    if (flickers && this.#moving) this.#rest();
    return flickers;
  }

  #choosePace() {
    this.#pace = Number(this.#parts.pace.value);
    this.#flickers();
  }

  #goTo(time) {
    this.#prepare();
    this.#time = this.#tracks.within(time);
    this.#drawing.draw(this.#time);
    this.#write();
    this.#tellHandle();
    this.#tellMoment();
  }

  #stepBy(steps) {
    const step = this.#tracks.timeOfTurn / this.#prerendered.steps;
    this.#goTo((Math.round(this.#time / step) + steps) * step);
  }

  /* The pin under a finger, and the curves. */

  #makeHandle() {
    const handle = document.createElement("div");
    handle.className = "scene-handle";
    handle.tabIndex = 0;
    for (const [name, value] of [["role", "slider"], ["aria-label", "angle of the point on the wheel"], ["aria-valuemin", 0], ["aria-valuemax", 360]]) {
      handle.setAttribute(name, value);
    }
    handle.addEventListener("keydown", (event) => this.#key(event));
    for (const name of ["focus", "blur"]) {
      handle.addEventListener(name, () => {
        this.#drawing.focused = handle.matches(":focus-visible");
        this.#drawing.draw(this.#time);
      });
    }
    return handle;
  }

  #key(event) {
    const steps = KEYS[event.key];
    if (event.key === "Home") this.#goTo(0);
    else if (event.key === " ") this.#moving ? this.#rest() : this.#start();
    else if (steps) this.#stepBy(steps);
    else return;
    event.preventDefault();
  }

  /** Follows a finger or the mouse, from a movement that `begins` it until it lets go. */
  #hold(event, follow, begins = () => true) {
    const {stage} = this.#parts;
    const stop = new AbortController();
    const {signal} = stop;
    const begin = () => {
      this.#held = true;
      this.#run();
      this.#drawMeters();
    };
    let going = begins(event);
    if (going) begin();
    stage.addEventListener("pointermove", (moved) => {
      if (moved.pointerId !== event.pointerId) return;
      if (!going && begins(moved)) {
        going = true;
        begin();
      }
      if (going) follow(moved);
    }, {signal});
    for (const end of ["pointerup", "pointercancel"]) {
      window.addEventListener(end, ({pointerId}) => {
        if (pointerId !== event.pointerId) return;
        stop.abort();
        if (!going) return;
        this.#held = false;
        this.#run();
        this.#settle();
      }, {signal});
    }
  }

  #holdPin(event) {
    event.preventDefault();
    this.#handle.focus({preventScroll: true});
    this.#parts.stage.setPointerCapture(event.pointerId);
    const ahead = this.#aheadOf(...this.#placeOf(event));
    this.#hold(event, (moved) => this.#turnBy(this.#aheadOf(...this.#placeOf(moved)) - ahead));
  }

  #isNearPin([left, top]) {
    const [x, y] = this.#drawing.pinAt(this.#time);
    return Math.hypot(left - x, top - y) < REACH;
  }

  #isNearMark([left, top]) {
    return this.#drawing.marksAt(this.#time).some(([x, y]) => Math.hypot(left - x, top - y) < MARK_REACH);
  }

  /** Whether a touch that began at a place means the time by now: at once on a mark, else by moving along the curve. */
  #means([left, top]) {
    if (this.#isNearMark([left, top])) return () => true;
    return (event) => {
      const [across, down] = this.#placeOf(event).map((one, i) => Math.abs(one - [left, top][i]));
      return event.pointerType === "mouse" || (this.dataset.line === "vertical" && across > SWIPE && across > 2 * down);
    };
  }

  /** How far the direction of a place in the box is ahead of the point, in turns. */
  #aheadOf(left, top) {
    return this.#drawing.turnsAt(left, top) - this.#tracks.turns(this.#time);
  }

  /** Turns the wheel by so many turns, the short way. */
  #turnBy(turns) {
    this.#goTo(this.#time + (turns - Math.round(turns)) * this.#tracks.timeOfTurn);
  }

  #placeOf({clientX, clientY}) {
    const box = this.#parts.stage.getBoundingClientRect();
    return [clientX - box.left, clientY - box.top];
  }

  /** A touch on the point turns the wheel, one on a mark or along the curves sets the time; others scroll the page. */
  #listenToStage() {
    const {stage} = this.#parts;
    const {signal} = this.#stop;
    let moved = false;
    const scrub = (event) => {
      const time = this.#drawing.timeAt(...this.#placeOf(event));
      if (time !== null) this.#goTo(time);
    };
    stage.addEventListener("touchstart", (event) => {
      const place = this.#placeOf(event.touches[0]);
      if (event.touches.length === 1 && (this.#isNearPin(place) || this.#isNearMark(place))) event.preventDefault();
    }, {passive: false, signal});
    stage.addEventListener("pointerdown", (event) => {
      const place = this.#placeOf(event);
      moved = this.#isNearPin(place);
      if (!event.isPrimary) return;
      if (moved) this.#holdPin(event);
      else if (!this.#drawing.onWheel(...place)) {
        this.#hold(event, (next) => {
          moved = true;
          scrub(next);
        }, this.#means(place));
      }
    }, {signal});
    stage.addEventListener("click", (event) => {
      const place = this.#placeOf(event);
      if (moved) return;
      if (this.#drawing.onWheel(...place)) this.#turnBy(this.#aheadOf(...place));
      else scrub(event);
    }, {signal});
  }

  /* Numbers. */

  async #ask() {
    const given = Object.fromEntries(this.#fields.map((field) => [field.key, field.given()]));
    this.toggleAttribute("data-stale", true);
    try {
      const reply = await this.#client.answer(this, this.#name, given);
      if (reply === undefined || !this.#stop) return;
      const faults = new Map((reply.found.faults ?? []).map(({key, message}) => [key, message]));
      for (const field of this.#fields) field.tell(faults.get(field.key) ?? "");
      this.#parts.fault.textContent = faults.get("") ?? "";
      if (faults.size > 0) this.#parts.fault.closest("details").open = true;
      else this.#show(reply.found, reply.numbers, given);
    } catch (error) {
      if (this.#client.state !== "failed") console.error(error);
      this.#parts.fault.textContent = "New numbers cannot be worked out just now; the picture shows the previous numbers.";
    }
  }

  #show(found, numbers, given) {
    for (const field of this.#fields) {
      if (String(field.given()) === String(given[field.key])) field.accept(found.inputs[field.key]);
    }
    for (const output of this.#outputs) {
      output.textContent = found.outputs[output.name].text;
      output.dataset.value = found.outputs[output.name].value;
    }
    const turns = this.#tracks.turns(this.#time);
    this.#tracks = this.#tracksOf(found.picture, numbers);
    this.#time = this.#tracks.timeAt(turns);
    this.#prepare();
    this.#drawing.show(this.#tracks);
    this.#drawing.draw(this.#time);
    this.#write();
    this.#tellHandle();
    this.#tellMoment();
    this.toggleAttribute("data-stale", false);
    this.#flickers();
  }

  #write() {
    const texts = this.#readings.map(({dataset}) => this.#reading(dataset.reading));
    const share = this.#time / this.#tracks.span;
    if (this.#isDrawn) {
      this.#numbers.show(texts);
      this.#ring.show(share);
    } else {
      this.#readings.forEach((reading, i) => (reading.querySelector("dd").textContent = texts[i]));
      this.#parts.time.value = share;
    }
  }

  /** On paper stands the still: its numbers for those of the moment, and afterwards these again. */
  #swapPrinted() {
    for (const one of this.#printed) {
      const [number, text] = one;
      one[1] = number.textContent;
      number.textContent = text;
    }
  }

  #reading(key) {
    const {axes} = this.#tracks;
    if (key === "t") return written(this.#time, this.#tracks.span, axes.angle.horizontal);
    if (key === "theta") return written(this.#tracks.angle(this.#time), this.#tracks.angleOfTurn, axes.angle.vertical);
    return written(this.#value(key), this.#tracks.greatest[TRACK[key]], axes[TRACK[key]].horizontal);
  }

  /** What is seen along the line, or of an arrow where there is none. */
  #value(key) {
    const vector = this.#tracks.at(TRACK[key], this.#time);
    return this.dataset.line === "none" ? Math.hypot(...vector) : vector[0];
  }

  /* Words. */

  #listed() {
    return this.#readings.map(({dataset: {reading, meaning}}) => `${meaning} ${this.#reading(reading)}`).join("; ");
  }

  /** Puts the slider that stands for the angle where the point is, and its words in order; not while it moves. */
  #tellHandle() {
    if (!this.#handle || this.#isDrawn) return;
    const turns = this.#tracks.turns(this.#time);
    this.#placeHandle();
    this.#handle.setAttribute("aria-valuenow", Math.round(360 * (turns - Math.floor(turns))));
    this.#handle.setAttribute("aria-valuetext", this.#listed());
  }

  #placeHandle() {
    const [left, top] = this.#drawing.pinAt(this.#time);
    this.#handle.style.transform = `translate(${left}px, ${top}px)`;
  }

  /** Where it is and which way it goes, in words, when asked. */
  #tellWhere() {
    this.#say(`${this.#listed()}. ${this.#way()}`);
  }

  #way() {
    const ways = WAYS[this.dataset.line];
    if (!ways) return "The speed is constant, the direction always changing; a points inwards.";
    const [v, a] = ["v", "a"].map((key) => this.#value(key) / this.#tracks.greatest[TRACK[key]]);
    if (Math.abs(v) < NEAR) return "At rest for an instant, and pulled back hardest.";
    const pace = Math.abs(a) < NEAR ? "at its fastest" : v * a > 0 ? "getting faster" : "getting slower";
    return `It moves ${ways[v > 0 ? 0 : 1]}, ${pace}.`;
  }

  /** The same under the picture for the eye, where there is time to read it. */
  #tellMoment() {
    const legible = !this.#moving || this.#held || this.#tracks.timeOfTurn / this.#pace > SLOW;
    const words = legible ? this.#way() : "";
    if (words !== this.#parts.moment.textContent) this.#parts.moment.textContent = words;
  }

  #say(words) {
    this.#parts.word.textContent = words;
  }

  /* Buttons. */

  #button(name) {
    return this.querySelector(`[data-do="${name}"]`);
  }

  #press({target}) {
    const doing = {
      go: () => (this.#moving ? this.#rest() : this.#start()),
      back: () => this.#stepBy(-1),
      on: () => this.#stepBy(1),
      say: () => this.#tellWhere(),
      link: () => this.#giveLink(),
    }[target.closest("[data-do]")?.dataset.do];
    doing?.();
  }
}

/** A number with its unit, with as many decimals as its greatest value has at three digits, so that nothing jitters. */
function written(value, greatest, {title}) {
  const unit = title.split(" / ")[1] ?? "";
  const gap = unit === "" || unit === "°" ? "" : " ";
  const size = Math.abs(greatest);
  if (size !== 0 && (size < 1e-3 || size >= 1e5)) return tick(Number(value.toPrecision(3))) + gap + unit;
  const decimals = Math.max(0, 2 - Math.floor(Math.log10(size || 1)));
  const text = value.toFixed(decimals);
  return (Number(text) === 0 ? text.replace("-", "") : text.replace("-", "\u2212")) + gap + unit;
}
