/* What is given to a calculator: one field an input, all with the same few words.

   key                the input's key
   given()            [text, unit] as they stand
   unitAlone()        the same where the value is asked: any number, with the unit in which it is wanted
   printedAs()        what given() was when the page was printed
   isAsPrinted()      whether that is what stands there
   put(text)          shows a text, which may bring its own unit
   reset()            back to what was printed
   restore(given)     back to what given() once gave
   tooMuch()          why what stands there is too much to be read; "" where it is not
   accept(reading)    takes over what Python understood: unit, slider, printed value
   tell(message)      marks the field as at fault; "" takes the mark away
   forLink()          the text that gives this value in a link

   Numbers stay texts here: what they mean is Python's. Only steps and sliders count, in the unit chosen. */

export function fieldsOf(calculator, ask) {
  return [...calculator.querySelectorAll(".given-row")].map((row) => {
    if (row.querySelector("input[type=range]")) return new QuantityField(row, ask);
    return row.querySelector("textarea") ? new TableField(row, ask) : new Field(row, ask);
  });
}

/** Puts a text in place where it is another one, so that nothing is laid out again in vain. */
export function write(element, text) {
  if (element.textContent !== text) element.textContent = text;
}

/** A named case; also what the other fields have in common. */
class Field {
  constructor(row, ask) {
    this.row = row;
    this.ask = ask;
    this.key = row.dataset.key;
    this.control = row.querySelector(`[name="${this.key}"]`);
    this.printed = row.querySelector(".given-printed");
    this.wasPrinted = this.control.value;
    this.note = row.querySelector('[data-part="field-fault"]');
    this.control.addEventListener("input", () => ask.changed(this));
    this.control.addEventListener("change", () => ask.settled(this));
  }

  given() {
    return [this.control.value, ""];
  }

  printedAs() {
    return [this.wasPrinted, ""];
  }

  /** What is sent of a field that is asked: its unit counts, its number does not. */
  unitAlone() {
    return ["1", this.chosen ?? ""];
  }

  isAsPrinted() {
    return String(this.given()) === String(this.printedAs());
  }

  put(text) {
    this.control.value = text;
  }

  reset() {
    this.control.value = this.wasPrinted;
  }

  restore([text]) {
    this.control.value = text;
    if (this.control.value === "" && text !== "") this.reset(); // a choice that there is no more
  }

  tooMuch() {
    const {length} = this.control.value;
    if (length <= MOST) return "";
    return `This is ${thousands(length)} characters long; at most ${thousands(MOST)} can be read. Leave some out.`;
  }

  accept(reading) {
    write(this.printed, reading.text);
  }

  tell(message) {
    write(this.note, message);
    this.row.toggleAttribute("data-fault", message !== "");
    if (message) this.control.setAttribute("aria-invalid", "true");
    else this.control.removeAttribute("aria-invalid");
  }

  forLink() {
    return this.control.value;
  }
}

/** Rows of numbers, typed, pasted or read from a file. */
class TableField extends Field {
  constructor(row, ask) {
    super(row, ask);
    this.rows = row.querySelector(".given-table");
    this.#offerBack();
    row.querySelector("input[type=file]").addEventListener("change", ({target}) => {
      if (target.files[0]) this.#read(target.files[0]);
      target.value = "";
    });
  }

