# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Rows that are repeated so often, against all the rows that they are said to make."""

from __future__ import annotations

import re
from collections.abc import Iterator

from loopwright.pattern._editing.figures import alike, values
from loopwright.pattern._editing.findings import WARNING, Finding, by_size
from loopwright.pattern._editing.spoken import Sentences, Spoken, next_on_line
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS

__all__ = ["rows_in_all"]

_CRS = r"(?:rows|rounds|rnds)"
_THEM = r"[^.;\d*]{0,40}\. (?:now )?(?:work|rep|repeat|do|knit) (?:them|these|it|all of (?:them|it|this)|the whole of (?:it|this)|this(?= \d| once| twice))"
_ROWS = (
    rf"\b(?:{_CRS} (?P<a>\d+) ?(?:-|–|and|&|to|through) ?(?P<b>\d+)"
    rf"|(?:(?:these |those |(?:the )?last |the |all )|(?={COUNT} {_CRS}{_THEM}))(?P<rows>\d+)(?: [a-z-]+)? {_CRS})\b"
)
_OFTEN = rf"(?P<often>{COUNT} (?P<more>more |further )?times(?P<more2> more| further)?|(?:once|twice)(?P<more3> more| again)?)"
_ALL = (
    rf"(?:, ?{COUNT} {STS}| {COUNT} {STS},)?(?:[^.;\d*]{{0,60}}[(=:,.;—–-]+ ?[(\[]?|,? (?:that is|which (?:is|makes)|making|for|or|so that)) ?(?:(?:that['’]?s|that is|so that|(?:that |which |this )?makes|you (?:now )?have|there are|so|or|a total of|count:|in all:?|total:?|for|worked) )*"
    rf"(?:{COUNT} {STS}, )?(?P<all>{COUNT}) (?:(?!more|plain|further)[a-z-]+ )?{_CRS}\b(?! ?(?:once|twice|\d+ times|of (?:rib|garter|st\b)|in the|more|\d))(?P<done> (?:have (?:now )?been |are |were )?(?:worked|done|made|complete|in all|altogether|in total))?"
)
_IN_ALL = WordForm(rf"{_ROWS}(?P<between>[^.;\d*]{{0,30}}?|{_THEM}) {_OFTEN}(?P<behind>{_ALL})")
_ENDING = WordForm(  # "rows 1-16 another 7 times, then work rows 1-8 once more. 136 pattern rows in all"
    rf"{_ROWS}(?P<between>[^.;\d*]{{0,30}}?) {_OFTEN},? (?:and |ending )?(?:then|with|and) (?:(?:work|rep|repeat|knit|do) )?(?:row|rnd|round)s? (?P<c>\d+)(?: ?(?:-|–|and|&|to) ?(?P<d>\d+))? (?:once(?: more| again)?|again|one more time)"
    rf"[.;,:=(—–]+ ?(?:(?:that['’]?s|that is|(?:that |which |this )?makes|you (?:now )?have|there are|a total of|in all:?|total:?|count:) )*(?P<all>{COUNT}) (?:[a-z-]+ )?{_CRS}\b(?! ?(?:once|twice|\d+ times|of (?:rib|garter|st\b)|more|\d))"
)
_OF_ALL = WordForm(  # "… seven more times. That makes 16 rows": with those worked first
    r"\.\W*(?:that|this) makes\b|\bso that (?:there are|you (?:now )?have)\b"
)
_BEYOND = WordForm(
    r"\b(?:then|and|ending|end|plus|again|altogether with|including|counting|set-?up|work(?! (?:these|them)))\b"
)
_OTHERS = WordForm(r"\b(?:times|once|twice|rows|rounds|rnds)\b[^.]*\b(?:then|and|followed by)\b")
_ANOTHER = WordForm(r"\b(?:another|further|extra)\b")
_TOTAL = WordForm(r"^,? in (?:total|all)\b")
_SINCE = WordForm(r" (?:since|from) (?:the |you )")  # "16 rows since the stitches were divided"
_NOT_ALL = WordForm(r"\b(?:until|every|next|knit|purl|k|p|in)\b")


