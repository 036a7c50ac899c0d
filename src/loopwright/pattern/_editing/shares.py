# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Shares that stand beside their whole: needles listed and all of them, so many on each, edges and corners."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from functools import partial

from loopwright.pattern._editing.figures import alike, is_near, values
from loopwright.pattern._editing.findings import WARNING, Finding, by_size
from loopwright.pattern._editing.spoken import Sentences
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS

__all__ = ["shares"]

_Values = tuple[int, ...]
_Said = tuple[str, int] | None
_ALL = r"(?:in all|altogether|in total|total|all told|together)\b"
_LISTED = WordForm(
    rf"(?<![\d.-])(?P<parts>{COUNT}(?:, {COUNT})* and {COUNT})(?: {STS})?[,;:]? ?(?:[=(—–-]+ ?)?(?:(?:or|which is|that is|that makes|making) )?(?P<n>{COUNT}) (?:{STS} )?{_ALL}"
)
_LETTER = rf"(?:(?:n|ndl|needle) ?)?[A-D1-4]:? (?:has |holds )?{COUNT}"
_NAMED = WordForm(
    rf"(?P<parts>\b{_LETTER}(?:(?:,? and |, ){_LETTER})+)[,;:]? ?(?:=|together|that makes|making|which makes|in all) (?P<n>{COUNT}) {STS}"
)
_TOLD = WordForm(
    rf"\b(?:needle|one|half) (?:[a-z]+ )?(?:has|have|holds?|with) (?P<a>{COUNT})(?: {STS})?,? (?:and )?(?:the )?(?:second|2nd|other)(?: needle| one| half)? (?:[a-z]+ )?(?:has|have|holds?|with)? ?(?P<b>{COUNT})(?: {STS})?,? (?:and )?(?:that|which) (?:is|makes) (?P<n>{COUNT}) (?:{STS} )?{_ALL}"
)
_EACH = WordForm(
    rf"(?P<total>{COUNT}) {STS}(?: (?:in all|altogether|in total|total))?[,;:(—–-]* ?(?:or|that is|with|so|=)? ?(?P<n>{COUNT}) (?:{STS} )?(?:(?:on|to|for) each|per) (?:needle|needle tip|tip|half|side)\b(?! (?:of|and))"
)
_UNLIKE = WordForm(
    rf"\band (?:the )?(?:last |other |rem\w*\.? )?{COUNT} (?:{STS} )?(?:on|for|in|at)\b|\b(?:plus|except|but|remaining|rest|more|inc\w*|dec\w*)\b"
)
_EDGES = WordForm(
    rf"\bpick(?:ing)? up(?: (?:and|&) (?:k|knit))? (?P<total>{COUNT}) {STS}[^.;:\d]{{0,40}}: ?(?P<a>{COUNT}) (?:{STS} )?(?:along|on|at|from|in|down|up) (?:each|both|either) (?:edge|side|half)s?\b,? (?:and|plus|\+|with) (?P<b>{COUNT}) (?:{STS} )?(?:more )?(?:in|at|from) (?:each|both|either) (?:corner|end|gap)s?\b"
)
_DEALT = WordForm(
    rf"\b(?P<many>[2-5]) (?:[a-z-]+ )?(?:needles|dpns|ndls)\b[,;:(—–-]* ?(?:with |so that there are |putting |that is |having )?(?P<n>{COUNT}) (?:{STS} )?(?:(?:on|to|for) each\b(?! of)|per (?:needle|dpn|ndl)\b)"
)
_ONE_TO = r"(?:needles|dpns|ndls|n) ?#?1(?: ?(?:-|–|to|through) ?(?:n ?)?|, 2,? (?:and|&) (?=3)|, 2, 3,? (?:and|&) (?=4))"
_DEALT_BY_NAME = WordForm(  # "on Needles 1-4, 14 sts on each"
    rf"\b{_ONE_TO}(?P<last>[3-5])\b ?[,;:(—–-]* ?(?:with |so that there are |putting |that is |having )?(?P<n>{COUNT}) (?:{STS} )?(?:on|to|for) each\b(?! of)"
    rf"|(?<![\d.])(?P<m>{COUNT}) (?:{STS} )?(?:on|to|for) each (?:one )?of (?:the )?{_ONE_TO}(?P<last2>[3-5])\b",
)
_COUNTED = WordForm(
    rf"(?<![\d.])(?P<n>{COUNT}) (?:live )?{STS}(?! (?:on|onto|to|for|in each|each|at|dec|inc|more|before|after|from))|\b(?:cast(?:ing)? (?:on|up)|co)\b:? ?(?P<m>{COUNT})|(?P<o>{COUNT}) (?:in all|altogether|total|in the round)"
)
_CHANGES = WordForm(
    r"(?:[kp]\d ?tog)|\b(?:inc(?!h)|dec|ssk|m1|kfb|tog|together|pick|bind|bo\b|co ?\d|cast off|evenly|turn)"
)
_PAIRS = WordForm(
    r"[(\[*] ?(?:k|knit|p|purl) ?(?P<k>\d+), ?(?:k2tog|ssk|p2tog|skpo?)[)\]]?[,;]? ?(?:rep(?:eat)? (?:from )?\*,? )?(?:to (?:the )?end|(?:all )?a?round)\b"
)
_LEFT = WordForm(
    rf"(?P<n>{COUNT}) {STS}(?: (?:that|which) are)? (?:left|rem\w*)|(?:^|[.:;,=([—–-]) ?(?P<m>{COUNT}) {STS}[.)\]]*$"
)
_M1 = r"(?:m ?1 ?[lr]?|make (?:1|one)(?: left| right)?|yo ?1?|inc(?: ?1)?)"
_WEDGE = WordForm(
    rf"(?<![a-z0-9]){_M1}, ?(?:k|knit) ?(?P<k>{COUNT})(?: {STS})?, ?{_M1}(?![a-z0-9])[^.(—–=\d]*[(—–=] ?(?P<n>{COUNT}) (?:thumb|gusset) {STS}"
)
_SIDES = WordForm(
    rf"(?P<n>{COUNT}) {STS} (?:between (?:the )?(?:markers|m|rings)|in the (?:gusset|middle|cent(?:er|re))),? and (?P<m>{COUNT}) (?:{STS} )?(?:on|at) (?:each|either|both) sides?\b"
)
SLIGHT = 8  # stitches by which a sum may miss, and be meant for it all the same
LEAST = 8  # stitches; fewer are parts
TWICE = 2


