"""Small pieces of instructions that several constructions share.

Constructions write repeats even for one time or none, so that their steps have the same shape in
every size and sizes can be put side by side; `simplified` takes such repeats out again.
"""

from __future__ import annotations

from collections.abc import Iterable

import attrs

from loopwright.border import guard
from loopwright.pattern.items import KNIT, k, k_to
from loopwright.pattern.steps import (
    BeginHere,
    Note,
    Part,
    RepeatRounds,
    Round,
    Row,
    Section,
    Step,
)

__all__ = ["move_beginning", "plain", "repeated", "simplified"]


def plain(rounds: int, *, count: int | None = None) -> list[Step]:
    """Return so many plain rounds."""
    return repeated((Round((KNIT,)),), rounds, count=count)


def repeated(
    rounds: tuple[Round | Row, ...], times: int, *, count: int | None = None
) -> list[Step]:
    """Return rounds or rows worked so many times in all."""
    return [RepeatRounds(rounds, times, count=count)]


def move_beginning(stitches: int) -> list[Step]:
    """Return the steps that move the round's beginning on, or back where negative."""
    if not stitches:
        return []
    part = Part((k(stitches),) if stitches > 0 else (k_to(before=-stitches),))
    return [part, BeginHere()]


def simplified(steps: Iterable[Step]) -> list[Step]:
    """Return the steps without repeats that are worked once or never.

    Examples
    --------
    >>> [type(step).__name__ for step in simplified([*plain(0), *plain(1), *plain(2)])]
    ['Round', 'RepeatRounds']
    """
    found: list[Step] = []
    for step in steps:
        if not isinstance(step, RepeatRounds):
            found.append(step)
            continue
        body = tuple(simplified(step.steps))
        if step.times == 1:
            body = body[: step.ending or None]
            if step.count is not None:
                body = (*body[:-1], attrs.evolve(body[-1], count=step.count))
            found += body
        elif step.times != 0:
            found.append(attrs.evolve(step, steps=body))
        elif step.count is not None and found and not isinstance(found[-1], Section | Note):
            found[-1] = attrs.evolve(found[-1], count=step.count)
    return found


guard(globals())
