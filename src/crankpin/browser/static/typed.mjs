/* What a reader typed, pasted or chose in a calculator, kept on this device alone until it is forgotten: through reload,
   back, a crash of the tab, a newer edition and a lost network.

   An entry, one a calculator and page, holds only what differs from the page as printed:
     given    {key: [text, unit]}
     before   what `given` was before a link was opened and its numbers changed
     spoilt   true where these inputs took too long or broke the engine: they are not worked out again by themselves
     trying   true while inputs that were kept are worked out for the first time: a page that crashes over them says so
              at the next visit in place of crashing again

   Events on window: "typed-kept" and "typed-refused" (the browser keeps nothing), "typed-forgotten". */

const ROOT = new URL("../../../", import.meta.url).pathname;
const PREFIX = `crankpin ${encodeURIComponent(ROOT)} typed `;

export class Typed {
  #key;

  constructor(name) {
    const page = location.pathname.slice(ROOT.length).replace(/index\.html$/, "");
    this.#key = `${PREFIX}${page} ${name}`;
  }

  /** The entry; null where there is none that can be read. */
  read() {
    try {
      const entry = JSON.parse(localStorage.getItem(this.#key));
      return isGiven(entry.given) && (!entry.before || isGiven(entry.before)) ? entry : null;
    } catch {
      return null;
    }
  }

  keep(entry) {
    if (Object.keys(entry.given).length === 0 && !entry.before) {
      this.forget();
      return;
    }
    try {
      localStorage.setItem(this.#key, JSON.stringify(entry));
      window.dispatchEvent(new Event("typed-kept"));
    } catch {
      window.dispatchEvent(new Event("typed-refused"));
    }
  }

  /** Changes parts of an entry that is there. */
  note(parts) {
    const entry = this.read();
    if (entry) this.keep({...entry, ...parts});
  }

  forget() {
    for (const key of keys()) if (key === this.#key) localStorage.removeItem(key);
    window.dispatchEvent(new Event("typed-kept"));
  }
}

/** How many calculators of the course have something kept. */
export function countTyped() {
  return keys().length;
}

/** Forgets what was typed on all pages of the course. */
export function forgetTyped() {
  for (const key of keys()) localStorage.removeItem(key);
  window.dispatchEvent(new Event("typed-forgotten"));
}

function keys() {
  try {
    return Object.keys(localStorage).filter((key) => key.startsWith(PREFIX));
  } catch {
    return [];
  }
}

function isGiven(given) {
  return Object.values(given).every(([text, unit]) => typeof text === "string" && typeof unit === "string");
}
