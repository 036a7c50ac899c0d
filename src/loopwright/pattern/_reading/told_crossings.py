# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Crossings (cables) that a text tells by what the hands do, wherever it does so.

A text explains a cable in a list, under the rows that use it, in brackets behind its name, or in
the row itself. What the hands do is found by its beginning and its end, and is a crossing where
all of it can be followed.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

import attrs

from loopwright.fabric.stitches import Stitch
from loopwright.pattern._cables import crossing_defined
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["ToldCrossing", "crossings_told", "tells_of_cable", "with_named"]

_CN = r"(?:(?:the|a|an|your|this|that) )?(?:extra |short |same )?(?:cn\b|c\.n\.|cable (?:needle|pin)\b|spare (?:needle|dpn)\b)"
_TELLS = WordForm(_CN)
_BEGINS = WordForm(
    rf"(?:(?<![a-z])(?:slip|sl|place|put|take|move|transfer)\.? (?:the )?|(?<![a-z\d])(?=(?:next )?\d)|(?<![a-z])next )(?:next |first |following )?(?:\d{{1,2}}|[a-z]{{3,6}}) ?(?:sts?\b\.?|stitch(?:es)?)? ?(?:purlwise )?(?:on ?to|on|to) {_CN}",
)
_ENDS = re.compile(rf"\b(?:from|off) {_CN}", re.IGNORECASE)
_MOST = 260  # characters of what the hands do
_NAME = (
    r"(?P<name>[ct]?\d{1,2}(?:/\d{1,2})* ?[a-z]{0,4}|[ct]\d{1,2} ?[a-z]{0,3}"
    r"|(?:cable|cross|twist|plait)(?: (?:cable|cross|twist|left|right|front|back|forward|over|\d{1,2}|four|six|eight|ten))*|(?-i:[A-Z]{2,4}))"
)
_NAMED = re.compile(  # "C6F (cable 6 front): ", "Where C6F = ", "Cable 6 (", "C6F, cable six front. "
    r"(?P<lead>(?:(?<![a-z])(?:there is (?:only )?one cable,|where|abbreviations?:?|notes?:?|special (?:stitch|abbreviation)s?:?|to work|for|with|work) )*)"
    rf"(?P<open>\(?)(?<![a-z\d/]){_NAME}(?P<sign>(?:,? ?\([^()]{{2,40}}\)| ?, [a-z\d ]{{3,30}}(?=[.:=]))? ?(?:[:=(.,–—-]|means|stands for|is(?: worked)?(?: as follows)?:?|as follows:?) ?)$",
    re.IGNORECASE,
)
_CLOSED = WordForm(r" ?[.)\]]+|$", re.NOFLAG)


@attrs.frozen
class ToldCrossing:
    """A crossing that is told between two places of a line; ``name`` is "" where it has none."""

    row: Stitch
    name: str
    told: str
    start: int
    end: int
    is_apart: bool  # it only explains the name, and is no stitch of a row


def tells_of_cable(text: str) -> bool:
    """Tell whether a text speaks of a cable needle."""
    return _TELLS.search(text) is not None


def crossings_told(text: str) -> Iterator[ToldCrossing]:
    """Yield the crossings that a line tells by what the hands do, from its beginning on."""
    done = 0
    while begun := _BEGINS.search(text, done):
        done = begun.end()
        for end in _ENDS.finditer(text, done, begun.start() + _MOST):
            told = text[begun.start() : end.end()]
            row = crossing_defined("cross", told) if "*" not in told else None
            if row is not None:
                yield _placed(text, row, begun.start(), end.end())
                done = end.end()
                break


def _placed(text: str, row: Stitch, start: int, end: int) -> ToldCrossing:
    told = text[start:end]
    named = _NAMED.search(text, 0, start)
    closed = _CLOSED.match(text, end)
    if named is None or closed is None:
        return ToldCrossing(row, "", told, start, end, is_apart=False)
    name = " ".join(named["name"].split())
    if named["sign"].rstrip().endswith("(") and not named["open"]:  # "Cable 6 (slip …), p4"
        if ")" not in closed[0]:
            return ToldCrossing(row, "", told, start, end, is_apart=False)
        return ToldCrossing(row, name, told, named.end("name"), closed.end(), is_apart=True)
    return ToldCrossing(row, name, told, named.start(), closed.end(), is_apart=True)


def with_named(said: MappedText, told: list[tuple[ToldCrossing, str]]) -> MappedText:
    """Return a line with words in place of the crossings that it tells."""
    for one, word in reversed(told):
        places = tuple(said.at[min(one.start + n, one.end - 1)] for n in range(len(word) + 1))
        behind = said.cut(one.end, len(said.text))
        said = said.cut(0, one.start).and_then(MappedText(word, places)).and_then(behind)
    return said
