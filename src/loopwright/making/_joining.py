"""What the stitches of a run are joined to: the loops they are drawn through, and neighbours."""

from __future__ import annotations

from collections import Counter
from typing import Final

import numpy as np
from numpy.typing import NDArray

from loopwright.fabric.columns import BACK, FLOAT, FLOAT_FRONT, NONE, RANK, Ints
from loopwright.making._lifting import RunningStrands
from loopwright.making._needles import WorkingStrand
from loopwright.making._plan import StitchRun, plan

__all__ = ["JoinedStitches"]

_TWISTED: Final = {"k": "ktbl", "ktbl": "k", "p": "ptbl", "ptbl": "p"}


class JoinedStitches(RunningStrands):
    """The edges that a run of stitches makes; see :class:`loopwright.Work`."""

    def _drawn(
        self, run: StitchRun, taken: Ints, first: int, with_wraps: bool
    ) -> tuple[Ints, Ints, NDArray[np.uint8]]:
        """Return parents, children and info of the through edges of a run."""
        parents, children = taken[run.parent], run.child + np.int32(first)
        info = run.info_front if self.right_side_facing else run.info_back
        if not self._wraps or self._wraps.keys().isdisjoint(parents.tolist()):
            return parents, children, info
        drawn = self._with_wraps(
            parents.tolist(), children.tolist(), info.tolist(), with_wraps=with_wraps
        )
        columns = list(zip(*drawn, strict=True))
        return (
            np.array(columns[0], dtype=np.int32),
            np.array(columns[1], dtype=np.int32),
            np.array(columns[2], dtype=np.uint8),
        )

    def _with_wraps(
        self, parents: list[int], children: list[int], info: list[int], *, with_wraps: bool
    ) -> list[tuple[int, int, int]]:
        """Return the through edges with those of the wraps among them; wraps wait no longer.

        A wrap stands on the side of its turn. It is worked with the first loop that is drawn
        through its stitch if that side comes first now, else with the last; the newest wrap
        outermost. Wraps lie below the others.
        """
        wraps = {parent: self._wraps.pop(parent, []) for parent in set(parents)}
        if not with_wraps:
            return list(zip(parents, children, info, strict=True))
        seen: set[int] = set()
        depth = Counter(children)
        last = {parent: number for number, parent in enumerate(parents)}
        drawn: list[tuple[int, int, int]] = []
        for number, (parent, child, bits) in enumerate(zip(parents, children, info, strict=True)):
            stack = [(parent, child, bits)]
            for wrap in wraps[parent]:
                comes_first = self._along(wrap)
                if parent in seen if comes_first else number != last[parent]:
                    continue
                under = (wrap, child, min(RANK, depth[child]) | (bits & BACK))
                depth[child] += 1
                stack = [under, *stack] if comes_first else [*stack, under]
            seen.add(parent)
            drawn += stack
        return drawn

    def _after_slips(self, run: StitchRun, new: Ints, first: int, line: WorkingStrand) -> None:
        """Mark floats within the run, and what the yarn has passed at its end."""
        flags = self.columns.loops.flags
        for made, in_front in run.floats:
            flags[first + made] |= FLOAT | (FLOAT_FRONT if in_front else 0)
        if run.trailing:
            line.item, line.front = int(new[-1]), run.slipped[-1][1]
        self._reseated.symmetric_difference_update(
            int(new[place]) for place, _, knitwise in run.slipped if knitwise
        )

    def _stand_beside(self, behind: int, new: Ints, run: StitchRun) -> None:
        """Join neighbours on the needle that no yarn edge joins."""
        if not run.slipped:
            return  # the first that was made stands beside what is behind already
        items = [behind, *new.tolist()]
        slipped = {place + 1 for place, _, _ in run.slipped}
        for place in sorted(slipped | {place + 1 for place in slipped}):
            if place < len(items) and items[place - 1] != NONE:
                self._join_beside(items[place - 1], items[place])

    def _reseat(self, run: StitchRun, keys: tuple[str, ...], taken: Ints) -> StitchRun:
        """Twist what is worked into a loop that was slipped knitwise: it sits turned round."""
        changed, place = list(keys), 0
        for number, key in enumerate(keys):
            row = self.stitches[key]
            here = set(taken[place : place + row.takes].tolist()) & self._reseated
            if here and row.makes:
                self._reseated -= here
                changed[number] = _TWISTED.get(key, key)
            place += row.takes
        return plan(self.stitches, changed)
