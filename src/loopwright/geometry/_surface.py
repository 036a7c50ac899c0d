"""Triangulated surfaces: area, volume, curvature by angle deficit, fold-overs.

Knows triangles and points only; nothing of knitting. Orientation: triangles run counter-clockwise
as seen from the right side, which is the outside of a sock, so that volumes come out positive.
"""

from __future__ import annotations

from functools import cached_property
from typing import Any

import attrs
import numpy as np
import scipy.sparse as sp
from numpy.typing import ArrayLike, NDArray
from scipy.sparse.csgraph import connected_components

from loopwright.errors import ShapeError

__all__ = [
    "Surface",
    "SurfaceEdges",
    "area_vectors",
    "bend_cosines",
    "close_openings",
    "cross",
    "join_edges",
    "smooth",
]

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

_FLAT = 1e-12  # mm^2: below this a triangle has no normal


def _numbers(values: ArrayLike, kind: type[np.generic]) -> NDArray[Any]:
    try:
        return np.array(values, kind).reshape(-1, 3)
    except (TypeError, ValueError) as error:
        raise ShapeError(f"a surface of {values!r:.60}", "give three numbers a row") from error


def _points(points_mm: ArrayLike) -> Floats:
    held = _numbers(points_mm, np.float64)
    held.setflags(write=False)
    return held


def _corners(triangles: ArrayLike) -> Ints:
    held = _numbers(triangles, np.int64)
    held.setflags(write=False)
    return held


@attrs.frozen(eq=False)
class SurfaceEdges:
    """Edges of a triangulation.

    Parameters
    ----------
    interior : ndarray, shape (i, 2), int64
        Edges between two triangles.
    faces : ndarray, shape (i, 2), int64
        The two triangles.
    boundary : ndarray, shape (b, 2), int64
        Edges of one triangle, in the direction in which it runs.
    boundary_faces : ndarray, shape (b,), int64
        That triangle.
    """

    interior: Ints
    faces: Ints
    boundary: Ints
    boundary_faces: Ints


def join_edges(triangles: Ints, n: int) -> SurfaceEdges:
    """Find which triangles share an edge.

    Parameters
    ----------
    triangles : ndarray, shape (t, 3), int64
    n : int
        How many vertices.
    """
    halves = np.concatenate([triangles[:, [0, 1]], triangles[:, [1, 2]], triangles[:, [2, 0]]])
    face = np.tile(np.arange(len(triangles)), 3)
    keys = halves.min(axis=1) * n + halves.max(axis=1)
    order = np.argsort(keys, kind="stable")
    ordered = keys[order]
    first = np.flatnonzero(ordered[1:] == ordered[:-1])
    alone = np.ones(len(keys), bool)
    alone[first] = alone[first + 1] = False
    faces = np.stack([face[order[first]], face[order[first + 1]]], axis=1)
    return SurfaceEdges(halves[order[first]], faces, halves[order[alone]], face[order[alone]])


def close_openings(triangles: Ints, rim: Ints, n: int) -> tuple[Ints, sp.csr_array]:
    """Close each opening by a fan round its middle.

    Parameters
    ----------
    triangles : ndarray, shape (t, 3), int64
    rim : ndarray, shape (b, 2), int64
        `SurfaceEdges.boundary` of these triangles.
    n : int
        How many vertices; vertex n + i is the middle of opening i.

    Returns
    -------
    triangles : ndarray, shape (t + b, 3), int64
    middles : sparse array, shape (openings, n)
        Takes points to the middles of the openings.
    """
    links = sp.coo_array((np.ones(len(rim)), (rim[:, 0], rim[:, 1])), shape=(n, n))
    label = connected_components(links, directed=False)[1][rim[:, 0]]
    label = np.unique(label, return_inverse=True)[1]
    openings = int(label.max(initial=-1)) + 1
    each = 1 / np.bincount(label, minlength=openings)
    middles = sp.csr_array((each[label], (label, rim[:, 0])), shape=(openings, n))
    fans = np.stack([rim[:, 1], rim[:, 0], n + label], axis=1)
    return np.concatenate([triangles, fans]), middles


