"""What a report is made of: one sock in one or several sizes, knitted, measured and checked.

Plain data from the layers below, gathered once; every file of the report is a view of it. Nothing
here is computed: a number that a view shows stands in the plan, the fabric or the yarn need.
"""

from __future__ import annotations

import re
from itertools import starmap

import attrs

from loopwright.border import guard
from loopwright.choice import Choice
from loopwright.design.front import FrontMatter
from loopwright.errors import StepError
from loopwright.fabric.checks import Report
from loopwright.fabric.fabric import Fabric
from loopwright.fabric.stitches import StitchTable
from loopwright.fitting import Fit, Remedies
from loopwright.gauge import Gauge
from loopwright.pattern import Pattern, Section, SockPart, Step, Words
from loopwright.picture import Dimensions
from loopwright.picture.shape_scene import Scene
from loopwright.report._instructions import by_heading
from loopwright.sock import FinishedMeasure, Foot
from loopwright.yarn import Yarn, YarnNeed

__all__ = ["DocumentKind", "KeyLine", "PictureKind", "ReportPicture", "SizeReport", "SockReport"]


_UPRIGHT = 69.0  # px of width to 1 px of its smallest letters: 7 pt on an upright sheet of A4


class DocumentKind(Choice):
    """What is made of a sock.

    Examples
    --------
    >>> [document.value for document in DocumentKind]
    ['pattern', 'record', 'handout']
    """

    PATTERN = "pattern"
    RECORD = "record"
    HANDOUT = "handout"


class PictureKind(Choice):
    """What a picture is: views set each kind in its own way.

    Examples
    --------
    >>> [kind.value for kind in PictureKind]
    ['drawing', 'stages', 'chart']
    """

    DRAWING = "drawing"
    STAGES = "stages"
    CHART = "chart"


@attrs.frozen
class KeyLine:
    """What one square of a chart means: the square as SVG, and words.

    Examples
    --------
    >>> KeyLine("<svg/>", "RS: k, knit").words
    'RS: k, knit'
    """

    svg: str
    words: str


@attrs.frozen
class ReportPicture:
    """A drawing.

    Parameters
    ----------
    name : str
        Of its file, without the ending.
    title : str
    svg : str
        As a file, with all that belongs to it; empty for a chart, whose parts are the files.
    parts : tuple of ReportPicture
        What it is made of, where each part can stand by itself: a view sets them as large as it
        has room for, and shows `svg` where there are none.
    note : str
        How to read it.
    kind : PictureKind
    bare : str
        Of a chart's part: the drawing without its key, for views that set one key for all parts.
    key : tuple of KeyLine
        Of a chart.
    description : str
        What is to be seen, for whom can't see it.

    Examples
    --------
    >>> wide = ReportPicture("leg", "Leg", '<svg viewBox="0 0 900 200"/>')
    >>> wide.width, wide.height, wide.is_wide
    (900.0, 200.0, True)
    >>> [picture.name for picture in wide.files], wide.shown == wide.svg
    (['leg'], True)
    >>> key = ReportPicture("key", "Key", "<svg><text>Sole</text></svg>")
    >>> key.letters_px, key.alt
    (12.0, 'Key')
    """

    name: str
    title: str
    svg: str
    parts: tuple[ReportPicture, ...] = ()
    note: str = ""
    kind: PictureKind = PictureKind.DRAWING
    bare: str = ""
    key: tuple[KeyLine, ...] = ()
    description: str = ""

    @property
    def alt(self) -> str:
        """What is said instead of the picture."""
        return self.description or self.title

    @property
    def shown(self) -> str:
        """What a view shows."""
        return self.bare or self.svg

    @property
    def files(self) -> tuple[ReportPicture, ...]:
        """What is written beside the page, each standing alone."""
        return self.parts if self.kind is PictureKind.CHART else (self,)

    @property
    def width(self) -> float:
        """In CSS px; 1 where it doesn't say."""
        return self._box[0]

    @property
    def height(self) -> float:
        """In CSS px; 1 where it doesn't say."""
        return self._box[1]

    @property
    def letters_px(self) -> float:
        """Size of its smallest letters, CSS px; 12 where it has none."""
        return min(map(float, re.findall(r'font-size="([\d.]+)"', self.shown)), default=12.0)

    @property
    def is_wide(self) -> bool:
        """Whether it wants a sheet that lies on its side."""
        return any(one.width > _UPRIGHT * one.letters_px for one in self.parts or (self,))

    @property
    def _box(self) -> tuple[float, float]:
        box = re.search(r'viewBox="[-\d.]+ [-\d.]+ ([\d.]+) ([\d.]+)"', self.shown)
        return (float(box[1]), float(box[2])) if box else (1.0, 1.0)


