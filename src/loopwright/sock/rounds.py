"""Small pieces of instructions that several constructions share."""

from __future__ import annotations

from loopwright.pattern.items import k, k_to
from loopwright.pattern.steps import (
    BeginHere,
    Part,
    RepeatRounds,
    Round,
    Row,
    Step,
    knit_round,
    knit_rounds,
)

__all__ = ["move_beginning", "plain", "repeated", "rows_repeated"]


def plain(rounds: int, *, count: int | None = None) -> list[Step]:
    """Return so many plain rounds: no step for none, no repeat for one."""
    if rounds < 1:
        return []
    return [knit_round(count=count) if rounds == 1 else knit_rounds(rounds, count=count)]


def repeated(rounds: tuple[Round, ...], times: int) -> list[Step]:
    """Return these rounds over and over until so many are worked, the last repeat cut short."""
    steps: list[Step] = []
    whole, rest = divmod(times, len(rounds))
    if whole > 1:
        steps.append(RepeatRounds(rounds, whole))
    elif whole:
        steps += rounds
    return steps + list(rounds[:rest])


def rows_repeated(rows: tuple[Row, ...], times: int) -> list[Step]:
    """Return rows worked so many times in all: no step for none, no repeat for one."""
    if times < 2:
        return [*rows] if times else []
    return [RepeatRounds(rows, times)]


def move_beginning(stitches: int) -> list[Step]:
    """Return the steps that move the round's beginning on, or back where negative."""
    if not stitches:
        return []
    part = Part((k(stitches),) if stitches > 0 else (k_to(before=-stitches),))
    return [part, BeginHere()]
