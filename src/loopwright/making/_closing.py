"""Closings: how the last loops are secured, by graft, bind-off or drawing up.

Examples
--------
>>> from loopwright import Work, check
>>> from loopwright.making import closed_cast_on, three_needle_bind_off, weave_in
>>> pouch = Work()
>>> closed_cast_on(pouch, 4)
>>> pouch.join_round()
>>> pouch.plain_rounds(3)
>>> three_needle_bind_off(pouch)
>>> print(check(pouch.fabric(), openings=0))
Fabric of 36 loops, 0 live; strands: main
  blemish: tails: strand 'main' has tails that are not woven in (course 0, stitch 1 of 8:
 loop 0 (cc, main) and 1 more); weave them in; one next to a gap can close it
>>> weave_in(pouch)
>>> print(check(pouch.fabric(), openings=0))
Fabric of 36 loops, 0 live; strands: main
  every check passed
"""

from __future__ import annotations

from typing import Final

import attrs
import numpy as np

from loopwright.errors import CannotWorkError, CountError
from loopwright.fabric.columns import (
    CHAIN,
    DRAWN,
    FACING,
    FASTENED,
    LEFT_FLANK,
    NONE,
    Ints,
)
from loopwright.making._work import Op, Work
from loopwright.plurals import plural

__all__ = [
    "BIND_OFFS",
    "GRAFTS",
    "Pass",
    "bind_off",
    "draw_up",
    "graft",
    "graft_passes",
    "three_needle_bind_off",
    "weave_in",
]

BIND_OFFS: Final = ("plain", "stretchy")
GRAFTS: Final = ("stitch by stitch", "front and back in one pass")


@attrs.frozen
class Pass:
    """One pass of the tapestry needle.

    Parameters
    ----------
    through : tuple of (str, str)
        What it goes through in one pull: needle (``"front"`` or ``"back"``) and way
        (``"purlwise"`` or ``"knitwise"``), in order.
    drops : tuple of str
        Needles that let their first stitch go afterwards.

    Examples
    --------
    >>> for one in graft_passes(1):
    ...     print(one.through, one.drops)
    (('front', 'purlwise'),) ()
    (('back', 'knitwise'),) ()
    (('front', 'knitwise'),) ('front',)
    (('back', 'purlwise'),) ('back',)
    """

    through: tuple[tuple[str, str], ...]
    drops: tuple[str, ...] = ()


def graft_passes(count: int, *, how: str = GRAFTS[0]) -> tuple[Pass, ...]:
    """Return the passes that graft `count` stitches to `count`, in order.

    Each stitch is passed through twice, once each way; the first pass leaves it on its needle,
    the second lets it go (common practice).

    Parameters
    ----------
    count : int, stitches on each needle
    how : str
        One of `GRAFTS`. The second takes a back stitch and a front stitch in one pull wherever the
        yarn crosses from one needle to the other. So the order of passes through each stitch is the
        same and so is the fabric.

    Examples
    --------
    >>> len(graft_passes(8))
    32
    >>> graft_passes(1)[0]
    Pass(through=(('front', 'purlwise'),), drops=())
    """
    _refuse_way("graft", how, GRAFTS)
    single = [Pass((("front", "purlwise"),)), Pass((("back", "knitwise"),))]
    for _ in range(count - 1):
        single += [
            Pass((("front", "knitwise"),), ("front",)),
            Pass((("front", "purlwise"),)),
            Pass((("back", "purlwise"),), ("back",)),
            Pass((("back", "knitwise"),)),
        ]
    single += [Pass((("front", "knitwise"),), ("front",)), Pass((("back", "purlwise"),), ("back",))]
    if count < 1:
        return ()
    if how == GRAFTS[0]:
        return tuple(single)
    merged: list[Pass] = []
    for step in single:
        last = merged[-1] if merged else None
        crosses = last is not None and (last.through[-1][0], step.through[0][0]) == (
            "back",
            "front",
        )
        if last is not None and crosses and len(last.through) == 1:
            merged[-1] = Pass(last.through + step.through, last.drops + step.drops)
        else:
            merged.append(step)
    return tuple(merged)