  /** Puts a file's text in the place of the rows; one that no student wrote is left alone, and that is said. */
  async #read(file) {
    const text = file.size > 4 * MOST ? "" : decoded(await file.arrayBuffer());
    const wrong =
      text.length === 0 || text.length > MOST
        ? `“${file.name}” holds ${thousands(file.size)} bytes; a file of 1 to ${thousands(MOST)} characters can be read.`
        : text.includes("\0") ? `“${file.name}” is no text. Save the readings as CSV or plain text.` : "";
    this.tell(wrong);
    if (wrong) return;
    this.replaced = this.control.value;
    this.back.hidden = false;
    this.#take(text);
  }

  #offerBack() {
    this.back = document.createElement("button");
    Object.assign(this.back, {type: "button", hidden: true, textContent: "Back to the rows before"});
    this.row.querySelector(".given-file").after(this.back);
    this.back.addEventListener("click", () => {
      this.back.hidden = true;
      this.control.focus();
      this.#take(this.replaced);
    });
  }

  #take(text) {
    this.put(text);
    this.ask.changed(this);
    this.ask.settled(this);
  }

  accept(reading) {
    super.accept(reading);
    write(this.rows, this.control.value);
  }
}

/** A number with its unit, its buttons and its slider. */
class QuantityField extends Field {
  constructor(row, ask) {
    super(row, ask);
    this.unit = row.querySelector("select");
    this.slider = row.querySelector("input[type=range]");
    this.plain = this.control.dataset.plain;
    this.printedUnit = this.chosen = this.unit.value;
    this.understood = null; // the number alone, of the text that was answered last and still stands
    this.plusMinus = this.wasPrinted.match(/ ± .*/)?.[0] ?? ""; // its standard uncertainty, which steps leave as it is
    this.#scaleSlider();
    this.slider.addEventListener("input", () => this.#type(this.slider.value + this.plusMinus));
    this.slider.addEventListener("change", () => ask.settled(this));
    this.slider.addEventListener("pointerdown", () => (this.beforeTouch = this.control.value));
    this.slider.addEventListener("pointercancel", () => this.#takeBack());
    this.unit.addEventListener("change", () => this.#convert());
    this.control.addEventListener("input", () => (this.understood = null));
    this.control.addEventListener("change", () => this.#tidy());
    this.control.addEventListener("keydown", (event) => this.#key(event));
    const buttons = {less: () => this.#step(-1), more: () => this.#step(1), sign: () => this.#turn()};
    for (const [name, press] of Object.entries(buttons)) {
      row.querySelector(`[data-do="${name}"]`)?.addEventListener("click", press);
    }
  }

  given() {
    return [this.control.value, this.chosen];
  }

  printedAs() {
    return [this.wasPrinted, this.printedUnit];
  }

  reset() {
    super.reset();
    this.#choose(this.printedUnit);
  }

  accept(reading) {
    super.accept(reading);
    this.#name(reading);
    this.plain = reading.plain;
    this.understood = reading.typed;
    this.plusMinus = reading.typed.match(/ ± .*/)?.[0] ?? "";
    this.#choose(reading.chosen);
    this.slider.value = reading.plain;
    this.slider.setAttribute("aria-valuetext", reading.text);
    if (document.activeElement !== this.control) this.#tidy();
  }

  forLink() {
    const {value} = this.control;
    if (this.understood === null && value !== this.wasPrinted) return value;
    return this.plain + this.plusMinus + (this.chosen === "1" ? "" : this.chosen);
  }

  /** A period, a frequency and an angular frequency each have a symbol and a name of their own. */
  #name({symbol, meaning}) {
    const [mark, words] = ["symbol", "meaning"].map((part) => this.row.querySelector(`[data-part="${part}"]`));
    if (words.textContent === meaning) return;
    for (const control of this.row.querySelectorAll("[aria-label]")) {
      control.setAttribute("aria-label", control.getAttribute("aria-label").replace(words.textContent, meaning));
    }
    mark.innerHTML = symbol;
    words.textContent = meaning;
  }

  /** A unit typed behind the number stands in its own box once the number is understood. */
  #tidy() {
    if (this.understood !== null) this.control.value = this.understood;
  }

  restore([text, unit]) {
    const isKnown = [...this.unit.options].some((option) => option.value === unit);
    super.restore([isKnown ? text : text + unit]);
    if (isKnown) this.#choose(unit);
    this.understood = null;
  }

  /** A finger that came down on the slider turned out to scroll the page: it changed nothing. */
  #takeBack() {
    if (this.control.value !== this.beforeTouch) this.#type(this.beforeTouch);
    this.slider.value = this.plain;
  }

  #type(text) {
    this.control.value = text;
    this.understood = null;
    this.ask.changed(this);
  }

  #choose(unit) {
    if (unit === this.chosen && unit === this.unit.value) return;
    this.unit.value = this.chosen = unit;
    this.#scaleSlider();
  }

  #scaleSlider() {
    const {low, high, step} = this.unit.selectedOptions[0].dataset;
    Object.assign(this.slider, {min: low, max: high, step});
  }

