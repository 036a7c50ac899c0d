"""Lengths between vertices as the sparse matrix that shortest paths are sought in."""

from __future__ import annotations

import numpy as np
import scipy.sparse as sp
from numpy.typing import NDArray

__all__ = ["linked"]


def linked(n: int, pairs: NDArray[np.int64], lengths_mm: NDArray[np.float64]) -> sp.csr_array:
    """Return the lengths between vertices, each pair in both directions.

    Of several lengths for one pair the shortest counts.
    """
    keys = pairs.min(axis=1) * n + pairs.max(axis=1)
    order = np.lexsort((lengths_mm, keys))
    first = order[np.unique(keys[order], return_index=True)[1]]
    # scipy before 1.15 looks for paths only where indices have 32 bits.
    a, b = pairs[first].astype(np.int32).T
    length = lengths_mm[first]
    both = (np.concatenate([a, b]), np.concatenate([b, a]))
    return sp.csr_array((np.concatenate([length, length]), both), shape=(n, n))
