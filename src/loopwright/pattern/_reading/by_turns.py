# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Knit and purl rounds by turns: "purl 1 round, knit 1 round, twice"."""

from __future__ import annotations

import re

from loopwright.pattern import steps as st
from loopwright.pattern._reading.scribe import Says, Scribe, made
from loopwright.pattern._reading.stated import number_of
from loopwright.pattern._words import NUMBER_WORDS, figure
from loopwright.pattern.items import KNIT, PURL

__all__ = ["rounds_by_turns"]

_ALTERNATE = re.compile(
    rf"(?:\(|\[|\*)?(?P<rows>(?:(?:knit|purl|k|p) (?:a|one|\d+) (?:rounds?|rnds?|rows?)(?:\)|\])?(?:, ?(?:and )?(?:then )?| and (?:then )?|;? ?)){{2,}})(?:(?:do|work) (?:this|that|so|these|them|both) |(?P<rep>rep(?:eat)? (?:from \*|these \w+ (?:rounds|rnds|rows)|this) ))?(?:(?P<word>once|twice)|(?P<n>\d+|{'|'.join(NUMBER_WORDS)}) (?P<pre>more )?times?)?(?P<more> more)?(?P<all> in all| in total| altogether| over)?$",
    re.IGNORECASE,
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
    scribe.context.course = "RND" if isinstance(rows[0], st.Round) else "ROW"
    return list(rows) if times == 1 else [st.RepeatRounds(tuple(rows), times)]
