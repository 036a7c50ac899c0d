# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Rows of one pattern, worked one after another over the same stitches: what fits one fits all.

``K2, *p2, k2`` goes over four stitches and two more, ``*p2, k2`` over fours alone: no number has both.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from math import gcd

from loopwright.pattern._editing.findings import WARNING, Finding
from loopwright.pattern._editing.spoken import Sentences, Spoken
from loopwright.pattern._editing.whole_rows import WholeRow, row_of
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["rows_together"]

_Fit = tuple[int, int]  # a repeat, and the stitches besides
_REST = WordForm(r"[\s.)\]]*$", re.NOFLAG)
_MULTIPLE = WordForm(
    r"\bmultiple of (?P<n>\d+)(?: ?(?:sts?|stitches))?(?: ?(?:,|and)? ?(?:plus|\+) (?P<plus>\d+))?",
)
_SHAPES = WordForm(
    r"(?:[kp]\d ?tog|\d tog)|\b(?:inc|dec|ssk|ssp|skp|yo|m1|make 1|kfb|tog|cdd|cast|bind|bo\b|co ?\d|pick|turn|hold|sizes?|only)\b"
)


def rows_together(sentences: Sentences) -> Iterator[Finding]:
    """Find a row of plain stitches that no number of stitches has room for, with the row before it."""
    declares = set(sentences.places_about(_MULTIPLE))
    run: list[tuple[Spoken, _Fit]] = []
    section, number, declared = -1, 0, None
    for at, one in enumerate(sentences):
        if one.section != section:
            section, run = one.section, []
            declared = _declared(one.title)
        declared = (_declared(one.text) if at in declares else None) or declared
        label = one.label
        if label is None:
            if run and _SHAPES.search(one.text):
                run = []
            continue
        if (
            not label.numbers
            or label.which
            or label.numbers[0] != number + 1
            or label.numbers[0] == 1
        ):
            run = []
        number = label.numbers[-1] if label.numbers and not label.which else 0
        fit = _fit(one)
        if fit is None:
            if run and _SHAPES.search(one.text):
                run = []
            continue
        if run and not _fits(run[-1][1], fit):
            first, before = run[-1]
            wrong = first if declared and _fits(declared, fit) else one
            each, besides = fit if wrong is one else before
            other = before if wrong is one else fit
            said = (
                f"this row goes over {_shown(each, besides)}, and the row "
                f"{'before' if wrong is one else 'behind'} it over {_shown(*other)}: no number of sts fits both"
            )
            place = wrong.place(wrong.start)
            yield Finding(WARNING, "multiple", said, place.line, place.column)
            run = []
            continue
        run.append((one, fit))


def _declared(text: str) -> _Fit | None:
    match = _MULTIPLE.search(text)
    return None if match is None else (int(match["n"]), int(match["plus"] or 0))


def _fit(one: Spoken) -> _Fit | None:
    """Return the repeat of a row that leaves as many as it takes, and what it has besides."""
    row = row_of(one.figures, one.start)
    if row is None or not _is_plain(row) or _REST.match(one.figures, row.end) is None:
        return None
    return row.each[0], row.takes[0] if row.takes else 0


def _is_plain(row: WholeRow) -> bool:
    sizes = {len(row.each), len(row.takes or (0,))}
    return (
        row.each == row.each_leaves
        and row.takes == row.leaves
        and not row.times
        and sizes == {1}
        and row.each[0] > 1
    )


def _fits(first: _Fit, second: _Fit) -> bool:
    return (first[1] - second[1]) % gcd(first[0], second[0]) == 0


def _shown(each: int, besides: int) -> str:
    return f"a multiple of {each} sts" + (f" and {besides} more" if besides else "")
