"""Small pieces of instructions that several constructions share.

Constructions write a repeat even for one time or none. So their steps have the same shape in every
size, and sizes can be put side by side; a `Pattern` takes such repeats out again, and
`without_nothing` the runs of no stitches.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import attrs

from loopwright.border import guard
from loopwright.pattern import rewritten
from loopwright.pattern.items import KNIT, Run, k, k_to
from loopwright.pattern.steps import (
    BeginHere,
    Note,
    Part,
    RepeatRounds,
    Round,
    Row,
    Step,
)

__all__ = ["across_again", "move_beginning", "plain", "repeated", "without_nothing"]


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


def without_nothing(steps: Iterable[Step]) -> tuple[Step, ...]:
    """Return the steps without runs that no size works a stitch of, where others stand beside them.

    Examples
    --------
    >>> without_nothing([Round((k(0), k(8)))])[0].items
    (Run(stitch='k', amount=8, with_wraps=False),)
    """

    def worked(thing: Any) -> Any:
        items = getattr(thing, "items", ())
        kept = tuple(one for one in items if not (isinstance(one, Run) and one.amount == 0))
        return attrs.evolve(thing, items=kept) if 0 < len(kept) < len(items) else thing

    found: tuple[Step, ...] = rewritten(tuple(steps), worked)
    return found


guard(globals())
