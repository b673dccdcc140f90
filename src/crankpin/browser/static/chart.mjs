/* The live picture: the printed figure itself, with what moves in it drawn again for each answer.

   Python gives the sampled numbers in the units shown, the labels and the roles; measures, ticks, lines and the places of
   words are those of the figure as built (crankpin.figures.charts), so that nothing changes when it comes alive, and for
   the numbers as printed it is left as it is. Inks are classes, as there: light, dark, print and forced colours follow the
   page's style. What is in place already is not written again. Pointing at the picture reads the curves; the table beside it says the same to those who cannot point. */

// The measures of the figure as built, in its units: its width is 360.
const WIDTH = 360;
const HEIGHT = {square: 300, tall: 236, plain: 138};
const MARGIN = {left: 52, right: 12, top: 20, bottom: 36};
const TICK_SPACE = {across: 46, up: 19};
const LINES = {velocity: "dashes", acceleration: "dots", second: "dashes", third: "dots"};
const DASHES = {dashes: "12 5", dots: "2 4"};
const LEFT = MARGIN.left;
const RIGHT = WIDTH - MARGIN.right;
const TOP = MARGIN.top;

export class Chart {
  #box;
  #svg;
  #readout;
  #picture = null;
  #numbers = null;
  #panels = [];
  #shape = ""; // nothing while the figure is as printed
  #pointed = null; // {panel, x, y} in the panel's own units
  #stop = new AbortController();

  /** Draws in the printed figure of a box, and reads out in another element. */
  constructor(box, readout) {
    this.#box = box;
    this.#svg = box.querySelector("svg");
    this.#readout = readout;
    this.#keepRatio(this.#svg.viewBox.baseVal.height);
    this.#listen();
  }

  /** Lets go of the figure, which keeps the numbers it shows. */
  destroy() {
    this.#stop.abort();
    this.#pointAt(null);
    this.#box.removeAttribute("data-live");
  }

  /** Shows a picture; `numbers` holds the points of its curves, as the picture's `start` and `count` say. A picture
      `asPrinted` need not be drawn while the figure has not been anything else. */
  show(picture, numbers, {asPrinted = false} = {}) {
    this.#picture = picture;
    this.#numbers = numbers;
    if (!asPrinted || this.#shape) this.#draw();
    this.#box.setAttribute("data-live", "");
  }

  #draw() {
    const picture = this.#picture;
    const shape = JSON.stringify(
      picture.panels.map(({square, curves}) => [square, curves.map(({role, line}) => [role, line])]),
    );
    if (shape !== this.#shape) this.#build(picture, shape);
    put(this.#svg, {"aria-label": `${picture.caption}. ${picture.words}`});
    picture.panels.forEach((panel, index) => this.#panels[index].show(panel, this.#numbers));
    if (this.#pointed) this.#pointAt(this.#pointed);
  }

  /** What is drawn in a box of known size has nothing else on the page laid out again. */
  #keepRatio(height) {
    this.#box.style.aspectRatio = `${WIDTH} / ${height}`;
  }

  #build(picture, shape) {
    this.#pointAt(null);
    let top = 0;
    this.#panels = picture.panels.map((panel, index) => {
      const height = HEIGHT[panel.square ? "square" : panel.tall ? "tall" : "plain"];
      const one = new Panel(panel, index, top, height);
      top += height;
      return one;
    });
    put(this.#svg, {viewBox: `0 0 ${WIDTH} ${top}`});
    this.#keepRatio(top);
    this.#svg.removeAttribute("aria-labelledby"); // what it named goes: a title would also stand at the pointer
    this.#svg.replaceChildren(...this.#panels.map(({group}) => group));
    this.#shape = shape;
  }

  /* Pointing: a mouse while it is over the picture, a finger until it touches something else. */

  #listen() {
    const {signal} = this.#stop;
    const follow = (event) => this.#pointAt(this.#placeOf(event));
    for (const event of ["pointerdown", "pointermove"]) this.#svg.addEventListener(event, follow, {signal});
    const leave = ({pointerType}) => pointerType === "mouse" && this.#pointAt(null);
    this.#svg.addEventListener("pointerleave", leave, {signal});
    const elsewhere = ({target}) => this.#pointed && !this.#svg.contains(target) && this.#pointAt(null);
    document.addEventListener("pointerdown", elsewhere, {signal});
  }

