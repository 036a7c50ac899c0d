# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Stitches that a text works and explains nowhere, where it explains their like."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import lru_cache

from loopwright.pattern import steps as st
from loopwright.pattern._editing.findings import WARNING, Finding
from loopwright.pattern._editing.spoken import Sentences
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["unexplained"]

_CABLE = r"[ct]\d+[fb]|\d/\d ?[lr]p?c"
_RARE = r"skpo|skp|sk2po?|s2kpo?|mb|cdd|rli|lli"
_COMMON = r"ssk|k2tog|p2tog|ssp|m1[lrp]?|yfwd|yo|kfb|pfb"
_NAME = WordForm(
    rf"(?<![\w/])(?P<name>{_CABLE})(?![\w/])|(?<!\w)(?P<name2>{_RARE}|{_COMMON})(?!\w)",
)
_ASKED = WordForm(rf"(?<![\w/])(?:{_CABLE})(?![\w/])|(?<!\w)(?:{_RARE})(?!\w)")
_IS_CABLE, _IS_RARE = re.compile(_CABLE), re.compile(_RARE)
_TOLD = WordForm(r"(?:/\w+)?\s*(?:\([^)]*\))?\s*(?:=|:|,|–|—|-|means\b|is\b)\s*\(?[a-z0-9]")
_WORKED = WordForm(r"(?:(?<![a-z])(?:[kp]|knit|purl|yo) ?(?:\d+|to\b[^,]*)?,\s*|[*\[(]\s*)$")
_ROW = WordForm(  # "Round 2", "1st row", "Inc rnd:", "Thumb set-up round:"
    r"\s*(?:(?:row|rnd|round|\d+(?:st|nd|rd|th))\b|"
    r"(?:[a-z.-]+ ){1,3}(?:row|rnd|round)s?\b[^:=]{0,14}:)",
)
_ROW_WITHIN = WordForm(r"\b(?:row|rnd|round) \d+\b[^:]{0,12}:")
_LIST = WordForm(r"^\W*(?:all )?abbr(?:ev(?:iation)?s?)?\b")
_KNIT, _PURL = (
    re.compile(rf"(?<![\w/]){letter}\.?\W{{1,4}}(?:= ?)?{word}\b", re.IGNORECASE)
    for letter, word in (("k", "knit"), ("p", "purl"))
)
_LISTED = WordForm(  # what a list that explains even knit and purl has to explain as well
    r"(?<![\w/])(?P<name>ssk|ssp|skpo|skp|sk2po?|s2kpo?|cdd|m1[lr]?|kfb|pfb|rli|lli)(?![\w/])",
)
_PAIRED = WordForm(r"(?:[ct]\d+[fb]|ssk|skpo|m1[lr]|sk2p|cdd)")
HEADING = 20  # letters; a longer line has the list itself
ENOUGH = 2  # names explained, before a rare one that is not is asked about


def unexplained(text: str, sentences: Sentences) -> Iterator[Finding]:
    """Find a cable, or another stitch that not every knitter knows, that is explained nowhere.

    It is asked about where the text explains other cables, or two names of other stitches: what a list of
    abbreviations leaves out of the common ones is told by a note elsewhere.
    """
    explained = {name for line in text.split("\n") for name in _explained(line)}
    cables = any(_IS_CABLE.fullmatch(name) for name in explained)
    others = sum(not _IS_CABLE.fullmatch(name) for name in explained)
    asked: set[str] = set()
    for name, finding in _unlisted(text, sentences):
        asked.add(name)
        yield finding
    asks = cables or others >= ENOUGH
    for one in sentences.about(_ASKED) if asks else ():
        if one.label is None and not _ROW_WITHIN.search(one.text):
            continue
        for match in _ASKED.finditer(one.text, one.start):
            name = _key(match[0])
            rare = _IS_RARE.fullmatch(name) is not None and others >= ENOUGH
            if name in explained | asked or not (rare or (cables and _IS_CABLE.fullmatch(name))):
                continue
            asked.add(name)
            place = one.place(match.start())
            said = f"{match[0]} is explained nowhere, as its like are: is another meant?"
            yield Finding(WARNING, "definition", said, place.line, place.column)
    if not asked:
        yield from _for_nothing(text.split("\n"))


