"""The volume in a fabric, and which way more of it lies, its openings closed by fans."""

from __future__ import annotations

import attrs
import numpy as np
import scipy.sparse as sp
from numpy.typing import NDArray

from loopwright.geometry._surface import SurfaceEdges, area_vectors, close_openings

__all__ = ["EnclosedVolume"]

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


@attrs.frozen(eq=False)
class EnclosedVolume:
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
    def of(cls, n: int, triangles: Ints, edges: SurfaceEdges) -> EnclosedVolume:
        """Close the openings of a surface of `n` vertices, whose edges these are."""
        closed, middles = close_openings(triangles, edges.boundary, n)
        openings = middles.shape[0]
        face = np.tile(np.arange(len(closed)), 3)
        corners = sp.csr_array(
            (np.full(face.size, 1 / 3), (closed.T.ravel(), face)),
            shape=(n + openings, len(closed)),
        )
        return cls(closed, middles, corners)

    def slope(self, points: Floats) -> Floats:
        """Return how fast the volume grows with each coordinate, as rows, shape (3, n), mm^2.

        A third of its product with the points themselves, which are rows too, is the volume.
        """
        return self.slope_of(self.normals(points))

    def normals(self, points: Floats) -> Floats:
        """Return area vectors of all triangles as rows, shape (3, t), those of the fans last."""
        at = np.concatenate([points, (self.middles @ points.T).T], axis=1)
        return area_vectors(at, self.triangles)

    def slope_of(self, normals: Floats) -> Floats:
        """Return the slope from what `normals` gave."""
        spread = (self.corners @ normals.T).T
        n = self.middles.shape[1]
        return np.asarray(spread[:, :n] + (self.middles.T @ spread[:, n:].T).T)
