"""Where the darts of :mod:`loopwright.fabric._surface` leave, and which leads back."""

from __future__ import annotations

from typing import Protocol, runtime_checkable

import attrs
import numpy as np
from numpy.typing import NDArray

from loopwright.fabric._crossings import Crossings, CrossingsOf
from loopwright.fabric.columns import Ints
from loopwright.fabric.stitches import Kind

__all__ = ["Columnar", "DartEnds"]


@runtime_checkable
class Columnar(CrossingsOf, Protocol):
    """What a surface is made from: a fabric's columns (see :class:`loopwright.Fabric`)."""

    @property
    def next(self) -> Ints: ...
    @property
    def course(self) -> Ints: ...
    @property
    def right(self) -> Ints: ...
    @property
    def left(self) -> Ints: ...
    @property
    def live(self) -> Ints: ...
    def kinds(self, *kinds: Kind) -> NDArray[np.bool_]: ...
    def __len__(self) -> int: ...


@attrs.frozen(eq=False, repr=False)
class DartEnds:
    """Which loop each dart leaves, and which dart comes back: by their numbers.

    Arrays of all darts are made on request only: a fabric's checks can do without.
    """

    fabric: Columnar
    crossings: Crossings | None

    def origin(self) -> Ints:
        """Return the vertex that each dart leaves, shape (darts,)."""
        fabric, n = self.fabric, len(self.fabric.next)
        ends = (fabric.parent, fabric.child, fabric.right, fabric.left)
        crossed = len(self.crossings or ())
        vertices = np.tile(np.arange(n, n + crossed, dtype=np.int32), 4)
        loops = np.arange(n, dtype=np.int32)
        return np.concatenate((loops, np.maximum(fabric.next, 0), *ends, vertices))

    def twin(self) -> Ints:
        """Return the other dart of each dart's edge, shape (darts,)."""
        sizes = len(self.fabric.next), len(self.fabric.parent), len(self.fabric.right)
        twin, start = np.empty(2 * sum(sizes), dtype=np.int32), 0
        for size in sizes:
            there = np.arange(start, start + 2 * size, dtype=np.int32)
            twin[start : start + size] = there[size:]
            twin[start + size : start + 2 * size] = there[:size]
            start += 2 * size
        if self.crossings is None:
            return twin
        return self._cut(twin, self.crossings)

    def _cut(self, twin: Ints, found: Crossings) -> Ints:
        """Cut the through edges that cross at their vertices."""
        count, old = len(found), len(twin)
        n, t = len(self.fabric.next), len(self.fabric.parent)
        new = np.arange(old, old + 4 * count, dtype=np.int32).reshape(4, count)
        left_down, left_up, right_down, right_up = new
        twin = np.concatenate((twin, np.empty(4 * count, dtype=np.int32)))
        edge = np.concatenate((found.leftward, found.rightward))
        vertex = np.tile(np.arange(count), 2)
        down, up = np.concatenate((left_down, right_down)), np.concatenate((left_up, right_up))
        order = np.lexsort((vertex, edge))
        edge, down, up = edge[order], down[order], up[order]
        first = np.concatenate(([True], edge[1:] != edge[:-1]))
        last = np.concatenate((first[1:], [True]))
        parent, child = 2 * n + edge, 2 * n + t + edge
        twin[down[first]], twin[parent[first]] = parent[first], down[first]
        twin[up[last]], twin[child[last]] = child[last], up[last]
        twin[down[~first]], twin[up[~last]] = up[~last], down[~first]
        return twin
