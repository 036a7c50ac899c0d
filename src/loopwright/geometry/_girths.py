"""Tapes round a tube: from its rim to its far end, and the shortest closed line through a place."""

from __future__ import annotations

from functools import lru_cache

import attrs
import numpy as np
import scipy.sparse as sp
from numpy.typing import NDArray
from scipy.sparse.csgraph import connected_components, dijkstra

from loopwright.errors import ShapeError
from loopwright.geometry._geodesic import SurfaceLine, distances, shortest_loop
from loopwright.geometry._links import linked
from loopwright.geometry._shape import Shape
from loopwright.geometry._surface import Surface

__all__ = ["TubePath", "girth_through", "tube_path"]

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


@attrs.frozen(eq=False)
class TubePath:
    """The way along a tube, open or closed at its far end.

    Parameters
    ----------
    rim : ndarray, int64
        Vertices of the longest opening.
    end : int
        Vertex at the far end.
    path : ndarray, int64
        Over edges from the rim to the far end; lines round the tube cross it once.
    from_rim_mm, from_end_mm : ndarray, shape (n,), mm
        Quick distances of all vertices.
    """

    rim: Ints
    end: int
    path: Ints
    from_rim_mm: Floats
    from_end_mm: Floats


def tube_path(shape: Shape, *, end: int | None = None) -> TubePath:
    """Find the way along a tube.

    Parameters
    ----------
    end : int, optional
        Vertex to go to; by default the one that lies farthest from the longest opening, and where
        that is on the rim of another opening, distances count from that whole rim.

    Raises
    ------
    ShapeError
        There is no opening, or nothing lies between it and the far end.
    """
    surface = shape.surface
    rims, from_rim = _from_rims(surface)
    if end is not None:
        path = _edge_path(surface, rims[0], end)
        return TubePath(rims[0], end, path, from_rim, distances(surface, end))
    far = int(np.where(np.isfinite(from_rim), from_rim, -1.0).argmax())
    path = _edge_path(surface, rims[0], far)
    other = [rim for rim in rims if far in rim]
    return TubePath(rims[0], far, path, from_rim, distances(surface, other[0] if other else far))


def girth_through(
    shape: Shape,
    vertex: int,
    *,
    along: TubePath | None = None,
    slack_mm: float | None = None,
    quick: bool = False,
) -> SurfaceLine:
    """Return the shortest closed line round a tube through a vertex.

    Parameters
    ----------
    along : TubePath, optional
        As `tube_path` found it, to save finding it again.
    slack_mm : float, optional
        How far nearer to the end (in the first half: to the rim) than `vertex`, or farther from
        it, the line may run. On a tapered end the shortest line of all slips off; a tape doesn't.

    Examples
    --------
    >>> from loopwright.gauge import Gauge
    >>> from loopwright.geometry import shape
    >>> from loopwright.making import Work, cast_on
    >>> work = Work()
    >>> cast_on(work, 24)
    >>> work.join_round()
    >>> work.plain_rounds(12)
    >>> tube = shape(work.fabric(), Gauge.of(20, 28))  # 5 mm a stitch
    >>> way = tube_path(tube)
    >>> round(girth_through(tube, way.path[6], along=way).length_mm)
    120
    >>> round(girth_through(tube, way.path[6], slack_mm=5).length_mm)
    120
    """
    tube = tube_path(shape) if along is None else along
    away = tube.from_end_mm
    if slack_mm is None:
        within = away > 0.4 * away[vertex]
    else:
        if tube.from_rim_mm[vertex] < away[vertex]:
            away = tube.from_rim_mm
        within = np.abs(away - away[vertex]) <= slack_mm
    return shortest_loop(shape.surface, vertex, tube.path, within=within, quick=quick)


@lru_cache(maxsize=4)  # a tube is gone along twice; never written to
def _from_rims(surface: Surface) -> tuple[list[Ints], Floats]:
    """Its openings, and the quick distances from the longest."""
    rims = _rims(surface)
    return rims, distances(surface, rims[0])


def _rims(surface: Surface) -> list[Ints]:
    """Vertices of each opening, the longest first."""
    rim = surface.edges.boundary
    if not len(rim):
        raise ShapeError("a surface without an opening", "a girth needs a cuff to be measured from")
    n = len(surface.vertices_mm)
    links = sp.coo_array((np.ones(len(rim)), (rim[:, 0], rim[:, 1])), shape=(n, n))
    _, label = connected_components(links, directed=False)
    length = np.linalg.norm(surface.vertices_mm[rim[:, 0]] - surface.vertices_mm[rim[:, 1]], axis=1)
    of_rim = label[rim[:, 0]]
    around = np.bincount(of_rim, length)
    order = [k for k in np.argsort(-around, kind="stable") if around[k] > 0]
    return [np.unique(rim[of_rim == k]) for k in order]


def _edge_path(surface: Surface, rim: Ints, far: int) -> Ints:
    """Shortest path over edges from the rim to a vertex."""
    away, before = _over_edges(surface, far)
    path = [int(rim[away[rim].argmin()])]
    if far in rim or not np.isfinite(away[path[0]]):
        raise ShapeError(
            "a flat piece: what lies farthest from its edge is its edge",
            "girths are those of tubes and socks",
        )
    while path[-1] != far:
        path.append(int(before[path[-1]]))
    return np.array(path)


@lru_cache(maxsize=4)  # never written to
def _over_edges(surface: Surface, far: int) -> tuple[Floats, NDArray[np.int32]]:
    """Distances over edges from a vertex, and the vertex before each on the way."""
    edges = np.concatenate([surface.edges.interior, surface.edges.boundary])
    ends = surface.vertices_mm[edges]
    length = np.maximum(np.linalg.norm(ends[:, 0] - ends[:, 1], axis=1), 1e-9)
    ways = linked(len(surface.vertices_mm), edges, length)
    away, before = dijkstra(ways, indices=far, return_predecessors=True)
    return away, before
