"""One clean body from what a scanner left: points merged, crumbs and floors dropped, holes named.

Which way triangles face, and whether three meet in an edge, is no matter: tapes are laid round
the points of cuts. So nothing is repaired that needn't be, and no hole is filled by a guess.
"""

from __future__ import annotations

import attrs
import numpy as np
import scipy.sparse as sp
from numpy.typing import NDArray
from scipy.sparse.csgraph import connected_components

from loopwright.errors import ScanError
from loopwright.plurals import plural

__all__ = ["Cleaned", "Rim", "cleaned", "rims"]

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]

_MERGED = 1e-5  # of the extent: points nearer than that are one
_SECOND = 0.3  # of the largest piece's area: that is no crumb, it is a second body
_MOST_BODIES = 100  # of like size, to be looked at for floors and feet
_FLAT = 0.05  # of its breadth: a piece that is no thicker has no body


@attrs.frozen(eq=False)
class Cleaned:
    """One connected body.

    Parameters
    ----------
    points : ndarray, shape (n, 3)
    triangles : ndarray, shape (t, 3)
    remarks : tuple of str
        What was dropped.
    """

    points: Floats
    triangles: Ints
    remarks: tuple[str, ...]


def cleaned(points: Floats, triangles: Ints, name: str) -> Cleaned:
    """Return the largest connected body, its equal points merged.

    Raises
    ------
    ScanError
        Nothing is left, or there are two bodies of like size.
    """
    remarks: list[str] = []
    triangles = _finite(points, triangles, remarks, name)
    points, triangles = _merged(points, triangles)
    if len(triangles) < 100:
        raise ScanError(name, plural(len(triangles), "triangle"), "a foot needs a few hundred")
    label = _pieces(triangles, len(points))
    area = np.bincount(label, _areas(points, triangles))
    large = np.flatnonzero(area > _SECOND * area.max())
    if len(large) > _MOST_BODIES:
        raise _several(name, len(large))
    flat = [k for k in large if _is_flat(points[np.unique(triangles[label == k])])]
    if flat and len(area) > len(flat):
        remarks.append(f"{plural(len(flat), 'flat piece')}, the floor perhaps, left out")
        kept = ~np.isin(label, flat)
        triangles = triangles[kept]
        label = np.unique(label[kept], return_inverse=True)[1]
        area = np.bincount(label, _areas(points, triangles))
    order = np.argsort(-area)
    if len(area) > 1 and area[order[1]] > _SECOND * area[order[0]]:
        raise _several(name, int((area > _SECOND * area[order[0]]).sum()))
    if len(area) > 1:
        share = 100 * (1 - area[order[0]] / area.sum())
        remarks.append(
            f"{plural(len(area) - 1, 'loose piece')} ({share:.1f} % of the surface) left out"
        )
    return Cleaned(*_compact(points, triangles[label == order[0]]), tuple(remarks))


def _several(name: str, bodies: int) -> ScanError:
    advice = "cut them apart and give one foot at a time"
    return ScanError(name, f"{bodies} bodies of like size", advice)


def _finite(points: Floats, triangles: Ints, remarks: list[str], name: str) -> Ints:
    good: Bools = np.asarray(np.isfinite(points).all(axis=1))
    kept = triangles[good[triangles].all(axis=1)]
    if not len(kept):
        raise ScanError(name, "no point with three numbers", "export the mesh again")
    if dropped := len(triangles) - len(kept):
        remarks.append(f"{plural(dropped, 'triangle')} without numbers left out")
    return kept


def _merged(points: Floats, triangles: Ints) -> tuple[Floats, Ints]:
    """Make one of equal points, as STL needs it, and drop triangles that have no area."""
    points, triangles = _compact(points, triangles)
    extent = float(np.ptp(points, axis=0).max(initial=0.0))
    grid = np.round((points - points.min(axis=0)) / max(_MERGED * extent, 1e-300)).astype(np.int64)
    side = round(1 / _MERGED) + 1
    keys = (grid[:, 0] * side + grid[:, 1]) * side + grid[:, 2]
    _, first, place = np.unique(keys, return_index=True, return_inverse=True)
    points, triangles = points[first], place.ravel()[triangles]
    a, b, c = triangles.T
    triangles = triangles[(a != b) & (b != c) & (c != a)]
    return points, triangles[_areas(points, triangles) > 0]


def _is_flat(points: Floats) -> bool:
    """Whether it is a floor or a wall that was scanned too."""
    spread = np.linalg.svd(points - points.mean(axis=0), full_matrices=False)[1]
    return bool(spread[2] < _FLAT * spread[1])


def _areas(points: Floats, triangles: Ints) -> Floats:
    p = points[triangles]
    cross = np.cross(p[:, 1] - p[:, 0], p[:, 2] - p[:, 0])
    return np.asarray(np.linalg.norm(cross, axis=1) / 2)


def _pieces(triangles: Ints, n: int) -> Ints:
    """The number of the connected piece of each triangle."""
    ends = triangles[:, [0, 1, 1, 2]].reshape(-1, 2)
    links = sp.coo_array((np.ones(len(ends), np.int8), (ends[:, 0], ends[:, 1])), shape=(n, n))
    label = connected_components(links, directed=False)[1][triangles[:, 0]]
    return np.asarray(np.unique(label, return_inverse=True)[1], np.int64)


def _compact(points: Floats, triangles: Ints) -> tuple[Floats, Ints]:
    used, place = np.unique(triangles, return_inverse=True)
    return points[used], place.reshape(-1, 3).astype(np.int64)


@attrs.frozen(eq=False)
class Rim:
    """An opening of the surface.

    Parameters
    ----------
    points_mm : ndarray, shape (n, 3), mm
        On its edge, in no order.
    round_mm : float
        The length of its edge.
    """

    points_mm: Floats
    round_mm: float

    @property
    def middle_mm(self) -> Floats:
        """The middle between its extremes."""
        return np.asarray((self.points_mm.min(axis=0) + self.points_mm.max(axis=0)) / 2)

    @property
    def extent_mm(self) -> Floats:
        """How far it reaches along each axis."""
        return np.asarray(np.ptp(self.points_mm, axis=0))


def rims(points: Floats, triangles: Ints) -> tuple[Rim, ...]:
    """Return the openings of a surface, the longest first."""
    halves = np.sort(triangles[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2), axis=1)
    n = len(points)
    edges, count = np.unique(halves[:, 0] * n + halves[:, 1], return_counts=True)
    rim = np.stack(np.divmod(edges[count == 1], n), axis=1)
    links = sp.coo_array((np.ones(len(rim)), (rim[:, 0], rim[:, 1])), shape=(n, n))
    label = connected_components(links, directed=False)[1][rim[:, 0]]
    length = np.linalg.norm(points[rim[:, 0]] - points[rim[:, 1]], axis=1)
    found = [
        Rim(points[np.unique(rim[label == k])], float(length[label == k].sum()))
        for k in np.unique(label)
    ]
    return tuple(sorted(found, key=lambda each: -each.round_mm))
