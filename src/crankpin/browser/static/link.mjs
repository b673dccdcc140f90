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

/** The address that opens this page with these inputs. */
export function linkTo(calculator, fields) {
  const url = new URL(location.href);
  url.search = new URLSearchParams(fields.map((field) => [`${calculator.id}.${field.key}`, field.forLink()]));
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
