# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Printed girths against the stitches and the gauge, as a text alone states them.

The girth of a piece is that of the stitches that it is worked on for long: those cast on, or those
to which the text comes back. What is printed is rounded, ribs and cables draw in, and what is to fit
is worn with ease, so that only what can't be meant is said.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from statistics import median

from loopwright.pattern._editing.figures import sizes_in_brackets
from loopwright.pattern._editing.findings import WARNING, Finding, by_size
from loopwright.pattern._editing.spoken import plain_lines
from loopwright.pattern._reading.stated import numbers_in
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT

__all__ = ["girths", "lengths"]

_UNIT = r"(?P<unit>cm|mm|inches|inch|ins?\b|\")"
_AROUND = r"\b(?:a?round|circumference|girth)\b"
_BEHIND = re.compile(
    rf"(?P<n>{COUNT})\s*{_UNIT}(?!\. (?-i:[A-Z]))\.?,? ?(?:[a-z]+ ){{0,3}}?(?<!in the ){_AROUND}(?! ?(?:needle|marker))",
    re.I,
)
_BEFORE = re.compile(
    rf"(?:(?<!every )(?<!each ){_AROUND}|\b(?:foot|leg|ankle|hand|head|wrist|finished|brim|sock|hat)[a-z ]{{0,12}} circ\b\.?|^\W*circ\b\.?:? (?=[\d.½¼¾]+ ?[(\[]))(?![^\d\n;.]{{0,40}}\b(?:until|till)\b)[^\d\n;.]{{0,40}}(?P<n>{COUNT})\s*{_UNIT}(?!\.?,? (?:long|deep|tall|wide|high|in length|short\w*|less|from|before)\b)",
    re.IGNORECASE,
)
_HEAD = re.compile(rf"\bhead(?: size| girth)?:? (?P<n>{COUNT})\s*{_UNIT}", re.IGNORECASE)
_NAMED = re.compile(  # "Ankle: 24 cm", "Width: 30 cm"
    rf"^\W*(?:finished )?(?:ankle|wrist|hand|palm|width|brim|(?:lower|upper|neck|bottom|cast-on) edge)(?:[ ,(](?!.{{0,20}}\brib)[^\d\n:]{{0,40}})?: ?(?:about )?(?P<n>{COUNT})\s*{_UNIT}",
    re.IGNORECASE,
)
_ITSELF = WordForm(  # "fits a foot about 7 inches around; the sock itself measures 6½ inches"
    rf"\b(?:itself|(?:finished|knitted|actual) (?:sock|mitten|mitt|hat|cowl|piece))(?: only| then)? (?:measures?|is) (?:about )?(?P<n>{COUNT})\s*{_UNIT}(?! ?(?:long|deep|high|tall|x|by|×))",
)
_ACTUAL = WordForm(  # of what the line before it says the girth that it fits
    rf"^\W*(?:actual|finished|knitted) (?:size|measurements?|girth)s?:? ?(?:about )?(?P<n>{COUNT})\s*{_UNIT}(?! ?(?:long|deep|high|tall|x|by|×))",
)
_FITS_GIRTH = WordForm(r"^\W*to fit (?:an? )?(?:head|hand|foot|calf|wrist|leg|palm)s?\b(?! length)")
_BESIDE = WordForm(
    rf"(?P<sts>\d+) (?:sts|stitches),? ?(?:[:=(–—-]+ ?)?(?:(?:about|or|which is|that is|makes|will be|is) )*(?P<n>\d+(?:\.\d+)?)\s*{_UNIT} {_AROUND}",
)
_WIDE = re.compile(
    rf"(?P<n>{COUNT})\s*{_UNIT}\.?(?: ?\([^)]*\))?,? (?:wide|in width|along the (?:lower|cast-on|bound-off|cast-off) edge)\b",
    re.IGNORECASE,
)
_BUTTONED = re.compile(  # a body, whose bands lie over each other
    rf"^\W*(?:(?:finished|actual|knitted) )?(?:chest|bust)[ ,(]+(?:size,? )?(?:(?:when|all|with bands?) )?(?:buttoned|closed|fastened|done up)\b[^\d\n:]{{0,24}}:? ?(?:about )?(?P<n>{COUNT})\s*{_UNIT}",
    re.IGNORECASE,
)
_LAST_EDGE = WordForm(
    rf"(?P<n>\d+(?:\.\d+)?)\s*{_UNIT}\.?(?: ?\([^)]*\))? (?:along|across) (?:the |its )?(?:bound|bind|cast)[- ]off\b",
)
_GAUGE = WordForm(
    r"(?P<sts>\d+(?:\.\d+)?) ?(?:sts?|stitches)\b\.?[^;\n]{0,70}?(?:=|/|\bto\b|\bper\b|(?<!bit )(?<!little )(?<!just )\bover\b|\bin\b|\bmeasure|\b(?:make|give)s?)\s*"
    r"(?:the |an? |one )?(?:(?P<n>\d+(?:\.\d+)?)\s*(?:[x×] ?\d+ ?)?)?(?P<unit>cm|inch(?:es)?|ins?\b|\")",
)
_STITCHES = WordForm(rf"(?P<n>{COUNT})\s*(?:live )?(?:sts?|stitches)\b")
_FINISHED = WordForm(r"\b(?:finished|actual|knitted)\b")
_JOINED = WordForm(
    r"\bjoin(?:ing|ed)?\b.*\b(?:a|the) (?:round|rnd|circle)|\bin (?:the )?(?:rounds?|rnds?)\b"
)
_CAST_ON = WordForm(r"\b(?:cast(?:ing)? (?:on|up)|co|set (?:up|on))\b[^.]*\d")
_BEGUN = WordForm(
    rf"\b(?:cast(?:ing)? (?:on|up)|co|set (?:up|on))\b\D{{0,12}}(?P<n>{COUNT})(?!\d| ?(?:sts?|stitches))",
)
_FITS = WordForm(
    r"\bto (?:fit|go (?:a?round|over|on))\b|\bfits?\b|\bchoose\b|\bfor (?:an?|the|your) [^.;:]{0,20}(?:foot|hand|head|wrist|leg|calf|palm)\b",
)
_STRETCHED = WordForm(  # or of a hand, which may be the wearer's
    r"(?<!un)\bstretch|\bribs?\b|^\W*(?:hand|head|wrist|calf|leg)\b(?!.*(?:finished|knitted))",
)
_DRAWN_IN = WordForm(r"\bcables?\b|\bc\d+[fb]\b|\b\d/\d ?[lr]p?c\b|\bribs?\b.{0,30}\bunstretched")
_TAKEN_IN = re.compile(
    r"[*(\[][^*]*\b(?:k ?2 ?tog|knit (?:2|two|the next two) together|ssk)\b[^*;]*(?:;|,|\*|\btimes\b|\baround\b|\bto end\b)",
    re.IGNORECASE,
)
_GROWS = WordForm(r"\binc|\bm(?:ake )?1|\bkfb|\bk1f|\byo\b")
_SHAPED = WordForm(r"\bgussets?\b|\bpick(?:ing)? up\b|\bthumb\b|\bheel\b")
MM = {"c": 10.0, "m": 1.0, "i": 25.4, '"': 25.4}
KNITTED = (0.945, 1.075)  # of what is printed: rounded to the quarter inch
LOOSE = (0.9, 1.12)  # where it says how it is stretched, or is of what draws in or is shaped
EXACT, APART = 0.012, 0.045  # where other sizes are exact, how far one may be off
WORN = (0.75, 1.2)  # of what it is to fit: socks smaller, mittens and hats up to so much wider
LEAST_MM = 60.0  # no girth is less: it is the size of a needle
LEAST = 20  # stitches; no edge that is measured has fewer
EASED = 0.9  # of the stitches cast on: a row above a rib leaves more, a crown fewer
FOOT = 1.1  # of a foot: no sock is wider
DRAWN_IN, PULLED = (0.8, 1.12), 1.25  # cables draw in by a tenth and more (common practice)
MEASURED = (0.84, 1.12)  # of cables, where the gauge is theirs: pinned out, if not worn so
MAYBE = 0.03  # where the gauge is none of the yarn
ALIKE = 0.02  # ratios of sizes that one wrong gauge explains
STEADY, ODD = (
    0.035,
    0.065,
)  # how far the girths of sizes may stand apart, and one of them that is wrong
GROWN = 4  # times as many stitches as were cast on: a shawl
NEAR = (0.6, 1.6)  # other counts are not those of the girth at all


