# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Stitches between two markers: a wedge that grows by its increases, and the round that holds it."""

from __future__ import annotations

import re
from collections.abc import Container, Iterator

import attrs

from loopwright.pattern._editing.figures import alike, is_near, values
from loopwright.pattern._editing.findings import WARNING, Finding, by_size
from loopwright.pattern._editing.row_slips import tokens_at
from loopwright.pattern._editing.spoken import Sentences, Spoken, next_on_line
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS

__all__ = ["between_markers"]

_Values = tuple[int, ...]
_MARKERS = r"(?:the |both |these |2 |thumb |gusset )*(?:markers?|ms|mkrs)\b"
_INNER = WordForm(
    rf"(?P<n>{COUNT}) (?:(?:thumb|gusset) )?(?:{STS} )?(?:are |lie |now |left |there )*(?:between|inside|within) {_MARKERS}"
    rf"|\bbetween {_MARKERS}: (?P<m>{COUNT})(?=[.;)]|$)",
)
_MORE_TIMES = WordForm(  # of the round that was told before
    rf"\brep(?:eat)?\b[^.;*]{{0,60}}?(?:(?P<n>{COUNT}) (?:more times?|times? more|further times?)|\b(?:another|a further) (?P<m>{COUNT}) times?)\b(?![^.;]*\bthen\b)"
)
_UNTIL = WordForm(r"\b(?:until|till|to)\b[^.;\d]{0,24}$")
_PM = r"(?:pm|place (?:a |another |the )?(?:m\b|marker))"
_PLACED = WordForm(rf"\b{_PM}, (?P<inner>[^;.]*?), {_PM}")
_SM = r"(?:sm|slm|slip (?:the |next |second |first )?(?:m\b|marker)|sl m)"
_ROUND = WordForm(rf"\b{_SM}, (?P<inner>[^;.]*?), (?:{_SM})|\bbetween (?:the )?markers\b")
_MORE = WordForm(r"\b(?:m1[lrp]?|make 1[a-z ]*?|kfb|pfb|yo|inc 1)\b")
_LESS = WordForm(r"tog\b|\bssk\b|\bskp")
_TOTAL = WordForm(
    rf"(?:^|[.,;:(=—–-])\s*(?:that (?:is|makes) |there are |you have )?(?P<n>{COUNT}) {STS}(?: (?:in all|in total|altogether|on the needles?|total))*[.)\]]*\s*$",
)
_STAYS = WordForm(  # a row that changes nothing
    r"^\W*(?:(?:then )?(?:k|p|knit|purl|work)\b(?! ?\d)(?!.*\b(?:m1|m\b(?! ?[,.])|make|kfb|yo|inc|dec|tog|ssk|skp|as|rep|rows?|rnds?|rounds? \d|until|next|times|once|twice)\b)[^;]*|(?:there are|you (?:now )?have|count|that (?:is|makes)|(?:stop|end) (?:after|with))\b[^;]*|)\W*$",
)
NEAR = 4  # stitches by which a sum may miss, and be meant for it all the same


@attrs.define
class _Wedge:
    """What is known of a wedge: its stitches, by how many they grow, and all that lie outside."""

    inner: _Values | None = None
    step: int = 0
    outside: _Values | None = None
    grown: int = 0  # rounds told that increase
    named: bool = False  # a round named all of its stitches, and nothing changed them since


def between_markers(sentences: Sentences, lost: Container[int] = ()) -> Iterator[Finding]:
    """Find wedges that never have the stitches that they are worked to, and sums with their round."""
    if not any(_INNER.search(one.figures) for one in sentences.about(_INNER)):
        return
    wedge = _Wedge()
    section: int | None = None
    for one, after in sentences.pairs:
        text = one.figures
        if one.section != section:
            section, wedge = one.section, _Wedge()
        if one.line in lost:
            wedge = _Wedge()
        total = _total(one, after)
        if (placed := _PLACED.search(text)) is not None:
            wedge = _begun(placed["inner"], total)
            continue
        inner = _INNER.search(text)
        grown = _ROUND.search(text)
        if grown is not None and grown["inner"]:
            wedge.named = (named := _begun(grown["inner"], total)).inner is not None
            if wedge.named and inner is not None:
                wedge.inner = named.inner
        elif not _STAYS.match(text[one.start : inner.start() if inner is not None else None]):
            wedge.named = False
        if inner is None:
            if grown is not None and grown["inner"]:
                wedge.step = _step(grown["inner"])
                wedge.grown += 1
                wedge.inner = named.inner if wedge.named else _grown(wedge, total)
            continue
        name = "n" if inner["n"] else "m"
        many = values(inner[name])
        until = _UNTIL.search(text[: inner.start()]) is not None
        found = _never(wedge, many) if until else _others(wedge, many)
        found = found or _together(wedge, many, total) or _so_often(wedge, text, many)
        if found:
            place = one.place_in_figures(inner.start(name))
            yield Finding(WARNING, "sum", found, place.line, place.column)
        elif total is not None:
            columns = alike(total, many)
            wedge.outside = tuple(a - b for a, b in zip(*columns, strict=True)) or None
        wedge.inner, wedge.grown = many, 0


