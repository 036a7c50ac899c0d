# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Rows that are told once for all: "every alternate round: knit" is put in where there is room."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from loopwright.pattern import steps as st
from loopwright.pattern._grammar.said import Numbered
from loopwright.pattern._reading.growth import shapes
from loopwright.pattern._reading.labels import label_of
from loopwright.pattern._reading.scribe import Says, Scribe, made
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern.items import KNIT, Item

__all__ = ["among_plain", "by_turns", "from_row", "says_others_plain", "weave_before", "weave_in"]


def weave_before(scribe: Scribe, text: str) -> None:
    """Put in the plain rounds that a line's number leaves out, where the text says that they are."""
    label = label_of(text) if scribe.context.others_plain else None
    if label is not None:
        weave_in(scribe, label.numbers)


def weave_in(scribe: Scribe, numbers: tuple[int, ...], *, final: bool = False) -> None:
    """Put the "every alternate row" in between where the next row's number leaves room for it."""
    context = scribe.context
    if context.others_plain and numbers and 0 < context.last < numbers[0] - 1 < MOST:
        for missing in range(context.last + 1, numbers[0]):
            plain = made("RND", (KNIT,), "")
            scribe.numbered(plain, (missing,))
            scribe.give([Numbered(plain, (missing,))])
        return
    if not numbers or context.alternate is None or not context.last:
        return
    parity, items = context.alternate
    missing = context.last + 1
    if numbers[0] != missing + 1 or missing % 2 != parity:
        return
    step = made(scribe.course, items, "")
    scribe.numbered(step, (missing,))
    scribe.give([Numbered(step, (missing,))])


MOST = 200  # rounds of a part
_NOT_TOLD = r"(?:(?:that|which) (?:are|were|have) )?(?:(?:not|never) (?:named|mentioned|given|listed|told|numbered|written(?: out)?|described|shown)|no number)(?: here| below)?"
_OTHERS_PLAIN = WordForm(  # "rounds that are not named are knitted plain", "all other rounds: knit"
    rf"\b(?:(?:all |the |any )?(?:rounds|rnds) {_NOT_TOLD}|all (?:the )?other (?:rounds|rnds))(?:,? (?:are|is) (?:all )?(?:to be )?| (?:are )?|: ?)(?:just |simply )?(?:knit(?:ted)?(?: plain| all round)?|(?:worked )?plain(?: knitting| rounds)?)(?=[.;)]|$)"
    rf"|^(?:knit|work) (?:all |every |each |the |any )*(?:(?:rounds?|rnds?) {_NOT_TOLD}|other (?:rounds?|rnds?))(?P<plain>,? plain)?[.]?$"
)


def says_others_plain(scribe: Scribe, text: str) -> bool:
    """Remember that rounds without a number of their own are plain; tell whether a text says so."""
    match = _OTHERS_PLAIN.search(text)
    if match is None or (match[0].lower().startswith("work") and not match["plain"]):
        return False
    scribe.context.others_plain = True
    return True


_FROM_ROW = WordForm(r"from (?:round|rnd|row|r) ?(?P<n>\d{1,2}) on(?:wards)?,? ")


def from_row(scribe: Scribe, said: MappedText) -> MappedText:
    """Return "From round 9 on, …" without its number, once the plain row before that is worked."""
    match = _FROM_ROW.match(said.text)
    if match is None:
        return said
    weave_in(scribe, (int(match["n"]),))
    return said.piece(match.end(), len(said.text))


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
        scribe.numbered(row, (number,), "odd" if number % 2 else "even")
    return [Numbered(row, (number,)) for number, row in enumerate(rows, 1)]
