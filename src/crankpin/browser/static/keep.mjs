/* The line at the foot of every page: what of the course is on this device, a button to keep it, one to remove it. */

import {KeepError, arrived, begun, check, forbidden, forget, keep, kept, listed, published, tidy} from "./device.mjs";

const NOT_NOW = `crankpin ${encodeURIComponent(new URL("../../../", import.meta.url).pathname)} not now`;

const place = document.querySelector("[data-keep]");
if (place) tell();

async function tell() {
  const reason = await forbidden();
  if (reason) {
    show(reason);
    return;
  }
  const here = await kept();
  if (here) showKept(here);
  const news = await published();
  if (!here) await showNothing(news);
  else if (!news) return;
  else if (news.edition === here.edition) await tidy(here.edition);
  else {
    await tidy(here.edition, news.edition);
    await showNewer(news, here);
  }
}

async function showNothing(news) {
  if (!news) {
    show("The course is not kept on this device, and the network does not supply it just now.");
  } else if (await begun()) {
    await showBegun(news);
  } else {
    const paper = news.paper ? `; the sheets for printing (PDF, ${megabytes(news.paper)}) are not kept` : "";
    const words = `To use it without a network: the whole course takes ${megabytes(news.bytes)} of this device and`;
    show(`${words} ${megabytes(news.fetched)} of network${paper}.`, {"Keep the course on this device": () => fetchAll(news)});
  }
}

async function showBegun(news) {
  const list = await attempt(() => listed(news), {"Try again": () => showBegun(news), "Remove the download": remove});
  if (!list) return;
  show(`${megabytes(await arrived(list))} of ${megabytes(list.bytes)} are on this device; the course is not complete yet.`, {
    "Go on": () => fetchAll(news),
    "Remove the download": remove,
  });
}

function showKept(here, words = `The whole course, ${megabytes(here.bytes)}, is kept on this device since ${dated(here.since)}.`) {
  show(words, {"Check it": () => checkAll(here), "Remove it": remove});
}

async function showNewer(news, here) {
  let list;
  try {
    list = await listed(news);
  } catch {
    return;
  }
  const words = `The course kept here is that of ${dated(here.since)}. There is a newer one; switching to it takes`;
  const change = {"Switch to the newer one": () => fetchAll(news)};
  const later = localStorage.getItem(NOT_NOW) === news.edition;
  const quiet = () => {
    localStorage.setItem(NOT_NOW, news.edition);
    showNewer(news, here);
  };
  const doings = later ? {...change, "Check it": () => checkAll(here), "Remove it": remove} : {...change, "Not now": quiet};
  show(`${words} ${megabytes(list.bytes - (await arrived(list)))}.`, doings);
  place.classList.toggle("has-news", !later);
}

async function fetchAll(news) {
  const earlier = await kept();
  const stop = new AbortController();
  show("", {Stop: () => stop.abort()});
  const bar = document.createElement("progress");
  bar.max = news.bytes;
  bar.setAttribute("aria-label", "What has come so far");
  const words = document.createElement("span");
  place.prepend(bar, words);
  const onProgress = (bytes) => {
    bar.value = bytes;
    words.textContent = `${megabytes(bytes)} of ${megabytes(news.bytes)} have arrived.`;
  };
  onProgress(0);
  const fetched = async () => {
    await keep(await listed(news), {onProgress, signal: stop.signal});
    return true;
  };
  const leave = earlier ? {"Keep the earlier one": () => showKept(earlier)} : {"Remove the download": remove};
  if (!(await attempt(fetched, {"Go on": () => again(news), ...leave}))) return;
  if (earlier && earlier.edition !== news.edition) showChanged();
  else await checkAll(await kept());
}

/** Another try, for the edition that the host has by now. */
async function again(news) {
  await fetchAll((await published()) ?? news);
}

/** The page in sight stays as it is: what was typed into it would be lost. */
function showChanged() {
  show("The newer course is on this device. This page is still the earlier one.", {
    "Show the newer page": () => location.reload(),
  });
}

async function checkAll(here) {
  show("Checking every file of the course on this device.");
  const failed = await check(here);
  if (failed === null) {
    showKept(here, "This view of the page came past what is kept. Reload the page, then check again.");
  } else if (failed.length === 0) {
    const lasting = await navigator.storage?.persisted?.();
    const words = `Ready without a network: all ${here.files.length} files of the course, ${megabytes(here.bytes)}, are on this device.`;
    showKept(here, lasting ? words : `${words} When space is short the browser may remove them: check again before class.`);
  } else {
    const words = `${failed.length} of ${here.files.length} files are no longer as they were kept on this device.`;
    show(words, {"Download them again": () => again(here), "Remove what is kept": remove});
  }
}

async function remove() {
  const done = await attempt(async () => {
    await forget();
    localStorage.removeItem(NOT_NOW);
    return true;
  }, {"Try again": remove});
  if (!done) return;
  const news = await published();
  show("The course is no longer kept on this device.", news ? {"Keep it again": () => fetchAll(news)} : {});
}

/** What `work` gives; when it fails, the reason is shown with what to do, and nothing is given. */
async function attempt(work, doings) {
  try {
    return await work();
  } catch (error) {
    if (!(error instanceof KeepError)) throw error;
    show(error.message, doings);
    return null;
  }
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
  if (hadFocus) buttons[0]?.focus({preventScroll: true});
}

function megabytes(bytes) {
  return `${(bytes / 1e6).toFixed(1)}\u00a0MB`;
}

function dated(time) {
  return time.toLocaleDateString(document.documentElement.lang, {day: "numeric", month: "long", year: "numeric"});
}
