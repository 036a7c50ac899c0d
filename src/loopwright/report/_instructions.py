"""The written pattern, line by line, with the rounds that each line stands for.

The text is what `loopwright.pattern.write` writes; here it is only sorted into headings, cautions,
notes and lines to work. The steps are walked through for the number of rounds, so that a page can
put one box to tick beside each round.
"""

from __future__ import annotations

import re
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
    rows_by_step,
)

__all__ = ["Heading", "InstructionLine", "LineKind", "by_heading"]


class LineKind(Enum):
    """What a line of a pattern is for."""

    WORK = "work"
    NOTE = "note"
    CAUTION = "caution"


_HEADS = {"Note": LineKind.NOTE, "Caution": LineKind.CAUTION}
_TOLD = re.compile(rf"(Sizes? .+? only: )?({'|'.join(_HEADS)}): ")


_ROWS = re.compile(r"\brows?\b", re.IGNORECASE)


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

    @property
    def told(self) -> str:
        """Return how many rounds or rows, in words; nothing for one or none."""
        if self.rounds <= 1:
            return ""
        return f"{self.rounds} {'rows' if _ROWS.search(self.text) else 'rounds'}"


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
    told = lines_by_step(chosen, words=words)
    worked = [0] * len(told) if size is None else rows_by_step(chosen, stitches=stitches)
    return tuple(_headings(told, worked))


def _headings(
    told: Sequence[tuple[Step, Sequence[str]]], worked: Sequence[int]
) -> Iterator[Heading]:
    title: str = ""
    lines: list[InstructionLine] = []
    for (step, texts), rounds in zip(told, worked, strict=True):
        if isinstance(step, Section):
            if title or lines:
                yield Heading(title, tuple(lines))
            title, lines = step.title, []
            continue
        lines += map(_line, texts, _rounds_of_lines(step, len(texts), rounds))
    yield Heading(title, tuple(lines))


def _line(text: str, rounds: int) -> InstructionLine:
    if told := _TOLD.match(text):
        sizes = told[1] or ""
        return InstructionLine(_HEADS[told[2]], sizes + text[told.end() :])
    return InstructionLine(LineKind.WORK, text, rounds)


def _rounds_of_lines(step: Step, lines: int, rounds: int) -> list[int]:
    """Return how many of a step's rounds or rows each of its lines stands for.

    The line that repeats others stands for the rounds that they do not.
    """
    if not rounds:
        return [0] * lines
    body = _once(step.steps) if isinstance(step, RepeatRounds) else []
    found = body if len(body) == lines - 1 else [0] * (lines - 1)
    return [*found, max(0, rounds - sum(found))]


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
