"""The layout of a fabric that closes on itself, such as a toe: a web, its largest opening outside.

Laid out flat its front and back would lie on each other. A fabric on a sphere has a plane drawing
without crossings. Fix the loops round one opening on a circle and let every other one be the mean
of its neighbours (Tutte, *How to draw a graph*, 1963). That crowds the middle. Any positive weights
do as well (Floater, *Parametrization and smooth approximation of surface triangulations*, 1997), so
that an edge that came out long pulls harder the next time. Last, the middle is seen through a lens.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, TypeAlias

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csc_array, csr_array, diags_array, eye_array
from scipy.sparse.linalg import spsolve

from loopwright._late import LatePackage
from loopwright.fabric import Cell, Fabric
from loopwright.picture._colours import Floats

__all__ = ["flipped", "signed_area", "web"]

if TYPE_CHECKING:
    import networkx as nx
else:
    nx = LatePackage("networkx")

_Spots = dict[int, tuple[float, float]]
Ints: TypeAlias = NDArray[np.int_]
Flags: TypeAlias = NDArray[np.bool_]

_TIMES = 6  # fewer leave the middle crowded; many make a few edges shorter than a loop is wide
_LENS = 0.65  # power of the distance from the middle; tried 0.55 to 1: the most evenly spread
_APART = 1.4  # units: the usual length of an edge


def signed_area(cell: Cell, spots: _Spots) -> float:
    """Return the area of a cell: positive where it is seen from the right side, y up."""
    corners = [spots[loop] for loop in cell.loops]
    return 0.5 * sum(
        x1 * y2 - x2 * y1
        for (x1, y1), (x2, y2) in zip(corners, corners[1:] + corners[:1], strict=True)
    )


def flipped(cells: list[Cell], spots: _Spots) -> float:
    """Return which share of the cells a layout shows from the wrong side."""
    areas = np.array([signed_area(cell, spots) for cell in cells])
    return float((areas < 0).mean()) if len(areas) else 0.0


def web(fabric: Fabric, neighbours: Callable[[Fabric, int], set[int]]) -> _Spots | None:
    """Return a place for each loop, edges about a unit long; None where no web is possible.

    Parameters
    ----------
    fabric : Fabric
    neighbours : function
        Gives the loops that an edge of the surface joins with one.
    """
    outer = max(fabric.openings, key=lambda cell: cell.size, default=None)
    rim = list(dict.fromkeys(outer.loops)) if outer is not None else []
    surface = nx.Graph((a, b) for a in fabric.ids.tolist() for b in neighbours(fabric, a))
    if len(rim) < 3 or len(surface) != len(fabric) or not nx.is_connected(surface):
        return None
    ids = list(surface)
    depth = nx.multi_source_dijkstra_path_length(surface, set(rim))
    deep = np.array([depth[loop] for loop in ids])
    places = _through_lens(_means(surface, ids, rim), deep == deep.max())
    places *= _APART / np.median(_lengths(_ends(surface, ids), places))
    spots = {loop: (float(x), float(y)) for loop, (x, y) in zip(ids, places, strict=True)}
    inner = [cell for cell in fabric.cells() if cell != outer]
    if flipped(inner, spots) > 0.5:
        spots = {loop: (-x, y) for loop, (x, y) in spots.items()}
    return spots


def _means(surface: nx.Graph, ids: list[int], rim: list[int]) -> Floats:
    """Return places, shape (n, 2): the rim on a circle, all others in the midst of neighbours."""
    place = {loop: at for at, loop in enumerate(ids)}
    ends = _ends(surface, ids)
    angle = 2 * np.pi * np.arange(len(rim)) / len(rim)
    fixed = np.zeros((len(ids), 2))
    on_rim = np.zeros(len(ids), dtype=bool)
    on_rim[[place[loop] for loop in rim]] = True
    fixed[[place[loop] for loop in rim]] = np.column_stack((np.cos(angle), np.sin(angle)))
    weights = np.ones(len(ends))
    for _ in range(_TIMES):
        found = _balanced(ends, weights, fixed, on_rim)
        length = _lengths(ends, found)
        weights *= np.sqrt(np.maximum(length, 1e-9) / np.median(length))
    return found


def _ends(surface: nx.Graph, ids: list[int]) -> Ints:
    place = {loop: at for at, loop in enumerate(ids)}
    return np.array([(place[a], place[b]) for a, b in surface.edges])


def _lengths(ends: Ints, places: Floats) -> Floats:
    found: Floats = np.hypot(*(places[ends[:, 0]] - places[ends[:, 1]]).T)
    return found


def _through_lens(places: Floats, innermost: Flags) -> Floats:
    """Spread what is near the innermost loops; each place stays on its ray from their middle."""
    rays = places - places[innermost].mean(axis=0)
    far = np.maximum(np.hypot(*rays.T), 1e-9)
    seen: Floats = rays * (far ** (_LENS - 1))[:, None]
    return seen


def _balanced(ends: Ints, weights: Floats, fixed: Floats, on_rim: Flags) -> Floats:
    """Return places where the weighted pulls on all but the rim cancel each other."""
    count = len(fixed)
    both = np.concatenate((ends, ends[:, ::-1]))
    pulls = csr_array((np.tile(weights, 2), (both[:, 0], both[:, 1])), shape=(count, count))
    free = (~on_rim).astype(float)
    shares = diags_array(free / pulls.sum(axis=1)) @ pulls
    found: Floats = spsolve(csc_array(eye_array(count) - shares), fixed)
    return found
