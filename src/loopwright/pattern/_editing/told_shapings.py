# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Shapings told in a sentence, with what they make: groups that end in a decrease, tallies, marks set apart evenly."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from functools import partial
from itertools import pairwise

from loopwright.pattern._editing.figures import alike, is_near, values
from loopwright.pattern._editing.findings import WARNING, Finding, by_size
from loopwright.pattern._editing.spoken import Before, Sentences
from loopwright.pattern._reading.stated import for_sizes
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS

__all__ = ["told_shapings"]

_Values = tuple[int, ...]
_Said = tuple[str, int] | None
_GROUP = WordForm(
    rf"\b(?:k|knit) ?(?P<k>{COUNT})(?: {STS})?,? (?:and |then |before (?:you )?)?(?:k ?2 ?tog|ssk|(?:knit |work )?(?:the )?(?:next )?2 (?:sts |stitches )?together)[,;]? (?:and |again )?(?:do (?:that|this|so) |rep(?:eat)?(?: this| that)? )?(?P<n>\d{{1,2}}) times\b(?! more)",
)
_LEAVES = WordForm(
    rf"(?:^|\b(?:leaves?|have|are|leaving|is)\b|[.:;,=(—–-]) ?(?:you |with |now )*(?P<n>{COUNT}) {STS}"
)
_TALLY = WordForm(
    rf"(?<![\d.])(?P<n>\d+)(?: {STS})? after (?:the )?(?P<k>\d{{1,3}})(?:st|nd|rd|th)\b"
)
_MARKED = WordForm(r"\b(?:marker|m|pm)\b[^.;]{0,30}\b(?:after|every) ")
_EVERY = WordForm(
    rf"\b(?:marker|m|pm)\b[^.;]{{0,30}}\b(?:after|every) (?:every |each |the )?(?P<n>{COUNT}) {STS}(?! (?:more|before))"
)
_PIECES = WordForm(
    rf"(?<![\d.])(?P<n>\d{{1,2}}) (?:equal )?(?:wedges|sections|parts|pieces|segments|panels|halves|quarters) of (?P<m>{COUNT})(?=[.,;)]| {STS}| each)"
)
_COUNTED = WordForm(rf"(?<![\d.])(?P<n>{COUNT}) {STS}(?! (?:before|after|dec|inc|more|from))")
_NTH = WordForm(r"(?<=\d)(?:st|nd|rd|th)\b(?= ?(?:[\[(:,)\]]|sts?\b|stitch))", re.NOFLAG)
LEAST = 16  # stitches; fewer are parts
PARTS = range(2, 17)  # parts that a round is marked in
NEAR = 8  # stitches that a round may miss, and be meant for it all the same
THREE = 3  # numbers of a tally, before they can be called uneven


def told_shapings(sentences: Sentences) -> Iterator[Finding]:
    """Find shapings that do not make what is told with them."""
    counted = Before(sentences, _COUNTED, _counted)
    for at in sentences.places_about(_GROUP, _TALLY, _MARKED, _PIECES):
        (one, after), counts = sentences.pairs[at], partial(counted, at)
        text = one.figures
        behind = after.figures if after is not None and after.line == one.line else ""
        said = (
            _groups(text, behind) or _tally(text) or _marked(text, counts) or _pieces(text, counts)
        )
        if said:
            place = one.place_in_figures(said[1])
            yield Finding(WARNING, "sum", said[0], place.line, place.column)


def _counted(text: str) -> Iterator[_Values]:
    return (values(match["n"]) for match in _COUNTED.finditer(text))


def _groups(text: str, behind: str) -> _Said:
    """Compare "knit 8, knit 2 together, 8 times" with the stitches that it leaves."""
    match = _GROUP.search(text)
    if match is None:
        return None
    told = _LEAVES.search(text, match.end()) or _LEAVES.match(behind) or _LEAVES.search(behind)
    if told is None:
        return None
    plain, left = alike(values(match["k"]), values(told["n"]))
    often = int(match["n"])
    made = tuple(often * (n + 1) for n in plain)
    if not made or made == left or not is_near(made, left, max(often, *plain) + 1):
        return None
    return (
        f"{often} times {by_size(plain)} and the decrease leave {by_size(made)} sts, not {by_size(left)}",
        match.start("k"),
    )


def _tally(text: str) -> _Said:
    """Compare "57 sts after the 5th time, 107 after the 10th": as many more each time."""
    found = [
        (int(match["k"]), int(match["n"]), match.start("n")) for match in _TALLY.finditer(text)
    ]
    if len(found) < THREE or len({k for k, _, _ in found}) < len(found):
        return None
    steps = {(n2 - n) / (k2 - k) for (k, n, _), (k2, n2, _) in pairwise(found)}
    if len(steps) == 1 or any(step != int(step) for step in steps):
        return None
    told = ", ".join(f"{n} after number {k}" for k, n, _ in found)
    return f"{told}: these do not grow by as many each time", found[0][2]


def _pieces(text: str, counts: Callable[[], Sequence[_Values]]) -> _Said:
    """Compare "eight wedges of eleven" with the stitches before."""
    match = _PIECES.search(text)
    if match is None:
        return None
    many = int(match["n"])
    made = tuple(many * n for n in values(match["m"]))
    near = None
    for count in reversed(counts()[-NEAR:]):
        one, there = alike(made, count)
        if one and one == there:
            return None
        if one and near is None and is_near(one, there, 2 * many):
            near = there
    if near is None:
        return None
    return (
        f"{many} times {by_size(values(match['m']))} sts are {by_size(made)}, not {by_size(near)}",
        match.start("n"),
    )


def _marked(text: str, counts: Callable[[], Sequence[_Values]]) -> _Said:
    """Compare a marker after every so many stitches with the stitches of the round."""
    match = _EVERY.search(_NTH.sub("  ", text))  # "after the 24th [28th] st"
    if match is None:
        return None
    each = values(match["n"])
    near = None
    for count in reversed(counts()[-NEAR:]):
        parts, whole = alike(each, count)
        if not parts or min(whole) < LEAST or min(parts) < 2:
            continue
        if all(n % e == 0 for n, e in zip(whole, parts, strict=True)):
            return None
        for many in PARTS:
            made = tuple(many * n for n in parts)
            meant = [n % many == 0 for n in whole]
            if all(meant) and near is None and is_near(made, whole, NEAR):
                near = whole
    if near is None:
        return None
    return (
        f"{by_size(near)} sts can't be marked after every {by_size(for_sizes(each, len(near)))}",
        match.start("n"),
    )
