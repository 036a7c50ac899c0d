"""Stitches that a text works and explains nowhere, where it explains their like."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from loopwright.pattern._editing.findings import WARNING, Finding
from loopwright.pattern._editing.spoken import Spoken

__all__ = ["unexplained"]

_CABLE = r"[ct]\d+[fb]|\d/\d ?[lr]p?c"
_RARE = r"skpo|skp|sk2p|s2kp|mb"
_COMMON = r"ssk|k2tog|p2tog|ssp|cdd|m1[lrp]?|yfwd|yo|kfb|pfb"
_NAME = re.compile(rf"(?<![\w/])(?P<name>{_CABLE}|{_RARE}|{_COMMON})(?![\w/])", re.IGNORECASE)
_IS_CABLE, _IS_RARE = re.compile(_CABLE), re.compile(_RARE)
_TOLD = re.compile(r"\s*(?:\([^)]*\))?\s*(?:=|:|,|–|—|-|means\b|is\b)\s*\(?[a-z0-9]", re.IGNORECASE)
_WORKED = re.compile(
    r"(?:(?<![a-z])(?:[kp]|knit|purl|yo) ?(?:\d+|to\b[^,]*)?,\s*|[*\[(]\s*)$", re.IGNORECASE
)
_ROW = re.compile(  # "Round 2", "1st row", "Inc rnd:", "Thumb set-up round:"
    r"\s*(?:(?:row|rnd|round|\d+(?:st|nd|rd|th))\b|"
    r"(?:[a-z.-]+ ){1,3}(?:row|rnd|round)s?\b[^:=]{0,14}:)",
    re.IGNORECASE,
)
ENOUGH = 2  # names explained, before a rare one that is not is asked about


def unexplained(text: str, sentences: Sequence[Spoken]) -> Iterator[Finding]:
    """Find a cable, or another stitch that not every knitter knows, that is explained nowhere.

    It is asked about where the text explains other cables, or two other names: what a list of
    abbreviations leaves out of the common ones is told by a note elsewhere.
    """
    explained = {name for line in text.split("\n") for name in _explained(line)}
    cables = any(_IS_CABLE.fullmatch(name) for name in explained)
    asked: set[str] = set()
    for one in sentences:
        if one.label is None:
            continue
        for match in _NAME.finditer(one.text, one.start):
            name = _key(match["name"])
            rare = _IS_RARE.fullmatch(name) is not None and len(explained) >= ENOUGH
            if name in explained | asked or not (rare or (cables and _IS_CABLE.fullmatch(name))):
                continue
            asked.add(name)
            place = one.place(match.start())
            said = f"{match['name']} is explained nowhere, as its like are: is another meant?"
            yield Finding(WARNING, "definition", said, place.line, place.column)


def _explained(line: str) -> Iterator[str]:
    """Yield the names that a line explains; in a row they are worked instead."""
    if _ROW.match(line):
        return
    for match in _NAME.finditer(line):
        if _WORKED.search(line[: match.start()]) is None and _TOLD.match(line, match.end()):
            yield _key(match["name"])


def _key(name: str) -> str:
    return name.lower().replace(" ", "")