def _refuse_way(what: str, how: str, ways: tuple[str, ...], work: Work | None = None) -> None:
    if how not in ways:
        course, live = (work.course, work.count) if work else (0, 0)
        advice = f"choose {' or '.join(map(repr, ways))}"
        raise CannotWorkError(what, f"no way {how!r} is known", course, live, advice)


def _halves(work: Work, operation: str) -> tuple[Ints, Ints]:
    """Return the loops of the near and the far half, facing each other pair by pair."""
    count = work.count
    if count % 2 or not count:
        raise CountError(
            operation,
            f"no two equal halves can be made of {plural(count, 'stitch')}",
            work.course,
            count,
            "bring both halves to the same number first",
            2 * (count // 2),
            count,
        )
    if not work.left:  # all is worked: the ring begins again from its first stitch
        work._cursor = 0 if work.right_side_facing else count
    work._behind = NONE  # what is behind the first pair faces it; nothing stands beside it
    around = np.roll(work._seq, -work._cursor) if work.right_side_facing else np.roll(
        work._seq[::-1], work._cursor
    )  # fmt: skip
    return around[: count // 2], around[count // 2 :][::-1]


def _clear(work: Work) -> None:
    for loop in work._seq.tolist():
        work._wraps.pop(loop, None)
    work._seq = np.zeros(0, dtype=np.int32)
    work._cursor = 0
    work._markers.clear()
    work._needles.clear()
    work._round_over = False
    work._behind = work._last_taken = NONE


def graft(work: Work) -> None:
    """Graft the two halves of the stitches on the needles together, from where the work stands.

    One strand passes through a near stitch and the far stitch that faces it in turn. The ways of
    moving the needle differ (see `graft_passes`); the fabric does not. The yarn is cut: `Work.yarn`
    is None then.

    Raises
    ------
    CountError
        The stitches don't make two equal halves.
    CannotWorkError
        No yarn is joined.
    """
    operation = f"graft {plural(work.count, 'stitch')}"
    work._working(operation)
    near, far = _halves(work, operation)
    stitches = np.full(work.count, work.stitches.code("graft"), dtype=np.int16)
    first = work._append_loops(stitches)
    made = np.arange(first, first + len(stitches), dtype=np.int32)
    work.columns.loops.flags[made[1::2]] ^= LEFT_FLANK
    work.columns.loops.flags[made[-1]] |= FASTENED
    parents = np.empty(len(made), dtype=np.int32)
    parents[0::2], parents[1::2] = near, far
    work._append_through(parents, made, 0)
    work._record(Op.CLOSE, len(made), 0)
    _clear(work)
    work.cut()


def three_needle_bind_off(work: Work) -> None:
    """Bind off the two halves together: near, far and the loop before become one, in turn.

    The yarn is cut: `Work.yarn` is None then.

    Raises
    ------
    CountError
        The stitches don't make two equal halves.
    CannotWorkError
        No yarn is joined.
    """
    operation = f"bind off {plural(work.count, 'stitch')} from two needles"
    work._working(operation)
    near, far = _halves(work, operation)
    count = len(near)
    first = work._append_loops(np.full(count, work.stitches.code("bo"), dtype=np.int16))
    made = np.arange(first, first + count, dtype=np.int32)
    parents = [(near[0], made[0], 0), (far[0], made[0], FACING | 1)]
    for number in range(1, count):
        parents += [
            (near[number], made[number], 1),
            (far[number], made[number], FACING | 2),
            (made[number - 1], made[number], CHAIN),
        ]
    _draw(work, parents)
    work.columns.loops.flags[made[-1]] |= FASTENED
    work._record(Op.CLOSE, 2 * count + count - 1, count - 1)
    _clear(work)
    work.cut()


def bind_off(work: Work, count: int | None = None, *, how: str = "plain") -> None:
    """Bind off the next `count` stitches, or all that are left.

    With the last on the needles the yarn is cut: `Work.yarn` is None then.

    Parameters
    ----------
    how : str
        ``"plain"``: each stitch is worked and the one before passed over it. ``"stretchy"``: each
        stitch is worked, then worked together with the loop before, which gives the edge one more
        loop a stitch.

    Raises
    ------
    CannotWorkError
        Fewer stitches are left, or no yarn is joined.
    """
    _refuse_way("bind off", how, BIND_OFFS, work)
    count = work.left if count is None else count
    operation = f"bind off {plural(count, 'stitch')}"
    work._working(operation)
    work._refuse(count < 1, operation, "there is nothing to bind off", work._turn_first)
    loops = work._next_loops(count, operation).tolist()
    everything = count == work.count
    code, plain = work.stitches.code("bo"), work.stitches.code("k")
    edges: list[tuple[int, int, int]] = []
    last = NONE
    for number, loop in enumerate(loops):
        work._wraps.pop(loop, None)
        if number and how == "stretchy":
            stitch = work._append_loops(np.array([plain], dtype=np.int16))
            edges.append((loop, stitch, work._knit))
            loop = stitch
        made = work._append_loops(np.array([code], dtype=np.int16))
        edges.append((loop, made, work._knit | bool(number)))
        if number:
            edges.append((last, made, CHAIN))
        last = made
    _draw(work, edges)
    extra = count - 1 if how == "stretchy" else 0
    if everything:
        work.columns.loops.flags[last] |= FASTENED
        work._record(Op.CLOSE, 2 * count - 1 + extra, count - 1 + extra)
        _clear(work)
        work.cut()
    else:
        # The last loop stays on the right needle and counts as a stitch, as in all instructions.
        work._record(Op.CLOSE, 2 * count - 1 + extra, count + extra)
        work._replace(count, np.array([last], dtype=np.int32))
        work._end_of_round()
        work._behind, work._last_taken = last, loops[-1]


def _draw(work: Work, edges: list[tuple[int, int, int]]) -> None:
    parents, children, info = zip(*edges, strict=True)
    work._append_through(
        np.array(parents, dtype=np.int32),
        np.array(children, dtype=np.int32),
        np.array(info, dtype=np.uint8),
    )


def draw_up(work: Work) -> None:
    """Cut the yarn, draw it through all stitches on the needles and pull it tight.

    Raises
    ------
    CannotWorkError
        There is nothing on the needles, or no yarn is joined.

    Examples
    --------
    >>> from loopwright.making import cast_on
    >>> toe = Work()
    >>> cast_on(toe, 8)
    >>> toe.join_round()
    >>> toe.round(["k2tog"] * 4)
    >>> draw_up(toe)
    >>> toe.count, len(toe.fabric().openings)  # what is open is the cast-on edge
    (0, 1)
    """
    operation = "draw up the stitches"
    work._working(operation)
    work._refuse(not work.count, operation, "there is nothing on the needles")
    work.columns.loops.flags[work._seq] |= DRAWN
    work._record(Op.DRAW, work.count, 0)
    _clear(work)
    work.cut()


def weave_in(work: Work, *names: str) -> None:
    """Weave in both tails of these strands, or of all that are cut.

    Raises
    ------
    CannotWorkError
        No strand is called that, or it is not cut.
    """
    known = {strand.name: strand for strand in work.strands}
    for name in names:
        work._refuse(name not in known, f"weave in {name!r}", "no strand is called that")
        work._refuse(not known[name].cut, f"weave in {name!r}", "it is not cut", "cut it first")
    for number, strand in enumerate(work.strands):
        if strand.cut and (not names or strand.name in names):
            work.strands[number] = attrs.evolve(strand, woven=(True, True))
