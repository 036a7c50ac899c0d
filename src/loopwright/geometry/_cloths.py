"""Which cloth each loop stands in, found from the graph alone.

Slip stitch: a loop between two that were carried past its row, its neighbours in the row, and what
is worked into all of these in the row after. Garter and seed stitch: knit on purl and purl on knit,
twice running up the wale (once is the edge of a welt or a rib). In garter the neighbours in the row
are alike. All else is plain, ribs too: see `loopwright.cloth`. Where a third of a course is plain,
garter and seed stitch are drawn out to its height.

Where stitches cross they lie on each other in layers and draw their row in: half-way, by ratio, to
the width of the widest layer, 0.71 for two over two. The rows below and above follow by three
quarters of the one before: two over two every fourth row takes 0.78 of the width, three over three
every eighth 0.83. No source: an assumption, near the fifth that knitters count on (common
practice). A swatch tells more.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import attrs
import numpy as np
from numpy.typing import NDArray

from loopwright.cloth import Cloth, stitch_size_mm
from loopwright.fabric.columns import BACK, CHAIN, EDGE, FACING, TURNED
from loopwright.fabric.fabric import Fabric
from loopwright.fabric.stitches import Kind, Stitch
from loopwright.gauge import Gauge

__all__ = ["StitchSizes", "cloths_of", "drawn_out", "stitch_sizes"]

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]

_CLOTHS: Final = tuple(Cloth)
_FOLLOWING: Final = 4  # rows that follow a narrow one
_FOLLOWED: Final = 0.75  # of the narrowing of the row before
_PLAIN: Final = _CLOTHS.index(Cloth.PLAIN)
_YIELDING: Final = (_CLOTHS.index(Cloth.GARTER), _CLOTHS.index(Cloth.SEED))
_FIRM: Final = 1 / 3  # of a course is plain: it keeps the others at its height; our choice


@attrs.frozen(eq=False)
class StitchSizes:
    """Width and height at rest by loop id, mm: what its row adds to a wale, and it to its row."""

    width_mm: Floats
    height_mm: Floats


def stitch_sizes(
    fabric: Fabric,
    gauge: Gauge,
    measured: Mapping[Cloth, Gauge] | None = None,
    *,
    drawn_in: bool = True,
) -> StitchSizes:
    """Return the size at rest of each stitch of a fabric; crossed rows `drawn_in` or as plain."""
    table = np.array([stitch_size_mm(cloth, gauge, measured) for cloth in _CLOTHS])
    cloth = cloths_of(fabric)
    width, height = table[cloth].T
    layers = np.array([_kept_width(row) for row in fabric.stitches])
    if drawn_in and (layers[fabric.stitch] < 1).any():
        width = width * _drawn_in(fabric.uncrossed, layers[fabric.stitch])
    return StitchSizes(width, np.where(drawn_out(fabric, cloth), table[_PLAIN, 1], height))


def _drawn_in(fabric: Fabric, share: Floats) -> Floats:
    """Return shares of the width with those of the rows that follow a narrow one."""
    up = (fabric.info & (EDGE | CHAIN | FACING)) == 0
    parent, child = fabric.parent[up], fabric.child[up]
    for _ in range(_FOLLOWING):
        follows = share.copy()
        for one, other in ((parent, child), (child, parent)):
            np.minimum.at(follows, other, 1 - _FOLLOWED * (1 - share[one]))
        share = follows
    return share


def drawn_out(fabric: Fabric, cloth: NDArray[np.int8]) -> Bools:
    """Loops of garter and seed stitch, which give in height, beside much plain knitting in a row.

    A panel on the instep: at its own height it would bend the whole foot.
    """
    ids = fabric.ids
    course = fabric.course[ids]
    many = np.bincount(course)
    plain = np.bincount(course, cloth[ids] == _PLAIN)
    firm = plain >= _FIRM * np.maximum(many, 1)
    found = np.zeros(len(cloth), bool)
    found[ids] = firm[course] & np.isin(cloth[ids], _YIELDING)
    return found


def _kept_width(row: Stitch) -> float:
    """Return the share of its width that a crossing's row keeps; 1 where none cross."""
    return float(np.sqrt(max(map(row.stack.count, row.stack)) / row.takes)) if row.order else 1.0


