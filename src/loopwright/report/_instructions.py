"""The written pattern, line by line, with the rounds that each line stands for.

The text is what `loopwright.pattern.write` writes; here it is only sorted into headings, cautions,
notes and lines to work, and the steps are walked through for the number of rounds, so that a page
can put one box to tick beside each round.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from enum import Enum

import attrs

from loopwright.fabric.stitches import STITCHES, StitchTable
from loopwright.pattern import (
    Pattern,
    RepeatRounds,
    Round,
    Row,
    Section,
    Step,
    Words,
    lines_by_step,
    of_size,
    rounds_in,
)
from loopwright.pattern.steps import Hold, Note
from loopwright.pattern.stitch_worker import StitchWorker
from loopwright.pattern.walk import Walk

__all__ = ["Heading", "InstructionLine", "LineKind", "by_heading"]


class LineKind(Enum):
    """What a line of a pattern is for."""

    WORK = "work"
    NOTE = "note"
    CAUTION = "caution"


_HEADS = {"Note: ": LineKind.NOTE, "Caution: ": LineKind.CAUTION}


@attrs.frozen
class InstructionLine:
    """One line of a pattern.

    Parameters
    ----------
    kind : LineKind
    text : str
    rounds : int
        Rounds or rows that the line stands for; 0 for a cast-on, a graft or a note.
    """

    kind: LineKind
    text: str
    rounds: int = 0


@attrs.frozen
class Heading:
    """A part of a pattern and its lines; the first has no title."""

    title: str
    lines: tuple[InstructionLine, ...]

    @property
    def rounds(self) -> int:
        """Rounds or rows of the whole part."""
        return sum(line.rounds for line in self.lines)


def by_heading(
    pattern: Pattern,
    size: str | int | None = None,
    *,
    words: Words = Words.US,
    stitches: StitchTable = STITCHES,
) -> tuple[Heading, ...]:
    """Return a pattern's instructions by heading; its head is left out.

    Parameters
    ----------
    pattern : Pattern
    size : str or int, optional
        For one size, with the rounds of each line; for all sizes in brackets otherwise.
    words : Words
    stitches : StitchTable
        With stitches of one's own, where the pattern uses any.

    Examples
    --------
    >>> from loopwright.pattern import read
    >>> ring = read("CO 8 sts. Join in the round. Rnds 1-3: Knit. BO all sts.")
    >>> for line in by_heading(ring, 0)[0].lines:
    ...     print(line.rounds, line.text)
    0 Cast on 8 sts, long-tail.
    0 Join to work in the round.
    3 Rnds 1-3: Knit.
    0 Bind off all sts.
    """
    chosen = pattern if size is None else of_size(pattern, size)
    counted = None if size is None else Walk(chosen, _Counting(), stitches=stitches)
    return tuple(_headings(chosen, counted, words))


def _headings(pattern: Pattern, walk: Walk | None, words: Words) -> Iterator[Heading]:
    title: str = ""
    lines: list[InstructionLine] = []
    for step, texts in lines_by_step(pattern, words=words):
        rounds = None if walk is None else _rounds_of_lines(walk, step, texts)
        if rounds is None:  # a pattern with a mistake: its lines are shown, and not counted on
            walk, rounds = None, [0] * len(texts)
        if isinstance(step, Section):
            if title or lines:
                yield Heading(title, tuple(lines))
            title, lines = step.title, []
            continue
        lines += map(_line, texts, rounds)
    yield Heading(title, tuple(lines))


def _line(text: str, rounds: int) -> InstructionLine:
    for head, kind in _HEADS.items():
        if text.startswith(head):
            return InstructionLine(kind, text.removeprefix(head))
    return InstructionLine(LineKind.WORK, text, rounds)


class _Counting(StitchWorker):
    """StitchWorker that count the rows and work nothing."""

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


def _rounds_of_lines(walk: Walk, step: Step, lines: Sequence[str]) -> list[int] | None:
    """Return how many rounds or rows each line of a step stands for, once it is worked.

    The line that repeats others stands for the rounds that they do not. None where the step can't
    be worked.
    """
    hands = walk.worker
    assert isinstance(hands, _Counting)
    hands.is_begun = False
    before = walk.tally.courses, hands.turns
    if not walk.can_work(step):
        return None
    if not isinstance(step, Hold | Note):  # what they leave may be worked to and fro
        walk.tally.go_round()
    if not isinstance(step, Round | Row | RepeatRounds):
        return [0] * len(lines)
    rows = isinstance(next(rounds_in((step,))), Row)
    total = hands.turns - before[1] if rows else walk.tally.courses - before[0]
    body = _once(step.steps) if isinstance(step, RepeatRounds) else []
    found = body if len(body) == len(lines) - 1 else [0] * (len(lines) - 1)
    return [*found, max(0, total - sum(found))]


def _once(steps: Iterable[Step]) -> list[int]:
    """Return the rounds of each line of a repeat's body, worked once, as `write` writes it."""
    found: list[int] = []
    for step in steps:
        if isinstance(step, RepeatRounds):
            inner, times = _once(step.steps), step.times
            many = times if isinstance(times, int) else 1
            whole = sum(inner) * many * step.every
            found += [whole] if len(inner) == 1 else [*inner, whole - sum(inner)]
        else:
            found.append(int(isinstance(step, Round | Row)))
    return found
