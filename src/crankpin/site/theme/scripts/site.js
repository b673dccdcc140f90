// Small mends to the theme's frame: a menu and a search that the keyboard can open, a closed drawer that keeps focus
// out, contents that follow the reading, wide formulas and tables that the keyboard can scroll; and the theme's own
// script only when search is wanted.

document.documentElement.classList.replace("no-js", "js")
chooseGround()

const frameScript = document.querySelector("template[data-frame-script]")
let frame

/** Fetch and run the theme's own script, once; the promise is kept when its parts of the page answer. */
function wakeFrame() {
  frame ??= !frameScript ? Promise.resolve() : new Promise((go) => {
    const script = document.createElement("script")
    script.src = frameScript.dataset.frameScript
    script.onload = () => {
      keepSearchOpen()
      go()
    }
    script.onerror = () => {
      frame = undefined
      script.remove()
      tellSearch("Search could not be fetched. Look to the network, then close this and open it once more.")
    }
    document.body.append(script)
  })
  return frame
}

/** The theme's script closes the search as it starts; a reader who has opened it by then is typing. */
function keepSearchOpen() {
  const toggle = document.getElementById("__search")
  if (!toggle?.checked) return
  const hold = new AbortController()
  const { signal } = hold
  toggle.addEventListener("click", (event) => event.isTrusted || event.preventDefault(), { signal })
  document.addEventListener("keydown", ({ key }) => key === "Escape" && hold.abort(), { capture: true, signal })
  setTimeout(() => hold.abort(), 400)
}

/** Say in an open search what is the matter with it. */
function tellSearch(words) {
  const line = document.querySelector(".md-search-result__meta")
  if (line && document.getElementById("__search").checked) line.textContent = words
}

/** Show the ground the reader chose, else the system's, and offer the other. */
function chooseGround() {
  const grounds = [...document.querySelectorAll("input[name=__palette]")]
  if (!grounds.length) return
  const buttons = document.querySelectorAll("[data-md-component=palette] label")
  const wanted = () => {
    const found = keptGround() ?? grounds.findIndex((one) => matchMedia(one.dataset.mdColorMedia).matches)
    return Math.max(0, Math.min(found, grounds.length - 1))
  }
  const show = (index) => {
    for (const [key, name] of [["Scheme", "scheme"], ["Primary", "primary"], ["Accent", "accent"]]) {
      document.body.setAttribute(`data-md-color-${name}`, grounds[index].dataset[`mdColor${key}`])
    }
    buttons.forEach((button, at) => { button.hidden = at !== index })
    grounds[index].checked = true
  }
  grounds.forEach((one, index) => one.addEventListener("change", () => {
    const { mdColorMedia: media, mdColorScheme: scheme, mdColorPrimary: primary, mdColorAccent: accent } = one.dataset
    show(index)
    __md_set("__palette", { index, color: { media, scheme, primary, accent } })
  }))
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => show(wanted()))
  show(wanted())
}

/** The number of the ground that was chosen, where this browser keeps such things and one was. */
function keptGround() {
  try {
    return __md_get("__palette")?.index
  } catch {
    return undefined
  }
}

/** Put a button in the place of a `<label for=checkbox>`; without script the label still works. */
function asButton(label, box, name) {
  const button = document.createElement("button")
  button.type = "button"
  button.className = `${label.className} button-${box.dataset.mdToggle}`
  button.setAttribute("aria-label", name)
  button.append(...label.childNodes)
  const tell = () => button.setAttribute("aria-expanded", String(box.checked))
  button.addEventListener("click", () => box.click())
  box.addEventListener("change", tell)
  tell()
  label.replaceWith(button)
  return button
}

const drawer = document.getElementById("__drawer")
const menuLabel = document.querySelector("header label[for=__drawer]")
const sidebar = document.querySelector(".md-sidebar--primary")
const narrow = window.matchMedia("(max-width: 76.1875em)")

if (drawer && menuLabel && sidebar) {
  const menu = asButton(menuLabel, drawer, "Contents")
  const keepFocusOut = () => { sidebar.inert = narrow.matches && !drawer.checked }
  drawer.addEventListener("change", () => {
    keepFocusOut()
    if (drawer.checked) sidebar.querySelector("a[href]").focus()
    else if (narrow.matches) menu.focus()
  })
  document.addEventListener("keydown", (event) => {
    if (event.key === "Escape" && drawer.checked) drawer.click()
  })
  narrow.addEventListener("change", keepFocusOut)
  window.addEventListener("hashchange", () => drawer.checked && drawer.click())
  keepFocusOut()
}

const search = document.getElementById("__search")
const searchLabel = document.querySelector("header > nav > label[for=__search]")
const words = document.querySelector("input[name=query]")

