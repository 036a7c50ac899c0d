"""Errors of patterns: texts that cannot be read, steps that cannot be worked."""

from __future__ import annotations

import attrs

from loopwright.errors._root import LoopwrightError

__all__ = ["KnitError", "PatternSyntaxError", "SizeError", "StepError"]


@attrs.define(slots=False)
class SizeError(LoopwrightError, ValueError):
    """A value by size that is malformed, or lacks an entry.

    Examples
    --------
    >>> from loopwright.pattern import CastOn, Pattern, of_size
    >>> toe = Pattern("Toe", [CastOn((16, 20))], sizes=["S", "M", "L"])
    >>> of_size(toe, "L")
    Traceback (most recent call last):
    ...
    loopwright.errors.SizeError: 16 (20) has 2 entries, none for size 3
    """

    values: tuple[object, ...]
    problem: str

    def __str__(self) -> str:
        return self.problem


@attrs.define(slots=False)
class StepError(LoopwrightError, ValueError):
    """A pattern step, or an item of one, that contradicts itself.

    Examples
    --------
    >>> from loopwright.pattern import Round
    >>> Round([])
    Traceback (most recent call last):
    ...
    loopwright.errors.StepError: Round: there is nothing to work
    """

    step: str
    problem: str

    def __str__(self) -> str:
        return f"{self.step}: {self.problem}"


@attrs.define(slots=False)
class PatternSyntaxError(LoopwrightError, ValueError):
    """Instructions that cannot be read: where, what was found, what could stand there.

    Examples
    --------
    >>> from loopwright import read
    >>> read("Cast on 8 sts. Rnd 1: K2, kn2tog, k4.")
    Traceback (most recent call last):
    ...
    loopwright.errors.PatternSyntaxError: line 1, column 27: found 'kn2tog'
        Cast on 8 sts. Rnd 1: K2, kn2tog, k4.
                                  ^
    expected a stitch such as k3, p2, ssk or * or [ or 'turn' or 'do not turn' or another
        instruction
    did you mean k2tog or p2tog?
    """

    line: int
    column: int
    found: str
    expected: tuple[str, ...]
    source: str = ""
    hint: str = ""

    def __str__(self) -> str:
        lines = [f"line {self.line}, column {self.column}: {self.found}"]
        if self.source:
            start = max(0, self.column - 61)
            lines += ["    " + self.source[start : start + 100].rstrip()]
            lines += ["    " + " " * (self.column - 1 - start) + "^"]
        if self.expected:
            lines.append("expected " + " or ".join(self.expected))
        return "\n".join(lines + ([self.hint] if self.hint else []))


@attrs.define(slots=False)
class KnitError(LoopwrightError, ValueError):
    """Instructions that cannot be worked: the step, where in it, what was on the needles.

    Examples
    --------
    >>> from loopwright import knit, read
    >>> knit(read("Cast on 8 sts. Join in the round. Rnd 1: K2, k2tog, k5."))
    Traceback (most recent call last):
    ...
    loopwright.errors.KnitError: line 1, column 53: Rnd: K2, k2tog, k5, stitch 5: k5 needs 5
        sts, 4 are left; on the needles: 7 sts, 3 of them worked
    """

    step: str
    stitch: int
    on_needles: str
    problem: str
    line: int = 0
    column: int = 0
    size: str = ""

    def __str__(self) -> str:
        where = f"line {self.line}, column {self.column}: " if self.line else ""
        size = f" (size {self.size})" if self.size else ""
        return (
            f"{where}{self.step}, stitch {self.stitch}{size}: {self.problem}; "
            f"on the needles: {self.on_needles}"
        )
