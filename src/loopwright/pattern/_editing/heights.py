# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Printed heights and lengths against what a text says is worked: to a length, and on from there.

A hat that is worked "until it measures 6½ in from the cast-on edge" and then closed is no less tall
than that; what comes behind adds up the same in every size, and by rows where all of them are told.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from statistics import median

import attrs

from loopwright.pattern._editing.figures import alike, sizes_in_brackets
from loopwright.pattern._editing.findings import WARNING, Finding
from loopwright.pattern._editing.spoken import Spoken, plain_lines
from loopwright.pattern._reading.stated import numbers_in
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT

__all__ = ["heights"]

_Values = tuple[float, ...]
_UNIT = r"(?P<unit>cm|mm|inches|inch|ins?\b|\")"
_N = r"\d+(?:\.\d+)?"
_HEAD = WordForm(
    rf"^\W*(?:(?:finished|total|overall) )?(?P<what>height|length|depth)(?! of (?:foot|leg|cuff|hand))(?! from [a-z -]{{0,14}}\b(?:cuff|rib|ribbing|brim)\b)(?:,? (?:of hat|in all|overall|from [a-z -]{{3,24}}|buttoned|[a-z]+ed))?(?: ?\([a-z ,]+\))?: ?(?:about )?(?P<n>{COUNT}) ?{_UNIT}",
)
_TALL = WordForm(rf"(?P<n>{COUNT}) ?{_UNIT}\.? (?P<what>tall|high|deep|long)\b")
_MEASURES = WordForm(
    rf"\b(?:until|till|to) (?:(?:the|your|it|whole|entire) ?)*(?P<piece>hat|cap|beanie|cowl|scarf|work|piece|mitten|mitt|snood|neckwarmer|wrister|tube|bonnet|it)?s? ?(?:measures?|is) (?:about )?(?P<n>{COUNT}) ?{_UNIT}\.? ?(?:long |deep |tall |in all )?(?:from|above|incl\w*|down from) (?P<from>[^.;,]{{3,40}})",
)
_EDGE = WordForm(
    r"\b(?:cast[- ]on|co\b|beginning|start|lower edge|cent(?:er|re) of|bottom|edge|crown)"
)
_RIB = WordForm(r"\b(?:rib|ribbing|cuff|brim|border|hem)\b")
_LONG = WordForm(
    rf"\b(?:for|about|=|another|a further|measures?) ?(?:about )?(?P<n>{COUNT}) ?{_UNIT}",
)
_FOLDED = WordForm(r"\b(?:fold|folded|hem|turn(?:ed)? (?:up|back)|turn-?up|doubled\b|fold\w* double|cuff(?:ed)? back|to the (?:inside|outside))\b")  # fmt: skip
_CAST_ON = WordForm(r"\b(?:cast(?:ing)? (?:on|up)|co)\b[^.]*\d")
_ROW_GAUGE = WordForm(
    rf"(?P<rows>{_N}) ?(?:rounds?|rnds?|rows?)\b[^;\n]{{0,60}}?(?:=|\bto\b|\bper\b|\bover\b|\bin\b)\s*(?:the |an )?(?:(?P<n>{_N})\s*(?:[x×] ?\d+ ?)?)?{_UNIT}",
)
_ROWS_IN_ALL = WordForm(
    rf"(?<![\d-])(?P<n>{COUNT}) (?:rows|rounds|rnds)\b(?: (?:have been|are|were) (?:worked|knitted|knit|done))? ?(?:in all|in total|altogether|have been|from (?:the )?(?:cast|start|beg|tip|point)|to the (?:end|other))",
)
MM = {"c": 10.0, "m": 1.0, "i": 25.4, '"': 25.4}
LESS = 0.97  # of a length that is worked, the least that a finished piece has
APART = (8.0, 15.0)  # mm: sizes that are alike in what they add, and one that is not
ROWS = (0.82, 1.2)  # of a length that rows at the gauge make
NEAR = (0.6, 1.6)  # other rows are not those of the whole piece
MANY = 3  # sizes, of which one can be called odd


