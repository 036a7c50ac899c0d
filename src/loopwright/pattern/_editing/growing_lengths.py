# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Lengths from the cast-on edge, one after another: no piece is shorter than it was before."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from loopwright.pattern._editing.figures import alike
from loopwright.pattern._editing.findings import WARNING, Finding
from loopwright.pattern._editing.spoken import Sentences, Spoken
from loopwright.pattern._reading.stated import numbers_in
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT

__all__ = ["growing_lengths"]

_MEASURED = WordForm(
    r"\b(?:until|till|to where) (?:(?:the|your|it|whole|entire|ribbing|ribbed) ?)*"
    r"(?:piece|work|cuff|leg|sock|hat|brim|rib|ribbing|mitten|mitt|cowl|tube|knitting|body|border)?"
    r" ?(?:measures?|is) (?:about |approx\w*\.? )?"
    rf"(?P<n>{COUNT}) ?(?P<unit>cm|mm|inches|inch|ins?\b|\")\.? ?(?:long |deep |tall |in all )?"
    r"(?:up |down )?from (?:the |your )?(?:cast[- ]on|co\b)"
)
_LENGTH = rf"(?P<n>{COUNT}) ?(?P<unit>cm|mm|inches|inch|ins?\b|\")"
_FIRSTS = (  # what is worked right behind the cast-on edge
    WordForm(
        rf"\b(?:until|till) (?:(?:the|your) )?(?:whole )?(?P<what>brim|rib(?:bing)?|cuff|band|border|hem|welt) (?:measures?|is) (?:about |approx\w*\.? )?{_LENGTH}(?! from)"
    ),
    WordForm(
        rf"\b(?:work|knit|rib)\b[^.;:*]{{0,40}}\b(?P<what>rib(?:bing)?),? for (?:about )?{_LENGTH}"
    ),
    WordForm(rf"\bwork (?:about )?{_LENGTH} (?:in|of) [^.;:*]{{0,24}}\b(?P<what>rib(?:bing)?)\b"),
)
_BEGUN = WordForm(r"\b(?:cast(?:ing)? (?:on|up)|co|set (?:up|on)) (?!edge)[^.;]{0,24}\d")
MM = {"c": 10.0, "m": 1.0, "i": 25.4, '"': 25.4}
LESS = 0.99  # of the length before: converted units are rounded


def growing_lengths(sentences: Sentences) -> Iterator[Finding]:
    """Find a length from the cast-on edge that the piece had long before."""
    before: tuple[tuple[float, ...], str, int] | None = None  # in mm, as printed, the line
    first: tuple[re.Match[str], Spoken] | None = None
    if not any(_MEASURED.search(one.text) for one in sentences.about(_MEASURED)):
        return
    for one in sentences.about(_BEGUN, *_FIRSTS, _MEASURED):
        if _BEGUN.search(one.text):
            before = first = None
        if before is None and first is None:
            begins = next((m for form in _FIRSTS if (m := form.search(one.text))), None)
            first = None if begins is None else (begins, one)
        for match in _MEASURED.finditer(one.text):
            unit = MM[match["unit"][0].lower()]
            there = tuple(n * unit for n in numbers_in(match["n"]))
            shown = f"{match['n']} {match['unit'].replace(chr(34), 'in')}"
            if before is not None:
                now, then = alike(there, before[0])
                if any(a < LESS * b for a, b in zip(now, then, strict=True)):
                    place = one.place(match.start("n"))
                    said = f"{shown} from the cast-on edge: it measures {before[1]} from there already (line {before[2]})"
                    yield Finding(WARNING, "measure", said, place.line, place.column)
            elif first is not None and (said := _longer(first[0], there, shown)):
                place = first[1].place(first[0].start("n"))
                yield Finding(WARNING, "measure", said, place.line, place.column)
            before = there, shown, one.line


def _longer(first: re.Match[str], there: Sequence[float], shown: str) -> str:
    """Say that the first part of a piece alone is longer than all of it is later."""
    unit = MM[first["unit"][0].lower()]
    part, whole = alike(tuple(n * unit for n in numbers_in(first["n"])), tuple(there))
    if not any(LESS * a > b for a, b in zip(part, whole, strict=True)):
        return ""
    said = f"{first['n']} {first['unit'].replace(chr(34), 'in')}"
    return f"the {first['what'].lower()} alone is {said} here, and the piece {shown} from the cast-on edge later"