_Counts = Sequence[tuple[tuple[float, ...], bool]]


def _in_one_form(text: str) -> list[MappedText]:
    """Return the lines of a text with the numbers of its sizes in brackets, however they are told."""
    by_sign = sizes_in_brackets(text)
    lines = [line if by_sign is None else line.sub(*by_sign) for line in plain_lines(text)]
    told = plain_lines(text).about(_COLONS, _COMMAS, _TOLD_APART, _COLUMNS)
    for number, _ in told if by_sign is None else enumerate(plain_lines(text), start=1):
        lines[number - 1] = (
            lines[number - 1]
            .sub(_COLONS, _bracketed)
            .sub(_COMMAS, _bracketed)
            .sub(_TOLD_APART, r"\1 (\3) \2")
            .sub(_COLUMNS, _in_columns)
        )
    return lines


def girths(text: str, sizes: Sequence[str] = ()) -> Iterator[Finding]:
    r"""Find girths that the stitches at the stated gauge do not give; `sizes` are named where they are known.

    Examples
    --------
    >>> text = "Gauge: 30 sts = 10 cm\nFoot: 26 cm around\nCast on 60 sts.\nKnit. 60 sts."
    >>> [one.message for one in girths(text)]
    ['26 cm around is printed; 60 sts at this gauge are 20.0 cm']
    """
    if next(plain_lines(text).about(_GAUGE), None) is None:
        return
    lines = _in_one_form(text)
    start = next((n for n, line in enumerate(lines) if _CAST_ON.search(line.text)), len(lines))
    per_mm, gauge_at = _gauge([line.text for line in lines])
    behind = lines[start if start < len(lines) else 0 :] if per_mm else []
    counts = _counts([line.text for line in behind])
    if not counts:
        return
    edges = [
        (numbers_in(m["n"]), True) for line in lines[start:] for m in _STITCHES.finditer(line.text)
    ]
    joined = any(_JOINED.search(line.text) for line in lines[start:])
    over_cables = gauge_at and _DRAWN_IN.search(lines[gauge_at - 1].text)
    made = MEASURED if over_cables else DRAWN_IN if _DRAWN_IN.search(text) else KNITTED
    sewn = _sewn(counts) if not joined and _SEAM.search(text) else []
    lines_before = ""
    for number, line in enumerate(lines[:start], start=1):
        two = (
            _two_edges(line.text, edges, per_mm)
            or _square(line.text, counts, per_mm)
            or _beside(line.text, per_mm)
            or _last_edge(line.text, counts, per_mm)
        )
        if two is not None:
            by_gauge = gauge_at and _shares_off(line.text, edges, per_mm)
            place = (gauge_at, 1) if by_gauge else (number, line.at[two[1]] + 1)
            yield Finding(WARNING, "measure", two[0], *place)
            continue
        match = next((m for form in _FORMS if (m := form.search(line.text))), None)
        if (itself := _ITSELF.search(line.text)) is not None and _GIRTH.search(line.text):
            match = itself
        if match is None and lines_before and _HEADING.match(lines_before):
            match = _ALONE.match(line.text)
        if match is None and _FITS_GIRTH.match(lines_before):
            match = _ACTUAL.match(line.text)
        lines_before = line.text
        if match is None:
            continue
        for other, off in _others_on_line(line.text, match, counts, per_mm):
            yield Finding(WARNING, "measure", off, number, line.at[other.start("n")] + 1)
        told = line.text[: match.start("n")]
        itself_told = _ITS_WIDTH.search(
            told.rpartition(". ")[2]
        )  # "To fit a hand, …. Width, 19 cm"
        fits = match.re is _HEAD or (not itself_told and _FITS.search(told) is not None)
        limits = _worn(line.text) if fits else _loose(line.text, match, made)
        there = _most(counts) if _WIDEST.search(line.text) else counts
        finished = not fits and joined and _FINISHED.search(line.text[: match.start("n")])
        said = _differs(match, there, per_mm, limits, even_far=bool(finished))
        if said and sewn and _differs(match, sewn, per_mm, limits) is None:
            continue
        if said:
            message, apart, wrong = said
            usual = _is_usual(lines, per_mm, match)
            by_gauge = apart < (MAYBE if usual is False else 0.0 if usual else ALIKE)
            column = line.at[match.start("n")] + 1
            at = (gauge_at, 1) if by_gauge and gauge_at != number else (number, column)
            named = tuple(sizes[n] for n in wrong) if max(wrong) < len(sizes) > 1 else ()
            yield Finding(WARNING, "measure", message, *at, named)


