"""The three documents of a sock: the knitter's sheet, the designer's record, the class handout.

All are put together from one report, so that a number is the same wherever it stands. The sheet
holds what hands need; the record what a designer wants to know about the sock; the handout what a
class works through, heel and toe stage by stage.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from importlib.metadata import version

import attrs

from loopwright.pattern import Words
from loopwright.pattern.steps import MAIN
from loopwright.report import _tables as tables
from loopwright.report._blocks import (
    Block,
    DocumentSection,
    Drawing,
    Facts,
    GridBlock,
    Pairs,
    Paragraph,
    Photo,
    ReportDocument,
    Ruled,
)
from loopwright.report._instructions import Heading, LineKind, by_heading
from loopwright.report._notions import notions
from loopwright.report._pieces import (
    abbreviations,
    credit_section,
    paper_of,
    part_section,
    technique_section,
    technique_sections,
)
from loopwright.report._said import FEET, gauge_line, paragraphs
from loopwright.report._techniques import techniques
from loopwright.report.data import PictureKind, ReportPicture, SizeReport, SockReport
from loopwright.yarn import Yarn, YarnNeed

__all__ = [
    "fields_of",
    "filled",
    "gauge_name",
    "handout",
    "material_facts",
    "record",
    "sheet",
    "size_facts",
]

_YARD_M = 0.9144  # exact by the international definition (1959)
_CLINICIAN = "clinician"


def sheet(report: SockReport, *, words: Words = Words.US) -> ReportDocument:
    """Return the knitter's sheet."""
    front = report.front
    return ReportDocument(
        name="pattern",
        kind="pattern",
        title=report.title,
        byline=f"by {front.author}" if front.author else "",
        opening=[*_opening(report)],
        sections=[*_sheet(report, words)],
        paper=paper_of(front, words),
        large_print=front.large_print,
    )


def record(report: SockReport, *, words: Words = Words.US) -> ReportDocument:
    """Return the designer's record."""
    return ReportDocument(
        name="record",
        kind="for the designer",
        title=f"{report.title}: record",
        sections=[
            *(attrs.evolve(one, may_shrink=True) for one in _record(report, words)),
            DocumentSection("", [Ruled()]),
        ],
        paper=paper_of(report.front, words),
        large_print=report.front.large_print,
    )


def handout(report: SockReport, *, words: Words = Words.US) -> ReportDocument:
    """Return the handout for a class: heel and toe stage by stage, a technique a page."""
    return ReportDocument(
        name="handout",
        kind="class handout",
        title=f"{report.title}: heel and toe",
        opening=[Paragraph(_HANDOUT)],
        sections=[*_handout(report, words)],
        paper=paper_of(report.front, words),
        large_print=True,
    )


_HANDOUT = (
    "What is where after each step, from the first row of the heel on; then each technique on a "
    "page of its own, with room for your notes."
)


# The sheet --------------------------------------------------------------------------------------


def _opening(report: SockReport) -> Iterator[Block]:
    if report.photo is not None:
        data, kind = report.photo
        yield Photo(data, kind, f"{report.title}, finished")
    yield from (Paragraph(text) for text in paragraphs(filled(report, report.summary)))
    yield from (Paragraph(filled(report, text), "note") for text in report.front.notes)
    # At the end it would often stand on a page of its own.
    yield Paragraph(_COUNTED, "small")


def _sheet(report: SockReport, words: Words) -> Iterator[DocumentSection]:
    front, sizes = report.front, report.sizes
    yield DocumentSection("Sizes", [Facts(tuple(size_facts(report, sizes))), *_schematic(report)])
    yield DocumentSection("Materials", [Facts(tuple(material_facts(report, sizes)))])
    yield DocumentSection(gauge_name(words), [Paragraph(gauge_line(report, words))])
    if listed := abbreviations(front, report.pattern):
        yield DocumentSection("Abbreviations", [Pairs(listed)])
    if not _warns_clinician(report):
        yield DocumentSection("Before you begin", [Paragraph(FEET, "caution")])
    place = 0 if len(sizes) == 1 else None
    headings = by_heading(report.pattern, place, words=words, stitches=report.stitches)
    yield DocumentSection("Instructions", ())
    yield from _instructions(report, headings)
    needed = techniques(report.pattern.steps, _grafted(sizes), words=words)
    yield from technique_sections(needed)
    yield from credit_section(front, fields_of(report))
    charts = [one for one in _pictures(report) if one.kind is PictureKind.CHART]
    if any(one.is_wide for one in charts):  # they begin a sheet: what is left is for notes
        yield DocumentSection("", [Ruled()])
    if charts:
        yield DocumentSection("Charts", [Drawing(one) for one in charts])


def gauge_name(words: Words) -> str:
    """Return what a swatch's counts are called."""
    return "Tension" if words is Words.UK else "Gauge"


