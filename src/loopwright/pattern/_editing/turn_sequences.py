# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Short rows written out one by one: each is longer or shorter than the one before by the same."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from loopwright.pattern._editing.figures import values
from loopwright.pattern._editing.findings import WARNING, Finding
from loopwright.pattern._editing.spoken import Spoken
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT

__all__ = ["turn_sequences"]

_ROW = WordForm(
    rf"\W*(?P<slip>sl(?:ip)? ?1,? )?(?:k|p|knit|purl)\.? ?(?P<n>{COUNT}),? (?P<rest>(?:[^.;]|\bw\.(?=,))*)\b(?P<turn>turn|w&t|w/t|wrap)\b",
)
_SAME = WordForm(
    r"purl|knit|wraps?|ssk|[kp]\d?|tog|[^a-z]", re.NOFLAG
)  # that may change from row to row
LONG = 4  # rows, before one of them can be called odd
NEAR = 3  # stitches by which a row may miss, and be meant for it all the same
STEPS = (-2, -1, 1, 2)  # stitches by which one row follows another


def turn_sequences(sentences: Sequence[Spoken]) -> Iterator[Finding]:
    """Find the one row of a turn that does not follow from the rows before and behind it."""
    run: list[tuple[Spoken, tuple[int, ...], str]] = []
    for one in [*sentences, None]:
        match = None
        if one is not None and one.label is not None and len(one.label.numbers) == 1:
            match = _ROW.match(one.figures, one.start)
        if one is not None and match is not None:
            rest = _SAME.sub("", match["rest"].lower())
            kind = f"{bool(match['slip'])} {rest}"
            if run and run[-1][2] != kind:
                yield from _long(run)
                run = []
            run.append((one, values(match["n"]), kind))
        elif one is not None and one.label is None and run:
            shorter = list(_told_shorter(run, one))
            yield from shorter
            yield from _told_last(run, one)
            run = [] if shorter else run
        elif one is None or one.label is not None:
            yield from _long(run)
            run = []


_LAST = WordForm(  # "…, through the row that ends P8, w&t"
    rf"\b(?:until|till|through|to|ending|ends?|as far as|reads?)\b[^.;]*?\b(?P<letter>k|p|knit|purl)\.? ?(?P<n>{COUNT}),? (?:and )?(?:turn|w&t|w/t|wrap)\b",
)
_SHORTER = WordForm(
    r"\b(?:1|one) (?:st|stitch) (?:less|fewer|more|shorter|longer)\b|\b(?:in this way|like this|as (?:set|established|before))\b"
)


_ONE_FEWER = WordForm(
    r"\b(?:1|one) (?:st|stitch) (?:less|fewer|shorter)\b[^.;,]*\b(?:row|time|turn)s?\b"
)


def _told_shorter(
    run: Sequence[tuple[Spoken, tuple[int, ...], str]], one: Spoken
) -> Iterator[Finding]:
    """Find the one row that is not as told behind: "continue, working 1 st fewer on each row"."""
    rows = run[1:]  # the first comes from further away
    if len(rows) >= ENOUGH and _ONE_FEWER.search(one.figures) is not None:
        yield from _odd(rows, (-1,))


def _told_last(
    run: Sequence[tuple[Spoken, tuple[int, ...], str]], one: Spoken
) -> Iterator[Finding]:
    """Find a last row that short rows never come to: each side goes on by two at a time."""
    last = _LAST.search(one.figures)
    if last is None or len(run) < ENOUGH or _SHORTER.search(one.figures) is None:
        return
    like = [
        numbers
        for row, numbers, _ in run
        if row.figures[row.start :].lstrip()[:1].lower() == last["letter"][0].lower()
    ]
    wanted = values(last["n"])
    if len(like) < 2 or len({len(wanted), *map(len, like)}) > 1:
        return
    for before, now, end in zip(*like[-2:], wanted, strict=True):
        step = now - before
        if step and ((end - now) % step or (end - now) // step < 0):
            place = one.place_in_figures(last.start("letter"))
            told = f"these rows work {before}, then {now} sts, and so never {end}"
            yield Finding(WARNING, "turn", told, place.line, place.column)
            return


ENOUGH = 3  # rows, before it is known by how much they differ


def _long(run: Sequence[tuple[Spoken, tuple[int, ...], str]]) -> Iterator[Finding]:
    if len(run) >= LONG:
        yield from _odd(run, STEPS)


def _odd(
    run: Sequence[tuple[Spoken, tuple[int, ...], str]], steps: Sequence[int]
) -> Iterator[Finding]:
    if len({len(numbers) for _, numbers, _ in run}) > 1:
        return
    for size in range(len(run[0][1])):
        there = [numbers[size] for _, numbers, _ in run]
        meant = _steady(there, steps)
        for at, number in enumerate(there[1:], start=1):  # the first may come from further away
            if meant and number != meant[at]:
                place = run[at][0].place(run[at][0].start)
                said = (
                    f"{number} sts are worked in this row; the rows around it make it {meant[at]}"
                )
                yield Finding(WARNING, "turn", said, place.line, place.column)
                return


def _steady(there: Sequence[int], steps: Sequence[int]) -> list[int]:
    """Return the even steps that all numbers but one follow; none where they all do, or more do not."""
    for step in steps:
        meant = [there[0] + step * n for n in range(len(there))]
        off = [abs(a - b) for a, b in zip(there, meant, strict=True)]
        if sum(1 for one in off if one) == 1 and max(off) <= NEAR:
            return meant
    return []
