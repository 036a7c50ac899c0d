"""Typed errors that carry data; each message says what was found, where, and what to do.

Every class derives from `LoopwrightError` and from the built-in that a caller would catch. Fields
are positional attributes, so that errors survive pickling (a worker process sends them home). They
have no slots: some schedulers pickle exceptions by their dictionary, and would lose the fields.
"""

from __future__ import annotations

from difflib import get_close_matches

import attrs

from loopwright.errors._graphs import GraphError, NotKnittableError
from loopwright.errors._letters import LetterError
from loopwright.errors._root import LoopwrightError
from loopwright.errors._scans import ScanError
from loopwright.plurals import plural

__all__ = [
    "ArgumentError",
    "CannotWorkError",
    "ChoiceError",
    "CountError",
    "DesignError",
    "FabricFileError",
    "FileError",
    "FootError",
    "GaugeError",
    "GraphError",
    "KnitError",
    "LetterError",
    "LoopwrightError",
    "MeasureError",
    "NotKnittableError",
    "PartError",
    "PatternSyntaxError",
    "PictureError",
    "RecordError",
    "ScanError",
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
        near = get_close_matches(self.key, self.known, n=3)
        hint = f"did you mean {' or '.join(near)}?" if near else "see loopwright.STITCHES"
        return f"no stitch is called {self.key!r}; {hint}"


@attrs.define(slots=False)
class UnitError(LoopwrightError, ValueError):
    """A measure without a unit, with the wrong unit, or with an impossible number.

    Examples
    --------
    >>> from loopwright import Gauge
    >>> Gauge.of(28, 40, over="10")
    Traceback (most recent call last):
    ...
    loopwright.errors.UnitError: swatch: not a number with a unit: found '10'; expected a length
        with its unit, such as '25 cm', '9 1/2 in' or 25 * cm
    """

    what: str
    problem: str
    found: str
    expected: str

    def __str__(self) -> str:
        return f"{self.what}: {self.problem}: found {self.found}; expected {self.expected}"


@attrs.define(slots=False)
class MeasureError(LoopwrightError, ValueError):
    """A value that cannot be right: what it was, what was found, what was expected.

    Examples
    --------
    >>> from loopwright.length import Length
    >>> Length(248.0, -3.0)
    Traceback (most recent call last):
    ...
    loopwright.errors.MeasureError: length: found 248.0 ± -3.0 mm; expected two finite numbers,
        the second not below 0
    """

    what: str
    found: str
    expected: str

    def __str__(self) -> str:
        return f"{self.what}: found {self.found}; {self.expected}"


@attrs.define(slots=False)
class ArgumentError(LoopwrightError, TypeError):
    """A value of another kind than the one that an operation or a class takes.

    Examples
    --------
    >>> from loopwright import Sock, read
    >>> read(64)
    Traceback (most recent call last):
    ...
    loopwright.errors.ArgumentError: read: text: found 64; expected str
    """

    operation: str
    argument: str
    found: str
    expected: str

    def __str__(self) -> str:
        return f"{self.operation}: {self.argument}: found {self.found}; {self.expected}"


@attrs.define(slots=False)
class ChoiceError(MeasureError):
    """A word that is none of those to choose from."""


@attrs.define(slots=False)
class GaugeError(MeasureError):
    """A swatch's counts that no fabric has.

    Examples
    --------
    >>> from loopwright import Gauge
    >>> Gauge.of(40, 16, over="10 cm")
    Traceback (most recent call last):
    ...
    loopwright.errors.GaugeError: gauge: found 0.40 courses to a stitch's width; plain knitting
        has about 1.2 to 1.5; check which count is which
    """


@attrs.define(slots=False)
class FootError(MeasureError):
    """A measure that no foot has, or two that contradict each other."""


@attrs.define(slots=False)
class ShoeSizeError(MeasureError):
    """A shoe size that its scale doesn't have.

    Examples
    --------
    >>> from loopwright.sock import ShoeSize
    >>> ShoeSize.of("EU 7")
    Traceback (most recent call last):
    ...
    loopwright.errors.ShoeSizeError: EU size: found 7; expected 15 to 55; it may be UK, UK
        child, US men, US women, US child
    """


@attrs.define(slots=False)
class SizingError(MeasureError):
    """A stitch or round count that cannot be met."""


@attrs.define(slots=False)
class YarnError(MeasureError):
    """A yarn, or a yarn's share of a fabric, that makes no sense.

    Examples
    --------
    >>> from loopwright import Yarn
    >>> Yarn("main", tex=25_000)
    Traceback (most recent call last):
    ...
    loopwright.errors.YarnError: yarn 'main': found 25000 tex, 4 m to 100 g; expected 5 to 20000
        tex for hand knitting
    """


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


@attrs.define(slots=False)
class FileError(LoopwrightError, OSError):
    """A file that cannot be read or written.

    Examples
    --------
    >>> from pathlib import Path
    >>> from loopwright.cli.files import read_text
    >>> read_text(Path("no-such-sock.toml"))
    Traceback (most recent call last):
    ...
    loopwright.errors.FileError: no-such-sock.toml: no such file or directory; check the name
        and its folder
    """

    path: str
    problem: str
    advice: str

    def __str__(self) -> str:
        return f"{self.path}: {self.problem}; {self.advice}"


@attrs.define(slots=False)
class StudyError(MeasureError):
    """A study, or a part of one, that can't be made.

    Examples
    --------
    >>> from loopwright.studies import variants
    >>> variants(heel=[])
    Traceback (most recent call last):
    ...
    loopwright.errors.StudyError: option 'heel': found no values; name one or more
    """


@attrs.define(slots=False)
class StoreError(FileError):
    """A folder of a study that can't be used or written; what it holds is unharmed.

    Examples
    --------
    >>> import tempfile
    >>> from pathlib import Path
    >>> from loopwright.studies import Store
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     Path(folder, "notes.txt").touch()
    ...     with Store(Path(folder)) as store:
    ...         store.claim({})
    Traceback (most recent call last):
    ...
    loopwright.errors.StoreError: ...: holds 'notes.txt'; name a new or an empty folder
    """


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
    loopwright.errors.KnitError: line 1, column 53: Rnd 1: K2, k2tog, k5, stitch 5: k5 needs 5
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
        main) and 13 more); close what should be closed
    """

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

    Examples
    --------
    >>> from loopwright.design import read_design
    >>> read_design("gauge = 28")
    Traceback (most recent call last):
    ...
    loopwright.errors.DesignError: line 1, gauge: found 28; expected a table, [gauge]
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
class PartError(LoopwrightError, TypeError):
    """A heel, toe, cuff or leg of one's own that can't be made known: which, why, what to do."""

    what: str
    problem: str
    advice: str

    def __str__(self) -> str:
        return f"{self.what}: {self.problem}; {self.advice}"


@attrs.define(slots=False)
class FabricFileError(LoopwrightError, ValueError):
    """A fabric file that can't be read or written: where, what was found, what to do."""

    place: str
    problem: str
    advice: str

    def __str__(self) -> str:
        return f"{self.place}: {self.problem}; {self.advice}"


@attrs.define(slots=False)
class RecordError(LoopwrightError, ValueError):
    """A file of a plan, a fit or a shape that can't be read or written: where, what, what to do."""

    place: str
    problem: str
    advice: str

    def __str__(self) -> str:
        return f"{self.place}: {self.problem}; {self.advice}"


# Wherever an error is defined, it is known by the name under which it is caught.
for _error in (LoopwrightError, GraphError, LetterError, NotKnittableError, ScanError):
    _error.__module__ = __name__
