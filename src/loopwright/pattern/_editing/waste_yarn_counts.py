# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Stitches knitted with waste yarn, against those picked up beside it later: as many below and above."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from loopwright.pattern._editing.figures import alike, is_near, values
from loopwright.pattern._editing.findings import WARNING, Finding, by_size
from loopwright.pattern._editing.spoken import Sentences, Spoken, next_on_line
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS

__all__ = ["waste_yarn_counts"]

_Values = tuple[int, ...]
_WASTE = r"(?:waste|scrap|contrast\w*|spare|odd|smooth|other)(?: (?:coloured|colored))? (?:yarn|wool|thread|cotton)"
_KNITTED = WordForm(
    rf"(?<![a-z])(?:k|knit|work)\.? ?(?:(?:the|next|first|these|following|last) )*(?P<n>{COUNT})(?: {STS})?,? (?:with|in|using|on ?to) (?:(?:a|the|some|piece|length|strand|of|your|smooth) )*{_WASTE}(?!,? (?:k|knit)\.? ?(?:the )?(?:next |first )?\d)"
    rf"|\b(?:with|using|in) (?:(?:a|the|some|piece|length|strand|of|your|smooth) )*{_WASTE},? (?:k|knit)\.? ?(?:(?:the|next|first|these|following|last) )*(?P<m>{COUNT})"
)
_OPENED = WordForm(
    rf"{_WASTE}|\b(?:opening|both sides|above|below|either side|each side of (?:it|the)|upper|lower|loops|legs?)\b"
)
_TAKES = WordForm(
    r"\b(?:pick(?:ing)?|slip(?:ping)?|slid\w*|plac(?:e|ing)|put(?:ting)?|tak(?:e|ing)|catch\w*|unpick\w*|unravel\w*|remov\w*|undo\w*|free\w*|return\w*)\b"
)
_BESIDE = WordForm(
    rf"(?<![\d.])(?P<n>{COUNT}) (?:(?:live|lower|upper|heel|thumb|loops?|more|of the) )*(?:{STS} |loops |legs )?(?:(?:are|lie|is|from|on|of) )*(?:below|above|beneath|underneath|under|over|on each|on either|on both|on one|on to|onto|on (?:the )?(?:lower|upper|first|second|top|bottom|other|another)|at (?:each|either))"
    rf"|\b(?:lower|upper) (?P<m>{COUNT}) (?:{STS}|loops)"
    rf"|\b(?:below|above|under|over) (?:the |it\b|this |your ){{0,2}}(?:{_WASTE}|row|opening|gap)?[,:]? ?(?P<o>{COUNT}) (?:{STS}|loops)"
)
_AGAIN = WordForm(r"\b(?:with the (?:main|working|sock)|knit (?:them|these|it) again|over again)\b")
_SAME_AGAIN = WordForm(  # "slide them back and k24 again with working yarn"
    rf"\b(?:push|slide?|slip|put|move|transfer|return)\b[^.;]*\bback\b[^.;]*?(?:,|\band|\bthen) (?:k|knit)\.? ?(?:(?:the|those|these|same) )*(?P<n>{COUNT})(?: {STS})? (?:once )?(?:again|more\b|over again)"
)
_PUT_BACK = WordForm(  # "slip these 8 sts back to the left needle"
    rf"\b(?:push|slide?|slip|put|move|transfer|return|place)(?:ing)? (?:these|those|the|the same|them,? the) (?P<n>{COUNT}) (?:waste[- ]yarn |scrap[- ]yarn |contrast\w* |bright )?(?:{STS} |loops )?(?:straight |right |all )?(?:back\b|(?:on ?)?to (?:the |your )?left)"
)
_TO_LAST = WordForm(
    rf"\b(?:k|knit|work|patt\w*) (?:in (?:patt\w*|rib) )?to (?:the |within the )?last (?P<n>{COUNT}) {STS}\b"
)
_THEN = WordForm(rf"[,;.] (?:and |then )*(?:k|knit) ?(?:the )?(?:last |remaining |other )?(?P<n>{COUNT})(?: {STS})?(?: to (?:the )?end)?\W*$")  # fmt: skip
_OTHERS = WordForm(r"(?<![a-z])(?:k|knit|p|purl|m1|inc) ?\d|tog\b|\bssk\b|[*]")
NEAR = 6  # stitches by which two counts may differ, and be meant for one another
AT_CORNERS = 3  # stitches, at most, that are picked up beside them at each corner
ONE = 1  # a loop more or less lies above than below


