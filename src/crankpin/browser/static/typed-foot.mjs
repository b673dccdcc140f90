/* The line at the foot of a page with calculators: how much of what was typed is kept here, and a button that forgets it. */

import {countTyped, forgetTyped} from "./typed.mjs";

let place, line, button;

if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", begin);
else begin();

function begin() {
  place = document.querySelector("[data-typed]");
  if (!place) return;
  [line, button] = place.children;
  window.addEventListener("typed-kept", tell);
  window.addEventListener("storage", tell);
  window.addEventListener("typed-refused", () => {
    say("This browser keeps nothing of what you type: copy it before you leave the page.", {forgets: false});
  });
  button.addEventListener("click", () => {
    forgetTyped();
    say("Nothing of what you typed is kept on this device any more.", {forgets: false});
    line.focus();
  });
  tell();
}

function tell() {
  const count = countTyped();
  const many = count === 1 ? "one calculator" : `${count} calculators`;
  if (count > 0) say(`What you typed in ${many} of this course is kept, on this device alone.`, {forgets: true});
  else place.hidden = true;
}

function say(words, {forgets}) {
  if (line.textContent !== words) line.textContent = words;
  button.hidden = !forgets;
  place.hidden = false;
}