def size_facts(report: SockReport, sizes: Sequence[SizeReport]) -> Iterator[tuple[str, str]]:
    """Yield whom the sizes fit and how large they come out."""
    if sizes[0].name:
        yield "Sizes", tables.by_size(size.name for size in sizes)
    feet = [size.foot for size in sizes if size.foot is not None]
    if len(feet) == len(sizes):
        inches = report.front.inches_first
        long = tables.lengths((foot.length.mm for foot in feet), inches_first=inches)
        balls = tables.lengths((foot.ball_girth.mm for foot in feet), inches_first=inches)
        yield "To fit a foot", f"{long} long; {balls} round the ball"
    for measure, told in zip(sizes[0].measures, _finished(report, sizes), strict=True):
        yield f"Finished {measure.name}", ", ".join(filter(None, (told, measure.note)))
    if report.front.skill:
        yield "Skill", report.front.skill


def fields_of(report: SockReport, sizes: Sequence[SizeReport] = ()) -> dict[str, str]:
    """Return what one's own text may ask for by name: each measure, all sizes in brackets.

    Of some sizes, where they are named.
    """
    sizes = sizes or report.sizes
    names = [measure.name for measure in sizes[0].measures]
    found = {"sizes": ", ".join(size.name for size in sizes)}
    return found | dict(zip(names, _finished(report, sizes), strict=True))


def filled(report: SockReport, text: str) -> str:
    """Return one's own text with the measures of all sizes in its fields."""
    return report.front.filled(text, fields_of(report))


def _finished(report: SockReport, sizes: Sequence[SizeReport]) -> list[str]:
    """Return each finished measure, of all these sizes."""
    return [
        tables.lengths(
            (size.measures[place].finished.mm for size in sizes),
            inches_first=report.front.inches_first,
        )
        for place in range(len(sizes[0].measures))
    ]


def _schematic(report: SockReport) -> Iterator[Block]:
    yield Drawing(report.schematic)
    letters = tables.schematic_table(report.sizes, inches_first=report.front.inches_first)
    if letters.rows:
        yield GridBlock(letters.filled())


def material_facts(report: SockReport, sizes: Sequence[SizeReport]) -> Iterator[tuple[str, str]]:
    """Yield yarn by size, needles and notions."""
    names = dict.fromkeys(need.name for size in sizes for need in size.needs)
    bands = {yarn.name: yarn for yarn in report.yarns}
    for name in names:
        needs = [need for size in sizes for need in size.needs if need.name == name]
        band = bands.get(name)
        amount = _amounts(needs)
        if all(need.balls is not None for need in needs):
            balls = tables.by_size(str(need.balls) for need in needs)
            amount = f"{balls} {'ball' if balls == '1' else 'balls'}, {amount}"
        # A yarn that nobody named needs no name.
        told = filter(None, ("" if name == MAIN else name, _band(band)))
        yield "Yarn", ": ".join(filter(None, (", ".join(told), f"{amount} for a pair")))
    front = report.front
    kind = next((line for line in report.pattern.materials if line.startswith("Needles: ")), "")
    kind = kind.removeprefix("Needles: ") or "what you like"
    if front.needles:
        for place, needle in enumerate(front.needles):
            what = front.needle_for[place] if place < len(front.needle_for) else ""
            yield "Needles", f"{kind}, {needle}" + (f", {what}" if what else "")
        yield "", "or whatever size gives the gauge"
    else:
        yield "Needles", f"{kind}, of the size that gives the gauge"
    stitches = sizes[0].fabric.stitches
    yield "Notions", ", ".join(notions(report.pattern.steps, report.gauge, stitches))


def _amounts(needs: Sequence[YarnNeed]) -> str:
    """Return how much of a yarn each size may take, in grams too where its band is known.

    The upper limits of the record: a weight leaves room for the band's own count, a length doesn't.
    """

    def listed(some: Iterable[float]) -> str:
        return tables.by_size(f"{one:.0f}" for one in some)

    grams = [need.grams for need in needs if need.grams is not None]
    metres = [need.metres.high for need in needs]
    told = f"{listed(one.high for one in grams)} g, " if len(grams) == len(needs) else ""
    yards = listed(one / _YARD_M for one in metres)
    return f"up to {told}{listed(metres)} m or {yards} yd"


def _band(yarn: Yarn | None) -> str:
    """Return how long a yarn is for its weight, and how its balls come."""
    if yarn is None:
        return ""
    metres = 100 / yarn.grams_per_metre
    balls = "" if yarn.ball_g is None else f", balls of {yarn.ball_g:.3g} g"
    return f"{metres:.0f} m ({metres / _YARD_M:.0f} yd) to 100 g{balls}"


def _warns_clinician(report: SockReport) -> bool:
    return any(
        line.kind is LineKind.CAUTION and _CLINICIAN in line.text
        for heading in by_heading(report.pattern)
        for line in heading.lines
    )


def _instructions(report: SockReport, headings: Sequence[Heading]) -> Iterator[DocumentSection]:
    fields, boxes = fields_of(report), len(report.sizes) == 1
    for heading in headings:
        yield part_section(report.front, heading, fields, boxes=boxes)


_COUNTED = (
    f"Counted, knitted and checked loop by loop by loopwright {version('loopwright')}. "
    "This is no medical advice."
)


# The record -------------------------------------------------------------------------------------


