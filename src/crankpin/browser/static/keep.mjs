/* The line at the foot of every page: what of the course is on this device, a button to keep it, one to remove it. */

import {KeepError, canKeep, changed, check, forget, keep, kept, published} from "./device.mjs";

const place = document.querySelector("[data-keep]");
if (place) tell();

async function tell() {
  if (!canKeep()) {
    show("For use without a network, the course must be opened at an address that begins with https.");
    return;
  }
  const here = await kept();
  if (here) showKept(here);
  const list = await published();
  if (!list) {
    if (!here) show("Nothing of the course is kept on this device, and there is no network to fetch it.");
  } else if (!here) showNothing(list);
  else if (list.edition !== here.edition) showNewer(list, here);
}

function showNothing(list) {
  show(`For use without a network: the whole course takes ${megabytes(list.bytes)}, ${megabytes(list.fetched)} of network.`, {
    "Keep the course on this device": () => fetchAll(list),
  });
}

function showKept(here, words = `The whole course, ${megabytes(here.bytes)}, is kept on this device since ${dated(here.since)}.`) {
  show(words, {"Check it": () => checkAll(here), "Remove it": remove});
}

function showNewer(list, here) {
  show(
    `This is the course as of ${dated(here.since)}. It has changed since; the change takes ${megabytes(changed(list, here))}.`,
    {"Change to the new one": () => fetchAll(list), "Remove what is kept": remove},
  );
  place.classList.add("has-news");
}

async function fetchAll(list) {
  const earlier = await kept();
  const stop = new AbortController();
  show("", {Stop: () => stop.abort()});
  const bar = document.createElement("progress");
  bar.max = list.bytes;
  bar.setAttribute("aria-label", "Stored so far");
  const words = document.createElement("span");
  place.prepend(bar, words);
  const onProgress = (bytes) => {
    bar.value = bytes;
    words.textContent = `${megabytes(bytes)} of ${megabytes(list.bytes)} stored.`;
  };
  onProgress(0);
  try {
    await keep(list, {onProgress, signal: stop.signal});
  } catch (error) {
    if (!(error instanceof KeepError)) throw error;
    show(error.message, {"Go on": () => again(list), ...(earlier ? {} : {"Remove what has come": remove})});
    return;
  }
  if (earlier) location.reload();
  else await checkAll(await kept());
}

/** Another try, with the list as it is by now. */
async function again(list) {
  await fetchAll((await published()) ?? list);
}

async function checkAll(here) {
  show("Asking this device for every file of the course.");
  const failed = await check(here);
  if (failed === null) {
    showKept(here, "This view of the page came past what is kept. Reload the page, then check again.");
  } else if (failed.length === 0) {
    const size = megabytes(here.bytes);
    showKept(here, `Ready without a network: all ${here.files.length} files of the course, ${size}, are on this device.`);
  } else {
    const words = `${failed.length} of ${here.files.length} files are no longer as they were kept on this device.`;
    show(words, {"Fetch them again": () => again(here), "Remove what is kept": remove});
  }
}

async function remove() {
  await forget();
  const list = await published();
  show("Nothing of the course is kept on this device any more.", list ? {"Keep it again": () => fetchAll(list)} : {});
}

function show(words, doings = {}) {
  const line = document.createElement("span");
  line.setAttribute("role", "status");
  const buttons = Object.entries(doings).map(([name, act]) => {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = name;
    button.addEventListener("click", act, {once: true});
    return button;
  });
  const hadFocus = place.contains(document.activeElement);
  place.classList.remove("has-news");
  place.replaceChildren(line, ...buttons);
  line.textContent = words;
  if (hadFocus) buttons[0]?.focus();
}

function megabytes(bytes) {
  return `${(bytes / 1e6).toFixed(1)}\u00a0MB`;
}

function dated(time) {
  return time.toLocaleDateString(document.documentElement.lang, {day: "numeric", month: "long", year: "numeric"});
}
