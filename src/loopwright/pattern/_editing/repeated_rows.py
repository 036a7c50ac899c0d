# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Which rows are repeated, against those that stand before: the wrong pair, or a row that is none of them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from loopwright.pattern._editing.findings import WARNING, Finding
from loopwright.pattern._editing.spoken import Spoken

__all__ = ["repeated_rows"]

_ROWS = r"(?:rounds?|rnds?|rows?|steps?|short rows?|r)"
_PAIR = re.compile(
    rf"^(?:then |now |and )?(?:rep(?:eat)?|work|do|alternate) (?:the )?{_ROWS} ?(?P<a>\d+) ?(?:-|–|and|&|to|\+) ?(?:{_ROWS} ?)?(?P<b>\d+)\b(?! ?(?:-|–|and|&|to|,) ?\d| of\b| from\b)",
    re.IGNORECASE,
)
_ENDING = re.compile(
    rf"\b(?:end|finish|stop)(?:ing|s)? (?:with|on|after) (?:a )?{_ROWS} ?(?P<a>\d+)(?: or (?:{_ROWS} ?)?(?P<b>\d+))?\b",
    re.IGNORECASE,
)
_NEXT = re.compile(r"\bthen\b|\bonce\b|\bonly\b|\bas (?:for|on|before)\b", re.IGNORECASE)
_SETS_UP = re.compile(
    r"^\W*(?:(?:sl(?:ip)?\.? ?1|ds|make a ds)[^,]*, ?)?(?:k|p|knit|purl) ?\d+[^;]*\b(?:turn|w&t|wrap)",
    re.I,
)


def repeated_rows(sentences: Sequence[Spoken]) -> Iterator[Finding]:
    """Find repeats of a pair of rows that leave out the row just before, and ends that are none of them."""
    section, last, rows = -1, 0, dict[int, Spoken]()
    for one in sentences:
        if one.section != section:
            section, last, rows = one.section, 0, {}
        label = one.label
        if label is not None and label.numbers:
            if label.numbers[0] == 1:
                rows = {}
            last = 0 if label.which else label.numbers[-1]
            rows.update(dict.fromkeys(label.numbers, one))
        match = _PAIR.match(one.text[one.start :].lstrip())
        if match is None:
            continue
        offset = one.start + len(one.text[one.start :]) - len(one.text[one.start :].lstrip())
        a, b = int(match["a"]), int(match["b"])
        own = label is not None and bool(label.numbers)
        steps = own and label is not None and not label.course and "step" in match[0].lower()
        said = _wrong(
            one,
            a,
            b,
            label.numbers[0] - 1 if steps and label is not None else 0 if own else last,
            rows,
        ) or _other_end(one, a, b)
        if said:
            place = one.place(offset)
            yield Finding(WARNING, "numbers", said, place.line, place.column)


def _wrong(one: Spoken, a: int, b: int, last: int, rows: dict[int, Spoken]) -> str:
    """Say that the last row is not among those repeated, though it follows them."""
    if not (a < b < last and {a, b, last} <= rows.keys()) or _NEXT.search(one.text):
        return ""
    if last - b > 2 or len(rows) < last:
        return ""
    meant = f"rows {last - (b - a)} and {last}" if b - a == 1 else f"rows {a} to {last}"
    return f"row {last} comes before this and is not repeated: are {meant} meant?"


def _other_end(one: Spoken, a: int, b: int) -> str:
    """Say that rows end with one that is not among those repeated."""
    end = _ENDING.search(one.text)
    if end is None:
        return ""
    for name in ("a", "b"):
        if end[name] and not a <= int(end[name]) <= b:
            return f"rows {a} to {b} are repeated, and row {end[name]} is none of them"
    return ""
