# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Needles and units: sizes in two systems, a needle for its gauge, a unit that stands alone."""

from __future__ import annotations

import re
from collections.abc import Iterator

from loopwright.needle_table import needle_sizes
from loopwright.pattern._editing.findings import WARNING, Finding
from loopwright.pattern._editing.spoken import Lines, plain_lines
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["needles_and_units"]

# What makers print besides the table of needles, for numbers that they take differently (from memory).
_ALSO_MM = {
    "us": {"1": 2.5, "2": 3.0, "6": 4.25},
    "uk": {"9": 3.5, "12": 2.5, "13": 2.5},
}
_N = r"\d+(?:\.\d+)?"
_BOTH = WordForm(
    rf"\b(?P<sys>us|uk)(?: size| no\.?)? ?#?(?P<no>{_N}) ?[(/,=–-]+ ?(?P<mm>{_N}) ?mm\b|"
    rf"(?P<mm2>{_N}) ?mm ?[(/,=–-]+ ?(?P<sys2>us|uk)(?: size| no\.?)? ?#?(?P<no2>{_N})",
)
_MM = WordForm(rf"(?<![\d.])(?P<mm>{_N}) ?mm\b")
_GAUGE = WordForm(
    rf"(?P<sts>{_N}) ?(?:sts?|stitches)\b\.?(?:(?!\d ?(?:sts|stitches)\b)[^;\n]){{0,70}}?(?:=|\bto\b|\bper\b|(?<!bit )(?<!little )(?<!just )\bover\b)\s*(?:the |an )?"
    rf"(?:(?P<n>{_N})\s*(?:[x×] ?\d+ ?)?)?(?P<unit>cm|inch(?:es)?|ins?\b|\")",
)
_OF_GAUGE = WordForm(r"\b(?:gauge|tension|swatch)\b")
_NO_GAUGE = WordForm(  # "how many sts would you cast on at 8 sts to the inch?"
    r"\b(?:how many|would|homework|work(?:ing)? out|imagine|suppose|for example|e\.g|instead of)\b|\?"
)
_BEGINS = WordForm(r"\b(?:cast(?:ing)? (?:on|up)|co) \d")
_NEEDLES = WordForm(r"needle|dpn|circular")
# Stitches to 10 cm times millimetres of the needle, with room: 70 to 90 in plain fabric, more where
# cables and ribs draw in (common practice).
FIT, FIT_PLAIN, FIT_DRAWN = (60.0, 115.0), (62.0, 102.0), (60.0, 150.0)
_DRAWN = WordForm(r"\b(?:cabled?s?|rib(?:bing|bed)?|brioche|fisherman|panel|twist\w*|slip\w*)\b")
_PLAIN = WordForm(r"\bstocking|\bstockinet|\bst\.? st\b")
_OVER = WordForm(r"\.?,? (?:(?:all |both |measured |worked |when )*(?:over|in|of)) [^.;,]*")
_UNITS = {
    "cm": WordForm(r"(?<=\d)[ -]?cm\b"),
    "in": WordForm(
        r"(?<![A-Za-z]\d)(?<=\d)(?:[ -]?(?:inch(?:es)?|ins?)\b(?! (?:all|total|each|every|alternate|alt|one|two|the|a|this|that|these|your|its|between|turn|patt\w*|rib\w*|st\w*|both|each|rows|rounds|[A-Z])\b)|\"|”)",
        re.NOFLAG,
    ),
}
_QUOTED = re.compile(r"[\"“][A-Za-z][^\"“”]*[\"”]$")  # "Moss 5" means five stitches
FEW = 2  # mentions of the one unit, before a lone other one is asked about


def needles_and_units(text: str) -> Iterator[Finding]:
    """Find needle sizes that are not the same, that no gauge goes with, and units out of place.

    Examples
    --------
    >>> [one.message for one in needles_and_units("Needles: US 6 (5 mm)")]
    ['a US 6 needle has 4 or 4.25 mm, not 5']
    """
    lines = plain_lines(text)
    for number, line in lines.about(_BOTH):
        for match in _BOTH.finditer(line.text):
            system = (match["sys"] or match["sys2"]).upper()
            no, mm = match["no"] or match["no2"], float(match["mm"] or match["mm2"])
            known = _mm_of(system.lower(), no)
            if known and min(abs(mm - one) for one in known) > 0.13:
                meant = " or ".join(f"{one:g}" for one in known)
                said = f"a {system} {no} needle has {meant} mm, not {mm:g}"
                yield Finding(WARNING, "needle", said, number, line.at[match.start()] + 1)
    yield from _for_gauge(lines)
    yield from _far(lines)
    yield from _lone(lines)