def rows_in_all(sentences: Sentences) -> Iterator[Finding]:
    """Find rows that are said to be more, or fewer, than those that are repeated make."""
    for one, after in sentences.pairs_about(ahead=[_ENDING, _IN_ALL]):
        behind = next_on_line(one, after)
        more = "" if behind is None or behind.label is not None else f" {behind.figures}"
        if (match := _ENDING.search(one.figures + more)) and match.start() < len(one.figures):
            if said := _with_an_end(match):
                place = one.place_in_figures(match.start("often"))
                yield Finding(WARNING, "sum", said, place.line, place.column)
            continue
        match = _IN_ALL.search(one.figures + more)
        if match is None or match.start() >= len(one.figures):
            continue
        if _OTHERS.search(one.figures[: match.start()]):
            continue
        if said := _wrong(match, _last_row(sentences, one)):
            place = one.place_in_figures(match.start("often"))
            yield Finding(WARNING, "sum", said, place.line, place.column)


def _last_row(sentences: Sentences, here: Spoken) -> int:
    """Return the number of the row told last, up to a sentence and with it; 0 for none."""
    last = 0
    for one in sentences:
        if one.label is not None and one.label.course and one.label.numbers:
            last = one.label.numbers[-1]
        if one is here:
            return last
    return last


def _with_an_end(match: re.Match[str]) -> str:
    """Say how many rows it makes that are repeated, and some of them once more."""
    each = int(match["rows"] or int(match["b"]) - int(match["a"]) + 1)
    end = int(match["d"] or match["c"]) - int(match["c"]) + 1
    word = match["often"].lower()
    told = (1,) if word.startswith("once") else (2,) if word.startswith("twice") else values(word)
    times, stated = alike(told, values(match["all"]))
    ways = [tuple(each * (n + first) + end for n in times) for first in (0, 1)]
    before = int(match["a"] or 1) - 1
    if not 0 < end < each or stated in (*ways, *(tuple(n + before for n in way) for way in ways)):
        return ""
    more = match["more"] or match["more2"] or match["more3"] or _ANOTHER.search(match["between"])
    shown = by_size(ways[bool(more)])
    return f"{by_size(times)} times {each} rows{' more' if more else ''}, and {end}, are {shown}, not {by_size(stated)}"


def _wrong(match: re.Match[str], last: int) -> str:
    """Say how many rows it makes, where so many are not told, nor with those numbered before."""
    each = int(match["rows"] or int(match["b"]) - int(match["a"]) + 1)
    lead = match["behind"][: match.start("all") - match.start("behind")]
    lead = _TOTAL.sub("", lead)
    if each < 1 or _BEYOND.search(match["behind"]) or _NOT_ALL.search(lead):
        return ""
    word = match["often"].lower()
    told = (1,) if word.startswith("once") else (2,) if word.startswith("twice") else values(word)
    times, stated = alike(told, values(match["all"]))
    more = match["more"] or match["more2"] or match["more3"] or _ANOTHER.search(match["between"])
    made = tuple(each * n for n in times)
    ahead = tuple(each * (n + 1) for n in times)
    before = int(match["a"] or 1) - 1
    of_all = _OF_ALL.search(lead) is not None
    if (of_all or ("." in match["between"] and lead.strip() != "(")) and any(
        n % each for n in stated
    ):
        return ""  # others are counted with them
    since = _SINCE.match(match.string, match.end()) is not None
    ways = (
        [ahead]
        if more and (match["done"] or of_all)
        else [made, ahead]
        if more or since
        else [made]
    )
    begun = {0, before, max(0, last - each)}
    if not times or any(stated == tuple(n + many for n in way) for way in ways for many in begun):
        return ""
    shown = ahead if more and max(times) > 1 else made
    often = (
        f"{each} rows, worked {by_size(times)} times more,"
        if more
        else f"{by_size(times)} times {each} rows"
    )
    return f"{often} are {by_size(shown)}, not {by_size(stated)}"
