# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""A whole and its parts by name, "66 sts: 42 sole sts and 24 instep sts", against each other."""

from __future__ import annotations

import re
from collections.abc import Iterator

from loopwright.pattern._editing.figures import alike, is_near, values
from loopwright.pattern._editing.findings import WARNING, Finding, by_size
from loopwright.pattern._editing.spoken import Sentences, next_on_line
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS

__all__ = ["parts_named"]

_PLACE = r"(?:insteps?|sole|heel|gussets?|palm|back|front|top|underside|upper|flap|left|right|toe|thumb|hand|body|crown|centre|center|middle|cuff|lower|bottom|side|foot|leg|brim|edge|border|panel|cable|half|needles?|first|second|third|fourth|last)"
_NAMED = (
    rf"(?:(?:are |is |lie |go |live )?(?:for|on|in|at|to|make|form)(?: (?:the|your|each|either|both|one|of|every))* (?:(?:[a-z]+-)?{_PLACE}\b(?: (?:of|{_PLACE})(?: the| your)?\b(?: (?:foot|hand|heel|leg|{_PLACE})\b)?)*|[A-D]\b)"
    rf"|(?:{_PLACE}|top-of-foot)\b(?: (?:{_PLACE}))?)(?: ?{STS})?(?: (?:each|on each side))?"
)
_PART = rf"(?P<n>{COUNT})(?: {STS})? {_NAMED}"
_ONE = re.sub(r"\?P<n>", "", _PART)
_WHOLE = WordForm(
    rf"(?P<total>{COUNT}) {STS}(?P<lead>[^.;:=(\[\d*—–]{{0,60}}?)[,:;=([—–-]+ ?(?:(?:with|that is|of which|of these|having|so|namely|half and half|made up of|you have|now|there are) )*(?P<parts>{_ONE}(?:(?:,? (?:and|plus|with) |[,;] |,? \+ | & ){_ONE})+)(?P<more>[^.;:\d]{{0,16}}\d)?"
)
_PARTS = WordForm(_PART)
_TWICE = WordForm(r"\b(?:each|both|either|every)\b")
_DOES = WordForm(
    r"\b(?:k|knit|p|purl|work|dec\w*|inc\w*|pick|until|bind|bo\b|co ?\d|before|after|from|more|less|fewer|slip)\b"
)
_ASIDE = WordForm(r" \([^()\d]*\)", re.NOFLAG)
SLIGHT = 8  # stitches by which a sum may miss, and be meant for it all the same


def parts_named(sentences: Sentences) -> Iterator[Finding]:
    """Find named parts that are not together the whole that is told before them."""
    for one, after in sentences.pairs_about(ahead=[_WHOLE]):
        behind = next_on_line(one, after)
        more = "" if behind is None or behind.label is not None else f" {behind.figures}"
        match = _WHOLE.search(_ASIDE.sub("", one.figures + more))
        if match is None or match.start() >= len(one.figures) or match["more"]:
            continue
        if not _DOES.search(match["lead"]) and (said := _wrong(match)):
            place = one.place_in_figures(match.start())
            yield Finding(WARNING, "sum", said, place.line, place.column)


def _wrong(match: re.Match[str]) -> str:
    """Say what the parts make, where it is nearly the whole."""
    parts = list(_PARTS.finditer(match["parts"]))
    often = [2 if _TWICE.search(part[0]) else 1 for part in parts]
    *numbers, whole = alike(*(values(part["n"]) for part in parts), values(match["total"]))
    if not whole or len(numbers) < 2:
        return ""
    made = tuple(
        sum(n * many for n, many in zip(column, often, strict=True))
        for column in zip(*numbers, strict=True)
    )
    if made == whole or whole in numbers or not is_near(made, whole, SLIGHT):
        return ""
    return f"the parts are {by_size(made)} sts together, not {by_size(whole)}"
