"""Stands in for asyncio, which Pyodide's engine asks for one name: nothing on a page awaits anything."""


def get_event_loop():
    """Refuse: there is none."""
    raise RuntimeError("the Python that runs on the page has no event loop")
