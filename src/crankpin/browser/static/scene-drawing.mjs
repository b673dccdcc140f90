/* A moving picture drawn on two canvases: what stays (circle, line, axes, curves) and what moves. The plan of the parts
   comes with the page (crankpin.paper.stage) and is that of the still on paper; inks are the page's own. */

const ROLES = {x: "position", v: "velocity", a: "acceleration"};
const TRACK = {x: "pin", v: "velocity", a: "acceleration"};
const DASHES = {velocity: [7, 3], acceleration: [1.5, 2.5], guide: [4, 3]};
const ROUND = [1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10];
const ARROW = 0.62; // the longest arrow, as a share of the radius
const RINGS = 6; // samples between two rings of equal times
const SMALLEST_TYPE = 12; // CSS pixels
const SHARPEST = 2; // device pixels a CSS pixel; more costs time and shows little
const GRIP = 12; // CSS pixels: the ring round the point, and the wider one that says it has the keyboard
const FOCUS = 19;

export class Drawing {
  /** Draws in a box; `plan` and `shapes` as baked, `look` the scene's line and arrows. */
  constructor(box, plan, look) {
    this.plan = plan;
    this.look = look;
    this.box = box;
    this.tracks = null;
    this.focused = false;
    this.full = {};
    this.layers = ["still", "moving"].map((name) => {
      const canvas = document.createElement("canvas");
      canvas.className = `scene-${name}`;
      canvas.setAttribute("aria-hidden", "true");
      box.append(canvas);
      return canvas;
    });
    this.inked = document.createElement("canvas");
    this.fit();
  }

  /** Takes the box's size and the page's inks anew. */
  fit() {
    const style = getComputedStyle(this.box);
    const token = (name) => style.getPropertyValue(`--${name}`).trim();
    this.ink = {
      position: token("position"), velocity: token("velocity"), acceleration: token("acceleration"),
      plain: token("ink"), second: token("ink-quiet"), grid: token("rule"), ground: token("paper"), focus: token("ink-link"),
    };
    this.family = style.fontFamily;
    this.scale = this.box.clientWidth / this.plan.width;
    this.sharp = Math.min(window.devicePixelRatio || 1, SHARPEST);
    for (const canvas of [...this.layers, this.inked]) {
      canvas.width = Math.round(this.plan.width * this.scale * this.sharp);
      canvas.height = Math.round(this.plan.height * this.scale * this.sharp);
    }
    if (this.tracks) this.#settle();
  }

  /** Shows other samples. The scale stays while they fill a fair part of it. */
  show(tracks) {
    this.tracks = tracks;
    const sizes = {...tracks.greatest, pin: Math.max(tracks.greatest.pin, tracks.greatest.drive ?? 0)};
    const units = JSON.stringify(tracks.keys.map((key) => tracks.axes[key].horizontal.unit));
    if (units !== this.units) this.full = {};
    this.units = units;
    for (const key of ["pin", "velocity", "acceleration"]) {
      const kept = this.full[key];
      if (!kept || sizes[key] > kept || sizes[key] < 0.4 * kept) this.full[key] = fullScale(sizes[key]);
    }
    this.#settle();
  }

  /* Places. */

  place([x, y]) {
    const {wheel} = this.plan;
    const k = wheel.radius / this.full.pin;
    return this.look.line === "vertical" ? [wheel.x - k * y, wheel.y - k * x] : [wheel.x + k * x, wheel.y - k * y];
  }

  /** The direction in turns that a place in the box (CSS pixels) has from the centre. */
  turnsAt(left, top) {
    const across = left / this.scale - this.plan.wheel.x;
    const up = this.plan.wheel.y - top / this.scale;
    return (this.look.line === "vertical" ? Math.atan2(-across, up) : Math.atan2(up, across)) / (2 * Math.PI);
  }

  /** Whether a place in the box (CSS pixels) is on the wheel. */
  onWheel(left, top) {
    const {x, y, radius} = this.plan.wheel;
    return Math.hypot(left / this.scale - x, top / this.scale - y) < 1.25 * radius;
  }

