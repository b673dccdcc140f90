// On a page that is served while its author writes: shows a new version as soon as there is one, and what is wrong
// above the last good page until it is mended.

const address = new URL("crankpin-news", import.meta.url)
const panel = document.createElement("section")
let number = ""
let shown = await source()

panel.setAttribute("role", "alert")
panel.hidden = true
Object.assign(panel.style, {
  position: "fixed", inset: "auto 0 0", zIndex: 99, maxHeight: "50vh", overflow: "auto", padding: "0.75rem 1rem",
  background: "#7a1f12", color: "#fff", font: "1rem/1.4 system-ui, sans-serif", whiteSpace: "pre-wrap",
})
document.body.append(panel)

for (;;) {
  try {
    const answer = await fetch(`${address}?${number}`, { cache: "no-store" })
    const news = await answer.json()
    if (news.number !== number) await tell(news)
    number = news.number
  } catch {
    await new Promise((resolve) => setTimeout(resolve, 1000)) // the server is not there for now
  }
}

/** Say what is wrong, or load the page again where it has changed; the browser keeps the place on it. */
async function tell({ fault }) {
  panel.hidden = !fault
  panel.textContent = fault && `This page is as it was before the mistake:\n${fault}`
  if (fault) return
  const now = await source()
  if (now !== shown) location.reload()
}

async function source() {
  const answer = await fetch(location.href, { cache: "no-store" })
  return answer.ok ? answer.text() : ""
}
