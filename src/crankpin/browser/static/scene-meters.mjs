/* What changes with each instant outside the stage: the numbers, and the ring on the line of time. While it moves they
   are drawn, not written: after a change of text or of a slider the browser lays out and paints the page anew, which on a
   long page takes several frames. At rest the page's own text and slider stand there again. */

const SHARPEST = 2; // device pixels a CSS pixel
const RING = 26; // CSS pixels, as the sliders' own
const RING_LINE = 3;

/** A canvas over a part of the page, in the box that this part stands in. */
class Cover {
  constructor(part, holder) {
    this.part = part;
    this.canvas = document.createElement("canvas");
    this.canvas.className = "scene-cover";
    this.canvas.setAttribute("aria-hidden", "true");
    holder.append(this.canvas);
  }

  /** Lies over the part as it stands now. */
  fit() {
    const {offsetLeft, offsetTop, offsetWidth, offsetHeight} = this.part;
    const sharp = Math.min(window.devicePixelRatio || 1, SHARPEST);
    this.width = offsetWidth;
    this.height = offsetHeight;
    Object.assign(this.canvas, {width: Math.round(sharp * offsetWidth), height: Math.round(sharp * offsetHeight)});
    const {style} = this.canvas;
    [style.left, style.top, style.width, style.height] = [offsetLeft, offsetTop, offsetWidth, offsetHeight].map((one) => `${one}px`);
    this.pen = this.canvas.getContext("2d");
    this.pen.scale(sharp, sharp);
  }

  clear() {
    this.pen?.clearRect(0, 0, this.width, this.height);
  }

  destroy() {
    this.canvas.remove();
  }
}

/** The numbers of the moment, drawn where they stand: digits of one width, ending where the text ends. */
export class MovingNumbers extends Cover {
  #places = [];
  #digit = 0;

  /** `list` holds the numbers in its `dd`. */
  constructor(list) {
    super(list, list.parentElement);
  }

  fit() {
    super.fit();
    const numbers = [...this.part.querySelectorAll("dd")];
    const {fontStyle, fontWeight, fontSize, fontFamily} = getComputedStyle(numbers[0]);
    Object.assign(this.pen, {font: `${fontStyle} ${fontWeight} ${fontSize} ${fontFamily}`, textBaseline: "alphabetic"});
    this.pen.fillStyle = getComputedStyle(this.part).color;
    const {fontBoundingBoxAscent: rise} = this.pen.measureText("0");
    this.#digit = Math.max(...[..."0123456789"].map((one) => this.pen.measureText(one).width));
    const {left, top} = this.part.getBoundingClientRect();
    this.#places = numbers.map((number) => {
      const text = document.createRange();
      text.selectNodeContents(number);
      const box = text.getBoundingClientRect();
      return [number.getBoundingClientRect().right - left, box.top - top + rise];
    });
  }

  /** Draws a text for each number, in their order. */
  show(texts) {
    this.clear();
    texts.forEach((text, i) => {
      let [end, level] = this.#places[i];
      for (const one of [...text].reverse()) {
        const wide = this.pen.measureText(one).width;
        const room = one >= "0" && one <= "9" ? this.#digit : wide;
        end -= room;
        this.pen.fillText(one, end + (room - wide) / 2, level);
      }
    });
  }
}

/** The ring of a slider. */
export class MovingRing extends Cover {
  constructor(slider) {
    super(slider, slider.parentElement);
  }

  fit() {
    super.fit();
    const style = getComputedStyle(this.part);
    this.pen.strokeStyle = style.getPropertyValue("--ink");
    this.pen.fillStyle = style.getPropertyValue("--paper");
    this.pen.lineWidth = RING_LINE;
  }

  /** Draws the ring at this share of the way. */
  show(share) {
    this.clear();
    this.pen.beginPath();
    this.pen.arc(RING / 2 + share * (this.width - RING), this.height / 2, (RING - RING_LINE) / 2, 0, 2 * Math.PI);
    this.pen.fill();
    this.pen.stroke();
  }
}
