/* The samples that Python sends for a moving picture, and what lies between them: a smooth curve through four
   neighbours. No law of motion is known here. Samples are equally spaced in time, `steps` to a turn. */

const TRACKS = ["pin", "velocity", "acceleration", "drive", "exact"];

export class Tracks {
  /** `picture` and `numbers` as Python gives them (crankpin.calculator.tracks). */
  constructor(picture, numbers, steps) {
    this.axes = {};
    this.points = {};
    for (const panel of picture.panels) {
      for (const {key, start, count} of panel.curves) {
        this.points[key] = [numbers.slice(start, start + count), numbers.slice(start + count, start + 2 * count)];
        this.axes[key] = panel;
      }
    }
    const [times, angles] = this.points.angle;
    this.last = times.length - 1;
    this.end = times[this.last];
    this.start = angles[0];
    this.angleOfTurn = ((angles[this.last] - angles[0]) * steps) / this.last;
    this.timeOfTurn = (this.end * steps) / this.last;
    this.keys = TRACKS.filter((key) => key in this.points);
    this.greatest = Object.fromEntries(this.keys.map((key) => [key, this.#greatest(key)]));
    const [xs, ys] = this.points.pin;
    const comesBack = (i) => Math.hypot(xs[i] - xs[0], ys[i] - ys[0]) < 1e-5 * this.greatest.pin;
    this.steps = steps;
    this.turning = comesBack(this.last);
    /** Whether the path is a circle, and not a spiral. */
    this.closes = comesBack(steps);
    /** What the curves show: two turns that come again and again, or a run that ends. */
    this.span = this.turning ? 2 * this.end : this.end;
  }

  #greatest(key) {
    const [xs, ys] = this.points[key];
    return xs.reduce((most, x, i) => Math.max(most, Math.hypot(x, ys[i])), 0);
  }

  /** A time within what is shown. */
  within(time) {
    if (!this.turning) return Math.min(Math.max(time, 0), this.span);
    return time - this.span * Math.floor(time / this.span);
  }

  /** The angle at a time, in turns. */
  turns(time) {
    return this.start / this.angleOfTurn + time / this.timeOfTurn;
  }

  /** The time at which the angle is this many turns; of a motion that comes again, within what is shown. */
  timeAt(turns) {
    return this.within((turns - this.start / this.angleOfTurn) * this.timeOfTurn);
  }

  angle(time) {
    return this.turns(time) * this.angleOfTurn;
  }

  /** The point of a track at a time. */
  at(key, time) {
    const place = (time / this.end) * this.last;
    const low = Math.floor(place);
    return this.points[key].map((row) => this.#between(row, low, place - low));
  }

  #between(row, low, s) {
    const before = this.#sample(row, low - 1);
    const from = this.#sample(row, low);
    const to = this.#sample(row, low + 1);
    const after = this.#sample(row, low + 2);
    const rise = (to - before) / 2;
    const fall = (after - from) / 2;
    const step = to - from;
    return from + s * (rise + s * (3 * step - 2 * rise - fall + s * (rise + fall - 2 * step)));
  }

  #sample(row, index) {
    if (this.turning) return row[((index % this.last) + this.last) % this.last];
    if (index < 0) return 3 * row[0] - 3 * row[1] + row[2];
    if (index > this.last) {
      const n = this.last;
      return index > n + 1 ? row[n] : 3 * row[n] - 3 * row[n - 1] + row[n - 2];
    }
    return row[index];
  }
}
