"""Corners: what lies between the point of the right needle and the next stitch.

Where the needles meet after a heel (opened waste yarn, or the foot of a flap) the two stitches at
the points are neighbours on the needles and not in the fabric. The way from one to the other runs
along the opening. It is what a knitter looks at there: edge stitches to pick up, or strands of
which one, lifted and worked with the next stitch, closes the hole.

Examples
--------
>>> from loopwright import Work
>>> from loopwright.making import *
>>> work = Work()
>>> cast_on(work, 16)
>>> work.join_round()
>>> work.plain_rounds(2)
>>> hold(work, 8, "instep")
>>> work.to_rows()
>>> for _ in range(4):  # the flap
...     work.row(["sl", *["k"] * 7])
...     work.row(["sl", *["p"] * 7])
>>> work.work(["k"] * 8)
>>> along = selvedge(work)
>>> len(along)  # edge chains below the stitch just worked
3
>>> pick_up(work, along)
>>> return_held(work, "instep", next_to_work=True)
>>> best = corner_strands(work)[0]
>>> best.cells
(6, 3)
>>> lifted = lift_strand(work, best.strand, left_flank=best.left_flank)
>>> work.work(["k2tog"])  # the strand with the first instep stitch: no hole, no stitch more
>>> work.count
19
"""

from __future__ import annotations

from itertools import pairwise

import attrs
import numpy as np

from loopwright.errors import CannotWorkError
from loopwright.fabric.columns import FLOAT, GONE, TURNED
from loopwright.fabric.fabric import Fabric
from loopwright.fabric.stitches import Kind
from loopwright.making._work import Work

__all__ = ["CornerStrand", "corner_strands", "edge_stitches", "lift_strand", "selvedge"]


@attrs.frozen
class CornerStrand:
    """A strand on the edge of a corner, and what working it with the next stitch would leave.

    Parameters
    ----------
    strand : (int, int)
        The yarn edge, from one loop to the next.
    cells : (int, int)
        Sizes, in edges, of the two cells into which the hole falls: behind the lifted loop, and
        between it and the next stitch.
    left_flank : bool
        Whether the hole lies on the left hand of the strand.
    """

    strand: tuple[int, int]
    cells: tuple[int, int]
    left_flank: bool


def _path(work: Work, operation: str, *, beyond: bool = False) -> tuple[Fabric, list[int], bool]:
    """Return the loops along the opening from the point of the right needle to the next stitch.

    The third value says whether they were walked with the opening on the left hand. With `beyond`
    they run from the next stitch to the one after it.
    """
    work._refuse(
        work.count < 2,
        operation,
        "there are fewer than two stitches on the needles",
        "an edge that is not next to the work is named by its loops, see `edge_loops`",
    )
    ahead = work.upcoming.tolist()
    around = work.live.tolist()
    if not work.right_side_facing:
        around.reverse()
    if beyond:
        work._refuse(not ahead, operation, "no stitch is left to work a strand with")
        behind, *ahead = ahead
    else:
        behind = _tip(work, around, ahead)
    fabric = work.fabric()
    live = set(fabric.live.tolist())
    strip = len(around) == 2 and not work.in_rounds  # the way leads down one side and up the other
    for following in ahead[:1] or _held_next(work):
        best: list[int] | None = None
        forward = True
        for cell in fabric.openings:
            for loops, ahead_walk in ((cell.loops, True), (tuple(reversed(cell.loops)), False)):
                found = _between(loops, behind, following, live)
                if found is not None and len(found) == 2 and strip:
                    continue
                if found is not None and (best is None or len(found) < len(best)):
                    best, forward = found, ahead_walk
        if best is not None:
            return fabric, best, forward
    raise CannotWorkError(
        operation,
        "the two stitches at the needle points don't meet at an opening",
        work.course,
        work.count,
        "work to the corner first",
    )


def _tip(work: Work, around: list[int], ahead: list[int]) -> int:
    if not ahead or len(ahead) == len(around):
        return around[-1]
    return around[around.index(ahead[0]) - 1]


def _held_next(work: Work) -> list[int]:
    """Return what may come after a row that is worked to its end: the first loop on each holder."""
    end = 0 if work.right_side_facing else -1
    return [int(loops[end]) for loops in work._held.values()] or [int(work.live[0])]


def _between(loops: tuple[int, ...], start: int, stop: int, live: set[int]) -> list[int] | None:
    """Return the stretch of a cyclic walk from `start` to `stop` that meets no other live loop."""
    for place, loop in enumerate(loops):
        if loop != start:
            continue
        stretch = [start]
        for step in range(1, len(loops)):
            reached = loops[(place + step) % len(loops)]
            stretch.append(reached)
            if reached == stop:
                return stretch
            if reached in live:
                break
    return None


def corner_strands(work: Work, *, beyond: bool = False) -> tuple[CornerStrand, ...]:
    """Return the strands on the edge of the corner where the work stands, best to lift first.

    A strand is the better, the smaller the larger of the two cells that it leaves when it is
    worked together with the next stitch; of two alike, where the larger lies before that stitch.

    Parameters
    ----------
    beyond : bool
        Of the corner behind the next stitch, which is the last of a half.

    Raises
    ------
    CannotWorkError
        The stitches at the needle points don't meet at an opening.
    """
    fabric, path, opening_on_left = _path(work, "find the strands of a corner", beyond=beyond)
    far = len(path) - 1
    # A tip that the working yarn doesn't come from leaves the hole two edges longer.
    comes = beyond or (work._line is not None and work._line.last == path[0])
    later = 0 if comes else 2
    strands = []
    for place, (a, b) in enumerate(pairwise(path)):
        along = fabric.next[a] == b
        edge = (a, b) if along else (b, a)
        waste = fabric.strands[fabric.strand[edge[0]]].role == "waste"
        if fabric.next[edge[0]] != edge[1] or fabric.flags[edge[0]] & FLOAT or waste:
            continue
        # Worked with the stitch behind the corner it leaves the larger cell on the other hand.
        cells = (far - place + 3, place + 3) if beyond else (place + 3 + later, far - place + 2)
        strands.append(CornerStrand(edge, cells, bool(along) == opening_on_left))
    return tuple(sorted(strands, key=lambda strand: (max(strand.cells), -strand.cells[1])))