def waste_yarn_counts(sentences: Sentences) -> Iterator[Finding]:
    """Find as many stitches knitted with waste yarn as nowhere are picked up beside it."""
    knitted: list[tuple[Spoken, _Values, int]] = []
    beside: list[tuple[Spoken, _Values, int]] = []
    for one, after in sentences.pairs_about(_KNITTED, _BESIDE):
        text = one.figures
        if (match := _KNITTED.search(text)) is not None:
            name = "n" if match["n"] else "m"
            knitted.append((one, values(match[name]), match.start(name)))
            if (again := _worked_again(text, match)) is not None:
                place = one.place_in_figures(again.start("n"))
                said = f"{by_size(values(match[name]))} sts were knitted with waste yarn, and {by_size(values(again['n']))} of them again"
                yield Finding(WARNING, "sum", said, place.line, place.column)
                return
            if (said_at := _put_back(one, match, after) or _to_the_last(one, match)) is not None:
                yield said_at
                return
        elif knitted and _OPENED.search(text) and _TAKES.search(text) and not _AGAIN.search(text):
            for match in _BESIDE.finditer(text):
                name = next(name for name in "nmo" if match[name])
                beside.append((one, values(match[name]), match.start(name)))
    rows = [many for _, many, _ in knitted]
    told = (_STATED.finditer(one.figures) for one in sentences.about(_STATED) if beside)
    counted = {values(match["n"]) for found in told for match in found}
    for one, many, at in beside:
        if max(many) <= AT_CORNERS or _fits(many, rows) or (near := _near(many, rows)) is None:
            continue
        there = next(row for row in knitted if row[1] == near)
        said = (
            f"{by_size(near)} sts were knitted with waste yarn, and {by_size(many)} lie beside it"
        )
        if tuple(2 * n for n in many) in counted:  # half of what is on the needles
            one, at = there[0], there[2]
        place = one.place_in_figures(at)
        yield Finding(WARNING, "sum", said, place.line, place.column)
        return


def _worked_again(text: str, first: re.Match[str]) -> re.Match[str] | None:
    """Return the stitches "k24 again" that are not as many as those that waste yarn has just knitted."""
    again = _SAME_AGAIN.search(text, first.end())
    if again is None:
        return None
    one, other = alike(values(first["n"] or first["m"]), values(again["n"]))
    return again if one and one != other and is_near(one, other, NEAR) else None


def _put_back(one: Spoken, first: re.Match[str], after: Spoken | None) -> Finding | None:
    """Compare "slip these 8 sts back", there or in the next sentence, with those that waste yarn has knitted."""
    there, back = one, _PUT_BACK.search(one.figures, first.end())
    if back is None and (more := next_on_line(one, after)) is not None:
        there, back = more, _PUT_BACK.search(more.figures)
    if back is None:
        return None
    knitted, moved = alike(values(first["n"] or first["m"]), values(back["n"]))
    if not knitted or knitted == moved or not is_near(knitted, moved, NEAR):
        return None
    said = f"{by_size(knitted)} sts were knitted with waste yarn, and {by_size(moved)} are put back"
    place = there.place_in_figures(back.start("n"))
    return Finding(WARNING, "sum", said, place.line, place.column)


def _to_the_last(one: Spoken, first: re.Match[str]) -> Finding | None:
    """Compare "k to the last 8 sts, with waste yarn k6, …, k1" in itself: the last are all worked."""
    lasts = [*_TO_LAST.finditer(one.figures[: first.start()])]
    then = _THEN.search(one.figures, first.end())
    if not lasts or then is None or _OTHERS.search(one.figures[first.end() : then.start()]):
        return None
    names = (values(first["n"] or first["m"]), values(then["n"]), values(lasts[-1]["n"]))
    knitted, rest, last = alike(*names)
    made = tuple(a + b for a, b in zip(knitted, rest, strict=True))
    if not made or made == last or not is_near(made, last, NEAR):
        return None
    said = (
        f"the last {by_size(last)} sts: {by_size(knitted)} and {by_size(rest)} are {by_size(made)}"
    )
    place = one.place_in_figures(lasts[-1].start("n"))
    return Finding(WARNING, "sum", said, place.line, place.column)


_STATED = WordForm(rf"\b(?:cast(?:ing)? (?:on|up)|co)\b\D{{0,12}}(?P<n>{COUNT})(?!\d)")


def _fits(many: _Values, rows: Sequence[_Values]) -> bool:
    return any(
        one and is_near(one, other, ONE) for one, other in (alike(many, row) for row in rows)
    )


def _near(many: _Values, rows: Sequence[_Values]) -> _Values | None:
    """Return the row of waste yarn that is meant."""
    for row in rows:
        one, other = alike(many, row)
        if one and is_near(one, other, NEAR):
            return row
    return None
