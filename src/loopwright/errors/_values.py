"""Errors of values: of another kind, without a unit, or such as cannot be."""

from __future__ import annotations

import attrs

from loopwright.errors._root import LoopwrightError

__all__ = [
    "ArgumentError",
    "ChoiceError",
    "FootError",
    "GaugeError",
    "MeasureError",
    "ShoeSizeError",
    "SizingError",
    "StudyError",
    "UnitError",
    "YarnError",
]


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
