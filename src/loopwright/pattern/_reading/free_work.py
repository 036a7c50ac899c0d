# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Stitches that are worked, told in any order: how many, where they lie, in which pattern."""

from __future__ import annotations

import re

from loopwright.pattern import steps as st
from loopwright.pattern._reading.free_words import WordGroup, phrases_in
from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern._reading.stated import count_in
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern.items import KNIT, PURL, Run

__all__ = ["worked_over"]

_PART = r"(?:heel|sole|instep|front|back|top|upper|under|lower|foot|palm|flap|gusset|thumb|hand|leg|toe|half|side|needle|cent(?:er|re)|middle|bottom|left|right)"
_KINDS: tuple[tuple[str, re.Pattern[str]], ...] = tuple(
    (kind, re.compile(said, re.IGNORECASE))
    for kind, said in (
        ("begins", r"(?:so that|and) the (?:rounds?|rnds?) (?:now )?(?:begins?|starts?) (?:at|in|with|from) (?:the )?(?:cent(?:er|re)|middle|back|side|heel|sole)(?: (?:back|of (?:the )?(?:heel|sole|back)))?"),
        ("rest", rf"(?:the )?(?:rest|remainder) of (?:the )?(?:{_PART}|rounds?|rnds?|rows?|sts|stitches)\b|(?:the )?other (?:half|side|end) of (?:the )?(?:rounds?|rnds?|sts|stitches)\b|(?:all )?(?:the |those )?(?:remaining|rem|other) (?:sts|stitches)\b"),
        ("", r"to (?:the )?(?:marker|m)\b|to (?:the )?(?:end|complete|finish|close)(?: of)?(?: (?:the|this))?(?: (?:rounds?|rnds?|rows?|needle))?\b|for (?:the )?(?:instep|sole|heel|back|front|palm|top of (?:the )?foot)\b"),
        ("", r"(?:in|as) (?:the )?(?:pattern|patt|rib|lace|st st|stockinette|stocking st(?:itch)?|cable pattern|lace pattern|rib pattern|set|established|est)\b\.?(?: (?:as (?:set|established|est|before)|pattern|patt))*|plain\b|even\b|(?:with|picking up|lifting|knitting|working) (?:(?:up|all|the|their|each|any|its|in|with|together|tog) )*wraps?(?: (?:together|tog|along))?(?: with (?:their|the) (?:sts|stitches))?|through (?:the )?back loops?|tbl\b|each (?:one )?(?:ds|double stitch|twin stitch)?\s*as (?:one|a single)(?: (?:st|stitch))?|working each (?:one |ds )?(?:off )?as (?:one|a single)(?: (?:st|stitch))?"),
        ("", r"(?:across|over|along|on|on to|from|off|of|at|in)\b"),
        ("verb", r"(?:knit|k|purl|p|work)\b(?=[ ])(?: on| across| over| along| straight)*|(?:k|p)(?=\d)"),
        ("count", rf"(?:(?:all|the|these|those|your|next|first|last|foll(?:owing)?|remaining|rem|other|same|held|waiting|resting|new) )*(?P<n>{COUNT})(?! ?(?:rounds?|rnds?|rows?|times|cm|mm|in\b|inch|\"|%))"),
        ("place", rf"(?:(?:all|the|a|your|held|waiting|resting|first|second|third|fourth|last|other|same|near|far|spare) )*(?:of the )?{_PART}(?: (?:\d\b|needle|half|side|sts|stitches|flap|loops?))*"),
        ("place", r"(?:the |a |your )?(?:stitch )?holder|(?:the )?spare needle|(?:the )?(?:first|second|third|fourth|other|same|next|last|\d(?:st|nd|rd|th)) needle|\((?:needle \d|(?:\d(?:st|nd|rd|th)|first|second|third|fourth) needle)\)"),
        ("", r"(?:sts?\b\.?|stitch(?:es)?|ds|loops?|double stitch(?:es)?|twin stitch(?:es)?|wrapped)\b"),
        ("", r"(?:held|waiting|resting|on hold|again|once more|now|then|and|only|just|the|that are|that were|which|live)\b"),
    )
)  # fmt: skip


def worked_over(scribe: Scribe, text: str) -> list[Says] | None:
    """Read "knit across the 26 heel sts to end the round": so many stitches, wherever they lie."""
    text = text.strip(" .,;!")
    if not _LEAD.match(text):
        return None
    phrases = phrases_in(text, _KINDS)
    if phrases is None:
        return None
    kinds = [phrase.kind for phrase in phrases]
    if kinds.count("verb") != 1 or kinds.count("count") > 1 or not scribe.now().tallies:
        return None
    stitch = "p" if _verb(phrases).startswith("p") else "k"
    says: list[Says] | None = None
    if "count" in kinds and ("place" in kinds or _STITCHES.search(text)):
        number = next(phrase.match["n"] for phrase in phrases if phrase.kind == "count")
        says = [st.Part((Run(stitch, count_in(number)),))]
    elif "rest" in kinds and "count" not in kinds:
        says = [st.Part((PURL if stitch == "p" else KNIT,))]
    if says and "begins" in kinds:
        says.append(st.BeginHere())
    return says


_LEAD = WordForm(r"(?:and |then |now )*(?:knit|purl|work|k|p)\b|[kp]\d")
_STITCHES = WordForm(
    r"\b(?:sts?|stitch(?:es)?|ds|loops?|double stitch(?:es)?)\b|\bto (?:the )?(?:end|marker|m)\b|\bfor (?:the )?(?:instep|sole|heel|back|front|palm)\b",
)


def _verb(phrases: tuple[WordGroup, ...]) -> str:
    return next(phrase.text.lower() for phrase in phrases if phrase.kind == "verb")
