/* A moving picture drawn on two canvases: what stays (circle, line, axes, curves) and what moves. The plan of the parts
   comes with the page (crankpin.figures.stage) and is that of the still on paper; inks are the page's own. */

const ROLES = {x: "position", v: "velocity", a: "acceleration"};
const TRACK = {x: "pin", v: "velocity", a: "acceleration"};
const DASHES = {velocity: [7, 3], acceleration: [1.5, 2.5], guide: [4, 3]};
const ROUND = [1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10];
const ARROW = 0.62; // the longest arrow, as a share of the radius
const RINGS = 6; // samples between two rings of equal times
const RUN_RINGS = 18; // the same where the circle is none: a quarter of a turn
const SMALLEST_TYPE = 12; // CSS pixels
const SHARPEST = 2; // device pixels a CSS pixel; more costs time and shows little
const GRIP = 12; // CSS pixels: the ring round the point, and the wider one that says it has the keyboard
const FOCUS = 19;
const LAG = 0.5; // the radius of the arc that shows how far the point is behind its drive, as a share of the circle's
const CORNER = 5; // the side of the mark of a right angle
const SHORTEST_NAMED = 8; // a length along the line is named from here on
const UPRIGHT = /^\s*(cos)\s*$/; // what is not italic in a formula
const THIN = "\u2009";

export class Drawing {
  /** Draws in a box; `plan` and `shapes` as prerendered, `look` the scene's line and arrows. */
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
    this.written = new Map();
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
    this.written.clear();
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

  /** Where the marks on the curves are in the box, in CSS pixels. */
  marksAt(time) {
    const at = (plot) => this.#onPlot(plot, time, this.tracks.at(TRACK[plot.key], time)[0]);
    return this.plan.plots.map((plot) => at(plot).map((one) => one * this.scale));
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

  /** Writes a symbol or a formula at a place: its middle stands there, or the end that `align` names. */
  #letter(pen, [x, y], text, role, align = "center") {
    const image = this.#lettering(text, role);
    const {width, height} = image;
    const k = this.scale * this.sharp;
    const left = k * x - {left: 0, center: width / 2, right: width}[align];
    this.#copy(pen, image, [0, 0, width, height], [Math.round(left), Math.round(k * y - height / 2), width, height]);
  }

