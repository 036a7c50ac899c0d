"""Floats: how many stitches the yarn passes between two loops that it makes.

Stitches are counted along the course, the way that the work went: on a small tube the yarn's ends
may be nearer the other way round, but it did not go there. Climbing a wale costs nothing, so that
a yarn carried up from one stripe to the next passes no stitch.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from loopwright.fabric.columns import FLOAT, TURNED
from loopwright.fabric.fabric import Fabric

__all__ = ["MOST", "passed"]

MOST: Final = 200  # stitches; a float that is longer is told as this long
_Array = NDArray[np.int64]


class _Steps:
    """The loops that one step leads to from each loop, side by side in one column."""

    def __init__(self, start: NDArray[np.integer], stop: NDArray[np.integer], size: int) -> None:
        order = np.argsort(start, kind="stable")
        self._stops = stop[order].astype(np.int64)
        self._begins = np.searchsorted(start[order], np.arange(size + 1))

    def of(self, which: _Array, loops: _Array) -> tuple[_Array, _Array]:
        """Return where these loops lead to, with the number of the float that asks."""
        first = self._begins[loops]
        many = self._begins[loops + 1] - first
        within = np.arange(int(many.sum())) - np.repeat(np.cumsum(many) - many, many)
        return np.repeat(which, many), self._stops[np.repeat(first, many) + within]


def passed(fabric: Fabric, starts: NDArray[np.integer]) -> _Array:
    """Return how many stitches stand between each of these loops and the next of its yarn.

    Parameters
    ----------
    starts : ndarray, shape (k,)
        Loops after which the yarn floats.

    Returns
    -------
    ndarray, shape (k,), int64
        `MOST` at most; 0 where the yarn turns, or is carried up an edge.

    Notes
    -----
    The yarn went as the loop at its end was worked. Only where other loops were worked in the
    meantime, and in another course, it may have been carried back: then the shorter way counts.
    """
    size = len(fabric.flags)
    flags, following = fabric.flags, fabric.next
    along = np.flatnonzero((following >= 0) & ((flags & (FLOAT | TURNED)) == 0))
    onward, leftward = following[along], fabric.side[along] > 0
    right = np.concatenate((fabric.right, np.where(leftward, along, onward)))
    left = np.concatenate((fabric.left, np.where(leftward, onward, along)))
    up = _Steps(fabric.parent, fabric.child, size)
    ends = following[starts].astype(np.int64)
    to_left = fabric.side[ends] > 0
    carried = (ends != starts + 1) & (fabric.course[ends] != fabric.course[starts])
    found = np.full(len(starts), MOST, dtype=np.int64)
    for step, mine in (
        (_Steps(right, left, size), to_left | carried),
        (_Steps(left, right, size), ~to_left | carried),
    ):
        way = _way(fabric, np.asarray(starts[mine], dtype=np.int64), ends[mine], step, up)
        found[mine] = np.minimum(found[mine], way)
    return found


def _way(fabric: Fabric, starts: _Array, ends: _Array, step: _Steps, up: _Steps) -> _Array:
    """Return how many loops are passed on the way by these steps; `MOST` where it leads on."""
    found = np.full(len(starts), MOST, dtype=np.int64)
    which, loops = _climbed(fabric, np.arange(len(starts)), starts, ends, up)
    for steps in range(MOST):
        there = which[loops == ends[which]]
        found[there] = max(0, steps - 1)
        waits = found[which] == MOST
        which, loops = which[waits], loops[waits]
        last = which
        which, loops = _climbed(fabric, *step.of(which, loops), ends, up)
        stopped = np.setdiff1d(last, which)
        found[stopped] = 0  # behind a turn, or up the edge: no stitches are passed
        if not len(which):
            break
    return found


def _climbed(
    fabric: Fabric, which: _Array, loops: _Array, ends: _Array, up: _Steps
) -> tuple[_Array, _Array]:
    """Add the loops above these, as high as the course where the float ends."""
    size = len(fabric.flags)
    keys = np.unique(which * size + loops)
    front = keys
    while len(front):
        number, higher = up.of(front // size, front % size)
        below = fabric.course[higher] <= fabric.course[ends[number]]
        front = np.setdiff1d(number[below] * size + higher[below], keys)
        keys = np.union1d(keys, front)
    return keys // size, keys % size
