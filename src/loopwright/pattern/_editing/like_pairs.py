# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Pairs of shapings in the rows of one section: they lean as each other's do, and both are there.

"M1R, k2, M1L" between two markers goes on as "sm, M1R, k to marker, M1L, sm"; "ssk, k12, k2tog"
as "ssk, k10, k2tog".
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

import attrs

from loopwright.pattern._editing.findings import WARNING, Finding
from loopwright.pattern._editing.spoken import Sentences, Spoken
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["like_pairs"]

_LEFT = r"m ?1 ?l(?:eft)?|make (?:1|one) left|ssk|skpo?"
_RIGHT = r"m ?1 ?r(?:ight)?|make (?:1|one) right|k2tog"
_LEAN = WordForm(rf"(?<![a-z0-9])(?:(?P<left>{_LEFT})|(?P<right>{_RIGHT}))(?![a-z0-9])")
_DEC = WordForm(r"ssk|skp|k2tog")  # with a number beside it, too
_INC = WordForm(r"m")
_MARK = WordForm(
    r"\b(?:s[lm]?m|pm|(?:slip|sl|place|pass)(?: the| a)? (?:next |first |second |last |other )?(?:marker|m|it|ring))\b"
)
_OTHER = WordForm(r"\b(?:yo|yfwd|yrn|kfb|cdd|s[k2]2?po?|turn|inc(?!h)|dec)\b|[*]|\btog\b")
_NUMBER = WordForm(r"\d+(?! ?tog)(?: ?[(\[][\d, :]+[)\]])?", re.NOFLAG)
_STATED = WordForm(r"[.(\[—–=][^a-z]*\d+[^a-z]*(?:sts?|stitches)\b.*$")
_MEANT = WordForm(r"\b(?:against|away|lean\w*|mirror\w*|swatch|sampler)\b")
_HAND = WordForm(
    r"\b(?:left|right)[- ](?:hand|mit\w*|glove|thumb|wrist\w*|front|sleeve|side|sock|foot)\b"
)
_WORKED = WordForm(r"\b(?:k|knit|p|purl|work)\b|\b[kp]\d", re.NOFLAG)


@attrs.frozen
class _Pair:
    """Two shapings of a row: the first leans left, or right; how many markers stand between them."""

    one: Spoken
    left_first: bool
    frame: tuple[bool, int]  # whether they increase; markers that are passed between them
    at: int


def like_pairs(sentences: Sentences) -> Iterator[Finding]:
    """Find a pair that leans otherwise than those of its section, and an increase that lacks its other."""
    by_section: dict[int, list[Spoken]] = {}
    for one in sentences.about(_LEAN, _DEC):
        by_section.setdefault(one.section, []).append(one)
    for every in by_section.values():
        listed = [one for one in every if not _HAND.search(one.text)]
        if _MEANT.search(every[0].title):
            continue
        yield from _swapped([pair for one in listed if (pair := _pair(one)) is not None])
        yield from _turned(listed)
        yield from _alone(listed)


def _pair(one: Spoken) -> _Pair | None:
    """Return the two increases of a row that lean, where these are all of its shapings."""
    found = list(_LEAN.finditer(one.figures, one.start))
    if len(found) != 2 or _OTHER.search(one.figures, one.start):
        return None
    first, last = found
    if bool(first["left"]) == bool(last["left"]) or not all(_INC.match(m[0]) for m in found):
        return None
    between = len(_MARK.findall(one.figures[first.end() : last.start()]))
    return _Pair(one, bool(first["left"]), (True, between), first.start())


def _swapped(pairs: Sequence[_Pair]) -> Iterator[Finding]:
    """Yield the pairs of increases that lean otherwise than others with as many markers between."""
    for frame in dict.fromkeys(pair.frame for pair in pairs):
        alike = [pair for pair in pairs if pair.frame == frame]
        odd = _odd([pair.left_first for pair in alike])
        if odd is not None:
            yield _lean(alike[odd].one, alike[odd].at)


def _odd(ways: Sequence[bool]) -> int | None:
    """Return which of some is unlike the others, the last of two."""
    for way in (True, False):
        if ways.count(way) == 1 and len(ways) > 1:
            at = ways.index(way)
            return at if len(ways) > 2 else len(ways) - 1
    return None


def _turned(listed: Sequence[Spoken]) -> Iterator[Finding]:
    """Yield a row that is another with its two decreases exchanged."""
    shown: list[tuple[str, str, Spoken, int]] = []
    for one in listed:
        text = _NUMBER.sub("#", _STATED.sub("", one.figures[one.start :])).lower().strip(" .")
        found = list(_LEAN.finditer(text))
        if len(found) != 2 or bool(found[0]["left"]) == bool(found[1]["left"]):
            continue
        if _INC.match(found[0][0]) or _INC.match(found[1][0]) or re.search(r"\byo|yfwd|yrn", text):
            continue
        first, last = found
        turned = f"{text[: first.start()]}{last[0]}{text[first.end() : last.start()]}{first[0]}{text[last.end() :]}"
        at = _LEAN.search(one.figures, one.start)
        shown.append((text, turned, one, at.start() if at else one.start))
    for kind in dict.fromkeys(min(text, turned) for text, turned, _, _ in shown):
        alike = [row for row in shown if kind in row[:2]]
        odd = _odd([row[0] == kind for row in alike])
        if odd is not None:
            yield _lean(alike[odd][2], alike[odd][3])


def _alone(listed: Sequence[Spoken]) -> Iterator[Finding]:
    """Yield a row with one increase between two markers, where another has two."""
    found = []
    for one in listed:
        incs = [m for m in _LEAN.finditer(one.figures, one.start) if _INC.match(m[0])]
        marks = list(_MARK.finditer(one.figures, one.start))
        if not incs or len(marks) != 2 or _OTHER.search(one.figures, one.start):
            continue
        between = one.figures[marks[0].end() : marks[1].start()]
        rest = _MARK.sub("", _LEAN.sub("", between))
        if _WORKED.search(rest.lower()) and all(
            marks[0].start() < inc.start() < marks[1].start() for inc in incs
        ):
            found.append((one, incs))
    if not any(len(incs) == 2 for _, incs in found):
        return
    for one, incs in found:
        if len(incs) == 1:
            place = one.place_in_figures(incs[0].start())
            said = f"{incs[0][0]} alone between the markers, where another row increases at both of them"
            yield Finding(WARNING, "lean", said, place.line, place.column)


def _lean(one: Spoken, at: int) -> Finding:
    place = one.place_in_figures(at)
    found = [match[0] for match in _LEAN.finditer(one.figures, at)][:2]
    said = f"{found[0]} … {found[1]}: in the other row of this section these two stand the other way round"
    return Finding(WARNING, "lean", said, place.line, place.column)