def lift_strand(
    work: Work, strand: tuple[int, int], *, left_flank: bool | None = None, beyond: bool = False
) -> int:
    """Put the running strand between two loops on the left needle, to be worked next.

    Parameters
    ----------
    strand : (int, int)
        A loop and the next one of its yarn.
    left_flank : bool, optional
        On which hand of the strand it is worked; by default as its neighbour was.
    beyond : bool
        Behind the next stitch, on a row or round of the right side.

    Returns
    -------
    int
        The new loop.

    Raises
    ------
    CannotWorkError
        No strand runs from the first loop to the second, or it is waste yarn.
    """
    a, b = strand
    loops = work.columns.loops
    operation = f"lift the strand between loops {a} and {b}"
    there = 0 <= a < loops.size and 0 <= b < loops.size and not loops.flags[a] & GONE
    work._refuse(
        not there or loops.next[a] != b, operation, "no strand runs from the one to the other"
    )
    work._refuse(
        work.strands[loops.strand[a]].role == "waste",
        operation,
        "it is waste yarn, and what is worked into it would fall when that is taken out",
        "recapture what the waste yarn carries, then lift a strand of the working yarn",
    )
    work._refuse_wrapped(operation)
    work._refuse(
        beyond and not (work.right_side_facing and len(work.upcoming)),
        operation,
        "behind the next stitch, and there is none here on the right side",
    )
    before = {} if work._looks_later else work._copied()
    loop = work._lift(strand, left_flank=left_flank)
    lifted = np.array([loop], dtype=np.int32)
    work._end_of_round()
    place = work._cursor + beyond
    work._seq = np.concatenate((work._seq[:place], lifted, work._seq[place:]))
    ahead = work.right_side_facing
    pushed = beyond or not ahead  # what stands at the very place comes after the strand
    work._markers = {n: at + (at > place or (pushed and at == place)) for n, at in
                     work._markers.items()}  # fmt: skip
    work._needles = [at + (at > place or (pushed and at == place)) for at in work._needles]
    work._cursor = place - beyond if ahead else place + 1
    work._refuse_crossing(
        before, operation, "choose one of the strands that `corner_strands` finds at this corner"
    )
    return loop


def selvedge(work: Work) -> list[int]:
    """Return the edge stitches between the point of the right needle and the next stitch.

    They come in the order in which they are picked up: one for each row where the first stitch is
    worked, one for every second row where it is slipped (an edge chain); cast-on and bound-off
    edges count too.

    Raises
    ------
    CannotWorkError
        The stitches at the needle points don't meet at an opening.
    """
    fabric, path, _ = _path(work, "find the edge to pick up from")
    return _edge_loops(fabric, path, chained=False)


def edge_stitches(work: Work) -> int:
    """Return how many edge stitches there are between the needle points, to compare with.

    Where the last stitch of rows is slipped, their chain is counted too, which `selvedge` leaves
    out: nothing can be picked up along it here.

    Examples
    --------
    >>> from loopwright.making import *
    >>> work = Work()
    >>> cast_on(work, 16)
    >>> work.join_round()
    >>> work.plain_rounds(2)
    >>> work.work(["k"] * 8)
    >>> hold(work, 8, "instep")
    >>> work.to_rows()
    >>> work.turn()
    >>> work.row(["p"] * 8)
    >>> for _ in range(4):
    ...     work.row([*["k"] * 7, "sl"])
    ...     work.row(["p"] * 8)
    >>> work.work(["k"] * 8)
    >>> edge_stitches(work), len(selvedge(work))  # with the chain, and without
    (5, 2)
    """
    fabric, path, _ = _path(work, "find the edge to pick up from")
    return len(_edge_loops(fabric, path, chained=True))


def _edge_loops(fabric: Fabric, path: list[int], *, chained: bool) -> list[int]:
    turned = np.append((fabric.flags & TURNED) != 0, False)  # [-1]: before a yarn's first loop
    edge = fabric.kinds(Kind.CAST_ON, Kind.BOUND_OFF)
    along, parents = set(path), _parents(fabric, path)
    ends = path[0], path[-1]
    worked = {*ends, *parents[ends[0]], *parents[ends[1]]}
    chosen = []
    for loop in path:
        if loop in worked:
            continue
        before = int(fabric.previous[loop])
        below = along if chained else {before}
        first = turned[before] and not below.isdisjoint(parents[loop])
        if turned[loop] or first or edge[loop]:
            chosen.append(loop)
    return chosen


def _parents(fabric: Fabric, loops: list[int]) -> dict[int, list[int]]:
    """Return the loops that each of these was drawn through."""
    found: dict[int, list[int]] = {loop: [] for loop in loops}
    wanted = np.zeros(len(fabric.flags), dtype=np.bool_)
    wanted[loops] = True
    theirs = wanted[fabric.child]
    for child, parent in zip(
        fabric.child[theirs].tolist(), fabric.parent[theirs].tolist(), strict=True
    ):
        found[child].append(parent)
    return found
