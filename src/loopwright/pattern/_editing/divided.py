# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Stitches divided in two or more parts, against those that there were: a heel, needles, halves, ridges."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from functools import partial

from loopwright.pattern._editing.figures import alike, is_near, values
from loopwright.pattern._editing.findings import WARNING, Finding, by_size
from loopwright.pattern._editing.spoken import Before, Sentences
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS

__all__ = ["divided"]

_Values = tuple[int, ...]
_Said = tuple[str, int] | None
_Known = Callable[[], Sequence[_Values]]  # counts before
_COUNTED = WordForm(
    rf"(?<![\d.])(?P<n>{COUNT}) (?:live )?{STS}(?! (?:before|after|from|dec|inc|more|less|fewer))|\b(?:cast(?:ing)? (?:on|up)|co)\b:? ?(?P<m>{COUNT})",
)
_SPLIT = WordForm(
    rf"(?<![a-z])(?:k|knit|work|patt|rib)(?: (?:across|in (?:rib|patt\w*)))? ?(?:the )?(?:first |next )?(?P<n>{COUNT})(?: {STS})?(?: of (?:the |this )?(?:round|rnd))?(?: (?:on ?to|on|with) (?:1|one|a|the same|a single) needle)?,? (?:and |then )?turn\b|\b(?:over|on|across) the (?:first|next|last) (?P<m>{COUNT}) {STS}(?=[,;])"
)
_REST = WordForm(
    rf"\b(?:slip|sl|leave|put|place|keep|let)\b[^.;\d]{{0,12}}\b(?:rem\w*\.?|other|rest(?: of the)?|last) (?P<n>{COUNT}) {STS}"
)
_ARRANGED = WordForm(
    rf"(?<![\d.])(?P<n>{COUNT}) (?:{STS} )?(?:on|to|for) each of (?:the )?(?:needles? (?P<a>\d) ?(?:to|-|–) ?(?P<b>\d)|(?P<many>[2-5]) (?:needles|dpns|ndls))"
)
_AND_OTHERS = WordForm(
    r"\band (?:the )?(?:last |other |rest\b|rem\w*\.? )*\d|\band the (?:rest|others|remainder)\b"
)
_ON_TWO = WordForm(
    rf"(?<![\d.])(?P<n>{COUNT}) {STS} each on (?:the )?2 (?:needles|dpns)|\b2 (?:needles|dpns)[,:;]? (?:with )?(?P<m>{COUNT}) (?:{STS} )?(?:on|to|for) each\b(?! of)|"
    rf"\bthe (?P<o>{COUNT}) (?:top|instep|upper|back|front) {STS} on (?:1|one|a) needle and the (?:other )?\d"
)
_AT_SIDES = WordForm(
    rf"\bmarkers? at (?:each|either|both) sides?\b[^.;\d]{{0,30}}(?P<n>{COUNT}) {STS} between"
)
_HALVED = WordForm(
    rf"\bwaste yarn,? (?:k|knit) ?(?P<m>{COUNT})|(?<![a-z])(?:k|knit|patt|work)(?: the)?(?: first)? ?(?P<n>{COUNT})(?: {STS})?,? (?:place (?:a )?marker|pm\b|m1)"
)
_ROWS = WordForm(r"(?<![a-z])(?:k|knit|work) (?P<n>\d{1,2}) rows\b")
_RIDGES = WordForm(
    rf"\bpick up(?: and (?:k|knit))? (?P<n>\d{{1,2}}) {STS} [^.;]{{0,40}}\b(?:1|one) (?:st )?(?:in|from|for) each (?:garter )?ridge"
)
LAST = 8  # counts before
SOON = 3  # counts before, which needles divide
LEAST = 16  # stitches; fewer are parts
NEAR = 4  # stitches by which a sum may miss, and be meant for it all the same
SIZES = 3  # of which one may be called odd


def divided(sentences: Sentences) -> Iterator[Finding]:
    """Find parts that do not make the whole that they are parts of."""
    told = Before(sentences, _COUNTED, _counted)
    rows: tuple[int, int] | None = None  # rows of a garter tab, and the line
    forms = (_SPLIT, _ARRANGED, _ON_TWO, _AT_SIDES, _HALVED, _RIDGES, _ROWS)
    for at in sentences.places_about(*forms):
        one, after = sentences.pairs[at]
        text = one.figures
        counts = partial(told, at)
        behind = after.figures if after is not None and after.section == one.section else ""
        said = (
            _split(text, behind, counts)
            or _arranged(text, counts)
            or _at_sides(text, counts)
            or _halved(text, counts)
            or _ridges(text, rows, one.line)
        )
        if said:
            place = one.place_in_figures(said[1])
            yield Finding(WARNING, "sum", said[0], place.line, place.column)
        if (knit := _ROWS.search(text)) is not None:
            rows = int(knit["n"]), one.line


