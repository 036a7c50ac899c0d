"""Plane sections of a surface: a tape that is laid round at a place and stays there."""

from __future__ import annotations

import numpy as np
import scipy.sparse as sp
from numpy.typing import NDArray
from scipy.sparse.csgraph import connected_components

from loopwright.errors import ShapeError
from loopwright.geometry._geodesic import SurfaceLine
from loopwright.geometry._surface import Surface

__all__ = ["section_through"]

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


def section_through(surface: Surface, vertex: int, normal: Floats) -> SurfaceLine:
    """Return the closed line in which a plane through a vertex cuts a surface.

    Where the plane cuts the surface in several places, the line nearest to the vertex.

    Parameters
    ----------
    normal : ndarray, shape (3,)
        Of the plane.

    Raises
    ------
    ShapeError
        The plane meets an opening, or the surface only in the vertex: the line doesn't close.

    Examples
    --------
    >>> corners = [[1, 1, 1], [1, -1, -1], [-1, 1, -1], [-1, -1, 1], [0, 0, 0]]
    >>> solid = Surface(corners, [[0, 1, 2], [0, 3, 1], [0, 2, 3], [1, 3, 2]])
    >>> round(section_through(solid, 4, np.array([0, 0, 1.0])).length_mm, 3)
    5.657
    """
    n, p = len(surface.vertices_mm), surface.vertices_mm
    height = (p - p[vertex]) @ (normal / np.linalg.norm(normal))
    below = height < 0
    a, b, c = (below[surface.triangles[:, k]] for k in range(3))
    triangles = surface.triangles[(a != b) | (b != c)]
    sides = np.stack([triangles, np.roll(triangles, -1, axis=1)], axis=-1)
    crossed = below[sides[..., 0]] != below[sides[..., 1]]  # two of three
    keys = sides.min(axis=-1) * n + sides.max(axis=-1)
    edges, ends = np.unique(keys[crossed], return_inverse=True)
    if not len(edges):
        raise _open()
    a, b = edges // n, edges % n
    share = height[a] / (height[a] - height[b])
    points = p[a] * (1 - share)[:, None] + p[b] * share[:, None]
    start = int(np.linalg.norm(points - p[vertex], axis=1).argmin())
    around = _walk(ends.reshape(-1, 2), start, len(edges))
    line = points[around]
    length = float(np.linalg.norm(np.diff(line, axis=0), axis=1).sum())
    return SurfaceLine(line, length, np.where(share < 0.5, a, b)[around])


def _walk(steps: Ints, start: int, count: int) -> Ints:
    """Go round from `start`, over steps between numbers, back to it."""
    links = sp.coo_array((np.ones(len(steps)), (steps[:, 0], steps[:, 1])), shape=(count, count))
    _, label = connected_components(links, directed=False)
    mine = steps[label[steps[:, 0]] == label[start]]
    if (np.bincount(mine.ravel(), minlength=count)[mine] != 2).any():
        raise _open()
    beside: dict[int, list[int]] = {}
    for one, other in mine.tolist():
        beside.setdefault(one, []).append(other)
        beside.setdefault(other, []).append(one)
    path = [start, beside[start][0]]
    while path[-1] != start:
        one, other = beside[path[-1]]
        path.append(other if one == path[-2] else one)
    return np.array(path, np.int64)


def _open() -> ShapeError:
    return ShapeError("a plane that cuts no closed line", "lay it round a tube, away from openings")
