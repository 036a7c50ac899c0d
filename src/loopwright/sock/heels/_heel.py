"""What a heel is to a sock: a class that turns a place in the sock into numbers and steps.

A heel is one file: its numbers, its steps and their words, the changes that alter its fit, its
outline for schematics. It is given its `Setting` and answers with numbers, of which the sock needs
only what `HeelNumbers` holds, and with steps. Decorate a class with `heel` and a sock can ask for
it by name; your own included.

The round begins with the half that the heel asks for (`begins`), ``"heel"`` or ``"instep"``, and
must begin with the instep when a heel that was worked is done.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Iterator
from typing import Any, ClassVar

import attrs

from loopwright.choice import Choice
from loopwright.cloth import CLOTH_SIZES, Cloth
from loopwright.pattern.items import Item, Lift, k
from loopwright.pattern.steps import Arrange, Note, Round, Step
from loopwright.sock._panels import PanelFit
from loopwright.sock._parts import Parts
from loopwright.sock._yarns import HeelYarn
from loopwright.sock.heels._outline import HeelOutline
from loopwright.sock.heels._profile import wedge_heel_girth_mm
from loopwright.sock.heels._turns import TurnNumbers
from loopwright.sock.needles import Layout, Needles

__all__ = [
    "DRAWN_OUT",
    "RIDGE",
    "SCISSORS",
    "Corners",
    "Direction",
    "Heel",
    "HeelChange",
    "HeelNumbers",
    "Setting",
    "corner_round",
    "corner_tail",
    "girth_of_courses_mm",
    "heel",
    "heel_named",
    "heel_names",
]


class Direction(Choice):
    """Which end of the sock is cast on."""

    CUFF_DOWN = "cuff down"
    TOE_UP = "toe up"


class Corners(Choice):
    """What becomes of the holes at the two corners of a heel."""

    LEFT = "left as they are"
    CLOSED = "closed"  # the strand across is lifted and worked together with its neighbour
    BOTH_ENDS = "closed at both ends"  # of both halves: leaning right where each begins, left after


@attrs.frozen
class Setting:
    """The place in a sock that a heel is made for.

    Parameters
    ----------
    heel, instep : int, stitches
        The two shares of the round.
    direction : Direction
    needles : Needles
    stitch_mm, course_mm : float, mm
        Size of a stitch, for heels that go by a height.
    height_mm : float, mm, optional
        From the ankle bone to the floor: how high a flap is to be.
    yarn : HeelYarn
        Yarns, where the heel or the rounds have their own.
    panel : PanelFit, optional
        Worked on the instep.
    slip_course_mm : float, mm, optional
        Height of a row of slip stitch; by default estimated from `course_mm`.

    Examples
    --------
    >>> setting = Setting(heel=32, instep=36, direction=Direction.TOE_UP)
    >>> setting.stitches, setting.is_toe_up
    (68, True)
    >>> round(setting.course_mm, 2), round(setting.slip_row_mm, 2)  # slip stitch is lower
    (2.27, 1.72)
    >>> setting.layout(first="heel").parts
    (('sole', 32), ('instep', 36))
    >>> setting.across_instep()
    (Run(stitch='k', amount=36, with_wraps=False),)
    """

    heel: int
    instep: int
    direction: Direction = Direction.CUFF_DOWN
    needles: Needles = Needles.LONG_CIRCULAR
    stitch_mm: float = 3.125
    course_mm: float = 100 / 44
    height_mm: float | None = None
    yarn: HeelYarn = HeelYarn()
    panel: PanelFit | None = None
    slip_course_mm: float | None = None

    @property
    def slip_row_mm(self) -> float:
        """Height of a row of slip stitch, as measured or estimated."""
        estimated = CLOTH_SIZES[Cloth.SLIPPED].height * self.course_mm
        return estimated if self.slip_course_mm is None else self.slip_course_mm

    @property
    def stitches(self) -> int:
        """Stitches of the whole round."""
        return self.heel + self.instep

    @property
    def is_toe_up(self) -> bool:
        """Whether the foot is knitted before the heel."""
        return self.direction is Direction.TOE_UP

    def beyond(self, *, heel: int | None = None) -> Layout:
        """Return the halves of the rounds after the heel, which begin with the instep."""
        return self.layout(first="instep", heel=heel, sole="heel" if self.is_toe_up else "sole")

    def layout(self, *, first: str, heel: int | None = None, sole: str = "sole") -> Layout:
        """Return the halves of the round in working order, the heel's under the name `sole`."""
        halves = ((sole, self.heel if heel is None else heel), ("instep", self.instep))
        return Layout(halves if first == "heel" else halves[::-1], self.needles, self.panel)

    def on_one_needle(self, heel: int) -> list[Step]:
        """Return the steps that bring a heel worked in rows on one double-pointed needle.

        There are none for other needles.

        Examples
        --------
        >>> from loopwright import Foot, Gauge, Sock
        >>> foot = Foot.of(length="24.5 cm", ball_girth="22.8 cm", sex="female")
        >>> sock = Sock(foot=foot, gauge=Gauge.of(32, 44, over="10 cm"), heel="flap")
        >>> setting = sock.plan().setting
        >>> setting.on_one_needle(setting.heel)
        []
        """
        if not self.layout(first="heel").is_numbered:
            return []
        half = self.instep // 2
        told = "You have the heel half on needle 1 and the instep half on needles 2 and 3."
        return [Arrange((heel, self.instep - half, half)), Note(told)]

    def across_instep(self) -> tuple[Item, ...]:
        """Return the items that work the instep: plain, or with the panel."""
        return (k(self.instep),) if self.panel is None else self.panel.items()


