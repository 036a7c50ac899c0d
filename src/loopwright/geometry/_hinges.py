"""Hinges: what keeps a fabric from being folded like paper.

A fabric has a thickness, and two neighbouring stitches can't lie face to face. Where the two
triangles beside an edge are bent by more than 60 degrees, their hinge turns them back, without
pulling at their sides. (A strut between the two far corners would: half of its push goes into
stretching them.)
"""

from __future__ import annotations

from typing import Final

import attrs
import numpy as np
from numpy.typing import NDArray

from loopwright.geometry._surface import SurfaceEdges, bend_cosines, cross
from loopwright.geometry.springs import SHORTEST_MM, Reals

__all__ = ["Hinges"]

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

_LEAST: Final = np.radians(60)  # bend at which a hinge begins to push; no source
_WATCHED: Final = np.cos(_LEAST - np.radians(12))  # those bent less can't come so far in a spell
_STIFFNESS: Final = 0.15  # of a far corner across the surface, in units of an edge's; no source
_SQUEEZED: Final = 0.15  # of a lever's length at rest


@attrs.frozen(eq=False)
class Hinges:
    """Edges between two triangles, each with the far corners of both.

    Parameters
    ----------
    edge : ndarray, shape (m, 2), int64
        In the direction in which the first triangle runs.
    far : ndarray, shape (m, 2), int64
        The third corner of the first and of the second triangle.
    lever_mm : ndarray, shape (m, 2), mm
        How far the far corners lie from the edge, at rest.
    """

    edge: Ints
    far: Ints
    lever_mm: Floats

    @classmethod
    def of(cls, triangles: Ints, flat: Floats, edges: SurfaceEdges) -> Hinges:
        """Hang the triangles together.

        Parameters
        ----------
        triangles : ndarray, shape (t, 3), int64
        flat : ndarray, shape (t, 3, 2), mm
            Their corners in the plane.
        edges : SurfaceEdges
            Of these triangles.
        """
        far, lever_mm = [], []
        for k in (0, 1):
            face = edges.faces[:, k]
            three, (begin, end) = triangles[face], edges.interior.T
            third = np.argmax([(at != begin) & (at != end) for at in three.T], axis=0)
            at, before, after = (flat[face, (third + turn) % 3] for turn in (0, 1, 2))
            axis, reach = after - before, at - before
            twice = np.abs(axis[:, 0] * reach[:, 1] - axis[:, 1] * reach[:, 0])
            far.append(triangles[face, third])
            lever_mm.append(twice / np.maximum(np.hypot(*axis.T), 1e-12))
        return cls(edges.interior, np.stack(far, axis=1), np.stack(lever_mm, axis=1))

    @property
    def stiffness(self) -> Floats:
        """Energy per square radian, shape (m,).

        Grows with the square of the shorter lever, so that slivers are no stiffer than others.
        """
        return np.asarray(_STIFFNESS * self.lever_mm.min(axis=1) ** 2)

    def near(self, points: Floats, normals: Floats, edges: SurfaceEdges) -> Hinges:
        """Those that may come to push soon.

        A triangle that is squeezed flat has no direction: its sides are to open it first.

        Parameters
        ----------
        points : ndarray, shape (3, n), mm
        normals : ndarray, shape (3, t), mm^2
            The area vectors of the triangles there.
        edges : SurfaceEdges
            The same as were given to `of`.
        """
        bent = np.flatnonzero(bend_cosines(normals, edges) < _WATCHED)
        ends = points[:, self.edge[bent]]
        span = np.linalg.norm(ends[..., 0] - ends[..., 1], axis=0)
        twice = 2 * np.linalg.norm(normals[:, edges.faces[bent]], axis=0)
        open_ = (twice > _SQUEEZED * span[:, None] * self.lever_mm[bent]).all(axis=1)
        watched = bent[open_]
        return Hinges(self.edge[watched], self.far[watched], self.lever_mm[watched])

    def add(self, place: Reals, gradient: Reals) -> float:
        """Add the push to `gradient`, shape (3, n); return the energy.

        The slope of the angle between two triangles: Bridson, Marino and Fedkiw 2003 (from memory).
        """
        begin, end = self.edge.T
        at = place[:, begin].astype(np.float64)
        axis = place[:, end] - at
        span = np.maximum(np.sqrt(_dot(axis, axis)), 1e-12)
        reach = [place[:, far] - at for far in self.far.T]
        normal = [cross(axis, reach[0]), cross(reach[1], axis)]
        angle = np.arctan2(_dot(cross(*normal), axis) / span, _dot(*normal))
        over = np.maximum(np.abs(angle) - _LEAST, 0.0)
        moment = self.stiffness * over
        turned = -np.copysign(moment, angle) * span
        least = (SHORTEST_MM * span) ** 2
        corners, pushes = [], []
        for k in (0, 1):
            on_far = turned / np.maximum(_dot(normal[k], normal[k]), least) * normal[k]
            share = _dot(reach[k], axis) / span**2
            corners += [self.far[:, k], begin, end]
            pushes += [on_far, (share - 1) * on_far, -share * on_far]
        corner, push = np.concatenate(corners), np.concatenate(pushes, axis=1)
        for row, part in zip(gradient, push, strict=True):
            row += np.bincount(corner, part, minlength=len(row))
        return 0.5 * float(moment @ over)


def _dot(u: Floats, v: Floats) -> Floats:
    return np.asarray(u[0] * v[0] + u[1] * v[1] + u[2] * v[2])
