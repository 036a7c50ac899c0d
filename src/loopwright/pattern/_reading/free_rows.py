# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""A round with so many decreased evenly, or more rounds like the last, told in any order."""

from __future__ import annotations

import re

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._reading.free_words import WordGroup, by_kind, phrases_in
from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern._reading.spread_evenly import evenly
from loopwright.pattern._reading.stated import count_in, number_of
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.wordings import COUNT, NUMBER
from loopwright.pattern._words import NUMBER_WORDS
from loopwright.pattern.values import Count

__all__ = ["rows_in_any_order"]

_C = r"(?:rounds?|rnds?|rows?)\b"
_MANY = rf"(?:{COUNT}|{'|'.join(NUMBER_WORDS)})"
_KINDS: tuple[tuple[str, re.Pattern[str]], ...] = tuple(
    (kind, re.compile(said, re.IGNORECASE))
    for kind, said in (
        ("shape", rf"(?P<what>dec|inc)(?:reas(?:e|ing)|[’']?ing|s)?\b\.? (?:a total of |by )?(?P<n>{_MANY})(?: (?:sts?\b\.?|stitch(?:es)?\b))?"),
        ("evenly", r"(?:spaced )?(?:very )?evenly(?: spaced| spread| distributed)?|spread evenly|at even intervals|equally spaced"),
        ("last", rf"(?:on|in|over|across|during|at the end of|working) (?:the )?(?:very )?(?:last|next|first|final|foll(?:owing)?|this|same)(?: {_C})?(?: of (?:the )?(?:rib|ribbing|cuff|leg|brim|foot|body))?"),
        ("same", r"(?:in )?(?:exactly )?the same(?: (?:way|manner|fashion))?|like (?:this|that|it)|in (?:this|that|like) (?:way|manner|fashion)|as (?:before|the last(?: one)?|that|set|established)|likewise|thus"),
        ("many", rf"(?:another |a further |the next |next |foll(?:owing)? )*(?P<n>{_MANY}|a|an)(?: (?:more|further|plain|other|extra))* (?P<c>{_C})(?: more| further)?"),
        ("verb", r"(?:work|knit|k|do|make|rib|repeat)\b"),
        ("", rf"(?:a?round|around|across|along)(?: the {_C})?(?: all (?:the )?(?:sts|stitches))?|(?:and )?at the same time|while|as you go|across all (?:the )?(?:sts|stitches)"),
        ("", r"(?:and|then|now|of|by|also|as you do so|so)\b"),
    )
)  # fmt: skip


def rows_in_any_order(scribe: Scribe, said: MappedText) -> list[Says] | None:
    """Read "on the last round of rib decrease 4 sts evenly", and "work 15 more rounds the same"."""
    live = scribe.now()
    phrases = phrases_in(said.text.strip(" .,;!"), _KINDS)
    if phrases is None or not live.tallies or live.behind_any():
        return None
    told = by_kind(phrases)
    if any(len(found) > 1 for kind, found in told.items() if kind != "verb"):
        return None
    if "shape" in told and "evenly" in told and "same" not in told:
        return _shaped(scribe, told)
    if {"same", "many", "verb"} == told.keys():
        return _the_same(scribe, told["many"][0].match)
    return None


def _number(said: str) -> Count:
    return count_in(said) if re.match(NUMBER, said) else number_of(said) or 1


def _shaped(scribe: Scribe, told: dict[str, list[WordGroup]]) -> list[Says] | None:
    many = told.get("many")
    if many is not None and _number(many[0].match["n"]) != 1:
        return None
    match = told["shape"][0].match
    down = match["what"].lower() == "dec"
    return evenly(scribe, _number(match["n"]), down=down, course=scribe.course)


def _the_same(scribe: Scribe, match: re.Match[str]) -> list[Says] | None:
    """Return the last row again, so many times."""
    last = scribe.context.named.get("last")
    if last is None:
        return None
    row = attrs.evolve(last, count=None, at=scribe.place)
    times = _number(match["n"])
    return [row] if times == 1 else [st.RepeatRounds((row,), times, at=scribe.place)]