  /** A symbol or a formula with ground round its letters, drawn once and kept: letters are slow to draw. */
  #lettering(text, role) {
    const key = `${role} ${text}`;
    if (this.written.has(key)) return this.written.get(key);
    const image = document.createElement("canvas");
    const pen = image.getContext("2d");
    const parts = text.split(/(\s*cos\s*)/);
    const type = (part) => this.#type(pen, 12.5, !UPRIGHT.test(part));
    const widths = parts.map((part) => (type(part), pen.measureText(part).width));
    const k = this.scale * this.sharp;
    image.width = Math.ceil((widths.reduce((sum, one) => sum + one, 0) + 4) * k);
    image.height = Math.ceil(22 * k);
    pen.scale(k, k);
    Object.assign(pen, {textBaseline: "middle", lineJoin: "round", lineWidth: 3, strokeStyle: this.ink.ground, fillStyle: this.ink[role]});
    for (const draw of ["strokeText", "fillText"]) {
      let across = 2;
      parts.forEach((part, i) => {
        type(part);
        pen[draw](part, across, 11);
        across += widths[i];
      });
    }
    this.written.set(key, image);
    return image;
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
    const {closes, steps} = this.tracks;
    const rings = pointsOf(pin).slice(0, closes ? steps : -1).filter((_, i) => i % (closes ? RINGS : RUN_RINGS) === 0);
    for (const one of rings) this.#ring(pen, this.place(one), "second", 2);
    if (drive) this.#stroke(pen, pointsOf(drive).map((one) => this.place(one)), "second", 1, DASHES.guide);
    const diameter = [-1.08, 1.08].map((side) => this.place([side * this.full.pin, 0]));
    this.#stroke(pen, diameter, "second", 0.6);
    if (this.look.line !== "none") this.#drawLine(pen, rings);
    for (const dial of this.#dials) this.#drawDial(pen, dial);
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
      const foot = this.place([pin[0], 0]);
      this.#stroke(pen, [distance(foot, spot) > distance(at, spot) ? foot : at, spot], "second", 1, DASHES.guide);
      this.#stroke(pen, [centre, foot], "position", 3);
      this.#drawCorner(pen, foot, centre, at);
      this.#nameShadow(pen, foot, centre, at);
      if (tracks.points.exact) this.#drawExact(pen, this.#onLine(tracks.at("exact", time)[0]));
      this.#shapes(pen, "moves", pin[0]);
      this.#ring(pen, spot, "position", 4.5, true);
    }
    if (tracks.points.drive) {
      const drive = this.place(tracks.at("drive", time));
      this.#arrow(pen, centre, [drive[0] - centre[0], drive[1] - centre[1]], "plain");
    }
    this.#stroke(pen, [centre, at], "plain", 1.6);
    if (tracks.points.drive) this.#drawLag(pen, time);
    else this.#drawAngle(pen, time);
    if (look.radius) this.#letter(pen, this.#besideRadius(at, tracks.points.drive ? 0.72 : 0.42), look.radius, "plain");
    for (const key of look.arrows) this.#drawArrows(pen, key, time, at, pin);
    for (const {key, x, y, size} of this.#dials) {
      this.#arrow(pen, [x, y], this.#direction(tracks.at(TRACK[key], time)).map((one) => size * one), ROLES[key], key);
    }
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
    const k = this.scale * this.sharp;
    const cut = [left, top, wide, high].map((one) => Math.round(one * k));
    if (cut[2] > 0 && cut[3] > 0) this.#copy(pen, this.inked, cut, cut);
  }

  /** Copies pixel by pixel, which is quick. */
  #copy(pen, image, from, to) {
    pen.setTransform(1, 0, 0, 1, 0, 0);
    pen.drawImage(image, ...from, ...to);
    const k = this.scale * this.sharp;
    pen.setTransform(k, 0, 0, k, 0, 0);
  }

  /** The angle from the line; past half a turn its letter stays, clear of what is written on the other side. */
  #drawAngle(pen, time) {
    const turn = this.tracks.turns(time) - Math.floor(this.tracks.turns(time));
    this.#arc(pen, 0, 2 * Math.PI * turn, 15);
    if (turn >= 0.06) this.#letter(pen, this.#around(Math.PI * Math.min(turn, 0.5), 24), this.#angle, "plain");
  }

  /** The angle from the point on to its drive. */
  #drawLag(pen, time) {
    const [from, to] = ["pin", "drive"].map((key) => {
      const [x, y] = this.tracks.at(key, time);
      return Math.atan2(y, x);
    });
    const end = to < from ? to + 2 * Math.PI : to;
    const size = LAG * this.plan.wheel.radius;
    const {x, y} = this.plan.wheel;
    this.#stroke(pen, [[x, y], this.#around(end, 1.6 * size)], "second", 0.8, DASHES.guide);
    this.#letter(pen, this.#around(end, 1.6 * size + 8), "F", "plain");
    this.#arc(pen, from, end, size);
    this.#letter(pen, this.#around((from + end) / 2, size + 9), "φ", "plain");
  }

  #arc(pen, from, to, size) {
    const {x, y} = this.plan.wheel;
    const zero = this.look.line === "vertical" ? -Math.PI / 2 : 0;
    pen.beginPath();
    pen.arc(x, y, size, zero - from, zero - to, true);
    pen.setLineDash([]);
    pen.lineWidth = 1;
    pen.strokeStyle = this.ink.second;
    pen.stroke();
  }

  /** The place on the wheel at an angle, so far from its centre. */
  #around(angle, size) {
    return add([this.plan.wheel.x, this.plan.wheel.y], this.#direction([size * Math.cos(angle), size * Math.sin(angle)]));
  }

  get #angle() {
    return this.tracks.axes.angle.vertical.title.split(" / ")[0];
  }

  /** A place beside the radius, this share of the way out: ahead of it, or clear of the drive or the line's diameter. */
  #besideRadius(at, share) {
    const {x, y} = this.plan.wheel;
    const [across, down] = [at[0] - x, at[1] - y];
    const far = Math.hypot(across, down);
    const aside = [(9 * down) / far, (-9 * across) / far];
    const outwards = this.look.line === "vertical" ? across * aside[0] : down * aside[1];
    const side = this.tracks.points.drive || (this.look.line !== "none" && outwards < 0) ? -1 : 1;
    return [x + share * across + side * aside[0], y + share * down + side * aside[1]];
  }

  /** The mark of the right angle where the dropped line meets the diameter. */
  #drawCorner(pen, foot, centre, at) {
    if (Math.min(distance(foot, centre), distance(foot, at)) < 2 * CORNER) return;
    const [along, across] = [centre, at].map((one) => {
      const k = CORNER / distance(foot, one);
      return [k * (one[0] - foot[0]), k * (one[1] - foot[1])];
    });
    this.#stroke(pen, [add(foot, along), add(add(foot, along), across), add(foot, across)], "second", 0.8);
  }

  /** What the radius measures along the line, on the side away from the point. */
  #nameShadow(pen, foot, [x, y], at) {
    const [across, down] = [foot[0] - x, foot[1] - y];
    if (Math.hypot(across, down) < SHORTEST_NAMED) return;
    const {points, axes} = this.tracks;
    const named = this.look.radius && !points.drive;
    const [symbol] = axes.pin.horizontal.title.split(" / ");
    const words = named ? `${this.look.radius}${THIN}cos${THIN}${this.#angle}` : symbol;
    if (this.look.line === "horizontal") {
      this.#letter(pen, [x + across / 2, y + (at[1] > foot[1] ? -10 : 10)], words, "position");
    } else {
      const left = at[0] > foot[0];
      const middle = Math.sign(down) * Math.max(Math.abs(down) / 2, 17);
      this.#letter(pen, [x + (left ? -4 : 4), y + middle], words, "position", left ? "right" : "left");
    }
  }

  /** The circles on which arrows turn about their own feet, and what a unit of each is in the picture. */
  get #dials() {
    return this.plan.dials
      .filter(({key}) => this.look.arrows.includes(key))
      .map((dial) => ({...dial, size: dial.radius / this.full[TRACK[dial.key]]}));
  }

  #drawDial(pen, {key, x, y, size}) {
    const tips = pointsOf(this.tracks.points[TRACK[key]]).map((one) => add([x, y], this.#direction(one).map((part) => size * part)));
    this.#stroke(pen, tips, "second", 0.8);
    for (const tip of tips.slice(0, -1).filter((_, i) => i % RINGS === 0)) this.#ring(pen, tip, "second", 1.6);
    this.#ring(pen, [x, y], "plain", 1.6, true);
  }

  #drawArrows(pen, key, time, at, pin) {
    const track = TRACK[key];
    const size = (ARROW * this.plan.wheel.radius) / this.full[track];
    const vector = this.tracks.at(track, time);
    const scaled = (one) => this.#direction(one).map((part) => size * part);
    const along = scaled(vector);
    this.#arrow(pen, at, along, ROLES[key], key === "v" ? key : "");
    if (key === "a") {
      const share = Math.hypot(...along) / Math.max(distance(at, [this.plan.wheel.x, this.plan.wheel.y]), 1);
      this.#letter(pen, this.#besideRadius(at, 1 - share / 2), key, ROLES[key]);
    }
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

function distance([x, y], [left, top]) {
  return Math.hypot(left - x, top - y);
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
