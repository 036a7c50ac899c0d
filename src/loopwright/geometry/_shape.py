"""The relaxed shape of a fabric: points in space, strain, curvature, and how good it is."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property
from typing import Final

import attrs
import numpy as np
from numpy.typing import NDArray

from loopwright.cloth import Cloth
from loopwright.errors import ShapeError, UnknownLoopError
from loopwright.fabric.fabric import Fabric
from loopwright.gauge import Gauge
from loopwright.geometry._mesh import Mesh
from loopwright.geometry._near import begin_near
from loopwright.geometry._relax import NEAR_SCHEDULE, relax
from loopwright.geometry._rest_lengths import mesh_of
from loopwright.geometry._surface import Surface, smooth
from loopwright.geometry.blas_threads import one_thread
from loopwright.plurals import plural
from loopwright.progress import Progress, share, watched
from loopwright.shown import Shown

__all__ = ["Quality", "Shape", "shape"]

_P95: Final = 0.015  # of edge errors: the project's aim for a relaxed shape

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


@attrs.frozen
class Quality:
    """How good a relaxed shape is; small edge errors alone are no proof, a crumpled ball has them.

    Parameters
    ----------
    edge_error_median, edge_error_p95, edge_error_max : float
        Of the lengths of edges against their rest lengths, as fractions.
    fold_overs : int
        Interior edges of the triangulation bent by more than 90 degrees, without those at corners.
    corners : int
        Vertices round which the cells laid flat leave more than a quarter of a turn: an ear at the
        end of a graft, the end of a drawn-up toe. Like the corner of a box, such a point can't be
        without an edge bent by 90 degrees or more.
    interior_edges : int
    volume_cm3 : float
        Enclosed, with openings closed by fans.
    """

    edge_error_median: float
    edge_error_p95: float
    edge_error_max: float
    fold_overs: int
    corners: int
    interior_edges: int
    volume_cm3: float

    def __str__(self) -> str:
        return (
            f"edge error {100 * self.edge_error_median:.2f} / {100 * self.edge_error_p95:.1f} / "
            f"{100 * self.edge_error_max:.0f} % (median / p95 / max), {self.fold_overs} fold-overs "
            f"of {self.interior_edges} edges, {self.volume_cm3:.0f} cm³"
        )


@attrs.frozen(eq=False, repr=False)
class Shape(Shown):
    """A fabric at rest in space.

    Parameters
    ----------
    surface : Surface
        Vertex i is the loop ``loops[i]``; the right side is outside.
    mesh : Mesh
        Edges and rest lengths that it was relaxed from.
    loops : ndarray, shape (n,), int64
        Loop ids, ascending.
    fabric : Fabric, optional
        The one that it was relaxed from.
    """

    surface: Surface
    mesh: Mesh
    loops: Ints
    fabric: Fabric | None = attrs.field(default=None, repr=False)

    def __str__(self) -> str:
        return f"{plural(len(self.loops), 'loop')} at rest: {self.quality}"

    def vertex_of(self, loop: int) -> int:
        """Return the vertex of a loop, or raise `UnknownLoopError`."""
        at = int(np.searchsorted(self.loops, loop))
        if at == len(self.loops) or self.loops[at] != loop:
            raise UnknownLoopError(int(loop), len(self.loops))
        return at

    @cached_property
    def edge_strain(self) -> Floats:
        """Length of each edge of the mesh against its rest length, less one, shape (m,)."""
        ends = self.surface.vertices_mm[self.mesh.edges]
        length = np.linalg.norm(ends[:, 0] - ends[:, 1], axis=1)
        strain: Floats = length / self.mesh.rest_mm - 1
        return strain

    @cached_property
    def quality(self) -> Quality:
        """Edge errors, fold-overs and volume."""
        error = np.abs(self.edge_strain) if len(self.edge_strain) else np.zeros(1)
        median, p95 = np.percentile(error, [50, 95])
        corner = self._corners
        bent = self.surface.edges.interior[self.surface.bend_cosines < 0]
        return Quality(
            float(median),
            float(p95),
            float(error.max()),
            int((~corner[bent].any(axis=1)).sum()),
            int(corner.sum()),
            len(self.surface.edges.interior),
            self.surface.volume_mm3 / 1000,
        )

    @property
    def _corners(self) -> NDArray[np.bool_]:
        """Inner vertices whose angles at rest add up to less than those of a box's corner."""
        triangles, flat = self.mesh.triangles
        at_rest = np.zeros(self.mesh.n)
        for k in range(3):
            u, v = flat[:, (k + 1) % 3] - flat[:, k], flat[:, (k + 2) % 3] - flat[:, k]
            cross = u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]
            angle = np.arctan2(np.abs(cross), np.einsum("ij,ij->i", u, v))
            at_rest += np.bincount(triangles[:, k], angle, self.mesh.n)
        inner = np.bincount(triangles.ravel(), minlength=self.mesh.n) > 0
        inner[self.surface.edges.boundary.ravel()] = False
        return np.asarray(inner & (at_rest < 1.5 * np.pi))

    def curvature(self, *, times: int = 8) -> Floats:
        """Return the angle deficit at each vertex, spread for showing, shape (n,), radians.

        `times` passes of `loopwright.geometry._surface.smooth`; 0 leaves it raw. Sums over a region
        tell where the fabric cups (positive) or flares (negative).
        """
        return smooth(self.surface, self.surface.angle_deficits, times=times)


