"""A hundred thousand tables with known rows, written in the ways of sensors, spreadsheets and students.

Each is read right, or a sentence says why not: never as something else without a word.
"""

import math
from random import Random

import pytest

from crankpin.calculator.declaration import Column, Table
from crankpin.calculator.tables import read_table

TIME = Column(key="t", symbol="t", meaning="time", unit="s", also=("ms",))
READING = Column(key="x", symbol="x", meaning="reading", unit="1")
SPREAD = Column(key="u_x", symbol="u", meaning="standard uncertainty of the reading", unit="1", needed=False)
TABLES = {
    count: Table(key="data", meaning="readings", columns=(TIME, READING, SPREAD)[:count], default="1")
    for count in (1, 2, 3)
}
#: Units of time with their size in seconds; None for what is none.
UNITS = {
    "s": 1.0,
    "ms": 1e-3,
    "µs": 1e-6,
    "us": 1e-6,
    "ns": 1e-9,
    "min": 60.0,
    "h": 3600.0,
    "days": 86400.0,
    "sec": 1.0,
    "seconds": 1.0,
    "ft": None,
    "g": None,
    "blinks": None,
}
UNIT_STYLES = ("{} / {}", "{}/{}", "{} ({})", "{} [{}]", "{} in {}", "{}_{}", "{}, {}")
RUNNING = ("No", "Nr.", "#", "run", "i")
BATCHES = 10
A_BATCH = 10_000


def number(random, whole=False):
    """A decimal number with its value."""
    kind = random.random()
    if whole or kind < 0.2:
        digits = str(random.randrange(0, 2500))
    elif kind < 0.3:
        digits = f"{random.randrange(1, 20)}.{random.randrange(0, 1000):03d}"
    else:
        digits = f"{random.randrange(0, 3000)}.{random.randrange(0, 10 ** random.choice((1, 2, 4)))}"
    sign = "-" if random.random() < 0.1 else ""
    return sign + digits, float(sign + digits)


def spelt(random, digits, style):
    """The same number with a decimal comma, grouped thousands or a true minus sign."""
    whole, point, rest = digits.lstrip("-").partition(".")
    groups, comma = style
    if groups and len(whole) == 4:
        whole = whole[0] + groups + whole[1:]
    return ("\u2212" if digits[0] == "-" and random.random() < 0.3 else digits[: digits[0] == "-"]) + (
        whole + ("," if point and comma else point) + rest
    )


STYLES = (("", False), ("", False), ("", True), (",", False), (".", True), ("'", False), ("'", True), ("\u202f", True))


def generated(random):
    """Return (text, table, rows known, whether anything about it calls for a question)."""
    wanted = random.choice((1, 2, 3))
    given = wanted if wanted < 3 else random.choice((2, 3))
    style = random.choice(STYLES)
    separators = ["\t", ";", "; "] + ([", ", ","] if not style[1] and style[0] != "," else [", "] if style[1] else [])
    separator = random.choice([*separators, "  "])
    count = random.randrange(2, 5)
    rows = [[number(random) for _ in range(given)] for _ in range(count)]
    if style[0] == "." and all("." not in digits for row in rows for digits, _ in row):
        style = ("", True)  # without one decimal comma, 1.174 is what it says
    cells = [[spelt(random, digits, style) for digits, _ in row] for row in rows]
    known = [tuple(value for _, value in row) + (None,) * (wanted - given) for row in rows]
    names, unit = [["t", "time", "Zeit"][random.randrange(3)], random.choice("xy"), "u_x"][:given], "s"
    headed = random.random() < 0.6
    if headed and random.random() < 0.6:
        unit = random.choice(tuple(UNITS))
        names[0] = random.choice(UNIT_STYLES if separator not in (", ", ",") else UNIT_STYLES[:-1]).format(
            names[0], unit
        )
    if UNITS[unit] is not None:
        known = [(row[0] * UNITS[unit], *row[1:]) for row in known]
    asks = UNITS[unit] is None
    if random.random() < 0.2:  # a running number in front
        start = random.choice((0, 1, 7))
        cells = [[str(start + i), *row] for i, row in enumerate(cells)]
        names = [random.choice(RUNNING), *names]
        asks = asks or not headed
    if random.random() < 0.1:  # a row whose first number is no number
        place = random.randrange(count)
        wrong = random.choice(("O.9", "l.5", "1..2", "7x", "a" if given > 1 else "0.7.1"))  # alone, "a" is a heading
        cells[place][random.randrange(len(cells[place]))] = wrong
        asks = True
    elif given > 1 and random.random() < 0.1:  # a gap
        place = random.randrange(count)
        gap = random.choice(("#N/A", "NaN", "-", ""))
        cells[place][-given] = gap
        asks = asks or (gap == "" and separator == "  ")
        known.pop(place)
    if random.random() < 0.1 and separator.strip() in ("", ";", ","):
        cells = [[f'"{cell}"' for cell in row] for row in cells]
    lines = [separator.join(row) for row in cells]
    if headed:
        lines.insert(0, separator.join(names))
    if random.random() < 0.1:
        lines.insert(0, random.choice(("# run 3", "", "% made by a sensor, 25 ms")))
    return "\n".join(lines), TABLES[wanted], known, asks


def agrees(rows, known):
    return len(rows) == len(known) and all(
        (a is None and b is None) or (a is not None and b is not None and math.isclose(a, b, rel_tol=1e-12))
        for row, right in zip(rows, known, strict=True)
        for a, b in zip(row, right, strict=True)
    )


@pytest.mark.parametrize("batch", range(BATCHES))
def test_a_generated_table_is_read_right_or_told(batch):
    random = Random(batch)
    read = plain = 0
    for _ in range(A_BATCH):
        text, table, known, asks = generated(random)
        found = read_table(text, table)
        if found.rows:
            assert agrees(found.rows, known), (text, found)
            assert found.understood, text
            read += 1
        else:
            assert found.trouble, text
        plain += not asks
    assert read > 0.8 * plain, (read, plain)
