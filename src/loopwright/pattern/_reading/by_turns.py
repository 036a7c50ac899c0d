# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Knit and purl rounds by turns: "purl 1 round, knit 1 round, twice"."""

from __future__ import annotations

import re

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._contents import rounds_in
from loopwright.pattern._reading.scribe import Says, Scribe, made
from loopwright.pattern._reading.stated import count_in, number_of
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern._words import NUMBER_WORDS, figure
from loopwright.pattern.items import KNIT, PURL
from loopwright.pattern.values import Count, sized, values_of

__all__ = ["purled_first", "rounds_by_turns"]

_ALTERNATE = WordForm(
    rf"(?:\(|\[|\*)?(?P<rows>(?:(?:knit|purl|k|p) (?:a|one|\d+) (?:rounds?|rnds?|rows?)(?:\)|\])?(?:, ?(?:and )?(?:then )?| and (?:then )?|;? ?)){{2,}})(?:(?:do|work) (?:this|that|so|these|them|both) |(?P<rep>rep(?:eat)? (?:from \*|these \w+ (?:rounds|rnds|rows)|this) ))?(?:(?P<word>once|twice)|(?P<n>\d+|{'|'.join(NUMBER_WORDS)}) (?P<pre>more )?times?)?(?P<more> more)?(?P<all> in all| in total| altogether| over)?(?:,? (?:for|un?til+(?: (?:you have|there are|you have worked))?) (?P<far>{COUNT}) (?:rounds|rnds|rows)(?: (?:are|have been)? ?(?:worked|done|complete))?(?: in all| in total)?)?$",
)  # "purl 1 round, knit 1 round, twice"


def rounds_by_turns(scribe: Scribe, text: str) -> list[Says] | None:
    """Read "purl 1 round, knit 1 round, twice"; None where a text says no such."""
    match = _ALTERNATE.match(text)
    if match is None:
        return None
    rows: list[st.Step] = []
    for verb, many, course in re.findall(
        r"(knit|purl|k|p) (a|one|\d+) (r\w+)", match["rows"], re.IGNORECASE
    ):
        item = KNIT if verb[0] in "kK" else PURL
        row = made("ROW" if course.lower().startswith("row") else "RND", (item,), "")
        rows += [row] * (figure(many) if many.isdigit() else 1)
    word = (match["word"] or "").lower()
    times = {"once": 1, "twice": 2}.get(word) or number_of(match["n"] or "1")
    if match["more"] or match["pre"] or (match["rep"] and not match["all"]):
        times += 1
    if not 0 < times < 200 or len(rows) > 60:
        return None
    if match["far"]:
        return _so_many(scribe, tuple(rows), count_in(match["far"])) if times == 1 else None
    scribe.context.course = "RND" if isinstance(rows[0], st.Round) else "ROW"
    return list(rows) if times == 1 else [st.RepeatRounds(tuple(rows), times)]


def _so_many(scribe: Scribe, rows: tuple[st.Step, ...], many: Count) -> list[Says] | None:
    """Return rows by turns until there are so many of them: "knit 1 row, purl 1 row, for 30 rows"."""
    if any(int(value) % len(rows) for value in values_of(many)):
        return None
    scribe.context.course = "RND" if isinstance(rows[0], st.Round) else "ROW"
    return [st.RepeatRounds(rows, sized([int(value) // len(rows) for value in values_of(many)]))]


def purled_first(found: list[Says]) -> list[Says]:
    """Return knit and purl rows the other way round, if the first is knitted."""
    rows = [row.items for row in rounds_in(one for one in found if isinstance(one, st.Step))]
    if rows[:1] != [(KNIT,)] or (PURL,) not in rows:
        return found
    return [_swapped(one) if isinstance(one, st.Row | st.RepeatRounds) else one for one in found]


def _swapped(step: st.Step) -> st.Step:
    if isinstance(step, st.RepeatRounds):
        return attrs.evolve(step, steps=tuple(_swapped(one) for one in step.steps))
    if isinstance(step, st.Row) and step.items in ((KNIT,), (PURL,)):
        return attrs.evolve(step, items=(PURL,) if step.items == (KNIT,) else (KNIT,))
    return step
