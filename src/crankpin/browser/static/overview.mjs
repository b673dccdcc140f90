/* What is done of a page's problems and what to repeat, at a glance; saves, loads and clears it. */

const DAYS = {1: "tomorrow"};

export class OverviewElement extends HTMLElement {
  #progress = null;
  #root = "";

  /** Ties the element to what is kept; `root` is the site's root seen from the page. */
  tie(progress, root) {
    this.#progress = progress;
    this.#root = root;
    progress.addEventListener("change", () => this.#show());
    this.addEventListener("click", ({target}) => this.#click(target.closest("button")));
    this.#part("file").addEventListener("change", ({target}) => this.#load(target));
    this.#show();
  }

  #part(name) {
    return this.querySelector(`[data-part="${name}"]`);
  }

  #show() {
    const today = Math.floor(Date.now() / 86_400_000);
    for (const row of this.querySelectorAll("[data-for]")) {
      const entry = this.#progress.of(row.dataset.for);
      const [state, words] = stateOf(entry, today);
      row.dataset.done = state;
      row.querySelector("[data-part=state]").textContent = words;
    }
    this.#showDue();
  }

  #showDue() {
    const due = this.#progress.due();
    const [slip] = this.#progress.slips();
    const rows = due.slice(0, 6).map(({id, title, page}) => {
      const link = Object.assign(document.createElement("a"), {textContent: title, href: `${this.#root}${page}#${id}`});
      const row = document.createElement("li");
      row.append(link);
      return row;
    });
    this.#part("due").replaceChildren(...rows);
    this.#part("repeat").hidden = rows.length === 0;
    const often = slip && slip[1] > 1 ? `Your commonest slip: ${slip[0].replaceAll("_", " ")}, ${slip[1]} times.` : "";
    this.#part("often").textContent = often;
  }

  #click(button) {
    if (button?.dataset.do === "save") this.#save();
    if (button?.dataset.do === "load") this.#part("file").click();
    if (button?.dataset.do === "clear") this.#clear(button);
  }

  #save() {
    const url = URL.createObjectURL(new Blob([this.#progress.text()], {type: "application/json"}));
    const link = Object.assign(document.createElement("a"), {href: url, download: "progress.json"});
    link.click();
    setTimeout(() => URL.revokeObjectURL(url), 10_000);
    this.#say("Saved as progress.json.");
  }

  async #load(input) {
    const [file] = input.files;
    input.value = "";
    if (!file) return;
    try {
      this.#progress.load(await file.text());
      this.#say("Loaded.");
    } catch (error) {
      this.#say(error.message);
    }
  }

  /** Clears at the second press, within some seconds. */
  #clear(button) {
    if (button.dataset.sure === undefined) {
      button.dataset.sure = "";
      this.#say("Press “Clear” once more to forget everything done in problems on this device.");
      setTimeout(() => delete button.dataset.sure, 8000);
      return;
    }
    delete button.dataset.sure;
    this.#progress.clear();
    this.#say("Cleared.");
  }

  #say(words) {
    this.#part("said").textContent = words;
  }
}

function stateOf(entry, today) {
  if (!entry || Object.keys(entry.questions).length === 0) return ["", ""];
  return entry.done ? dueOf(entry, today) : ["begun", "begun"];
}

function dueOf({due}, today) {
  if (due !== null && due <= today) return ["due", "to repeat"];
  const days = due - today;
  return ["done", `done, again ${DAYS[days] ?? `in ${days} days`}`];
}
