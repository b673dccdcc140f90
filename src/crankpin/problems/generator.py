"""Whole numbers drawn from a seed: the same in every Python, for ever.

The algorithm, version 1, all in whole numbers below 2**64:

1. The seed is the 64-bit FNV-1a hash of the text ``1/ID/VERSION/VARIANT`` in UTF-8: start with
   14695981039346656037; for each byte, exclusive-or, then multiply by 1099511628211 modulo 2**64.
2. Each draw is one step of SplitMix64: add 0x9E3779B97F4A7C15 to the state; of the new state z take
   z ^= z >> 30, z *= 0xBF58476D1CE4E5B9, z ^= z >> 27, z *= 0x94D049BB133111EB, z ^= z >> 31.
3. A whole number from 0 to n - 1 is (z * n) >> 64.

A change of any of this, or of the order in which a problem draws, is a new version: the 1 in the seed's text
goes up, and version 1 stays in this module for the sheets that were printed with it.

Source: SplitMix64 is G. L. Steele, D. Lea, C. H. Flood, Fast splittable pseudorandom number generators (2014);
FNV-1a is G. Fowler, L. C. Noll, K.-P. Vo. Both with their constants from memory.
"""

from collections.abc import MutableSequence
from typing import Any

ALGORITHM = 1
_WORD = (1 << 64) - 1


def seed_of(problem: str, version: int, variant: int) -> int:
    """Return the seed of one variant of a problem.

    >>> seed_of("turning-lamp", 1, 1) != seed_of("turning-lamp", 1, 2)
    True
    """
    return fnv1a(f"{ALGORITHM}/{problem}/{version}/{variant}")


def fnv1a(text: str) -> int:
    """Return the 64-bit FNV-1a hash of a text.

    >>> hex(fnv1a("")), hex(fnv1a("a"))
    ('0xcbf29ce484222325', '0xaf63dc4c8601ec8c')
    """
    state = 14695981039346656037
    for byte in text.encode("utf-8"):
        state = ((state ^ byte) * 1099511628211) & _WORD
    return state


class Generator:
    """Draws whole numbers, one after another, from a seed."""

    def __init__(self, seed: int) -> None:
        self._state = seed & _WORD

    def word(self) -> int:
        """Return the next whole number below 2**64."""
        self._state = (self._state + 0x9E3779B97F4A7C15) & _WORD
        z = self._state
        z = ((z ^ (z >> 30)) * 0xBF58476D1CE4E5B9) & _WORD
        z = ((z ^ (z >> 27)) * 0x94D049BB133111EB) & _WORD
        return z ^ (z >> 31)

    def below(self, count: int) -> int:
        """Return a whole number from 0 to ``count`` - 1; ``count`` is at least 1."""
        return (self.word() * count) >> 64

    def shuffle(self, things: MutableSequence[Any]) -> None:
        """Bring things into a drawn order, in place: each from the last on changes places with one up to it."""
        for i in range(len(things) - 1, 0, -1):
            other = self.below(i + 1)
            things[i], things[other] = things[other], things[i]
