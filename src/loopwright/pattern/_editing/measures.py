# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Printed measures against each other, and against the stitches: units, circumference, yarn.

Only what can't be meant is said: what people print is rounded, and worn with ease. Lengths that a
text leaves to its reader, and how a fabric stretches, no program can tell.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from math import sqrt
from typing import Final

from loopwright.pattern import steps as st
from loopwright.pattern._editing.findings import WARNING, Finding
from loopwright.pattern._editing.spoken import plain_lines
from loopwright.pattern._editing.standards import SORTS
from loopwright.pattern._reading.stated import numbers_in
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern._tolerant_walk import Editor
from loopwright.pattern.program import Pattern

__all__ = ["amounts", "measures"]

METRES = {"m": 1.0, "yd": 0.9144}  # the international yard
GRAMS = {"g": 1.0, "oz": 28.35}  # the avoirdupois ounce
BALL_G: Final = 25.0  # an ounce ball of old patterns, in grams as it is sold (common practice)
ROUNDED: Final = 0.07  # yards are printed to the next five or ten
KS: Final = 23.1  # stitches per cm2 times the loop length squared, relaxed (Munden 1959)
ENOUGH: Final = 0.6  # of the yarn that the stitches alone take
ENOUGH_OPENED: Final = 0.5  # the same where the swatch was pinned out: stretched loops cover more

_AMOUNT = "yards|yds|yd|metres|meters|m|grams|g|oz|ounces|ozs"
_PAIR = WordForm(
    rf"(?P<a>{COUNT})\s*(?P<au>{_AMOUNT})\b\.?\s*(?:[/(=|]|or)\s*"
    rf"(?:about |approx\w*\.? )?(?P<b>{COUNT})\s*(?P<bu>{_AMOUNT})\b",
)
_YARN = WordForm(rf"(?P<n>{COUNT})\s*(?P<unit>yards|yds|yd|metres|meters|m)\b")


def _unit(word: str) -> str:
    low = word.lower()
    for unit in ("yd", "oz", "cm", "mm"):
        if low.startswith(unit):
            return unit
    return {"y": "yd", "o": "oz", "i": "in", '"': "in", "m": "m", "g": "g"}[low[0]]


def amounts(text: str) -> Iterator[Finding]:
    """Find yards and metres, grams and ounces, that are not the same amount.

    Examples
    --------
    >>> [one.message for one in amounts("Yarn: 400 yards / 400 m of sock yarn")]
    ['400 yd are 366 m, not 400']
    """
    for number, line in enumerate(plain_lines(text), start=1):
        for match in _PAIR.finditer(line.text):
            one, other = _unit(match["au"]), _unit(match["bu"])
            table = next((t for t in (METRES, GRAMS) if one in t and other in t), None)
            first, second = numbers_in(match["a"]), numbers_in(match["b"])
            if table is None or one == other or len(first) != len(second):
                continue
            for a, b in zip(first, second, strict=True):
                meant = a * table[one] / table[other]
                ounces, grams = (a, b) if one == "oz" else (b, a)
                if {one, other} == {"oz", "g"} and grams == BALL_G * ounces:
                    continue  # balls of an ounce, sold by 25 g today
                if abs(meant - b) > ROUNDED * meant + 0.3:
                    said = f"{a:g} {one} are {meant:.3g} {other}, not {b:g}"
                    yield Finding(WARNING, "conversion", said, number, line.at[match.start()] + 1)
                    break


def measures(pattern: Pattern, text: str, walks: Sequence[Editor]) -> Iterator[Finding]:
    """Compare printed amounts of yarn with the stitches that each size was found to take."""
    cast_on = next((s.at.line for s in pattern.steps if isinstance(s, st.CastOn) and s.at), 0)
    enough = ENOUGH_OPENED if _PINNED_OUT.search(text) else ENOUGH
    head = plain_lines(text)[: max(0, cast_on - 1)]
    for number, line in enumerate(head, start=1):
        yield from _yarn(pattern, walks, number, line, enough)
    weighed = [
        (number, line) for number, line in enumerate(head, start=1) if _BALLS.search(line.text)
    ]
    if len(weighed) == 1:
        yield from _grams(pattern, walks, *weighed[0], enough)
    yield from _rows(pattern, text, walks, cast_on)


