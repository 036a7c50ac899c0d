# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Rows that list every stitch: against the count stated behind them, and against each other.

"K22, pm, m1, k2, m1, pm, k26. 50 sts." takes 50 and leaves 52. Rows of a stitch pattern that follow
each other take what the row before leaves; none of this needs to know what is on the needles.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

import attrs

from loopwright.pattern._editing.figures import alike
from loopwright.pattern._editing.findings import WARNING, Finding, by_size
from loopwright.pattern._editing.row_slips import Token, tokens_at
from loopwright.pattern._editing.spoken import Spoken
from loopwright.pattern._reading.stated import whole_numbers
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS

__all__ = ["FOR_EACH", "listed_rows"]

_MARKER = WordForm(
    r"(?:pm|sm|slm|slip (?:the )?(?:m|marker)|place (?:a )?(?:m|marker)|remove (?:m|marker))(?:,? (?:and )?|\s*$)",
)
_STATED = WordForm(
    rf"(?![\s.;]*[(\[]\s*[-–]\s*\d)\s*[.=(\[;—–-]*\s*(?P<n>{COUNT}) ?{STS}(?: in all| now| left| rem\w*)?[)\].]*\s*$",
)
_STAR = WordForm(
    r"(?:\*|[\[(])\s*(?P<inner>[^*;\[\]()]+?)(?:[;,.] ?rep(?:eat)? (?:from )?\* ?(?:to (?:the )?end|around)?(?: of (?:the )?(?:round|rnd|row))?|(?:[\])]|\*(?=\W*$| ?(?:to|a?round|all))) ?(?:to (?:the )?end|a?round|all round)?(?: of (?:the )?(?:round|rnd|row))?)\W*$",
)
_END = WordForm(r"\s*(?:$|\.|;|\()", re.NOFLAG)
FOR_EACH = WordForm(r"\W*(?:on )?(?:each|every|all|both)\b")  # "each part: k7, k2tog": of each
_Values = tuple[int, ...]


@attrs.frozen
class _Row:
    """A row with all its stitches, or all of one repeat: how many it takes, how many it leaves."""

    one: Spoken
    number: int
    takes: _Values
    leaves: _Values
    repeats: bool


def listed_rows(sentences: Sequence[Spoken]) -> Iterator[Finding]:
    """Find rows whose stitches do not make the count stated, or do not fit the row before."""
    before: _Row | None = None
    odd: _Row | None = None  # the row before one that did not fit: the next may fit it again
    turning = {one.section for one in sentences if re.search(r"\bturn\b", one.text, re.IGNORECASE)}
    for one, after in zip(sentences, [*sentences[1:], None], strict=False):
        if one.label is None:
            continue
        row, end = _row(one)
        if row is not None and FOR_EACH.match(one.text[: one.start]):
            row = None
        if row is None:
            before = None if one.label.numbers else before
            continue
        if not row.repeats and (said := _uncounted(row, one.text[end:], after)):
            place = one.place(one.start)
            yield Finding(WARNING, "sum", said, place.line, place.column)
        same = (
            before is not None
            and one.section not in turning
            and before.one.section == one.section
            and before.repeats == row.repeats
        )
        if (
            before is not None
            and same
            and row.number == before.number + 1
            and (before.number or not row.repeats)  # a pattern begins behind "next row: *k2, m1"
            and (said := _unfit(before, row))
            and not (odd is not None and odd.number + 2 == row.number and not _unfit(odd, row))
        ):
            place = one.place(one.start)
            yield Finding(WARNING, "panel", said, place.line, place.column)
            odd = before
        before = row
    yield from _growing(sentences)


_INNER = WordForm(r"\*\s*(?P<inner>[^*;\[\]()]+?)[;,.] ?rep(?:eat)? (?:from )?\*")
_TIMES = WordForm(r"\b(?:rep(?:eat)?|work)\b[^.]*\b(?:rows|rounds|rnds)\b")


_OF_PATTERN = WordForm(r"\b(?:multiple|pattern|lace|mesh|eyelets?|stitch)\b")