@attrs.frozen
class SizeReport:
    """One size.

    Parameters
    ----------
    name : str
        Empty where there is one size without a name.
    measures : tuple of FinishedMeasure
    fit : Fit, optional
        On its foot, where that was asked for.
    needs : tuple of YarnNeed
        For a pair.
    fabric : Fabric
        One sock.
    verdict : Report
        What the checks of the fabric found.
    schematic : ReportPicture
        With this size's measures.
    mend : Remedies, optional
        The least change that mends it, where its fit is not good.
    foot : Foot, optional
        Whom it is for.
    grafted : int
        Stitches on each needle at the first graft; 0 where nothing is grafted.
    fit_pictures : tuple of ReportPicture
        The sock on the foot.
    notes : tuple of str
        What a person should know about this size's numbers.
    pictures : tuple of ReportPicture
    scene : Scene, optional
        The relaxed sock in space.
    flat : Dimensions, optional
        What the letters of the schematic stand for.
    """

    name: str
    measures: tuple[FinishedMeasure, ...]
    fit: Fit | None
    needs: tuple[YarnNeed, ...]
    fabric: Fabric
    verdict: Report
    schematic: ReportPicture
    notes: tuple[str, ...] = ()
    pictures: tuple[ReportPicture, ...] = ()
    scene: Scene | None = None
    flat: Dimensions | None = None
    mend: Remedies | None = None
    foot: Foot | None = None
    grafted: int = 0
    fit_pictures: tuple[ReportPicture, ...] = ()

    @property
    def lines(self) -> tuple[str, ...]:
        """The verdict in a few lines for people: does it go on, how does it sit, what mends it."""
        if self.fit is None:
            return ()
        advice = () if self.mend is None or not self.mend.is_needed else (self.mend.advice,)
        return (*self.fit.verdict.lines, *advice)


@attrs.frozen
class SockReport:
    """A sock in all its sizes.

    Parameters
    ----------
    title, summary : str
    pattern : Pattern
        With all sizes in brackets.
    gauge : Gauge
    sizes : tuple of SizeReport
        In the order of the pattern's.
    schematic : ReportPicture
        With the measures of all sizes.
    yarns : tuple of Yarn
        What is known of its yarns, by the names that the needs have.
    front : FrontMatter
        What the designer says beside the sock.
    photo : (bytes, str), optional
        A picture of the finished sock, and its kind.
    documents : frozenset of DocumentKind
        What it was gathered for.
    """

    title: str
    summary: str
    pattern: Pattern
    gauge: Gauge
    sizes: tuple[SizeReport, ...]
    schematic: ReportPicture
    yarns: tuple[Yarn, ...] = ()
    front: FrontMatter = attrs.field(factory=FrontMatter)
    photo: tuple[bytes, str] | None = attrs.field(default=None, repr=False)
    documents: frozenset[DocumentKind] = frozenset(DocumentKind)

    def __attrs_post_init__(self) -> None:
        names = tuple(size.name for size in self.sizes)
        if names != (self.pattern.sizes or ("",)):
            found = f"sizes {names} beside a pattern for {self.pattern.sizes}"
            raise StepError("report", found)

    @property
    def stitches(self) -> StitchTable:
        """The stitch table that it was knitted with."""
        return self.sizes[0].fabric.stitches

    @property
    def ok(self) -> bool:
        """Whether the checks found no mistake in any size."""
        return all(size.verdict.ok for size in self.sizes)

    @property
    def accuracy(self) -> str:
        """How good the girths are, and from how many measured pieces that is known."""
        sits = self.sizes[0].fit
        return "" if sits is None else sits.accuracy

    @property
    def taught(self) -> tuple[str, ...]:
        """The headings of heel and toe, in small letters: what a class works through."""
        return tuple(
            step.title.lower()
            for step in self.pattern.steps
            if isinstance(step, Section) and step.part in (SockPart.HEEL, SockPart.TOE)
        )

    @property
    def taught_steps(self) -> tuple[Step, ...]:
        """The steps that stand under those headings."""
        taught, inside = [], False
        for step in self.pattern.steps:
            if isinstance(step, Section):
                inside = step.part in (SockPart.HEEL, SockPart.TOE)
            elif inside:
                taught.append(step)
        return tuple(taught)

    def left_over(self, words: Words = Words.US) -> tuple[str, ...]:
        """Return what the designer said for lines or parts that aren't there, a sentence each."""
        front, lines, parts = self.front, list[tuple[str, str]](), set[str]()
        for place in (0, None):
            for heading in by_heading(self.pattern, place, words=words, stitches=self.stitches):
                parts.add(heading.title.lower())
                lines += [(line.text, heading.title) for line in heading.lines]
        unfit = [one for one in front.wording if not any(starmap(one.fits, lines))]
        lost = [
            f"Your text {where} {name!r} stands nowhere: there is no part of that name."
            for where, texts in (("before", front.before), ("after", front.after))
            for name in texts
            if name not in parts
        ]
        said = [f"Your wording for {one.instead_of!r} fits no line any more." for one in unfit]
        return (*said, *lost)

    @property
    def goes_on(self) -> bool:
        """Whether every size goes on its foot, likelier than not, as far as that was asked."""
        return all(size.fit is None or size.fit.verdict.is_on for size in self.sizes)


guard(globals())
