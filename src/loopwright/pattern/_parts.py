"""The parts of a sock: what a heading of a pattern stands over."""

from __future__ import annotations

import re

from loopwright.choice import Choice

__all__ = ["SockPart", "part_named"]


class SockPart(Choice):
    """A part of a sock.

    Examples
    --------
    >>> from loopwright.pattern import Section
    >>> Section("Short-row heel", part="heel").part
    <SockPart.HEEL: 'heel'>
    """

    CUFF = "cuff"
    LEG = "leg"
    HEEL = "heel"
    FOOT = "foot"
    TOE = "toe"
    FINISHING = "finishing"


def part_named(heading: str) -> SockPart | None:
    """Return the one part that a heading of a text names, None for none or several."""
    words = set(re.findall(r"[a-z]+", heading.lower()))
    named = [part for part in SockPart if part.value in words]
    return named[0] if len(named) == 1 else None
