"""Where relaxing begins: landmark scaling of distances along the fabric.

Distances over the graph from a few far-apart landmarks, laid out in three dimensions by classical
scaling (Torgerson 1952). The other vertices follow by distance to the landmarks (de Silva and
Tenenbaum 2004). A spectral layout of the same graph ends in a worse minimum.
"""

from __future__ import annotations

import numpy as np
import scipy.sparse as sp
from numpy.typing import NDArray
from scipy.sparse.csgraph import dijkstra

from loopwright.geometry._links import linked

__all__ = ["lay_out"]

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

LANDMARKS = 24
_RIPPLE = 1e-3  # of an edge: enough to leave a plane that wants to buckle, too little to see


def lay_out(n: int, pairs: Ints, lengths_mm: Floats, *, landmarks: int = LANDMARKS) -> Floats:
    """Place `n` vertices in space from lengths between pairs of them, that join them all.

    Deterministic.

    Returns
    -------
    ndarray, shape (n, 3), mm
    """
    return _scaled(linked(n, pairs, lengths_mm), landmarks) + _ripple(n, lengths_mm)


def _scaled(links: sp.csr_array, landmarks: int) -> Floats:
    n = links.shape[0]
    marks: list[int] = [0]
    rows = [dijkstra(links, indices=0)]
    nearest = rows[0].copy()
    marks[0] = int(nearest.argmax())  # begin at a far end, not wherever loop 0 happens to be
    rows[0] = dijkstra(links, indices=marks[0])
    nearest = rows[0].copy()
    while len(marks) < min(landmarks, n):
        marks.append(int(nearest.argmax()))
        rows.append(dijkstra(links, indices=marks[-1]))
        np.minimum(nearest, rows[-1], out=nearest)
    squared = np.array(rows) ** 2
    between = squared[:, marks]
    inner = -0.5 * (between - between.mean(axis=0) - between.mean(axis=1)[:, None] + between.mean())
    values, vectors = np.linalg.eigh(inner)
    values, vectors = values[::-1][:3], vectors[:, ::-1][:, :3]
    signs = np.sign(vectors[np.abs(vectors).argmax(axis=0), np.arange(vectors.shape[1])])
    scale = np.where(values > 1e-9 * max(values[0], 1e-30), 1, 0) * signs
    scale = scale / np.sqrt(np.maximum(values, 1e-30))
    away = squared - between.mean(axis=1)[:, None]
    placed = np.zeros((n, 3))
    placed[:, : len(values)] = -0.5 * (away.T @ vectors) * scale
    return placed


def _ripple(n: int, lengths_mm: Floats) -> Floats:
    """A small fixed unevenness, so that no vertex starts at a point of unstable balance."""
    if not len(lengths_mm):
        return np.zeros((n, 3))
    golden = (np.sqrt(5) - 1) / 2
    phase = np.arange(1, 3 * n + 1) * golden * 2 * np.pi
    high_mm = _RIPPLE * float(np.median(lengths_mm))
    return np.asarray(high_mm * np.sin(phase * phase).reshape(n, 3))
