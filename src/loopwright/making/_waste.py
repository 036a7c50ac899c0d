"""Waste yarn: what is held on it, cast on over it, or opened where it was knitted in.

A waste strand is a strand like any other until it is taken out. Then its loops go, with their
edges. The loops it was drawn through become live again as they are. The loops drawn through *it*
leave running strands, which are lifted one by one and face the other way. A row of n loops has
n - 1 strands between them and one at either corner: to recapture n is to choose a corner.

Examples
--------
>>> from loopwright import Work, check
>>> from loopwright.making import cast_on, draw_up, graft, recapture, waste_row
>>> work = Work()
>>> cast_on(work, 16)
>>> work.join_round()
>>> work.plain_rounds(4)
>>> work.work(["k"] * 8)  # the instep
>>> waste_row(work, 8, "heel")
>>> work.work(["k"] * 8)  # into the waste yarn
>>> work.plain_rounds(3)
>>> draw_up(work)  # the toe: done but for the heel
>>> recapture(work, "heel")
>>> work.count
16
>>> heel_yarn = work.join_yarn("heel yarn")
>>> graft(work)  # at once, so that the opening is just closed again
>>> check(work.fabric(), openings=1).ok
True
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

import attrs
import numpy as np

from loopwright.fabric.columns import FLOAT, GONE, LEFT_FLANK, NONE, Ints
from loopwright.making._work import Op, Work
from loopwright.plurals import plural

_RETURN_ADVICE: Final = (
    "where they are worked next, return them with `next_to_work`; while others are worked without "
    "them, work to and fro (`to_rows` before the first turn); where the others were joined round, "
    "return these when the needles are free"
)

__all__ = ["hold", "provisional_cast_on", "recapture", "return_held", "take_out", "waste_row"]


def hold(work: Work, count: int, name: str) -> None:
    """Put the next `count` stitches on waste yarn or a stitch holder called `name`.

    Raises
    ------
    CannotWorkError
        Too few stitches are left, or a holder of that name is in use.

    Examples
    --------
    >>> from loopwright.making import cast_on
    >>> work = Work()
    >>> cast_on(work, 8)
    >>> work.join_round()
    >>> hold(work, 3, "instep")
    >>> work.count, work.held
    (5, {'instep': 3})
    >>> return_held(work, "instep", next_to_work=True)
    >>> work.count, work.held
    (8, {})
    """
    operation = f"hold {plural(count, 'stitch')} on {name!r}"
    work._refuse(name in work._held, operation, "it carries stitches already")
    work._refuse(count < 1, operation, "the number must be 1 or more")
    loops = work._next_loops(count, operation)
    work._held[name] = np.array(loops if work.right_side_facing else loops[::-1], dtype=np.int32)
    work._replace(count, np.zeros(0, dtype=np.int32))
    yarn = NONE if work._line is None else work._line.last
    work._held_at[name] = work._stands_at, (work._behind, work._last_taken, yarn)
    work._behind = work._last_taken = NONE


def return_held(work: Work, name: str, *, next_to_work: bool = False) -> None:
    """Put held stitches back on the needle, after those that wait in this row or round.

    With `next_to_work` they come before those instead. Where others were worked first, the yarn
    floats past them.

    Raises
    ------
    CannotWorkError
        No holder of that name is in use, or strands would cross: the work went round, or on, past
        the place where these stitches were. Nothing has changed then.

    Examples
    --------
    >>> from loopwright.making import cast_on
    >>> work = Work()
    >>> cast_on(work, 8)
    >>> work.join_round()
    >>> hold(work, 4, "instep")
    >>> work.round(["k"] * 4)
    >>> work.round(["k"] * 4)  # round the other four alone, as for a thumb
    >>> return_held(work, "instep")
    Traceback (most recent call last):
    ...
    loopwright.errors.CannotWorkError: cannot return the stitches held on 'instep' in course 3, with
      8 stitches on the needles: the strands would cross there; where they are worked next, return
      them with `next_to_work`; while others are worked without them, work to and fro (`to_rows`
      before the first turn); where the others were joined round, return these when the needles are
      free
    """
    operation = f"return the stitches held on {name!r}"
    work._refuse(
        name not in work._held,
        operation,
        f"holders in use: {', '.join(work._held) or 'none'}",
    )
    before = {} if work._looks_later else work._copied()
    stood, (behind, taken, yarn) = work._held_at.pop(name, ((), (NONE, NONE, NONE)))
    is_untouched = next_to_work and stood == work._stands_at
    _put_ahead(work, work._held.pop(name), next_to_work=next_to_work)
    if is_untouched:
        work._behind, work._last_taken = behind, taken
    if work._looks_later:
        work._unseen += 1
    elif not work._goes_on():
        _float_past(work, yarn)
        work._refuse_crossing(before, operation, _RETURN_ADVICE)


def _float_past(work: Work, loop: int) -> None:
    """Let the yarn pass what was held beside its loop: it closed no gap there."""
    line = work._line
    if line is not None and line.last == loop:
        line.item = NONE
    elif loop != NONE and work.columns.loops.next[loop] != NONE:
        work.columns.loops.flags[loop] |= FLOAT


def _put_ahead(work: Work, loops: Ints, *, next_to_work: bool) -> None:
    """Put loops, in working order of the right side, among those still to be worked."""
    seq, cursor, facing = work._seq, work._cursor, work.right_side_facing
    far = len(seq) if facing else 0
    place = cursor if next_to_work else far
    work._seq = np.concatenate((seq[:place], loops, seq[place:])).astype(np.int32)
    if not facing:
        work._cursor += len(loops)
    stays = place if facing else place - 1
    grown = len(loops)
    work._markers = {n: at + grown * (at > stays) for n, at in work._markers.items()}
    work._needles = [at + grown * (at > stays) for at in work._needles]
    work._behind = work._last_taken = NONE


def provisional_cast_on(work: Work, count: int, name: str = "waste") -> None:
    """Cast on `count` stitches over a waste strand called `name`, with the working yarn.

    At the start of a piece, or going on from a row or round: the new loops then follow the last
    stitch worked.

    Parameters
    ----------
    count : int, stitches
    name : str
        Of the waste strand; each needs a name of its own.

    Raises
    ------
    CannotWorkError
        The number is below 1 or too large, or there is a strand of that name.

    Examples
    --------
    >>> work = Work()
    >>> provisional_cast_on(work, 6)
    >>> work.turn()
    >>> work.row(["p"] * 6)
    >>> work.work(["k"] * 6)
    >>> recapture(work, "waste", corner="last")
    >>> work.count  # six above, and six from under the first row
    12
    """
    operation = f"cast on {plural(count, 'stitch')} provisionally"
    work._refuse_count(count, operation, loops=2)
    _refuse_taken_name(work, operation, name)
    if work.yarn is None:
        work.join_yarn("main" if not work.strands else f"yarn {len(work.strands) + 1}")
    line = work._line
    waste = _waste_loops(work, count, name, "co")
    work._record(Op.CAST_ON, 0, count)
    work._line = line
    first = work._append_loops(np.full(count, work.stitches.code("k"), dtype=np.int16))
    made = np.arange(first, first + count, dtype=np.int32)
    work._append_through(waste, made, work._knit)
    work._record(Op.WORK, count, count)
    work._replace(0, made)
    work._end_of_round()
    work._behind, work._last_taken = int(made[-1]), NONE


def waste_row(work: Work, count: int, name: str = "waste") -> None:
    """Knit the next `count` stitches with a waste strand and leave them to be worked again.

    The working yarn waits; the next stitches are worked into the waste loops.

    Parameters
    ----------
    count : int, stitches
    name : str
        Of the waste strand; each needs a name of its own.

    Raises
    ------
    CannotWorkError
        The number is below 1, too few stitches are left, or there is a strand of that name.
    """
    operation = f"knit {plural(count, 'stitch')} with waste yarn"
    work._refuse(count < 1, operation, "the number must be 1 or more")
    _refuse_taken_name(work, operation, name)
    below = work._next_loops(count, operation).copy()
    work._end_of_round()
    line, behind, taken = work._line, work._behind, work._last_taken
    waste = _waste_loops(work, count, name, "k")
    work._append_through(below, waste, work._knit)
    work._record(Op.WORK, count, count)
    work._line = line
    stands = work._cursor, work.course, work._round_over
    work._replace(count, waste)
    work._cursor, work.course, work._round_over = stands
    # Where the waste row covers what stood behind, its own loops stand there now; but the yarn that
    # hangs below it comes from there, and joins them.
    over = dict(zip(below.tolist(), waste.tolist(), strict=True))
    work._behind, work._last_taken = over.get(behind, behind), taken
    if line is not None:
        if behind in over and line.place == behind:
            work._behind = NONE
        line.place = over.get(line.place, line.place)


def _refuse_taken_name(work: Work, operation: str, name: str) -> None:
    work._refuse(
        any(strand.name == name for strand in work.strands),
        operation,
        f"there is a strand called {name!r} already",
        "give each waste strand a name of its own",
    )


def _waste_loops(work: Work, count: int, name: str, key: str) -> Ints:
    work.join_yarn(name, role="waste")
    behind, work._behind = work._behind, NONE  # the waste strand stands below, not beside
    first = work._append_loops(np.full(count, work.stitches.code(key), dtype=np.int16))
    work.strands[-1] = attrs.evolve(work.strands[-1], cut=True)
    work._behind = behind
    return np.arange(first, first + count, dtype=np.int32)


@attrs.frozen
class _Opening:
    """What a waste strand carries: loops to be live again below, loops left hanging above."""

    waste: Ints
    below: Ints
    above: Ints


def _opening(work: Work, name: str, operation: str) -> _Opening:
    numbers = [n for n, strand in enumerate(work.strands) if strand.name == name]
    work._refuse(not numbers, operation, f"no strand is called {name!r}")
    work._refuse(
        work.strands[numbers[0]].role != "waste",
        operation,
        f"{name!r} is not waste yarn: everything it makes would be lost",
    )
    loops, through = work.columns.loops, work.columns.through
    size = loops.size
    mine = (loops.strand[:size] == numbers[0]) & ((loops.flags[:size] & GONE) == 0)
    waste = np.flatnonzero(mine).astype(np.int32)
    work._refuse(not len(waste), operation, f"{name!r} was taken out already")
    on_needles = [work._seq, *work._held.values()]
    work._refuse(
        np.isin(np.concatenate(on_needles), waste).any(),
        operation,
        f"stitches of {name!r} are still live",
        "work them with the main yarn first",
    )
    parent, child = through.parent[: through.size], through.child[: through.size]
    below = parent[mine[child]]
    if bool(loops.flags[waste[0]] & LEFT_FLANK) == (work.hand.value > 0):
        below = below[::-1]  # a row worked on the wrong side: bring it into the right side's order
    above = child[mine[parent]]
    strays = above[np.isin(above, child[~mine[parent]])]
    work._refuse(
        len(strays),
        operation,
        "a loop above it is drawn through waste and other loops at once",
    )
    _, firsts = np.unique(above, return_index=True)
    return _Opening(waste, below.copy(), above[np.sort(firsts)].copy())


def take_out(work: Work, name: str) -> None:
    """Take out a waste strand.

    The loops below it go on to a holder called ``"<name> below"``; the loops above it hang by
    their strands until they are recaptured.

    Raises
    ------
    CannotWorkError
        No waste strand has that name, it was taken out already, or its stitches are still live.

    Examples
    --------
    >>> from loopwright.making import cast_on
    >>> work = Work()
    >>> cast_on(work, 8)
    >>> work.turn()
    >>> waste_row(work, 8)
    >>> work.row(["k"] * 8)
    >>> take_out(work, "waste")
    >>> work.held
    {'waste below': 8}
    >>> recapture(work, "waste")  # 8 from below it, 8 strands from above it
    >>> work.held, work.count
    ({}, 24)
    """
    opening = _opening(work, name, f"take out {name!r}")
    _take_out(work, name, opening)
    if len(opening.below):
        work._held[f"{name} below"] = opening.below
    work._opened[name] = opening.above


def _take_out(work: Work, name: str, opening: _Opening) -> None:
    columns = work.columns
    columns.loops.flags[opening.waste] |= GONE
    columns.loops.next[opening.waste] = NONE
    for loop in opening.waste.tolist():  # a wrap that waits beside it has nothing to wait for
        work._wraps.pop(loop, None)
    gone = (columns.loops.flags[: columns.loops.size] & GONE) != 0
    through, beside = columns.through, columns.beside
    parent, child = through.parent[: through.size], through.child[: through.size]
    lost = gone[parent] | gone[child]
    work._removed += list(zip(parent[lost].tolist(), child[lost].tolist(), strict=True))
    through.keep(~lost)
    lost = gone[beside.right[: beside.size]] | gone[beside.left[: beside.size]]
    beside.keep(~lost)
    work._record(Op.TAKE_OUT, 0, len(opening.below))


def recapture(work: Work, name: str, *, corner: str = "first") -> None:
    """Put the loops on either side of a waste strand back on the needle, then take it out.

    First those below it, then the strands above it, lifted: they follow each other in working
    order round the opening, after what waits in this row or round.

    Parameters
    ----------
    corner : str
        ``"first"`` or ``"last"``: at which end the strand outside the row is lifted, in the
        order in which the row above the waste was made. As many loops come back as were made.

    Raises
    ------
    CannotWorkError
        No such waste strand, or no strand runs at that corner; or the yarn in hand hangs elsewhere
        and would run over the fabric to the opening. Nothing has changed then.
    """
    operation = f"recapture {name!r}"
    work._refuse(corner not in ("first", "last"), operation, f"corner {corner!r} is neither")
    opened = work._opened.get(name)
    if opened is None:
        opening = _opening(work, name, operation)
        above, below = opening.above, opening.below
    else:
        above = opened
        below = work._held.get(f"{name} below", np.zeros(0, dtype=np.int32))
    edges = _strands_above(work, above, corner, operation)
    hangs = work._line is not None and work._line.last != NONE and not work.count
    before = work._copied() if hangs and not work._looks_later else {}
    if opened is None:
        _take_out(work, name, opening)
    work._opened.pop(name, None)
    work._held.pop(f"{name} below", None)
    flank = [bool(work.columns.loops.flags[loop] & LEFT_FLANK) for loop in above.tolist()]
    lifted = np.array(
        [work._lift(edge, left_flank=not left) for edge, left in zip(edges, flank, strict=True)],
        dtype=np.int32,
    )
    # Worked on the right side, the row ran the other way than the round that now goes through it.
    if flank and flank[0] == (work.hand.value < 0):
        lifted = lifted[::-1]
    _put_ahead(work, np.concatenate((below, lifted)), next_to_work=False)
    if hangs:
        work._refuse_crossing(before, operation, "cut the yarn, and join it anew at the opening")


def _strands_above(work: Work, above: Ints, corner: str, operation: str) -> list[tuple[int, int]]:
    """Return the yarn edges to lift, in the order of the row."""
    if not len(above):
        return []
    following, flags = work.columns.loops.next, work.columns.loops.flags
    row = above.tolist()
    left = (flags[above] & LEFT_FLANK) != 0
    work._refuse(
        left.any() and not left.all(),
        operation,
        "the row above it was worked from both sides, as a graft is",
        "take it out: what it carried is held below it",
    )
    between = list(pairwise(row))
    for a, b in between:
        work._refuse(
            following[a] != b or flags[a] & FLOAT,
            operation,
            f"no strand runs between loops {a} and {b} of the row above it",
        )
    if corner == "first":
        edge = (work._before(row[0]), row[0])
    else:
        edge = (row[-1], int(following[row[-1]]))
    advice = f"take the {'last' if corner == 'first' else 'first'} corner"
    work._refuse(
        NONE in edge,
        operation,
        f"no strand runs at its {corner} corner: the yarn has its end there",
        advice,
    )
    work._refuse(
        work._binds_off(edge),
        operation,
        f"no strand runs free at its {corner} corner: the bind-off goes on there",
        advice,
    )
    return [edge, *between] if corner == "first" else [*between, edge]
