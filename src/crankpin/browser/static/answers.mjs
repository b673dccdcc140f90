/* What a student has answered, read from the form of a question in the shape in which its kind is marked. */

const READ = {
  number: (part) => part.querySelector("input[name=number]").value,
  words: (part) => part.querySelector("textarea").value,
  drawing: () => true,
  choices: (part) => chosen(part, "choices"),
  line: (part) => chosen(part, "line")[0] ?? null,
  order: (part) => placed(part).map((step) => Number(step.dataset.place)),
};

/** One value, or a mapping where several things are asked for. */
export function answerOf(part) {
  const asks = part.dataset.asks.split(" ");
  if (asks.length === 1) return READ[asks[0]](part);
  return Object.fromEntries(asks.map((form) => [form, READ[form](part)]));
}

/** Clears what was answered. */
export function forget(part) {
  const form = part.querySelector(".problem-answer");
  form.reset();
  unplace(form);
  for (const box of part.querySelectorAll(".problem-points input")) box.checked = false;
}

/** Gives a step the next place; one that has a place loses it, with all behind it. */
export function place(button) {
  const step = button.closest("li");
  const part = button.closest(".problem-part");
  const order = placed(part);
  const at = order.indexOf(step);
  if (at < 0) number(step, order.length + 1);
  else for (const later of order.slice(at)) number(later, null);
}

/** Takes every step's place away. */
export function unplace(form) {
  for (const step of form.querySelectorAll(".problem-steps > li")) number(step, null);
}

function number(step, at) {
  const button = step.querySelector("button");
  button.textContent = at ?? "next";
  if (at === null) delete step.dataset.at;
  else step.dataset.at = at;
}

function placed(part) {
  const steps = [...part.querySelectorAll(".problem-steps > li[data-at]")];
  return steps.sort((a, b) => a.dataset.at - b.dataset.at);
}

function chosen(part, name) {
  return [...part.querySelectorAll(`input[name=${name}]:checked`)].map((input) => Number(input.value));
}