@attrs.frozen(kw_only=True)
class HeelNumbers:
    """What the sock must know of a heel.

    Parameters
    ----------
    foot_courses, leg_courses : float
        Courses that the heel adds to the length of the foot, along the sole, and to the height of
        the leg, up the back.
    foot_rounds, leg_rounds : int
        Whole rounds of foot and leg that the heel's own steps work (a gusset's).
    """

    foot_courses: float
    leg_courses: float
    foot_rounds: int = 0
    leg_rounds: int = 0

    @property
    def turn(self) -> TurnNumbers | None:
        """The turn under the foot; None where a heel has none."""
        return None


class Heel(ABC):
    """What a sock asks of a heel; see the module.

    A heel of your own derives from it, is an attrs class, and must say its `name`, which half of
    the round comes first (`begins`), its `numbers` and its `steps`.

    Examples
    --------
    What holds for every heel there is:

    >>> def rows_and_rounds(heel: Heel, setting: Setting) -> tuple[float, float]:
    ...     numbers = heel.numbers(setting)
    ...     return numbers.foot_courses, numbers.leg_courses
    >>> rows_and_rounds(heel_named("flap"), Setting(heel=32, instep=32))
    (15.0, 24.16)
    """

    __slots__ = ()

    name: ClassVar[str]
    begins: ClassVar[str]
    in_rows: ClassVar[bool] = False  # worked back and forth

    @abstractmethod
    def numbers(self, setting: Setting) -> HeelNumbers:
        """Return the heel in stitches and rounds; `SizingError` where it can't be made."""

    @abstractmethod
    def steps(self, setting: Setting) -> list[Step]:
        """Return the steps where the heel stands."""

    def later_steps(self, setting: Setting) -> list[Step]:
        """Return the steps once all else is done; none for most heels."""
        return []

    def changes(self, setting: Setting, *, roomier: bool) -> Iterator[HeelChange]:
        """Yield what knitters change on it for more room over the heel, or less; usually nothing.

        Of each kind the smallest change comes first, and each further one goes further. Changes
        that can't be made need not be left out.

        Examples
        --------
        >>> for change in heel_named("flap").changes(Setting(32, 32), roomier=False):
        ...     print(f"{change.key}: {change.by:+g}; {change.words}")
        ...     break
        longer flap: -2; flap with 2 rows fewer
        """
        yield from ()

    def outline(self, setting: Setting) -> HeelOutline | None:
        """Return the heel lying flat, for schematics; by default none is drawn."""
        return None

    def girth_mm(self, setting: Setting) -> float | None:
        """Return the girth over the heel by the flattened profile, mm: an estimate for searches.

        By default of a heel in the round or in short rows, from its courses; None for none.

        Examples
        --------
        >>> round(heel_named("forethought").girth_mm(Setting(32, 32)))
        246
        """
        return girth_of_courses_mm(self.numbers(setting), setting)


@attrs.frozen
class HeelChange:
    """One change to a heel.

    Parameters
    ----------
    key : str
        Its kind: "plain rounds".
    words : str
        What is changed, as one would tell a knitter.
    by : float
        How many stitches, rounds or rows more; fewer where negative.
    heel : Heel
        The heel with that change.
    """

    key: str
    words: str
    by: float
    heel: Heel


def girth_of_courses_mm(
    numbers: HeelNumbers, setting: Setting, *, gusset: int = 0, more: float = 0
) -> float | None:
    """Return the girth over a heel from its courses; see `Heel.girth_mm`.

    A small gusset is counted at half its width, since it lies in the bend between leg and foot.
    That is our choice, which meets the relaxed surface within 2 to 3 %. `more` courses are those of
    set-up and graft that the numbers, which are lengths, leave out.
    """
    courses = (numbers.foot_courses + numbers.leg_courses) / 2
    if not courses:
        return None
    courses += more
    width = setting.heel + gusset
    return wedge_heel_girth_mm(
        setting.instep + width, courses, stitch_mm=setting.stitch_mm, course_mm=setting.course_mm,
        heel_stitches=width,
    )  # fmt: skip


heel: Parts[Heel] = Parts("heel", Heel, {"name": (), "begins": ("heel", "instep")})
"""Class decorator: let socks ask for this heel by its ``name``; see `loopwright.sock.Parts`."""


