# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""The multiple that a stitch pattern is said to need, against the rows that it has."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from loopwright.pattern._editing.findings import WARNING, Finding
from loopwright.pattern._editing.row_slips import tokens_at
from loopwright.pattern._editing.spoken import Spoken, plain_lines
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["repeat_widths"]

_MULTIPLE = WordForm(
    r"\bmultiple of (?P<n>\d+)(?: ?(?:sts?|stitches))?(?: ?(?:,|and)? ?(?:plus|\+) (?P<plus>\d+))?",
)
_REPEAT = WordForm(
    r"(?P<head>[^*]*)\*\s*(?P<inner>[^*;]+?)[;,.] ?rep(?:eat)? (?:from )?\* (?:to (?:the )?(?:last (?P<last>\d+) st\w*|end)|across|a?round)(?P<tail>[^.]*)",
)
NEAR = 14  # lines behind it, in which its rows stand


def repeat_widths(text: str, sentences: Sequence[Spoken]) -> Iterator[Finding]:
    """Find a multiple that the first row of its pattern does not fit."""
    if "ultiple of" not in text and "ULTIPLE OF" not in text:
        return
    told_on = [
        (number, told, line)
        for number, line in enumerate(plain_lines(text), start=1)
        if (told := _MULTIPLE.search(line.text)) is not None
    ]
    for (number, told, line), after in zip(told_on, [*told_on[1:], None], strict=True):
        if "edge" in line.text.lower():
            continue
        last = min(number + NEAR, after[0] if after else number + NEAR)
        many, plus = int(told["n"]), int(told["plus"] or 0)
        first: tuple[int, int, int] | None = None  # the row, its repeat, and what is besides
        for one in sentences:
            if not number < one.place().line <= last or one.label is None:
                continue
            row = _REPEAT.match(one.text, one.start)
            widths = _widths(row) if row is not None else None
            if widths is None:
                continue
            if not (many % widths[0] or (widths[1] - plus) % widths[0]):
                break  # it is the other rows that do not fit
            first = first or (one.label.numbers[0] if one.label.numbers else 1, *widths)
        else:
            if first is not None:
                plus_said = f" plus {plus}" if plus else ""
                said = (
                    f"a multiple of {many} sts{plus_said} is spoken of; row {first[0]} "
                    f"repeats {first[1]} sts and has {first[2]} besides"
                )
                yield Finding(WARNING, "multiple", said, number, line.at[told.start()] + 1)


def _widths(row: re.Match[str]) -> tuple[int, int] | None:
    """Return the stitches of a repeat, and those outside of it; None where one of them is not known."""
    inner = _taken(row["inner"])
    head = _taken(row["head"].strip(" ,")) if row["head"].strip(" ,") else 0
    behind = int(row["last"] or 0)
    return None if not inner or head is None else (inner, head + behind)


def _taken(said: str) -> int | None:
    tokens = tokens_at(said.strip(), 0)
    if not tokens or tokens[-1].end != len(said.strip()) or any(len(t.takes) > 1 for t in tokens):
        return None
    return sum(token.takes[0] for token in tokens)
