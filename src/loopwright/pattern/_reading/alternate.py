"""Rows that are told once for all: "every alternate round: knit" is put in where there is room."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from loopwright.pattern import steps as st
from loopwright.pattern._grammar.said import Numbered
from loopwright.pattern._reading.growth import shapes
from loopwright.pattern._reading.scribe import Says, Scribe, made
from loopwright.pattern.items import Item

__all__ = ["among_plain", "by_turns", "weave_in"]


def weave_in(scribe: Scribe, numbers: tuple[int, ...], *, final: bool = False) -> None:
    """Put the "every alternate row" in between where the next row's number leaves room for it."""
    context = scribe.context
    if not numbers or context.alternate is None or not context.last:
        return
    parity, items = context.alternate
    missing = context.last + 1
    if numbers[0] != missing + 1 or missing % 2 != parity:
        return
    step = made(scribe.course, items, "")
    scribe.numbered(step, (missing,))
    scribe.give([Numbered(step, (missing,))])


def among_plain(
    scribe: Scribe,
    numbers: Sequence[int],
    cycle: Sequence[st.Round | st.Row],
    grown: Sequence[Any],
    carry_on: Callable[..., list[Says] | None],
) -> list[Says] | None:
    """Return rows that go on shaping, with "all even rounds: knit" where it is their turn."""
    shaping = [both for both in zip(cycle, grown, strict=True) if shapes(both[0])]
    if scribe.context.alternate is None or len(shaping) != 1:
        return None
    parity, items = scribe.context.alternate
    many = sum(number % 2 != parity for number in numbers)
    ((row, growth),) = shaping
    shaped = carry_on(scribe, [row], [growth], None, cycles=many)
    if shaped is None or len(shaped) != many:
        return None
    following = iter(shaped)
    return [
        made(scribe.course, items, "") if number % 2 == parity else next(following)
        for number in numbers
    ]


def by_turns(scribe: Scribe, course: str, told: Mapping[int, tuple[Item, ...]]) -> list[Says]:
    """Return rows 1 and 2, where nothing but the odd rows and the even ones was told."""
    rows = [made(course, told[number % 2], "") for number in (1, 2)]
    for number, row in enumerate(rows, 1):
        scribe.numbered(row, (number,))
    return [Numbered(row, (number,)) for number, row in enumerate(rows, 1)]