def _worn(line: str) -> tuple[float, float]:
    """Return how far from the girth of the body that a line names a piece may be."""
    return (WORN[0], FOOT) if "foot" in line.lower() else WORN


def _loose(line: str, told: re.Match[str], made: tuple[float, float]) -> tuple[float, float]:
    """Return how far from its stitches a girth may be that a line tells of the piece."""
    if told.re is _BUTTONED or (made in (DRAWN_IN, MEASURED) and told.re in (_NAMED, _WIDE)):
        return DRAWN_IN[0], PULLED
    return LOOSE if made is KNITTED and _STRETCHED.search(line) else made


def _others_on_line(
    line: str, first: re.Match[str], counts: _Counts, per_mm: float
) -> Iterator[tuple[re.Match[str], str]]:
    """Yield what else a line tells that is off: a width, or "round calf, 9 in. round ankle, 7 in."."""
    others: list[tuple[re.Match[str] | None, tuple[float, float]]] = []
    if first.re in (_BEHIND, _BEFORE):
        others.append((_WIDE.search(line, first.end()), (DRAWN_IN[0], PULLED)))
    if first.re is _BEFORE and not _FITS.search(line):
        others.append((_BEFORE.search(line, first.end()), LOOSE))
    for other, limits in others:
        said = None if other is None else _differs(other, counts, per_mm, limits)
        if other is not None and said is not None:
            yield other, said[0]


