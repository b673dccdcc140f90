/* The table of messages between a page and its worker. Every request carries a number, its answer the same one.

   to the worker                                              back
   {number, ask: START}                                       {number, value: null}
   {number, ask: ANSWER, calculator, given: JSON text, brief} {number, value: JSON text, numbers: Float64Array}
   {number, ask: CONVERT, calculator, key, text, unit, wanted} {number, value: text or null}
   {number, ask: PROBLEM, problem: JSON text, asked: JSON text} {number, value: JSON text}
   as soon as it is begun on                                  {number, begun: true}
   whatever went wrong                                        {number, error: see serialise}
   while starting, any number of times                        {progress: see boot.mjs, size: bytes to fetch}

   A `brief` answer has no working and no table. */

export const START = "start";
export const ANSWER = "answer";
export const CONVERT = "convert";
export const PROBLEM = "problem";

/** An error as plain data, whole. */
export function serialise(error) {
  const {name, message, stack = "", code = "", file = null} = error;
  return {name, message, stack, code, file, fatal: Boolean(error.pyodide_fatal_error)};
}

/** The error again, on the other side. */
export function uncarry(data) {
  return Object.assign(new Error(data.message), data);
}
