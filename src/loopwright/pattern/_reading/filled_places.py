# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Rows that go on until one place is full: read as the count of all stitches that there are then.

"Continue to increase until there are 11 sts before the marker" counts some of the stitches. All
others stay as they are: so what is on the needles then is known.
"""

from __future__ import annotations

from loopwright.pattern._reading.how_far import filled_to
from loopwright.pattern._reading.scribe import Lost, Scribe
from loopwright.pattern._reading.stated import count_in
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS
from loopwright.pattern.values import values_of

__all__ = ["as_counted", "until_all"]

_GOES_ON = WordForm(  # rows that are repeated by their numbers look for the place by themselves
    r"(?:(?:and|now|then) )*(?:continue|cont\b|go(?:ing)? on|carry on|keep|proceed|inc\w*|dec\w*|(?:work|shap)\w* (?:the )?(?:inc|dec)\w*)\b",
)
_PLACE = r"(?P<where>(?:before|after|in front of|ahead of|up to|past|beyond) (?:the |this |your )?(?:only )?(?:marker|m\b)|on needle \d)"
_UNTIL = WordForm(
    rf"\b(?:until|till|to) (?:(?:there are|you have) )?(?P<count>{COUNT} {STS})(?P<rest> (?:(?:are|rem\w*|left) )?{_PLACE})",
)
_HOLDS = WordForm(
    rf"\b(?:until|till) (?P<where>needle \d) (?:holds|has|carries) (?P<count>{COUNT}(?: {STS})?)",
)


_MATCHES = WordForm(  # "until needle 1 matches needle 2", "until all four needles hold the same number"
    rf"\b(?:until|till) (?:needle (?P<a>\d) (?:matches|equals|(?:has|holds) (?:just )?(?:as many|the same number)(?: of)?(?: {STS})? as) needle (?P<b>\d)|(?:all|the|both)(?: the)?(?: [a-z0-9]+)? needles (?:hold|have|carry) the same number(?: of {STS})?)"
)


def as_counted(scribe: Scribe, said: MappedText) -> MappedText:
    """Return a sentence whose goal is told of one needle by another with its number instead."""
    match = _MATCHES.search(said.text)
    if match is None:
        return said
    tallies = scribe.now().tallies
    count, many = tallies[0].count, len(tallies[0].parts)
    others = [filled_to(scribe, 0, f"needle {number}") for number in range(1, many + 1)]
    held = [count - other for other in others if isinstance(other, int)]
    if len(tallies) != 1 or len(held) != many or many < 2:
        return said
    if not match["a"]:
        return said.sub(_MATCHES, f"until there are {min(held) * many} sts")
    if max(int(match["a"]), int(match["b"])) > many:
        return said
    return said.sub(
        _MATCHES, f"until there are {held[int(match['b']) - 1]} sts on needle {match['a']}"
    )


def until_all(scribe: Scribe, said: MappedText) -> MappedText:
    """Return a sentence whose goal is told of one place with that of all stitches instead."""
    if _GOES_ON.match(said.text) is None:
        return said
    match = _UNTIL.search(said.text) or _HOLDS.search(said.text)
    if match is None:
        return said
    goal = filled_to(scribe, count_in(match["count"]), match["where"].lower()) or scribe.stated
    if goal is None:
        raise Lost(said.text)
    first, *others = (str(value) for value in values_of(goal))
    shown = f"there are {first}" + (f" ({', '.join(others)})" if others else "") + " sts"
    return said.sub(_UNTIL, f"until {shown}").sub(_HOLDS, f"until {shown}")
