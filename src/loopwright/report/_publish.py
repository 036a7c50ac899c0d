"""Any written pattern as a document: a mitten, a hat, a cowl, somebody else's sock."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from loopwright.design import front_of
from loopwright.design.front import FrontMatter, Paper
from loopwright.errors import LoopwrightError
from loopwright.extras import is_installed
from loopwright.fabric import Certificate
from loopwright.gauge import Gauge
from loopwright.pattern import (
    Pattern,
    Words,
    certificate,
    explained,
    knitted,
    read,
    review,
    write,
)
from loopwright.picture import stages
from loopwright.picture.stage_drawing import READING
from loopwright.plurals import plural
from loopwright.report._blocks import (
    Block,
    DocumentSection,
    Drawing,
    Facts,
    Pairs,
    Paragraph,
    ReportDocument,
    WorkLines,
)
from loopwright.report._compose import own_line
from loopwright.report._instructions import by_heading
from loopwright.report._notions import notions
from loopwright.report._techniques import techniques
from loopwright.report._typeset import pdf_of
from loopwright.report._web import page_of
from loopwright.report.data import PictureKind, ReportPicture

__all__ = ["publish"]

_HEAD = re.compile(r"\A\s*\+\+\+\n(?P<keys>.*?)\n\+\+\+\n(?P<rest>.*)\Z", re.DOTALL)


def publish(
    text: str, *, words: Words = Words.US, certified: bool = False
) -> Mapping[str, str | bytes]:
    r"""Return the files of a written pattern: a page, a PDF, its text in one form, its review.

    Parameters
    ----------
    text : str
        A pattern as it is written. Between two lines ``+++`` at its head may stand the keys of
        ``[document]``, see the reference page "The design file".
    words : Words
    certified : bool
        With a certificate for each size, which anybody can check again: the page states its key
        and carries it, and it is a file of its own.

    Raises
    ------
    PatternSyntaxError
        It can't be read.
    DesignError
        A key of its head that can't be used.
    KnitError, UnsoundFabricError
        There is nothing to certify: it can't be worked, or what it makes has mistakes.

    Examples
    --------
    >>> files = publish("# Ring\nCO 8 sts. Join in the round. Rnds 1-3: Knit. BO all sts.")
    >>> sorted(name for name in files if not name.endswith(".pdf"))
    ['pattern.html', 'pattern.txt', 'review.txt']
    >>> files = publish("# Ring\nCO 8 sts. Join in the round. Rnds 1-3: Knit. BO all sts.",
    ...                 certified=True)
    >>> 'id="certificate"' in files["pattern.html"], "certificate.json" in files
    (True, True)
    """
    head = _HEAD.match(text)
    front = front_of(head["keys"]) if head else FrontMatter()
    body = head["rest"] if head else text
    pattern = explained(read(body), words=words)
    papers = _certificates(pattern) if certified else {}
    document = _document(pattern, front, words, papers)
    files: dict[str, str | bytes] = {
        "pattern.html": _carrying(page_of(document), papers),
        "pattern.txt": write(pattern, words=words),
        "review.txt": f"{review(body).shown('pattern')}\n",
    }
    if is_installed("typst"):
        files["pattern.pdf"] = pdf_of(document, author=front.author)
    return files | {f"{name}.json": paper.to_json() for name, paper in papers.items()}


def _certificates(pattern: Pattern) -> dict[str, Certificate]:
    """Return a certificate for each size, by the name of its file."""
    if not pattern.sizes:
        return {"certificate": certificate(pattern)}
    return {
        f"certificate-{number}": certificate(pattern, size=number - 1)
        for number in range(1, len(pattern.sizes) + 1)
    }


def _carrying(page: str, papers: Mapping[str, Certificate]) -> str:
    """Return a page with certificates in it, as data that no browser shows or runs."""
    carried = "".join(
        f'<script type="application/json" id="{name}">'
        + paper.to_json().replace("<", "\\u003c").strip()
        + "</script>\n"
        for name, paper in papers.items()
    )
    head, end, tail = page.rpartition("</body>")
    return head + carried + end + tail


def _certified(pattern: Pattern, papers: Mapping[str, Certificate]) -> DocumentSection:
    """Return what the certificates state, in words."""
    rows = []
    for number, (name, paper) in enumerate(papers.items()):
        found = paper.document["found"]
        label = pattern.sizes[number] if pattern.sizes else "Key"
        openings = plural(len(found["openings"]), "opening")
        counts = f"{plural(found['loops'], 'loop')}, {openings}, V − E + C = {found['euler']}"
        rows.append((str(label), f"{paper.key}: {counts}; {name}.json"))
    told = (
        "What these instructions make was knitted loop by loop and passed every check. The "
        "certificate can be checked again without this program; it stands in the page too."
    )
    return DocumentSection("Certificate", [Paragraph(told, "small"), Facts(tuple(rows))])


def _document(
    pattern: Pattern, front: FrontMatter, words: Words, papers: Mapping[str, Certificate]
) -> ReportDocument:
    return ReportDocument(
        name="pattern",
        kind="pattern",
        title=pattern.title or "Pattern",
        byline=f"by {front.author}" if front.author else "",
        opening=[Paragraph(note, "note") for note in front.notes],
        sections=[
            *_sections(pattern, front, words),
            *([_certified(pattern, papers)] if papers else ()),
        ],
        paper=front.paper or (Paper.LETTER if words is Words.US else Paper.A4),
        large_print=front.large_print,
    )


def _sections(pattern: Pattern, front: FrontMatter, words: Words) -> Iterator[DocumentSection]:
    yield DocumentSection("Materials", [Facts(tuple(_facts(pattern, front)))])
    if pattern.abbreviations:
        yield DocumentSection("Abbreviations", [Pairs(tuple(pattern.abbreviations))])
    yield DocumentSection("Instructions", ())
    alone = not pattern.sizes
    for heading in by_heading(pattern, 0 if alone else None, words=words):
        key = heading.title.lower()
        lines = tuple(
            (line.kind.value, own_line(line, front, {}), line.rounds) for line in heading.lines
        )
        blocks: list[Block] = [WorkLines(lines, boxes=alone)]
        if key in front.before:
            blocks.insert(0, Paragraph(front.before[key]))
        if key in front.after:
            blocks.append(Paragraph(front.after[key]))
        yield DocumentSection(heading.title, blocks, level=3)
    needed = techniques(pattern.steps)
    if needed:
        yield DocumentSection("Techniques", ())
    for one in needed:
        told = [Paragraph(movement) for movement in one.lines]
        warned = [Paragraph(one.caution, "caution")] if one.caution else []
        yield DocumentSection(one.title, [*warned, *told], level=3)
    said = [text for text in (front.credits, front.copyright) if text]
    if said:
        yield DocumentSection("Credits", [Paragraph(text, "small") for text in said])
    yield from _drawn(pattern)


def _facts(pattern: Pattern, front: FrontMatter) -> Iterator[tuple[str, str]]:
    if pattern.sizes:
        first, *others = pattern.sizes
        yield "Sizes", first + (f" ({', '.join(others)})" if others else "")
    for line in pattern.materials:
        label, _, said = line.partition(": ")
        yield (label, said) if said else ("", line)
    for needle in front.needles:
        yield "Needles", str(needle)
    gauge = None
    if pattern.gauge is not None:
        told = pattern.gauge
        gauge = Gauge(told.stitches / told.over.mm() * 10, told.courses / told.over.mm() * 10)
        yield "Gauge", f"{told.stitches:g} stitches and {told.courses:g} rounds to {told.over}"
    yield "Notions", ", ".join(notions(pattern.steps, gauge))
    if front.skill:
        yield "Skill", front.skill


def _drawn(pattern: Pattern) -> Iterator[DocumentSection]:
    """Yield the charts and stages of each part, as far as they can be drawn."""
    try:
        made = knitted(pattern, size=0, fabrics=True)
    except LoopwrightError:
        return  # the review says what is wrong
    pictures: list[ReportPicture] = []
    titles: list[str | None] = [*dict.fromkeys(one.title for one in made.journal.sections)]
    for title in titles or [None]:  # without headings, all of it
        try:
            strip = stages(made, title)
            parts = tuple(
                ReportPicture(
                    f"stage-{n}",
                    one.title,
                    one.svg(),
                    description=f"{one.title}. {one.description}",
                )
                for n, one in enumerate(strip.pictures(), start=1)
            )
        except LoopwrightError:
            continue
        if parts:
            words = f"{title}, step by step" if title else "Step by step"
            pictures.append(ReportPicture("stages", words, "", parts, READING, PictureKind.STAGES))
    if pictures:
        yield DocumentSection("Step by step", [Drawing(one) for one in pictures])