def shares(sentences: Sentences) -> Iterator[Finding]:
    """Find shares that are not together the whole beside which they stand."""
    forms = (_LISTED, _NAMED, _TOLD, _EACH, _EDGES, _DEALT, _DEALT_BY_NAME, _WEDGE, _SIDES, _PAIRS)
    for at in sentences.places_about(*forms):
        one, after = sentences.pairs[at]
        before = partial(_before, sentences, at)
        text = one.figures
        behind = after.figures if after is not None and after.line == one.line else ""
        said = (
            _listed(text)
            or _on_each(text)
            or _edges(text)
            or _dealt(text, before)
            or _wedge(text)
            or _sides(text, before)
            or _pairs(text[one.start :], behind, one.start)
        )
        if said:
            place = one.place_in_figures(said[1])
            yield Finding(WARNING, "sum", said[0], place.line, place.column)


def _before(sentences: Sentences, at: int) -> list[_Values]:
    """Return the counts that are told last before a place; none if they were changed since."""
    for one in reversed(sentences[:at]):
        matches = _COUNTED.finditer(one.figures)
        counts = [values(next(filter(None, match.groups()))) for match in matches]
        counts = [count for count in counts if min(count) >= LEAST]
        if counts or _CHANGES.search(one.figures):
            return counts
    return []


def _listed(text: str) -> _Said:
    """Add up "29, 36 and 29 sts, 94 in all", "A 9, B 12, C 9, together 30 sts"."""
    for form in (_LISTED, _NAMED, _TOLD):
        match = form.search(text)
        if match is None:
            continue
        if form is _TOLD:
            written = [match["a"], match["b"]]
        else:
            names = re.sub(r"\b(?:[A-D]|(?:n|ndl|needle) ?\d):? ", "", match["parts"])
            written = re.findall(COUNT, names)
        *parts, total = alike(*map(values, written), values(match["n"]))
        if len(parts) < TWICE or not total or total in parts:
            continue
        made = tuple(map(sum, zip(*parts, strict=True)))
        if made != total and is_near(made, total, SLIGHT):
            said = f"the parts are {by_size(made)} sts together, not {by_size(total)}"
            return said, match.start("n")
    return None


