"""Crossings (cables): which through edges cross, where on their way, and which lies in front.

Stitches that change places are drawn through edges that cross, so that the fabric drawn with its
loops alone lies on no surface. A **crossing vertex** where two such edges meet mends that. It is no
loop and is stored nowhere: it follows from the row of the stitch table that made the loops, and
from the edges that bear the bit `CROSSED`.

The loops of one crossing follow one another on their strand, so that a stretch of loops of one
crossing's code is cut into pieces of its width. Which edges cross, and in which order they do so
from below, is found once for each kind of crossing by sorting its edges with swaps of neighbours.
Each swap is a crossing vertex.
"""

from __future__ import annotations

from functools import lru_cache
from itertools import pairwise
from typing import TYPE_CHECKING, Protocol

import attrs
import numpy as np
from numpy.typing import NDArray

from loopwright.fabric.columns import CROSSED, LEFT_FLANK, RANK, Ints
from loopwright.fabric.stitches import Kind, StitchTable

if TYPE_CHECKING:
    import networkx as nx

__all__ = [
    "Crossings",
    "CrossingsOf",
    "crossings",
    "cut_at_crossings",
    "places_in_crossings",
    "straightened",
]

_Longs = NDArray[np.int64]


class CrossingsOf(Protocol):
    """What crossings are found from: a fabric's columns."""

    @property
    def flags(self) -> NDArray[np.uint8]: ...
    @property
    def stitch(self) -> NDArray[np.int16]: ...
    @property
    def previous(self) -> Ints: ...
    @property
    def parent(self) -> Ints: ...
    @property
    def child(self) -> Ints: ...
    @property
    def info(self) -> NDArray[np.uint8]: ...
    @property
    def stitches(self) -> StitchTable: ...


@attrs.frozen(eq=False)
class Crossings:
    """The crossing vertices of a fabric, each where two through edges meet.

    Of those on one edge, the vertex nearer to its parent comes first.

    Parameters
    ----------
    leftward, rightward : ndarray, shape (n,), int64
        Numbers of the two through edges, named by where they go as seen from the right side.
    left_over : ndarray, shape (n,), bool
        Whether the edge that goes left lies in front.
    """

    leftward: _Longs
    rightward: _Longs
    left_over: NDArray[np.bool_]

    def __len__(self) -> int:
        return len(self.leftward)


def crossings(fabric: CrossingsOf) -> Crossings | None:
    """Return the crossing vertices of a fabric, None where it has none."""
    found = [[_NO_LONGS] * 2]
    for (code, left_flank, present), edges in _instances(fabric).items():
        word = np.array(_word(_inner(fabric, code, present), left_flank), dtype=np.int64)
        if len(word):
            found.append([edges[:, meeting].ravel() for meeting in word.T])
    if len(found) == 1:
        return None
    left, right = map(np.concatenate, zip(*found, strict=True))
    over = (fabric.info[left] & RANK) < (fabric.info[right] & RANK)
    return Crossings(left, right, over)


def straightened(fabric: CrossingsOf) -> tuple[Ints, NDArray[np.uint8]]:
    """Return parents and bits of the through edges as if no stitches changed places."""
    parent, info = fabric.parent.copy(), fabric.info.copy()
    for (code, _, present), edges in _instances(fabric).items():
        order = _inner(fabric, code, present)
        parent[edges] = fabric.parent[edges[:, np.argsort(order)]]
    info[(info & CROSSED) != 0] &= np.uint8(255 & ~(CROSSED | RANK))
    return parent, info


def cut_at_crossings(graph: nx.MultiDiGraph[int], fabric: CrossingsOf) -> None:
    """Cut the through edges of a fabric's graph at its crossing vertices."""
    found = crossings(fabric)
    if found is None:
        return
    on_edge: dict[int, list[int]] = {}
    for edges in (found.leftward, found.rightward):
        for vertex, edge in enumerate(edges.tolist(), start=len(fabric.flags)):
            on_edge.setdefault(edge, []).append(vertex)
    for edge, met in on_edge.items():
        parent, child = int(fabric.parent[edge]), int(fabric.child[edge])
        data = graph.edges[parent, child, "through"]
        graph.remove_edge(parent, child, "through")
        vertices = sorted(met)
        graph.add_nodes_from(vertices, stitch="crossing")
        for a, b in pairwise((parent, *vertices, child)):
            graph.add_edge(a, b, "through", **data)