  #placeOf({clientX, clientY}) {
    if (!this.#picture) return null;
    if (!this.#shape) this.#draw();
    const box = this.#svg.getBoundingClientRect();
    const unit = WIDTH / box.width;
    const [x, y] = [(clientX - box.left) * unit, (clientY - box.top) * unit];
    const panel = this.#panels.find((one) => one.holds(x, y));
    return panel ? {panel, x, y: y - panel.top} : null;
  }

  #pointAt(pointed) {
    if (!pointed && !this.#pointed) return;
    this.#pointed = pointed;
    const alike = pointed ? this.#panels.filter((one) => one === pointed.panel || one.isAcross(pointed.panel)) : [];
    for (const panel of this.#panels) panel.point(alike.includes(panel) ? pointed : null);
    write(this.#readout, pointed ? readAt(pointed, alike) : "");
  }
}

/* One panel: axes, curves, words and what is pointed at. */

class Panel {
  #panel;
  #data = [];
  #across = [0, 1];
  #up = [0, 1];
  #parts;
  #written = {};

  constructor({curves}, index, top, height) {
    this.top = top;
    this.bottom = height - MARGIN.bottom;
    this.#parts = {
      grid: svg("path", {class: "ink-grid", "stroke-width": 0.6}),
      axis: svg("path", {class: "ink-axis", "stroke-width": 0.8, fill: "none"}),
      across: new Texts("chart-ticks chart-middle"),
      up: new Texts("chart-ticks chart-end"),
      curves: curves.map(curveParts),
      titles: svg("g"),
      names: new Texts(),
      marks: [],
      markGroup: svg("g"),
      pointer: svg("g", {class: "chart-pointer"}),
    };
    const {grid, axis, across, up, titles, names, markGroup, pointer} = this.#parts;
    const lines = this.#parts.curves.flatMap(({fill, stroke}) => (fill ? [fill, stroke] : [stroke]));
    this.group = svg("g", {transform: `translate(0 ${top})`, "data-panel": index}, [
      grid, axis, across.group, up.group, ...lines, titles, names.group, markGroup, pointer,
      svg("rect", {class: "chart-over", x: LEFT, y: TOP, width: RIGHT - LEFT, height: this.bottom - TOP}),
    ]);
  }

  show(panel, numbers) {
    this.#panel = panel;
    this.#data = panel.curves.map(({start, count}) => [
      numbers.subarray(start, start + count),
      numbers.subarray(start + count, start + 2 * count),
    ]);
    [this.#across, this.#up] = this.#ranges();
    this.#drawAxes();
    this.#drawTitles();
    panel.curves.forEach((curve, i) => this.#drawCurve(curve, i));
    this.#drawNames();
    this.#drawMarks();
  }

  isAcross({square, horizontal}) {
    return !this.square && !square && this.horizontal.title === horizontal.title;
  }

  get square() {
    return this.#panel.square;
  }

  get horizontal() {
    return this.#panel.horizontal;
  }

  /** Whether a place in the figure lies between this panel's axes. */
  holds(x, y) {
    return x >= LEFT && x <= RIGHT && y >= this.top + TOP && y <= this.top + this.bottom;
  }

  #x(value) {
    const [low, high] = this.#across;
    return LEFT + ((value - low) / (high - low)) * (RIGHT - LEFT);
  }

  #y(value) {
    const [low, high] = this.#up;
    return this.bottom - ((value - low) / (high - low)) * (this.bottom - TOP);
  }

