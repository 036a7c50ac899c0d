# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Sections that markers make, "a marker after every 18 sts: 6 (12) sections", against the stitches that there are."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from loopwright.pattern._editing.figures import alike, values
from loopwright.pattern._editing.findings import WARNING, Finding, by_size
from loopwright.pattern._editing.spoken import Sentences, next_on_line
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS

__all__ = ["marked_sections"]

_Values = tuple[int, ...]
_EVERY = WordForm(
    rf"\b(?:markers?|m|pm)\b[^.;]{{0,30}}\b(?:after|every|each) (?:every |each |the )?(?P<n>{COUNT})(?:st|nd|rd|th)? {STS}(?! (?:more|before))|"
    rf"\*(?:k|knit|p|purl|work) ?(?P<m>{COUNT})(?: {STS})?,? (?:pm|place (?:a )?(?:marker|m))\b[^*]*\*,? (?:to|around|across|all)"
)
_SECTIONS = WordForm(
    r"(?P<n>\d{1,2}(?: ?[(\[][\d, :]+[)\]])?) (?:[a-z-]+ )?(?:sections|repeats|segments|panels|wedges|parts)\b(?! (?:more|of))"
)
_COUNTED = WordForm(
    rf"(?<![\d.])(?P<n>{COUNT}) {STS}(?! (?:before|after|dec|inc|more|from|each))|\b(?:cast(?:ing)? (?:on|up)|co)\b:? ?(?P<m>{COUNT})"
)
_SHAPES = WordForm(
    r"(?:[kp]\d ?tog)|\b(?:inc(?!h)|dec|ssk|m1|kfb|tog|together|pick|bind|bo\b|co ?\d|cast off|evenly)"
)
LEAST = 16  # stitches; fewer are parts
KNOWN = 4  # counts before


def marked_sections(sentences: Sentences) -> Iterator[Finding]:
    """Find a number of sections that the stitches of the round do not make."""
    counts: list[_Values] = []
    if not any(_EVERY.search(one.figures) for one in sentences.about(_EVERY)):
        return
    for one, after in sentences.pairs_about(_EVERY, _SHAPES, _COUNTED):
        text = one.figures
        every = _EVERY.search(text)
        if every is None and _SHAPES.search(text):
            counts = []  # what comes of it may be told nowhere
        counts += [values(match["n"] or match["m"]) for match in _COUNTED.finditer(text)]
        counts = [count for count in counts if min(count) >= LEAST][-KNOWN:]
        behind = next_on_line(one, after)
        if every is None:
            continue
        told = _SECTIONS.search(text, every.start())
        if told is None and behind is not None:
            told = _SECTIONS.search(behind.figures)
        each = values(every["n"] or every["m"])
        counts = [count for count in counts if count != each]
        if told is not None and (said := _wrong(each, values(told["n"]), counts)):
            place = one.place_in_figures(every.start())
            yield Finding(WARNING, "sum", said, place.line, place.column)


def _wrong(each: _Values, sections: _Values, counts: Sequence[_Values]) -> str:
    """Say what the sections make, where no count before is so much."""
    made = tuple(n * many for n, many in zip(*alike(each, sections), strict=True))
    if not made or not counts:
        return ""
    pairs = [alike(made, count) for count in counts]
    if any(one == there for one, there in pairs):
        return ""
    one, there = pairs[-1]
    parts, many = alike(each, sections, one)[:2] if one else ((), ())
    near = [
        abs(a - b) <= 2 * max(n, number)
        for a, b, n, number in zip(one, there, parts, many, strict=True)
    ]
    if not near or not all(near):
        return ""
    return f"{by_size(sections)} sections of {by_size(each)} sts are {by_size(made)}, not {by_size(there)}"
