"""The layout of a fabric that closes on itself, such as a toe: a web, its largest opening outside.

Laid out flat its front and back would lie on each other. A fabric on a sphere has a plane drawing
without crossings: fix the loops round one opening on a circle and let every other one be the mean
of its neighbours (Tutte, *How to draw a graph*, 1963). That crowds the middle; moving each loop
along its own ray, so that courses are as far apart as they are many, changes no order of edges.
"""

from __future__ import annotations

from collections.abc import Callable

import networkx as nx
import numpy as np
from scipy.sparse import csr_array, eye_array
from scipy.sparse.linalg import spsolve

from loopwright.fabric import Fabric
from loopwright.fabric.surface import Cell
from loopwright.picture.colours import Floats

__all__ = ["flipped", "signed_area", "web"]

_Spots = dict[int, tuple[float, float]]


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
    """Return a place for each loop, about one unit between courses; None where no web is possible.

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
    depth = nx.multi_source_dijkstra_path_length(surface, set(rim))
    ids = list(surface)
    order = [int(depth[loop]) for loop in ids]
    turned = _even(_means(surface, ids, rim), np.array(order))
    spots = {loop: (float(x), float(y)) for loop, (x, y) in zip(ids, turned, strict=True)}
    inner = [cell for cell in fabric.cells() if cell != outer]
    if flipped(inner, spots) > 0.5:
        spots = {loop: (-x, y) for loop, (x, y) in spots.items()}
    return spots


def _means(surface: nx.Graph, ids: list[int], rim: list[int]) -> Floats:
    """Return places, shape (n, 2): the rim on a circle, all others the mean of their neighbours."""
    place = {loop: at for at, loop in enumerate(ids)}
    angle = 2 * np.pi * np.arange(len(rim)) / len(rim)
    fixed = np.zeros((len(ids), 2))
    fixed[[place[loop] for loop in rim]] = np.column_stack((np.cos(angle), np.sin(angle)))
    on_rim = set(rim)
    pulls = [
        (place[loop], place[other], 1.0 / len(surface[loop]))
        for loop in ids
        if loop not in on_rim
        for other in surface[loop]
    ]
    rows, columns, weights = (np.array(part) for part in zip(*pulls, strict=True))
    pull = csr_array((weights, (rows, columns)), shape=(len(ids), len(ids)))
    found: Floats = spsolve(csr_array(eye_array(len(ids)) - pull), fixed)
    return found


def _even(places: Floats, depth: np.ndarray[tuple[int], np.dtype[np.int_]]) -> Floats:
    """Move places along their rays from the innermost, so that courses are evenly apart."""
    middle = places[depth == depth.max()].mean(axis=0)
    rays = places - middle
    radius = np.hypot(*rays.T)
    near = np.log(np.maximum(radius, 0.5 * radius[radius > 1e-12].min()))
    levels = np.arange(depth.max(), -1, -1)
    knots = np.maximum.accumulate([np.median(near[depth == level]) for level in levels])
    knots += 1e-9 * np.arange(len(knots))
    far = np.interp(near, knots, 0.8 + np.arange(len(levels)))
    unit = rays / np.maximum(radius, 1e-12)[:, None]
    moved: Floats = unit * far[:, None]
    return moved