_WIDEST = WordForm(r"\bat (?:the |its )?(?:fullest|widest|broadest|biggest)\b")


def _most(counts: _Counts) -> _Counts:
    """Return the most stitches that there ever are."""
    most = max((values for values, _ in counts), key=min)
    return [(most, True)]


_SEAM = WordForm(r"\b(?:side|back|long) seams?\b|\b(?:sew|seam|sewn|seamed)\b[^.]{0,30}\b(?:sides?|edges|seams?|back)\b")  # fmt: skip
SEAM = 2  # stitches that a seam takes up, one of each edge (common practice)


def _sewn(counts: _Counts) -> _Counts:
    """Return the stitches that go around where the edges are sewn together."""
    return [(tuple(n - SEAM for n in values), often) for values, often in counts]


USUAL = {  # stitches to 10 cm that yarns are knitted at (published standard: yarn weights 1 to 6)
    r"fingering|sock (?:yarn|weight)|4[- ]?ply": (27.0, 33.5),  # to 32; socks are knitted tighter
    r"\bsport\b": (23.0, 26.0),
    r"\bdk\b|double knitting": (21.0, 24.0),
    r"worsted|aran": (16.0, 20.0),
    r"chunky|bulky": (12.0, 15.0),
}
INSIDE = 0.15  # of the range at either end: what lies there may well be a slip (nobody's figure)
_TO_FIT = WordForm(rf"\bto fit\b[^\d\n]{{0,30}}(?P<n>\d+(?:\.\d+)?)[^\n]{{0,60}}?{_UNIT}")


def _is_usual(lines: Sequence[MappedText], per_mm: float, match: re.Match[str]) -> bool | None:
    """Tell whether a gauge is one that its yarn is knitted at; None where the yarn is not known.

    Where what it is to fit bears the printed girth out, the gauge is none of these.
    """
    sort = next((one for one in USUAL for line in lines if re.search(one, line.text, re.I)), None)
    if sort is None:
        return None
    low, high = USUAL[sort]
    inside = INSIDE * (high - low)
    if not low + inside <= per_mm * 100 <= high - inside:
        return False
    printed = numbers_in(match["n"])[0] * MM[match["unit"][0].lower()]
    worn = next((m for line in lines if (m := _TO_FIT.search(line.text))), None)
    if worn is None or not float(worn["n"]):
        return True
    return not WORN[0] <= printed / (float(worn["n"]) * MM[worn["unit"][0].lower()]) <= WORN[1]


