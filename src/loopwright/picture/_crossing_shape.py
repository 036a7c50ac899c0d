"""How a chart draws a crossing: bands of stitches that change places, those in front over the rest.

General chart practice: one sign is as wide as the crossing. What lies in front runs through from
foot to head, what lies behind is hidden where it passes beneath. A purl has a dot, and what is
worked through the back loop a ring. It looks as the crossing does from the right side, whichever
side was worked.
"""

from __future__ import annotations

from itertools import pairwise
from xml.etree import ElementTree as ET

import attrs

from loopwright.fabric.stitches import Stitch
from loopwright.picture.svg import INK, PAPER, circle, number, path

__all__ = ["draw_crossing"]

_INSET = 0.14  # of a square, between the edge of a band and that of its squares
_DOT = 0.1
_RING = 0.15


@attrs.frozen
class _Band:
    """Stitches side by side that go the same way: their first foot and head from the left."""

    foot: int
    head: int
    count: int
    depth: int
    purls: tuple[int, ...]  # which of them, from the left
    twisted: tuple[int, ...] = ()


def draw_crossing(
    row: Stitch, x: float, y: float, side: float, *, from_right: bool, right_side: bool
) -> list[ET.Element]:
    """Return a crossing drawn in squares of this side, the leftmost with its corner at (x, y).

    Parameters
    ----------
    row : Stitch
    x, y, side : float
    from_right : bool
        Whether its first stitch stands at the right.
    right_side : bool
        Whether it is worked with the right side before the knitter.
    """
    found = []
    for band in sorted(_bands(row, from_right, right_side), key=lambda band: -band.depth):
        corners = [
            (x + (band.foot + _INSET) * side, y + side),
            (x + (band.head + _INSET) * side, y),
            (x + (band.head + band.count - _INSET) * side, y),
            (x + (band.foot + band.count - _INSET) * side, y + side),
        ]
        places = [f"{number(a)} {number(b)}" for a, b in corners]
        found.append(path(f"M{'L'.join(places)}Z", fill=PAPER, stroke="none"))
        sides = "".join(f"M{a}L{b}" for a, b in (places[:2], places[2:]))
        found.append(path(sides, stroke_width=1.2, class_="band"))
        for purl in band.purls:
            for share in (0.14, 0.86):  # near the head and near the foot
                middle = band.head + (band.foot - band.head) * share + purl + 0.5
                found.append(_dot(x + middle * side, y + share * side, _DOT * side))
        for twisted in band.twisted:
            for share in (0.22, 0.78):
                middle = band.head + (band.foot - band.head) * share + twisted + 0.5
                found.append(circle(x + middle * side, y + share * side, _RING * side, stroke=INK,
                                    stroke_width=0.9, fill=PAPER, class_="twisted"))  # fmt: skip
    return found


def _dot(x: float, y: float, radius: float) -> ET.Element:
    left, right, r = number(x - radius), number(x + radius), number(radius)
    turn = f"A{r} {r} 0 1 0"
    return path(
        f"M{left} {number(y)}{turn} {right} {number(y)}{turn} {left} {number(y)}Z",
        fill=INK, stroke="none",
    )  # fmt: skip


def _bands(row: Stitch, from_right: bool, right_side: bool) -> list[_Band]:
    """Return the bands of a crossing as seen from the right side, from the left."""
    width, deepest = row.takes, max(row.stack)

    def seen(place: int) -> int:
        return width - 1 - place if from_right else place

    stitches = sorted(
        (
            seen(place),
            seen(made),
            row.stack[place] if right_side else deepest - row.stack[place],
            (row.faces[made] == "p") == right_side,
            bool(row.twists[made]),
        )
        for made, place in enumerate(row.order)
    )
    breaks = [0]
    for at, (one, other) in enumerate(pairwise(stitches), start=1):
        if other[1] != one[1] + 1 or other[2] != one[2]:
            breaks.append(at)
    bands = []
    for start, stop in pairwise([*breaks, width]):
        mine = stitches[start:stop]
        purls = tuple(n for n, stitch in enumerate(mine) if stitch[3])
        twisted = tuple(n for n, stitch in enumerate(mine) if stitch[4])
        bands.append(_Band(mine[0][0], mine[0][1], len(mine), mine[0][2], purls, twisted))
    return bands
