"""Cast-ons and picking up: how loops come on to the needles without a row below them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np

from loopwright.border import guard
from loopwright.errors import CannotWorkError
from loopwright.fabric.columns import EDGE, GONE, LEFT_FLANK, NONE, TURNED, Ints
from loopwright.fabric.stitches import Kind
from loopwright.making._work import Op, Work
from loopwright.plurals import plural

__all__ = ["CAST_ONS", "cast_on", "closed_cast_on", "edge_loops", "pick_up"]

# Ways of casting on that leave the same loops; they differ in their hands and their yarn.
CAST_ONS: Final = ("long-tail", "knitted", "crochet chain", "stretchy")


def cast_on(work: Work, count: int, *, how: str = "long-tail") -> None:
    """Cast on `count` stitches with the working strand, after what is on the needles.

    Parameters
    ----------
    count : int, stitches
    how : str
        One of `CAST_ONS`.

    Raises
    ------
    CannotWorkError
        The number is below 1 or too large, or the way is not known.
    """
    operation = f"cast on {plural(count, 'stitch')}"
    work._refuse_count(count, operation)
    work._refuse(
        how not in CAST_ONS, operation, f"no way {how!r} is known", f"choose {', '.join(CAST_ONS)}"
    )
    if work.yarn is None:
        work.join_yarn("main" if not work.strands else f"yarn {len(work.strands) + 1}")
    first = work._append_loops(np.full(count, work.stitches.code("co"), dtype=np.int16))
    work._record(Op.CAST_ON, 0, count)
    _put_on(work, np.arange(first, first + count, dtype=np.int32))


def closed_cast_on(work: Work, each_half: int) -> None:
    """Cast on for a toe: `each_half` stitches on either flank of one strand, nothing left open.

    The two halves come on to the needles one after the other, first the near one. So the next
    round goes round the toe; join into a round before working.

    Parameters
    ----------
    each_half : int, stitches

    Raises
    ------
    CannotWorkError
        The number is below 1 or too large, or there are stitches on the needles already.
    """
    operation = f"cast on {plural(each_half, 'stitch')} on each half, closed"
    work._refuse_count(each_half, operation, loops=2)
    work._refuse(work.count, operation, "there are stitches on the needles already")
    if work.yarn is None:
        work.join_yarn("main" if not work.strands else f"yarn {len(work.strands) + 1}")
    first = work._append_loops(np.full(2 * each_half, work.stitches.code("cc"), dtype=np.int16))
    loops = np.arange(first, first + 2 * each_half, dtype=np.int32)
    flags = work.columns.loops.flags
    flags[loops[1::2]] ^= LEFT_FLANK
    work._record(Op.CAST_ON, 0, 2 * each_half)
    # The strand ends at the left of both halves: the half that faces comes back from there.
    far, near = loops[0::2], loops[1::2]
    _put_on(work, np.concatenate((near[::-1], far)))
    work.arrange((each_half, each_half))
    # The yarn comes from the near half and goes back over it: that is a turn.
    flags[loops[-1]] |= TURNED
    work._working(operation).turned = True
    work._behind, work._last_taken = NONE, int(far[-1])  # the strand runs on from the far half


def _put_on(work: Work, loops: Ints) -> None:
    """Put new loops, in the order made, on the needle behind the cursor."""
    work._replace(0, loops)
    work._behind = int(loops[-1])
    work._last_taken = NONE


def edge_loops(work: Work, edge: str, *, first_course: int, last_course: int) -> list[int]:
    """Return the loops along a selvedge, from the lowest course up.

    Parameters
    ----------
    edge : str
        ``"left"`` or ``"right"`` as seen from the right side.
    first_course, last_course : int
        Courses of the rows whose selvedge is meant, both included.

    Returns
    -------
    list of int
        One loop for each edge stitch: every row where the first stitch is worked, every second
        row where it is slipped. Live loops are not among them, nor the turns of short rows that
        were worked over.

    Raises
    ------
    CannotWorkError
        The edge is neither left nor right.
    """
    work._refuse(
        edge not in ("left", "right"), "find an edge", f"{edge!r} is neither left nor right"
    )
    fabric = work.fabric()
    # Where rows turned before their end, those after them have closed the side of the turn.
    open_side = {loop for cell in fabric.openings for loop in cell.loops}
    open_side -= set(fabric.live.tolist())
    among = (fabric.course >= first_course) & (fabric.course <= last_course) & fabric.present
    right_to_left = fabric.side > 0
    ends = np.flatnonzero(among & fabric.turned & (right_to_left == (edge == "left"))).tolist()
    # A row's first loop is at the edge too, if it is drawn through the loop turned after.
    drawn = set(zip(fabric.parent.tolist(), fabric.child.tolist(), strict=True))
    firsts = [after for end in ends if (end, after := int(fabric.next[end])) in drawn]
    return sorted(loop for loop in (*ends, *firsts) if loop in open_side and among[loop])


def pick_up(work: Work, along: Sequence[int]) -> None:
    """Pick up and knit one stitch in each of these edge loops, in this order.

    Parameters
    ----------
    along : sequence of int
        Ids of edge loops, as `edge_loops` and `selvedge` return them.

    Raises
    ------
    CannotWorkError
        A loop is live or gone, or has no edge (it stands in the midst of a row), or no yarn is
        joined.

    Examples
    --------
    >>> flap = Work()
    >>> cast_on(flap, 4)
    >>> flap.turn()
    >>> for _ in range(3):
    ...     flap.row(["sl", "k", "k", "k"])
    ...     flap.row(["sl", "p", "p", "p"])
    >>> flap.work(["k"] * 4)
    >>> chain = edge_loops(flap, "left", first_course=1, last_course=6)
    >>> len(chain)  # one for two rows
    3
    >>> pick_up(flap, chain)
    >>> flap.count
    7
    """
    operation = f"pick up {plural(len(along), 'stitch')}"
    work._working(operation)
    known = work.columns.loops.size
    for loop in along:
        work._refuse(
            not 0 <= loop < known or work.columns.loops.flags[loop] & GONE,
            operation,
            f"there is no loop {loop}",
        )
        work._refuse(
            loop in work._seq, operation, f"loop {loop} is on the needle", "work it instead"
        )
        work._refuse(
            not _has_edge(work, loop),
            operation,
            f"loop {loop} stands in the midst of its row: nothing is open beside it",
            "pick up along a selvedge, a cast-on or a bound-off edge",
        )
    if not along:
        return
    before = work._copied()
    first = work._append_loops(np.full(len(along), work.stitches.code("pu"), dtype=np.int16))
    made = np.arange(first, first + len(along), dtype=np.int32)
    work._append_through(np.array(along, dtype=np.int32), made, EDGE | work._knit)
    work._record(Op.CAST_ON, 0, len(along))
    work._replace(0, made)
    work._end_of_round()
    work._behind = int(made[-1])
    work._last_taken = NONE
    work._refuse_crossing(
        before, operation, "pick up along the edge next to the work, in order from its point"
    )


def _has_edge(work: Work, loop: int) -> bool:
    """Return whether a loop ends its row or strand, or is of a cast-on or bound-off edge."""
    loops = work.columns.loops
    edges = work.stitches.of_kind(Kind.CAST_ON, Kind.BOUND_OFF)
    before = work._before(loop)
    return bool(
        edges[loops.stitch[loop]]
        or before < 0
        or loops.next[loop] < 0
        or (loops.flags[loop] | loops.flags[before]) & TURNED
    )


def spread(available: int, wanted: int) -> list[int]:
    """Return `wanted` of `available` places, spread evenly; a place comes twice if there are few.

    Examples
    --------
    >>> spread(8, 6)
    [0, 2, 3, 4, 6, 7]
    """
    if available < 1 or wanted < 0:
        raise CannotWorkError(
            f"spread {plural(wanted, 'stitch')}", f"there are {available} places", 0, 0, ""
        )
    return [int((2 * number + 1) * available / (2 * wanted)) for number in range(wanted)]


guard(globals())
