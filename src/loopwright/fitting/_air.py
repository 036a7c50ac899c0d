"""The air in a sock: the volume in it and which way more lies, its openings closed by fans."""

from __future__ import annotations

import attrs
import numpy as np
import scipy.sparse as sp
from numpy.typing import NDArray

from loopwright.fitting._surface import SurfaceEdges, area_vectors, close_openings

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
        Takes the area vectors of triangles to thirds of the area vectors at their corners.
    """

    triangles: Ints
    middles: sp.csr_array
    corners: sp.csr_array

    @classmethod
    def of(cls, n: int, triangles: Ints, edges: SurfaceEdges) -> Air:
        """Close the openings of a surface of `n` vertices, whose edges these are."""
        closed, middles = close_openings(triangles, edges.boundary, n)
        openings = middles.shape[0]
        face = np.tile(np.arange(len(closed)), 3)
        corners = sp.csr_array(
            (np.full(face.size, 1 / 3), (closed.T.ravel(), face)),
            shape=(n + openings, len(closed)),
        )
        return cls(closed, middles, corners)

    def push(self, place: Floats) -> Floats:
        """Return how fast the volume grows with each coordinate, shape (n, 3), mm^2.

        A third of its product with the points themselves is the volume.
        """
        at = np.concatenate([place, self.middles @ place])
        spread = self.corners @ area_vectors(at, self.triangles)
        return np.asarray(spread[: len(place)] + self.middles.T @ spread[len(place) :])