def _on_each(text: str) -> _Said:
    """Compare "50 sts, or 25 on each needle": a whole number of needles, the same in all sizes."""
    match = _EACH.search(text)
    if match is None or _UNLIKE.search(text, match.end()):
        return None
    total, part = alike(values(match["total"]), values(match["n"]))
    if not total or min(part) < TWICE:
        return None
    often = {whole / one for whole, one in zip(total, part, strict=True)}
    if len(often) == 1 and often.pop().is_integer():
        return None
    many = max(TWICE, round(total[0] / part[0]))
    made = tuple(many * n for n in part)
    if not is_near(made, total, SLIGHT):
        return None
    return f"{many} times {by_size(part)} sts are {by_size(made)}, not {by_size(total)}", match.start("n")  # fmt: skip


def _edges(text: str) -> _Said:
    """Compare "pick up 16 sts: 7 along each edge and 1 in each corner"."""
    match = _EDGES.search(text)
    if match is None:
        return None
    total, edge, corner = alike(*(values(match[name]) for name in ("total", "a", "b")))
    made = tuple(TWICE * (a + b) for a, b in zip(edge, corner, strict=True))
    if not made or made == total or not is_near(made, total, SLIGHT):
        return None
    return f"these are {by_size(made)} sts together, not {by_size(total)}", match.start("a")


def _dealt(text: str, known: Callable[[], Sequence[_Values]]) -> _Said:
    """Compare so many on each of some needles with the stitches that were counted last."""
    match, named = _DEALT.search(text), _DEALT_BY_NAME.search(text)
    if match is not None:
        many, name = int(match["many"]), "n"
    elif named is not None:
        match, many = named, int(named["last"] or named["last2"])
        name = "n" if named["n"] else "m"
    if match is None or _UNLIKE.search(text, match.end()):
        return None
    at = match.start(name)
    here = [*_COUNTED.finditer(text[:at])]
    if here and named is not match:
        return None
    before = [values(next(filter(None, m.groups()))) for m in here] or known()
    if not before:
        return None
    each = values(match[name])
    made = tuple(many * n for n in each)
    for count in before:
        one, there = alike(made, count)
        if one and one == there:
            return None
    one, there = alike(made, before[0])
    agree = sum(a == b for a, b in zip(one, there, strict=True))
    if not one or not (agree == len(one) - 1 or is_near(one, there, SLIGHT)):
        return None
    if len(one) == 1 and not is_near(one, there, SLIGHT):
        return None
    return (
        f"{by_size(each)} sts on each of {many} needles are {by_size(one)}, not {by_size(there)}",
        at,
    )


def _wedge(text: str) -> _Said:
    """Compare "m1, k3, m1" with the thumb's stitches that are told behind it."""
    match = _WEDGE.search(text)
    if match is None:
        return None
    inner, total = alike(values(match["k"]), values(match["n"]))
    made = tuple(n + TWICE for n in inner)
    if not made or made == total or not is_near(made, total, SLIGHT):
        return None
    return f"these are {by_size(made)} sts of the thumb, not {by_size(total)}", match.start("k")


def _sides(text: str, known: Callable[[], Sequence[_Values]]) -> _Said:
    """Compare "10 sts between the markers and 11 on each side" with the count before."""
    match = _SIDES.search(text)
    before = known() if match is not None else ()
    if match is None or not before:
        return None
    made = tuple(
        n + TWICE * m for n, m in zip(*alike(values(match["n"]), values(match["m"])), strict=True)
    )
    pairs = [alike(made, count) for count in before]
    if not made or any(one == there for one, there in pairs):
        return None
    one, there = pairs[-1]
    if not one or not is_near(one, there, SLIGHT):
        return None
    return f"these are {by_size(one)} sts together, not {by_size(there)}", match.start("n")


def _pairs(text: str, behind: str, start: int) -> _Said:
    """Ask that "(k6, k2tog) to the end" leaves whole groups."""
    match = _PAIRS.search(text)
    if match is None or re.search(r"\d|\b[kp]\b", text[: match.start()]):
        return None
    told = _LEFT.search(text, match.end()) or _LEFT.search(behind)
    if told is None:
        return None
    group, left = int(match["k"]) + 1, values(told["n"] or told["m"])
    if not any(n % group for n in left):
        return None
    said = f"groups of {group} sts are left; {by_size(left)} sts are no multiple of {group}"
    return said, start + match.start("k")
