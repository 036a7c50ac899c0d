"""How many rounds or rows each step of a pattern is, by walking it without knitting."""

from __future__ import annotations

from collections.abc import Iterator

from loopwright.fabric.stitches import STITCHES, StitchTable
from loopwright.pattern._contents import rounds_in
from loopwright.pattern._tally import Trouble
from loopwright.pattern.program import Pattern
from loopwright.pattern.steps import Hold, Note, RepeatRounds, Round, Row, Step
from loopwright.pattern.stitch_worker import StitchWorker
from loopwright.pattern.walk import Walk

__all__ = ["rows_by_step"]


class _Counting(StitchWorker):
    """Counts the rows and works nothing."""

    def __init__(self) -> None:
        self.turns = 0
        self.is_begun = False  # a turn before the first stitch ends no row

    def work(self, keys: tuple[str, ...], with_wraps: bool) -> None:
        """Begin a row, or go on with it."""
        self.is_begun = True

    def turn(self) -> None:
        """Count a row."""
        self.turns += self.is_begun
        self.is_begun = False


def rows_by_step(pattern: Pattern, *, stitches: StitchTable = STITCHES) -> tuple[int, ...]:
    """Return the rounds or rows of each step of a pattern of one size; 0 of what is neither.

    From a step on that can't be worked all are 0: `review` says what is wrong with it.

    Examples
    --------
    >>> from loopwright.pattern import read
    >>> rows_by_step(read("CO 8 sts. Join in the round. Rnds 1-3: Knit. BO all sts."))
    (0, 0, 3, 0)
    """
    found = list(_rows(pattern, stitches))
    return (*found, *[0] * (len(pattern.steps) - len(found)))


def _rows(pattern: Pattern, stitches: StitchTable) -> Iterator[int]:
    hands = _Counting()
    walk = Walk(pattern, hands, stitches=stitches)
    for step in pattern.steps:
        hands.is_begun = False
        rounds, rows = walk.tally.courses, hands.turns
        try:
            walk.one(step)
        except Trouble:
            return
        if not isinstance(step, Hold | Note):  # what they leave may be worked to and fro
            walk.tally.go_round()
        if not isinstance(step, Round | Row | RepeatRounds):
            yield 0
        elif _is_in_rows(step):
            yield hands.turns - rows
        else:
            yield walk.tally.courses - rounds


def _is_in_rows(step: Step) -> bool:
    return isinstance(next(iter(rounds_in((step,)))), Row)