def _total(one: Spoken, after: Spoken | None) -> _Values | None:
    """Return the count of all stitches that is stated at the end of a sentence, or alone behind it."""
    told, more = _TOTAL.search(one.figures), next_on_line(one, after)
    if told is None and more is not None and more.label is None:
        told = _TOTAL.match(more.figures)
    return values(told["n"]) if told is not None else None


def _begun(said: str, total: _Values | None) -> _Wedge:
    """Return the wedge of "pm, m1, k1, m1, pm"."""
    tokens = tokens_at(said, 0)
    if not tokens or tokens[-1].end != len(said.rstrip()) or any(len(t.takes) > 1 for t in tokens):
        return _Wedge()
    inner = (sum(token.takes[0] + token.change for token in tokens),)
    outside = tuple(n - inner[0] for n in total) if total is not None else None
    return _Wedge(inner, 0, outside)


def _step(said: str) -> int:
    return 0 if _LESS.search(said) or re.search(r"[*(\[]", said) else len(_MORE.findall(said))


def _grown(wedge: _Wedge, total: _Values | None) -> _Values | None:
    """Return the stitches of a wedge behind a round: as the count of all tells, or its increases."""
    if wedge.outside is not None and total is not None:
        columns = alike(total, wedge.outside)
        return tuple(a - b for a, b in zip(*columns, strict=True)) or None
    return None if wedge.inner is None else tuple(n + wedge.step for n in wedge.inner)


def _never(wedge: _Wedge, wanted: _Values) -> str:
    """Say that a wedge never has the stitches that it is worked to."""
    if wedge.inner is None or wedge.step < 2:
        return ""
    before, end = alike(wedge.inner, wanted)
    for a, b in zip(before, end, strict=True):
        if (b - a) % wedge.step:
            return f"from {a} sts, {wedge.step} at a time, there are never {b} between the markers"
    return ""


def _so_often(wedge: _Wedge, text: str, told: _Values) -> str:
    """Say that its one round, worked so many times more, leaves other stitches between the markers."""
    often = _MORE_TIMES.search(text)
    if often is None or wedge.inner is None or wedge.step < 2 or wedge.grown != 1:
        return ""
    inner, times, stated = alike(wedge.inner, values(often["n"] or often["m"]), told)
    made = tuple(n + wedge.step * many for n, many in zip(inner, times, strict=True))
    if made == stated or not is_near(made, stated, NEAR):
        return ""
    return f"so often, there are {by_size(made)} sts between the markers, not {by_size(stated)}"


def _others(wedge: _Wedge, told: _Values) -> str:
    """Say that a round leaves other stitches between its markers, where it names them all."""
    if not wedge.named or wedge.inner is None:
        return ""
    made, stated = alike(wedge.inner, told)
    if made == stated or not is_near(made, stated, NEAR):
        return ""
    return f"the round leaves {by_size(made)} sts between its markers, not {by_size(stated)}"


def _together(wedge: _Wedge, inner: _Values, total: _Values | None) -> str:
    """Compare the stitches between the markers, and those outside, with all of them."""
    if wedge.outside is None or total is None:
        return ""
    many, outside = alike(inner, wedge.outside)
    many, stated = alike(many, total)
    outside, stated = alike(outside, stated)
    if not many or len(many) != len(outside):
        return ""
    made = tuple(a + b for a, b in zip(many, outside, strict=True))
    if made == stated or not is_near(made, stated, NEAR):
        return ""
    return f"{by_size(many)} sts between the markers and {by_size(outside)} others are {by_size(made)}, not {by_size(stated)}"
