"""The outermost place of a scan in a direction, freed of noise: a bowl laid into the surface there.

The surface is asked, not its vertices: those crowd where a scanner or a modeller put them.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

__all__ = ["outermost"]

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

_PARTS: Final = np.array([(i, j, 4 - i - j) for i in range(5) for j in range(5 - i)]) / 4
_LEAST_MM: Final = 0.3  # of uncertainty: where a bowl meets a cone of a coarse mesh


def outermost(
    points: Floats, triangles: Ints, way: Floats, reach_mm: float
) -> tuple[Floats, float]:
    """Return the outermost place and its uncertainty along `way`, mm.

    Parameters
    ----------
    points, triangles : ndarray
        Of the part of the body that counts.
    way : ndarray, shape (3,)
        A level direction of length 1.
    reach_mm : float
        How far round it the surface is asked.
    """
    corners = points[triangles]
    along = corners @ way
    tip = corners[np.unravel_index(along.argmax(), along.shape)]
    near = (np.linalg.norm(corners - tip, axis=2).min(axis=1) < 2 * reach_mm) & (
        along.max(axis=1) > tip @ way - reach_mm
    )
    samples, area = _samples(corners[near])
    depth = (tip - samples) @ way
    top = depth < np.quantile(depth, 0.02) + 1.0
    middle = np.average(samples[top], axis=0, weights=area[top])
    side = np.cross(way, [0.0, 0.0, 1.0])
    other = np.cross(way, side)
    off = (samples - middle) / reach_mm
    u, v, h = off @ side, off @ other, off @ way
    away = np.hypot(u, v)
    weight = area * np.exp(-((2 * away) ** 2)) * (h > -1)
    root = np.sqrt(weight / weight.sum())
    matrix = np.stack([np.ones_like(u), u, v, u * u, u * v, v * v], axis=1)
    found, *_ = np.linalg.lstsq(matrix * root[:, None], h * root, rcond=None)
    bowl = matrix @ found
    rms = float(np.sqrt(root**2 @ (h - bowl) ** 2)) * reach_mm
    inside = np.where((away < 0.5) & (h > -1), bowl, -np.inf)
    best = int(inside.argmax())
    place = middle + reach_mm * (u[best] * side + v[best] * other + inside[best] * way)
    # A bowl cuts off what is sharper than it, noise lifts the outermost point: between the two.
    short = float((tip - place) @ way)
    sd = float(np.linalg.norm([_LEAST_MM, 0.8 * rms, short / 2]))
    return np.asarray(place + min(short, 0.0) * way + max(short, 0.0) / 2 * way), sd


def _samples(corners: Floats) -> tuple[Floats, Floats]:
    """Points spread over triangles, with the area that each stands for."""
    points = np.einsum("bk,tkx->tbx", _PARTS, corners).reshape(-1, 3)
    cross = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    return points, np.repeat(np.linalg.norm(cross, axis=1) + 1e-12, len(_PARTS))
