"""From a fabric and its gauge to a net: which edges there are, and how long each is at rest.

Along a course an edge rests at the width of a stitch, along a wale at the height of a course.
The exceptions:

- half a stitch on either side of a lifted strand and of a wrap, and between two loops of a graft
  or of a closed cast-on, whose loops serve the two halves in turn;
- a tall loop (carried past k courses) is k + 1 courses high, and the edges beside it slant;
- where the work turns without working the last loop again, the yarn slants to the next course;
- a three-needle bind-off takes up half a course on either side, for its ridge lies across (no
  source: an assumption);
- loops that a strand is drawn up through lie close together (an assumption: a fifth of a stitch);
- a decrease shears the cells beside it (see `_sheared`), an increase splays them.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from loopwright.errors import ShapeError
from loopwright.fabric.columns import CHAIN, DRAWN, EDGE, FACING, FLOAT, TURNED
from loopwright.fabric.fabric import Fabric
from loopwright.fabric.stitches import Kind
from loopwright.fabric.surface import surface
from loopwright.fit.net import Net
from loopwright.gauge import Gauge

__all__ = ["net_of"]

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]

_LARGEST_CELL: Final = 64  # edges; larger ones are left open, no fabric spans them
_DRAWN_UP: Final = 0.2  # of a stitch's width: about the yarn's own diameter
_SHORT_BAND: Final = 0.5  # a band shifts whole where it is at most half as wide as what lies beyond


def net_of(fabric: Fabric, gauge: Gauge) -> Net:
    """Return the net of `fabric`: vertex i is the loop ``fabric.ids[i]``.

    Raises
    ------
    ShapeError
        There are no loops.
    """
    if not len(fabric):
        raise ShapeError("a fabric without loops", "cast on first")
    vertex = np.full(len(fabric.next), -1, np.int64)
    vertex[fabric.ids] = np.arange(len(fabric))
    pairs, rest, along = _edges(fabric, gauge.stitch_width_mm, gauge.course_height_mm)
    pairs, rest, along = _merged(vertex[pairs], rest, along, len(fabric))
    return Net.build(len(fabric), pairs, rest, along, _rings(fabric, vertex))


def _edges(fabric: Fabric, w: float, h: float) -> tuple[Ints, Floats, Bools]:
    """Edges of the surface by loop ids, their rest lengths, and which run along a course."""
    slant = float(np.hypot(w, h))
    yarn = np.flatnonzero((fabric.next >= 0) & ((fabric.flags & FLOAT) == 0))
    after = fabric.next[yarn].astype(np.int64)
    turned = (fabric.flags[yarn] & TURNED) != 0
    halved = fabric.kinds(Kind.LIFTED, Kind.WRAP)
    both = fabric.kinds(Kind.GRAFTED) | _closed_cast_on(fabric)
    half = halved[yarn] | halved[after] | (both[yarn] & both[after])
    drawn = (fabric.flags & DRAWN) != 0
    yarn_rest = np.where(half, w / 2, w)
    yarn_rest = np.where(turned, slant, yarn_rest)
    yarn_rest = np.where(drawn[yarn] & drawn[after], _DRAWN_UP * w, yarn_rest)

    tall = _courses_carried(fabric)
    through_rest = np.asarray(h * (1.0 + tall[fabric.parent]), np.float64)
    ridge = np.zeros(len(fabric.next), bool)
    ridge[fabric.child[(fabric.info & FACING) != 0]] = True
    through_rest = np.where(ridge[fabric.child], h / 2, through_rest)
    through_rest = np.where((fabric.info & EDGE) != 0, h, through_rest)
    through_rest = np.where((fabric.info & CHAIN) != 0, w, through_rest)
    through_rest = _splayed(fabric, _sheared(fabric, through_rest, w, h), w, h)

    apart = np.abs(fabric.course[fabric.right] - fabric.course[fabric.left])
    apart = np.minimum(apart, np.maximum(tall[fabric.right], tall[fabric.left]))
    beside_rest = np.hypot(w, apart * h)

    pairs = np.concatenate(
        [
            np.stack([yarn, after], axis=1),
            np.stack([fabric.parent, fabric.child], axis=1),
            np.stack([fabric.right, fabric.left], axis=1),
        ]
    ).astype(np.int64)
    rest = np.concatenate([yarn_rest, through_rest, beside_rest])
    along = np.zeros(len(pairs), bool)
    along[: len(yarn)] = ~turned
    return pairs, rest, along


def _closed_cast_on(fabric: Fabric) -> Bools:
    """Loops of a cast-on whose neighbours lie on the other flank."""
    cast = fabric.kinds(Kind.CAST_ON)
    side = fabric.side
    after = np.where(fabric.next >= 0, fabric.next, np.arange(len(fabric.next)))
    before = np.where(fabric.previous >= 0, fabric.previous, np.arange(len(fabric.next)))
    other = (side[after] != side) & cast[after] | (side[before] != side) & cast[before]
    return np.asarray(cast & other)


def _courses_carried(fabric: Fabric) -> Ints:
    """How many courses each loop was carried past: each left it a beside edge on either hand."""
    rows = len(fabric.next)
    return (
        np.maximum(
            np.bincount(fabric.right, minlength=rows), np.bincount(fabric.left, minlength=rows)
        )
        * (np.bincount(fabric.parent, minlength=rows) > 0)
        * _is_tall(fabric)
    )


def _is_tall(fabric: Fabric) -> Bools:
    """Of the two loops that a beside edge joins, the older one is the one that was carried."""
    tall = np.zeros(len(fabric.next), bool)
    older = np.where(
        fabric.course[fabric.right] <= fabric.course[fabric.left], fabric.right, fabric.left
    )
    tall[older] = True
    return tall


def _sheared(fabric: Fabric, rest: Floats, w: float, h: float) -> Floats:
    """Lengthen the through edges that lean because stitches of their course were decreased.

    Two stitches worked together pull what lies on one side of them a stitch over. The narrower
    side goes: in a wedge the band between two decreases, along which the edge then runs with a
    slope of one stitch to a course. Its through edges next to the decrease rest at the hypotenuse
    of stitch and course; at the height of a course they would be a seam too short for the panel
    that it borders, and the heel comes out 8 % too small. Where both sides are about as wide
    each goes half a stitch. Which stitch lies on top has no say: a decrease that leans the
    other way is as long.
    """
    rows = len(fabric.next)
    counts = ~fabric.kinds(Kind.LIFTED, Kind.WRAP)[fabric.parent]  # these close gaps, no more
    counts &= (fabric.info & (EDGE | CHAIN | FACING)) == 0
    edges = np.flatnonzero(counts)
    edges = edges[np.argsort(fabric.child[edges], kind="stable")]
    many = np.bincount(fabric.child[edges], minlength=rows)
    decreases = np.flatnonzero((many > 1) & fabric.kinds(Kind.WORKED))
    if not len(decreases):
        return rest
    first = np.concatenate([[0], np.cumsum(many)[:-1]])
    out = rest.copy()
    whole, half = np.hypot(w, h) - h, np.hypot(w / 2, h) - h
    for loop, before, after in zip(decreases, *_bands(fabric, decreases), strict=True):
        own = edges[first[loop] : first[loop] + many[loop]]
        beside = -1
        if many[loop] > 2:  # the middle goes along the fold, the outer ones stand upright
            out[own[1:-1]] += whole
        elif before <= _SHORT_BAND * after:
            out[own[0]] += whole
            beside = fabric.previous[loop] if before else -1
        elif after <= _SHORT_BAND * before:
            out[own[-1]] += whole
            beside = fabric.next[loop] if after else -1
        else:
            out[own] += half
        if beside >= 0 and many[beside] == 1:
            out[edges[first[beside]]] += whole
    return out


def _splayed(fabric: Fabric, rest: Floats, w: float, h: float) -> Floats:
    """Lengthen the through edges on either side of an increase: each leans half a stitch."""
    rows = len(fabric.next)
    head = (fabric.info & (EDGE | CHAIN | FACING)) == 0
    parents = np.bincount(fabric.child[head], minlength=rows)
    lifted = fabric.kinds(Kind.LIFTED)
    from_strand = np.zeros(rows, bool)
    from_strand[fabric.child[head & lifted[fabric.parent]]] = True
    before, after = fabric.previous, fabric.next
    alone = from_strand & (parents == 1) & (before >= 0) & (after >= 0)
    alone &= ~from_strand[before] & ~from_strand[after]  # a recaptured row is no increase
    made = np.flatnonzero(alone | (fabric.kinds(Kind.OVER) & (before >= 0) & (after >= 0)))
    beside = np.zeros(rows, bool)
    beside[before[made]] = beside[after[made]] = True
    beside &= (parents == 1) & ~from_strand
    return np.where(head & beside[fabric.child], rest + np.hypot(w / 2, h) - h, rest)


def _bands(fabric: Fabric, decreases: Ints) -> tuple[Ints, Ints]:
    """How many loops stand between each decrease and the one before, and after, in its course."""
    course = fabric.course[decreases]
    strand = fabric.strand[decreases]
    same = (course[1:] == course[:-1]) & (strand[1:] == strand[:-1])
    gap = np.diff(decreases) - 1
    first_of, last_of = _course_ends(fabric, decreases)
    before = np.concatenate([[0], np.where(same, gap, 0)])
    after = np.concatenate([np.where(same, gap, 0), [0]])
    starts = np.concatenate([[True], ~same])
    ends = np.concatenate([~same, [True]])
    head, tail = decreases[starts] - first_of[starts], last_of[ends] - decreases[ends]
    turned = (fabric.flags & TURNED) != 0
    round_ = ~turned[last_of[ends]]
    before[starts] = head + np.where(round_, tail, 0)
    after[ends] = tail + np.where(round_, head, 0)
    return before, after


def _course_ends(fabric: Fabric, decreases: Ints) -> tuple[Ints, Ints]:
    """First and last loop of the course of each decrease."""
    course = fabric.course.astype(np.int64)
    change = np.flatnonzero((course[1:] != course[:-1]) | (fabric.strand[1:] != fabric.strand[:-1]))
    starts = np.concatenate([[0], change + 1])
    ends = np.concatenate([change, [len(course) - 1]])
    at = np.searchsorted(starts, decreases, side="right") - 1
    return starts[at], ends[at]


def _merged(pairs: Ints, rest: Floats, along: Bools, n: int) -> tuple[Ints, Floats, Bools]:
    """One edge for each pair of loops; the shortest of several, for the others hang slack."""
    keys = pairs.min(axis=1) * n + pairs.max(axis=1)
    order = np.lexsort((rest, keys))
    first = order[np.unique(keys[order], return_index=True)[1]]
    first = first[pairs[first, 0] != pairs[first, 1]]
    return pairs[first], rest[first], along[first]


def _rings(fabric: Fabric, vertex: Ints) -> list[Ints]:
    """Cells by size as vertices, without openings and without what no fabric spans."""
    cells = surface(fabric)
    leader = cells.leader
    valid = leader >= 0
    size = np.bincount(leader[valid], minlength=len(leader))
    size[cells.opening_leaders] = 0
    groups = []
    for k in np.unique(size[(size > 2) & (size <= _LARGEST_CELL)]):
        dart = np.flatnonzero(size == k)
        ring = []
        for _ in range(k):
            ring.append(vertex[cells.origin[dart]])
            dart = cells.follow[dart].astype(np.int64)
        rings = np.stack(ring, axis=1)
        ordered = np.sort(rings, axis=1)
        groups.append(rings[(ordered[:, 1:] != ordered[:, :-1]).all(axis=1)])
    return groups