def _unlisted(text: str, sentences: Sentences) -> Iterator[tuple[str, Finding]]:
    """Find stitches that a full list of abbreviations lacks, and cables that it has for nothing."""
    lines = text.split("\n")
    at = next((n for n, line in enumerate(lines) if _LIST.match(line)), None)
    if at is not None:
        end = next((n for n in range(at + 2, len(lines)) if not lines[n].strip()), len(lines))
        listed = "\n".join(lines[at:end])
        if _KNIT.search(listed) and _PURL.search(listed):
            yield from _not_listed(lines, at, sentences)


def _not_listed(
    lines: Sequence[str], at: int, sentences: Sentences
) -> Iterator[tuple[str, Finding]]:
    alone = len(lines[at].strip()) < HEADING and at + 1 < len(lines)
    used: dict[str, list[st.TextPlace]] = {}
    for one in sentences.about(_LISTED):
        for match in _LISTED.finditer(one.text, one.start):
            if one.place(match.start()).line > at + 1:
                used.setdefault(_key(match["name"]), []).append(one.place(match.start()))
    worked = {place.line for places in used.values() for place in places}
    told = "\n".join(line for n, line in enumerate(lines, 1) if n not in worked)
    told = re.sub(r"(?<=[a-z0-9])\.(?=[a-z0-9])", "", told, flags=re.IGNORECASE).lower()
    told += "\n" + "\n".join(name for line in lines for name in _explained(line))
    for name, places in used.items():
        if re.search(rf"(?<![a-z0-9]){re.escape(name)}(?![a-z0-9])", told) or (
            name in ("m1l", "m1r") and re.search(r"(?<![a-z0-9])m1(?![a-z0-9])|m1[lr]?/", told)
        ):
            continue
        lines_used = {place.line for place in places}
        said = f"{name} is worked in line {min(lines_used)}, and the list of abbreviations does not explain it"
        if len(lines_used) > 1:
            yield name, Finding(WARNING, "definition", said, at + 1 + alone, 1)
        else:
            said = f"{name} is not in the list of abbreviations: is another stitch meant?"
            yield name, Finding(WARNING, "definition", said, places[0].line, places[0].column)


def _for_nothing(lines: Sequence[str]) -> Iterator[Finding]:
    """Find a stitch that is explained with its mirror image, and worked nowhere."""
    for number, line in enumerate(lines, start=1):
        for name in _explained(line):
            other = _mirrored(name)
            if _PAIRED.fullmatch(name) is None or not other:
                continue
            elsewhere = "\n".join(one for n, one in enumerate(lines, 1) if n != number).lower()
            if not _word(name, elsewhere) and len(_word(other, elsewhere)) > 1:
                said = f"{name} is explained and never worked: is it meant somewhere instead of {other}?"
                yield Finding(WARNING, "definition", said, number, 1)


def _word(name: str, text: str) -> list[str]:
    return re.findall(rf"(?<![a-z0-9]){re.escape(name)}(?![a-z0-9])", text)


def _mirrored(name: str) -> str:
    """Return the stitch that mirrors a cable or a twist, "" for others."""
    turned = {"f": "b", "b": "f", "l": "r", "r": "l"}
    return name[:-1] + turned.get(name[-1], "") if re.fullmatch(r"[ct]\d+[fb]|m1[lr]", name) else ""


@lru_cache(maxsize=8192)
def _explained(line: str) -> tuple[str, ...]:
    """Return the names that a line explains; in a row they are worked instead."""
    if _ROW.match(line) or _ROW_WITHIN.search(line):
        return ()
    told = (match for match in _NAME.finditer(line) if _TOLD.match(line, match.end()))
    return tuple(_key(match[0]) for match in told if not _WORKED.search(line[: match.start()]))


def _key(name: str) -> str:
    return name.lower().replace(" ", "")