if (search && searchLabel && words) {
  const magnifier = asButton(searchLabel, search, "Search")
  const panel = document.querySelector(".md-search")
  const folded = window.matchMedia("(max-width: 59.9375em)")
  const keepFocusOut = () => {
    panel.inert = folded.matches && !search.checked
    panel.querySelector(".md-search__output").inert = !search.checked
  }
  search.addEventListener("change", () => {
    keepFocusOut()
    if (search.checked) words.focus()
    else if (folded.matches) magnifier.focus()
    if (search.checked) wakeFrame()
  })
  // It hears keys alone, not what is pasted, spoken or chosen from a keyboard's suggestions.
  words.addEventListener("input", () => words.dispatchEvent(new KeyboardEvent("keyup", { bubbles: true })))
  words.addEventListener("focus", wakeFrame)
  new BroadcastChannel(`search ${__md_scope.pathname}`).addEventListener("message", () => {
    tellSearch("The list of words could not be fetched. Look to the network, then type once more.")
  })
  document.addEventListener("keydown", (event) => {
    if (event.key === "Escape" && search.checked) search.click()
  })
  folded.addEventListener("change", keepFocusOut)
  keepFocusOut()
}

/** Keys for who has no field to type in: search, one page back, one page on; the theme's script takes over once it is awake. */
function answerKeys() {
  window.addEventListener("keydown", (event) => {
    if (frame || event.ctrlKey || event.metaKey || event.altKey) return
    if (event.target.closest?.("input, textarea, select, summary, [contenteditable]")) return
    const turn = { p: "prev", ",": "prev", n: "next", ".": "next" }[event.key]
    const to = turn ? document.querySelector(`link[rel=${turn}]`)?.href : undefined
    if (["f", "s", "/"].includes(event.key) && search && !search.checked) search.click()
    else if (to) location.assign(to)
    else return
    event.preventDefault()
  })
}

if (frameScript) answerKeys()

/** Offer the way back to the top to a reader who turns round; the theme's script, late as it is, would not see it. */
const up = document.querySelector(".md-top")
if (up) {
  let last = window.scrollY
  up.removeAttribute("data-md-component")
  up.addEventListener("click", () => window.scrollTo({ top: 0 }))
  window.addEventListener("scroll", () => {
    const moved = window.scrollY - last
    if (window.scrollY < window.innerHeight || moved > 0) up.hidden = true
    else if (moved < -4) up.hidden = false
    last = window.scrollY
  }, { passive: true })
}

/** Show the page's own title in the header once its heading has gone out of sight, as the theme's script does. */
const heading = document.querySelector(".md-content h1")
const title = document.querySelector("[data-md-component=header-title]")
if (heading && title) {
  new IntersectionObserver(([one]) => {
    title.classList.toggle("md-header__title--active", !one.isIntersecting && one.boundingClientRect.top < 0)
  }, { rootMargin: "-48px 0px 0px" }).observe(heading)
}

/** Mark in the page's contents the part that is being read: the last whose heading has come into the top quarter, at the
    end of the page the last. */
function followReading() {
  const links = [...document.querySelectorAll(".md-nav--secondary a[href^='#']")]
  const parts = links.map((link) => document.getElementById(decodeURIComponent(link.hash.slice(1))))
  if (!links.length || parts.includes(null)) return
  const box = links[0].closest(".md-sidebar__scrollwrap")
  const end = document.querySelector(".foot-terms")
  const above = new Set()
  const mark = () => {
    const read = above.has(end) ? parts.length - 1 : parts.map((part) => above.has(part)).lastIndexOf(true)
    links.forEach((link, index) => {
      link.classList.toggle("md-nav__link--active", index === read)
      if (index === read) link.setAttribute("aria-current", "location")
      else link.removeAttribute("aria-current")
    })
    if (read < 0 || box.scrollHeight <= box.clientHeight) return
    const [inside, outside] = [links[read].getBoundingClientRect(), box.getBoundingClientRect()]
    box.scrollTop += Math.min(0, inside.top - outside.top) + Math.max(0, inside.bottom - outside.bottom)
  }
  const see = (seen) => {
    for (const { target, isIntersecting } of seen) above[isIntersecting ? "add" : "delete"](target)
    mark()
  }
  const watcher = new IntersectionObserver(see, { rootMargin: "1000000px 0px -75% 0px" })
  for (const part of parts) watcher.observe(part)
  new IntersectionObserver(see, { threshold: 0.9 }).observe(end)
}

followReading()

/** Let the keyboard reach what is wider than its box. */
function reachWide() {
  for (const box of document.querySelectorAll(".eq, .table-box")) {
    if (box.scrollWidth > box.clientWidth) {
      box.tabIndex = 0
      if (!box.hasAttribute("role")) {
        box.setAttribute("role", "group")
        box.setAttribute("aria-label", "Wide formula")
      }
    } else box.removeAttribute("tabindex")
  }
}

// It measures the whole page, for which a page that comes alive has other uses.
document.fonts.ready.then(() => (window.requestIdleCallback ?? setTimeout)(reachWide, { timeout: 3000 }))
window.addEventListener("resize", reachWide)