_NO_LONGS = np.zeros(0, dtype=np.int64)


def _inner(fabric: CrossingsOf, code: int, present: tuple[int, ...]) -> tuple[int, ...]:
    """Return the order of a crossing's edges, of those that are there."""
    order = [fabric.stitches.rows[code].order[place] for place in present]
    ranks = {value: rank for rank, value in enumerate(sorted(order))}
    return tuple(ranks[value] for value in order)


def _instances(fabric: CrossingsOf) -> dict[tuple[int, bool, tuple[int, ...]], _Longs]:
    """Return the edges of all crossings alike: by stitch, flank, and which of them are there.

    Each value has a row a crossing and a column an edge, in the order in which it was worked.
    """
    if not (fabric.info & CROSSED).any():
        return {}
    first, place = places_in_crossings(fabric)
    edges = np.flatnonzero(((fabric.info & CROSSED) != 0) & (first[fabric.child] >= 0))
    if not len(edges):  # marked so are edges of other stitches: a check says it
        return {}
    child = fabric.child[edges]
    order = np.lexsort((place[child], first[child]))
    edges, child = edges[order], child[order]
    firsts, where = np.unique(first[child], return_index=True)
    found: dict[tuple[int, bool, tuple[int, ...]], list[_Longs]] = {}
    for begin, mine in zip(firsts.tolist(), np.split(edges, where[1:]), strict=True):
        code, left = int(fabric.stitch[begin]), bool(fabric.flags[begin] & LEFT_FLANK)
        present = tuple(place[fabric.child[mine]].tolist())
        if len(set(present)) == len(present):
            found.setdefault((code, left, present), []).append(mine)
    return {kind: np.stack(rows) for kind, rows in found.items()}


def places_in_crossings(fabric: CrossingsOf) -> tuple[_Longs, _Longs]:
    """Return for each loop the first of the crossing that it is part of, or -1, and its place.

    A crossing's loops follow one another on their yarn, but for strands lifted later between them.
    """
    width = _widths(fabric.stitches)[fabric.stitch]
    mine = np.flatnonzero(width > 0)
    before = fabric.previous[mine]
    lifted = fabric.stitches.of_kind(Kind.LIFTED)
    while (between := (before >= 0) & lifted[fabric.stitch[before]]).any():
        before = np.where(between, fabric.previous[before], before)
    goes_on = (before >= 0) & (fabric.stitch[before] == fabric.stitch[mine])
    root = np.where(goes_on, np.searchsorted(mine, before), np.arange(len(mine)))
    steps = goes_on.astype(np.int64)  # from the first loop of the stretch
    while (steps[root] > 0).any():  # doubling: each turn looks twice as far back
        steps, root = steps + steps[root], root[root]
    order = np.lexsort((steps, root))
    place = steps[order] % width[mine[order]]
    first, at = (np.full(len(width), value, dtype=np.int64) for value in (-1, 0))
    first[mine[order]] = mine[order][np.arange(len(mine)) - place]
    at[mine[order]] = place
    return first, at


@lru_cache(maxsize=64)
def _widths(table: StitchTable) -> _Longs:
    return np.array([len(row.order) for row in table], dtype=np.int64)


@lru_cache(maxsize=1024)
def _word(order: tuple[int, ...], left_flank: bool) -> tuple[tuple[int, int], ...]:
    """Return which edges of a crossing meet, from below: leftward and rightward.

    Edges are numbered as they were worked. Neighbours are swapped until all stand as they do
    above; seen from the right side, the rightmost pair that must change places does so first.
    """
    width = len(order)
    # From right to left as seen from the right side: a row on the left flank runs the other way.
    line = [order.index(place) for place in range(width)]
    target = list(range(width))
    if left_flank:
        line, target = line[::-1], target[::-1]
    goal = {edge: place for place, edge in enumerate(target)}
    word: list[tuple[int, int]] = []
    while True:
        at = next((n for n in range(width - 1) if goal[line[n]] > goal[line[n + 1]]), None)
        if at is None:
            return tuple(word)
        left, right = line[at], line[at + 1]
        word.append((left, right))
        line[at], line[at + 1] = right, left
