"""Errors of what is made of a fabric: its use as a sound one, its shape, its pictures."""

from __future__ import annotations

import attrs

from loopwright.errors._root import LoopwrightError

__all__ = ["PictureError", "ShapeError", "UnsoundFabricError"]


@attrs.define(slots=False)
class UnsoundFabricError(LoopwrightError, ValueError):
    """A fabric with mistakes was to be used as a sound one; carries them in words.

    Examples
    --------
    >>> from loopwright import Work, check
    >>> from loopwright.making import cast_on
    >>> work = Work()
    >>> cast_on(work, 8)
    >>> check(work.fabric(), openings=2).require_ok()
    Traceback (most recent call last):
    ...
    loopwright.errors.UnsoundFabricError: the fabric has mistakes:
      surface: found 1 opening (of 14 edges), expected 2 (course 0, stitch 1 of 8: loop 0 (co,
        main) and 13 more); leave open what should be
    """

    mistakes: tuple[str, ...]

    def __str__(self) -> str:
        return "the fabric has mistakes:\n" + "\n".join(f"  {text}" for text in self.mistakes)


@attrs.define(slots=False)
class ShapeError(LoopwrightError, ValueError):
    """A shape, a line on it or a form that can't be had.

    Examples
    --------
    >>> from loopwright import Gauge, knit, read, shape
    >>> tube = knit(read("Cast on 8 sts. Join in the round. Rnds 1-3: Knit. Bind off all sts."))
    >>> shape(tube, Gauge(2.8, 4.0), start_mm=[(0, 0, 0)])
    Traceback (most recent call last):
    ...
    loopwright.errors.ShapeError: a start of shape (1, 3): give one point for each of 40 loops
    """

    found: str
    advice: str

    def __str__(self) -> str:
        return f"{self.found}: {self.advice}"


@attrs.define(slots=False)
class PictureError(LoopwrightError, ValueError):
    """A picture that can't be drawn, or a chart that can't be read: what, why, what to do."""

    what: str
    problem: str
    advice: str

    def __str__(self) -> str:
        return f"{self.what}: {self.problem}; {self.advice}"
