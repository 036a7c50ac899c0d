"""A small sock in two sizes, knitted for real, with a title that would like to be markup."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from math import nan

import attrs

from loopwright.design import read_design
from loopwright.fabric import check
from loopwright.fitting._fit import Fit, Passage, Place
from loopwright.gauge import Gauge
from loopwright.geometry._shape import shape
from loopwright.length import Length, Origin
from loopwright.making import Work, cast_on
from loopwright.pattern import GaugeLine, Pattern, Words, read
from loopwright.pattern._knit import knit
from loopwright.picture.shape_scene import Scene, scene
from loopwright.report import ReportPicture, SizeReport, SockReport
from loopwright.report._compose import sheet
from loopwright.report._typeset import pdf_of
from loopwright.report.data import DocumentKind
from loopwright.report.gather import report_of
from loopwright.sock._plan import FinishedMeasure
from loopwright.yarn import Yarn, strand_uses, yarn_need

TITLE = "Ferry <script>alert(1)</script> & 'socks'"
GAUGE = Gauge.of([32, 33], [44, 44])
YARN = Yarn.of("tide wool", "420 m / 100 g", ball="50 g")
SVG = (
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 400 120" width="400" height="120">'
    '<rect x="2" y="2" width="396" height="116" fill="none" stroke="#000"/>'
    '<text x="20" y="60" font-size="24">{} &amp; ±</text></svg>'
)

_TEXT = """
## Foot
Cast on {n} sts, long-tail.
Join to work in the round.
Divide sts: instep {half}, sole {half}.
Caution: Cut <b>only</b> what is secured.
Rnds 1-10: *K1, p1; rep from * to end.
Note: It curls.
Next 5 cm: Knit.
## Toe
Rnd 1: On each needle: k1, ssk, k to last 3 sts, k2tog, k1.
Rnd 2: Knit.
Rep rnds 1 and 2 until 16 sts remain, ending with rnd 1.
Graft the sts of the two needles together, stitch by stitch.
Weave in all ends.
"""


def pattern(counts: Sequence[int] = (48, 56), names: Sequence[str] = ("S", "M")) -> Pattern:
    """The instructions, for as many sizes as there are counts."""
    shown = {
        key: str(values[0]) + (f" ({', '.join(map(str, values[1:]))})" if len(values) > 1 else "")
        for key, values in (("n", list(counts)), ("half", [n // 2 for n in counts]))
    }
    head = f"Sizes: {names[0]}" + (f" ({', '.join(names[1:])})" if len(names) > 1 else "")
    told = read((head if names[0] else "") + _TEXT.format(**shown))
    return attrs.evolve(
        told,
        title=TITLE,
        gauge=GaugeLine(32.5, 44),
        abbreviations=(("k", "knit"), ("k2tog", "knit two together, leaning right")),
    )


def report(counts: Sequence[int] = (48, 56), names: Sequence[str] = ("S", "M")) -> SockReport:
    """The sock's report."""
    told = pattern(counts, names)
    each = enumerate(zip(counts, names, strict=True))
    sizes = tuple(_size(told, place, n, name) for place, (n, name) in each)
    schematic = ReportPicture("schematic", "Schematic", SVG.format("all"))
    summary = "Cuff down, *plain*.\n\n<b>Two</b> lines."
    return SockReport(TITLE, summary, told, GAUGE, sizes, schematic, (YARN,))


def _size(told: Pattern, place: int, stitches: int, name: str) -> SizeReport:
    fabric = knit(told, size=place)
    girth = GAUGE.width(stitches)
    return SizeReport(
        name,
        (
            FinishedMeasure("foot girth", girth.mm + 4.6, girth, stitches),
            FinishedMeasure("length", nan, GAUGE.height(60), 60),
        ),
        _fit(girth, Length(180.0 + 20 * place, 3.0, Origin.MEASURED)),
        yarn_need(strand_uses(fabric), GAUGE, YARN, pieces=2),
        fabric,
        check(fabric, openings=1),
        ReportPicture("schematic", f"Schematic, {stitches} stitches", SVG.format(stitches)),
        (f"heel girth was estimated ({stitches})",),
        (ReportPicture("heel-chart", f"Chart, {stitches} stitches", SVG.format(stitches)),),
        bag(8 + 4 * place),
    )


def _fit(sock: Length, foot: Length) -> Fit:
    heel = Length(1.36 * foot.mm, 4.0, Origin.SURVEY)
    places = (Place("ball", foot, sock), Place("heel", heel, sock), Place("top", foot, sock))
    return Fit(places=places, passages=(Passage("the top over the heel", heel, sock),),
               asked_ease=-0.1)  # fmt: skip


@cache
def bag(rounds: int) -> Scene:
    """A tube with a purl ridge, drawn in to half at one side, relaxed: turning it shows."""
    work = Work()
    cast_on(work, 24)
    work.join_round()
    work.plain_rounds(rounds)
    first = work.columns.loops.size
    work.round(["p"] * 24)
    work.round([*["k2tog"] * 6, *["k"] * 12])
    work.plain_rounds(4)
    return scene(shape(work.fabric(), GAUGE), parts=(("Tube", 0), ("Top", first)))


@cache
def reported(design: str) -> SockReport:
    """The report of a design's text, made once for all tests: draping takes its time."""
    return report_of(read_design(design))


@cache
def drawn(design: str) -> SockReport:
    """The report for the sheet and the handout alone, which drapes nothing."""
    return report_of(read_design(design), documents=(DocumentKind.PATTERN, DocumentKind.HANDOUT))


def pdf(report: SockReport, *, words: Words = Words.US) -> bytes:
    """The knitter's sheet for paper."""
    return pdf_of(sheet(report, words=words))
