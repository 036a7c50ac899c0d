"""What was read of a text in one hand, put back to the places of the text as it was given."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

import attrs

from loopwright.errors import PatternSyntaxError
from loopwright.pattern import steps as st
from loopwright.pattern._contents import rewritten
from loopwright.pattern._reading.reading import Located, Reading, ReadLine
from loopwright.pattern._rewording.one_hand import OneHand
from loopwright.pattern._tolerant_walk import Claim

__all__ = ["as_given", "reading_as_given"]

_Placed = TypeVar("_Placed", Located, Claim)


def as_given(error: PatternSyntaxError, text: str, written: OneHand) -> PatternSyntaxError:
    """Return an error with the place, and the line, of the text as it was given."""
    lines, ours = text.split("\n"), written.text.split("\n")
    if not 0 < error.line <= len(ours):
        return error
    line, column = written.place(error.line, error.column)
    if error.source.strip() == ours[error.line - 1].strip():
        return attrs.evolve(error, line=line, column=column, source=lines[line - 1])
    return attrs.evolve(error, line=line)


def reading_as_given(reading: Reading, text: str, written: OneHand) -> Reading:
    """Return a reading with the places of the text as it was given."""

    def placed(thing: Any) -> Any:
        if not isinstance(thing, st.Step) or thing.at is None:
            return thing
        return attrs.evolve(thing, at=_place(thing.at, written))

    lines = text.split("\n")
    return attrs.evolve(
        reading,
        pattern=attrs.evolve(reading.pattern, steps=rewritten(reading.pattern.steps, placed)),
        remarks=tuple(_moved(one, written) for one in reading.remarks),
        errors=tuple(as_given(error, text, written) for error in reading.errors),
        claims={
            written.place(*key): tuple(_moved(claim, written) for claim in claims)
            for key, claims in reading.claims.items()
        },
        lines=tuple(_line(one, lines, placed, written) for one in reading.lines),
    )


def _moved(one: _Placed, written: OneHand) -> _Placed:
    line, column = written.place(one.line, one.column)
    return attrs.evolve(one, line=line, column=column)


def _place(at: st.TextPlace, written: OneHand) -> st.TextPlace:
    breaks = tuple((start, *written.place(line, column)) for start, line, column in at.breaks)
    return st.TextPlace(*written.place(at.line, at.column), breaks)


def _line(
    one: ReadLine, lines: list[str], placed: Callable[[Any], Any], written: OneHand
) -> ReadLine:
    first, last = written.place(one.line, 1)[0], written.last_line(one.last_line)
    said = " ".join(line.strip() for line in lines[first - 1 : last])
    steps = rewritten(one.steps, placed)
    return attrs.evolve(one, line=first, last_line=last, text=said, steps=steps)