def cloths_of(fabric: Fabric) -> NDArray[np.int8]:
    """Return the place of each loop's cloth among the members of `Cloth`, by loop id."""
    found = np.full(len(fabric.next), _PLAIN, np.int8)
    turned, mixed = _turned_over(fabric)
    found[turned & ~mixed] = _CLOTHS.index(Cloth.GARTER)
    found[turned & mixed] = _CLOTHS.index(Cloth.SEED)
    _to_the_edges(fabric, found)
    found[_slipped(fabric)] = _CLOTHS.index(Cloth.SLIPPED)
    return found


def _to_the_edges(fabric: Fabric, found: NDArray[np.int8]) -> None:
    """Carry a cloth on to the edge that it begins or ends at: first row, cast-on and bind-off."""
    worked = fabric.kinds(Kind.WORKED)
    up = (fabric.info & (EDGE | CHAIN | FACING)) == 0
    parent, child = fabric.parent[up].astype(np.int64), fabric.child[up].astype(np.int64)
    first = np.zeros(len(found), bool)
    first[child[~worked[parent]]] = True
    for own in (worked & first, fabric.kinds(Kind.CAST_ON)):
        edge = own[parent]
        found[parent[edge]] = np.maximum(found[parent[edge]], found[child[edge]])
    bound = fabric.kinds(Kind.BOUND_OFF)[child]
    found[child[bound]] = found[parent[bound]]


def _slipped(fabric: Fabric) -> Bools:
    """Loops of slip stitch."""
    rows = len(fabric.next)
    left_is_older = fabric.course[fabric.right] > fabric.course[fabric.left]
    beside = [np.zeros(rows, bool), np.zeros(rows, bool)]
    beside[0][fabric.right[left_is_older]] = True
    beside[1][fabric.left[~left_is_older]] = True
    between = beside[0] & beside[1]
    row = between | _of_neighbours(fabric, between)
    carried = np.zeros(rows, bool)
    carried[fabric.left[left_is_older & row[fabric.right]]] = True
    carried[fabric.right[~left_is_older & row[fabric.left]]] = True
    up = (fabric.info & (EDGE | CHAIN | FACING)) == 0
    after = np.zeros(rows, bool)
    after[fabric.child[up & (row | carried)[fabric.parent]]] = True
    found = row | (after & fabric.kinds(Kind.WORKED))
    return found | (_of_neighbours(fabric, found) & fabric.kinds(Kind.WORKED))


def _of_neighbours(fabric: Fabric, chosen: Bools) -> Bools:
    """Loops next to chosen ones in their row."""
    here = np.flatnonzero((fabric.next >= 0) & ((fabric.flags & TURNED) == 0))
    there = fabric.next[here]
    out = np.zeros(len(chosen), bool)
    out[here] = chosen[there]
    out[there] |= chosen[here]
    return out


def _turned_over(fabric: Fabric) -> tuple[Bools, Bools]:
    """Loops whose wale goes over from knit to purl and back, and those whose row does."""
    rows, worked = len(fabric.next), fabric.kinds(Kind.WORKED)
    up = (fabric.info & (EDGE | CHAIN | FACING)) == 0
    purl = np.zeros(rows, bool)
    purl[fabric.child[up & ((fabric.info & BACK) != 0)]] = True
    up &= worked[fabric.parent] & worked[fabric.child]
    over = up & (purl[fabric.parent] != purl[fabric.child])
    below, above = np.zeros(rows, bool), np.zeros(rows, bool)
    below[fabric.child[over]] = True
    above[fabric.parent[over]] = True
    twice = np.zeros(rows, bool)
    twice[fabric.child[over & below[fabric.parent]]] = True
    here = np.flatnonzero((fabric.next >= 0) & ((fabric.flags & TURNED) == 0) & worked)
    there = fabric.next[here]
    unlike = worked[there] & (purl[here] != purl[there])
    mixed = np.zeros(rows, bool)
    mixed[here[unlike]] = mixed[there[unlike]] = True
    return below & (above | twice), mixed
