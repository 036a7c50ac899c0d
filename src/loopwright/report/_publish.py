"""Any written pattern as a document: a mitten, a hat, a cowl, somebody else's sock."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from itertools import compress

import attrs

from loopwright.border import guard
from loopwright.design import front_of
from loopwright.design.front import FrontMatter
from loopwright.errors import LoopwrightError
from loopwright.extras import is_installed
from loopwright.fabric import Certificate
from loopwright.gauge import Gauge
from loopwright.pattern import (
    Join,
    Knitted,
    Pattern,
    Words,
    certificate,
    explained,
    knitted,
    of_size,
    read,
    review,
    write,
)
from loopwright.pattern.steps import MAIN
from loopwright.picture import charts, stages
from loopwright.picture.stage_drawing import READING
from loopwright.plurals import plural
from loopwright.report._blocks import (
    DocumentSection,
    Drawing,
    Facts,
    Pairs,
    Paragraph,
    Photo,
    ReportDocument,
    Ruled,
)
from loopwright.report._chart_sheets import chart_picture
from loopwright.report._instructions import by_heading
from loopwright.report._notions import notions
from loopwright.report._own_words import with_own_words
from loopwright.report._pieces import (
    credit_section,
    paper_of,
    part_section,
    technique_sections,
)
from loopwright.report._tables import by_size
from loopwright.report._techniques import techniques
from loopwright.report._typeset import pdf_of
from loopwright.report._web import page_of
from loopwright.report.data import PictureKind, ReportPicture
from loopwright.yarn import StrandUse, strand_uses, yarn_need

__all__ = ["head_of", "publish"]

_NOT_DRAWN = "There are no charts, stages or amounts of yarn"
_NOTIONS = re.compile(r"materials|notions|supplies|you will need|tools", re.IGNORECASE)
_HEAD = re.compile(r"\A\s*\+\+\+\n(?P<keys>.*?)\n\+\+\+\n(?P<rest>.*)\Z", re.DOTALL)


def head_of(text: str) -> tuple[FrontMatter, str]:
    """Return what the keys at a pattern's head say, and the pattern itself.

    Raises
    ------
    DesignError
        A key that can't be used.

    Examples
    --------
    >>> front, pattern = head_of('''+++
    ... author = "Ione Skerry"
    ... +++
    ... # Ring
    ... CO 8 sts.''')
    >>> front.author, pattern.splitlines()[0]
    ('Ione Skerry', '# Ring')
    """
    head = _HEAD.match(text)
    return (front_of(head["keys"]), head["rest"]) if head else (FrontMatter(), text)


def publish(
    text: str,
    *,
    words: Words = Words.US,
    size: str | None = None,
    photo: tuple[bytes, str] | None = None,
    certified: bool = False,
) -> Mapping[str, str | bytes]:
    r"""Return the files of a written pattern: a page, a PDF, its text in one form, its review.

    Parameters
    ----------
    text : str
        A pattern as it is written. Between two lines ``+++`` at its head may stand the keys of
        ``[document]``, see the reference page "The design file".
    words : Words
    size : str, optional
        One size alone, as if there were no other.
    photo : (bytes, str), optional
        The picture that the head names, and its kind, see `loopwright.report.photo`.
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
    StepError
        There is no such size.
    LetterError
        A letter that no font here has.

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
    front, body = head_of(text)
    pattern = explained(with_own_words(read(body), body), words=words)
    if size is not None:
        one = of_size(pattern, size)
        pattern = attrs.evolve(one, title=f"{one.title or 'Pattern'}, size {size}", sizes=())
    papers = _certificates(pattern) if certified else {}
    made, why_not = _made(pattern)
    document = _document(pattern, front, words, papers, photo, made)
    files: dict[str, str | bytes] = {
        "pattern.html": _carrying(page_of(document), papers),
        "pattern.txt": write(pattern, words=words),
        "review.txt": f"{review(body).shown('pattern')}\n{why_not}",
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
    pattern: Pattern,
    front: FrontMatter,
    words: Words,
    papers: Mapping[str, Certificate],
    photo: tuple[bytes, str] | None,
    made: Sequence[Knitted],
) -> ReportDocument:
    title = pattern.title or "Pattern"
    seen = [] if photo is None else [Photo(*photo, f"{title}, finished")]
    return ReportDocument(
        name="pattern",
        kind="pattern",
        title=title,
        byline=f"by {front.author}" if front.author else "",
        opening=[*seen, *(Paragraph(note, "note") for note in front.notes)],
        sections=[
            *_sections(pattern, front, words, made),
            *([_certified(pattern, papers)] if papers else ()),
        ],
        paper=paper_of(front, words),
        large_print=front.large_print,
    )


