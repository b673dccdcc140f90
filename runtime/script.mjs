// Takes out of the engine's script what cannot be used: the functions that the engine asked for before it was made smaller
// (graphics, sound, windows), and all that only they used. Every browser reads the whole script at each start.
//
// What is taken out are declarations without effects (functions, literals, objects of these), by their names: one stays
// when its name stands anywhere, as a name, a property or a text, in what stays or in the loader. So a name that is looked
// up by its text is found like any other. All other statements stay.

import {parse} from "acorn";

const PURE = {
  ArrayExpression: ({elements}) => elements.every((one) => one && pure(one)),
  ArrowFunctionExpression: () => true,
  FunctionExpression: () => true,
  Identifier: () => true,
  Literal: () => true,
  ObjectExpression: ({properties}) => properties.every(({type, computed, value}) => type === "Property" && !computed && pure(value)),
  UnaryExpression: ({argument}) => pure(argument),
};

/** The script without what neither it, nor the engine's imports (`wanted`, by name), nor the loader can use. */
export function slimScript(script, {wanted, loader}) {
  const program = parse(script, {ecmaVersion: "latest", sourceType: "module"});
  const factory = only(program.body, ({type}) => type === "FunctionDeclaration");
  const imports = only(factory.body.body, (one) => declaredBy(one).includes("wasmImports"));
  const entries = imports.declarations[0].init.properties;
  const parts = factory.body.body.filter((one) => one !== imports).map((node) => ({node, keys: keysOf(node), said: wordsOf(node)}));
  parts.push(...entries.map((node) => ({node, keys: wanted.has(nameOf(node.key)) ? null : [nameOf(node.key)], said: wordsOf(node)})));
  const kept = keptParts(parts, wordsOf(parse(loader, {ecmaVersion: "latest", sourceType: "module"})));
  const text = ({node}) => script.slice(node.start, node.end);
  const entry = new Set(entries);
  const left = parts.filter((part) => kept.has(part));
  const table = `var wasmImports={${left.filter(({node}) => entry.has(node)).map(text).join(",")}};`;
  const before = left.filter(({node}) => node.start < imports.start).map(text);
  const after = left.filter(({node}) => node.start >= imports.end).map(text);
  const {start, end} = factory.body;
  return [script.slice(0, start + 1), ...before.map(ended), table, ...after.map(ended), script.slice(end - 1)].join("");
}

const ended = (statement) => (statement.endsWith(";") ? statement : `${statement};`);

function only(nodes, wanted) {
  const found = nodes.filter(wanted);
  if (found.length !== 1) throw new Error("pyodide.asm.mjs has changed. Look at runtime/script.mjs.");
  return found[0];
}

/** The parts that stay: those without keys, and those with a key among the words of one that stays. */
function keptParts(parts, words) {
  const byKey = new Map();
  for (const part of parts) for (const key of part.keys ?? []) byKey.set(key, [...(byKey.get(key) ?? []), part]);
  const kept = new Set();
  const said = new Set(words);
  const keep = (part) => {
    kept.add(part);
    for (const word of part.said) said.add(word);
  };
  for (const part of parts) if (part.keys === null) keep(part);
  for (const word of said) for (const part of byKey.get(word) ?? []) if (!kept.has(part)) keep(part);
  return kept;
}

/** The names by which a statement can be wanted; null where it must stay. */
function keysOf(node) {
  if (node.type === "FunctionDeclaration") return [node.id.name];
  if (node.type === "VariableDeclaration" && node.declarations.every(({id, init}) => id.type === "Identifier" && (!init || pure(init)))) {
    return declaredBy(node);
  }
  if (node.type !== "ExpressionStatement" || node.expression.type !== "AssignmentExpression") return null;
  const {left, right} = node.expression;
  if (left.type !== "MemberExpression" || left.object.type !== "Identifier" || !pure(right)) return null;
  if (left.object.name === "Module" && left.computed && left.property.type === "Literal") return [left.property.value];
  return !left.computed && left.property.name === "sig" ? [left.object.name] : null;
}

const declaredBy = (node) => (node.type === "VariableDeclaration" ? node.declarations.map(({id}) => id.name) : []);
const pure = (node) => PURE[node.type]?.(node) ?? false;
const nameOf = (key) => key.name ?? key.value;

/** All names, properties and texts in a piece of code; of a statement that is wanted by a key, without what it sets. */
function wordsOf(node) {
  const words = new Set();
  const visit = (one) => {
    if (Array.isArray(one)) one.forEach(visit);
    else if (one && typeof one.type === "string") {
      if (one.type === "Identifier" || one.type === "PrivateIdentifier") words.add(one.name);
      else if (one.type === "Literal" && typeof one.value === "string") words.add(one.value);
      else if (one.type === "TemplateElement") words.add(one.value.cooked);
      Object.values(one).forEach(visit);
    }
  };
  visit(node);
  return words;
}
