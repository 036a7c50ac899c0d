"""The outline of a heel lying flat: the pieces that its stitches and rows come to, for schematics.

The leg's end is at the top, in whichever direction the sock is knitted. Places are mm from the
middle to the right, and up.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot
from typing import TypeAlias

import attrs

from loopwright.choice import Choice

__all__ = ["DEPTH", "HeelMeasure", "HeelOutline", "HeelPart", "MeasureLine", "Spot", "across",
           "band", "gusset_part", "mirrored"]  # fmt: skip

Spot: TypeAlias = tuple[float, float]
"""A place: mm from the middle to the right, and up."""

DEPTH = "heel, depth"
"""What a heel adds to the length of the foot; the sock and its heel both show it."""


class MeasureLine(Choice):
    """Where the line of a measure is drawn."""

    ABOVE = "above"
    BELOW = "below"
    BESIDE = "beside"
    ACROSS = "across"


@attrs.frozen
class HeelPart:
    """A piece of the heel: its name and its outline, mm."""

    name: str
    outline: tuple[Spot, ...]


@attrs.frozen
class HeelMeasure:
    """A length of the heel, in words, from one place to another."""

    words: str
    start: Spot
    stop: Spot
    line: MeasureLine

    @property
    def mm(self) -> float:
        """Its length, mm."""
        return hypot(self.stop[0] - self.start[0], self.stop[1] - self.start[1])


@attrs.frozen(kw_only=True)
class HeelOutline:
    """A heel's own outline, and how it lies in the sock.

    Parameters
    ----------
    title : str
        What is drawn: "the heel by itself, lying flat".
    parts : tuple of HeelPart
    measures : tuple of HeelMeasure
    closed_mm : float, mm
        What is left to be closed, or between the turns of short rows, at the tip: the sock shows a
        line from the ankle's corner to it.
    is_closed : bool
        Whether that is closed, and a seam runs on round the tip.
    flap_mm, gusset_mm : float, mm
        How high a flap is and how long the gusset, along the foot: the sock shows both.

    Examples
    --------
    >>> from loopwright.sock import heel_named
    >>> from loopwright.sock.heels import Setting
    >>> outline = heel_named("forethought").outline(Setting(32, 32))  # 32 stitches to 10 cm
    >>> for measure in outline.measures:
    ...     print(f"{measure.words}: {measure.mm:.0f} mm")
    heel, width at its opening: 100 mm
    heel, depth: 51 mm
    heel, width where it is closed: 31 mm
    """

    title: str
    parts: tuple[HeelPart, ...]
    measures: tuple[HeelMeasure, ...]
    closed_mm: float = 0.0
    is_closed: bool = False
    flap_mm: float = 0.0
    gusset_mm: float = 0.0


def gusset_part(
    stitches: int, at_mm: float, *, heel_mm: float, stitch_mm: float, course_mm: float,
    down: bool = False,
) -> list[HeelPart]:  # fmt: skip
    """Return the gusset before or after a heel: a stitch at each side every other round."""
    if not stitches:
        return []
    wide = heel_mm + 2 * stitches * stitch_mm
    far = at_mm + (-2 if down else 2) * stitches * course_mm
    upper, lower = ((wide, at_mm), (heel_mm, far)) if down else ((heel_mm, far), (wide, at_mm))
    return [HeelPart("gusset", band(*upper, *lower))]


def band(upper_mm: float, high_mm: float, lower_mm: float, low_mm: float) -> tuple[Spot, ...]:
    """Return the outline of a piece between two level edges of these widths at these heights."""
    return mirrored([(upper_mm / 2, high_mm), (lower_mm / 2, low_mm)])


def mirrored(edge: Sequence[Spot]) -> tuple[Spot, ...]:
    """Return an outline from its right edge."""
    return (*edge, *((-x, y) for x, y in reversed(edge)))


def across(words: str, wide_mm: float, y_mm: float, line: MeasureLine) -> HeelMeasure:
    """Return a width, in words, at a height."""
    return HeelMeasure(words, (-wide_mm / 2, y_mm), (wide_mm / 2, y_mm), line)
