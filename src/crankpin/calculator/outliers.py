"""Readings that stand out, named by their row."""

from collections.abc import Sequence

#: A residual so many times the typical one is remarked on.
FAR = 5.0
_FEWEST = 5
_TYPICAL = 0.6745
_MOST_NAMED = 5


def outliers(residuals: Sequence[float]) -> list[int]:
    """Return the rows (from 1) whose residuals stand out.

    The measure is 0.6745 times the distance from the median over the median of such distances, which one bad reading
    does not blow up: B. Iglewicz and D. Hoaglin, How to Detect and Handle Outliers, 1993 (from memory), there with 3.5
    as the limit; here 5, since a class's tables are short.

    >>> outliers([0.1, -0.2, 0.0, 0.15, 3.0, -0.1])
    [5]
    """
    if len(residuals) < _FEWEST:
        return []
    middle = _median(residuals)
    away = [abs(one - middle) for one in residuals]
    typical = _median(away)
    if typical <= 1e-9 * max(away):
        return []
    return [row for row, one in enumerate(away, 1) if _TYPICAL * one > FAR * typical]


def _median(numbers: Sequence[float]) -> float:
    ranked, half = sorted(numbers), len(numbers) // 2
    return ranked[half] if len(ranked) % 2 else 0.5 * (ranked[half - 1] + ranked[half])


def outlier_note(residuals: Sequence[float], what: str = "row") -> str:
    """Return a sentence that names the rows that stand out, "" where none does.

    >>> outlier_note([0.1, -0.2, 0.0, 0.15, 3.0, -0.1])
    'Row 5 stands out from the others: check that reading, and say so if you leave it out.'
    """
    rows = outliers(residuals)
    if not rows:
        return ""
    if len(rows) == 1:
        named = f"{what.capitalize()} {rows[0]} stands"
    else:
        more = f" and {len(rows) - _MOST_NAMED} more" if len(rows) > _MOST_NAMED else ""
        named = f"{what.capitalize()}s {', '.join(map(str, rows[:_MOST_NAMED]))}{more} stand"
    return f"{named} out from the others: check that reading, and say so if you leave it out."
