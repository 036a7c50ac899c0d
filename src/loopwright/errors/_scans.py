"""Errors of scans: files that hold no mesh, and meshes that are no foot."""

from __future__ import annotations

import attrs

from loopwright.errors._root import LoopwrightError

__all__ = ["ScanError"]


@attrs.define(slots=False)
class ScanError(LoopwrightError, ValueError):
    """A scan that can't be read, or in which no foot is found: where, what, what to do.

    Examples
    --------
    >>> from loopwright.scanning import read_scan
    >>> read_scan(b"solid nothing")
    Traceback (most recent call last):
    ...
    loopwright.errors.ScanError: scan: no triangle in it; export the mesh again, as PLY, OBJ or STL
    """

    place: str
    problem: str
    advice: str

    def __str__(self) -> str:
        return f"{self.place}: {self.problem}; {self.advice}"
