"""Floats: how many stitches the yarn passes between two loops that it makes.

Stitches are counted along the course, the way that the work went. On a small tube the yarn's ends
may be nearer the other way round, but it did not go there. Climbing a wale costs nothing, so that a
yarn carried up from one stripe to the next passes no stitch.
"""

from __future__ import annotations

from typing import Any, Final

import attrs
import numpy as np
from numpy.typing import NDArray

from loopwright.fabric.columns import FLOAT, TURNED
from loopwright.fabric.fabric import Fabric

__all__ = ["MOST", "passed"]

MOST: Final = 200  # stitches; a float that is longer counts as this long
_Array = NDArray[np.int64]


class _Steps:
    """The loops that one step leads to from each loop."""

    def __init__(self, start: NDArray[np.integer], stop: NDArray[np.integer], size: int) -> None:
        order = np.argsort(start, kind="stable")
        self._stops: list[int] = stop[order].tolist()
        self._begins: list[int] = np.searchsorted(start[order], np.arange(size + 1)).tolist()

    def of(self, loop: int) -> list[int]:
        return self._stops[self._begins[loop] : self._begins[loop + 1]]


@attrs.frozen
class _Ways:
    """Where one comes from each loop: on along the course, and up to the loops drawn through it."""

    on: _Steps
    up: _Steps
    down: _Steps
    course: list[int]

    def passed(self, start: int, end: int) -> int:
        """Return how many loops are passed on the way from one loop to another."""
        high = self.course[end]
        seen = {start}
        front = self._climbed([start], seen, high)
        for steps in range(MOST):
            if end in front:
                return max(0, steps - 1)
            beside = {there for loop in front for there in self.on.of(loop)}
            if not beside:
                return self._rested(start, end)
            front = self._climbed([*(beside - seen)], seen, high)
            if not front:
                return MOST  # all round, and never there
        return MOST

    def _rested(self, start: int, end: int) -> int:
        """Return how many loops rested, a course below, when the yarn passed them.

        0 behind a turn, or up the edge.
        """
        goal, front = {*self.down.of(end)}, self.down.of(start)
        seen = {*front}
        for steps in range(MOST):
            front = [there for loop in front for there in self.on.of(loop) if there not in seen]
            if goal & {*front}:
                return steps
            seen.update(front)
            front = [loop for loop in front if all(child > end for child in self.up.of(loop))]
        return 0

    def _climbed(self, loops: list[int], seen: set[int], high: int) -> list[int]:
        """Add the loops above these, as high as the course where the float ends."""
        seen.update(loops)
        for loop in loops:  # which grows meanwhile
            for child in self.up.of(loop):
                if child not in seen and self.course[child] <= high:
                    seen.add(child)
                    loops.append(child)
        return loops


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
    flags, following = fabric.flags, fabric.next
    along = np.flatnonzero((following >= 0) & ((flags & (FLOAT | TURNED)) == 0))
    onward, leftward = following[along], fabric.side[along] > 0
    right = np.concatenate((fabric.right, np.where(leftward, along, onward)))
    left = np.concatenate((fabric.left, np.where(leftward, onward, along)))
    ends = following[starts].astype(np.int64)
    # Worked in a row within one course, as stranded rounds are: the loops between are passed.
    joined = np.zeros(len(flags) + 1, dtype=np.int64)
    pairs = np.sort(np.stack([right, left]), axis=0)
    joined[pairs[0][pairs[1] == pairs[0] + 1]] = 1
    gaps = np.cumsum(1 - joined)
    first = np.asarray(starts, dtype=np.int64)
    in_row = (fabric.course[first] == fabric.course[ends]) & (ends > first)
    in_row &= gaps[ends - 1] == gaps[first - 1]
    found: _Array = np.minimum(ends - first - 1, MOST)
    if not in_row.all():
        found[~in_row] = _walked(fabric, first[~in_row], ends[~in_row], right, left)
    return found


def _walked(fabric: Fabric, starts: _Array, ends: _Array, right: _Array, left: _Array) -> list[int]:
    """Return how many stitches stand between, walked loop by loop."""
    to_left = fabric.side[ends] > 0
    carried = (ends != starts + 1) & (fabric.course[ends] != fabric.course[starts])
    found = np.full(len(starts), -1, dtype=np.int64)
    lowest = _lowest_above(fabric)
    beside = len(fabric.right)  # the pairs that no yarn joins come first
    for side, begin, end in ((to_left, right, left), (~to_left, left, right)):
        mine = np.flatnonzero(side & ~carried)
        if len(mine):
            ways = [_only_next(begin[part], end[part], len(lowest)) for part in _parts(beside)]
            found[mine] = _straight(fabric, starts[mine], ends[mine], ways, lowest)
    rest = np.flatnonzero(found < 0)
    if len(rest):
        floats = (starts[rest], ends[rest], to_left[rest], carried[rest])
        found[rest] = _by_all_ways(fabric, floats, right, left)
    return found.tolist()


_FEW = 6  # stitches; slipped ones are one or two, and a longer way seldom goes straight
_NONE, _SEVERAL = -1, -2


def _parts(at: int) -> tuple[slice, slice]:
    return slice(at), slice(at, None)


def _lowest_above(fabric: Fabric) -> NDArray[np.int32]:
    """Return the course of the lowest loop that is drawn through each loop."""
    lowest = np.full(len(fabric.flags), np.iinfo(np.int32).max, dtype=np.int32)
    np.minimum.at(lowest, fabric.parent, fabric.course[fabric.child])
    return lowest


def _only_next(begin: _Array, end: _Array, size: int) -> _Array:
    """Return the one loop that these pairs lead to from each loop; or that none does, or more."""
    following = np.full(size, _NONE, dtype=np.int64)
    following[begin] = end
    following[np.bincount(begin, minlength=size) > 1] = _SEVERAL
    return following


def _straight(
    fabric: Fabric,
    starts: _Array,
    ends: _Array,
    ways: list[_Array],
    lowest: NDArray[np.int32],
) -> _Array:
    """Return how many stitches stand between where one way leads there and none climbs: else -1.

    The same as `_Ways.passed` finds, for all floats at once.
    """
    found = np.full(len(starts), -1, dtype=np.int64)
    high = fabric.course[ends]
    at, here = np.arange(len(starts)), starts
    for passed_by in range(_FEW):
        level = lowest[here] > high[at]
        at, here = at[level], here[level]
        one, other = (following[here] for following in ways)
        there = (one == ends[at]) | (other == ends[at])
        found[at[there]] = passed_by
        goes_on = ~there & ((one >= 0) ^ (other >= 0)) & (one != _SEVERAL) & (other != _SEVERAL)
        at, here = at[goes_on], np.maximum(one, other)[goes_on]
    return found


def _by_all_ways(
    fabric: Fabric, floats: tuple[NDArray[Any], ...], right: _Array, left: _Array
) -> list[int]:
    size, course = len(fabric.flags), fabric.course.tolist()
    up, down = (
        _Steps(begin, stop, size)
        for begin, stop in ((fabric.parent, fabric.child), (fabric.child, fabric.parent))
    )
    leftwards = _Ways(_Steps(right, left, size), up, down, course)
    rightwards = _Ways(_Steps(left, right, size), up, down, course)
    columns = (column.tolist() for column in floats)
    return [
        min(
            leftwards.passed(start, end) if to_left or carried else MOST,
            rightwards.passed(start, end) if not to_left or carried else MOST,
        )
        for start, end, to_left, carried in zip(*columns, strict=True)
    ]
