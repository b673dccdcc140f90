"""What tests do with a page: wait for a calculator, type into it, read it."""

import time

PATIENCE = 60


def calculator(page, element="edge-on"):
    return page.locator(f"crankpin-calculator#{element}")


def wait_for_state(page, state="live", element="edge-on"):
    """Wait until the calculator is in that state. Polled: a strict content policy stops Playwright's own waiting."""
    wait_until(lambda: state_of(page, element) == state, lambda: f"{state}, it is {state_of(page, element)}")


def wait_until(holds, wanted="that"):
    end = time.monotonic() + PATIENCE
    while not holds():
        assert time.monotonic() < end, f"waited in vain for {wanted() if callable(wanted) else wanted}"
        time.sleep(0.02)


def state_of(page, element="edge-on"):
    return calculator(page, element).get_attribute("data-state")


def open_live(page, address, element="edge-on"):
    page.goto(address)
    calculator(page, element).locator("input[type=text], textarea, select").first.focus()
    wait_for_state(page, "live", element)


def results(page, element="edge-on"):
    """Return what the page shows: for each output its full double (or words, or None) and its text."""
    return page.evaluate(
        """id => Object.fromEntries([...document.querySelectorAll(`#${id} output`)].map(one =>
            [one.name, {value: one.dataset.value, text: one.textContent, absent: one.hasAttribute("data-absent")}]))""",
        element,
    )


TYPE = """async ([id, texts]) => {
  const box = document.getElementById(id);
  for (const [key, text] of Object.entries(texts)) {
    const field = box.querySelector(`[name="${key}"]`);
    field.value = text;
    field.dispatchEvent(new Event("input", {bubbles: true}));
  }
  while (box.hasAttribute("aria-busy")) await new Promise((go) => setTimeout(go, 1));
}"""


def type_into(page, texts, element="edge-on"):
    """Put texts into the fields as typing does, all at once, and wait until they have been answered."""
    page.evaluate(TYPE, [element, texts])
