// Stands in for the theme's search engine, and fetches it and the index when the first words are searched for.
// The build writes the two addresses, seen from the site's root.
const engine = "ENGINE"
const index = "INDEX"

const root = new URL("../../", self.location.href)
let stage = "asleep"
let settings
let latest

const hand = (data) => self.dispatchEvent(new MessageEvent("message", { data }))

self.addEventListener("message", (event) => {
  if (stage === "awake" || !event.isTrusted) return
  event.stopImmediatePropagation()
  if (event.data.type === 0) {
    settings = event.data.data
    self.postMessage({ type: 1 })
    return
  }
  if (!event.data.data) {
    self.postMessage({ type: 3, data: { items: [] } })
    return
  }
  latest = event.data
  if (stage === "asleep") wake()
})

async function wake() {
  stage = "waking"
  const send = self.postMessage.bind(self)
  try {
    const answer = await fetch(new URL(index, root))
    const pages = await answer.json()
    self.postMessage = () => {
      self.postMessage = send
      stage = "awake"
      hand(latest)
    }
    importScripts(new URL(engine, root).href)
    hand({ type: 0, data: { ...settings, ...pages } })
  } catch {
    self.postMessage = send
    stage = "asleep"
    new BroadcastChannel(`search ${root.pathname}`).postMessage("not fetched")
  }
}
