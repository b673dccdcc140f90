"""What all tests share: one browser for the whole run, and how Hypothesis searches.

It tries the same examples at each run, so that a change fails for its own faults alone;
``pytest --hypothesis-profile=search`` looks further, at other examples each time. The machine's speed never decides.
``mutants`` (for `tools/mutants.py`) stops at the first example that fails.
"""

import pytest
from hypothesis import HealthCheck, Phase, settings

from tests.course_fixtures import calculators, course

__all__ = ["calculators", "chromium", "course"]

AT_ANY_SPEED = [HealthCheck.too_slow]
settings.register_profile("steady", derandomize=True, deadline=None, database=None, suppress_health_check=AT_ANY_SPEED)
settings.register_profile("search", max_examples=2000, deadline=None, suppress_health_check=AT_ANY_SPEED)
settings.register_profile("mutants", settings.get_profile("steady"), phases=[Phase.explicit, Phase.generate])
settings.load_profile("steady")


@pytest.fixture(scope="session")
def chromium():  # type: ignore[no-untyped-def]
    """Chromium, started once: Playwright allows one running at a time in a process."""
    playwright = pytest.importorskip("playwright.sync_api")
    from crankpin.chromium import find_browser, start_options

    program = find_browser()
    if program is None:
        pytest.skip("this machine has no Chromium")
    with playwright.sync_playwright() as started:
        browser = started.chromium.launch(executable_path=str(program), args=start_options())
        yield browser
        browser.close()