_HEADING = WordForm(rf"^\W*(?:finished |actual )?[a-z ]{{0,20}}{_AROUND}[a-z ()]{{0,20}}:?\W*$")
_ALONE = WordForm(rf"^\W*(?:about )?(?P<n>{COUNT})\s*{_UNIT}")
_AT_AN_EDGE = WordForm(
    rf"(?P<n>\d+(?:\.\d+)?)\s*{_UNIT},? (?:around )?(?:at|along) (?:the )?(?P<edge>lower|upper|top|bottom|cast-on|bound-off|bind-off|cast-off|neck)(?: edge)?\b",
)


_SQUARE = WordForm(
    rf"\b(?:size|measures?|measurements?|finished)\b[^\d\n]{{0,30}}(?P<n>\d+(?:\.\d+)?)(?: ?{_UNIT})? ?(?:x|×|by) ?(?P<m>\d+(?:\.\d+)?) ?(?P<unit2>cm|mm|inches|inch|ins?\b|\")",
)


def _square(line: str, counts: _Counts, per_mm: float) -> tuple[str, int] | None:
    """Compare "70 x 70 cm" with the stitches: they make one of the two, or it is worked on the bias."""
    match = _SQUARE.search(line)
    alone = [values[0] for values, _ in counts if len(values) == 1 and values[0] >= LEAST]
    if match is None or not alone or len(set(alone)) > 2:
        return None
    unit = match["unit2"][0].lower()
    sides = [float(match[name]) * MM[unit] for name in ("n", "m")]
    made = [n / per_mm for n in alone]
    if any(LOOSE[0] <= one / side <= LOOSE[1] for one in made for side in sides if side):
        return None
    if not any(NEAR[0] < one / side < NEAR[1] for one in made for side in sides if side):
        return None
    shown = {"c": "cm", "m": "mm"}.get(unit, "in")
    return (
        f"{match['n']} by {match['m']} {shown} is printed; {alone[0]:g} sts at this gauge are {made[0] / MM[unit]:.1f} {shown}",
        match.start("n"),
    )


def _beside(line: str, per_mm: float) -> tuple[str, int] | None:
    """Compare "56 sts, 8 in around" with what so many stitches make at the gauge."""
    for match in _BESIDE.finditer(line):
        unit = match["unit"][0].lower()
        girth, made = float(match["n"]) * MM[unit], int(match["sts"]) / per_mm
        if girth and not _STRETCHED.search(line) and not LOOSE[0] <= made / girth <= LOOSE[1]:
            shown = {"c": "cm", "m": "mm"}.get(unit, "in")
            return (
                f"{match['n']} {shown} around is printed; {match['sts']} sts at this gauge are {made / MM[unit]:.1f} {shown}",
                match.start("n"),
            )
    return None


def _last_edge(line: str, counts: _Counts, per_mm: float) -> tuple[str, int] | None:
    """Compare the length of the edge that is bound off with the most stitches of a piece that grows."""
    match = _LAST_EDGE.search(line)
    alone = [values[0] for values, _ in counts if len(values) == 1]
    if match is None or not alone or max(alone) < LEAST or max(alone) < GROWN * alone[0]:
        return None
    unit, made = match["unit"][0].lower(), max(alone) / per_mm
    if DRAWN_IN[0] <= made / (float(match["n"]) * MM[unit] or 1.0) <= PULLED:
        return None
    shown = {"c": "cm", "m": "mm"}.get(unit, "in")
    return (
        f"{match['n']} {shown} along the bind-off is printed; {max(alone):g} sts at this gauge are {made / MM[unit]:.1f} {shown}",
        match.start("n"),
    )


