"""Where the edges of a fabric cross, so that they lie on no surface.

Edges that cross merge the cells on either side of them. Cells that touch are one suspect. A map
with some of its loops left out has no more crossings than before: a suspect is guilty if edges
still cross where the loops of all others are left out, and none do without its own.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from typing import Final, Protocol

import numpy as np
from numpy.typing import NDArray

from loopwright.fabric._pieces import numbered_pieces
from loopwright.fabric._surface import CellMap

__all__ = ["tangles"]

# Cells of how many edges are suspected, and whether openings are: the usual ones first.
_SUSPECTED: Final = ((6, False), (6, True), (4, False), (4, True))
_MOST: Final = 200  # suspects that are tried one by one


class Tangled(Protocol):
    """What has a map: a fabric."""

    @property
    def surface(self) -> CellMap: ...
    @property
    def is_on_spheres(self) -> bool: ...


def tangles(fabric: Tangled) -> tuple[tuple[int, ...], ...]:
    """Return the loops at which edges cross, place by place; none where it can't be told."""
    if fabric.is_on_spheres:
        return ()
    cells = fabric.surface
    aside = {*cells.opening_leaders, *cells.drawn_leaders}
    for limit, openings in _SUSPECTED:
        leaders = cells.large_leaders(limit)
        suspects = _touching(
            [cells.cell(dart).loops for dart in leaders if openings or dart not in aside]
        )
        everywhere = {loop for one in suspects for loop in one}
        if not 0 < len(suspects) <= _MOST or _crosses(cells, everywhere):
            continue
        guilty = [one for one in suspects if _crosses(cells, everywhere - one.keys())]
        if guilty:
            return tuple(sorted(_met_twice(one) for one in guilty))
    return ()


def _touching(cells: Iterable[Sequence[int]]) -> list[Counter[int]]:
    """Gather cells that have loops in common: how often each loop is met round them."""
    groups: list[Counter[int]] = []
    for cell in cells:
        mine = Counter(cell)
        apart = []
        for group in groups:
            if mine.keys().isdisjoint(group):
                apart.append(group)
            else:
                mine += group
        groups = [*apart, mine]
    return groups


def _met_twice(corners: Counter[int]) -> tuple[int, ...]:
    """Return the loops that are met more than once; all of them if none is."""
    return tuple(sorted(loop for loop, times in corners.items() if times > 1)) or tuple(
        sorted(corners)
    )


def _crosses(cells: CellMap, without: Iterable[int]) -> bool:
    """Whether edges cross where these loops are left out."""
    origin, twin = cells.origin, cells.twin
    vertices = cells.rows + cells.crossings
    gone = np.zeros(vertices, dtype=np.bool_)
    gone[list(without)] = True
    kept = cells.valid & ~gone[origin] & ~gone[origin[twin]]
    darts = np.flatnonzero(kept)
    before = cells.follow[twin]  # the dart just before each, round its vertex
    found = before[darts]
    while True:
        lost = ~kept[found]
        if not lost.any():
            break
        found[lost] = before[found[lost]]
    place = np.full(len(kept), -1, dtype=np.int64)
    place[darts] = np.arange(len(darts))
    following = place[found][place[twin[darts]]]
    corners, number = np.unique(origin[darts], return_inverse=True)
    pieces = _count(len(corners), number, number[place[twin[darts]]])
    faces = _count(len(darts), np.arange(len(darts)), following)
    return len(corners) - len(darts) // 2 + faces != 2 * pieces


def _count(size: int, a: NDArray[np.integer], b: NDArray[np.integer]) -> int:
    return int(numbered_pieces(size, a, b).max(initial=-1)) + 1
