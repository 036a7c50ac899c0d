"""The air in a sock: a slight pressure on the surface, its openings closed by fans."""

from __future__ import annotations

import attrs
import numpy as np
import scipy.sparse as sp
from numpy.typing import NDArray

from loopwright.fit.surface import close_openings, join_edges

__all__ = ["Air"]

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


@attrs.frozen(eq=False)
class Air:
    """A closed surface over `n` vertices, and the volume that it holds wherever these go.

    Parameters
    ----------
    triangles : ndarray, shape (t, 3), int64
        With the fans' triangles; vertex n + i is the middle of opening i.
    middles : sparse array, shape (openings, n)
        Takes points to the middles of the openings.
    corners : sparse array, shape (n + openings, t)
        Takes twice the area vectors of triangles to thirds of the area vectors at their corners.
    """

    triangles: Ints
    middles: sp.csr_array
    corners: sp.csr_array

    @classmethod
    def of(cls, n: int, triangles: Ints) -> Air:
        """Close the openings of a surface of `n` vertices."""
        closed, middles = close_openings(triangles, join_edges(triangles, n).boundary, n)
        openings = middles.shape[0]
        face = np.tile(np.arange(len(closed)), 3)
        corners = sp.csr_array(
            (np.full(face.size, 1 / 6), (closed.T.ravel(), face)),
            shape=(n + openings, len(closed)),
        )
        return cls(closed, middles, corners)

    def add(self, place: Floats, gradient: Floats, pressure: float) -> float:
        """Add the push to `gradient`; return the energy, less the more volume there is."""
        at = np.concatenate([place, self.middles @ place])
        a, b, c = (np.take(at, self.triangles[:, k], axis=0) for k in range(3))
        push = self.corners @ _cross(b - a, c - a)
        on_points = push[: len(place)] + self.middles.T @ push[len(place) :]
        gradient -= pressure * on_points
        return -pressure * float(np.vdot(place, on_points)) / 3


def _cross(u: Floats, v: Floats) -> Floats:
    """The cross product; numpy's own takes three times as long."""
    out = np.empty_like(u)
    out[:, 0] = u[:, 1] * v[:, 2] - u[:, 2] * v[:, 1]
    out[:, 1] = u[:, 2] * v[:, 0] - u[:, 0] * v[:, 2]
    out[:, 2] = u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]
    return out
