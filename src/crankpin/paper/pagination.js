// Making up pages: what cannot be broken leaves white at the foot of a page; what follows it is let past.
// Each article is laid out in columns as large as the text of a page, for there the browser breaks as it does in print.
globalThis.pagination = (() => {
  const GAP = 60
  /** Less white than this share of a page is left alone; less than the second is good enough. */
  const NOTICED = 0.11
  const GOOD = 0.06
  /** Only where more than this stays white may a picture stand behind the next heading. */
  const LARGE = 0.2
  const MOST_PASSED = 5
  /** Lines to write on: how far apart in CSS pixels (8 mm), and how many are worth having. */
  const NOTE_LINE = 30.25
  const LEAST_NOTE_LINES = 2
  const LINES = "p, li, .eq, figure, tr, caption, h1, h2, h3, h4, summary, pre, dt, dd, .sheet-top"

  /** Lay an article out in pages while ``work`` runs. */
  function inPages(article, [width, height], work) {
    Object.assign(article.style, {
      width: `${width}px`,
      height: `${height}px`,
      columns: `auto ${width}px`,
      columnGap: `${GAP}px`,
      columnFill: "auto",
    })
    try {
      return work()
    } finally {
      article.removeAttribute("style")
    }
  }

  /** How much of each page is white at its foot, and what begins the next page. */
  function feet(article, [width, height]) {
    const from = article.getBoundingClientRect()
    const pages = []
    for (const line of article.querySelectorAll(LINES)) {
      for (const [i, box] of [...line.getClientRects()].entries()) {
        if (!box.height) continue
        const number = Math.floor((box.left - from.left + 1) / (width + GAP))
        const page = (pages[number] ??= { white: 1, first: line, broken: i > 0 })
        page.white = Math.min(page.white, 1 - (box.bottom - from.top) / height)
      }
    }
    return [...pages].map((page) => page ?? { white: 1, first: null, broken: false })
  }

  /** The part of an article or of a calculator's sheet that a line stands in. */
  function blockOf(line, container) {
    let block = line
    while (block.parentElement !== container) block = block.parentElement
    return block
  }

  const isHeading = (block) => block.matches("h2, h3, h4")
  const isBarrier = (block) => block.matches("h1, .sheet, .summary, .addresses, .caution, figure")
  const goesOn = (block) => /^\s*\p{Ll}/u.test(block?.textContent ?? "")
  /** A heading, words before a formula, and a formula in the middle of a sentence stand before nothing else. */
  const belongsToNext = (block) =>
    isHeading(block) ||
    block.nextElementSibling?.matches(".eq") ||
    (block.matches(".eq") && goesOn(block.nextElementSibling))

  /** The moves of a block behind what follows it, from near to far; behind a heading only where it must. */
  function movesOf(block, white) {
    const moves = []
    let cost = 0.01
    let last = block.nextElementSibling
    for (let passed = 0; last && passed < MOST_PASSED && !isBarrier(last); passed++) {
      if (isHeading(last)) {
        if (white < LARGE) break
        cost = 0.08
      }
      if (!belongsToNext(last)) moves.push(move(block, last, cost))
      last = last.nextElementSibling
    }
    return moves
  }

  function move(block, after, cost = 0.01) {
    const mark = block.nextSibling
    const parent = block.parentElement
    return { cost, do: () => after.after(block), undo: () => parent.insertBefore(block, mark) }
  }

  function setClass(element, name, cost = 0.02) {
    return { cost, do: () => element.classList.add(name), undo: () => element.classList.remove(name) }
  }

  /** Numbers above the picture in place of beside it, so that they can stand on the page before. */
  function apart(sheet) {
    const body = sheet.querySelector(":scope > .sheet-body")
    const figure = body?.querySelector(":scope > figure")
    if (!figure) return []
    const act = () => {
      sheet.classList.add("apart")
      body.after(figure)
    }
    const undo = () => {
      sheet.classList.remove("apart")
      body.append(figure)
    }
    return [{ cost: 0.03, do: act, undo }]
  }

  const both = (one, other) => ({
    cost: one.cost + other.cost,
    do: () => (one.do(), other.do()),
    undo: () => (other.undo(), one.undo()),
  })

  /** What can be done about a block that went to the next page and left white behind. */
  function remedies(line, article, white) {
    const sheet = line.closest(".sheet")
    const block = blockOf(line, article)
    if (sheet && !line.closest(".sheet-top")) {
      const part = blockOf(line, sheet)
      const working = sheet.querySelector(":scope > .sheet-working")
      if (part.matches(".range") && working) {
        return [{ cost: 0, do: () => working.before(part), undo: () => sheet.append(part) }]
      }
      if (part.matches("figure") && working) return [move(part, working)]
      return part.matches(".sheet-body") && !sheet.matches(".apart") ? apart(sheet) : []
    }
    if (sheet || block.matches("figure")) {
      const moves = movesOf(block, white)
      const split = sheet ? apart(sheet) : []
      return [...moves, ...split, ...split.flatMap((one) => moves.map((other) => both(one, other)))]
    }
    const tall = [block, block.nextElementSibling].find((one) => one?.matches(".caution, .table-box"))
    if (!tall) return []
    return tall.matches(".caution") ? [setClass(tall, "wide"), setClass(tall, "may-break", 0.1)] : [setClass(tall, "may-break")]
  }

  function paginate(article, size) {
    let pages = feet(article, size)
    for (let number = 0; number + 1 < pages.length; number++) {
      for (let round = 0; round < 3 && number + 1 < pages.length; round++) {
        const white = pages[number].white
        const next = pages[number + 1]
        if (white < NOTICED || next.broken || !next.first) break
        let best = null
        for (const remedy of remedies(next.first, article, white)) {
          remedy.do()
          const left = (feet(article, size)[number]?.white ?? 0) + remedy.cost
          remedy.undo()
          if (left < (best?.left ?? white - 0.04)) best = { left, remedy }
          if (left < GOOD) break
        }
        if (!best) break
        best.remedy.do()
        pages = feet(article, size)
      }
    }
  }

  /** How many pages an element takes that begins a page, and on which of them each of the elements asked for begins. */
  function places(element, [width, height], asked) {
    return inPages(element, [width, height], () => {
      const from = element.getBoundingClientRect().left
      const numberOf = (one) => Math.floor((one.getClientRects()[0].left - from + 1) / (width + GAP))
      const found = asked.filter((one) => element.contains(one)).map((one) => [one.id, numberOf(one)])
      return { count: feet(element, [width, height]).length, found }
    })
  }

  const pagesOf = (article, size) => inPages(article, size, () => feet(article, size))

  /** Let the notes take what stays white at the foot of the last page, where that is enough to write in, else a new page. */
  function fillNotes(article, [width, height], most) {
    const notes = article.querySelector(".notes")
    if (!notes) return
    notes.hidden = true
    const pages = pagesOf(article, [width, height])
    let lines = Math.floor((pages.at(-1).white * height) / NOTE_LINE) - 2
    let count = pages.length
    if (lines < LEAST_NOTE_LINES) {
      if (count === most) return
      lines = Math.floor(height / NOTE_LINE) - 2
      count += 1
      notes.classList.add("overleaf")
    }
    notes.hidden = false
    notes.append(...Array.from({ length: lines }, () => document.createElement("div")))
    while (notes.children.length > 1 && pagesOf(article, [width, height]).length > count) notes.lastElementChild.remove()
  }

  return {
    /** Make an article fit onto so many pages: smaller, down to a scale, then without what can be spared, highest first. */
    fitPages(most, least, size) {
      const root = document.documentElement
      const letters = parseFloat(getComputedStyle(root).fontSize)
      const article = document.querySelector("article")
      const sheet = article.querySelector(".sheet")
      const fits = () => pagesOf(article, size).length <= most
      /** Whether it fits as it is, or with the calculator's sheet at the head of a page of its own. */
      const fitsSomehow = () => {
        sheet?.classList.remove("overleaf")
        if (fits()) return true
        sheet?.classList.add("overleaf")
        return fits()
      }
      let scale = 1
      while (!fitsSomehow() && scale > 0.5) {
        const spares = [...article.querySelectorAll(".spare, .sheet > .range")]
        const spare = spares.sort((a, b) => (a.dataset.rank ?? 9) - (b.dataset.rank ?? 9)).at(-1)
        if (spare && scale <= least) spare.remove()
        else root.style.fontSize = `${letters * (scale -= 0.02)}px`
      }
      fillNotes(article, size, most)
      return scale
    },
    /** The number of the page, as text, on which each element begins that the list of contents names. */
    numbers(width, height) {
      const asked = [...document.querySelectorAll("[data-page-of]")]
        .map((one) => document.getElementById(one.dataset.pageOf))
        .filter((one) => one)
      const numbers = {}
      let first = 1
      for (const element of document.body.children) {
        const { count, found } = places(element, [width, height], asked)
        for (const [id, number] of found) numbers[id] = `${first + number}`
        first += count
      }
      return numbers
    },
    /** Make up all articles for pages of this width and height in CSS pixels. */
    all(width, height) {
      const size = [width, height]
      for (const one of document.querySelectorAll("article")) inPages(one, size, () => paginate(one, size))
    },
    /** The share of white at the foot of each page, article by article. */
    white: (width, height) =>
      [...document.querySelectorAll("article")].map((one) =>
        inPages(one, [width, height], () => feet(one, [width, height]).map((page) => page.white)),
      ),
  }
})()
