"""Slits: where two yarns meet in row after row and neither goes past the other.

In a round of two yarns each floats behind the other's stitches, and holds the border. Where each
keeps to its own part of a row and turns there (intarsia), nothing holds the two parts together
unless the yarns are twisted round each other. The slit is as high as they keep apart.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from loopwright.fabric.fabric import Fabric

__all__ = ["slits"]

_ROWS = 2  # one row alone is a step, not a slit


def slits(fabric: Fabric) -> list[list[tuple[int, int]]]:
    """Return each slit as its pairs of neighbours, right and left, from the bottom up."""
    right, left = _apart(fabric)
    if not len(right):
        return []
    pairs = set(zip(right.tolist(), left.tolist(), strict=True))
    above: dict[int, list[int]] = {}
    mine = np.isin(fabric.parent, np.concatenate((right, left)))
    for parent, child in zip(
        fabric.parent[mine].tolist(), fabric.child[mine].tolist(), strict=True
    ):
        above.setdefault(parent, []).append(child)
    after = {
        pair: next(
            ((a, b) for a in above.get(pair[0], ()) for b in above.get(pair[1], ())
             if (a, b) in pairs), None,
        )
        for pair in pairs
    }  # fmt: skip
    found = []
    for first in sorted(pairs - {pair for pair in after.values() if pair is not None}):
        slit = [first]
        while (following := after[slit[-1]]) is not None:
            slit.append(following)
        if len(slit) >= _ROWS:
            found.append(slit)
    return found


def _apart(fabric: Fabric) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Return neighbours of two yarns in one course, where neither yarn goes on past the other."""
    right, left = fabric.right.astype(np.int64), fabric.left.astype(np.int64)
    two = fabric.strand[right] != fabric.strand[left]
    if not two.any():
        return right[two], left[two]
    leftward = np.where(fabric.side > 0, fabric.next, fabric.previous)
    rightward = np.where(fabric.side > 0, fabric.previous, fabric.next)

    def goes_on(loops: NDArray[np.int64], onward: NDArray[np.int64]) -> NDArray[np.bool_]:
        to = onward[loops]
        there: NDArray[np.bool_] = (to >= 0) & (fabric.course[to] == fabric.course[loops])
        return there

    apart = two & (fabric.course[right] == fabric.course[left])
    apart &= ~goes_on(right, leftward) & ~goes_on(left, rightward)
    return right[apart], left[apart]
