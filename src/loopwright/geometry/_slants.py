"""Which way wales lean where stitches are decreased or increased.

Two stitches worked together pull what lies on one side of them a stitch over, and an increase
pushes it. The narrower side goes: in a wedge half of the fold between two decreases, along which
the wales then run with a slope of one stitch to a course. They rest at the hypotenuse of stitch and
course. At the height of a course they would be a seam too short for the panel that it borders, and
the heel comes out 8 % too small. The cells between them are sheared, not widened: laid as
rectangles, the fold has two thirds too much cloth, which must crumple. Where both sides are about
as wide each goes half a stitch. Which stitch lies on top has no say: a decrease that leans the
other way is as long.
"""

from __future__ import annotations

from typing import Final

import attrs
import numpy as np
from numpy.typing import NDArray

from loopwright.fabric.columns import CHAIN, EDGE, FACING, TURNED
from loopwright.fabric.fabric import Fabric
from loopwright.fabric.stitches import Kind

__all__ = ["slants"]

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]

_NARROW: Final = 0.5  # a side goes whole where it is at most half as wide as the other
_WIDEST_FOLD: Final = 8  # stitches; what is wider is a panel, and stands as it is


def slants(fabric: Fabric) -> Floats:
    """Return how far each through edge leans, in stitches ahead in the course of the new loop.

    Not a number in the very middle of a fold, which goes both ways; its length is that of its
    neighbours.

    Returns
    -------
    ndarray, shape (edges,)
    """
    head = (fabric.info & (EDGE | CHAIN | FACING)) == 0
    strand = fabric.kinds(Kind.LIFTED, Kind.WRAP)[fabric.parent]  # these close gaps, no more
    through = _Through.of(fabric, head & ~strand)
    out = np.zeros(len(fabric.child) + 1)  # the last place is for loops that have no such edge
    for band in _bands(fabric, np.flatnonzero((through.many > 1) & fabric.kinds(Kind.WORKED))):
        own = through.of_loop(band.loop)
        way = band.way
        if len(own) > 2:  # the middle goes along the fold, the outer ones stand upright
            out[own[1:-1]] = np.nan
        elif way:
            out[own[0 if way > 0 else -1]] = way
            band.fold(fabric, through, out, way)
        else:
            out[own[0]], out[own[-1]] = 0.5, -0.5
    made, lifted = _made(fabric, head, through)
    for band in _bands(fabric, made):
        way = -band.way
        out[lifted[band.loop]] = way / 2  # the strand lies half a stitch from either neighbour
        if way:
            band.fold(fabric, through, out, way)
        else:
            for beside, by in ((fabric.previous, -0.5), (fabric.next, 0.5)):
                if through.many[beside[band.loop]] == 1:
                    out[through.of_loop(beside[band.loop])] = by
    return out[:-1]


@attrs.frozen(eq=False)
class _Through:
    """Through edges by the loop that they lead to."""

    edges: Ints
    first: Ints
    many: Ints

    @classmethod
    def of(cls, fabric: Fabric, chosen: Bools) -> _Through:
        edges = np.flatnonzero(chosen)
        edges = edges[np.argsort(fabric.child[edges], kind="stable")]
        many = np.bincount(fabric.child[edges], minlength=len(fabric.next))
        return cls(edges, np.cumsum(many) - many, many)

    def of_loop(self, loop: int) -> Ints:
        return self.edges[self.first[loop] : self.first[loop] + self.many[loop]]


@attrs.frozen
class _Band:
    """A shaped loop, and how many loops of its course stand before and after it.

    ``shared`` says of either side whether it ends at another shaped loop rather than at an edge.
    """

    loop: int
    before: int
    after: int
    shared: tuple[bool, bool]

    @property
    def way(self) -> float:
        """Which way a decrease pulls its narrow side: 1 ahead, -1 back, 0 where neither gives."""
        if self.before <= min(_NARROW * self.after, _WIDEST_FOLD):
            return 1.0
        return -1.0 if self.after <= min(_NARROW * self.before, _WIDEST_FOLD) else 0.0

    def fold(self, fabric: Fabric, through: _Through, out: Floats, by: float) -> None:
        """Lean the narrow side, as far as the middle where another shaped loop pulls there too."""
        ahead = self.after < self.before
        wide, step = (self.after, fabric.next) if ahead else (self.before, fabric.previous)
        goes = (wide + 1) // 2 if self.shared[ahead] else wide
        at = self.loop
        for k in range(goes):
            at = int(step[at])
            if at >= 0 and through.many[at] == 1:
                middle = self.shared[ahead] and 2 * k + 1 == wide
                out[through.of_loop(at)] = np.nan if middle else by


def _made(fabric: Fabric, head: Bools, through: _Through) -> tuple[Ints, Ints]:
    """Loops made between two others, and by loop the edge from the strand that it is drawn through.

    (The last place of all stands for none.)
    """
    rows = len(fabric.next)
    from_strand = np.flatnonzero(head & fabric.kinds(Kind.LIFTED)[fabric.parent])
    lifted = np.full(rows, len(fabric.child))
    lifted[fabric.child[from_strand]] = from_strand
    alone = (lifted < len(fabric.child)) & (through.many == 0)
    before, after = fabric.previous, fabric.next
    made = alone & ~alone[before] & ~alone[after]  # a recaptured row is no increase
    made |= fabric.kinds(Kind.OVER)
    return np.flatnonzero(made & (before >= 0) & (after >= 0)), lifted


def _bands(fabric: Fabric, shaped: Ints) -> list[_Band]:
    """Each shaped loop, and what stands beside it in its course."""
    if not len(shaped):
        return []
    course, strand = fabric.course[shaped], fabric.strand[shaped]
    same = (course[1:] == course[:-1]) & (strand[1:] == strand[:-1])
    gap = np.where(same, np.diff(shaped) - 1, 0)
    first, last = _course_ends(fabric, shaped)
    starts, ends = np.concatenate([[True], ~same]), np.concatenate([~same, [True]])
    head, tail = shaped - first, last - shaped
    before, after = np.concatenate([[0], gap]), np.concatenate([gap, [0]])
    is_round = (fabric.flags[last] & TURNED) == 0
    before[starts] = head[starts] + np.where(is_round[ends], tail[ends], 0)
    after[ends] = tail[ends] + np.where(is_round[ends], head[starts], 0)
    shared_before, shared_after = ~starts | is_round, ~ends | is_round
    return [
        _Band(int(loop), int(b), int(a), (bool(x), bool(y)))
        for loop, b, a, x, y in zip(shaped, before, after, shared_before, shared_after, strict=True)
    ]


def _course_ends(fabric: Fabric, shaped: Ints) -> tuple[Ints, Ints]:
    """First and last loop of the course of each."""
    course = fabric.course.astype(np.int64)
    change = np.flatnonzero((course[1:] != course[:-1]) | (fabric.strand[1:] != fabric.strand[:-1]))
    starts = np.concatenate([[0], change + 1])
    ends = np.concatenate([change, [len(course) - 1]])
    at = np.searchsorted(starts, shaped, side="right") - 1
    return starts[at], ends[at]