_LONG = WordForm(
    r"(?P<n>\d+(?:\.\d+)?) ?(?P<unit>cm|inches|inch|ins?\b|\") (?:long|tall|high|deep)\b|"
    r"^\W*(?:finished )?(?:length|height|depth): ?(?:about )?(?P<n2>\d+(?:\.\d+)?) ?(?P<unit2>cm|inches|inch|ins?\b|\")",
)
_MEASURED = WordForm(
    r"\d ?(?:cm|mm|inch\w*|ins?\b|\")|\b(?:measures?|long enough|desired|until it|tape)\b"
)
_PIECES = WordForm(
    r"\b(?:heel|thumb|gusset|square|triang\w*|fold\w*|hem|pick(?:ing)? up|strap|cord|sleeve|shawl|toe|increas\w*|sides?|sideways|lace|block\w*)\b",
)
ROWS_MADE = (0.87, 1.14)  # of a printed length, what all rows at the gauge make
FAR = (0.5, 2.0)  # other rows are not those of the whole piece
MANY_ROWS = 30


def _rows(pattern: Pattern, text: str, walks: Sequence[Editor], cast_on: int) -> Iterator[Finding]:
    """Compare a printed length with all the rows of a plain piece, where none is worked to a measure."""
    gauge = pattern.gauge
    lines = plain_lines(text)
    body = "\n".join(line.text for line in lines[max(0, cast_on - 1) :])
    if gauge is None or not cast_on or len(walks) != 1 or walks[0].was_blind or walks[0].troubles:
        return
    courses = walks[0].tally.courses
    if courses < MANY_ROWS or _MEASURED.search(body) or _PIECES.search(text):
        return
    found = [(n, m) for n, line in enumerate(lines[: cast_on - 1], start=1) for m in _LONG.finditer(line.text) if not re.search(r"needle|circular", line.text, re.I)]  # fmt: skip
    if len(found) != 1:
        return
    number, match = found[0]
    unit = (match["unit"] or match["unit2"]).lower()
    printed = float(match["n"] or match["n2"]) * (10.0 if unit == "cm" else 25.4)
    made = courses / gauge.courses_per_mm
    if FAR[0] < made / printed < FAR[1] and not ROWS_MADE[0] <= made / printed <= ROWS_MADE[1]:
        shown = "cm" if unit == "cm" else "in"
        said = f"{match['n'] or match['n2']} {shown} is printed; {courses} rows at this gauge are {made / (10.0 if unit == 'cm' else 25.4):.1f} {shown}"
        yield Finding(WARNING, "measure", said, number, match.start() + 1)


_BALLS = WordForm(  # "2 x 50 g balls", "100 (125, 150) g"
    rf"(?:(?P<many>{COUNT}) ?(?:[x×]|(?:balls?|skeins?|hanks?) of) ?)?(?<![\d.,(])(?P<n>{COUNT}) ?(?:g|grams)\b(?P<balls>[- ](?:balls|skeins|hanks)\b)?",
)
_OF_COLOURS = WordForm(
    r"\b(?:each|per|mc|cc|colou?rs?|main|contrast\w*|left ?over|scraps?|oddments?)\b|\b[A-D]\b(?!-)|(?i:waste|scrap|needle gauge)",
    re.NOFLAG,
)


