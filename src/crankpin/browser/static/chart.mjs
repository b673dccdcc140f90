/* The live picture: the panels of a calculator's figure drawn by uPlot over the printed figure, in the same box.

   Python gives the sampled numbers in the units shown, the labels and the roles; colours come from the page's style,
   so that the picture follows light, dark and print. Pointing at it reads the curves; the table beside it says the
   same to those who cannot point. */

import uPlot from "./uplot.mjs";

// The measures of the figure as built (crankpin.course.charts), in its units: its width is 360.
const WIDTH = 360;
const HEIGHT = {square: 300, plain: 138};
const MARGIN = {left: 52, right: 12, top: 20, bottom: 36};
const LINES = {velocity: "dashes", acceleration: "dots", second: "dashes", third: "dots"};
const DASHES = {dashes: [12, 5], dots: [2, 4]};
const ROLES = ["position", "velocity", "acceleration", "plain", "second", "third"];
const TOKENS = {plain: "ink", second: "ink-quiet", third: "ink-quiet"};
const SMALLEST_TYPE = 11; // CSS pixels

export class Chart {
  #box;
  #readout;
  #layer;
  #panels = [];
  #picture = null;
  #numbers = null;
  #shape = "";
  #width = 0;
  #ink = {};
  #stop = new AbortController();
  #watchers = [];