@attrs.frozen(eq=False)
class Surface:
    """Points joined by triangles.

    Parameters
    ----------
    vertices_mm : ndarray, shape (n, 3), mm
    triangles : ndarray, shape (t, 3), int64

    Examples
    --------
    >>> corners = [[1, 1, 1], [1, -1, -1], [-1, 1, -1], [-1, -1, 1]]
    >>> solid = Surface(corners, [[0, 1, 2], [0, 3, 1], [0, 2, 3], [1, 3, 2]])
    >>> round(float(solid.volume_mm3), 3), solid.euler_characteristic, solid.fold_overs
    (2.667, 2, 6)
    >>> round(solid.area_mm2, 3)
    13.856
    """

    vertices_mm: Floats = attrs.field(converter=_points)
    triangles: Ints = attrs.field(converter=_corners)

    @cached_property
    def edges(self) -> SurfaceEdges:
        """Edges, interior and boundary."""
        return join_edges(self.triangles, len(self.vertices_mm))

    @cached_property
    def area_vectors_mm2(self) -> Floats:
        """Normals of the triangles, as long as their areas, shape (t, 3)."""
        return np.ascontiguousarray(area_vectors(self.vertices_mm.T, self.triangles).T)

    @property
    def area_mm2(self) -> float:
        """Area of all triangles."""
        return float(np.linalg.norm(self.area_vectors_mm2, axis=1).sum())

    @property
    def volume_mm3(self) -> float:
        """Volume enclosed when each opening is closed by a fan round its middle."""
        closed, middles = close_openings(self.triangles, self.edges.boundary, len(self.vertices_mm))
        p = self.vertices_mm - self.vertices_mm.mean(axis=0)
        t = np.concatenate([p, middles @ p])[closed]
        return float(np.einsum("ij,ij->", t[:, 0], np.cross(t[:, 1], t[:, 2])) / 6)

    @property
    def euler_characteristic(self) -> int:
        """V - E + F of the vertices in use."""
        edges = self.edges
        used = len(np.unique(self.triangles))
        return used - len(edges.interior) - len(edges.boundary) + len(self.triangles)

    @cached_property
    def angles(self) -> Floats:
        """Angles at the corners of each triangle, shape (t, 3), radians."""
        p = self.vertices_mm[self.triangles]
        found = np.empty(self.triangles.shape)
        for k in range(3):
            u, v = p[:, (k + 1) % 3] - p[:, k], p[:, (k + 2) % 3] - p[:, k]
            found[:, k] = np.arctan2(
                np.linalg.norm(np.cross(u, v), axis=1), np.einsum("ij,ij->i", u, v)
            )
        return found

    @cached_property
    def angle_deficits(self) -> Floats:
        """Curvature held at each vertex, shape (n,), radians.

        2 pi less the angles round an inner vertex (Gaussian curvature), pi less those of a vertex
        of the boundary (its turning). The sum over all is 2 pi times the Euler characteristic
        (Gauss and Bonnet): a check of the topology, none of the shape.
        """
        n = len(self.vertices_mm)
        total = np.bincount(self.triangles.ravel(), self.angles.ravel(), minlength=n)
        used = np.bincount(self.triangles.ravel(), minlength=n) > 0
        # The boundary passes a vertex once, or twice where two openings touch: pi less each time.
        visits = np.bincount(self.edges.boundary.ravel(), minlength=n) / 2
        return np.where(used, np.pi * (2 - visits) - total, 0.0)

    @property
    def fold_overs(self) -> int:
        """Interior edges whose two triangles lie more than 90 degrees apart in direction."""
        return int((self.bend_cosines < 0).sum())

    @cached_property
    def bend_cosines(self) -> Floats:
        """Cosine of the bend over each interior edge, shape (i,); 1 is flat."""
        return bend_cosines(self.area_vectors_mm2.T, self.edges)


# Below, points and vectors are three rows of coordinates, shape (3, n), as the solver moves them.


def area_vectors(points: Floats, triangles: Ints) -> Floats:
    """Return normals of triangles as rows, shape (3, t), as long as their areas."""
    a, b, c = (np.take(points, triangles[:, k], axis=1) for k in range(3))
    return cross(b - a, c - a) / 2


def bend_cosines(normals: Floats, edges: SurfaceEdges) -> Floats:
    """Return the cosine of the bend over each interior edge, from normals as rows, (3, t)."""
    unit = normals / np.maximum(np.sqrt(np.einsum("ij,ij->j", normals, normals)), _FLAT)
    first, second = (np.take(unit, edges.faces[:, k], axis=1) for k in (0, 1))
    return np.asarray(np.einsum("ij,ij->j", first, second))


def cross(u: Floats, v: Floats) -> Floats:
    """Return cross products of vectors as rows, shape (3, n)."""
    return np.stack(
        [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]]
    )


def smooth(surface: Surface, values: Floats, *, times: int = 8) -> Floats:
    """Spread values over their neighbours, keeping the sum, for showing.

    Each pass sends half of a vertex's value to its neighbours in equal parts, so what one vertex
    holds is shared out and nothing is lost.

    Parameters
    ----------
    values : ndarray, shape (n,)
    times : int
        Passes; the spread grows with the square root of it.
    """
    edges = np.concatenate([surface.edges.interior, surface.edges.boundary])
    n = len(values)
    link = sp.coo_array((np.ones(len(edges)), (edges[:, 0], edges[:, 1])), shape=(n, n)).tocsr()
    link = link + link.T
    degree = np.asarray(link.sum(axis=1)).ravel()
    share = np.divide(0.5, degree, out=np.zeros(n), where=degree > 0)
    keep = np.where(degree > 0, 0.5, 1.0)
    for _ in range(times):
        values = keep * values + link @ (share * values)
    return values
