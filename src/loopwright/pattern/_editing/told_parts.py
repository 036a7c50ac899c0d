# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Parts that a sentence lists and the whole that it says they make: stripes, corners, a turned heel."""

from __future__ import annotations

import re
from collections.abc import Callable, Container, Iterator, Sequence
from functools import partial

from loopwright.pattern._editing.figures import alike, is_near, values
from loopwright.pattern._editing.findings import WARNING, Finding, by_size
from loopwright.pattern._editing.spoken import Sentences, next_on_line
from loopwright.pattern._reading.stated import for_sizes
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS

__all__ = ["told_parts"]

_Values = tuple[int, ...]
_Said = tuple[str, int] | None
_CRS = r"(?:rounds|rnds|rows)"


def told_parts(sentences: Sentences, lost: Container[int] = ()) -> Iterator[Finding]:
    """Find a whole that is not the sum of the parts that are listed with it."""
    forms = (_EQUAL, _REPEAT_OF, _CORNERS, _EACH_TIP, _BOTH_ENDS)
    for at in sentences.places_about(*forms):
        one, after = sentences.pairs[at]
        text = one.figures
        behind = next_on_line(one, after)
        more = f" {behind.figures}" if behind is not None and behind.label is None else ""
        lead = " ".join(other.figures.rstrip() for other in sentences.earlier_on_line(at)).strip()
        counts = partial(_counts, sentences, at, lost)
        found = (
            _equal(text)
            or _stripes(lead, text)
            or _corners(text, more, counts)
            or _both_ends(text, more, counts)
        )
        if found:
            message, offset = found
            place = one.place_in_figures(offset)
            yield Finding(WARNING, "sum", message, place.line, place.column)


def _counts(sentences: Sentences, at: int, lost: Container[int]) -> list[_Values]:
    """Return the last counts before a place, from the last line before that was not understood."""
    found: list[_Values] = []
    here = line = sentences[at].line
    for one in reversed(sentences[:at]):
        if len(found) >= LAST or (one.line != line != here and line in lost):
            break
        line = one.line
        found[:0] = (values(match["n"]) for match in _STATED.finditer(one.figures))
    return found[-LAST:]


_STATED = WordForm(rf"(?P<n>{COUNT}) (?:[a-z]+ ){{0,2}}?(?:{STS}|loops\b)")
_WHAT = r"(?:(?:sts )?on the (?:first|second|third|fourth|last|1st|2nd|3rd|4th)(?: needle)? ?|(?:(?!rounds|rnds|rows|times|cm|mm|inch|more|to|of|g\b|m\b|balls?|yards)[a-z&-]+\.? ?){1,4})"
_EQUAL = WordForm(
    rf"(?P<parts>(?:(?<![\w.]){COUNT} {_WHAT}(?:, (?:and |then )?|and |\+ ?|plus |then ))+{COUNT} {_WHAT})"
    rf"(?:=|equals?|makes?|(?:that |which )?(?:is|makes)|in all|:) (?P<n>{COUNT}) {STS}(?! (?:more|less|fewer|before|after|between|each|on each))",
)
_NOT_PARTS = WordForm(
    r"\b(?:each|every|both|twice|times|of (?:them|these|which)|repeat|rep|dec|inc|next|until|either)\b|tog\b|\bssk\b|[*(\[]k|\bm1",
)


def _equal(text: str) -> _Said:
    """Compare "7 DS, 6 plain sts, 7 DS = 20 sts" with what the parts make."""
    match = _EQUAL.search(text)
    if match is None or _NOT_PARTS.search(match["parts"]):
        return None
    if re.search(r"\d[^.;:]*, *$", text[: match.start()]):
        return None  # a part stands before those
    total = values(match["n"])
    parts = [values(one[0], len(total)) for one in re.finditer(COUNT, match["parts"])]
    if any(len(part) != len(total) for part in parts):
        return None
    made = tuple(sum(column) for column in zip(*parts, strict=True))
    if made == total or total in parts:
        return None
    return f"the parts are {by_size(made)} sts together, not {by_size(total)}", match.start("n")


_REPEAT_OF = WordForm(
    rf"\b(?:(?:stripe|colou?r|pattern|whole|full|complete)s? )?(?:repeats?|sequence|pattern)(?: (?:is|has|takes|makes|are|measures)|:| of| =) (?:worked over |always )?(?P<n>\d+) {_CRS}\b|"
    rf"\b(?P<n2>\d+)-(?:round|rnd|row) (?:stripe )?(?:repeat|sequence|pattern|stripes)\b|"
    rf"\b(?:stripes?|sequence) (?:is|takes|makes|has) (?P<n3>\d+) {_CRS}\b|"
    rf"[(=]+ ?(?P<n4>\d+) {_CRS} (?:in all|in total|altogether|to (?:the|a|one) (?:stripe |colou?r )?(?:repeat|sequence))",
)
_OF_ROUNDS = WordForm(rf"(?<![\d-])(?P<n>\d+) (?:(?:more|plain) )?{_CRS}\b")
_STRIPED = WordForm(r"\b(?:stripe|colou?r|[A-E]\b|MC|CC)")
_OFTEN = WordForm(r"\b(?:times|twice|until|each|every|alternat\w*|another|again)\b")


