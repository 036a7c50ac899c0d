"""Errors of stitches and of work on the needles."""

from __future__ import annotations

from difflib import get_close_matches

import attrs

from loopwright.errors._root import LoopwrightError
from loopwright.plurals import plural

__all__ = [
    "CannotWorkError",
    "CountError",
    "StitchDefinitionError",
    "UnknownLoopError",
    "UnknownStitchError",
]


@attrs.define(slots=False)
class StitchDefinitionError(LoopwrightError, ValueError):
    """A row of the stitch table contradicts itself.

    Examples
    --------
    >>> from loopwright import Stitch
    >>> Stitch("k4tog", "knit four together", takes=4, stack=(3, 2, 1))
    Traceback (most recent call last):
    ...
    loopwright.errors.StitchDefinitionError: stitch 'k4tog': stack (3, 2, 1) must rank each of 4
        parents once
    """

    key: str
    problem: str

    def __str__(self) -> str:
        return f"stitch {self.key!r}: {self.problem}"


@attrs.define(slots=False)
class UnknownStitchError(LoopwrightError, KeyError):
    """No stitch of this key; near matches are suggested.

    Examples
    --------
    >>> from loopwright import STITCHES
    >>> STITCHES["k2to"]
    Traceback (most recent call last):
    ...
    loopwright.errors.UnknownStitchError: no stitch is called 'k2to'; did you mean k2tog or
        p2tog or k3tog?
    """

    key: str
    known: tuple[str, ...]

    def __str__(self) -> str:
        near = get_close_matches(str(self.key), self.known, n=3)
        hint = "see loopwright.STITCHES; one of your own is known by the table given as `stitches`"
        if near:
            hint = f"did you mean {' or '.join(near)}?"
        return f"no stitch is called {self.key!r}; {hint}"


@attrs.define(slots=False)
class UnknownLoopError(LoopwrightError, IndexError):
    """The fabric has no loop of this id, or it was taken out.

    Examples
    --------
    >>> from loopwright import Work
    >>> from loopwright.making import cast_on
    >>> work = Work()
    >>> cast_on(work, 8)
    >>> work.fabric().stitch_of(8)
    Traceback (most recent call last):
    ...
    loopwright.errors.UnknownLoopError: the fabric has no loop 8: ids run from 0 to 7, without
        those of waste yarn taken out
    """

    loop: int
    rows: int

    def __str__(self) -> str:
        return (
            f"the fabric has no loop {self.loop}: ids run from 0 to {self.rows - 1}, without those "
            "of waste yarn taken out"
        )


@attrs.define(slots=False)
class CannotWorkError(LoopwrightError, ValueError):
    """An operation that the needles don't allow; the work is as it was before.

    Examples
    --------
    >>> from loopwright import Work
    >>> from loopwright.making import cast_on
    >>> work = Work()
    >>> cast_on(work, 4)
    >>> work.turn()
    >>> work.work(["k2tog"] * 3)
    Traceback (most recent call last):
    ...
    loopwright.errors.CannotWorkError: cannot work these stitches in course 1, with 4 stitches
        on the needles: 6 stitches are wanted and 4 are left in this row
    >>> work.count
    4
    """

    operation: str
    problem: str
    course: int
    live: int
    advice: str = ""

    def __str__(self) -> str:
        advice = f"; {self.advice}" if self.advice else ""
        return (
            f"cannot {self.operation} in course {self.course}, with "
            f"{plural(self.live, 'stitch')} on the needles: {self.problem}{advice}"
        )


@attrs.define(slots=False)
class CountError(CannotWorkError):
    """The stitches on the needles are not as many as were asked for or stated.

    Examples
    --------
    >>> from loopwright import Work
    >>> from loopwright.making import cast_on
    >>> work = Work()
    >>> cast_on(work, 8)
    >>> work.turn()
    >>> work.row(["k2tog"] * 3)
    Traceback (most recent call last):
    ...
    loopwright.errors.CountError: cannot work this row in course 1, with 8 stitches on the
        needles: its instructions use 6 stitches of 8; add 2
    """

    expected: int = attrs.field(kw_only=False, default=0)
    found: int = 0
