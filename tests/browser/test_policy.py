"""The content policy in force: pages and their worker load nothing from elsewhere, whatever gets into them."""

import pytest

from tests.browser.pages import open_live, wait_until

pytestmark = pytest.mark.browser

ELSEWHERE = "http://localhost:9"  # another origin than the course's
BROKEN = """() => {
  window.violations = [];
  document.addEventListener("securitypolicyviolation", ({effectiveDirective}) => violations.push(effectiveDirective));
}"""
WAYS_IN_BY_MARKUP = [
    "<script>ran()</script>",
    "<SCRIPT>ran()</SCRIPT>",
    "<script type=module>ran()</script>",
    f"<script src='{ELSEWHERE}/x.js'></script>",
    "<script src='data:text/javascript,ran()'></script>",
    "<img src=x onerror='ran()'>",
    "<img/src=x/onerror=ran()>",
    f"<img src='{ELSEWHERE}/x.png'>",
    f"<img srcset='{ELSEWHERE}/x.png 2x'>",
    f"<picture><source srcset='{ELSEWHERE}/x.png'><img src=x></picture>",
    "<svg onload='ran()'></svg>",
    "<svg><script>ran()</script></svg>",
    f"<svg><image href='{ELSEWHERE}/x.png'/></svg>",
    f"<svg><use href='{ELSEWHERE}/x.svg#a'/></svg>",
    "<svg><animate onbegin='ran()' attributeName=x dur=1s /></svg>",
    "<details open ontoggle='ran()'></details>",
    "<input autofocus onfocus='ran()'>",
    "<video src=x onerror='ran()'></video>",
    f"<video src='{ELSEWHERE}/x.mp4'></video>",
    f"<audio src='{ELSEWHERE}/x.ogg'></audio>",
    f"<video poster='{ELSEWHERE}/x.png'></video>",
    "<iframe srcdoc='<script>parent.ran()</script>'></iframe>",
    "<iframe src='javascript:parent.ran()'></iframe>",
    f"<iframe src='{ELSEWHERE}/'></iframe>",
    "<iframe src='data:text/html,<script>parent.ran()</script>'></iframe>",
    f"<object data='{ELSEWHERE}/x'></object>",
    f"<embed src='{ELSEWHERE}/x'>",
    f"<link rel=stylesheet href='{ELSEWHERE}/x.css'>",
    "<style>@import 'http://localhost:9/x.css';</style>",
    f"<p style='background: url({ELSEWHERE}/x.png)'>a</p>",
    f"<base href='{ELSEWHERE}/'>",
    f"<link rel=manifest href='{ELSEWHERE}/x.webmanifest'>",
]
WAYS_IN_BY_SCRIPT = [
    "eval('ran()')",
    "new Function('ran()')()",
    "setTimeout('ran()', 0)",
    f"fetch('{ELSEWHERE}/')",
    f"new WebSocket('{ELSEWHERE.replace('http', 'ws')}/')",
    f"new EventSource('{ELSEWHERE}/')",
    f"navigator.sendBeacon('{ELSEWHERE}/', 'a')",
    f"import('{ELSEWHERE}/x.mjs')",
    "import('data:text/javascript,ran()')",
    "new Worker(URL.createObjectURL(new Blob(['postMessage(1)'])))",
    f"Object.assign(new Image(), {{src: '{ELSEWHERE}/x.png'}})",
    f"new FontFace('a', 'url({ELSEWHERE}/x.woff2)').load()",
]
TRY_MARKUP = """async markup => {
  window.went = [];
  window.ran = () => went.push(markup);
  const box = document.createElement("div");
  document.body.append(box);
  box.append(document.createRange().createContextualFragment(markup));
  await new Promise((go) => setTimeout(go, 60));
  box.remove();
  return went;
}"""
RUN_FILE = """async address => {
  window.went = [];
  window.ran = () => went.push(address);
  const script = Object.assign(document.createElement("script"), {src: address, type: "module"});
  await new Promise((go) => {
    script.onload = go;
    script.onerror = () => go(went.push("the file was not loaded"));
    document.body.append(script);
  });
  await new Promise((go) => setTimeout(go, 60));
  return went;
}"""


def sent(script):
    return lambda route: route.fulfill(content_type="text/javascript", body=script)


@pytest.fixture
def held(phone, course):
    page = phone()
    asked = []
    page.context.route(f"{ELSEWHERE}/**", lambda route: (asked.append(route.request.url), route.abort()))
    page.asked = asked
    open_live(page, course.page())
    page.evaluate(BROKEN)
    return page


def test_nothing_that_gets_into_a_page_runs_or_calls_another_host(held):
    assert len(WAYS_IN_BY_MARKUP) + len(WAYS_IN_BY_SCRIPT) > 40
    for markup in WAYS_IN_BY_MARKUP:
        assert held.evaluate(TRY_MARKUP, markup) == [], markup
    for number, way in enumerate(WAYS_IN_BY_SCRIPT):  # from a file of the site's own: the tools' evaluate may do all
        held.route(f"**/way-{number}.mjs", sent(way))
        assert held.evaluate(RUN_FILE, f"way-{number}.mjs") == [], way
    assert held.asked == []
    assert held.evaluate("violations.length") > 25


def test_the_policy_reaches_the_worker_where_the_host_sends_it(held):
    worker = held.workers[-1]
    told = worker.evaluate(
        f"""async () => {{
          const told = [];
          self.addEventListener("securitypolicyviolation", (event) => told.push(event.effectiveDirective));
          await fetch("{ELSEWHERE}/").catch(() => {{}});
          await new Promise((go) => setTimeout(go, 100));
          return told;
        }}"""
    )
    assert told == ["connect-src"]
    assert held.asked == []


def test_every_page_is_live_and_quiet_under_the_header(phone, course):
    for name in ("index", "few", "moving", "words"):
        page = phone()
        page.goto(course.page(name))
        answer = page.request.get(course.page(name))
        assert answer.headers["content-security-policy"] in answer.text().replace("&#x27;", "'")
        page.wait_for_load_state("networkidle")
        wait_until(lambda page=page: not page.locator("[data-state=starting]").count(), "the calculators")
        assert page.heard.complaints == []
