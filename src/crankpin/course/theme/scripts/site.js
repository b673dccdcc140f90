// Small mends to the theme's frame: a menu and a search that the keyboard can open, a closed drawer that keeps focus
// out, and wide formulas and tables that the keyboard can scroll.

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
  })
  folded.addEventListener("change", keepFocusOut)
  keepFocusOut()
}

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

document.fonts.ready.then(reachWide)
window.addEventListener("resize", reachWide)