  /** Draws in the box of the printed figure and reads out in another element. */
  constructor(box, readout) {
    this.#box = box;
    this.#readout = readout;
    this.#layer = document.createElement("div");
    this.#layer.className = "picture-live";
    this.#layer.setAttribute("role", "img");
    box.append(this.#layer);
    this.#mixInk();
    const redraw = () => {
      this.#mixInk();
      for (const {plot} of this.#panels) plot.redraw(false, true);
    };
    const size = new ResizeObserver(() => this.#resize());
    size.observe(box);
    const theme = new MutationObserver(redraw);
    theme.observe(document.body, {attributes: true, attributeFilter: ["data-md-color-scheme", "class"]});
    this.#watchers = [size, theme];
    for (const query of ["(prefers-color-scheme: dark)", "print", "(prefers-contrast: more)"]) {
      matchMedia(query).addEventListener("change", redraw, {signal: this.#stop.signal});
    }
  }

  destroy() {
    this.#stop.abort();
    for (const watcher of this.#watchers) watcher.disconnect();
    this.#clear();
    this.#layer.remove();
    this.#box.removeAttribute("data-live");
  }

  /** Shows a picture; `numbers` holds the points of its curves, as the picture's `start` and `count` say. */
  show(picture, numbers) {
    this.#picture = picture;
    this.#numbers = numbers;
    this.#layer.setAttribute("aria-label", `${picture.caption}. ${picture.words}`);
    const shape = JSON.stringify(picture.panels.map(({square, curves}) => [square, curves.map(({key}) => key)]));
    if (shape !== this.#shape) {
      this.#clear();
      this.#width = this.#box.clientWidth;
      this.#panels = picture.panels.map((panel, index) => this.#plotted(panel, index));
      this.#shape = shape;
    } else {
      this.#panels.forEach((one, index) => {
        one.panel = picture.panels[index];
        one.plot.setData(this.#dataOf(one.panel));
      });
    }
    this.#box.setAttribute("data-live", "");
  }

  #clear() {
    for (const {plot} of this.#panels) plot.destroy();
    this.#panels = [];
    this.#layer.replaceChildren();
    this.#readout.textContent = "";
  }

  #mixInk() {
    const style = getComputedStyle(this.#box);
    const token = (name) => style.getPropertyValue(`--${name}`).trim();
    this.#ink = Object.fromEntries(ROLES.map((role) => [role, token(TOKENS[role] ?? role)]));
    Object.assign(this.#ink, {axis: token("ink"), grid: token("rule"), text: token("ink"), ground: token("paper")});
    this.#ink.family = style.fontFamily;
  }

  #resize() {
    const width = this.#box.clientWidth;
    if (width === this.#width || width === 0 || this.#picture === null) return;
    this.#shape = "";
    this.show(this.#picture, this.#numbers);
  }

  get #unit() {
    return this.#width / WIDTH;
  }

  #type(italic = false) {
    return `${italic ? "italic " : ""}${Math.max(SMALLEST_TYPE, 9.5 * this.#unit)}px ${this.#ink.family}`;
  }

  /* One panel. */

  #plotted(panel, index) {
    const one = {panel, plot: null};
    const unit = this.#unit;
    const axis = (size) => ({
      size: size * unit,
      gap: 4 * unit,
      font: this.#type(),
      stroke: () => this.#ink.text,
      grid: {stroke: () => this.#ink.grid, width: 0.6 * unit},
      ticks: {stroke: () => this.#ink.axis, width: 0.8 * unit, size: 3.5 * unit},
      border: {show: true, stroke: () => this.#ink.axis, width: 0.8 * unit},
      values: (_, splits) => splits.map(tick),
    });
    const options = {
      mode: 2,
      width: this.#width,
      height: HEIGHT[panel.square ? "square" : "plain"] * unit,
      padding: [MARGIN.top * unit, MARGIN.right * unit, 0, 0],
      legend: {show: false},
      cursor: {
        drag: {x: false, y: false, setScale: false},
        y: false,
        points: {size: 8 * unit, fill: (_, i) => this.#ink[one.panel.curves[i - 1].role], width: 0},
        dataIdx: (plot, i) => (one.panel.square ? nearestOf(plot, i) : indexAt(plot, i)),
      },
      scales: {
        x: {time: false, range: () => this.#ranges(one.panel)[0]},
        y: {range: () => this.#ranges(one.panel)[1]},
      },
      axes: [
        {...axis(MARGIN.bottom), space: 46 * unit},
        {...axis(MARGIN.left), space: 19 * unit},
      ],
      series: [{}, ...panel.curves.map((curve) => this.#series(curve))],
      hooks: {
        drawAxes: [(plot) => this.#drawGround(plot, one.panel)],
        draw: [(plot) => this.#drawWords(plot, one.panel)],
        setCursor: [(plot) => this.#pointAt(plot, one)],
      },
    };
    one.plot = new uPlot(options, this.#dataOf(panel), this.#layer);
    one.plot.root.dataset.panel = String(index);
    this.#followFinger(one.plot);
    return one;
  }

  #series({role, line}) {
    const drawn = line || LINES[role] || "solid";
    const unit = this.#unit;
    return {
      facets: [{scale: "x", auto: true}, {scale: "y", auto: true}],
      stroke: () => this.#ink[role],
      fill: drawn === "area" ? () => `${this.#ink[role]}2e` : drawn === "points" ? () => this.#ink[role] : null,
      width: drawn === "points" ? 0 : (role === "position" ? 2.2 : 1.7) * unit,
      dash: DASHES[drawn]?.map((length) => length * unit),
      points: {show: false},
      paths: {points: pointPaths(2.1 * unit), area: areaPaths}[drawn] ?? linePaths,
    };
  }

  #dataOf(panel) {
    const points = ({start, count}) => [
      this.#numbers.subarray(start, start + count),
      this.#numbers.subarray(start + count, start + 2 * count),
    ];
    return [null, ...panel.curves.map(points)];
  }

  /** The ends of both axes: the curves, the marks, and room above and below; equal scales in a square panel. */
  #ranges(panel) {
    const data = this.#dataOf(panel).slice(1);
    const across = ends([...data.map(([xs]) => xs), panel.marks.map(({x}) => x)]);
    const up = ends([...data.map(([, ys]) => ys), panel.marks.map(({y}) => y)]);
    if (!panel.square) return [widened(across, 0), widened(up, 0.12)];
    const [wide, high] = [widened(across, 0.05), widened(up, 0.05)];
    const room = [WIDTH - MARGIN.left - MARGIN.right, HEIGHT.square - MARGIN.top - MARGIN.bottom];
    const perUnit = Math.max((wide[1] - wide[0]) / room[0], (high[1] - high[0]) / room[1]);
    return [centred(wide, perUnit * room[0]), centred(high, perUnit * room[1])];
  }

  /* What uPlot has no words for. */

  #drawGround(plot, {square}) {
    const {min, max} = plot.scales.y;
    if (square || min >= 0 || max <= 0) return;
    const {ctx, bbox} = plot;
    const y = Math.round(plot.valToPos(0, "y", true));
    ctx.save();
    ctx.strokeStyle = this.#ink.axis;
    ctx.lineWidth = 0.8 * this.#unit * uPlot.pxRatio;
    ctx.beginPath();
    ctx.moveTo(bbox.left, y);
    ctx.lineTo(bbox.left + bbox.width, y);
    ctx.stroke();
    ctx.restore();
  }

  #drawWords(plot, panel) {
    const {ctx, bbox} = plot;
    const unit = this.#unit * uPlot.pxRatio;
    ctx.save();
    ctx.setLineDash([]);
    ctx.textBaseline = "alphabetic";
    this.#title(ctx, panel.vertical.title, 0, bbox.top - 6 * unit, "left");
    const right = bbox.left + bbox.width;
    this.#title(ctx, panel.horizontal.title, right, bbox.top + bbox.height + 33 * unit, "right");
    if (panel.curves.length > 1 && !panel.square) this.#nameCurves(plot, panel);
    for (const mark of panel.marks) this.#drawMark(plot, mark);
    ctx.restore();
  }

  /** An axis title: its symbol italic with a subscript, its unit upright, in brackets where it has a stroke itself. */
  #title(ctx, title, x, y, align) {
    const [symbol, unit = ""] = title.split(" / ");
    const [head, ...below] = symbol.split("_");
    const size = Math.max(SMALLEST_TYPE, 10.5 * this.#unit) * uPlot.pxRatio;
    const pieces = [
      [head, `italic ${size}px ${this.#ink.family}`, 0],
      [below.join("_"), `${0.72 * size}px ${this.#ink.family}`, 0.22 * size],
      [unit && ` / ${unit.includes("/") ? `(${unit})` : unit}`, `${size}px ${this.#ink.family}`, 0],
    ];
    const measured = pieces.map(([text, font]) => {
      ctx.font = font;
      return ctx.measureText(text).width;
    });
    let at = align === "right" ? x - measured.reduce((sum, one) => sum + one, 0) : x;
    ctx.textAlign = "left";
    ctx.fillStyle = this.#ink.text;
    pieces.forEach(([text, font, drop], i) => {
      ctx.font = font;
      ctx.fillText(text, at, y + drop);
      at += measured[i];
    });
  }

  #nameCurves(plot, {curves}) {
    const {bbox} = plot;
    const unit = this.#unit * uPlot.pxRatio;
    const taken = [];
    curves.forEach(({label, role, line}, i) => {
      if (!label || line === "points") return;
      const ys = plot.data[i + 1][1];
      const top = bbox.top + 4 * unit;
      const bottom = bbox.top + bbox.height - 2 * unit;
      const end = Math.min(Math.max(plot.valToPos(ys[ys.length - 1], "y", true) - 4 * unit, top), bottom);
      const places = [0, -12, 12, -24, 24, -36, 36].map((off) => end + off * unit);
      const free = (y) => y >= top && y <= bottom && !taken.some((other) => Math.abs(y - other) < 12 * unit);
      const y = places.find(free) ?? end;
      taken.push(y);
      this.#label(plot.ctx, label, bbox.left + bbox.width - 2 * unit, y, "right", role);
    });
  }

  #drawMark(plot, {x, y, label, role}) {
    const {ctx, bbox} = plot;
    const unit = this.#unit * uPlot.pxRatio;
    const at = [plot.valToPos(x, "x", true), plot.valToPos(y, "y", true)];
    ctx.beginPath();
    ctx.arc(at[0], at[1], 3.25 * unit, 0, 2 * Math.PI);
    ctx.fillStyle = this.#ink.ground;
    ctx.strokeStyle = this.#ink[role];
    ctx.lineWidth = 1.6 * unit;
    ctx.fill();
    ctx.stroke();
    const nearEnd = (at[0] - bbox.left) / bbox.width > 0.8;
    const y0 = Math.max(at[1] - 6 * unit, bbox.top + 4 * unit);
    this.#label(ctx, label, at[0] + (nearEnd ? -7 : 7) * unit, y0, nearEnd ? "right" : "left", role);
  }

  /** Words over curves have a rim of paper. */
  #label(ctx, text, x, y, align, role) {
    const font = this.#type(text.length === 1).replace(/[\d.]+px/, (size) => `${parseFloat(size) * uPlot.pxRatio}px`);
    Object.assign(ctx, {font, textAlign: align, lineJoin: "round", lineWidth: 3 * uPlot.pxRatio});
    ctx.strokeStyle = this.#ink.ground;
    ctx.fillStyle = this.#ink[role];
    ctx.strokeText(text, x, y);
    ctx.fillText(text, x, y);
  }

  /* Pointing. */

  #followFinger(plot) {
    const move = (event) => {
      if (event.pointerType === "mouse") return;
      const {left, top} = plot.over.getBoundingClientRect();
      plot.setCursor({left: event.clientX - left, top: event.clientY - top});
    };
    for (const event of ["pointerdown", "pointermove"]) plot.over.addEventListener(event, move);
  }

  #pointAt(plot, one) {
    const {left, top} = plot.cursor;
    const alike = this.#panels.filter(({panel}) => sameAcross(panel, one.panel));
    for (const other of alike) {
      if (other.plot !== plot) other.plot.setCursor({left, top: left < 0 ? -10 : 0}, false);
    }
    if (left < 0 || left === undefined) {
      this.#readout.textContent = "";
      return;
    }
    this.#readout.textContent = one.panel.square ? readPath(plot, one.panel) : readCurves(plot, one.panel, alike, top);
  }
}

function sameAcross(a, b) {
  return !a.square && !b.square && a.horizontal.title === b.horizontal.title;
}

/* Paths through all points in their order, in canvas pixels. */

function linePaths(plot, index) {
  const [xs, ys] = plot.data[index];
  const stroke = new Path2D();
  for (let i = 0; i < xs.length; i++) {
    stroke.lineTo(plot.valToPos(xs[i], "x", true), plot.valToPos(ys[i], "y", true));
  }
  return {stroke, fill: null};
}

function areaPaths(plot, index) {
  const [xs] = plot.data[index];
  const {stroke} = linePaths(plot, index);
  const fill = new Path2D(stroke);
  const floor = plot.valToPos(0, "y", true);
  fill.lineTo(plot.valToPos(xs[xs.length - 1], "x", true), floor);
  fill.lineTo(plot.valToPos(xs[0], "x", true), floor);
  return {stroke, fill};
}

function pointPaths(radius) {
  return (plot, index) => {
    const [xs, ys] = plot.data[index];
    const fill = new Path2D();
    for (let i = 0; i < xs.length; i++) {
      const [x, y] = [plot.valToPos(xs[i], "x", true), plot.valToPos(ys[i], "y", true)];
      fill.moveTo(x + radius * uPlot.pxRatio, y);
      fill.arc(x, y, radius * uPlot.pxRatio, 0, 2 * Math.PI);
    }
    return {stroke: null, fill};
  };
}

/* Axis ends. */

function ends(lists) {
  let [low, high] = [Infinity, -Infinity];
  for (const list of lists) {
    for (const one of list) {
      if (one < low) low = one;
      if (one > high) high = one;
    }
  }
  return low <= high ? [low, high] : [0, 1];
}

function widened([low, high], share) {
  const extent = high - low || Math.abs(high) || 1;
  const room = high === low ? 0.5 * extent : share * extent;
  return [low - room, high + room];
}

function centred([low, high], extent) {
  const middle = (low + high) / 2;
  return [middle - extent / 2, middle + extent / 2];
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
  return `${symbol} = ${read(value, size)}${unit.startsWith("°") ? unit : unit && `\u00a0${unit}`}`;
}

function readCurves(plot, panel, alike) {
  const across = plot.posToVal(plot.cursor.left, "x");
  const parts = alike.flatMap(({plot: other, panel: {vertical, curves}}) =>
    curves.map((curve, i) => {
      const ys = other.data[i + 1][1];
      const size = ends([ys]).reduce((most, one) => Math.max(most, Math.abs(one)), 0);
      const label = curves.length > 1 && curve.label ? `${curve.label}: ` : "";
      return label + named(vertical.title, ys[indexAt(plot, 0, other.data[i + 1][0])], size);
    }),
  );
  return `${named(panel.horizontal.title, across, plot.scales.x.max)}: ${parts.join(", ")}`;
}

function readPath(plot, panel) {
  const [x, y] = [plot.posToVal(plot.cursor.left, "x"), plot.posToVal(plot.cursor.top, "y")];
  return `${named(panel.horizontal.title, x, plot.scales.x.max)}, ${named(panel.vertical.title, y, plot.scales.y.max)}`;
}

/** The point of a curve at the pointer, along the horizontal axis. */
function indexAt(plot, index, xs = plot.data[index][0]) {
  const at = plot.posToVal(plot.cursor.left, "x");
  let [low, high] = [0, xs.length - 1];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (xs[middle] < at) low = middle;
    else high = middle;
  }
  return at - xs[low] < xs[high] - at ? low : high;
}

/** The point of a path nearest to the pointer. */
function nearestOf(plot, index) {
  const [xs, ys] = plot.data[index];
  const [x, y] = [plot.posToVal(plot.cursor.left, "x"), plot.posToVal(plot.cursor.top, "y")];
  let [best, least] = [null, Infinity];
  for (let i = 0; i < xs.length; i++) {
    const distance = (xs[i] - x) ** 2 + (ys[i] - y) ** 2;
    if (distance < least) [best, least] = [i, distance];
  }
  return best;
}
