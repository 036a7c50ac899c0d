# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Counts at the ends of rows that go on by as many each time, and one amid them that does not."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise

from loopwright.pattern._editing.figures import values
from loopwright.pattern._editing.findings import WARNING, Finding, by_size
from loopwright.pattern._editing.spoken import Sentences, Spoken
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS

__all__ = ["stepped_counts"]

_Told = tuple[tuple[int, ...], Spoken, int]
_END = WordForm(
    rf"(?:^|[.;:=(\[—–-]|--) ?(?P<n>{COUNT}) {STS}(?: (?:rem\w*|left|now|in all))*[)\].]*\s*$",
)
AROUND = 2  # counts on either side that must go on alike


def stepped_counts(sentences: Sentences) -> Iterator[Finding]:
    """Find a count that breaks the even steps of those before and behind it."""
    told: list[_Told] = []
    section = -1
    for one in sentences.about(_END):
        if one.section != section:
            yield from _odd(told)
            section, told = one.section, []
        end = _END.search(one.figures)
        if end is not None:
            told.append((values(end["n"]), one, end.start("n")))
    yield from _odd(told)
    yield from _at_its_row(sentences)
    for one in sentences.about(_LIST):
        if _GOES_ON.search(one.figures):
            yield from _odd_in_list(one)


_GOES_ON = WordForm(
    r"\b(?:carry|go(?:ing)?|keep\w*|continu\w*|cont|work on|rep|repeat\w*|alternat\w*|dec\w*|inc\w*)\b"
)
_LIST = WordForm(
    r"(?:[:–—-]|counting|count) ?(?P<counts>\d+(?:, \d+){3,}(?:,? and \d+)?)(?=\W*$| sts| stitches)",
    re.NOFLAG,
)


def _odd_in_list(one: Spoken) -> Iterator[Finding]:
    """Yield one of the counts of a line that goes on, "58, 56, 54, 51, 50, 48", that breaks its steps."""
    if (told := _LIST.search(one.figures)) is None:
        return
    places = list(re.finditer(r"\d+", told["counts"]))
    counts = [int(place[0]) for place in places]
    steps = [b - a for a, b in pairwise(counts)]
    for at in range(1, len(counts) - 1):
        others = {*steps[: at - 1], *steps[at + 1 :]}
        step = next(iter(others)) if len(others) == 1 else 0
        if step and counts[at + 1] - counts[at - 1] == 2 * step and steps[at] != step:
            place = one.place_in_figures(told.start("counts") + places[at].start())
            said = f"{counts[at]} sts between {counts[at - 1]} and {counts[at + 1]}, {abs(step)} at a time: is {counts[at - 1] + step} meant?"
            yield Finding(WARNING, "sum", said, place.line, place.column)


_AT_ROW = WordForm(  # "until you have worked Round 19 and have 88 stitches"
    rf"\b(?:rounds?|rnds?|rows?) (?P<row>\d+(?: ?/ ?\d+)+|{COUNT})(?: (?:is|are) (?:done|worked|finished))?,? ?(?:[:(=—–]|and (?:you (?:now )?)?have|and there are|when (?:you have|there are)|with|leaves?|gives?) ?(?P<n>{COUNT}) {STS}"
)
_ALONE = WordForm(rf"\W*(?P<n>\d+) {STS}\W*$")
ENOUGH = 3  # rows whose counts show how they go on
NEAR = 2  # steps by which a row may be mistaken, and be meant for it all the same


def _at_its_row(sentences: Sentences) -> Iterator[Finding]:
    """Find a row far on that has not the stitches which even steps from the rows before make there."""
    if not any(_AT_ROW.search(one.figures, one.start) for one in sentences.about(_AT_ROW)):
        return
    known: dict[int, int] = {}
    row, line, section = 0, 0, -1
    for one in sentences:
        if one.section != section:
            section, known, row = one.section, {}, 0
        text = one.figures
        told = _AT_ROW.search(text, one.start) if len(known) >= ENOUGH else None
        if told is not None and (said := _off_row(known, told)):
            place = one.place_in_figures(told.start("row"))
            yield Finding(WARNING, "sum", said, place.line, place.column)
            known = {}
        if one.label is not None:
            row, line = (one.label.numbers[0], one.line) if len(one.label.numbers) == 1 else (0, 0)
        count = _END.search(text) or _ALONE.match(text)
        if row and line == one.line and count is not None and len(many := values(count["n"])) == 1:
            known[row] = many[0]


def _off_row(known: dict[int, int], told: re.Match[str]) -> str:
    rows, counts = tuple(map(int, re.findall(r"\d+", told["row"]))), values(told["n"])
    steps = {
        ((known[b] - known[a]) / (b - a)) if b > a else 0.0 for a, b in pairwise(sorted(known))
    }
    step = steps.pop() if len(steps) == 1 else 0.0
    last = max(known)
    if not step or len(rows) != len(counts) or min(rows) <= last:
        return ""
    made = [known[last] + step * (row - last) for row in rows]
    off = [abs(a - b) for a, b in zip(made, counts, strict=True)]
    if not any(off) or max(off) > NEAR * abs(step) * 2 or not all(n.is_integer() for n in made):
        return ""
    return f"{by_size([int(n) for n in made])} sts there, as the rows before go on, not {by_size(counts)}"


def _odd(told: Sequence[_Told]) -> Iterator[Finding]:
    """Yield what is wrong with one count amid others."""
    for at in range(1, len(told) - 1):
        near = [*told[max(0, at - AROUND) : at], *told[at + 1 : at + 1 + AROUND]]
        if len(near) < 2 * AROUND or len({len(many) for many, _, _ in [*near, told[at]]}) > 1:
            continue
        for size, here in enumerate(told[at][0]):
            before = [many[size] for many, _, _ in told[max(0, at - AROUND) : at]]
            behind = [many[size] for many, _, _ in told[at + 1 : at + 1 + AROUND]]
            steps = {b - a for part in (before, behind) for a, b in pairwise(part)}
            if len(steps) != 1:
                continue
            step = steps.pop()
            wanted = before[-1] + step
            if step and behind[0] == wanted + step and here != wanted:
                place = told[at][1].place_in_figures(told[at][2])
                said = (
                    f"{here} sts between {before[-1]} and {behind[0]}, {abs(step)} at a time: "
                    f"is {wanted} meant?"
                )
                yield Finding(WARNING, "sum", said, place.line, place.column)
                break
