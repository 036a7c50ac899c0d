# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Wraps and double stitches that are made in rows that turn, and of which nothing is said afterwards."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import attrs

from loopwright.pattern._editing.findings import WARNING, Finding
from loopwright.pattern._editing.spoken import Spoken
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["wraps_taken_up"]

_WRAPS = WordForm(r"\bw ?& ?t\b|\bwrap (?:the )?next st\w*,? (?:and )?turn|\bwrap and turn")
_TAKEN = WordForm(
    r"\b(?:its|the|their|both|all|two|any|every|each|hide|pick\w*|lift\w*|with|remaining|those|no) (?:[a-z]+ ){0,3}?wraps?\b|\bwraps\b|\ba wrap\b[^.;]*\b(?:with|tog\w*)\b|\bgarter\b",
)
_DOUBLE = WordForm(r"\b(?:m?ds|double st\w*)\b")
_AS_ONE = WordForm(
    r"\b(?:both|two) (?:legs|loops|strands|halves)\b|\b(?:as|like) (?:one|1|a single|single)\b|\bas (?:ordinary|normal|usual)|\b(?:clos|resolv)(?:e|es|ed|ing)\b[^.;]{0,30}\b(?:m?ds|double st\w*)\b|\b(?:m?ds|double st\w*)\b[^.;]{0,30}\btogether\b|\btogether\b[^.;]{0,30}\b(?:m?ds|double st\w*)\b|\b(?:m?ds|double st\w*)\b[^.;]{0,40}\b(?:one|1|single)\b",
)


def wraps_taken_up(text: str, sentences: Sequence[Spoken]) -> Iterator[Finding]:
    """Find wraps that are nowhere taken up, and double stitches that are nowhere worked as one."""
    rows = [one for one in sentences if one.label is not None and one.label.course != "RND"]
    wrapped = [one for one in rows if _WRAPS.search(one.text, one.start)]
    doubled = [one for one in rows if _DOUBLE.search(one.text, one.start)]
    if len(wrapped) > 1 and _goes_on(wrapped[-1], sentences) and _TAKEN.search(text) is None:
        yield _asked(
            wrapped[-1],
            "the wraps are nowhere taken up: is a row missing that works each with its stitch?",
        )
    yield from _without(rows)
    if len(doubled) > 1 and _goes_on(doubled[-1], sentences) and _AS_ONE.search(text) is None:
        yield _asked(
            doubled[-1], "it is nowhere said that both strands of a double stitch are worked as one"
        )


_TO_WRAPPED = WordForm(
    r"\b(?:to|and) (?:the )?(?:first|next|last|following) (?:double-)?wrapped (?:st|stitch),? (?:and |then )?(?P<rest>.*)",
)
_IT = WordForm(r"(?:k|knit|p|purl) (?:it|this|that st\w*)\b(?! (?:with|and its|together))")


def _without(rows: Sequence[Spoken]) -> Iterator[Finding]:
    """Find a wrapped stitch that is worked without its wrap, where other rows take it up."""
    to_wrapped = [(one, m) for one in rows if (m := _TO_WRAPPED.search(one.text)) is not None]
    bare = [
        one for one, m in to_wrapped if _IT.match(m["rest"]) and "wrap" not in m["rest"].lower()
    ]
    with_wraps = [one for one, m in to_wrapped if "wrap" in m["rest"].lower()]
    if len(bare) == 1 and with_wraps:
        said = "the wrap is not taken up here, as it is in other rows"
        yield attrs.evolve(_asked(bare[0], said), kind="wraps")


_ROUND = WordForm(r"\b(?:rounds?|rnds?)\b")


def _goes_on(last: Spoken, sentences: Sequence[Spoken]) -> bool:
    """Tell whether rounds are worked behind a row: the rows alone may be a piece of a text."""
    at = next(n for n, one in enumerate(sentences) if one is last)
    return any(_ROUND.search(one.text) for one in sentences[at + 1 :])


def _asked(one: Spoken, said: str) -> Finding:
    place = one.place(one.start if one.start < len(one.text) else 0)
    return Finding(WARNING, "turn", said, place.line, place.column)
