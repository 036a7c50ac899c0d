"""Where to begin when a similar fabric has been relaxed: each loop at the place of its like.

Courses are matched in order, by how many loops they have beside the fabric's widest (dynamic time
warping, from memory), loops within matched courses by how far along they stand. Courses that the
other fabric lacks come to lie between their neighbours; relaxing mends the rest. More rounds, more
stitches, another gauge or toe do no harm. Another construction does: a fabric whose courses find no
like ones is not near.
"""

from __future__ import annotations

import attrs
import numpy as np
from numpy.typing import NDArray

from loopwright.fabric.fabric import Fabric

__all__ = ["begin_near"]

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

_STEP_COST = 1e-3  # of a course that is matched twice: equal courses are matched one to one
_UNLIKE = 0.05  # mean mismatch of counts; changes of one heel have up to 0.035, another heel 0.12
_BLEND = 2  # courses to either side over which matched places are evened out


@attrs.frozen(eq=False)
class _Courses:
    """The loops of a fabric by course, in the order of the knitting."""

    first: Ints
    count: Ints
    backwards: NDArray[np.bool_]
    strands: int

    @property
    def relative(self) -> Floats:
        """How many loops, beside the widest course."""
        return np.asarray(self.count / self.count.max())

    @classmethod
    def of(cls, fabric: Fabric) -> _Courses:
        ids = fabric.ids
        course, strand = fabric.course[ids], fabric.strand[ids]
        new = np.ones(len(ids), bool)
        new[1:] = (course[1:] != course[:-1]) | (strand[1:] != strand[:-1])
        first = np.flatnonzero(new)
        count = np.diff(np.append(first, len(ids)))
        return cls(first, count, fabric.side[ids[first]] < 0, len(np.unique(strand)))


def begin_near(fabric: Fabric, other: Fabric, place_mm: Floats) -> Floats | None:
    """Return a place for each loop of `fabric`, from those of a similar fabric's; None from others.

    Parameters
    ----------
    place_mm : ndarray, shape (m, 3), mm
        Of the other fabric's loops, in the order of ``other.ids``.
    """
    mine, theirs = _Courses.of(fabric), _Courses.of(other)
    at = _matched(mine.relative, theirs.relative)
    like = np.interp(at, np.arange(len(theirs.count)), theirs.relative)
    unlike = float(np.average(np.abs(mine.relative - like), weights=mine.count))
    if unlike > _UNLIKE or mine.strands != theirs.strands:
        return None
    at = _evened(at)
    low = np.minimum(np.floor(at).astype(np.int64), max(len(theirs.count) - 2, 0))
    high = np.minimum(low + 1, len(theirs.count) - 1)
    share = np.repeat(at - low, mine.count)[:, None]
    along = (np.arange(len(fabric)) - np.repeat(mine.first, mine.count) + 0.5) / np.repeat(
        mine.count, mine.count
    )
    back = np.repeat(mine.backwards, mine.count)
    ends = [
        _placed(theirs, np.repeat(course, mine.count), along, back, place_mm)
        for course in (low, high)
    ]
    return np.asarray(ends[0] * (1 - share) + ends[1] * share)


def _placed(
    theirs: _Courses, course: Ints, along: Floats, back: NDArray[np.bool_], place_mm: Floats
) -> Floats:
    """Points so far along courses, in the direction in which the new course runs."""
    count, first = theirs.count[course], theirs.first[course]
    share = np.where(back == theirs.backwards[course], along, 1 - along)
    where = np.clip(share * count - 0.5, 0, count - 1)
    before = np.minimum(where.astype(np.int64), np.maximum(count - 2, 0))
    after = np.minimum(before + 1, count - 1)
    over = (where - before)[:, None]
    return np.asarray(place_mm[first + before] * (1 - over) + place_mm[first + after] * over)


def _matched(mine: Floats, theirs: Floats) -> Floats:
    """For each of mine, the mean of the courses that it is matched with."""
    n, m = len(mine), len(theirs)
    cost = np.abs(mine[:, None] - theirs[None, :])
    best = np.full((n + 1, m + 1), np.inf)
    best[0, 0] = 0.0
    came = np.zeros((n + 1, m + 1), np.int8)
    for i in range(1, n + 1):
        # Along a row only steps from its left neighbour depend on each other.
        across = np.minimum(best[i - 1, :-1], best[i - 1, 1:] + _STEP_COST)
        from_above = best[i - 1, 1:] + _STEP_COST < best[i - 1, :-1]
        row, choice = best[i], came[i]
        so_far = np.inf
        for j in range(1, m + 1):
            step = across[j - 1]
            if so_far + _STEP_COST < step:
                step, choice[j] = so_far + _STEP_COST, 2
            else:
                choice[j] = from_above[j - 1]
            so_far = row[j] = step + cost[i - 1, j - 1]
    total, many = np.zeros(n), np.zeros(n)
    i, j = n, m
    while i and j:
        total[i - 1] += j - 1
        many[i - 1] += 1
        way = came[i, j]
        i, j = i - (way != 2), j - (way != 1)
    return np.asarray(total / many)


def _evened(at: Floats) -> Floats:
    """Spread courses that share a match between their neighbours."""
    held = np.concatenate([np.full(_BLEND, at[0]), at, np.full(_BLEND, at[-1])])
    window = np.ones(2 * _BLEND + 1) / (2 * _BLEND + 1)
    return np.asarray(np.convolve(held, window, mode="valid"))
