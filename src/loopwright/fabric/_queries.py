"""Questions about a fabric: what runs down, whether two are the same, how to close a gap."""

from __future__ import annotations

from collections.abc import Iterable

import attrs
import numpy as np
from numpy.typing import NDArray

from loopwright.fabric._surface import Cell, CellMap
from loopwright.fabric.columns import FLOAT, FLOAT_FRONT, Ints
from loopwright.fabric.fabric import Fabric
from loopwright.fabric.stitches import Kind

__all__ = ["Closing", "closings", "run_down", "same_fabric"]


def run_down(fabric: Fabric, loops: Iterable[int]) -> Ints:
    """Return which loops fall if these are let go.

    A loop falls when nothing drawn through it is left standing, and stops at what needs no loop
    through it: a cast-on edge comes undone, a graft and a wrap hold.

    Parameters
    ----------
    loops : iterable of int
        Ids of the loops let go; whatever is drawn through them falls with them.

    Returns
    -------
    ndarray, shape (k,), int32
        Ids ascending, those let go included.

    Raises
    ------
    UnknownLoopError
        One of the loops is not in the fabric.
    """
    start = np.unique(np.array([fabric.require(loop) for loop in loops], dtype=np.int32))
    fallen = np.zeros(len(fabric.flags), dtype=np.bool_)
    standing = np.bincount(fabric.parent, minlength=len(fallen))
    # What was drawn through a dropped loop has lost its hold: it falls as well, and upwards on.
    front = start
    while len(front):
        fallen[front] = True
        above = fabric.child[fallen[fabric.parent]]
        front = np.unique(above[~fallen[above]])
    held = fabric.kinds(Kind.GRAFTED, Kind.WRAP)
    while True:
        standing = np.bincount(fabric.parent[~fallen[fabric.child]], minlength=len(fallen))
        below = fabric.parent[fallen[fabric.child]]
        more = below[(standing[below] == 0) & ~fallen[below] & ~held[below]]
        if not len(more):
            return np.flatnonzero(fallen).astype(np.int32)
        fallen[more] = True


@attrs.frozen
class Closing:
    """One way of closing a gap: lift a strand and work it with a stitch.

    Parameters
    ----------
    strand : (int, int)
        The yarn edge to lift.
    stitch : int
        The loop at the gap into which a stitch was worked, that should take the strand too.
    cells : (int, int), edges
        Sizes of the two cells that are left.
    """

    strand: tuple[int, int]
    stitch: int
    cells: tuple[int, int]


def closings(fabric: Fabric, gap: Cell) -> tuple[Closing, ...]:
    """Return every way to close `gap` by one lifted strand, the best first.

    The best is the one that leaves the smallest largest cell.

    Parameters
    ----------
    fabric : Fabric
    gap : Cell
        One of ``fabric.gaps()``.

    Returns
    -------
    tuple of Closing
        Empty where no strand can be lifted.
    """
    loops, size = gap.loops, gap.size
    at_gap = np.zeros(len(fabric.flags), dtype=np.bool_)
    at_gap[list(loops)] = True
    edges = at_gap[fabric.parent] & at_gap[fabric.child]
    drawn = set(zip(fabric.parent[edges].tolist(), fabric.child[edges].tolist(), strict=True))
    strands = [
        (place, (a, b) if fabric.next[a] == b else (b, a))
        for place, (a, b) in enumerate(zip(loops, loops[1:] + loops[:1], strict=True))
        if b in (fabric.next[a],) or a in (fabric.next[b],)
    ]
    found = []
    for at, child in enumerate(loops):
        for beside in (at - 1, (at + 1) % size):
            if (loops[beside], child) not in drawn:
                continue
            for place, strand in strands:
                # The lifted loop stands between places `place` and `place + 1`; a chord joins it
                # to `at` and splits the size + 1 corners in two.
                behind = (at - place - 1) % size + 2
                found.append(Closing(strand, loops[beside], (behind, size + 3 - behind)))
    return tuple(sorted(found, key=lambda closing: (max(closing.cells), closing.strand)))


