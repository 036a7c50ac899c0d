# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""So many rounds with a change in one of them: "knit 8 rounds, decreasing 4 sts evenly in the last"."""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.tables import Rewordings
from loopwright.pattern._words import NUMBER_WORDS, whole_number

__all__ = ["with_one_of_them"]

_N = rf"(?:\d{{1,2}}|(?:{'|'.join(NUMBER_WORDS)})\b)"
_SIZES = r"\d+(?: ?[(\[][\d, :]+[)\]])?"
_STS = r"(?:sts?|stitch(?:es)?)\b"
_CRS = r"(?P<crs>rounds|rnds|rows)"
_FABRIC = r"(?: in [kp]\d(?:,| and)? ?[kp]\d rib| (?:of|in|with) (?:the )?[a-z][a-z -]{1,30}?)??"
_EVENLY = r",? (?:evenly(?: (?:placed|spaced|spread|across|around))?|in the middle),?"
_WHICH = r"(?:(?:on|in|of) (?:the )?(?P<at>first|last|each|every|second|third|fourth|fifth|\d{1,2}(?:st|nd|rd|th))(?: of (?:these|them|those)(?: (?:rounds|rnds|rows))?| (?:one|round|rnd|row))?(?: only| alone)?)"
_CHANGE = rf"(?:(?P<what>dec|inc)(?:reas(?:e|ing))? (?P<many>{_SIZES}|one|two|three|four|six|eight) {_STS}(?:{_EVENLY})?|(?P<once>k2tog|ssk|kfb|m1) once)"
_BASE = rf"(?P<b>^|[.;:] )(?:then |now |next )?(?P<work>(?:knit|work|k)(?: plain)? )?(?P<n>{_N}) (?:more )?{_CRS}(?P<of>{_FABRIC})"
_END = r"(?=[.;]|$)"
_ORDER = ("first", "second", "third", "fourth", "fifth")


def _of_some(match: re.Match[str]) -> str:
    """Put the rounds before it, the one that changes, and those behind it."""
    many = whole_number(match["n"])
    place = _place(match["at"].lower(), many)
    if not match["work"] and not match["of"]:
        return match[0]
    if not 0 <= place <= many or not 1 < many < _MOST:
        return match[0]
    work = match["work"] or "work "
    how = match["what"] or ("inc" if match["once"].lower() in ("kfb", "m1") else "dec")
    change = match["many"] or "1"
    course = match["crs"][:-1]
    sts = "st" if change in ("1", "one") else "sts"

    def plain(count: int) -> str:
        return f"{work}{count} {course}{'s' * (count > 1)}{match['of']}"

    changed = f"{how} {change} {sts} evenly in the next {course}"
    if not place:
        parts = [changed] * many
    else:
        parts = [plain(place - 1)] if place > 1 else []
        parts += [changed, *([plain(many - place)] if place < many else [])]
    said = ". ".join(one[0].upper() + one[1:] for one in parts)
    return f"{match['b']}{said}"


def _place(which: str, many: int) -> int:
    """Return the number of "the first", "the last" or "the 3rd" of so many rounds, 0 for each."""
    if which in ("each", "every"):
        return 0
    if which in _ORDER:
        return _ORDER.index(which) + 1
    return many if which == "last" else int(which.rstrip("stndrh"))


_MOST = 100
_JOINT = r"[,;.:]? (?:and |but )?"
_WAYS = Rewordings(
    (
        (  # "increasing 6 sts evenly (m1 after every 10th st)"
            rf"(?P<all>\b(?:dec|inc)(?:reas(?:e|ing))? {_SIZES} (?:sts|stitches) evenly) \((?:m1|k2tog|kfb|ssk|inc\w*|dec\w*|that is|i\.e\.)[^()]*\)",
            r"\g<all>",
        ),
        (rf"{_BASE}{_JOINT}{_CHANGE},? {_WHICH}{_END}", _of_some),
        (rf"{_BASE}{_JOINT}{_WHICH},? {_CHANGE}{_END}", _of_some),
    )
)


def with_one_of_them(said: MappedText) -> MappedText:
    """Return a line in which the round that changes stands by itself.

    Examples
    --------
    >>> with_one_of_them(MappedText.of("Knit 8 rounds, decreasing 4 sts evenly in the last one.")).text
    'Knit 7 rounds. Dec 4 sts evenly in the next round.'
    """
    return _WAYS.put_in(said)
