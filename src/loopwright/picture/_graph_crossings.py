"""Where stitches cross in a drawn graph: the corners of cells, crossing vertices among them."""

from __future__ import annotations

from collections.abc import Iterator

from loopwright.fabric.columns import CROSSED, RANK
from loopwright.fabric.fabric import Fabric

__all__ = ["corner_rings", "crossed_edges", "crossing_spots"]

_Spot = tuple[float, float]
_Spots = dict[int, _Spot]


def corner_rings(fabric: Fabric) -> Iterator[tuple[int, tuple[int, ...]]]:
    """Yield for each cell its smallest dart and its corners, crossing vertices among them."""
    surface = fabric.surface
    for dart, leader in enumerate(surface.leader.tolist()):
        if dart == leader:
            yield dart, tuple(int(surface.origin[step]) for step in surface.walk(dart))


def crossed_edges(fabric: Fabric) -> list[tuple[int, int, int]]:
    """Return parent, child and depth of the through edges of crossings."""
    edges = ((fabric.info & CROSSED) != 0).nonzero()[0]
    columns = (fabric.parent[edges], fabric.child[edges], fabric.info[edges] & RANK)
    return list(zip(*(column.tolist() for column in columns), strict=True))


def crossing_spots(fabric: Fabric, places: _Spots) -> _Spots:
    """Return a place for each crossing vertex whose two edges are drawn: where they meet."""
    found = {}
    for vertex, edges in enumerate(fabric.surface.crossed.tolist(), start=len(fabric.flags)):
        ends = [int(end[edge]) for edge in edges for end in (fabric.parent, fabric.child)]
        if all(end in places for end in ends):
            found[vertex] = _meeting(*(places[end] for end in ends))
    return found


def _meeting(a: _Spot, b: _Spot, c: _Spot, d: _Spot) -> _Spot:
    """Return where the line from a to b meets that from c to d; their middle if they don't."""
    across = (b[0] - a[0]) * (d[1] - c[1]) - (b[1] - a[1]) * (d[0] - c[0])
    share = 0.5
    if abs(across) > 1e-9:
        share = ((c[0] - a[0]) * (d[1] - c[1]) - (c[1] - a[1]) * (d[0] - c[0])) / across
    share = min(max(share, 0.0), 1.0)
    return a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])