def _two_edges(line: str, counts: _Counts, per_mm: float) -> tuple[str, int] | None:
    """Compare the girths of the two edges of a piece with the stitches that it begins and ends with."""
    found = list(_AT_AN_EDGE.finditer(line))
    if len(found) != 2 or not re.search(_AROUND, line, re.IGNORECASE):
        return None
    alone = [values[0] for values, _ in counts if len(values) == 1 and values[0] >= LEAST]
    ends = (alone[0], alone[-1]) if alone else ()
    for match in found:
        unit = match["unit"][0].lower()
        girth = float(match["n"]) * MM[unit]
        near = [n / per_mm / girth for n in ends] if girth else []
        if near and not any(LOOSE[0] <= ratio <= LOOSE[1] for ratio in near):
            shown = {"c": "cm", "m": "mm"}.get(unit, "in")
            made = " and ".join(f"{n / per_mm / MM[unit]:.1f}" for n in ends)
            return (
                f"{match['n']} {shown} around the {match['edge'].lower()} edge is printed; the first and last sts make {made} {shown}",
                match.start("n"),
            )
    return None


def _shares_off(line: str, counts: _Counts, per_mm: float) -> bool:
    """Tell whether both edges of a line are off by the same share: one wrong gauge explains both."""
    alone = [values[0] for values, _ in counts if len(values) == 1 and values[0] >= LEAST]
    girths = [float(m["n"]) * MM[m["unit"][0].lower()] for m in _AT_AN_EDGE.finditer(line)]
    if len(girths) != 2 or not alone or not all(girths) or girths[0] == girths[1]:
        return False
    first, last = (
        n / per_mm / girth for n, girth in zip((alone[0], alone[-1]), girths, strict=True)
    )
    return abs(first / last - 1) <= ALIKE


_GIRTH = WordForm(_AROUND)
_FORMS = (_BEHIND, _BEFORE, _HEAD, _NAMED, _BUTTONED, _WIDE)
_COLONS = WordForm(  # "48:56:64", "14.5: 18: 20", "18-20-22", "20/22/24"
    r"(?<![\d:./(\[-])(\d+(?:\.\d+)?)((?:: ?\d+(?:\.\d+)?)+|(?:-\d+(?:\.\d+)?){2,}|(?:\"?/\d+(?:\.\d+)?){2,})(?![\d:/-])",
    re.NOFLAG,
)


_COMMAS = WordForm(  # "36, 42, 48 cm"
    r"(?<![\d.,(\[] )(?<![\d.,(\[])(\d+(?:\.\d+)?)((?:, \d+(?:\.\d+)?){2,})(?= ?(?:cm|mm|inch|ins?\b|\"))",
    re.NOFLAG,
)


_COLUMNS = WordForm(  # 16"   17.5"   19.25"
    r"(?<![\d.,(\[])(?P<first>\d+(?:\.\d+)?)(?P<unit> ?(?:cm|in\b|[\"”]))(?P<more>(?:(?:,? {2,}|, | ?\| ?)\d+(?:\.\d+)?(?P=unit)){1,7})(?![\w(\[])",
    re.NOFLAG,
)
_ITS_WIDTH = WordForm(r"\b(?:width|finished|actual|knitted)\b")


def _in_columns(match: re.Match[str]) -> str:
    more = ", ".join(re.findall(r"\d+(?:\.\d+)?", match["more"]))
    return f"{match['first']} ({more}){match['unit']}"


_SAYS = r"(?:wide|long|deep|high|tall|across|a?round|in|by|x|from|at)\b(?! (?:version|size|one))"  # what is measured
_TOLD_APART = WordForm(  # "Round: 61 cm short version, 111 cm long version"
    rf"(?<![\d(\[,] )(?<![\d.(\[])(\d+(?:\.\d+)?) ?(cm|inch(?:es)?|\") (?:for )?(?:the )?(?!{_SAYS})[a-z]+(?: (?!{_SAYS})[a-z]+)?(?:,| and|;) (\d+(?:\.\d+)?) ?(?:cm|inch(?:es)?|\") (?:for )?(?:the )?(?!{_SAYS})[a-z]+(?: (?!{_SAYS})[a-z]+)?(?=[.;]|$)",
)


def _bracketed(match: re.Match[str]) -> str:
    return f"{match[1]} ({', '.join(re.findall(_N, match[2]))})"


_N = r"\d+(?:\.\d+)?"