@attrs.frozen
class _Length:
    """A length in a text: by size in millimetres, as it is printed, and where."""

    values: _Values
    unit: str
    line: int
    column: int

    def shown(self, size: int) -> str:
        return f"{self.values[size] / MM[self.unit]:g} {_name(self.unit)}"


def heights(text: str, sentences: Sequence[Spoken]) -> Iterator[Finding]:
    """Find heights that what is worked does not make."""
    by_sign = sizes_in_brackets(text)
    lines = [line if by_sign is None else line.sub(*by_sign) for line in plain_lines(text)]
    start = next((n for n, line in enumerate(lines) if _CAST_ON.search(line.text)), 0)
    yield from _beyond([line.text for line in lines], start)
    yield from _legs([line.text for line in lines[:start]], sentences)
    printed = list(_printed([line.text for line in lines[:start]]))
    pieces = {match["piece"] or "" for one in sentences for match in _MEASURES.finditer(one.text)}
    if len(printed) != 1 or _FOLDED.search(text) or len(pieces) > 2:
        return
    (height,) = printed
    worked = _worked(sentences)
    rows = _rows(sentences, [line.text for line in lines])
    said = _less(height, worked) or _odd(height, worked) or _by_rows(height, rows)
    if said:
        yield Finding(WARNING, "measure", said, height.line, height.column)


_TWO_SIDES = WordForm(
    rf"(?P<n>{_N})(?: ?{_UNIT})? ?(?:x|×|by) ?(?P<m>{_N}) ?(?P<unit2>cm|mm|inches|inch|ins?\b|\")"
)
_WORKED_TO = WordForm(
    rf"\buntil (?:(?:the|your|it|whole) ?)*(?:blanket|scarf|stole|strip|square|cloth|rug|work|piece|wrap)? ?(?:measures|is) (?:about )?(?P<n>{_N}) ?{_UNIT}(?: long)?(?= from the cast|,|\.|;| ending|$)"
)
BEYOND = 1.04  # of its longer side, the most that a piece is worked to


def _beyond(lines: Sequence[str], start: int) -> Iterator[Finding]:
    """Find a piece of two printed sides that is worked to more than either."""
    sides = [m for line in lines[:start] if (m := _TWO_SIDES.search(line)) is not None]
    if len(sides) != 1:
        return
    unit = sides[0]["unit2"][0].lower()
    longest = max(float(sides[0]["n"]), float(sides[0]["m"])) * MM[unit]
    for number, line in enumerate(lines[start:], start=start + 1):
        match = _WORKED_TO.search(line)
        if match is not None and float(match["n"]) * MM[match["unit"][0].lower()] > BEYOND * longest:  # fmt: skip
            said = f"worked to {match['n']} {match['unit']}; {sides[0]['n']} by {sides[0]['m']} {_name(unit)} is printed"
            yield Finding(WARNING, "measure", said, number, match.start("n") + 1)


_LEG = WordForm(
    rf"^\W*(?:finished )?(?:leg(?: length| height)?|length of (?:the )?leg)(?: ?\([a-z ,]+\))?: ?(?:about )?(?P<n>{COUNT}) ?{_UNIT}",
)
_LEG_MEASURES = WordForm(
    rf"\buntil (?:(?:the|your|whole|entire) )*(?:leg|sock|work|piece|it) (?:measures?|is) (?:about )?(?P<n>{COUNT}) ?{_UNIT}\.? ?(?:long |in all )?from (?:the )?(?:cast[- ]on|beginning|start|top)",
)


def _legs(lines: Sequence[str], sentences: Sequence[Spoken]) -> Iterator[Finding]:
    """Find the length of a leg that is less than what is worked of it, or of other sizes."""
    told = [(match, n) for n, line in enumerate(lines, start=1) if (match := _LEG.search(line))]
    if len(told) != 1:
        return
    leg = _length(*told[0])
    for one in sentences:
        match = _LEG_MEASURES.search(one.text)
        if match is None or re.search(r"\b(?:foot|toe)\b", one.title):
            continue
        worked = _length(match, one.line)
        said = _less(leg, worked) or _odd(leg, worked)
        if said:
            yield Finding(WARNING, "measure", said, leg.line, leg.column)
        return