  #key(event) {
    const sign = {ArrowUp: 1, ArrowDown: -1}[event.key];
    if (!sign) return;
    event.preventDefault();
    this.#step(sign);
  }

  #step(sign) {
    const now = this.#number();
    this.#type(this.#stepped(now, sign) + this.plusMinus);
    this.ask.settled(this);
  }

  /** One step on from a number: no further than the slider's end, and never below nothing where no sign may be turned. */
  #stepped(now, sign) {
    const {low, high, step} = this.unit.selectedOptions[0].dataset;
    const next = sum(now, sign < 0 ? `-${step}` : step);
    const passed = [low, high].find((end) => (Number(now) - Number(end)) * (Number(next) - Number(end)) < 0);
    const isSigned = this.row.querySelector('[data-do="sign"]') !== null;
    return passed ?? (!isSigned && Number(next) < 0 ? now : next);
  }

  #turn() {
    const now = this.#number();
    if (Number(now) === 0) return;
    this.#type((now.startsWith("-") ? now.slice(1) : `-${now}`) + this.plusMinus);
    this.ask.settled(this);
  }

  /** The number in the field where it is plain, else the one last understood. */
  #number() {
    const text = this.control.value.trim().replace("\u2212", "-");
    return PLAIN.test(text) ? text : this.plain;
  }

  async #convert() {
    const text = this.control.value;
    const was = this.chosen;
    const wanted = this.unit.value;
    const {same} = this.unit.selectedOptions[0].dataset;
    const known = this.isAsPrinted() && same !== "";
    this.#choose(wanted);
    if (known) this.#type(same);
    else {
      this.ask.waiting(this);
      const {from, to} = this.converted ?? {};
      const isBack = to && String(to) === String([text, was]) && from[1] === wanted;
      const typed = isBack ? from[0] : await this.ask.convert(this.key, text, was, wanted);
      if (this.control.value !== text || this.chosen !== wanted) return;
      this.converted = {from: [text, was], to: [typed ?? text, wanted]};
      this.#type(typed ?? text);
    }
    this.ask.settled(this);
  }
}

/** The text of a file: UTF-16 where it says so, else UTF-8, else what spreadsheets of old wrote. */
function decoded(buffer) {
  const [first, second] = new Uint8Array(buffer);
  if (first === 0xff && second === 0xfe) return new TextDecoder("utf-16le").decode(buffer);
  if (first === 0xfe && second === 0xff) return new TextDecoder("utf-16be").decode(buffer);
  try {
    return new TextDecoder("utf-8", {fatal: true}).decode(buffer);
  } catch {
    return new TextDecoder("windows-1252").decode(buffer);
  }
}

const MOST = 200_000; // characters in one field: some 10,000 rows
const PLAIN = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i;

/** The sum of two plain numbers as text, with no more decimals than they have. */
function sum(a, b) {
  const total = Number(a) + Number(b);
  if (a.includes("e")) return String(Number(total.toPrecision(12)));
  return total.toFixed(Math.max(...[a, b].map((text) => (text.split(".")[1] ?? "").length)));
}

/** A whole number with thin spaces between its thousands. */
function thousands(number) {
  return String(number).replace(/\B(?=(\d{3})+$)/g, "\u2009");
}
