"""Typed errors that carry data; each message says what was found, where, and what to do.

Every class derives from `LoopwrightError` and from the built-in that a caller would catch. Fields
are positional attributes, so that errors survive pickling (a worker process sends them home).
"""

from __future__ import annotations

from difflib import get_close_matches

import attrs

__all__ = [
    "FootError",
    "GaugeError",
    "LoopwrightError",
    "MeasureError",
    "ShoeSizeError",
    "SizingError",
    "StitchDefinitionError",
    "UnitError",
    "UnknownStitchError",
    "YarnError",
]


class LoopwrightError(Exception):
    """Root of all errors that this package raises on purpose."""


@attrs.define
class StitchDefinitionError(LoopwrightError, ValueError):
    """A row of the stitch table contradicts itself."""

    key: str
    problem: str

    def __str__(self) -> str:
        return f"stitch {self.key!r}: {self.problem}"


@attrs.define
class UnknownStitchError(LoopwrightError, KeyError):
    """No stitch of this key; near matches are suggested."""

    key: str
    known: tuple[str, ...]

    def __str__(self) -> str:
        near = get_close_matches(self.key, self.known, n=3)
        hint = f"did you mean {' or '.join(near)}?" if near else "see loopwright.STITCHES"
        return f"no stitch is called {self.key!r}; {hint}"


@attrs.define
class UnitError(LoopwrightError, ValueError):
    """A measure without a unit, with the wrong unit, or with an impossible number."""

    what: str
    problem: str
    found: str
    expected: str

    def __str__(self) -> str:
        return f"{self.what}: {self.problem}: found {self.found}; expected {self.expected}"


@attrs.define
class MeasureError(LoopwrightError, ValueError):
    """A number that cannot be right: what it was, what was found, what was expected."""

    what: str
    found: str
    expected: str

    def __str__(self) -> str:
        return f"{self.what}: found {self.found}; {self.expected}"


@attrs.define
class GaugeError(MeasureError):
    """A swatch's counts that no fabric has."""


@attrs.define
class FootError(MeasureError):
    """A measure that no foot has, or two that contradict each other."""


@attrs.define
class ShoeSizeError(MeasureError):
    """A shoe size that its scale doesn't have."""


@attrs.define
class SizingError(MeasureError):
    """A stitch or round count that cannot be met."""


@attrs.define
class YarnError(MeasureError):
    """A yarn, or a yarn's share of a fabric, that makes no sense."""
