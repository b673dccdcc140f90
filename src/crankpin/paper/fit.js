// What the printer asks of a document before it prints: are the typefaces there, does everything fit the sheet?
globalThis.paper = {
  /** The families of typefaces that could not be read. */
  async lostFonts() {
    await document.fonts.ready
    return [...document.fonts].filter((face) => face.status === "error").map((face) => face.family)
  },

  /** Make formulas and tables that are wider than their room smaller; return scale and words of each. */
  fit() {
    const fitted = []
    const narrow = (part, room) => {
      const width = part.getBoundingClientRect().width
      if (width <= room + 0.5) return
      const scale = (room / width) * 0.99
      part.style.fontSize = `${parseFloat(getComputedStyle(part).fontSize) * scale}px`
      fitted.push([scale, part.textContent.trim().slice(0, 60)])
    }
    for (const box of document.querySelectorAll(".eq, .table-box")) {
      narrow(box.querySelector("math, table"), box.clientWidth)
    }
    for (const formula of document.querySelectorAll(".worked > p > math")) narrow(formula, formula.parentElement.clientWidth)
    for (const table of document.querySelectorAll("table.range, table.numbers")) narrow(table, table.parentElement.clientWidth)
    return fitted
  },

  /** Make all of a document smaller until it is no taller than one page; returns the scale, 1 for none. */
  fitPage(height) {
    const root = document.documentElement
    const size = parseFloat(getComputedStyle(root).fontSize)
    let scale = 1
    while (document.body.getBoundingClientRect().height > height && scale > 0.5) {
      scale = Math.round(100 * scale - 1) / 100
      root.style.fontSize = `${size * scale}px`
    }
    return scale
  },

  /** The first few elements that reach beyond the text's right edge. */
  overhang() {
    const edge = document.documentElement.clientWidth + 1
    return [...document.querySelectorAll("body *")]
      .filter((one) => !one.closest("svg, math *") && one.getBoundingClientRect().right > edge)
      .map((one) => `${one.localName}: ${one.textContent.trim().slice(0, 60)}`)
      .slice(0, 5)
  },

  /** Write page numbers into the list of contents. */
  fill(pages) {
    for (const one of document.querySelectorAll("[data-page-of]")) one.textContent = pages[one.dataset.pageOf] ?? ""
  },
}
