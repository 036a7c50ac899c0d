"""Which loops of a fabric hang together."""

from __future__ import annotations

from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from loopwright.fabric.columns import Ints

__all__ = ["numbered_pieces", "pieces"]


class Edged(Protocol):
    """What has edges besides its yarn: a fabric's columns."""

    @property
    def parent(self) -> Ints: ...
    @property
    def child(self) -> Ints: ...
    @property
    def right(self) -> Ints: ...
    @property
    def left(self) -> Ints: ...


def pieces(fabric: Edged, following: Ints) -> NDArray[np.int64]:
    """Return the number of each loop's piece, where yarn leads from each loop to `following`."""
    size = len(following)
    # A stretch of yarn over consecutive ids hangs together; number the stretches, join those.
    onward = following == np.arange(1, size + 1, dtype=np.int32)
    stretch = np.zeros(size, dtype=np.int32)
    np.cumsum(~onward[:-1], out=stretch[1:])
    count = int(stretch[-1]) + 1 if size else 0
    jumps = np.flatnonzero((following >= 0) & ~onward)
    a = stretch[np.concatenate((jumps, fabric.parent, fabric.right))]
    b = stretch[np.concatenate((following[jumps], fabric.child, fabric.left))]
    apart = a != b
    return numbered_pieces(count, a[apart], b[apart])[stretch]


def numbered_pieces(
    count: int, a: NDArray[np.integer], b: NDArray[np.integer]
) -> NDArray[np.int64]:
    """Number the pieces of a graph of `count` vertices, in order, where a[i] and b[i] are joined.

    Each takes the least number that it hears of, and what that one has taken. A sock has a dozen
    vertices: setting up scipy's search for them takes longer than this, loading it far longer.
    """
    least = np.arange(count)
    while True:
        before = least.copy()
        for one, other in ((a, b), (b, a)):
            np.minimum.at(least, least[one], least[other])
        least = least[least]
        if np.array_equal(least, before):
            return np.unique(least, return_inverse=True)[1]
