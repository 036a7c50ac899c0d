"""From a design to its report: every size planned, knitted, checked, measured and drawn."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Mapping

from loopwright.border import guard
from loopwright.design import DesignFile
from loopwright.errors import LoopwrightError
from loopwright.fabric.fabric import Fabric
from loopwright.fitting import Remedies, Sample, fit, remedies, with_hands
from loopwright.geometry.blas_threads import one_thread
from loopwright.pattern import Graft, Knitted, Pattern, SockPart, explained, knitted
from loopwright.picture import (
    Dimensions,
    charts,
    dimensions,
    draw_worn,
    schematic,
    schematic_parts,
    stages,
)
from loopwright.picture.shape_scene import Scene, scene
from loopwright.picture.stage_drawing import READING
from loopwright.picture.svg import Picture as Drawn
from loopwright.progress import Progress, share, watched
from loopwright.report._chart_sheets import chart_picture
from loopwright.report.data import (
    DocumentKind,
    PictureKind,
    ReportPicture,
    SizeReport,
    SockReport,
)
from loopwright.sock import Sock
from loopwright.yarn import Yarn, YarnNeed, strand_uses, yarn_need

__all__ = ["report_of"]

_PAIR = 2


def report_of(
    design_file: DesignFile,
    *,
    documents: Collection[DocumentKind] = tuple(DocumentKind),
    progress: Progress | None = None,
) -> SockReport:
    """Return the report of a design.

    Parameters
    ----------
    design_file : DesignFile
    documents : collection of DocumentKind
        What it is for: nothing is worked out that none of them shows. Only the record says how
        the sock fits.
    progress : callable, optional
        Is given what is done, of how much, and what; see `loopwright.progress`.

    Raises
    ------
    SizingError
        A size that can't be planned.

    Examples
    --------
    >>> from loopwright.design import read_design
    >>> design_file = read_design('''
    ... title = "Pier socks"
    ... gauge = {stitches = 20, rounds = 28, over = "10 cm"}
    ... foot = {length = "16 cm", ball_girth = "15 cm"}
    ... ''')
    >>> report = report_of(design_file)
    >>> [size.verdict.ok for size in report.sizes]
    [True]
    >>> for picture in report.sizes[0].pictures:
    ...     print(picture.title)
    Heel, step by step: what is where
    Heel, stitch by stitch
    Toe, step by step: what is where

    For a class:

    >>> handout = report_of(design_file, documents=[DocumentKind.HANDOUT])
    >>> handout.sizes[0].fit is None, len(handout.sizes[0].pictures)
    (True, 2)
    """
    with watched(progress):
        return _report(design_file, frozenset(map(DocumentKind, documents)))


def _report(design_file: DesignFile, wanted: frozenset[DocumentKind]) -> SockReport:
    parts = len(design_file.design.socks) + 1
    with share(0, parts, "the hands"):
        design_file = with_hands(design_file)
    pattern = explained(
        design_file.pattern(),
        words=design_file.words,
        stitches=design_file.design.socks[0][1].table,
    )
    socks = design_file.design.socks
    sizes = []
    for place, (name, sock) in enumerate(socks):
        with share(place + 1, parts, f"size {name}" if name else "the sock"):
            middle = place == len(socks) // 2
            sizes.append(_size(pattern, place, name, sock, wanted, middle=middle))
    first = socks[0][1]
    return SockReport(
        # A document without a title can't be read aloud (ISO 14289-1, 7.1).
        title=design_file.design.title or "Socks",
        summary=design_file.summary,
        pattern=pattern,
        gauge=first.gauge,
        sizes=tuple(sizes),
        schematic=_schematic({name: dimensions(sock.plan()) for name, sock in socks}),
        yarns=_yarns(first),
        front=design_file.front,
        photo=design_file.photo,
        documents=wanted,
    )


def _size(
    pattern: Pattern,
    place: int,
    name: str,
    sock: Sock,
    wanted: frozenset[DocumentKind],
    *,
    middle: bool,
) -> SizeReport:
    with share(0, 4, "knitted and checked"):
        whole = knitted(pattern, size=place, fabrics=True, stitches=sock.table)
        made = Sample(sock, made=whole)
        verdict = made.report
        flat = dimensions(made.plan)
    with one_thread():
        with share(1, 4, "relaxed and measured"):
            sits = fit(made) if DocumentKind.RECORD in wanted else None
            space = _space(made, whole) if DocumentKind.PATTERN in wanted else None
        with share(2, 4, "judged"):
            fails = sits is not None and not sits.verdict.is_good
            mend = _mend(made) if fails and verdict.ok else None
    with share(3, 4, "drawn"):
        pictures = tuple(_pictures(whole, sock, wanted))
        # Draping takes longer than all else: of several sizes the middle one tells how they sit,
        # and each that doesn't sit well tells it of itself.
        worn = (_worn(made, name),) if fails or (middle and sits is not None) else ()
    return SizeReport(
        name=name,
        measures=made.plan.measures,
        fit=sits,
        needs=_needs(made.fabric, sock),
        fabric=made.fabric,
        verdict=verdict,
        schematic=_schematic({name: flat}),
        notes=tuple(_notes(sock)),
        pictures=pictures,
        scene=space,
        flat=flat,
        mend=mend,
        foot=sock.foot,
        grafted=_grafted(whole),
        fit_pictures=worn,
    )


def _space(made: Sample, whole: Knitted) -> Scene:
    """Return the sock at rest, for the page to turn."""
    parts = whole.journal.starts()
    return scene(made.shape, made.fabric, parts=parts, colours=made.sock.colours)


def _worn(made: Sample, name: str) -> ReportPicture:
    """Return the sock on the foot, and in words where it touches and how hard it pulls."""
    title = f"The sock on the foot, size {name}" if name else "The sock on the foot"
    drawn = draw_worn(made.worn)
    svg = _numbered(drawn.svg(), "worn")
    return ReportPicture(
        "worn", title, svg, note=made.worn.words, description=f"{title}. {drawn.description}"
    )


def _grafted(made: Knitted) -> int:
    """Return how many stitches each needle has at the first graft."""
    entries = made.journal.entries
    return next((e.before.count // 2 for e in entries if isinstance(e.step, Graft)), 0)


def _mend(made: Sample) -> Remedies | None:
    """Return the least change that mends a sock; None where none can be looked for."""
    try:
        return remedies(made, most=1)
    except LoopwrightError:
        return None


def _needs(fabric: Fabric, sock: Sock) -> tuple[YarnNeed, ...]:
    uses = [use for use in strand_uses(fabric) if use.role != "waste"]  # which is a notion
    return yarn_need(uses, sock.gauge, sock.bands, pieces=_PAIR, stitches=sock.table)


def _yarns(sock: Sock) -> tuple[Yarn, ...]:
    bands = sock.bands
    return (bands,) if isinstance(bands, Yarn) else tuple(bands.values())


def _notes(sock: Sock) -> Iterator[str]:
    """Yield what a person should know about the foot's measures."""
    yield from (f"{note[:1].upper()}{note[1:]}." for note in sock.foot.notes)
    used = ("ball_girth", "heel_girth", "ankle_girth", "leg_girth", "leg_height", "length")
    guessed = [name.replace("_", " ") for name in used if name in sock.foot.estimated]
    if guessed:
        yield f"Not measured, and estimated: {', '.join(guessed)}. Measure them if you can."