def _sections(
    pattern: Pattern, front: FrontMatter, words: Words, made: Sequence[Knitted]
) -> Iterator[DocumentSection]:
    yield DocumentSection("Materials", [Facts(tuple(_facts(pattern, front, made)))])
    if pattern.abbreviations:
        yield DocumentSection("Abbreviations", [Pairs(tuple(pattern.abbreviations))])
    yield DocumentSection("Instructions", ())
    alone, fields = not pattern.sizes, {"sizes": ", ".join(pattern.sizes)}
    for heading in by_heading(pattern, 0 if alone else None, words=words):
        yield part_section(front, heading, fields, boxes=alone)
    yield from technique_sections(techniques(pattern.steps, words=words))
    yield from credit_section(front, fields)
    if not made:
        yield DocumentSection("", [Ruled()])
        return
    which = f" Drawn for size {pattern.sizes[0]}." if pattern.sizes else ""
    yield from _stages(made[0], which)
    yield from _charts(made[0], which)


def _made(pattern: Pattern) -> tuple[list[Knitted], str]:
    """Return the pattern knitted in each size; nothing where it can't be, and why not."""
    try:
        made = [
            knitted(pattern, size=place, fabrics=True)
            for place in range(max(1, len(pattern.sizes)))
        ]
    except LoopwrightError as error:
        return [], f"{_NOT_DRAWN}, as it could not be knitted loop by loop. {error}\n"
    return made, ""


def _facts(
    pattern: Pattern, front: FrontMatter, made: Sequence[Knitted]
) -> Iterator[tuple[str, str]]:
    if pattern.sizes:
        yield "Sizes", by_size(pattern.sizes)
    for line in pattern.materials:
        label, _, said = line.partition(": ")
        yield (label, said) if said else ("", line)
    for needle in front.needles:
        yield "Needles", str(needle)
    gauge = None
    if pattern.gauge is not None:
        told = pattern.gauge
        gauge = Gauge(told.stitches / told.over.mm() * 10, told.courses / told.over.mm() * 10)
        courses = "rounds" if any(isinstance(one, Join) for one in pattern.steps) else "rows"
        yield "Gauge", f"{told.stitches:g} stitches and {told.courses:g} {courses} to {told.over}"
        yield from _yarns(made, gauge)
    yield from _notions(pattern, gauge)
    if front.skill:
        yield "Skill", front.skill


def _notions(pattern: Pattern, gauge: Gauge | None) -> Iterator[tuple[str, str]]:
    """Yield the notions that the steps ask for and the text does not name."""
    own = " ".join(line for line in pattern.materials if _NOTIONS.match(line)).lower()
    also = [
        one
        for one in notions(pattern.steps, gauge)
        if not own or " ".join(one.split()[:2]).rstrip(",") not in own
    ]
    if also:
        yield "Also" if own else "Notions", ", ".join(also)


def _yarns(made: Sequence[Knitted], gauge: Gauge) -> Iterator[tuple[str, str]]:
    """Yield how much yarn one piece takes, waste yarn left out: metres, as no yarn is known."""
    each = [yarn_need(_uses_of(one), gauge, {}) for one in made]
    for needs in zip(*each, strict=False):
        amount = f"{by_size(f'{need.metres.high:.0f}' for need in needs)} m"
        name = needs[0].name
        yield "Yarn used", f"about {amount} for one" if name == MAIN else f"{name}: about {amount}"


def _uses_of(made: Knitted) -> list[StrandUse]:
    """Return what each strand of a piece is used for, waste yarn left out."""
    return [use for use in strand_uses(made.fabric) if use.role != "waste"]


def _stages(made: Knitted, which: str) -> Iterator[DocumentSection]:
    """Yield the stages of the whole piece, as far as they can be drawn."""
    try:
        strip = stages(made)
        # Of a stage with nothing on the needles there is nothing to be seen.
        shown = [stage.graft is not None or bool(stage.needles) for stage in strip.all]
        drawn = list(compress(strip.pictures(), shown))
    except LoopwrightError:
        return
    parts = tuple(
        ReportPicture(
            f"stage-{n}", one.title, one.svg(), description=f"{one.title}. {one.description}"
        )
        for n, one in enumerate(drawn, start=1)
    )
    if parts:
        note = READING + which
        whole = ReportPicture("stages", "Step by step", "", parts, note, PictureKind.STAGES)
        yield DocumentSection("", [Drawing(whole)])


def _charts(made: Knitted, which: str) -> Iterator[DocumentSection]:
    """Yield the charts of all parts in which something else is worked than knit and purl."""
    found: list[ReportPicture] = []
    titles = dict.fromkeys(section.title for section in made.journal.sections)
    for title in titles or [""]:
        try:
            whole = charts(made, title or None)
            worked = {cell.stitch for one in whole for row in one.rows for cell in row.worked}
            if worked <= {"k", "p"}:
                continue
            picture = chart_picture(f"chart-{len(found) + 1}", title or "Chart", whole)
        except LoopwrightError:  # too large for any sheet, or nothing in it to chart
            continue
        if picture is not None:
            found.append(attrs.evolve(picture, note=f"{picture.note}{which}"))
    # Wide ones begin a sheet, and after the last line one ends: what is left is for notes.
    if not found or any(one.is_wide for one in found):
        yield DocumentSection("", [Ruled()])
    if found:
        yield DocumentSection("Charts", [Drawing(one) for one in found])


guard(globals())
