"""How uncertain a line is for what its cloths were estimated, or swatched, to measure."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import numpy as np
from numpy.typing import NDArray

from loopwright.cloth import CLOTH_SIZES, Cloth
from loopwright.errors import ShapeError
from loopwright.gauge import Gauge
from loopwright.geometry._cloths import cloths_of, drawn_out
from loopwright.geometry._geodesic import SurfaceLine
from loopwright.geometry._shape import Shape

__all__ = ["cloth_sd_mm"]

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]

_SHORTEST_MM: Final = 1e-9


def cloth_sd_mm(
    shape: Shape, line: SurfaceLine, measured: Mapping[Cloth, Gauge] | None = None
) -> float:
    """Return how uncertain the length of a line is for the cloths that it crosses, one SD in mm.

    Stocking stitch adds nothing: its swatch is where all of it begins.

    Parameters
    ----------
    shape : Shape
        Of a known fabric.
    line : SurfaceLine
        A shortest one: to first order its length then grows by what its own steps do.
    measured : mapping of Cloth to Gauge, optional
        As `loopwright.geometry.shape` was given it.

    Raises
    ------
    ShapeError
        The shape doesn't know its fabric.

    Examples
    --------
    Up a flat piece of garter stitch, 24 rows high, their height good to 8 %:

    >>> from loopwright.gauge import Gauge
    >>> from loopwright.geometry import shape, shortest_line
    >>> from loopwright.making import Work, cast_on
    >>> work = Work()
    >>> cast_on(work, 12)
    >>> work.turn()
    >>> for _ in range(24):
    ...     work.row(["k"] * 12)
    >>> piece = shape(work.fabric(), Gauge.of(20, 28))
    >>> upward = shortest_line(piece.surface, 5, len(piece.loops) - 6)
    >>> round(cloth_sd_mm(piece, upward) / upward.length_mm, 2)
    0.08
    """
    if shape.fabric is None:
        raise ShapeError("a shape without its fabric", "relax a fabric with `shape`")
    at = line.vertices
    cloths, loops = cloths_of(shape.fabric), shape.loops[at]
    cloth, held = cloths[loops], drawn_out(shape.fabric, cloths)[loops]
    steps = np.diff(line.points_mm, axis=0)
    length = np.maximum(np.linalg.norm(steps, axis=1), _SHORTEST_MM)
    sds_of = {k: _relative_sds(one, measured) for k, one in enumerate(Cloth) if k in cloth}
    if not any(map(any, sds_of.values())):
        return 0.0
    ways = [_way(shape, way, at) for way in (shape.mesh.along, ~shape.mesh.along)]
    total = 0.0
    for place, sds in sds_of.items():
        mine = cloth == place
        for sd, way, here in zip(sds, ways, (mine, mine & ~held), strict=True):
            # Half of a step belongs to the stitch at either end of it.
            share = (here[1:] * 0.5 + here[:-1] * 0.5) / length
            middle = _unit(way[1:] + way[:-1] * _sign(way[1:], way[:-1]))
            # All stitches of one cloth err together: their errors add up.
            total += (sd * float(share @ np.einsum("ij,ij->i", steps, middle) ** 2)) ** 2
    return float(np.sqrt(total))


def _relative_sds(cloth: Cloth, measured: Mapping[Cloth, Gauge] | None) -> tuple[float, float]:
    """Of a stitch's width and height."""
    if measured is not None and cloth in measured:
        own = measured[cloth]
        return own.stitches_sd / own.stitches_per_cm, own.courses_sd / own.courses_per_cm
    size = CLOTH_SIZES[cloth]
    return size.width_sd / size.width, size.height_sd / size.height


def _way(shape: Shape, chosen: Bools, at: Ints) -> Floats:
    """Unit vectors along the chosen edges that meet in vertices; which way round is open."""
    mesh, p = shape.mesh, shape.surface.vertices_mm
    here = np.zeros(mesh.n, bool)
    here[at] = True
    edges = mesh.edges[chosen & here[mesh.edges].any(axis=1)]
    span = p[edges[:, 1]] - p[edges[:, 0]]
    first = np.zeros_like(p)
    for ends in edges.T:  # the last to come stands for the vertex, the others fall in with it
        first[ends] = span
    out = np.zeros_like(p)
    for ends in edges.T:
        pull = span * _sign(span, first[ends])
        out += np.stack([np.bincount(ends, pull[:, k], mesh.n) for k in range(3)], axis=1)
    return _unit(out[at])


def _unit(vectors: Floats) -> Floats:
    return np.asarray(vectors / np.maximum(np.linalg.norm(vectors, axis=1), _SHORTEST_MM)[:, None])


def _sign(one: Floats, other: Floats) -> Floats:
    """1 where two vectors point the same way, -1 elsewhere, as a column."""
    return np.where(np.einsum("ij,ij->i", one, other) < 0, -1.0, 1.0)[:, None]