def _growing(sentences: Sequence[Spoken]) -> Iterator[Finding]:
    """Find the one row of a repeated pattern whose repeat grows or shrinks."""
    groups: dict[int, list[tuple[Spoken, int, int]]] = {}
    lace = set[int]()
    repeated = {one.section for one in sentences if one.label is None and _TIMES.search(one.text)}
    for one in sentences:
        match = _INNER.search(one.text, one.start)
        if one.label is None or not one.label.numbers or match is None:
            continue
        tokens = tokens_at(one.text, match.start("inner"))
        if (
            tokens
            and tokens[-1].end == match.end("inner")
            and any(token.change for token in tokens)
        ):
            if re.search(r"\byo\b|fwd", match["inner"], re.IGNORECASE):
                lace.add(one.section)
            if _OF_PATTERN.search(one.title):
                repeated.add(one.section)
            change = sum(token.change for token in tokens)
            groups.setdefault(one.section, []).append((one, change, match.start("inner")))
    for section, rows in groups.items():
        if section not in lace:
            continue
        odd = [row for row in rows if row[1]]
        if section not in repeated or len(rows) < 2 or len(odd) != 1:
            continue
        ((one, change, offset),) = odd
        place = one.place(offset)
        said = f"this repeat {'grows' if change > 0 else 'shrinks'} by {abs(change)}; those of the other rows keep their stitches"
        yield Finding(WARNING, "panel", said, place.line, place.column)


def _row(one: Spoken) -> tuple[_Row | None, int]:
    """Return a row that lists all its stitches, and where it ends; None where it does not."""
    assert one.label is not None
    number = one.label.numbers[-1] if one.label.numbers else 0
    star = _STAR.match(one.text, one.start)
    start = star.start("inner") if star else one.start
    tokens, end = _tokens(one.text, start)
    if len(tokens) < 2:
        return None, end
    whole = end == star.end("inner") if star else _END.match(one.text, end) is not None
    if not whole or (star is None and re.search(r"[*\[(] ?[a-z]", one.text[end:])):
        return None, end
    if re.search(r"\bturn\b|\brib\b|\brep", one.text[end:], re.IGNORECASE) and star is None:
        return None, end
    many = max(len(token.takes) for token in tokens)
    takes = tuple(sum(t.takes[min(s, len(t.takes) - 1)] for t in tokens) for s in range(many))
    change = sum(token.change for token in tokens)
    return _Row(one, number, takes, tuple(n + change for n in takes), star is not None), end


def _tokens(text: str, start: int) -> tuple[list[Token], int]:
    """Return the stitches listed from a place on, markers among them, and where they end."""
    found, at = list[Token](), start
    while True:
        while (marker := _MARKER.match(text, at)) is not None:
            at = marker.end()
        here = tokens_at(text, at)
        if not here:
            return found, at
        found += here
        at = here[-1].end
        between = re.compile(r",\s*(?:and )?").match(text, at)
        if between is None or _MARKER.match(text, between.end()) is None:
            return found, at
        at = between.end()


def _uncounted(row: _Row, rest: str, after: Spoken | None) -> str:
    """Say that the stitches of a row do not make the count that is stated behind it."""
    stated = _STATED.match(rest)
    if stated is None and after is not None and not rest.strip(" .") and after.label is None:
        stated = _STATED.match(after.text)
    if stated is None:
        return ""
    leaves, told = alike(row.leaves, whole_numbers(stated["n"]))
    if told == leaves:
        return ""
    return f"the stitches of this row make {by_size(leaves)}, not {by_size(told)}"


def _unfit(before: _Row, row: _Row) -> str:
    """Say that a row takes another number of stitches than the row before it leaves."""
    left, taken = alike(before.leaves, row.takes)
    if left == taken:
        return ""
    if row.repeats and before.takes == before.leaves and row.takes != row.leaves:
        return ""  # after a ribbing, the row that widens
    if row.repeats and all(
        not max(a, b) % min(a, b) for a, b in zip(left, taken, strict=True) if a and b
    ):
        return ""
    what = "this repeat" if row.repeats else "this row"
    return f"{what} takes {by_size(taken)} {'st' if set(taken) == {1} else 'sts'}; the row before leaves {by_size(left)}"