_ROWS = r"(?:rounds?|rnds?|rows?)"
_ROW_GAUGE = WordForm(
    rf"(?P<rows>\d+(?:\.\d+)?) ?{_ROWS}\b[^;\n]{{0,60}}?(?:=|\bto\b|\bper\b|\bover\b)\s*(?:the |an )?"
    r"(?:(?P<n>\d+(?:\.\d+)?)\s*(?:[x×] ?\d+ ?)?)?(?P<unit>cm|inch(?:es)?|ins?\b|\")",
)
_SO_LONG = WordForm(
    rf"\b(?:for|measures?|is) (?P<n>{COUNT}) ?{_UNIT}(?: long| deep)?\W{{1,4}}(?:about |approx\w*\.? |or |or about )?(?P<rows>{COUNT}) {_ROWS}\b",
)
FAR = (0.7, 1.4)  # rounds over those of the gauge: ribs and edges are of another depth


def lengths(text: str) -> Iterator[Finding]:
    r"""Find lengths whose number of rounds is stated, and is not that of the gauge.

    Examples
    --------
    >>> [one.message for one in lengths("30 sts and 40 rnds = 10 cm\nKnit for 5 cm (40 rnds).")]
    ['5 cm at this gauge are 20 rounds, not 40']
    """
    lines = plain_lines(text)
    told = next(
        (m for _, line in lines.about(_ROW_GAUGE) if (m := _ROW_GAUGE.search(line.text))), None
    )
    if told is None or not float(told["n"] or 1):
        return
    per_mm = float(told["rows"]) / (float(told["n"] or 1) * MM[told["unit"][0].lower()])
    for number, line in lines.about(_SO_LONG):
        for match in _SO_LONG.finditer(line.text):
            unit = match["unit"]
            for length, rounds in zip(
                numbers_in(match["n"]), numbers_in(match["rows"]), strict=False
            ):
                made = length * MM[unit[0].lower()] * per_mm
                if made and not FAR[0] <= rounds / made <= FAR[1]:
                    said = f"{length:g} {unit} at this gauge are {made:.0f} rounds, not {rounds:g}"
                    column = line.at[match.start("rows")] + 1
                    yield Finding(WARNING, "measure", said, number, column)
                    break


def _gauge(lines: Sequence[str]) -> tuple[float, int]:
    """Return the stitches to a millimetre that the text states, and where; 0 where it does not."""
    for number, line in enumerate(lines, start=1):
        match = _GAUGE.search(line)
        if match is not None and not _CAST_ON.search(line):
            length = float(match["n"] or 1) * MM[match["unit"][0].lower()]
            return (float(match["sts"]) / length if length else 0.0), number
    return 0.0, 0


def _counts(lines: Sequence[str]) -> list[tuple[tuple[float, ...], bool]]:
    """Return the counts that a text states, and whether it comes back to each."""
    found: Counter[tuple[float, ...]] = Counter()
    first: tuple[float, ...] | None = None
    grown = [
        (at, numbers_in(match["n"]))
        for at, line in enumerate(lines)
        if _GROWS.search(line)
        for match in _STITCHES.finditer(line)
    ]
    for at, line in enumerate(lines):
        if first is None and (begun := _BEGUN.search(line)) is not None:
            first = numbers_in(begun["n"])
            found[first] += 1
        for match in _STITCHES.finditer(line):
            values = numbers_in(match["n"])
            taken_in = first is not None and _TAKEN_IN.search(line, 0, match.start())
            few = first is not None and values != first and values[0] < EASED * first[0]
            few = few or (first is not None and _is_first_of_crown(values, first, lines[at + 1 :]))
            if (
                first is not None
                and taken_in
                and few
                and (first not in (n for later, n in grown if later > at))
            ):
                continue  # the rounds of a crown or a toe
            found[values] += 1
            first = first or values
    shaped = any(_SHAPED.search(line) for line in lines)
    return [(values, often > 1 or values == first or not shaped) for values, often in found.items()]


def _is_first_of_crown(
    values: tuple[float, ...], first: tuple[float, ...], behind: Sequence[str]
) -> bool:
    """Tell whether a count a tenth less than the first is less again in the next count, by decreases."""
    if EASED * first[0] != values[0]:
        return False
    after = next((line for line in behind if _STITCHES.search(line)), "")
    count = _STITCHES.search(after)
    if count is None or not _TAKEN_IN.search(after, 0, count.start()):
        return False
    return numbers_in(count["n"])[0] < values[0]


