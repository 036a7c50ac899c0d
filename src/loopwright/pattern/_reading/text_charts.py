r"""Charts that are drawn with letters and signs in the text, and their keys.

A row of such a chart has its number at one end, and one sign for each square::

    4 | . . o / |
      | . o / . | 3
    Key: . = k on RS, p on WS; o = yo; / = k2tog

Where the number stands the row begins: at the right it is read from the right.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache

import attrs

from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["DrawnRow", "TextChart", "charts_in", "without_charts"]

_ROW = WordForm(
    r"\s*(?:(?:row|rnd|round|r)\.? ?)?(?P<left>\d{1,3})?[.)]?\s*(?P<bar>[|:])?"
    r"(?P<squares>[^\d|:][^|:]*?(?:\|[^|:]*?)*?)(?:[|:]\s*(?P<right>\d{1,3})?|\s+(?P<right2>\d{1,3}))?\s*$",
)
_KEY = WordForm(r"^\W*(?:chart )?(?:key|legend|symbols)\b(?: to (?:the )?chart\w*)?\s*:?\s*")
_ENTRY = WordForm(
    r"(?P<sign>\S)\s*(?:=|:|\s[-–—]\s)\s*(?P<meaning>[A-Za-z][^;=]*?)\s*(?:$|;)", re.NOFLAG
)
_EXPLAINED = WordForm(r"\b(?:key|legend|symbols)\b")
LEAST = 2  # rows; a single line of signs may be an ornament


@attrs.frozen
class DrawnRow:
    """One row: its number, its signs from left to right, where the number stands, and the line."""

    number: int
    signs: tuple[str, ...]
    from_right: bool
    line: int


@attrs.frozen
class TextChart:
    """A chart: its rows from the first one on, what its key says, and the words above it."""

    title: str
    rows: tuple[DrawnRow, ...]
    key: dict[str, str]
    line: int
    lines: frozenset[int]


def _drawn(line: str, number: int) -> DrawnRow | None:
    match = _ROW.match(line)
    if match is None:
        return None
    right = match["right"] or match["right2"]
    told = right or match["left"]
    squares = match["squares"]
    if told is None or (right and match["left"]):
        return None
    if "|" in squares:
        signs = [one.strip() or " " for one in squares.split("|")]
    else:
        signs = squares.split() if " " in squares.strip() else list(squares.strip())
    if len(signs) < 3 or any(len(one) > 1 for one in signs):
        return None
    if not match["bar"] and all(one.isalnum() for one in signs):
        return None  # "5 p u r l"
    return DrawnRow(int(told), tuple(signs), bool(right), number)


@lru_cache(maxsize=2)
def charts_in(text: str) -> tuple[TextChart, ...]:
    r"""Return the charts that are drawn in a text.

    Examples
    --------
    >>> (chart,) = charts_in("Chart A\n2 |. . .|\n1 |o / .|\nKey: . = k; o = yo; / = k2tog")
    >>> [row.signs for row in chart.rows], chart.key["/"]
    ([('o', '/', '.'), ('.', '.', '.')], 'k2tog')
    """
    if _EXPLAINED.search(text) is None:
        return ()
    lines = text.split("\n")
    found: list[TextChart] = []
    at = 0
    while at < len(lines):
        rows: list[DrawnRow] = []
        while at + len(rows) < len(lines):
            row = _drawn(lines[at + len(rows)], at + len(rows) + 1)
            if row is None:
                break
            rows.append(row)
        numbers = [row.number for row in rows]
        if len(rows) >= LEAST and numbers in (
            sorted(set(numbers)),
            sorted(set(numbers), reverse=True),
        ):
            above = next((line for line in reversed(lines[:at]) if line.strip()), "")
            key, used = _key(lines, at + len(rows))
            taken = frozenset((*(row.line for row in rows), *used))
            if key:
                ordered = tuple(sorted(rows, key=lambda row: row.number))
                found.append(TextChart(above.strip(), ordered, key, at + 1, taken))
        at += max(1, len(rows))
    return tuple(found)


def _key(lines: Sequence[str], start: int) -> tuple[dict[str, str], list[int]]:
    """Return what signs mean, from a line that begins with "Key" after the rows."""
    for at in range(start, min(start + 6, len(lines))):
        head = _KEY.match(lines[at])
        if head is None:
            continue
        said = [lines[at][head.end() :]]
        used = [at + 1]
        for more in range(at + 1, min(at + 30, len(lines))):
            if not _ENTRY.match(lines[more].strip()):
                break
            said.append(lines[more])
            used.append(more + 1)
        return dict(_entries(said)), used
    return {}, []


def _entries(said: Sequence[str]) -> list[tuple[str, str]]:
    found = []
    for line in said:
        for piece in re.split(r"\s*;\s*|\s*,\s*(?=\S\s*=)", line.strip().rstrip(".")):
            if (one := _ENTRY.match(piece.strip())) is not None:
                found.append((one["sign"], one["meaning"].strip()))
            elif blank := re.match(r"(?:blank|empty)[a-z ]*\s*[=:]\s*(.+)", piece, re.I):
                found.append((" ", blank[1].strip()))
    return found


def without_charts(text: str) -> str:
    """Return a text with the lines of its charts left empty, the others where they were."""
    drawn = {line for chart in charts_in(text) for line in chart.lines}
    if not drawn:
        return text
    lines = enumerate(text.split("\n"), start=1)
    return "\n".join("" if number in drawn else line for number, line in lines)
