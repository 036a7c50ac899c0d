"""A walk in numbers that works a repeated round from the same state once, and then knows the next.

What a round leaves follows from its items and from how stitches, markers and needles lie: repeats
come to the same states again and again, in one text and from one text to another.
"""

from __future__ import annotations

from functools import lru_cache

import attrs

from loopwright.fabric.stitches import STITCHES
from loopwright.pattern import steps as st
from loopwright.pattern._item_walk import MAX_STITCHES
from loopwright.pattern._tally import State, Tally, Trouble
from loopwright.pattern.items import Item
from loopwright.pattern.program import Pattern
from loopwright.pattern.walk import Walk

__all__ = ["WalkInNumbers"]


@attrs.frozen(eq=False)
class _Course:
    """The one that stands for all rounds or rows of the same items."""

    step: st.Round | st.Row


@attrs.frozen
class _Left:
    """What a round leaves: how stitches lie, and how much was worked."""

    state: State
    courses: int
    total: int
    unmarked: bool


class WalkInNumbers(Walk):
    """A walk whose worker does nothing."""

    free: bool = False
    _unmarked = False  # it goes to a marker, and none was hung: the place is not known
    _courses: dict[tuple[int, st.Side | str | None], tuple[st.Step, _Course]] | None = None

    def _repeat_rounds(self, step: st.RepeatRounds) -> None:
        around = self._courses
        self._courses = {} if around is None else around
        try:
            super()._repeat_rounds(step)
        finally:
            self._courses = around

    def _was_worked(self, step: st.Round | st.Row, side: st.Side | str | None = None) -> bool:
        """Go on as after the same round from the same state, where rounds are repeated."""
        turns, begun, tally = self._turns, self._buffer, self.tally
        if self._courses is None or self.stitches is not STITCHES or turns.sequence or turns.panel:
            return False
        if isinstance(step, st.Row) and tally.in_rounds and tally.held:
            return False  # it goes over to rows
        items = step.items
        known = self._courses.get((id(items), side))
        if known is None:
            known = step, _course(type(step), items, side)  # type: ignore[arg-type]  # it has a hash
            self._courses[id(items), side] = known
        left = _left(type(self), known[1], self.free, tally.state())  # type: ignore[arg-type]
        if left is None or begun.keys or begun.wraps or self.total + left.total > MAX_STITCHES:
            return False
        self.step = step
        self.total += left.total
        tally.courses += left.courses
        tally.go_to(left.state)
        self._unmarked = self._unmarked or left.unmarked
        return True


@lru_cache(maxsize=8192)
def _course(
    kind: type[st.Round | st.Row], items: tuple[Item, ...], side: st.Side | str | None
) -> _Course:
    return _Course(st.Round(items) if kind is st.Round else st.Row(items, side=side))


_NOTHING = Pattern("", ())


@lru_cache(maxsize=8192)
def _left(kind: type[WalkInNumbers], course: _Course, free: bool, state: State) -> _Left | None:
    """Return what a round leaves, None where it can't be worked."""
    walk = kind(_NOTHING, {}, free=free)  # type: ignore[arg-type, call-arg]
    walk.tally = Tally()
    walk.tally.go_to(state)
    try:
        if isinstance(course.step, st.Round):
            Walk._round(walk, course.step)
        else:
            Walk._row(walk, course.step)
    except Trouble:
        return None
    return _Left(walk.tally.state(), walk.tally.courses, walk.total, walk._unmarked)