def _differs(
    match: re.Match[str],
    counts: Sequence[tuple[tuple[float, ...], bool]],
    per_mm: float,
    limits: tuple[float, float],
    *,
    even_far: bool = False,
) -> tuple[str, float, Sequence[int]] | None:
    """Say that no count of the text gives a printed girth; None where one does, or none is near.

    Returns with it how far the sizes are apart (where all are off by the same share, it is the gauge
    that is wrong), and which of them are off. What lies far is compared where it is of the whole piece.
    """
    unit = match["unit"][0].lower()
    printed = [value * MM[unit] for value in numbers_in(match["n"])]
    if min(printed) < LEAST_MM:
        return None
    by_sureness = []
    for steady in (True, False):
        near = []
        for values, often in counts:
            if len(values) != len(printed) or (steady and not often):
                continue
            ratios = [n / per_mm / girth for n, girth in zip(values, printed, strict=True)]
            if all(NEAR[0] < ratio < NEAR[1] for ratio in ratios):
                near.append((max(abs(ratio - 1) for ratio in ratios), ratios, values))
        by_sureness.append(near)
    near = by_sureness[0] or by_sureness[1]
    if not near and even_far:
        far = [
            values for values, _ in counts if len(values) == len(printed) and min(values) >= LEAST
        ]
        many = max(far, default=(0.0,))
        return (
            (_off(printed, unit, many, per_mm, range(len(many))), 1.0, range(len(many)))
            if far
            else None
        )
    if not near:
        return None
    worst, ratios, values = min(near)
    shown = {"c": "cm", "m": "mm"}.get(unit, "in")
    every = sorted([*by_sureness[0], *by_sureness[1]])
    if worst > APART and every[0][0] < EXACT:
        return None  # a count that stands in the text only once
    exact = EXACT if limits == KNITTED or limits[1] == FOOT else 0.0
    alike = len(ratios) > 1 and max(ratios) - min(ratios) < ALIKE  # all off by one share
    for _, others, there in sorted(near) if worst > APART else []:
        at = _odd_one(others, exact, by_each_other=not alike)
        if at is not None:
            others_agree = "other sizes agree" if len(others) > 2 else "other size agrees"
            return (
                (
                    f"{printed[at] / MM[unit]:g} {shown} around is printed; {there[at]:g} sts at this gauge are "
                    f"{there[at] / per_mm / MM[unit]:.1f} {shown}, and the {others_agree}"
                ),
                1.0,
                [at],
            )
    wrong = [n for n, ratio in enumerate(ratios) if not limits[0] <= ratio <= limits[1]]
    if not wrong:
        return None
    apart = max(ratios) - min(ratios) if len(ratios) > 1 else 1.0
    return _off(printed, unit, values, per_mm, wrong), apart, wrong


def _off(
    printed: Sequence[float], unit: str, sts: Sequence[float], per_mm: float, wrong: Sequence[int]
) -> str:
    shown = {"c": "cm", "m": "mm"}.get(unit, "in")
    girths = by_size([f"{printed[n] / MM[unit]:g}" for n in wrong])
    made = by_size([f"{sts[n] / per_mm / MM[unit]:.1f}" for n in wrong])
    many = by_size([f"{sts[n]:g}" for n in wrong])
    return f"{girths} {shown} around is printed; {many} sts at this gauge are {made} {shown}"


def _odd_one(ratios: Sequence[float], exact: float, *, by_each_other: bool) -> int | None:
    """Return which size is off, where all the others agree with the gauge, or with each other."""
    off = [abs(ratio - 1) for ratio in ratios]
    if len(ratios) > 1 and sum(one < exact for one in off) == len(off) - 1 and max(off) > APART:
        return off.index(max(off))
    if not by_each_other:
        return None
    middle = median(ratios)
    apart = [abs(ratio / middle - 1) for ratio in ratios]
    if len(ratios) > 2 and sum(a < STEADY for a in apart) == len(apart) - 1 and max(apart) > ODD:
        return apart.index(max(apart))
    return None
