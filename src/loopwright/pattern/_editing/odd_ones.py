"""The odd one out: a stitch in one row that its like, in the same section, have otherwise.

Rows of one section, and of one side, are alike: where all others knit and one purls a single run,
or all others lean one way and one the other, that one is asked about. Fewer than two others tell
nothing, but in a turn, where the decrease leans over the gap (ssk on the right side).
"""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence

import attrs

from loopwright.pattern._editing.findings import WARNING, Finding
from loopwright.pattern._editing.spoken import Sentences, Spoken
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["odd_ones"]

_RUN = WordForm(r"(?<![a-z0-9])(?P<word>k|p|knit|purl) ?\d+(?!\d| ?tog)")
_LEAN = WordForm(
    r"(?<![a-z0-9])(?:(?P<left>ssk|skpo?|sl ?1,? ?k ?1,? ?psso)|"
    r"(?P<right>k2tog)(?![ -]?tbl))(?![a-z])",
)
_SHAPED = WordForm(r"(?<![a-z0-9])(?:k2tog|p2tog|ssk|skpo?|psso|m1[lrp]?|kfb)(?![a-z])")
_OTHER = WordForm(r"\b(?:rib|patt\w*|lace|chart|c\d+[fb]|\d/\d|moss|seed|garter|[lr]t)\b")


@attrs.frozen
class _Row:
    """A row with its runs of plain stitches, and its decreases by their lean."""

    one: Spoken
    runs: tuple[tuple[str, int, str], ...]  # the letter, where, and as it is written
    leans: tuple[tuple[str, int, str], ...]
    turns: bool


def odd_ones(sentences: Sentences) -> Iterator[Finding]:
    """Find rows with a stitch that the others of their section do not have."""
    groups: dict[tuple[int, str, int], list[_Row]] = defaultdict(list)
    for one in sentences.about(_SHAPED):
        label = one.label
        if label is None or not _SHAPED.search(one.text) or _OTHER.search(one.text):
            continue
        flat = label.course != "RND"  # every other row is of the other side
        if flat and not label.numbers:
            continue
        side = label.numbers[0] % 2 if flat else 0
        groups[one.section, label.course, side].append(_row(one))
    yield from _lone_purls(sentences)
    for rows in groups.values():
        yield from _odd_runs(rows)
        yield from _odd_leans(rows)


_KNIT = WordForm(r"(?<![a-z0-9])(?:k|knit)(?: ?\d+(?!\d| ?tog)| (?=to\b|across\b|until\b))")
_PURL = WordForm(r"(?<![a-z0-9])(?:p|purl) ?\d+(?!\d| ?tog)")
_ANY_PURL = WordForm(r"(?<![a-z0-9])(?:p ?\d|p\b|purl|p2tog|ssp)")


def _lone_purls(sentences: Sentences) -> Iterator[Finding]:
    """Find the one purl run of a shaped row that knits otherwise, in a text whose like knit."""
    for one in sentences.about(_PURL):
        if one.label is None or not _SHAPED.search(one.text) or _OTHER.search(one.text):
            continue
        if re.search(r"[*\[]|\(k|\(p|\byo\b|\bturn\b|tbl", one.text, re.IGNORECASE):
            continue
        purls = list(_PURL.finditer(one.text, one.start))
        if len(purls) != 1 or len(_ANY_PURL.findall(one.text[one.start :])) != 1:
            continue
        if len(_KNIT.findall(one.text[one.start :])) >= 2:
            said = f"{purls[0][0]} here, in a row that knits otherwise: is it meant?"
            place = one.place(purls[0].start())
            yield Finding(WARNING, "row", said, place.line, place.column)


def _row(one: Spoken) -> _Row:
    runs = tuple(
        (m["word"][0].lower(), m.start(), m[0]) for m in _RUN.finditer(one.text, one.start)
    )
    leans = tuple(
        ("left" if m["left"] else "right", m.start(), m[0])
        for m in _LEAN.finditer(one.text, one.start)
    )
    return _Row(one, runs, leans, bool(re.search(r"\bturn\b", one.text, re.IGNORECASE)))


def _odd_runs(rows: Sequence[_Row]) -> Iterator[Finding]:
    """Find a single run of purl stitches where the others knit, or the other way round."""
    if len(rows) < 2:
        return
    holding = Counter(letter for row in rows for letter in {letter for letter, *_ in row.runs})
    purling = {id(row) for row in rows if _purls(row)}
    for row in rows:
        mine = [letter for letter, *_ in row.runs]
        others = {letter for letter, many in holding.items() if many > (letter in mine)}
        for letter, offset, said in row.runs:
            lone = mine.count(letter) == 1 and letter not in others and len(others) == 1
            whole = set(mine) == {letter} and not row.leans
            if letter == "k" and len(rows) < 3:
                continue  # of two rows the purl one is asked about
            if letter == "p" and len(purling) > (id(row) in purling):
                continue  # "k3, p2tog": a rib is drawn together
            if lone and not whole:
                meant = "knit" if letter == "p" else "purl"
                shown = f"{said} here; like rows of this section {meant} only: is it meant?"
                yield _finding(row, offset, "row", shown)


def _purls(row: _Row) -> bool:
    return _ANY_PURL.search(row.one.text, row.one.start) is not None


def _odd_leans(rows: Sequence[_Row]) -> Iterator[Finding]:
    """Find the one decrease of a row that leans otherwise than those of the other rows."""
    single = [row for row in rows if len(row.leans) == 1]
    sides = Counter(row.leans[0][0] for row in single)
    for row in single:
        side = row.leans[0][0]
        others = len(single) - sides[side]
        over_gap = row.turns and side == "right" and others >= sides[side]
        if (over_gap and others) or (sides[side] == 1 and others > 1):
            other = next(one.leans[0][2] for one in single if one.leans[0][0] != side)
            shown = (
                f"{row.leans[0][2]} here, {other} in the other rows of this section: is it meant?"
            )
            yield _finding(row, row.leans[0][1], "lean", shown)


def _finding(row: _Row, offset: int, kind: str, said: str) -> Finding:
    place = row.one.place(offset)
    return Finding(WARNING, kind, said, place.line, place.column)
