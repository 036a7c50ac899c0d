"""What a sentence says that is no step yet: rows with numbers, and repeats that name them."""

from __future__ import annotations

import attrs

from loopwright.errors import PatternSyntaxError
from loopwright.pattern import steps as st
from loopwright.pattern.values import Count

__all__ = ["Again", "Header", "Numbered", "Remark", "refuse_nothing"]


def refuse_nothing(steps: tuple[st.Step, ...]) -> None:
    """Refuse a text that came to no more than headings and notes."""
    if all(isinstance(step, st.Note | st.Section) for step in steps):
        expected = ("rounds or rows such as Rnd 1: K2, p2.",)
        raise PatternSyntaxError(1, 1, "nothing in this text is an instruction", expected)


@attrs.frozen
class Remark:
    """Something that reads two ways or leaves a choice open; a review reports it."""

    kind: str
    text: str
    column: int


@attrs.frozen
class Numbered:
    """A round or row with the numbers it was given; `times` for "next 10 rnds"."""

    step: st.Round | st.Row
    numbers: tuple[int, ...] = ()
    times: st.Times | None = None


@attrs.frozen
class Again:
    """Which rounds "rep rnds 1 and 2 …" names, and how often in all."""

    numbers: tuple[int, ...]
    last: Count
    times: st.Times
    more: bool  # the times were said as "more", after those written
    every: int
    ending: int
    vague: bool


@attrs.frozen
class Header:
    """What "work next 2 rnds 8 times in all:" says before the rounds themselves."""

    rounds: int
    times: st.Times
    every: int
    ending: int
