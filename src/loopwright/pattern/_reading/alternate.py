# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Rows that are told once for all: "every alternate round: knit" is put in where there is room."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from loopwright.pattern import steps as st
from loopwright.pattern._grammar.said import Numbered
from loopwright.pattern._reading.growth import shapes
from loopwright.pattern._reading.labels import label_of
from loopwright.pattern._reading.scribe import Says, Scribe, made
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern.items import KNIT

__all__ = ["among_plain", "tells_of_unnamed", "weave_before", "weave_in"]

MOST = 200  # rounds of a part


_NOT_TOLD = r"(?:(?:that|which) (?:are|were) )?(?:not|never) (?:named|mentioned|given|listed|told|numbered|written(?: out)?|described|shown)(?: here| below)?"
_UNNAMED = WordForm(  # "rounds that are not named are knitted plain", "all other rounds: knit"
    rf"\b(?:(?:all |the |any )?(?:rounds|rnds) {_NOT_TOLD}|all (?:the )?other (?:rounds|rnds))(?:,? (?:are )?(?:to be )?|: ?)(?:just |simply )?(?:knit(?:ted)?(?: plain| all round)?|(?:worked )?plain(?: knitting| rounds)?)(?=[.;)]|$)"
    rf"|^(?:knit|work) (?:all |the |any )*(?:(?:rounds|rnds) {_NOT_TOLD}|other (?:rounds|rnds))(?P<plain>,? plain)?[.]?$",
)


def tells_of_unnamed(scribe: Scribe, text: str) -> bool:
    """Hear that rounds whose numbers are left out are plain; tell whether a text says that."""
    match = _UNNAMED.search(text)
    if match is None or (match[0].lower().startswith("work") and not match["plain"]):
        return False
    scribe.context.unnamed = True
    return True


def weave_before(scribe: Scribe, text: str) -> None:
    """Put in the plain rounds that a line's number leaves out, where the text says that they are."""
    label = label_of(text) if scribe.context.unnamed else None
    if label is not None:
        weave_in(scribe, label.numbers)


def weave_in(scribe: Scribe, numbers: tuple[int, ...], *, final: bool = False) -> None:
    """Put the "every alternate row" in between where the next row's number leaves room for it."""
    context = scribe.context
    if not numbers or not context.last:
        return
    if context.unnamed and scribe.course == "RND" and context.last < numbers[0] - 1 < MOST:
        left_out = tuple(range(context.last + 1, numbers[0]))
        plain = made("RND", (KNIT,), "")
        scribe.numbered(plain, left_out)
        scribe.give([Numbered(plain, left_out)])
        return
    if context.alternate is None:
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