  /** The time at a place in the box (CSS pixels) on the curves, or null. */
  timeAt(left, top) {
    const plot = this.plan.plots[0];
    if (!plot) return null;
    const level = this.look.line === "horizontal";
    const share = level ? (top / this.scale - plot.top) / plot.height : (left / this.scale - plot.left) / plot.width;
    return Math.min(Math.max(share, 0), 0.9999) * this.tracks.span;
  }

  /** Where the pin is in the box, in CSS pixels. */
  pinAt(time) {
    return this.place(this.tracks.at("pin", time)).map((one) => one * this.scale);
  }

  #direction([x, y]) {
    return this.look.line === "vertical" ? [-y, -x] : [x, -y];
  }

  #onLine(x) {
    const [across, down] = this.place([x, 0]);
    const {line, thread, wheel} = this.plan;
    if (thread) return [across, line - thread + Math.sqrt(thread ** 2 - (across - wheel.x) ** 2)];
    return this.look.line === "vertical" ? [this.plan.line, down] : [across, this.plan.line];
  }

  #onPlot(plot, time, value) {
    const share = value / this.full[TRACK[plot.key]];
    const passed = time / this.tracks.span;
    if (this.look.line === "vertical") {
      return [plot.left + plot.width * passed, plot.top + (plot.height * (1 - share)) / 2];
    }
    return [plot.left + (plot.width * (1 + share)) / 2, plot.top + plot.height * passed];
  }

  /* Strokes. */

  #pen(canvas) {
    const pen = canvas.getContext("2d");
    pen.setTransform(1, 0, 0, 1, 0, 0);
    pen.clearRect(0, 0, canvas.width, canvas.height);
    pen.setTransform(this.scale * this.sharp, 0, 0, this.scale * this.sharp, 0, 0);
    return pen;
  }

  #stroke(pen, points, ink, width, dashes = []) {
    pen.beginPath();
    points.forEach(([x, y], i) => (i ? pen.lineTo(x, y) : pen.moveTo(x, y)));
    pen.strokeStyle = this.ink[ink];
    pen.lineWidth = width;
    pen.setLineDash(dashes);
    pen.stroke();
  }

  #ring(pen, [x, y], ink, radius, filled) {
    pen.beginPath();
    pen.arc(x, y, radius, 0, 2 * Math.PI);
    pen.fillStyle = this.ink[filled ? ink : "ground"];
    pen.fill();
    pen.setLineDash([]);
    pen.lineWidth = 1.2;
    pen.strokeStyle = this.ink[ink];
    pen.stroke();
  }

  #arrow(pen, [x, y], [across, down], role, letter = "") {
    const size = Math.hypot(across, down);
    if (size < 4) return;
    const [ux, uy] = [across / size, down / size];
    const tip = [x + across, y + down];
    const neck = [tip[0] - 7 * ux, tip[1] - 7 * uy];
    this.#stroke(pen, [[x, y], neck], "ground", 4);
    this.#stroke(pen, [[x, y], neck], role, 2.2, DASHES[role]);
    pen.beginPath();
    pen.moveTo(...tip);
    pen.lineTo(neck[0] - 3.4 * uy, neck[1] + 3.4 * ux);
    pen.lineTo(neck[0] + 3.4 * uy, neck[1] - 3.4 * ux);
    pen.fillStyle = this.ink[role];
    pen.fill();
    if (letter) this.#letter(pen, [tip[0] + 9 * ux, tip[1] + 9 * uy], letter, role);
  }

  #type(pen, size, italic) {
    pen.font = `${italic ? "italic " : ""}${Math.max(size, SMALLEST_TYPE / this.scale)}px ${this.family}`;
  }

  #letter(pen, [x, y], text, role) {
    this.#type(pen, 12.5, true);
    pen.textAlign = "center";
    pen.textBaseline = "middle";
    pen.setLineDash([]);
    pen.lineJoin = "round";
    pen.lineWidth = 3;
    pen.strokeStyle = this.ink.ground;
    pen.strokeText(text, x, y);
    pen.fillStyle = this.ink[role];
    pen.fillText(text, x, y);
  }

  /** A number, or a quantity over its unit: the symbol italic, the rest upright. */
  #words(pen, [x, y], text, align, baseline = "middle") {
    const [symbol, unit] = text.includes(" / ") ? text.split(" / ") : ["", ""];
    pen.fillStyle = this.ink.plain;
    pen.textBaseline = baseline;
    pen.textAlign = unit ? "left" : align;
    this.#type(pen, 10.5, Boolean(unit));
    pen.fillText(unit ? symbol : text, x, y);
    if (!unit) return;
    const wide = pen.measureText(symbol).width;
    this.#type(pen, 10.5, false);
    pen.fillText(` / ${unit.includes("/") ? `(${unit})` : unit}`, x + wide, y);
  }

  /* What stays. */

  #settle() {
    const pen = this.#pen(this.layers[0]);
    const {pin, drive} = this.tracks.points;
    const inked = this.#pen(this.inked);
    this.#stroke(pen, pointsOf(pin).map((one) => this.place(one)), "second", 1);
    const rings = pointsOf(pin).slice(0, -1).filter((_, i) => i % RINGS === 0);
    for (const one of rings) this.#ring(pen, this.place(one), "second", 2);
    if (drive) this.#stroke(pen, pointsOf(drive).map((one) => this.place(one)), "second", 1, DASHES.guide);
    if (this.look.line !== "none") this.#drawLine(pen, rings);
    for (const plot of this.plan.plots) {
      this.#drawAxes(pen, plot);
      if (plot.key === "x" && this.tracks.points.exact) this.#drawExactCurve(pen, plot);
      pen.globalAlpha = 0.3;
      this.#drawCurve(pen, plot);
      pen.globalAlpha = 1;
      this.#drawCurve(inked, plot);
    }
    this.#ring(pen, [this.plan.wheel.x, this.plan.wheel.y], "plain", 1.6, true);
  }

  #drawLine(pen, rings) {
    const end = 1.12 * this.full.pin;
    this.#shapes(pen, "stays", 0);
    this.#stroke(pen, Array.from({length: 25}, (_, i) => this.#onLine((end * (i - 12)) / 12)), "plain", 1);
    for (const [x] of rings) this.#ring(pen, this.#onLine(x), "second", 1.8);
    const {title} = this.tracks.axes.pin.horizontal;
    const [plot] = this.plan.plots;
    if (!plot) this.#words(pen, add(this.#onLine(end), [14, 4]), title, "left");
    else if (this.look.line === "horizontal") this.#words(pen, [plot.left + plot.width + 14, plot.top - 10], title, "left");
  }

  #drawAxes(pen, plot) {
    const full = this.full[TRACK[plot.key]];
    const {span} = this.tracks;
    const upright = this.look.line === "vertical";
    for (const value of [-full, 0, full]) {
      const from = this.#onPlot(plot, 0, value);
      this.#stroke(pen, [from, this.#onPlot(plot, span, value)], value === 0 ? "plain" : "grid", 0.8);
      if (upright) this.#words(pen, add(from, [-5, 0]), tick(value), "right");
      else this.#words(pen, add(from, [0, -4]), tick(value), "center", "bottom");
    }
    this.#stroke(pen, [this.#onPlot(plot, 0, -full), this.#onPlot(plot, 0, full)], "plain", 0.8);
    const clock = this.tracks.axes.angle.horizontal.title;
    const times = [0, span / 2, span].map((time) => [time, tick(Number(time.toPrecision(3)))]);
    if (upright) {
      this.#words(pen, [plot.left, plot.top - 12], this.tracks.axes[TRACK[plot.key]].horizontal.title, "left");
      const down = plot.top + plot.height + 10;
      for (const [time, text] of times) this.#words(pen, [this.#onPlot(plot, time, 0)[0], down], text, "center");
      this.#words(pen, [plot.left + 0.69 * plot.width, down], clock, "left");
    } else {
      for (const [time, text] of times) this.#words(pen, [plot.left - 8, this.#onPlot(plot, time, 0)[1]], text, "right");
      this.#words(pen, [plot.left - 40, plot.top + plot.height / 4], clock, "left");
    }
  }

  #drawCurve(pen, plot) {
    const role = ROLES[plot.key];
    const [values] = this.tracks.points[TRACK[plot.key]];
    const times = this.tracks.points.angle[0];
    const points = [...times].map((time, i) => this.#onPlot(plot, time, values[i]));
    if (this.tracks.turning) {
      for (let i = 1; i < times.length; i++) points.push(this.#onPlot(plot, times[i] + this.tracks.end, values[i]));
    }
    this.#stroke(pen, points, role, role === "position" ? 2.4 : 1.9, DASHES[role]);
  }

  #drawExactCurve(pen, plot) {
    const {exact: [values], angle: [times]} = this.tracks.points;
    const points = [...times].map((time, i) => this.#onPlot(plot, time, values[i]));
    this.#stroke(pen, points, "plain", 0.8);
    this.#words(pen, add(points.at(-1), [0, 10]), "exact", "center");
  }

  /** The body's shapes that stay or move: outlines, and a coil between a fixed place and the body. */
  #shapes(pen, which, x) {
    const [across, down] = this.#onLine(x);
    const [middle, level] = this.#onLine(0);
    const at = ([along, aside], moving) => {
      const [cx, cy] = moving ? [across, down] : [middle, level];
      return this.look.line === "vertical" ? [cx + aside, cy - along] : [cx + along, cy + aside];
    };
    for (const {kind, points, filled} of this.plan.body) {
      if ((kind === "stays") !== (which === "stays")) continue;
      let path = points.map((one) => at(one, kind === "moves"));
      if (kind === "coil") path = coil(points, at, this.look.line);
      if (kind === "thread") path = [at(points[0], false), [across, down]];
      if (filled) {
        pen.beginPath();
        path.forEach((one, i) => (i ? pen.lineTo(...one) : pen.moveTo(...one)));
        pen.closePath();
        pen.fillStyle = this.ink.ground;
        pen.fill();
      }
      this.#stroke(pen, filled ? [...path, path[0]] : path, "plain", 1.3);
    }
  }

  /* What moves. */

  /** Draws one instant. */
  draw(time) {
    const [, moving] = this.layers;
    const pen = this.#pen(moving);
    const {tracks, plan, look} = this;
    const pin = tracks.at("pin", time);
    const at = this.place(pin);
    const centre = [plan.wheel.x, plan.wheel.y];
    this.#layInk(pen, time);
    if (look.line !== "none") {
      const spot = this.#onLine(pin[0]);
      this.#stroke(pen, [at, spot], "second", 1, DASHES.guide);
      this.#stroke(pen, [centre, this.place([pin[0], 0])], "position", 3);
      if (tracks.points.exact) this.#drawExact(pen, this.#onLine(tracks.at("exact", time)[0]));
      this.#shapes(pen, "moves", pin[0]);
      this.#ring(pen, spot, "position", 4.5, true);
    }
    if (tracks.points.drive) {
      const drive = this.place(tracks.at("drive", time));
      this.#arrow(pen, centre, [drive[0] - centre[0], drive[1] - centre[1]], "plain", "F");
    }
    this.#stroke(pen, [centre, at], "plain", 1.6);
    this.#drawAngle(pen, time);
    for (const key of look.arrows) this.#drawArrows(pen, key, time, at, pin);
    for (const plot of plan.plots) this.#carry(pen, plot, time);
    this.#ring(pen, at, "plain", 4.5, true);
    this.#drawGrip(pen, at);
  }

  /** What the point is taken hold of by. */
  #drawGrip(pen, [x, y]) {
    for (const [radius, ink, width] of this.focused ? [[GRIP, "plain", 1.5], [FOCUS, "focus", 2.5]] : [[GRIP, "plain", 1.5]]) {
      pen.beginPath();
      pen.arc(x, y, radius / this.scale, 0, 2 * Math.PI);
      pen.strokeStyle = this.ink[ink];
      pen.lineWidth = width / this.scale;
      pen.stroke();
    }
  }

  /** Where the body is by the exact law. */
  #drawExact(pen, at) {
    const [middle, level] = this.#onLine(0);
    for (const {kind, points} of this.plan.body) {
      if (kind === "thread") this.#stroke(pen, [[middle + points[0][0], level + points[0][1]], at], "plain", 0.8);
    }
    this.#ring(pen, at, "plain", 6);
  }

  /** The part of each curve that is already written. */
  #layInk(pen, time) {
    if (this.plan.plots.length === 0) return;
    const [first] = this.plan.plots;
    const end = this.plan.plots.at(-1);
    const [x, y] = this.#onPlot(first, time, 0);
    const upright = this.look.line === "vertical";
    const left = first.left - 3;
    const top = first.top - 3;
    const wide = upright ? x - left : first.width + 6;
    const high = upright ? end.top + end.height + 3 - top : y - top;
    if (wide <= 0 || high <= 0) return;
    const k = this.scale * this.sharp;
    pen.drawImage(this.inked, left * k, top * k, wide * k, high * k, left, top, wide, high);
  }

  #drawAngle(pen, time) {
    const {x, y} = this.plan.wheel;
    const turn = this.tracks.turns(time) - Math.floor(this.tracks.turns(time));
    const from = this.look.line === "vertical" ? -Math.PI / 2 : 0;
    const to = from - 2 * Math.PI * turn;
    pen.beginPath();
    pen.arc(x, y, 15, from, to, true);
    pen.setLineDash([]);
    pen.lineWidth = 1;
    pen.strokeStyle = this.ink.second;
    pen.stroke();
    if (turn < 0.06) return;
    const middle = (from + to) / 2;
    const [letter] = this.tracks.axes.angle.vertical.title.split(" / ");
    this.#letter(pen, [x + 24 * Math.cos(middle), y + 24 * Math.sin(middle)], letter, "plain");
  }

  #drawArrows(pen, key, time, at, pin) {
    const track = TRACK[key];
    const size = (ARROW * this.plan.wheel.radius) / this.full[track];
    const vector = this.tracks.at(track, time);
    const scaled = (one) => this.#direction(one).map((part) => size * part);
    this.#arrow(pen, at, scaled(vector), ROLES[key], key);
    if (this.look.line === "none") return;
    const aside = key === "v" ? 12 : -12;
    const start = add(this.#onLine(pin[0]), this.look.line === "vertical" ? [aside, 0] : [0, aside]);
    this.#arrow(pen, start, scaled([vector[0], 0]), ROLES[key]);
  }

  /** Carries the value from the line of motion, or from its bar, to the curve. */
  #carry(pen, plot, time) {
    const [value] = this.tracks.at(TRACK[plot.key], time);
    const point = this.#onPlot(plot, time, value);
    let start = this.#onLine(value);
    if (plot.key !== "x") {
      const zero = [plot.bar, plot.top + plot.height / 2];
      start = [plot.bar, point[1]];
      this.#arrow(pen, zero, [0, point[1] - zero[1]], ROLES[plot.key], plot.key);
      this.#ring(pen, zero, "plain", 1.6, true);
    }
    this.#stroke(pen, [start, point], "second", 1, DASHES.guide);
    this.#ring(pen, point, ROLES[plot.key], 3.6);
  }

  destroy() {
    for (const canvas of this.layers) canvas.remove();
  }
}