def _counted(text: str) -> Iterator[_Values]:
    told = (values(match["n"] or match["m"]) for match in _COUNTED.finditer(text))
    return (many for many in told if min(many) >= LEAST)


def _misses(made: _Values, counts: Sequence[_Values], near: int = NEAR) -> _Values | None:
    """Return the last count that some stitches nearly make; None where they make one, or none is near."""
    found = None
    for count in reversed(counts):
        one, there = alike(made, count)
        if one and one == there:
            return None
        if one and found is None and is_near(one, there, near):
            found = there
    return found


def _split(text: str, behind: str, counts: _Known) -> _Said:
    """Compare "k28, turn. Slip the other 28 sts on to a holder" with the stitches before."""
    worked = _SPLIT.search(text)
    rest = _REST.search(text, worked.end()) if worked is not None else None
    if worked is not None and rest is None:
        rest = _REST.match(behind.lstrip())
    if worked is None or rest is None:
        return None
    one, other = alike(values(worked["n"] or worked["m"]), values(rest["n"]))
    made = tuple(a + b for a, b in zip(one, other, strict=True))
    there = _misses(made, counts()[-LAST:], 2) if made and min(made) >= LEAST else None
    if there is None:
        return None
    return (
        f"{by_size(one)} and {by_size(other)} sts are {by_size(made)}, not {by_size(there)}",
        worked.start("n"),
    )


def _arranged(text: str, counts: _Known) -> _Said:
    """Compare so many on each of some needles with the stitches before."""
    match = _ARRANGED.search(text)
    if match is None and (halved := _ON_TWO.search(text)) is not None:
        half = values(halved["n"] or halved["m"] or halved["o"])
        whole = _misses(tuple(2 * n for n in half), counts()[-SOON:], NEAR)
        if whole is None:
            return None
        return (
            f"twice {by_size(half)} sts are {by_size([2 * n for n in half])}, not {by_size(whole)}",
            halved.start(),
        )
    begins = re.search(r"\b(?:cast(?:ing)? on|co)\b", text, re.IGNORECASE)
    if match is None or begins or _AND_OTHERS.search(text, match.end()):
        return None
    many = int(match["many"]) if match["many"] else int(match["b"]) - int(match["a"]) + 1
    each = values(match["n"])
    made = tuple(many * n for n in each)
    told = _COUNTED.finditer(text[: match.start()])  # "you have 48 sts, 12 on each of 4 needles"
    there = _misses(
        made, [*counts()[-SOON:], *(values(one["n"] or one["m"]) for one in told)], 2 * NEAR
    )
    if there is None:
        return None
    return (
        f"{by_size(each)} sts on each of {many} needles are {by_size(made)}, not {by_size(there)}",
        match.start("n"),
    )


def _at_sides(text: str, counts: _Known) -> _Said:
    """Compare what lies between markers at the two sides with half of the stitches."""
    match = _AT_SIDES.search(text)
    if match is None:
        return None
    half = values(match["n"])
    there = _misses(tuple(2 * n for n in half), counts()[-2:])
    if there is None:
        return None
    return (
        f"{by_size(half)} sts between markers at the two sides are half of {by_size([2 * n for n in half])}, not of {by_size(there)}",
        match.start("n"),
    )


def _halved(text: str, counts: _Known) -> _Said:
    """Find the one size in which a marker does not stand in the middle, where in all others it does."""
    match = _HALVED.search(text)
    many = values(match["n"] or match["m"]) if match is not None else ()
    if match is None or len(many) < SIZES:
        return None
    for count in counts()[-LAST:]:
        if (
            len(count) == len(many)
            and sum(2 * a != b for a, b in zip(many, count, strict=True)) == 1
        ):
            return (
                f"{by_size(many)} sts are half of {by_size(count)} in all sizes but one",
                match.start("n"),
            )
    return None


def _ridges(text: str, rows: tuple[int, int] | None, line: int) -> _Said:
    """Compare stitches picked up from ridges with the rows: two to a ridge."""
    match = _RIDGES.search(text)
    if match is None or rows is None or not 0 <= line - rows[1] <= 1:
        return None
    if abs(2 * int(match["n"]) - rows[0]) <= 1:
        return None
    return f"{rows[0]} rows have {rows[0] // 2} ridges, not {match['n']}", match.start("n")
