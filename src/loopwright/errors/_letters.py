"""Letters that can't be printed."""

from __future__ import annotations

from unicodedata import name

import attrs

from loopwright.errors._root import LoopwrightError

__all__ = ["LetterError"]


@attrs.define(slots=False)
class LetterError(LoopwrightError, ValueError):
    r"""A letter that no font here can print.

    Parameters
    ----------
    place : str
        The document.
    letter : str

    Examples
    --------
    >>> print(LetterError("Tide Mill", "\N{SNOWMAN}"))
    Tide Mill: no font here has the letter '☃' (U+2603 SNOWMAN); install a font that has
    it, or write it otherwise
    """

    place: str
    letter: str

    def __str__(self) -> str:
        codes = ", ".join(f"U+{ord(one):04X} {name(one, '')}".strip() for one in self.letter)
        told = f"no font here has the letter {self.letter!r} ({codes})"
        return f"{self.place}: {told}; install a font that has it, or write it otherwise"