def shape(
    fabric: Fabric,
    gauge: Gauge,
    *,
    start_mm: Floats | None = None,
    near: Shape | None = None,
    measured: Mapping[Cloth, Gauge] | None = None,
    drawn_in: bool = True,
    progress: Progress | None = None,
) -> Shape:
    """Return the relaxed shape of a fabric, finished or not.

    Parameters
    ----------
    fabric : Fabric
        Live loops, holders, an unworked heel, flat pieces and several pieces are all right.
    gauge : Gauge
        Of the relaxed fabric, in stocking stitch.
    start_mm : ndarray, shape (n, 3), mm, optional
        Where to begin instead of the layout that the fabric itself suggests.
    near : Shape, optional
        The relaxed shape of a similar fabric (another gauge or size, more rounds or stitches) to
        begin from: see Notes.
    measured : mapping of Cloth to Gauge, optional
        Gauges of slip stitch, garter and seed stitch, where there are swatches of them; else
        they are estimated (`loopwright.cloth.CLOTH_SIZES`).
    drawn_in : bool
        Whether stitches that cross make their rows narrower, by the package's estimate; switch it
        off where a swatch tells, and reckon with that.
    progress : callable, optional
        Is given what is done, of how much, and what; see `loopwright.progress`.

    Raises
    ------
    ShapeError
        The fabric has no loops, or `start_mm` doesn't have a row for each.

    Notes
    -----
    The energy and what it leaves out stand in `loopwright.geometry._relax`. The same input gives
    the same shape.

    From a shape `near` it takes about half the time, and comes out a little different. Girths over
    the heel of seven changed socks are within 0.5 % of those from a start of their own. So search
    with it, and report what the fabric's own start gives. Where the two fabrics are not alike, or
    the result would fold or stretch more than the project's aims allow (95 in 100 edges within
    1.5 %), the fabric's own start is taken after all.

    Examples
    --------
    >>> from loopwright.making import Work, cast_on
    >>> work = Work()
    >>> cast_on(work, 32)
    >>> work.join_round()
    >>> work.plain_rounds(20)
    >>> tube = shape(work.fabric(), Gauge(3.2, 4.4))
    >>> tube.surface.vertices_mm.shape, tube.quality.fold_overs
    ((672, 3), 0)
    >>> tube.vertex_of(640)  # of the first live loop
    640
    >>> bool(abs(tube.curvature()).max() < 0.1)  # radians: a tube is bent, but nowhere curved
    True

    A longer tube, from this one:

    >>> work.plain_rounds(4)
    >>> longer = shape(work.fabric(), Gauge(3.2, 4.4), near=tube)
    >>> round(longer.quality.volume_cm3 / tube.quality.volume_cm3, 2)
    1.2
    """
    mesh = mesh_of(fabric, gauge, measured, drawn_in=drawn_in)
    if start_mm is not None and np.shape(start_mm) != (mesh.n, 3):
        raise ShapeError(
            f"a start of shape {np.shape(start_mm)}", f"give one point for each of {mesh.n} loops"
        )
    with one_thread(), watched(progress), share(0, 1, "relaxing"):
        if near is not None and start_mm is None:
            found = _from_near(fabric, mesh, near)
            if found is not None:
                return found
        return _shape_at(fabric, mesh, relax(mesh, start_mm=start_mm))


def _shape_at(fabric: Fabric, mesh: Mesh, place: Floats) -> Shape:
    return Shape(Surface(place, mesh.triangles[0]), mesh, fabric.ids.astype(np.int64), fabric)


def _from_near(fabric: Fabric, mesh: Mesh, near: Shape) -> Shape | None:
    """Relax from a similar fabric's shape; None where that leads to no good one."""
    if near.fabric is None:
        return None
    start_mm = begin_near(fabric, near.fabric, near.surface.vertices_mm)
    if start_mm is None:
        return None
    found = _shape_at(fabric, mesh, relax(mesh, start_mm=start_mm, schedule=NEAR_SCHEDULE))
    good = found.quality.edge_error_p95 <= _P95 and not found.quality.fold_overs
    return found if good else None