def _printed(lines: Sequence[str]) -> Iterator[_Length]:
    for number, line in enumerate(lines, start=1):
        if (match := _HEAD.search(line)) is not None or (match := _about_tall(line)) is not None:
            yield _length(match, number)


def _about_tall(line: str) -> re.Match[str] | None:
    match = _TALL.search(line)
    if match is None or re.search(
        r"needle|circular|yarn|ribbon|tail|button|foot|leg\b|cuff", line, re.IGNORECASE
    ):
        return None
    return match


def _length(match: re.Match[str], line: int) -> _Length:
    unit = match["unit"][0].lower()
    return _Length(
        tuple(n * MM[unit] for n in numbers_in(match["n"])), unit, line, match.start("n") + 1
    )


def _worked(sentences: Sequence[Spoken]) -> _Length | None:
    """Return how long the piece is when it was measured last, from its first edge, with what is told of the rest."""
    whole: _Length | None = None
    rib: _Values = ()
    for one in sentences:
        for match in _MEASURES.finditer(one.text):
            there = _length(match, one.line)
            if _EDGE.search(match["from"]) and not _RIB.search(match["from"]):
                whole = there
            elif _RIB.search(match["from"]) and rib:
                both = alike(there.values, rib)
                made = tuple(a + b for a, b in zip(*both, strict=True))
                whole = attrs.evolve(there, values=made) if made else whole
        if whole is None and _RIB.search(one.text) and (long := _LONG.search(one.text)) is not None:
            unit = long["unit"][0].lower()
            rib = tuple(n * MM[unit] for n in numbers_in(long["n"]))
    return whole


def _less(height: _Length, worked: _Length | None) -> str:
    """Find a height that is less than what is worked of it."""
    if worked is None:
        return ""
    printed, there = alike(height.values, worked.values)
    for size, (a, b) in enumerate(zip(printed, there, strict=True)):
        if a < LESS * b:
            shown = attrs.evolve(height, values=printed).shown(size)
            return f"{shown} is printed; the piece measures {b / MM[height.unit]:.3g} {_name(height.unit)} before it is done"
    return ""


def _odd(height: _Length, worked: _Length | None) -> str:
    """Find the one size in which a height and what is worked of it stand apart as in no other."""
    if worked is None:
        return ""
    printed, there = alike(height.values, worked.values)
    rest = [a - b for a, b in zip(printed, there, strict=True)]
    if len(rest) < MANY:
        return ""
    usual = median(rest)
    off = [abs(one - usual) for one in rest]
    if sum(one <= APART[0] for one in off) != len(off) - 1 or max(off) < APART[1]:
        return ""
    at = off.index(max(off))
    unit = _name(height.unit)
    shown = attrs.evolve(height, values=printed).shown(at)
    meant = (there[at] + usual) / MM[height.unit]
    return (
        f"{shown} is printed; what is worked makes about {meant:.3g} {unit}, as in the other sizes"
    )


def _rows(sentences: Sequence[Spoken], lines: Sequence[str]) -> _Values:
    """Return how long all rows are at the gauge, where a text says how many they are in all."""
    told = next((m for line in lines if (m := _ROW_GAUGE.search(line)) is not None), None)
    totals = [m for one in sentences if (m := _ROWS_IN_ALL.search(one.figures)) is not None]
    if told is None or not totals or not float(told["rows"]):
        return ()
    mm = float(told["n"] or 1) * MM[told["unit"][0].lower()] / float(told["rows"])
    return tuple(n * mm for n in numbers_in(totals[-1]["n"]))


def _by_rows(height: _Length, rows: _Values) -> str:
    """Compare a length with that of all its rows."""
    printed, made = alike(height.values, rows)
    for size, (a, b) in enumerate(zip(printed, made, strict=True)):
        if b and NEAR[0] < a / b < NEAR[1] and not ROWS[0] <= a / b <= ROWS[1]:
            shown = attrs.evolve(height, values=printed).shown(size)
            return f"{shown} is printed; the rows at this gauge make {b / MM[height.unit]:.3g} {_name(height.unit)}"
    return ""


def _name(unit: str) -> str:
    return {"c": "cm", "m": "mm"}.get(unit, "in")
