"""Work in progress: the stitches that a hand works on the needles.

Working takes loops at the cursor and puts new ones there. Operations that belong to a family
(cast-ons, waste yarn, closings, corners) are functions in their own modules. Each checks everything
before it changes anything.
"""

from __future__ import annotations

from collections.abc import Sequence
from copy import copy, deepcopy
from itertools import pairwise, product
from typing import Final

import numpy as np

from loopwright.errors import CannotWorkError
from loopwright.fabric.columns import (
    FLOAT,
    LEFT_FLANK,
    NONE,
    TURNED,
    Ints,
)
from loopwright.fabric.stitches import Kind
from loopwright.making._joining import JoinedStitches
from loopwright.making._needles import Op, WorkingStrand
from loopwright.making._plan import StitchRun, plan

__all__ = ["Op", "Work"]

_FEW: Final = 6  # stitches of a round in which a crossing may hide
_LONE: Final = "the round has no other stitch to turn back over"


class Work(JoinedStitches):
    """Loops on needles and holders, and the fabric that hangs below them.

    Parameters
    ----------
    hand : Hand
    stitches : StitchTable
        With stitches of your own, see :meth:`StitchTable.with_stitch`.

    Examples
    --------
    >>> from loopwright.making import cast_on
    >>> work = Work()
    >>> cast_on(work, 8)
    >>> work.join_round()
    >>> work.round(["k", "k2tog", "k"] * 2)
    >>> work.count, work.course
    (6, 2)
    """

    # Declared again for type checkers, since they are set here too.
    course: int
    in_rounds: bool
    right_side_facing: bool

    # Working --------------------------------------------------------------------------------

    def join_round(self) -> None:
        """Join into a round: from here on the work goes round, not to and fro.

        `CannotWorkError` where it is joined already, or nothing is on the needles.
        """
        self._refuse(self.in_rounds, "join into a round", "it is joined already")
        self._refuse(not self.count, "join into a round", "there is nothing on the needles")
        self.in_rounds = True
        self._end_of_round()

    def to_rows(self) -> None:
        """Go over from rounds to rows: from here on the work turns at its ends.

        Raises
        ------
        CannotWorkError
            Stitches of a closed cast-on are on the needles: work one round first.

        Examples
        --------
        >>> from loopwright.making import cast_on
        >>> work = Work()
        >>> cast_on(work, 8)
        >>> work.join_round()
        >>> work.plain_rounds(2)
        >>> work.work(["k"] * 2)
        >>> work.begin_round_here()
        >>> work.to_rows()
        >>> work.row(["k"] * 8)
        >>> work.in_rounds, work.right_side_facing
        (False, False)
        """
        closed = self.stitches.code("cc")
        self._refuse(
            (self.columns.loops.stitch[self._seq] == closed).any(),
            "go over to rows",
            "stitches of a closed cast-on are on the needles",
            "work one round first",
        )
        if self._cursor == (0 if self.right_side_facing else self.count):
            self._last_taken = self._behind = NONE  # the round's end is no neighbour any more
            self._round_over |= self.in_rounds
        self.in_rounds = False

    def begin_round_here(self) -> None:
        """Let the round begin where the work stands; `CannotWorkError` if it is not joined."""
        self._refuse(not self.in_rounds, "move the round's beginning", "the work is not joined")
        shift, count = self._cursor, self.count
        self._seq = np.roll(self._seq, -shift)
        self._markers = {n: (place - shift) % count for n, place in self._markers.items()}
        if self._needles:  # stitches all on one needle stay there
            edges = {(place - shift) % count for place in (0, *self._needles)} - {0}
            self._needles = sorted(edges)
        self._cursor = 0 if self.right_side_facing else count

    def work(self, keys: Sequence[str], *, with_wraps: bool = False) -> None:
        """Work these stitches, in order, with the working strand.

        Parameters
        ----------
        keys : sequence of str
            Keys of the stitch table; ``["k"] * 10`` knits ten.
        with_wraps : bool
            Work each stitch together with the wraps that stand beside it.

        Raises
        ------
        CannotWorkError
            Too few stitches are left in this row or round, no yarn is joined, or a strand to be
            lifted isn't there. Nothing has changed then.

        Notes
        -----
        Several calls make what one makes, but at the end of a round. One call never goes beyond
        it; and a stitch that takes none, such as ``yo``, ends the round in the call that works
        its last stitch, and begins the next one in a call of its own.

        Examples
        --------
        >>> from loopwright.making import cast_on
        >>> for calls in (["k", "k", "yo"],), (["k", "k"], ["yo"]):
        ...     work = Work()
        ...     cast_on(work, 2)
        ...     work.join_round()
        ...     for keys in calls:
        ...         work.work(keys)
        ...     print(work.count, work.left)
        3 3
        3 2
        """
        keys = tuple(keys)
        run = plan(self.stitches, keys)
        if run.lifts and (self._wraps or self._ends_round(run) or self._is_doubtful(run)):
            self._work_in_parts(keys, with_wraps=with_wraps)
        else:
            self._apply(run, keys, with_wraps)

    def _work_in_parts(self, keys: tuple[str, ...], *, with_wraps: bool) -> None:
        """Work what stands before each lifted strand before that is looked for.

        At the end of a round, and beside a wrap, it may lead to a loop of this very run.
        """
        lifting = [place for place, key in enumerate(keys) if self.stitches[key].lifts]
        cuts = sorted({0, *lifting, len(keys)})
        before, doubtful = self._copied(), False
        try:
            for start, stop in pairwise(cuts):
                part = keys[start:stop]
                run = plan(self.stitches, part)
                doubtful = doubtful or self._is_doubtful(run)
                self._apply(run, part, with_wraps, goes_on=stop < len(keys))
            if doubtful:
                advice = "work the increase one stitch further in"
                self._refuse_crossing(before, "lift a strand", advice)
        except CannotWorkError:
            vars(self).update(before)
            raise

    def copy(self) -> Work:
        """Return these needles with all that is made so far, to try something on.

        Examples
        --------
        >>> from loopwright.making import cast_on
        >>> work = Work()
        >>> cast_on(work, 8)
        >>> trial = work.copy()
        >>> trial.turn()
        >>> trial.row(["k2tog"] * 4)
        >>> trial.count, work.count
        (4, 8)
        """
        other = Work(hand=self.hand, stitches=self.stitches)
        vars(other).update(self._copied())
        return other

    def _copied(self) -> dict[str, object]:
        """Return all that the work is, to go back to: nothing in it changes with the work."""
        kept = dict(vars(self))
        kept["columns"] = deepcopy(self.columns)
        kept["_line"] = copy(self._line)
        kept["_wraps"] = {stitch: [*wraps] for stitch, wraps in self._wraps.items()}
        for name, value in kept.items():
            if isinstance(value, list | set) or name in (
                "_markers",
                "_held",
                "_held_at",
                "_opened",
            ):
                kept[name] = copy(value)
        return kept

    def _refuse_crossing(self, before: dict[str, object], operation: str, advice: str) -> None:
        """Go back to `before` and refuse, unless all on the needles can be worked from here."""
        if self._looks_later:
            self._unseen += 1
        elif not self._goes_on():
            now = self.course, self.count
            vars(self).update(before)
            raise CannotWorkError(operation, "the strands would cross there", *now, advice)

    def _goes_on(self) -> bool:
        """Tell whether all on the needles can be worked without a crossing of strands.

        With the wraps or without; few stitches in a round turned first, too: of two, each is the
        other's neighbour on both sides, and one way may be sound and the other not.
        """
        turned = (False, True) if self.in_rounds and self.count <= _FEW else (False,)
        choices = product(turned, (False, True) if self._wraps else (False,))
        return all(self._goes_on_so(turned, with_wraps) for turned, with_wraps in choices)

    def _goes_on_so(self, turned: bool, with_wraps: bool) -> bool:
        trial = copy(self)
        vars(trial).update(self._copied())
        if trial._line is None:
            trial.join_yarn("to try with")
        elif trial._line.wrapped:
            trial.turn()
        if turned:
            if trial._at_wrap:
                return True  # no turn follows that of a wrap
            trial.turn()
        for _ in range(2):
            trial.work(["k"] * trial.left, with_wraps=with_wraps)
            if not trial.in_rounds:
                trial.turn()
        return trial.fabric().is_on_spheres

    def _ends_round(self, run: StitchRun) -> bool:
        return (
            self.in_rounds
            and run.takes == self.left
            and run.lifts[-1] - len(run.lifts) + 1 == (run.takes)
        )

    def round(self, keys: Sequence[str], *, with_wraps: bool = False) -> None:
        """Work one round, or what is left of it; `CountError` unless the stitches use it up."""
        self._refuse(not self.in_rounds, "work a round", "the work is not joined", "join it first")
        self._use_up("round", keys)
        self.work(keys, with_wraps=with_wraps)

    def row(self, keys: Sequence[str], *, with_wraps: bool = False) -> None:
        """Work one row to its end and turn; `CountError` unless the stitches use it up."""
        self._use_up("row", keys)
        self.work(keys, with_wraps=with_wraps)
        self.turn()

    def plain_rounds(self, times: int, key: str = "k") -> None:
        """Work `times` rounds of one stitch."""
        self.rounds([key] * self.count, times)

    def rounds(self, keys: Sequence[str], times: int) -> None:
        """Work the same round `times` times; raises as `round` does, at the first that fails."""
        self._refuse(times < 0, f"work {times} rounds", "the number must not be negative")
        run = plan(self.stitches, keys)
        self._refuse_many(times * run.makes, f"work {times} rounds")
        done = 0
        if times > 1 and run.simple and self._is_plain_start and run.takes == self.count:
            self._apply_block(run, times)
            done = times
        for _ in range(times - done):
            self.round(keys)

    @property
    def _is_plain_start(self) -> bool:
        return (
            self.in_rounds
            and self.right_side_facing
            and self._cursor == 0
            and not self._reseated
            and not self._wraps
            and self._line is not None
        )

    def turn(self) -> None:
        """Turn the work, at the end of a row or in the midst of it.

        Work that goes round still does after it, the other way: at the round's beginning it goes
        on past the corner. For rows with two ends call `to_rows` first, as for a heel worked to
        and fro while the instep is held.

        Raises
        ------
        CannotWorkError
            Nothing is on the needles, or nothing was worked since a wrap or double stitch.
        """
        self._refuse(not self.count, "turn", "there is nothing on the needles")
        if self._line is not None and self._line.last != NONE:
            flags, line = self.columns.loops.flags, self._line
            self._refuse(
                self._at_wrap,
                "turn back",
                "nothing was worked since the wrap or double stitch, which would come undone",
                "work at least one stitch",
            )
            # Turned back with nothing worked in between, the yarn goes on as it did before.
            if flags[line.last] & TURNED and not line.turned:
                line.item = NONE  # but it has passed what was slipped
            flags[line.last] ^= TURNED
            line.turned, line.wrapped = True, False
        self.right_side_facing = not self.right_side_facing
        self._last_taken = self._behind = NONE
        self.course += 1
        at_end = self._cursor == (self.count if self.right_side_facing else 0)
        if (self.in_rounds or self._round_over) and at_end:
            self._cursor = self.count - self._cursor  # a round is before it, none behind

    @property
    def _is_lone(self) -> bool:
        """Whether one stitch is all the round: it has no neighbour but itself."""
        return self.in_rounds and self.count == 1

    def wrap(self) -> None:
        """Wrap the next stitch, which stays unworked; turn after it.

        Raises
        ------
        CannotWorkError
            No stitch is left in this row, or none was worked before it.
        """
        operation = "wrap a stitch"
        line = self._working(operation)
        self._refuse(not self.left, operation, "no stitch is left in this row")
        self._refuse(self._is_lone, operation, _LONE)
        self._refuse(
            line.turned or line.last == NONE,
            operation,
            "nothing was worked before it",
            "work at least one stitch, then wrap the next",
        )
        self._end_of_round()
        stitch = int(self.upcoming[0])
        loop = self._append_loops(np.array([self.stitches.code("wrap")], dtype=np.int16))
        self._behind = loop
        line.wrapped = True
        self._wraps.setdefault(stitch, []).append(loop)

    def double_stitch(self) -> None:
        """After a turn: pull the yarn up over the last stitch, so that it shows two legs.

        The pull undoes the stitch: the loop it was drawn through is back on the needle, and the
        yarn stands beside it, as a wrap does. Both are worked together later.

        Raises
        ------
        CannotWorkError
            The work was not turned just after a stitch drawn through one loop that it has alone.

        Examples
        --------
        >>> from loopwright.making import cast_on
        >>> work = Work()
        >>> cast_on(work, 6)
        >>> work.turn()
        >>> work.work(["k"] * 4)
        >>> work.turn()
        >>> work.double_stitch()
        >>> work.row(["p"] * 3)
        >>> work.row(["k"] * 6, with_wraps=True)
        >>> work.count
        6
        """
        operation = "make a double stitch"
        line, columns = self._working(operation), self.columns
        self._refuse(self._is_lone, operation, _LONE)
        leg, through = line.last, self.columns.through
        self._refuse(
            not self.left
            or leg == NONE
            or not columns.loops.flags[leg] & TURNED
            or int(self.upcoming[0]) != leg,
            operation,
            "the work was not turned just after this stitch",
            "turn first",
        )
        edges = through.size - 1 - np.arange(min(8, through.size))
        edges = edges[through.child[edges] == leg]
        parents = sorted(through.parent[edges].tolist())
        self._refuse(
            self.stitches.rows[columns.loops.stitch[leg]].is_crossing,
            operation,
            "the last stitch is one of a crossing",
            "turn one stitch later",
        )
        wraps = self.stitches.of_kind(Kind.WRAP)[columns.loops.stitch[parents]]
        whole = [parent for parent, wrap in zip(parents, wraps, strict=True) if not wrap]
        bound = self.stitches.rows[columns.loops.stitch[leg]].kind is Kind.BOUND_OFF
        self._refuse(
            bound or len(whole) != 1 or through.child[-1 + through.size] != leg or line.item != leg,
            operation,
            "the last stitch is not drawn through just one loop",
            "turn one stitch later",
        )
        stitch = whole[0]
        self._refuse(
            np.count_nonzero(through.parent[: through.size] == stitch) > 1,
            operation,
            "the last stitch is one of several worked into the same loop",
            "turn one stitch later",
        )
        through.size -= len(edges)
        columns.loops.stitch[leg] = self.stitches.code("ds")
        last = len(self._ledger) - 1
        entry = next(n for n in range(last, -1, -1) if self._ledger[n][0] == Op.WORK)
        op, after, before, taken, made, total = self._ledger[entry]
        self._ledger[entry] = (op, after, before, taken - 1, made - 1, total)
        self._wraps[stitch] = [parent for parent in parents if parent != stitch] + [leg]
        self._replace(1, np.array([stitch], dtype=np.int32))
        self._end_of_round()
        self._last_taken = stitch

    def _apply(
        self, run: StitchRun, keys: tuple[str, ...], with_wraps: bool, *, goes_on: bool = False
    ) -> None:
        line = self._working("work")
        taken = self._next_loops(run.takes, "work these stitches")
        if not len(run.ends):
            return
        if run.crossed:
            self._refuse_to_cross(run, taken, with_wraps=with_wraps)
        strands = self._strands_to_lift(run, taken)
        if run.takes:
            self._end_of_round()
        if self._reseated:
            run = self._reseat(run, keys, taken)
        for place, (a, b, left) in zip(run.lifts, strands, strict=True):
            taken = np.insert(taken, place, self._lift((a, b), left_flank=left))
        behind = self._behind
        last_taken = self._outermost(int(taken[-1]), ahead=True) if len(taken) else NONE
        if run.leading:
            self._behind = NONE
            slipped = int(taken[-1 - run.items[run.leading - 1]])
            # The first stitch after a turn is slipped where the yarn hangs; any other is passed,
            # the yarn's own last loop too when a round of slips comes back to it.
            at_turn = line.turned and run.leading == 1 and slipped == line.item
            line.item = slipped if at_turn or slipped != line.last else NONE
            line.turned = False
            line.front = run.slipped[run.leading - 1][1]
        first = self._append_loops(run.stitch) if run.makes else 0
        new = run.items + np.int32(first)
        if run.slipped:
            old = run.items < 0
            new[old] = taken[-1 - run.items[old]]
            self._after_slips(run, new, first, line)
        if len(new):
            self._stand_beside(behind, new, run)
            self._behind = int(new[-1])
        if run.makes:  # last, since wraps that wait stand between neighbours
            self._append_through(*self._drawn(run, taken, first, with_wraps))
        if len(taken):
            self._last_taken = last_taken
        self._record(Op.WORK, run.takes + len(run.lifts) - len(run.slipped), run.makes)
        self._replace(run.takes, new, run)
        if not goes_on:
            self._end_of_round()

    def _refuse_to_cross(self, run: StitchRun, taken: Ints, *, with_wraps: bool) -> None:
        """Refuse a crossing of stitches that wraps stand beside, or that were slipped knitwise."""
        lifted = np.searchsorted(run.lifts, sorted(run.crossed))
        crossed = set(taken[np.array(sorted(run.crossed)) - lifted].tolist())
        self._refuse(
            with_wraps and not self._wraps.keys().isdisjoint(crossed),
            "cross stitches",
            "a wrap or the second leg of a double stitch has to be worked with one of them",
            "work these stitches without crossing them first",
        )
        waste = [strand.role == "waste" for strand in self.strands]
        self._refuse(
            any(waste[self.columns.loops.strand[loop]] for loop in crossed),
            "cross stitches",
            "waste yarn carries one of them, and they would come apart when it is taken out",
            "knit one round over the waste yarn first",
        )
        self._refuse(
            crossed & self._reseated,
            "cross stitches",
            "one of them was slipped knitwise and sits turned round",
            "slip it purlwise",
        )

    def _apply_block(self, run: StitchRun, times: int) -> None:
        """Work a simple round several times over, as one block of rows."""
        line = self._working("work rounds")
        width = run.takes
        course = np.repeat(np.arange(self.course, self.course + times, dtype=np.int32), width)
        first = self._append_loops(np.tile(run.stitch, times), course=course)
        made = np.arange(first, first + width * times, dtype=np.int32)
        parents = np.concatenate((self._seq, made[:-width]))
        self._append_through(parents, made, np.tile(run.info_front, times))
        self._last_taken = int(parents[-1])
        self._behind = line.last
        self._round_over = False
        self._seq = made[-width:]
        self.course += times
        self._record(Op.WORK, width * times, width * times)

    def _is_simple(self, keys: tuple[str, ...]) -> bool:
        """Tell whether stitches are simple ones of a round, and nothing waits for them."""
        waits = self._wraps or self._reseated or not self.in_rounds
        return not waits and plan(self.stitches, keys).simple

    def _work_stranded(self, runs: Sequence[tuple[str, tuple[str, ...]]]) -> None:
        """Work runs of simple stitches together, each with the strand of its name.

        No strand comes twice in a row; all were worked in this round before, and the first is not
        the strand in hand. It makes what `work` makes run by run.
        """
        numbers = {strand.name: at for at, strand in enumerate(self.strands)}
        sizes = [len(keys) for _, keys in runs]
        run = plan(self.stitches, tuple(key for _, keys in runs for key in keys))
        taken = self._next_loops(run.takes, "work these stitches")
        strand = np.repeat([numbers[name] for name, _ in runs], sizes)
        ends = {number: self._end_of(number) for number in set(strand.tolist())}
        rows = self.columns.loops.extend(run.makes)
        loops, made = self.columns.loops, np.arange(rows.start, rows.stop, dtype=np.int32)
        loops.strand[rows], loops.course[rows], loops.stitch[rows] = strand, self.course, run.stitch
        loops.flags[rows] = LEFT_FLANK * (self.side < 0)
        for number, end in ends.items():
            way = np.concatenate(([end], made[strand == number]))
            loops.next[way[:-1]], loops.next[way[-1]] = way[1:], NONE
            loops.flags[way[:-1][np.diff(way) != 1]] |= FLOAT
        after = rows.start + np.cumsum([0, *sizes[:-1]])
        right, left = (after - 1, after) if self.side > 0 else (after, after - 1)
        beside = self.columns.beside.extend(len(after))
        self.columns.beside.right[beside], self.columns.beside.left[beside] = right, left
        self._pairs.update(zip(right.tolist(), left.tolist(), strict=True))
        info = run.info_front if self.right_side_facing else run.info_back
        self._append_through(taken, made, info)
        for done, size in zip(np.cumsum(sizes).tolist(), sizes, strict=True):
            entry = (int(Op.WORK), rows.start + done, self._total, size, size, self._total)
            self._ledger.append(entry)
        last = int(made[-1])
        self._last_taken, self._behind = int(taken[-1]), last
        self._line = WorkingStrand(int(strand[-1]), last, last, place=last)
        self._replace(run.takes, made, run)
        self._end_of_round()
