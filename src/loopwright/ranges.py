"""How large a number may be that is set: by a design file or from Python, the same.

They are checked before any work is done with them. A gusset of a billion stitches would fill all
memory before a check of the sock could say that it does not fit.

Examples
--------
>>> MOST, LONGEST_MM, LENGTH  # mm, for fields whose names end so
(9999, 5000.0, '_mm')
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Final

import attrs

from loopwright.border import guard
from loopwright.errors import SizingError

__all__ = ["LENGTH", "LONGEST_MM", "MOST", "require_ranges"]

MOST: Final = 9999  # stitches, rounds, rows, shares; no sock has half as many of anything
LONGEST_MM: Final = 5000.0  # a leg is below 1 m; no measure of a foot comes near
LENGTH: Final = "_mm"  # a field whose name ends so is a length
_PLAIN = frozenset((str, bool, type(None)))


def require_ranges(thing: Any, subject: str, *, deep: bool = True) -> None:
    """Refuse numbers that no sock can have, in an attrs instance and what it is made of.

    Parameters
    ----------
    thing : attrs instance
    subject : str
        What it is, for the message.
    deep : bool
        Look into attrs instances that it holds too.

    Raises
    ------
    SizingError
        A field's number is no number or beyond `MOST`, or `LONGEST_MM` if its name ends in
        ``_mm``; names the field.

    Examples
    --------
    >>> from loopwright.sock.wedge import Wedge
    >>> require_ranges(Wedge(), "heel")
    >>> require_ranges(attrs.evolve(Wedge(), band=10**9), "heel")
    Traceback (most recent call last):
    ...
    loopwright.errors.SizingError: heel: band: found 1000000000; expected at most 9999
    """
    for place, value, most in _beyond(thing, deep=deep):
        many = isinstance(value, int) and abs(value) > 10**40
        found = "a number of more than 40 digits" if many else str(value)
        unit = " mm" if place.endswith(LENGTH) else ""
        raise SizingError(f"{subject}: {place}", found, f"expected at most {most:g}{unit}")


def _beyond(thing: Any, *, deep: bool) -> Iterator[tuple[str, float, float]]:
    """Yield each number that no sock can have: its place, itself, and what there may be."""
    for name, most in _limits_of(type(thing)):
        value = getattr(thing, name)
        if type(value) in _PLAIN:
            continue
        if deep and _limits_of(type(value)):
            for place, number, limit in _beyond(value, deep=True):
                yield f"{name}: {place}", number, limit
        elif isinstance(value, int | float) and not abs(value) <= most:  # which nan is not either
            yield name, value, most


_LIMITS: Final[dict[type, tuple[tuple[str, float], ...]]] = {}


def _limits_of(kind: type) -> tuple[tuple[str, float], ...]:
    """Return the fields of a class, each with the most that a number in it may be."""
    found = _LIMITS.get(kind)
    if found is None:
        names = [field.name for field in attrs.fields(kind)] if attrs.has(kind) else []
        found = tuple((name, LONGEST_MM if name.endswith(LENGTH) else MOST) for name in names)
        _LIMITS[kind] = found
    return found


guard(globals())
