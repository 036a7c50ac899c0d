"""A surface packed small enough to travel inside a page."""

from __future__ import annotations

import base64

import attrs
import numpy as np
from numpy.typing import NDArray

__all__ = ["Mesh", "PackedMesh", "pack"]

_STEPS = 32767  # a coordinate becomes a signed 16-bit number


@attrs.frozen(eq=False)
class Mesh:
    """The relaxed sock in space.

    Parameters
    ----------
    vertices_mm : ndarray, shape (n, 3), float64, mm
    triangles : ndarray, shape (t, 3), int64
        Counter-clockwise as seen from the right side.
    shade : ndarray, shape (n,), uint8
        What tells the parts of the fabric apart: 0 to 255 along the scale.
    """

    vertices_mm: NDArray[np.float64]
    triangles: NDArray[np.int64]
    shade: NDArray[np.uint8]


@attrs.frozen
class PackedMesh:
    """A mesh as text: little-endian numbers in base64.

    Parameters
    ----------
    points : str
        16-bit, three to a vertex, from the middle of the box round the sock.
    corners : str
        Unsigned, three to a triangle.
    corner_bits : int
        16 where that is enough for the number of vertices, else 32.
    shade : str
        Bytes, one a vertex.
    mm_per_step, radius_mm : float
        What one step of `points` is; how far the farthest vertex lies from the middle.
    """

    points: str
    corners: str
    corner_bits: int
    shade: str
    mm_per_step: float
    radius_mm: float


def pack(mesh: Mesh) -> PackedMesh:
    """Return a mesh as text, to a hundredth of a millimetre or so.

    Examples
    --------
    >>> corners = np.array([[0.0, 0, 0], [40, 0, 0], [0, 30, 0]])
    >>> packed = pack(Mesh(corners, np.array([[0, 1, 2]]), np.zeros(3, np.uint8)))
    >>> packed.corners, packed.radius_mm
    ('AAABAAIA', 25.0)
    """
    low, high = mesh.vertices_mm.min(axis=0), mesh.vertices_mm.max(axis=0)
    moved = mesh.vertices_mm - (low + high) / 2
    step = float(np.abs(moved).max()) / _STEPS or 1.0
    points = np.round(moved / step).astype("<i2")
    bits = 16 if len(points) <= 1 << 16 else 32
    return PackedMesh(
        _text(points),
        _text(mesh.triangles.astype("<u2" if bits == 16 else "<u4")),
        bits,
        _text(mesh.shade.astype(np.uint8)),
        step,
        float(np.sqrt((moved**2).sum(axis=1).max())),
    )


def _text(array: NDArray[np.generic]) -> str:
    return base64.b64encode(np.ascontiguousarray(array).tobytes()).decode("ascii")
