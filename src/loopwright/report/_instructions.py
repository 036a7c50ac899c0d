"""The written pattern, line by line, with the rounds that each line stands for.

The text is what `loopwright.pattern.write` writes; here it is only sorted into headings, cautions,
notes and lines to work, and walked through for the number of rounds, so that a page can put one box
to tick beside each round.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from enum import Enum

import attrs

from loopwright.fabric.stitches import STITCHES, StitchTable
from loopwright.pattern import (
    Pattern,
    RepeatRounds,
    Round,
    Row,
    Words,
    of_size,
    read,
    rounds_in,
    write,
)
from loopwright.pattern.steps import Hold, Note
from loopwright.pattern.stitch_worker import StitchWorker
from loopwright.pattern.walk import Walk

__all__ = ["Heading", "InstructionLine", "LineKind", "by_heading", "rounds_of_lines"]


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
    >>> ring = read("CO 8 sts. Join in the round. Rnds 1-3: Knit. BO all sts.")
    >>> for line in by_heading(ring, 0)[0].lines:
    ...     print(line.rounds, line.text)
    0 Cast on 8 sts, long-tail.
    0 Join to work in the round.
    3 Rnds 1-3: Knit.
    0 Bind off all sts.
    """
    chosen = pattern if size is None else of_size(pattern, size)
    bare = attrs.evolve(chosen, title="", materials=(), abbreviations=())
    text = write(bare, words=words)
    rounds = {} if size is None else rounds_of_lines(text, stitches=stitches)
    return tuple(_headings(text, rounds))


def _headings(text: str, rounds: dict[int, int]) -> Iterator[Heading]:
    title: str = ""
    lines: list[InstructionLine] = []
    for number, line in enumerate(text.splitlines(), start=1):
        if line.startswith("## "):
            if title or lines:
                yield Heading(title, tuple(lines))
            title, lines = line[3:], []
        elif line.strip() and not line.startswith(_TOLD_ELSEWHERE):
            lines.append(_line(line, rounds.get(number, 0)))
    yield Heading(title, tuple(lines))


_TOLD_ELSEWHERE = ("Sizes: ", "Gauge: ", "Tension: ")


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


def rounds_of_lines(text: str, *, stitches: StitchTable = STITCHES) -> dict[int, int]:
    """Return how many rounds or rows each line of a one-size pattern's text stands for.

    A line that repeats others stands for the rounds that they do not.

    Parameters
    ----------
    text : str
    stitches : StitchTable

    Returns
    -------
    dict of int to int
        Line number from 1 to rounds; lines that are no rounds are left out.

    Raises
    ------
    PatternSyntaxError
        The text can't be read.

    Examples
    --------
    >>> rounds_of_lines('''Cast on 16 sts, long-tail.
    ... Join to work in the round.
    ... Rnd 1: K1, ssk, k to last 3 sts, k2tog, k1.
    ... Rnd 2: Knit.
    ... Rep rnds 1 and 2 once more (2 times in all).''')
    {3: 1, 4: 1, 5: 2}
    """
    pattern = read(text, stitches=stitches)
    hands = _Counting()
    walk = Walk(pattern, hands, stitches=stitches)
    found: Counter[int] = Counter()
    for step in pattern.steps:
        walk.step, hands.is_begun = step, False
        before = walk.tally.courses, hands.turns
        walk.one(step)
        if not isinstance(step, Hold | Note):  # what they leave may be worked to and fro
            walk.tally.go_round()
        inner = list(rounds_in((step,)))
        if not inner or step.at is None:
            continue
        rows = isinstance(inner[0], Row)
        total = hands.turns - before[1] if rows else walk.tally.courses - before[0]
        if isinstance(step, RepeatRounds):
            for one in inner:
                if one.at is not None and one.at.line != step.at.line:
                    found[one.at.line] += 1
                    total -= 1
        if isinstance(step, Round | Row | RepeatRounds) and total > 0:
            found[step.at.line] += total
    return dict(sorted(found.items()))
