"""Rows that are told once for all: "every alternate round: knit" is put in where there is room."""

from __future__ import annotations

from loopwright.pattern._grammar.said import Numbered
from loopwright.pattern._reading.scribe import Scribe, made

__all__ = ["weave_in"]


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