  /** The ends of both axes: the curves, the marks, and room above and below; equal scales in a square panel. */
  #ranges() {
    const {marks, square} = this.#panel;
    const across = ends([...this.#data.map(([xs]) => xs), marks.map(({x}) => x)]);
    const up = ends([...this.#data.map(([, ys]) => ys), marks.map(({y}) => y)]);
    if (!square) return [widened(across, 0), widened(up, 0.12)];
    const [wide, high] = [widened(across, 0.05), widened(up, 0.05)];
    const room = [RIGHT - LEFT, this.bottom - TOP];
    const perUnit = Math.max((wide[1] - wide[0]) / room[0], (high[1] - high[0]) / room[1]);
    return [centred(wide, perUnit * room[0]), centred(high, perUnit * room[1])];
  }

  /** Draws the axes where their ends have changed. */
  #drawAxes() {
    const {grid, axis, across, up} = this.#parts;
    const key = `${this.#across} ${this.#up}`;
    if (this.#written.axes === key) return;
    this.#written.axes = key;
    const xs = ticks(this.#across, RIGHT - LEFT, TICK_SPACE.across).map((one) => [short(this.#x(one)), tick(one)]);
    const ys = ticks(this.#up, this.bottom - TOP, TICK_SPACE.up).map((one) => [short(this.#y(one)), tick(one)]);
    const [down, along] = [this.bottom - TOP, RIGHT - LEFT];
    put(grid, {d: xs.map(([x]) => `M${x} ${TOP}v${down}`).join("") + ys.map(([y]) => `M${LEFT} ${y}h${along}`).join("")});
    const isCrossed = !this.square && this.#up[0] < 0 && this.#up[1] > 0;
    put(axis, {
      d:
        `M${LEFT} ${TOP}v${down}h${along}` +
        xs.map(([x]) => `M${x} ${this.bottom}v3.5`).join("") +
        ys.map(([y]) => `M${LEFT} ${y}h-3.5`).join("") +
        (isCrossed ? `M${LEFT} ${short(this.#y(0))}h${along}` : ""),
    });
    across.show(xs.map(([x, text]) => ({x, y: this.bottom + 15, text})));
    up.show(ys.map(([y, text]) => ({x: LEFT - 7, y: short(y + 3.5), text})));
  }

  #drawTitles() {
    const {vertical, horizontal} = this.#panel;
    const key = `${vertical.title}\n${horizontal.title}`;
    if (this.#written.titles === key) return;
    this.#written.titles = key;
    const place = (x, y) => ({transform: `translate(${x} ${y})`});
    this.#parts.titles.replaceChildren(
      svg("text", {class: "chart-title", ...place(0, TOP - 6)}, titlePieces(vertical.title)),
      svg("text", {class: "chart-title chart-end", ...place(RIGHT, this.bottom + 33)}, titlePieces(horizontal.title)),
    );
  }

  #drawCurve({role, line}, i) {
    const [xs, ys] = this.#data[i];
    const drawn = lineOf(role, line);
    let d = "";
    if (drawn === "points") for (let k = 0; k < xs.length; k++) d += `M${short(this.#x(xs[k]))} ${short(this.#y(ys[k]))}h0`;
    else d = this.#lineThrough(xs, ys);
    const {stroke, fill} = this.#parts.curves[i];
    put(stroke, {d});
    if (!fill || xs.length === 0) return;
    const floor = short(this.#y(0));
    put(fill, {d: `${d}L${short(this.#x(xs[xs.length - 1]))} ${floor}L${short(this.#x(xs[0]))} ${floor}z`});
  }

  #lineThrough(xs, ys) {
    const [left, low, high] = [this.#across[0], this.#up[0], this.#up[1]];
    const perX = (RIGHT - LEFT) / (this.#across[1] - left);
    const perY = (this.bottom - TOP) / (high - low);
    let d = "";
    for (let k = 0; k < xs.length; k++) {
      d += `${k === 0 ? "M" : "L"}${short(LEFT + (xs[k] - left) * perX)} ${short(this.bottom - (ys[k] - low) * perY)}`;
    }
    return d && `${d}${xs.length === 1 ? "h0" : ""}`;
  }

  /** Names each curve where it ends, clear of the others. */
  #drawNames() {
    const {curves, square} = this.#panel;
    const [top, bottom] = [TOP + 4, this.bottom - 2];
    const taken = [];
    const named = curves.length > 1 && !square ? curves : [];
    const words = named.flatMap(({label, role, line}, i) => {
      const ys = this.#data[i][1];
      if (!label || line === "points" || ys.length === 0) return [];
      const end = Math.min(Math.max(this.#y(ys[ys.length - 1]) - 4, top), bottom);
      const free = (y) => y >= top && y <= bottom && !taken.some((other) => Math.abs(y - other) < 12);
      const y = [0, -12, 12, -24, 24, -36, 36].map((off) => end + off).find(free) ?? end;
      taken.push(y);
      return [{x: RIGHT - 2, y: short(y), text: label, role: labelClass(label, role, true)}];
    });
    this.#parts.names.show(words);
  }

  #drawMarks() {
    const {marks} = this.#panel;
    const there = this.#parts.marks;
    while (there.length > marks.length) there.pop().forEach((one) => one.remove());
    while (there.length < marks.length) {
      const pair = [svg("circle", {r: 3.25, "stroke-width": 1.6}), svg("text")];
      this.#parts.markGroup.append(...pair);
      there.push(pair);
    }
    marks.forEach(({x, y, label, role}, i) => {
      const [ring, word] = there[i];
      const [left, high] = [this.#x(x), this.#y(y)];
      const nearEnd = (left - LEFT) / (RIGHT - LEFT) > 0.8;
      put(ring, {class: `ink-${role} fill-ground`, cx: short(left), cy: short(high)});
      place(word, short(left + (nearEnd ? -7 : 7)), short(Math.max(high - 6, TOP + 4)));
      put(word, {class: labelClass(label, role, nearEnd)});
      write(word, label);
    });
  }

  /* Pointing. */

  /** Marks what is read at a place: on every curve, and across a panel that is not square. */
  point(pointed) {
    const {pointer} = this.#parts;
    if (!pointed) {
      if (pointer.firstChild) pointer.replaceChildren();
      return;
    }
    const spots = this.#panel.curves.flatMap(({role}, i) => {
      const [xs, ys] = this.#data[i];
      const k = this.square ? this.#nearest(i, pointed) : this.#indexAt(i, pointed);
      return k === null ? [] : [svg("circle", {class: `fill-${role}`, r: 4, cx: short(this.#x(xs[k])), cy: short(this.#y(ys[k]))})];
    });
    const across = svg("path", {class: "ink-second", "stroke-width": 1, d: `M${short(pointed.x)} ${TOP}V${this.bottom}`});
    pointer.replaceChildren(across, ...spots);
  }

  /** The values at a place between the axes. */
  valuesAt({x, y}) {
    const inside = ([low, high], share) => low + share * (high - low);
    return [
      inside(this.#across, (x - LEFT) / (RIGHT - LEFT)),
      inside(this.#up, (this.bottom - y) / (this.bottom - TOP)),
    ];
  }

  /** What the curves are at a place, in words. */
  readCurves(pointed) {
    const {curves, vertical} = this.#panel;
    return curves.flatMap(({label}, i) => {
      const ys = this.#data[i][1];
      const k = this.#indexAt(i, pointed);
      if (k === null) return [];
      const size = ends([ys]).reduce((most, one) => Math.max(most, Math.abs(one)), 0);
      const isNamed = curves.length > 1 && label && label !== vertical.title.split(" / ")[0];
      return [(isNamed ? `${label}: ` : "") + named(vertical.title, ys[k], size)];
    });
  }

  readPath(pointed) {
    const [x, y] = this.valuesAt(pointed);
    const {horizontal, vertical} = this.#panel;
    return `${named(horizontal.title, x, this.#across[1])}, ${named(vertical.title, y, this.#up[1])}`;
  }

  readAcross(pointed) {
    return named(this.horizontal.title, this.valuesAt(pointed)[0], this.#across[1]);
  }

  /** The point of a curve at the pointer, along the horizontal axis. */
  #indexAt(i, pointed) {
    const [xs] = this.#data[i];
    if (xs.length === 0) return null;
    const [at] = this.valuesAt(pointed);
    let [low, high] = [0, xs.length - 1];
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (xs[middle] < at) low = middle;
      else high = middle;
    }
    return at - xs[low] < xs[high] - at ? low : high;
  }

  /** The point of a path nearest to the pointer. */
  #nearest(i, pointed) {
    const [xs, ys] = this.#data[i];
    const [x, y] = this.valuesAt(pointed);
    let [best, least] = [null, Infinity];
    for (let k = 0; k < xs.length; k++) {
      const distance = (xs[k] - x) ** 2 + (ys[k] - y) ** 2;
      if (distance < least) [best, least] = [k, distance];
    }
    return best;
  }
}

function readAt(pointed, alike) {
  if (pointed.panel.square) return pointed.panel.readPath(pointed);
  return `${pointed.panel.readAcross(pointed)}: ${alike.flatMap((panel) => panel.readCurves(pointed)).join(", ")}`;
}

/* Elements, written only where something has changed: what was written last is kept beside them. */

const SVG = "http://www.w3.org/2000/svg";
const last = new WeakMap();

function svg(name, attributes = {}, children = []) {
  const element = document.createElementNS(SVG, name);
  put(element, attributes);
  element.append(...children);
  return element;
}

function put(element, attributes) {
  let known = last.get(element);
  if (!known) last.set(element, (known = {}));
  for (const [name, value] of Object.entries(attributes)) {
    if (known[name] === value) continue;
    known[name] = value;
    element.setAttribute(name, value);
  }
}

function write(element, text) {
  const {firstChild} = element;
  if (firstChild === null) element.append(text);
  else if (firstChild.data !== text) firstChild.data = text;
}

/** Words are moved, not laid out again, when only their place changes. */
function place(word, x, y) {
  put(word, {transform: `translate(${x} ${y})`});
}

/** A group of words that grows and shrinks with what there is to say. */
class Texts {
  #words = [];

  constructor(classes = "") {
    this.group = svg("g", classes ? {class: classes} : {});
  }

  show(words) {
    while (this.#words.length > words.length) this.#words.pop().remove();
    words.forEach(({x, y, text, role}, i) => {
      const fresh = i === this.#words.length;
      const word = fresh ? svg("text") : this.#words[i];
      place(word, x, y);
      if (role) put(word, {class: role});
      write(word, text);
      if (!fresh) return;
      this.#words.push(word);
      this.group.append(word);
    });
  }
}

function curveParts({role, line}) {
  const drawn = lineOf(role, line);
  if (drawn === "points") {
    return {stroke: svg("path", {class: `ink-${role}`, "stroke-width": 4.2, "stroke-linecap": "round"})};
  }
  const dashes = DASHES[drawn] ? {"stroke-dasharray": DASHES[drawn]} : {};
  const width = role === "position" ? 2.2 : 1.7;
  const stroke = svg("path", {class: `ink-${role}`, fill: "none", "stroke-width": width, ...dashes});
  return {stroke, fill: drawn === "area" ? svg("path", {class: `fill-${role}`, "fill-opacity": 0.18}) : null};
}

function lineOf(role, line) {
  return line || LINES[role] || "solid";
}

/** Words over curves have a rim of paper. */
function labelClass(text, role, atEnd) {
  return `chart-label fill-${role}${atEnd ? " chart-end" : ""}${text.length === 1 ? " chart-symbol" : ""}`;
}

/** An axis title: its symbol italic with a subscript, its unit upright, in brackets where it has a stroke itself. */
function titlePieces(title) {
  const [symbol, unit = ""] = title.split(" / ");
  const [head, ...below] = symbol.split("_");
  const piece = (text, attributes) => svg("tspan", attributes, [text]);
  const lower = below.length > 0;
  return [
    piece(head, {class: "chart-symbol"}),
    ...(lower ? [piece(below.join("_"), {class: "chart-below", dy: 2.4})] : []),
    ...(unit ? [piece(` / ${unit.includes("/") ? `(${unit})` : unit}`, lower ? {dy: -2.4} : {})] : []),
  ];
}

/* Axis ends and ticks. */

function ends(lists) {
  let [low, high] = [Infinity, -Infinity];
  for (const list of lists) {
    for (let i = 0; i < list.length; i++) {
      const one = list[i];
      if (one < low) low = one;
      if (one > high) high = one;
    }
  }
  return low <= high ? [low, high] : [0, 1];
}

function widened([low, high], share) {
  const room = high === low ? 0.5 * (Math.abs(high) || 1) : share * (high - low);
  return [low - room, high + room];
}

function centred([low, high], extent) {
  const middle = (low + high) / 2;
  return [middle - extent / 2, middle + extent / 2];
}

/** Round values between the ends, the closest together that leave so much space. */
function ticks([low, high], length, space) {
  const least = ((high - low) * space) / length;
  const power = 10 ** Math.floor(Math.log10(least));
  const step = [1, 2, 2.5, 5, 10].map((one) => one * power).find((one) => one >= least * (1 - 1e-12));
  const [first, end] = [Math.ceil(low / step - 1e-9), Math.floor(high / step + 1e-9)];
  return Array.from({length: end - first + 1}, (_, i) => (first + i) * step);
}

/** A place to a hundredth of a unit. */
function short(value) {
  return Math.round(value * 100) / 100;
}

/* Numbers on axes and in the line that reads the curves. */

const RAISED = {"-": "⁻", 0: "⁰", 1: "¹", 2: "²", 3: "³", 4: "⁴", 5: "⁵", 6: "⁶", 7: "⁷", 8: "⁸", 9: "⁹"};

function tick(value) {
  return written(Number(value.toPrecision(9)));
}

function written(value) {
  const size = Math.abs(value);
  if (value !== 0 && (size < 1e-3 || size >= 1e5)) {
    const [figures, power] = value.toExponential().split("e");
    const raised = [...String(Number(power))].map((sign) => RAISED[sign]).join("");
    return `${figures.replace("-", "−")}×10${raised}`;
  }
  return String(value).replace("-", "−");
}

function read(value, size) {
  return written(Math.abs(value) < 1e-9 * size ? 0 : Number(value.toPrecision(3)));
}

function named(title, value, size) {
  const [symbol, unit = ""] = title.split(" / ");
  return `${symbol.replace("_", "\u00a0")} = ${read(value, size)}${unit.startsWith("°") ? unit : unit && `\u00a0${unit}`}`;
}
