"""Knitting needles: their thickness, and the numbers that they have in two systems."""

from __future__ import annotations

import csv
from functools import cache
from importlib.resources import files
from typing import Final

import attrs

from loopwright.border import guard
from loopwright.errors import MeasureError

__all__ = ["NeedleSize", "needle_size", "needle_sizes"]

_NEAREST_MM: Final = 0.13  # a needle's sizes stand a quarter of a mm apart


@attrs.frozen
class NeedleSize:
    """A needle's thickness in mm, and its numbers in the United States and, formerly, Britain.

    Examples
    --------
    >>> print(needle_size(2.25))
    2.25 mm (US 1, old UK 13)
    """

    mm: float
    us: str = ""
    uk: str = ""

    def __str__(self) -> str:
        named = [f"{name} {size}" for name, size in (("US", self.us), ("old UK", self.uk)) if size]
        return f"{self.mm:g} mm" + (f" ({', '.join(named)})" if named else "")


@cache
def needle_sizes() -> tuple[NeedleSize, ...]:
    """Return the table of needle sizes, thinnest first; its source stands in the file.

    Examples
    --------
    >>> needle_sizes()[0].mm
    1.0
    """
    text = files("loopwright").joinpath("needles.csv").read_text("utf-8")
    rows = csv.DictReader(line for line in text.splitlines() if not line.startswith("#"))
    return tuple(NeedleSize(float(row["mm"]), row["us"], row["uk"]) for row in rows)


def needle_size(mm: float) -> NeedleSize:
    """Return a needle's size with the numbers that it has; without any where the table has none.

    Raises
    ------
    MeasureError
        No needle is so thick or so thin.
    """
    if not 0.5 <= mm <= 25:
        raise MeasureError("needle", f"{mm:g} mm", "expected 0.5 to 25 mm")
    near = min(needle_sizes(), key=lambda size: abs(size.mm - mm))
    return near if abs(near.mm - mm) < _NEAREST_MM / 2 else NeedleSize(mm)


guard(globals())
