"""Lengths between vertices as the sparse matrix that shortest paths are sought in."""

from __future__ import annotations

import numpy as np
import scipy.sparse as sp
from numpy.typing import NDArray

__all__ = ["linked"]


def linked(n: int, pairs: NDArray[np.int64], lengths_mm: NDArray[np.float64]) -> sp.csr_array:
    """Return the lengths between vertices, each pair in both directions.

    A pair may come twice: the algorithms for paths then take the shorter.
    """
    a, b = pairs.astype(np.int32).T  # scipy before 1.15 seeks paths only where indices have 32 bits
    both = (np.concatenate([a, b]), np.concatenate([b, a]))
    links = sp.coo_array((np.concatenate([lengths_mm, lengths_mm]), both), shape=(n, n))
    links.has_canonical_format = True  # else the lengths of equal pairs would be added up
    return links.tocsr()