def _record(report: SockReport, words: Words) -> Iterator[DocumentSection]:
    yield DocumentSection("Will it go on?", [*_verdicts(report)])
    pictures = [one for size in report.sizes for one in size.fit_pictures]
    yield DocumentSection(
        "The sock on the foot",
        [
            *map(Drawing, pictures),
            *_table(tables.fit_table(report.sizes)),
            *_notes(report),
        ],
    )
    yield DocumentSection(
        "Measures", [*_table(tables.measures_table(report.sizes)), Paragraph(_SD, "small")]
    )
    yield DocumentSection(
        "Yarn", [*_table(tables.yarn_table(report.sizes)), Paragraph(_yarn(report), "small")]
    )
    yield DocumentSection(
        "Checks", [*_table(tables.checks_table(report.sizes)), Paragraph(_checks(report), "small")]
    )
    left_over = [Paragraph(told, "caution") for told in report.left_over(words)]
    if left_over:
        yield DocumentSection("Own wording", left_over)


_SD = (
    "± is one standard deviation: about 95 in 100 lie within twice as much. Stretched 1.25 times "
    "is a quarter more than at rest."
)


def _yarn(report: SockReport) -> str:
    """Return what the amounts of yarn are, of those that are known."""
    needs = [need for size in report.sizes for need in size.needs]
    told = [
        "First the likely amount, then from low to high.",
        "Balls are enough for the high one." if any(one.balls is not None for one in needs) else "",
        "Weights leave room for a band that is not quite true."
        if any(one.grams is not None for one in needs)
        else "",
        "A swatch comes on top.",
    ]
    return " ".join(filter(None, told))


def _checks(report: SockReport) -> str:
    knitted = "Each size was" if len(report.sizes) > 1 else "The sock was"
    return (
        f"{knitted} knitted loop by loop and its fabric checked: no loose loop, one opening, every "
        "stated count met. A blemish is a matter of choice. This is no medical advice."
    )


def _verdicts(report: SockReport) -> Iterator[Block]:
    for size in report.sizes:
        name = f"Size {size.name}: " if size.name else ""
        first, *others = size.lines
        yield Paragraph(f"{name}{first}")
        yield from (Paragraph(line, "note") for line in others)


def _notes(report: SockReport) -> Iterator[Block]:
    for size in report.sizes:
        for note in size.notes:
            yield Paragraph(f"Size {size.name}: {note}" if size.name else note, "small")


def _table(table: tables.Table) -> Iterator[Block]:
    if table.rows:
        yield GridBlock(table.filled())


# The handout ------------------------------------------------------------------------------------


def _handout(report: SockReport, words: Words) -> Iterator[DocumentSection]:
    stages = [one for one in _pictures(report) if one.kind is PictureKind.STAGES]
    for at, picture in enumerate(stages):
        yield DocumentSection("", [Drawing(picture), Ruled()], on_new_page=at > 0)
    place = 0 if len(report.sizes) == 1 else None
    parts = [
        heading
        for heading in by_heading(report.pattern, place, words=words, stitches=report.stitches)
        if any(word in heading.title.lower() for word in report.taught)
    ]
    taught = [*_instructions(report, parts)]
    for place, section in enumerate(taught):
        rest = (Ruled(),) if place == len(taught) - 1 else ()
        yield attrs.evolve(
            section, level=2, on_new_page=place == 0, blocks=(*section.blocks, *rest)
        )
    for one in techniques(report.taught_steps, _grafted(report.sizes), words=words):
        section = technique_section(one)
        yield attrs.evolve(section, level=2, on_new_page=True, blocks=(*section.blocks, Ruled()))


def _grafted(sizes: Sequence[SizeReport]) -> list[int]:
    return [size.grafted for size in sizes if size.grafted]


def _pictures(report: SockReport) -> Iterator[ReportPicture]:
    """Yield the pictures of all sizes; stages that differ in numbers only are drawn once."""
    seen: dict[tuple[str, ...], str] = {}
    for size in report.sizes:
        for picture in size.pictures:
            label = f"Size {size.name}: " if size.name else ""
            title = f"{label}{_lower(picture.title)}" if label else picture.title
            if picture.kind is not PictureKind.STAGES:
                yield attrs.evolve(picture, title=title)
                continue
            shape = tuple(re.sub(r"\d+", "#", part.title) for part in picture.parts)
            if shape not in seen:
                seen[shape] = size.name
                alike = _alike(report, shape, size)
                note = f"{picture.note} {alike}".strip()
                yield attrs.evolve(picture, title=title, note=note)


def _alike(report: SockReport, shape: tuple[str, ...], drawn: SizeReport) -> str:
    others = [
        size.name
        for size in report.sizes
        if size is not drawn
        for picture in size.pictures
        if picture.kind is PictureKind.STAGES
        if tuple(re.sub(r"\d+", "#", part.title) for part in picture.parts) == shape
    ]
    if not others:
        return ""
    *first, last = others
    those = f"sizes {', '.join(first)} and {last} differ" if first else f"size {last} differs"
    return f"Drawn for size {drawn.name}; {those} in numbers only."


def _lower(text: str) -> str:
    return f"{text[:1].lower()}{text[1:]}"