def same_fabric(one: Fabric, other: Fabric) -> bool:
    """Return whether two fabrics are the same, whatever the order in which they were made.

    They are when their maps are: cells, faces (knit or purl), leans and twists agree loop for
    loop, and so do floats and the side on which they pass. Mirror images differ; names of yarns
    and loop ids don't matter.

    Notes
    -----
    Darts are told apart by refining their surroundings; then both maps are followed from one pair
    of darts, in time linear in the edges for each start that has to be tried.
    """
    if len(one) != len(other) or one.surface.edges != other.surface.edges:
        return False
    a, b = _Darts(one), _Darts(other)
    colour_a, colour_b = a.refined(), b.refined()
    if not np.array_equal(np.sort(colour_a), np.sort(colour_b)):
        return False
    loops = np.full(len(one.flags), -1, dtype=np.int64)
    todo = np.ones(len(colour_a), dtype=np.bool_)
    used = np.zeros(len(colour_b), dtype=np.bool_)
    while todo.any():
        left = np.flatnonzero(todo)
        colours, firsts, counts = np.unique(colour_a[left], return_index=True, return_counts=True)
        rarest = int(np.argmin(counts))
        start = int(left[firsts[rarest]])
        starts = np.flatnonzero((colour_b == colours[rarest]) & ~used)
        for candidate in starts.tolist():
            match = _follow(a, b, colour_a, colour_b, start, candidate)
            if match is not None:
                break
        else:
            return False
        matched = np.flatnonzero(match >= 0)
        todo[matched] = False
        used[match[matched]] = True
        loops[a.origin[matched]] = b.origin[match[matched]]
    return _same_floats(one, other, loops)


def _same_floats(one: Fabric, other: Fabric, loops: NDArray[np.int64]) -> bool:
    def floats(fabric: Fabric) -> list[tuple[int, int, bool]]:
        start = np.flatnonzero((fabric.flags & FLOAT) != 0)
        in_front = (fabric.flags[start] & FLOAT_FRONT) != 0
        return list(
            zip(start.tolist(), fabric.next[start].tolist(), in_front.tolist(), strict=True)
        )

    mapped = {(frozenset((int(loops[x]), int(loops[y]))), front) for x, y, front in floats(one)}
    return mapped == {(frozenset((x, y)), front) for x, y, front in floats(other)}


class _Darts:
    """The valid darts of a fabric, renumbered, each with a label of what it is."""

    def __init__(self, fabric: Fabric) -> None:
        surface: CellMap = fabric.surface
        valid = np.flatnonzero(surface.valid)
        number = np.full(len(surface.valid), -1, dtype=np.int64)
        number[valid] = np.arange(len(valid))
        self.origin = surface.origin[valid]
        self.twin = number[surface.twin[valid]]
        self.follow = number[surface.follow[valid]]
        self.label = self._labels(fabric)[valid]

    @staticmethod
    def _labels(fabric: Fabric) -> NDArray[np.uint64]:
        n, b = len(fabric.next), len(fabric.right)
        twists = {"": 0, "left": 1, "right": 2}
        twist = np.array([twists[row.twist] for row in fabric.stitches], dtype=np.int64)
        # A left-hand flank shows the same twist the other way round only when mirrored; a twist
        # is named as the knitter sees it, so that the wrong side exchanges left and right.
        through = fabric.info.astype(np.int64) | (twist[fabric.stitch[fabric.child]] << 8)
        return np.concatenate(
            (
                np.full(2 * n, 1), 1024 + through, 2048 + through, np.full(b, 2), np.full(b, 3),
            )
        ).astype(np.uint64)  # fmt: skip

    def refined(self, rounds: int = 6) -> NDArray[np.uint64]:
        """Return a hash of the surroundings of each dart, equal for darts that look alike."""
        colour = _mix(self.label)
        for _ in range(rounds):
            colour = _mix(colour + np.uint64(3) * colour[self.twin] ^ _mix(colour[self.follow]))
        return colour


def _mix(values: NDArray[np.uint64]) -> NDArray[np.uint64]:
    """Scramble 64-bit integers (the finaliser of splitmix64)."""
    mixed = values + np.uint64(0x9E3779B97F4A7C15)
    mixed = (mixed ^ (mixed >> np.uint64(30))) * np.uint64(0xBF58476D1CE4E5B9)
    mixed = (mixed ^ (mixed >> np.uint64(27))) * np.uint64(0x94D049BB133111EB)
    return np.asarray(mixed ^ (mixed >> np.uint64(31)), dtype=np.uint64)


def _follow(
    a: _Darts,
    b: _Darts,
    colour_a: NDArray[np.uint64],
    colour_b: NDArray[np.uint64],
    start: int,
    candidate: int,
) -> NDArray[np.int64] | None:
    """Map darts of `a` to darts of `b` from one pair on; None where the maps disagree."""
    match = np.full(len(colour_a), -1, dtype=np.int64)
    match[start] = candidate
    front = np.array([start])
    while len(front):
        reached = []
        for step_a, step_b in ((a.twin, b.twin), (a.follow, b.follow)):
            darts, images = step_a[front], step_b[match[front]]
            new = match[darts] < 0
            match[darts[new]] = images[new]
            if (match[darts] != images).any() or (colour_a[darts] != colour_b[images]).any():
                return None
            reached.append(darts[new])
        front = np.unique(np.concatenate(reached))
    mapped = np.flatnonzero(match >= 0)
    if len(np.unique(match[mapped])) != len(mapped):
        return None
    return match
