// Small mends to the theme's frame: a menu that the keyboard can open, and a closed drawer that keeps focus out.

/** Make a `<label for=checkbox>` work as a button: focus, Enter, Space, and its state spoken. */
function asButton(label, box, name) {
  label.tabIndex = 0
  label.setAttribute("role", "button")
  label.setAttribute("aria-label", name)
  const tell = () => label.setAttribute("aria-expanded", String(box.checked))
  label.addEventListener("keydown", (event) => {
    if (event.key !== "Enter" && event.key !== " ") return
    event.preventDefault()
    box.click()
  })
  box.addEventListener("change", tell)
  tell()
}

const drawer = document.getElementById("__drawer")
const menu = document.querySelector("header label[for=__drawer]")
const sidebar = document.querySelector(".md-sidebar--primary")
const narrow = window.matchMedia("(max-width: 76.1875em)")

function keepFocusOut() {
  if (sidebar) sidebar.inert = narrow.matches && !drawer.checked
}

if (drawer && menu) {
  asButton(menu, drawer, "Contents")
  drawer.addEventListener("change", () => {
    keepFocusOut()
    if (drawer.checked) sidebar?.querySelector("a[href]")?.focus()
    else if (narrow.matches) menu.focus()
  })
  document.addEventListener("keydown", (event) => {
    if (event.key === "Escape" && drawer.checked) drawer.click()
  })
  narrow.addEventListener("change", keepFocusOut)
  keepFocusOut()
}

const search = document.getElementById("__search")
const magnifier = document.querySelector("header > nav > label[for=__search]")
if (search && magnifier) asButton(magnifier, search, "Search")
