"""Typed errors that carry data; each message says what was found, where, and what to do.

Every class derives from `LoopwrightError` and from the built-in that a caller would catch. Fields
are positional attributes, so that errors survive pickling (a worker process sends them home). They
have no slots: some schedulers pickle exceptions by their dictionary, and would lose the fields.
"""

from __future__ import annotations

from difflib import get_close_matches

import attrs

from loopwright.counted import counted

__all__ = [
    "CannotWorkError",
    "ChoiceError",
    "CountError",
    "DesignError",
    "FabricFileError",
    "FileError",
    "FootError",
    "GaugeError",
    "KnitError",
    "LoopwrightError",
    "MeasureError",
    "PatternSyntaxError",
    "PictureError",
    "ShapeError",
    "ShoeSizeError",
    "SizeError",
    "SizingError",
    "StepError",
    "StitchDefinitionError",
    "StoreError",
    "StudyError",
    "UnitError",
    "UnknownLoopError",
    "UnknownStitchError",
    "UnsoundFabricError",
    "YarnError",
]


class LoopwrightError(Exception):
    """Root of all errors that this package raises on purpose."""


@attrs.define(slots=False)
class StitchDefinitionError(LoopwrightError, ValueError):
    """A row of the stitch table contradicts itself."""

    key: str
    problem: str

    def __str__(self) -> str:
        return f"stitch {self.key!r}: {self.problem}"


@attrs.define(slots=False)
class UnknownStitchError(LoopwrightError, KeyError):
    """No stitch of this key; near matches are suggested."""

    key: str
    known: tuple[str, ...]

    def __str__(self) -> str:
        near = get_close_matches(self.key, self.known, n=3)
        hint = f"did you mean {' or '.join(near)}?" if near else "see loopwright.STITCHES"
        return f"no stitch is called {self.key!r}; {hint}"


@attrs.define(slots=False)
class UnitError(LoopwrightError, ValueError):
    """A measure without a unit, with the wrong unit, or with an impossible number."""

    what: str
    problem: str
    found: str
    expected: str

    def __str__(self) -> str:
        return f"{self.what}: {self.problem}: found {self.found}; expected {self.expected}"


@attrs.define(slots=False)
class MeasureError(LoopwrightError, ValueError):
    """A value that cannot be right: what it was, what was found, what was expected."""

    what: str
    found: str
    expected: str

    def __str__(self) -> str:
        return f"{self.what}: found {self.found}; {self.expected}"


@attrs.define(slots=False)
class ChoiceError(MeasureError):
    """A word that is none of those to choose from."""


@attrs.define(slots=False)
class GaugeError(MeasureError):
    """A swatch's counts that no fabric has."""


@attrs.define(slots=False)
class FootError(MeasureError):
    """A measure that no foot has, or two that contradict each other."""


@attrs.define(slots=False)
class ShoeSizeError(MeasureError):
    """A shoe size that its scale doesn't have."""


@attrs.define(slots=False)
class SizingError(MeasureError):
    """A stitch or round count that cannot be met."""


@attrs.define(slots=False)
class YarnError(MeasureError):
    """A yarn, or a yarn's share of a fabric, that makes no sense."""


@attrs.define(slots=False)
class ShapeError(LoopwrightError, ValueError):
    """A shape, a line on it or a form that can't be had."""

    found: str
    advice: str

    def __str__(self) -> str:
        return f"{self.found}: {self.advice}"


@attrs.define(slots=False)
class UnknownLoopError(LoopwrightError, IndexError):
    """The fabric has no loop of this id, or it was taken out."""

    loop: int
    rows: int

    def __str__(self) -> str:
        return (
            f"the fabric has no loop {self.loop}: ids run from 0 to {self.rows - 1}, without those "
            "of waste yarn taken out"
        )


@attrs.define(slots=False)
class CannotWorkError(LoopwrightError, ValueError):
    """An operation that the needles don't allow; the work is as it was before."""

    operation: str
    problem: str
    course: int
    live: int
    advice: str = ""

    def __str__(self) -> str:
        advice = f"; {self.advice}" if self.advice else ""
        return (
            f"cannot {self.operation} in course {self.course}, with "
            f"{counted(self.live, 'stitch')} on the needles: {self.problem}{advice}"
        )


@attrs.define(slots=False)
class CountError(CannotWorkError):
    """The stitches on the needles are not as many as were asked for or stated."""

    expected: int = attrs.field(kw_only=False, default=0)
    found: int = 0


@attrs.define(slots=False)
class FileError(LoopwrightError, OSError):
    """A file that cannot be read or written."""

    path: str
    problem: str
    advice: str

    def __str__(self) -> str:
        return f"{self.path}: {self.problem}; {self.advice}"


@attrs.define(slots=False)
class StudyError(MeasureError):
    """A study, or a part of one, that can't be made."""


@attrs.define(slots=False)
class StoreError(FileError):
    """A folder of a study that can't be used or written; what it holds is unharmed."""


@attrs.define(slots=False)
class SizeError(LoopwrightError, ValueError):
    """A value by size that is malformed, or lacks an entry."""

    values: tuple[object, ...]
    problem: str

    def __str__(self) -> str:
        return self.problem


@attrs.define(slots=False)
class StepError(LoopwrightError, ValueError):
    """A pattern step, or an item of one, that contradicts itself."""

    step: str
    problem: str

    def __str__(self) -> str:
        return f"{self.step}: {self.problem}"


@attrs.define(slots=False)
class PatternSyntaxError(LoopwrightError, ValueError):
    """Instructions that cannot be read: where, what was found, what could stand there."""

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
    """Instructions that cannot be worked: the step, where in it, what was on the needles."""

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


@attrs.define(slots=False)
class UnsoundFabricError(LoopwrightError, ValueError):
    """A fabric with mistakes was to be used as a sound one; carries them in words."""

    mistakes: tuple[str, ...]

    def __str__(self) -> str:
        return "the fabric has mistakes:\n" + "\n".join(f"  {text}" for text in self.mistakes)


@attrs.define(slots=False)
class PictureError(LoopwrightError, ValueError):
    """A picture that can't be drawn, or a chart that can't be read: what, why, what to do."""

    what: str
    problem: str
    advice: str

    def __str__(self) -> str:
        return f"{self.what}: {self.problem}; {self.advice}"


@attrs.define(slots=False)
class DesignError(LoopwrightError, ValueError):
    """A key of a design file that can't be used: which, on which line, what was expected.

    Where another error is the reason, `refused` is true and `found` is its message. `source` is
    the file's name, where there is one.
    """

    key: str
    line: int
    found: str
    expected: str
    refused: bool = False
    source: str = ""

    def __str__(self) -> str:
        where = ", ".join(filter(None, (self.source, f"line {self.line}", self.key)))
        if self.refused:
            return f"{where}: {self.found}"
        return f"{where}: found {self.found}; expected {self.expected}"


@attrs.define(slots=False)
class FabricFileError(LoopwrightError, ValueError):
    """A fabric file that can't be read or written: where, what was found, what to do."""

    place: str
    problem: str
    advice: str

    def __str__(self) -> str:
        return f"{self.place}: {self.problem}; {self.advice}"
