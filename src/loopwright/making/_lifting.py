"""Running strands: which one lies between two stitches, and how it becomes a loop.

Where a knitter lifts the strand between two stitches, the yarn may run from the one to the other,
come to one of them or leave it. It may have turned there, passed a slipped stitch or a wrap. What
can't be lifted without crossing another strand is refused.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from loopwright.errors import CannotWorkError
from loopwright.fabric.columns import FLOAT, FLOAT_FRONT, LEFT_FLANK, NONE, OUTSIDE, TURNED, Ints
from loopwright.fabric.stitches import Kind
from loopwright.making._needles import NeedleState, Op
from loopwright.making._plan import StitchRun

__all__ = ["RunningStrands"]

_PASSING: Final = TURNED | FLOAT


class RunningStrands(NeedleState):
    """The yarn between the stitches on the needles; see :class:`loopwright.Work`."""

    @property
    def _at_wrap(self) -> bool:
        """Whether the work was turned at a wrap or double stitch and nothing passed since."""
        line = self._line
        if line is None or not line.turned or line.last == NONE:
            return False
        return self.stitches.rows[self.columns.loops.stitch[line.last]].kind is Kind.WRAP

    def _is_doubtful(self, run: StitchRun) -> bool:
        """Whether a strand that is lifted runs where the yarn turned, or passed a stitch.

        Or if there is none yet: it may lead to a loop of this very run.
        """
        if not run.lifts:
            return False
        self._working("work")
        taken = self._next_loops(run.takes, "work these stitches")
        loops = self.columns.loops
        wraps, closed = self.stitches.of_kind(Kind.WRAP), self.stitches.code("cc")
        try:
            strands = self._strands_to_lift(run, taken)
        except CannotWorkError:
            return True
        for start, stop, _ in strands:
            known = [loop for loop in (start, stop) if loop < loops.size]
            crosses = wraps[loops.stitch[known]] | (loops.stitch[known] == closed)
            if crosses.any() or (loops.flags[known[:1]] & _PASSING).any():
                return True
        return False

    def _strands_to_lift(self, run: StitchRun, taken: Ints) -> list[tuple[int, int, bool]]:
        """Return the yarn edges that a run lifts, in order, without touching them.

        With each, whether loops are to be drawn through it on the left-hand flank.
        """
        if not run.lifts:
            return []
        after = self.upcoming[run.takes : run.takes + 1].tolist()
        behind = self._working("lift a strand").last if self._at_wrap else self._last_taken
        around: list[int] = [behind, *taken.tolist(), *(after or [NONE])]
        strands: list[tuple[int, int, bool]] = []
        chains: dict[tuple[int, int], list[int]] = {}  # each strand with the loops lifted from it
        for done, place in enumerate(run.lifts):
            strand = self._running_strand(
                self._outermost(around[place - done], ahead=True),
                self._outermost(around[place - done + 1], ahead=False),
            )
            self._refuse(
                self.strands[self.columns.loops.strand[strand[0]]].role == "waste",
                "lift a strand",
                "what runs between these stitches is waste yarn",
                "work one row above it first",
            )
            # A strand lifted before in this run is in parts now, and may be lifted from its other
            # flank, too: take the part that lies ahead.
            a, b, left = strand
            parts = chains.setdefault((a, b), [a, b])
            ahead = left == (self.side < 0)
            at = len(parts) - 1 if ahead else 1
            strand = (parts[at - 1], parts[at], left)
            parts.insert(at, self._next_id + done)
            strands.append(strand)
        return strands

    def _running_strand(self, before: int, after: int) -> tuple[int, int, bool]:
        """Return the yarn edge between two neighbouring loops, or the one that leads to them.

        A strand that runs the way the work goes is worked on the flank of the side that is being
        worked; one that runs against it on the other.
        """
        following = self.columns.loops.next
        with_work, against = self.side < 0, self.side > 0
        # Turned and gone back past a loop, the yarn lies above the strand that came to it.
        for loop, arriving, flank in ((after, True, against), (before, False, with_work)):
            if loop == NONE or self._along(loop) != arriving or not self._turns_back(loop):
                continue
            if not self._goes_beyond(int(following[loop]), ahead=arriving):
                return loop, int(following[loop]), flank
        if NONE not in (before, after):
            if following[before] == after and self._along(after):
                return before, after, with_work
            if following[after] == before and not self._along(before):
                return after, before, against
        for loop, arriving in ((after, True), (before, False)):
            if loop == NONE:
                continue
            arrives = self._along(loop) == arriving
            edge = (self._before(loop), loop) if arrives else (loop, int(following[loop]))
            covered = self._stands_beside(loop, on_left=(self.side < 0) == arriving)
            other = before if arriving else after
            if NONE in edge or not self._can_lift(edge, loop, other, covered=covered):
                continue
            return *edge, with_work if arrives == arriving else against
        raise CannotWorkError(
            "lift a strand", "no strand runs between these stitches", self.course, self.count,
            "work the increase one stitch further in",
        )  # fmt: skip

    def _can_lift(self, edge: tuple[int, int], loop: int, other: int, *, covered: bool) -> bool:
        """Whether the yarn runs freely between `loop`, an end of the edge, and `other`.

        Where it passes a slipped loop, or one of another strand, its float runs there, above the
        strand of the row below, which is covered.
        """
        a, b = edge
        closed = self.stitches.code("cc")
        if (self.columns.loops.stitch[[a, b]] == closed).all():
            # It crosses to the facing half and comes back to the neighbour.
            beyond = self._before(a) if loop == b else int(self.columns.loops.next[b])
            if other != beyond:
                return False
        if self.columns.loops.flags[a] & FLOAT:
            return True
        if covered:
            return False
        if loop == b:
            return not self._binds_off(edge)
        return not self._turns_back(a)

    def _before(self, loop: int) -> int:
        following = self.columns.loops.next
        if loop and following[loop - 1] == loop:
            return loop - 1
        found = np.flatnonzero(following[: self._next_id] == loop)
        return int(found[0]) if len(found) else NONE

    def _binds_off(self, edge: tuple[int, int]) -> bool:
        """Whether the second of two loops binds off the first, so that no strand runs free."""
        a, b = edge
        bound = self.stitches.rows[self.columns.loops.stitch[b]].kind is Kind.BOUND_OFF
        return bound and self._drawn_through(b, a)

    def _drawn_through(self, child: int, parent: int) -> bool:
        through = self.columns.through
        rows = np.flatnonzero(through.parent[: through.size] == parent)
        return bool((through.child[rows] == child).any())

    def _turns_back(self, loop: int) -> bool:
        """Whether the yarn leaves `loop` on the side on which it came: turned, and gone past it."""
        flags, following = self.columns.loops.flags[loop], int(self.columns.loops.next[loop])
        turned = following != NONE and flags & TURNED and not flags & OUTSIDE
        return bool(turned) and not self._drawn_through(following, loop)

    def _goes_beyond(self, following: int, *, ahead: bool) -> bool:
        """Whether the yarn went on to the far side, past a stitch slipped before the turn."""
        upcoming = self.upcoming
        if ahead:
            return following in upcoming
        return following in self._seq and following not in upcoming

    def _lift(self, edge: tuple[int, int], *, left_flank: bool | None) -> int:
        """Make a loop of the strand between two loops, on the flank of the first if None."""
        a, b = edge
        row = self.columns.loops.extend(1).start
        loops = self.columns.loops
        if loops.flags[a] & TURNED and self._drawn_through(b, a):
            loops.flags[a] |= OUTSIDE  # the new loop is the next one, and stands outside
        loops.next[a], loops.next[row] = row, b
        loops.strand[row], loops.course[row] = loops.strand[a], loops.course[a]
        loops.stitch[row] = self.stitches.code("lift")
        flank = loops.flags[a] & LEFT_FLANK if left_flank is None else LEFT_FLANK * left_flank
        loops.flags[row] = flank | (loops.flags[a] & (FLOAT | FLOAT_FRONT))
        self._record(Op.LIFT, 0, 1)
        return int(row)