def _schematic(sizes: Mapping[str, Dimensions]) -> ReportPicture:
    name, title = "schematic", "The finished sock, lying flat"
    svg = _numbered(schematic(sizes).svg(), name)
    return ReportPicture(name, title, svg, _parts(name, schematic_parts(sizes)))


def _parts(name: str, drawn: Iterable[Drawn]) -> tuple[ReportPicture, ...]:
    """Return drawings that stand by themselves; whoever can't see them hears what is in them."""
    return tuple(
        ReportPicture(
            f"{name}-{at}",
            one.title,
            _numbered(one.svg(), f"{name}-{at}"),
            description=f"{one.title}. {one.description}".strip(),
        )
        for at, one in enumerate(drawn, start=1)
    )


def _pictures(
    made: Knitted, sock: Sock, wanted: frozenset[DocumentKind]
) -> Iterator[ReportPicture]:
    """Yield the stages of heel and toe, and the charts of the heel and of what is patterned."""
    taught = () if wanted == {DocumentKind.RECORD} else (SockPart.HEEL, SockPart.TOE)
    every = [SockPart.HEEL, *(one.part for one in sock.all_round)]
    every += [SockPart.LEG] if sock.panel is not None and not sock.all_round else []
    charted = every if DocumentKind.PATTERN in wanted else []
    for title, part in ((section.title, section.part) for section in made.journal.sections):
        stem = title.lower().replace(" ", "-")
        if part in taught:
            yield from _stages(made, title, stem, sock)
        if part in charted:
            whole = charts(made, title, colours=sock.colours)
            drawn = chart_picture(f"{stem}-chart", title, whole)
            yield from () if drawn is None else (drawn,)


def _stages(made: Knitted, title: str, stem: str, sock: Sock) -> Iterator[ReportPicture]:
    strip = stages(made, title, gauge=sock.gauge, colours=sock.colours)
    if len(strip):
        name, words = f"{stem}-stages", f"{title}, step by step: what is where"
        svg = _numbered(strip.svg(columns=2), name)
        yield ReportPicture(
            name, words, svg, _parts(name, strip.pictures()), READING, PictureKind.STAGES
        )


def _numbered(svg: str, name: str) -> str:
    """Give the ids of a drawing the same names in every run; they count on in a process."""
    return re.sub(r"\bpicture-\d+", name, svg)


guard(globals())