def _stripes(lead: str, text: str) -> _Said:
    """Compare "6 rounds in B, 6 rounds in A … one stripe repeat is 12 rounds" with their sum."""
    matches = list(_REPEAT_OF.finditer(text))
    if not matches:
        return None
    match = matches[-1]  # which tells of all that stands before it
    told = f"{lead} {text[: match.start()]}"
    striped = _STRIPED.search(told)
    told = told[told.rfind(":") + 1 :] if "stripes:" in told.lower() else told
    numbers = [int(one["n"]) for one in _OF_ROUNDS.finditer(told)]
    if len(numbers) < 2:
        return None
    stated = int(match["n"] or match["n2"] or match["n3"] or match["n4"])
    if _OFTEN.search(told) or not striped or "-" in told.replace("- ", ""):
        return None
    made = sum(numbers)
    if made == stated:
        return None
    shown = (
        " and ".join(map(str, numbers))
        if len(numbers) == 2
        else f"{', '.join(map(str, numbers[:-1]))} and {numbers[-1]}"
    )
    return f"{shown} rounds are {made}, not {stated}", match.start()


_CORNERS = WordForm(
    rf"\b(?:pick(?:ing)? up|lift(?:ing)?|tak(?:e|ing) up|rais(?:e|ing)|mak(?:e|ing)|add(?:ing)?|with)(?: and (?:k|knit|knitting))? (?P<n>\d|one|a|an) (?:extra |more |new )?(?:{STS} |loops? |strands? )?(?:in|at|from|on|into) (?:each|both|either|the 2|every) (?:of the (?:2 )?)?(?:(?P<corner>corner)|gap|end|side)s?\b",
)
_TOTAL = WordForm(
    rf"(?:^|[.:;,(=—–-] ?|\b(?:have|are|makes?|making|gives?) )(?P<n>{COUNT}) {STS}(?: (?:in all|in total|altogether|now|on the needles?))*(?:[.)\]:;,]|$)",
)
_BOTH_ENDS = WordForm(
    rf"\b(?:pick(?:ing)? up|lift(?:ing)?|rais(?:e|ing)|mak(?:e|ing)|add(?:ing)?)(?: and (?:k|knit|knitting))? (?P<n>\d|one|an?) (?:extra |more |new )?(?:{STS} |loops? |strands? )?(?:in|at|on) (?:both|each|either|the 2) (?:ends?|corners?|sides?) of (?:each|both|every|the 2) (?:needle|half|halves|side)"
)
_ON_EACH = WordForm(
    rf"(?P<n>{COUNT}) (?:{STS} )?(?:on|for|in) (?:each|both|every) (?:needle|half|side)"
)
_FLAT = WordForm(r"\b(?:each|every) needle\b")
SLIGHT = 4  # stitches by which a sum may miss, and be meant for it all the same
LAST = 8  # counts before, on which the corners may have been added


_EACH_TIP = WordForm(
    rf"\b(?:pick up|lift|raise|make|m1)(?: and (?:k|knit))? ?(?P<n>\d|one|a)? ?(?:(?:{STS}|loops?|strand) )?(?:in|at|from|on) the (?P<corner>corner|gap|end)[^.]*?\brep(?:eat)?(?: from)? \*",
)


def _both_ends(text: str, more: str, counts: Callable[[], Sequence[_Values]]) -> _Said:
    """Compare what each needle has, with stitches picked up at both of its ends, with the counts before."""
    added = _BOTH_ENDS.search(text)
    told = None if added is None else _ON_EACH.search(text + more, added.end())
    if added is None or told is None:
        return None
    gained = 2 * (int(added["n"]) if added["n"].isdigit() else 1)
    stated, near = values(told["n"]), None
    for count in counts():
        made, there = alike(tuple(n + gained for n in count), stated)
        if made and made == there:
            return None
        if made and near is None and is_near(made, there, SLIGHT):
            near = made
    if near is None:
        return None
    return (
        f"{gained // 2} at both ends make {by_size(near)} sts, not {by_size(stated)}",
        added.start(),
    )


_TAKEN_IN = WordForm(r"\b(?:k|knit\w*|work\w*) (?:it|them|this|these|each)\b[^.;]* tog(?:ether)?\b")


_OF_BOTH = WordForm(r"\s*of (?:both|the (?:2|two)|each) (?:of the )?(?:halves|half|sets)\b")


def _corners(text: str, more: str, counts: Callable[[], Sequence[_Values]]) -> _Said:
    """Compare what is picked up at the corners with the counts before and behind it."""
    corner = _CORNERS.search(text)
    if corner is None and len(re.findall(r"\b(?:pick|lift|raise|m1)\b", text, re.IGNORECASE)) == 1:
        corner = _EACH_TIP.search(text)
    if corner is None or _FLAT.search(text) or _TAKEN_IN.search(text, corner.end()):
        return None
    told = _TOTAL.search(text, corner.end()) or _TOTAL.search(text + more, corner.end())
    if told is None:
        return None
    total = values(told["n"])
    by = int(corner["n"]) if (corner["n"] or "").isdigit() else 1
    of_both = _OF_BOTH.match(text, corner.end()) is not None
    gained = 4 * by if of_both else 2 * by
    stated_or_hung = re.finditer(rf"({COUNT}) (?:{STS}|loops)\b", text[: corner.start()])
    inside = [values(match[1]) for match in stated_or_hung]
    known = [*counts(), *inside]
    near: _Values | None = None
    for count in known:
        for many in (1, 2):
            made = tuple(many * n + gained for n in count)
            made, stated = alike(made, total)
            if not made:
                continue
            if made == stated or (
                not (corner["corner"] or of_both) and tuple(n + gained for n in made) == stated
            ):
                return None  # as many at the two ends of both sides
            if is_near(made, stated, SLIGHT):
                near = made
    sized = [for_sizes(one, len(total)) for one in inside]
    if tuple(map(sum, zip(*sized, strict=False))) == tuple(n - gained for n in total):
        return None
    if near is None:
        return None
    return (
        f"{by} at each {'end of both halves' if of_both else 'corner'} makes {by_size(near)} sts, not {by_size(total)}",
        corner.start(),
    )