def _mm_of(system: str, number: str) -> list[float]:
    """Return how thick a needle of a number is, as one maker or another has it."""
    also = _ALSO_MM[system].get(number)
    listed = [size.mm for size in needle_sizes() if getattr(size, system) == number]
    return sorted([*listed, *([] if also is None else [also])])


def _for_gauge(lines: Lines) -> Iterator[Finding]:
    """Compare the stitches of the gauge with the needles: thick needles make few stitches."""
    begun = (n for n, line in lines.about(_BEGINS) if _BEGINS.search(line.text))
    start = next(begun, len(lines) + 1)
    told = (
        (n, line.text)
        for n, line in lines.about(_GAUGE)
        if n < start or _OF_GAUGE.search(line.text)
    )  # what is told behind may be of another piece
    gauge = next(
        (
            (n, m) for n, line in told
            if (m := _GAUGE.search(line)) and not _NO_GAUGE.search(line)
        ),
        None,
    )  # fmt: skip
    if gauge is None:
        return
    at, found = gauge
    length = float(found["n"] or 1) * (1.0 if found["unit"].lower() == "cm" else 2.54)
    needles = [
        (n, match) for n, line in lines.about(_MM)
        if _NEEDLES.search(line.text) or n == at for match in _MM.finditer(line.text)
    ]  # fmt: skip
    if not needles or not length:
        return
    to_ten = float(found["sts"]) / length * 10
    line = lines[at - 1].text
    told_behind = _OVER.match(line, found.end())
    drawn = _DRAWN.search(line[: found.end()]) or (told_behind and _DRAWN.search(told_behind[0]))
    low, high = FIT_DRAWN if drawn else FIT_PLAIN if _PLAIN.search(line) else FIT
    fits = [low <= to_ten * float(match["mm"]) <= high for _, match in needles]
    if not any(fits):
        number, match = needles[-1]
        said = f"{to_ten:.0f} sts to 10 cm on needles of {match['mm']} mm: is the gauge, or the needle, mistyped?"
        yield Finding(WARNING, "needle", said, number, match.start() + 1)


_MILLIMETRES = WordForm(
    r"(?:(?<!hange )(?<!hanging )(?<!witch )(?<!witching )\b(?:=|to|over|per)|=) ?(?P<n>10|5|20) ?mm\b(?! (?:needles?|circulars?|dpns?|hooks?)\b)|(?<![\d.])(?P<n2>[3-9]\d|1[0-5]\d) ?mm (?:long|circular|wide|cable|round)\b",
)


def _far(lines: Lines) -> Iterator[Finding]:
    """Find a gauge, or a long needle, in millimetres where centimetres are meant."""
    for number, line in lines.about(_MILLIMETRES):
        match = _MILLIMETRES.search(line.text)
        if match is not None and (match["n2"] or re.search(r"\b(?:sts?|stitches)\b", line.text)):
            said = f"{match[0].strip('= ')}: are centimetres meant?"
            yield Finding(WARNING, "unit", said, number, line.at[match.start()] + 1)


_OF_NEEDLE = WordForm(r"\bcircular|\bcable\b|\bneedles?\b")  # sold by the cm


def _lone(lines: Lines) -> Iterator[Finding]:
    """Find the one length in centimetres among inches, or the other way round."""
    found = {
        unit: [
            (n, m)
            for n, line in lines.about(form)
            for m in form.finditer(line.text)
            if not _QUOTED.search(line.text, 0, m.end())
        ]
        for unit, form in _UNITS.items()
    }
    for unit, other in (("cm", "in"), ("in", "cm")):
        if len(found[unit]) != 1 or len(found[other]) < FEW:
            continue
        ((number, match),) = found[unit]
        near = match.string[max(0, match.start() - 16) : match.end() + 16]
        told = match.string[max(0, match.start() - 40) : match.end() + 40]
        if not _UNITS[other].search(near) and not _OF_NEEDLE.search(told):
            said = f"{unit} here, and {other} elsewhere: which is meant?"
            yield Finding(WARNING, "unit", said, number, match.start() + 1)