def _grams(
    pattern: Pattern, walks: Sequence[Editor], number: int, line: MappedText, enough: float
) -> Iterator[Finding]:
    """Compare grams of yarn of a known sort with what the stitches take."""
    found = [*_BALLS.finditer(line.text)]
    sort = next((m for one, (_, m) in SORTS.items() if re.search(one, line.text, re.I)), 0.0)
    gauge = pattern.gauge
    if len(found) != 1 or not sort or gauge is None or _OF_COLOURS.search(line.text):
        return
    (match,) = found
    if match["balls"] and not match["many"]:
        return  # of how many balls is not told
    weights, balls = numbers_in(match["n"]), numbers_in(match["many"] or "1")
    loop_mm = sqrt(KS / (gauge.stitches_per_mm * gauge.courses_per_mm))
    for size, walk in enumerate(walks):
        grams = weights[min(size, len(weights) - 1)] * balls[min(size, len(balls) - 1)]
        need = walk.total * loop_mm / 1000
        if walk.was_blind or walk.troubles or grams * sort / 100 >= enough * need:
            continue
        said = f"{grams:g} g of such a yarn are {grams * sort / 100:.0f} m at most; {walk.total} stitches at this gauge take about {need:.0f} m"
        names = (pattern.sizes[size],) if len(pattern.sizes) == len(walks) > 1 else ()
        yield Finding(WARNING, "yarn", said, number, line.at[match.start()] + 1, names)
        return


_ASIDE_YARN = WordForm(r"\b(?:waste|scrap|contrast(?:ing)?|provisional)\b")
_SHARED = WordForm(
    r"\b(?:per|each|skeins?|balls?|hanks?|mc|cc|colou?rs?|main|contrast|a|b)\b|[/(]\s*\d+\s*g"
)


_PINNED_OUT = WordForm(  # "18 sts in garter stitch, blocked", "soak the shawl, pin it out"
    r"\b(?:(?:garter(?: st\w*)?|lace|mesh|eyelet)[a-z ]*,? (?:after |lightly )*block(?:ed|ing)|pin (?:it |the \w+ )?out)\b"
)
_NOTION = r"(?:ribbons?|elastic|cord(?:ing)?|tape|braid|fabric|lining|fleece|felt|thread|string|embroidery)"
_NOTION_BEHIND = WordForm(rf"\.? ?(?:lengths? )?(?:of )?(?:[\w½¼]+ ?[a-z-]+ ){{0,3}}?{_NOTION}\b")
_NOTION_BEFORE = WordForm(rf"\b{_NOTION}[:,]? (?:about |\()?$")


def _is_notion(line: str, amount: re.Match[str]) -> bool:
    """Tell whether a length is not of yarn: "1 m of narrow ribbon"."""
    behind = _NOTION_BEHIND.match(line[amount.end() :])
    return behind is not None or _NOTION_BEFORE.search(line[: amount.start()]) is not None


def _yarn(
    pattern: Pattern, walks: Sequence[Editor], number: int, line: MappedText, enough: float
) -> Iterator[Finding]:
    found = [one for one in _YARN.finditer(line.text) if not _is_notion(line.text, one)]
    if (
        len(found) != 1
        or _ASIDE_YARN.search(line.text)
        or not re.search(r"yarn|wool|yardage|weight|yards|yds", line.text, re.IGNORECASE)
    ):
        return
    (match,) = found
    column = line.at[match.start()] + 1
    metres = [value * METRES[_unit(match["unit"])] for value in numbers_in(match["n"])]
    if metres != sorted(metres):
        said = f"{match['n']} {_unit(match['unit'])} do not grow from size to size"
        yield Finding(WARNING, "grading", said, number, column)
        return
    gauge = pattern.gauge
    if gauge is None or _SHARED.search(line.text) or len(metres) not in (1, len(walks)):
        return
    loop_mm = sqrt(KS / (gauge.stitches_per_mm * gauge.courses_per_mm))
    for size, walk in enumerate(walks):
        stated = metres[min(size, len(metres) - 1)] if len(metres) > 1 else metres[0]
        need = walk.total * loop_mm / 1000
        if walk.was_blind or walk.troubles or stated >= enough * need:
            continue
        said = (
            f"{stated:.0f} m of yarn; {walk.total} stitches at this gauge take about {need:.0f} m"
        )
        name = pattern.sizes[size] if pattern.sizes else str(size + 1)
        names = (name,) if pattern.size_count > 1 else ()
        yield Finding(WARNING, "yarn", said, number, column, names)