/** The round number, at least as great, that the edge of the picture stands for. */
export function fullScale(greatest) {
  if (greatest === 0) return 1;
  const power = 10 ** Math.floor(Math.log10(greatest));
  return ROUND.find((one) => one * power >= greatest * (1 - 1e-6)) * power;
}

function pointsOf([xs, ys]) {
  return Array.from(xs, (x, i) => [x, ys[i]]);
}

function add([x, y], [across, down]) {
  return [x + across, y + down];
}

/** A coil: its points are shares of the way from the fixed end (first pair) to the body, and how far aside. */
function coil([[fixed, edge], ...turns], at, line) {
  const from = at([fixed, 0], false);
  const to = at([edge, 0], true);
  return turns.map(([share, aside]) => {
    const x = from[0] + share * (to[0] - from[0]);
    const y = from[1] + share * (to[1] - from[1]);
    return line === "vertical" ? [x + aside, y] : [x, y + aside];
  });
}

/** A number at a tick: no more digits than it has, a true minus, a power of ten where it is long. */
export function tick(value) {
  const size = Math.abs(value);
  const plain = size === 0 || (size >= 1e-3 && size < 1e5);
  if (plain) return String(Number(value.toPrecision(6))).replace("-", "\u2212");
  const [digits, power] = value.toExponential().split("e");
  const raised = Number(power).toString().replace(/./g, (one) => "⁻⁰¹²³⁴⁵⁶⁷⁸⁹"["-0123456789".indexOf(one)]);
  return `${Number(Number(digits).toPrecision(3))}×10${raised}`.replace("-", "\u2212");
}
