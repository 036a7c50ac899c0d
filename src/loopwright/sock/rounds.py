"""Small pieces of instructions that several constructions share.

Constructions write a repeat even for one time or none. So their steps have the same shape in every
size, and sizes can be put side by side; a `Pattern` takes such repeats out again.
"""

from __future__ import annotations

from loopwright.border import guard
from loopwright.pattern.items import KNIT, k, k_to
from loopwright.pattern.steps import (
    BeginHere,
    Note,
    Part,
    RepeatRounds,
    Round,
    Row,
    Step,
)

__all__ = ["across_again", "move_beginning", "plain", "repeated"]


def plain(rounds: int, *, count: int | None = None) -> list[Step]:
    """Return `rounds` plain rounds."""
    return repeated((Round((KNIT,)),), rounds, count=count)


def repeated(
    rounds: tuple[Round | Row, ...], times: int, *, count: int | None = None
) -> list[Step]:
    """Return rounds or rows worked `times` times in all."""
    return [RepeatRounds(rounds, times, count=count)]


def across_again(stitches: int) -> list[Step]:
    """Tell which side faces once rows are done: what goes across them has no number of its own.

    Examples
    --------
    >>> across_again(32)[0].text
    'The right side faces you again: knit once across the {} sts that were worked in rows.'
    """
    return [
        Note(
            "The right side faces you again: knit once across the {} sts that were worked in rows.",
            numbers=[stitches],
        )
    ]


def move_beginning(stitches: int) -> list[Step]:
    """Return the steps that move the round's beginning on, or back where negative."""
    if not stitches:
        return []
    part = Part((k(stitches),) if stitches > 0 else (k_to(before=-stitches),))
    return [part, BeginHere()]


guard(globals())
