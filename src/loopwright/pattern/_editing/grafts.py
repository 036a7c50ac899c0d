# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""What is grafted, drawn up or bound off at the end, against the stitches that are left.

Of numbers by size it also looks at the one whose two digits changed places: "72 (82, 29)".
"""

from __future__ import annotations

import re
from collections.abc import Container, Iterator
from itertools import pairwise

from loopwright.pattern._editing.figures import alike, is_near, values
from loopwright.pattern._editing.findings import WARNING, Finding, by_size
from loopwright.pattern._editing.spoken import Sentences
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS

__all__ = ["grafts"]

_Values = tuple[int, ...]
_GRAFT = WordForm(
    r"\b(?:graft\w*|kitchener|weav(?:e|ing) (?:them|the \w+) together|sew up|three-needle)\b"
)
_BOTH = WordForm(
    rf"(?P<a>{COUNT}) (?:[a-z]+ )?(?:{STS} )?(?:[a-z]+ ){{0,4}}?(?:to|with|and|against) (?:the |those |other )*(?P<b>{COUNT})(?! ?[(\[]\d|\d) ?(?:[a-z]+ )?(?:{STS})?",
)
_OF_NEEDLES = WordForm(  # numbers that are no stitches: "of needles 3 and 1"
    r" (?:of|on|from) (?:needles?|n) ?\d(?:(?:,? and| &|,) (?:needle |n)?\d)*\b",
)
_EACH = WordForm(
    rf"(?P<a>{COUNT}) (?:{STS} )?(?:(?:on|of|from|at) )?(?:each|both|either) (?:needles?|sides?|half|halves|set)\b",
)
_TARGET = WordForm(
    rf"(?:\b(?:until|(?<!down )to|down to(?: the last)?|stop(?:ping)? (?:at|with|when|once)) (?:there are |you have |only )*|(?:^|[.:;,(=—–-])\s*(?:there are |you have )?)(?P<n>{COUNT}) {STS}(?: (?:rem\w*\.?|(?:are )?left|in all|now))*\W*$",
)
_ON_SOME = WordForm(rf"\bneedles \d (?:and|&) \d\b[^.;:\d]*[(,:=] ?{COUNT} {STS}")  # not of all
_LIST = WordForm(
    r"(?<![\d.])\d\d(?:\d)? ?[(\[](?:\d\d(?:\d)?, ?)*\d\d(?:\d)?[)\]](?! ?(?:cm|mm|in\b|\"))",
    re.NOFLAG,
)
FAR = 12  # stitches by which a sum may miss, and be meant for it all the same
STEEP, SMOOTH = 1.5, 1.35  # how sizes grow: from one to the next, wrongly and well
MANY = 3


def grafts(sentences: Sentences, lost: Container[int] = ()) -> Iterator[Finding]:
    """Find halves that are not those of the stitches that are left, and digits that changed places."""
    for at in sentences.places_about(_GRAFT, _LIST):
        one, text = sentences[at], sentences[at].figures
        graft = _GRAFT.search(text)
        if graft is not None and (said := _unlike(text, graft.end(), _last(sentences, at, lost))):
            place = one.place_in_figures(graft.start())
            yield Finding(WARNING, "sum", said, place.line, place.column)
        for match in _LIST.finditer(text):
            many = values(match[0])
            meant = _swapped(many)
            if meant:
                place = one.place_in_figures(match.start())
                said = f"{by_size(many)} does not grow evenly: is {by_size(meant)} meant?"
                yield Finding(WARNING, "grading", said, place.line, place.column)


def _last(sentences: Sentences, at: int, lost: Container[int]) -> _Values | None:
    """Return the last target before a sentence, where none of the lines from there on is lost."""
    for one in reversed(sentences[: at + 1]):
        told = _TARGET.search(one.figures) if one is not sentences[at] else None
        if told is not None:
            return None if _ON_SOME.search(one.figures) else values(told["n"])
        if one.line in lost:
            return None
    return None


def _unlike(text: str, start: int, last: _Values | None) -> str:
    """Say that the two sides of a graft differ, or are not what is left."""
    both, each = _BOTH.search(_OF_NEEDLES.sub("", text[start:])), _EACH.search(text)
    if both is not None:
        one, other = alike(values(both["a"]), values(both["b"]))
        if one != other and is_near(one, other, FAR):
            return f"{by_size(one)} sts can't be grafted to {by_size(other)} one by one: should the two be alike?"
    elif each is not None:
        one = values(each["a"])
    else:
        return ""
    if last is None:
        return ""
    half, whole = alike(one, last)
    if not half or all(2 * h == w for h, w in zip(half, whole, strict=True)):
        return ""
    if any(abs(2 * h - w) > FAR for h, w in zip(half, whole, strict=True)):
        return ""
    return f"{by_size(half)} sts on either side are {by_size([2 * h for h in half])}; {by_size(whole)} are left"


def _swapped(many: _Values) -> _Values:
    """Return a list with the two digits of one number put back, where it grows evenly only so."""
    if len(many) < MANY or _grows(many, STEEP):
        return ()
    for at, number in enumerate(many):
        said = str(number)
        if len(said) == 2:
            other = (*many[:at], int(said[::-1]), *many[at + 1 :])
            if _grows(other, SMOOTH):
                return other
    return ()


def _grows(many: _Values, steep: float) -> bool:
    return all(a and 1 <= b / a <= steep for a, b in pairwise(many))
