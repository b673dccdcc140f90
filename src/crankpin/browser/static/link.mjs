/* Links that open a page with a calculator's inputs: `?edge-on.A=12cm&edge-on.t=0.4s#edge-on`. */

/** The inputs that the page's address gives to one calculator: pairs of key and text. They go by the element's id;
    where no element has the calculator's own name as its id, that name means the first of its kind. */
export function linkedInputs(calculator) {
  const names = [calculator.id];
  const {calculator: kind} = calculator.dataset;
  const isFirst = document.querySelector(`[data-calculator="${kind}"]`) === calculator;
  if (isFirst && !document.getElementById(kind)) names.push(kind);
  return [...new URLSearchParams(location.search)].flatMap(([name, text]) => {
    const dot = name.indexOf(".");
    return dot > 0 && names.includes(name.slice(0, dot)) ? [[name.slice(dot + 1), text]] : [];
  });
}

/** Whether the page's address leads to this calculator by a name that is not its id. */
export function leadsTo(calculator) {
  const name = location.hash.slice(1);
  return name === calculator.dataset.calculator && !document.getElementById(name);
}

/** Takes a calculator's inputs out of the page's address: they are no longer what it shows. */
export function dropLink(calculator) {
  const url = new URL(location.href);
  const linked = linkedInputs(calculator).map(([key]) => key);
  for (const name of [...url.searchParams.keys()]) {
    const [id, key] = [name.slice(0, name.indexOf(".")), name.slice(name.indexOf(".") + 1)];
    if ([calculator.id, calculator.dataset.calculator].includes(id) && linked.includes(key)) url.searchParams.delete(name);
  }
  if (url.href !== location.href) history.replaceState(history.state, "", url);
}

/** The address that opens this page with these inputs. */
export function linkTo(calculator, fields, asked = []) {
  const url = new URL(location.href);
  const pairs = [...fields.map((field) => [field.key, field.forLink()]), ...asked];
  url.search = new URLSearchParams(pairs.map(([key, text]) => [`${calculator.id}.${key}`, text]));
  url.hash = calculator.id;
  return url.href;
}

/** Copies a text; true when it was. Without a secure address (a class network) browsers allow only the older way. */
export async function copy(text, field) {
  field.value = text;
  if (navigator.clipboard) {
    try {
      await navigator.clipboard.writeText(text);
      return true;
    } catch {
      // the reader or the browser said no; the older way may still do
    }
  }
  field.select();
  return document.execCommand("copy");
}
