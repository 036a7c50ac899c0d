# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Bands of colour told as a list: "4 rnds A", "2 rnds B", and "rep these 6 rnds" behind them."""

from __future__ import annotations

import re

from loopwright.pattern import steps as st
from loopwright.pattern._reading.scribe import Says, Scribe, made
from loopwright.pattern._reading.stated import number_of
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COLOUR
from loopwright.pattern.items import KNIT

__all__ = ["banded"]

_CRS = r"(?:rounds?|rnds?|rows?)"
_MANY = r"\d{1,2}|one|two|three|four|five|six|eight|ten"
_COL = rf"(?:(?:colou?r |yarn )?(?-i:[A-EM])\b|{COLOUR}\b)"
_BAND = re.compile(
    rf"(?:(?P<n>{_MANY}) (?P<c>{_CRS})(?: (?:in|with|of))?,? (?P<col>{_COL})|(?P<col2>{_COL}) ?[:–-] ?(?P<n2>{_MANY}) (?P<c2>{_CRS}))",
    re.IGNORECASE,
)
_ONE = re.sub(r"\?P<\w+>", "?:", _BAND.pattern)
_LIST = WordForm(
    rf"(?:[a-z][^:.;\d]*: ?)?(?P<bands>{_ONE}(?:(?:[,;]| and| then)+ {_ONE})*)\s*[.;,]?\s*",
)
_AGAIN = WordForm(
    rf"(?:and |then |now )*(?:rep(?:eat)?|work|continue|keep)\b[^.;]*?\b(?:these|the last|all|this)(?: \S+)?[ -]{_CRS}\b",
)


def banded(scribe: Scribe, said: MappedText) -> list[Says] | None:
    """Read a list of bands that is repeated behind it, one by one or all in a line."""
    match = _LIST.fullmatch(said.text)
    live = scribe.now()
    if match is None or not live.tallies or not any(tally.count for tally in live.tallies):
        return None
    after = (scribe.following or scribe.next_line).strip()
    if not (_AGAIN.match(after) or _LIST.fullmatch(after)):
        return None  # it may only tell what the stripes are
    found: list[Says] = []
    for band in _BAND.finditer(match["bands"]):
        word = (band["n"] or band["n2"]).lower()
        many = int(word) if word.isdigit() else number_of(word)
        course = "ROW" if "row" in (band["c"] or band["c2"]).lower() else "RND"
        row = made(course, (KNIT,), "")
        found.append(st.RepeatRounds((row,), many) if many > 1 else row)
    return found
