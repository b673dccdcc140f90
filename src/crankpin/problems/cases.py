"""Inputs of the course's cases, as a problem may quote them: `r = "= pier-wheel.r"` in its draw table."""

import tomllib
from collections.abc import Mapping

from crankpin.problems.faults import WordingError


def typed_inputs(toml: str) -> dict[str, str]:
    """Return what the cases of a values file are given, as typed: {"pier-wheel.r": "1.70 m"}.

    A case's input that quotes another case is followed. What is no table of texts is passed over: the course tells it.
    """
    try:
        tables = tomllib.loads(toml)
    except tomllib.TOMLDecodeError:
        return {}
    return {
        f"{name}.{key}": text
        for name, table in tables.items()
        if isinstance(table, dict)
        for key, text in table.items()
        if isinstance(text, str) and key != "calculator"
    }


def quoted(text: str, cases: Mapping[str, str]) -> str:
    """Return a text, or what it quotes when it starts with `=`. Raises `WordingError`.

    >>> quoted("= buoy.A", {"buoy.A": "= wheel.r", "wheel.r": "1.70 m"})
    '1.70 m'
    """
    for _ in range(len(cases) + 1):
        if not text.startswith("="):
            return text
        wanted = text.removeprefix("=").strip()
        if wanted not in cases:
            known = ", ".join(key for key in cases if key.partition(".")[0] == wanted.partition(".")[0])
            raise WordingError(
                f"“{text}” is not an input that a case of the values file is given; "
                + (f"there are {known}" if known else "write = CASE.INPUT, as in = pier-wheel.r")
            )
        text = cases[wanted]
    raise WordingError(f"“{text}” refers to itself")