def heel_names() -> tuple[str, ...]:
    """Return the names of all heels, in the order in which they were made known.

    Examples
    --------
    >>> "flap" in heel_names()
    True
    """
    return heel.names()


def heel_named(name: str, **options: Any) -> Heel:
    """Return a heel by its name.

    Raises
    ------
    SizingError
        No heel is called that, or it has no such option.

    Examples
    --------
    >>> heel_named("flap", longer=4).longer
    4
    """
    return heel.named(name, **options)


SCISSORS = Note(
    "Cut the waste yarn only when every stitch that it carries is on a needle; snip one stitch in "
    "the middle and draw the ends out to both sides.",
    caution=True,
)
DRAWN_OUT = Note(
    "Cut the waste yarn only when every stitch that it carries is on a needle; untie its ends and "
    "draw it out whole, or snip it in several places, looking that only waste yarn is cut, and "
    "draw out the pieces.",
    caution=True,
)
RIDGE = Note(
    "This closing leaves a ridge. Socks for feet with diabetes, neuropathy or swelling should have "
    "neither ridges nor tight bands: ask a clinician.",
    caution=True,
)


def corner_tail(corners: Corners) -> list[Step]:
    """Return the note that says which tail lies next to a corner, where a new yarn was joined."""
    use = "draw that corner together with it when you weave in ends"
    if corners is not Corners.LEFT:
        use = "close with it what is still to be seen of that corner when you weave in ends"
    return [
        Note(
            "Where the yarn is joined leave a tail of 20 cm or 8 in. It lies next to the first "
            f"corner: {use}."
        )
    ]


_BOTH_ENDS = Note(
    "At each corner the strand across is lifted twice: with the st before the corner, and what is "
    "left of it with the st after it. Where the rnd begins that is at its beginning and at its end."
)
_BOTH_ENDS_JOINED = Note(
    "Where the rnd begins, lift at its beginning the strand a row lower, which leads to the first "
    "st, and at its end the strand across the corner. At the other corner the strand across is "
    "lifted twice: with the last st of one half, and what is left of it with the first of the next."
)
_NO_STRAND = (
    "No strand is lifted at {}: draw {} together with the nearest tail when you weave in ends."
)
_ONE_AT_BOTH_ENDS = (
    "Where the rnd begins, the strand across the corner is lifted twice: at its beginning, and "
    "what is left of it at its end."
)


def corner_round(
    layout: Layout,
    corners: Corners,
    strands: tuple[bool, bool] = (True, True),
    *,
    joined: bool = False,
) -> list[Step]:
    """Return the first round past two corners, at the beginning of either half.

    Parameters
    ----------
    layout : Layout
        The round's halves as they lie on the needles; each begins at a corner.
    corners : Corners
    strands : tuple of bool
        Whether a strand runs across the corner where each half begins.
    joined : bool
        Whether a yarn is joined where the round begins.

    Returns
    -------
    list of Step
        One round, the last, and notes before it; none where the corners are left as they are.

    Examples
    --------
    >>> from loopwright.pattern import in_words
    >>> layout = Layout((("instep", 32), ("sole", 32)))
    >>> for step in corner_round(layout, Corners.CLOSED):
    ...     print(in_words(step))
    Rnd 1: Instep: lift strand across corner and k2tog with next st, k to end;
    sole: lift strand across corner and k2tog with next st, k to end. (64 sts)
    >>> corner_round(layout, Corners.LEFT)
    []
    """
    if corners is Corners.LEFT:
        return []
    across = Lift("k2tog", "across")
    both = corners is Corners.BOTH_ENDS
    # Where a yarn is joined, the one strand across that corner is worked as the round ends: lifted
    # as it begins, it would leave a cell of 7 there.
    starts = (Lift("k2tog", "beside") if both and joined else across, across)
    end: tuple[Item, ...] = (Lift("ssk", "across", beyond=True),) if both else ()
    halves = [
        on
        for (name, _), start, here, there in zip(
            layout.parts, starts, strands, strands[::-1], strict=True
        )
        for on in layout.on(name, start=(start,) if here else (), end=end if there else ())
    ]
    items = tuple(halves) if any(strands) else layout.plain_round().items
    notes = [] if all(strands) else [_colour_corners(layout, strands, both=both)]
    if both and all(strands):
        notes = [_BOTH_ENDS_JOINED if joined else _BOTH_ENDS]
    return [*notes, Round(items, count=layout.stitches)]


def _colour_corners(layout: Layout, strands: tuple[bool, bool], *, both: bool) -> Note:
    """Return the note that says at which corners no strand runs."""
    bare = [name for (name, _), has in zip(layout.parts, strands, strict=True) if not has]
    place, it = (f"the corner before the {bare[0]}", "it") if len(bare) == 1 else (
        "the corners", "them"
    )  # fmt: skip
    text = _NO_STRAND.format(place, it)
    return Note(f"{_ONE_AT_BOTH_ENDS} {text}" if both and strands[0] else text)
